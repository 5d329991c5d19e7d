// What was answered: where it stands, by whom and when; changed or withdrawn where it stands.
import { useState } from 'react'
import {
  answerers,
  facts,
  formOfFact,
  isFactKey,
  keptWords,
  localFact,
  readValue,
  expectedWords,
  withdrawCommand,
  type Answerer,
  type KeptAnswerRecord,
} from '../../../core/cautions/index.ts'
import type { CautionsSheetData, OwnRule } from '../../../core/contract/index.ts'
import { Button, EmptySheet, Field, SheetHeading } from '../../ui/index.ts'
import { momentWords } from '../history/index.ts'
import { makeChange, type OpenJob } from '../window-state.ts'
import { AnswerControls, giveAnswer } from './answer-controls.tsx'
import { point } from './cautions-state.ts'
import { kindOfPlace, placeOf, placeWords } from './places.ts'

/** What was asked, as a person reads it. */
export function questionOf(fact: string, ownRules: readonly OwnRule[]): string {
  if (isFactKey(fact)) return facts[fact].question
  const own = ownRules.find(({ record }) => localFact(record.id) === fact)
  return own?.record.question ?? `An answer under the name “${fact}”, which this program does not ask for.`
}

function answererOf(fact: string, ownRules: readonly OwnRule[]): Answerer | null {
  if (isFactKey(fact)) return facts[fact].answeredBy
  const own = ownRules.find(({ record }) => localFact(record.id) === fact)?.record.answeredBy
  return answerers.find((each) => each === own) ?? null
}

/** Why a kept answer counts for nothing, or null. */
export function troubleOf({ fact, value }: KeptAnswerRecord): string | null {
  const form = formOfFact(fact)
  if (form === null) return 'No question has this name.'
  return readValue(form, value) === null ? `Not understood; ${expectedWords(form)}.` : null
}

export const whoAndWhen = ({ who, at }: Pick<KeptAnswerRecord, 'who' | 'at'>): string =>
  [who ?? 'nobody named', ...(at === null ? [] : [momentWords(at)])].join(', ')

const mostShown = 300

export function AnswersView({ job, data }: { readonly job: OpenJob; readonly data: CautionsSheetData }) {
  const [words, setWords] = useState('')
  const wanted = words.trim().toLowerCase()
  const told = data.answers
    .map((answer) => ({
      answer,
      question: questionOf(answer.fact, data.ownRules),
      place: placeWords(job, placeOf(answer)),
    }))
    .filter(({ answer, question, place }) =>
      `${question} ${place} ${answer.value} ${answer.who ?? ''}`.toLowerCase().includes(wanted),
    )
  if (data.answers.length === 0)
    return <EmptySheet>Nothing is answered yet. Answers given under Questions stand here.</EmptySheet>
  const byAnswerer = Map.groupBy(told.slice(0, mostShown), ({ answer }) =>
    answererOf(answer.fact, data.ownRules),
  )
  return (
    <>
      <div className="filter-bar">
        <Field label="Question, place or name" value={words} onChange={setWords} />
        <span className="soft">
          {told.length} of {data.answers.length} answers
          {told.length > mostShown ? `; the first ${mostShown} are shown` : ''}
        </span>
      </div>
      {[...answerers, null].map((answeredBy) => {
        const theirs = byAnswerer.get(answeredBy)
        return theirs === undefined ? null : (
          <section key={answeredBy ?? 'nobody'}>
            <SheetHeading
              level={2}
              title={answeredBy === null ? 'Not asked for' : `Asked of the ${answeredBy}`}
              facts={`${theirs.length} ${theirs.length === 1 ? 'answer' : 'answers'}`}
            />
            <AnswerTable job={job} kept={data.answers} rows={theirs} />
          </section>
        )
      })}
    </>
  )
}

function AnswerTable({
  job,
  kept,
  rows,
}: {
  readonly job: OpenJob
  readonly kept: readonly KeptAnswerRecord[]
  readonly rows: readonly {
    readonly answer: KeptAnswerRecord
    readonly question: string
    readonly place: string
  }[]
}) {
  const locked = job.state.readOnly !== null
  return (
    <table className="plain-table answers">
      <thead>
        <tr>
          <th scope="col">Question</th>
          <th scope="col">Holds for</th>
          <th scope="col">Answer</th>
          <th scope="col">Who and when</th>
          <th scope="col">
            <span className="for-ears">Deeds</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ answer, question, place }) => {
          const here = (): void => point({ form: 'answer', id: answer.id })
          const trouble = troubleOf(answer)
          return (
            <tr
              key={answer.id}
              className={trouble === null ? '' : 'question'}
              onPointerEnter={here}
              onFocus={here}
            >
              <td className="question-words">{question}</td>
              <td>
                {answer.openingId === null && answer.typicalId === null && answer.levelId === null
                  ? ''
                  : `${place} `}
                <span className="soft">{kindOfPlace[placeOf(answer).at]}</span>
              </td>
              <td>
                <AnswerNow job={job} kept={kept} answer={answer} question={question} />
                {trouble !== null && <span className="answer-problem">{trouble}</span>}
              </td>
              <td className="soft">{whoAndWhen(answer)}</td>
              <td className="deeds">
                <Button
                  kind="quiet"
                  disabled={locked}
                  label={`Withdraw the answer for ${place}: ${question}`}
                  onPress={() => void makeChange(withdrawCommand([answer], place))}
                >
                  Withdraw
                </Button>
              </td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

/** An answer as it stands, changed there. */
function AnswerNow({
  job,
  kept,
  answer,
  question,
}: {
  readonly job: OpenJob
  readonly kept: readonly KeptAnswerRecord[]
  readonly answer: KeptAnswerRecord
  readonly question: string
}) {
  const form = formOfFact(answer.fact)
  if (form === null) return <>{keptWords(answer.fact, answer.value)}</>
  const at = placeOf(answer)
  return (
    <AnswerControls
      form={form}
      value={answer.value}
      label={`${question} For ${placeWords(job, at)}`}
      disabled={job.state.readOnly !== null}
      onAnswer={(value) => void giveAnswer(job, kept, { fact: answer.fact, value, at })}
    />
  )
}
