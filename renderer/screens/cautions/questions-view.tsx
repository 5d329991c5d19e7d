// The list of questions to answer: by who can answer, what can trap someone first.
import { memo, useMemo, useState } from 'react'
import type { AnswerAt, FactForm, QuestionAsked } from '../../../core/cautions/index.ts'
import type { CautionsSheetData } from '../../../core/contract/index.ts'
import { howAnswered, severityWords } from '../../../core/documents/index.ts'
import { EmptySheet, SheetHeading } from '../../ui/index.ts'
import { hrefOf } from '../place.ts'
import type { OpenJob } from '../window-state.ts'
import { AnswerControls, giveAnswer } from './answer-controls.tsx'
import { point, useCautions } from './cautions-state.ts'
import { ChooseOpenings } from './choose-openings.tsx'
import { atPlace, jobPlace, levelName, levelPlace, openingPlace, placeWords, typicalPlace } from './places.ts'
import { useKeptFocus } from './use-kept-focus.ts'
import { usualPlace, waitingFor, type Waiting } from './waiting.ts'

export function QuestionsView({ job, data }: { readonly job: OpenJob; readonly data: CautionsSheetData }) {
  const scope = useCautions((state) => state.scope)
  const waiting = useMemo(() => waitingFor(data, job.rows), [data, job.rows])
  const shown = data.questions.filter(({ key }) => (waiting.get(key)?.at.get(scope) ?? 0) > 0)
  const byAnswerer = Map.groupBy(shown, ({ answeredBy }) => answeredBy)
  const { ref, onFocus } = useKeptFocus<HTMLDivElement>()
  if (shown.length === 0)
    return (
      <EmptySheet>
        {scope === jobPlace
          ? 'Nothing is left to ask. What the rules say of each opening stands under Cautions.'
          : 'Nothing is left to ask here. Look at the whole job for the rest.'}
      </EmptySheet>
    )
  return (
    <div ref={ref} onFocus={onFocus}>
      {[...byAnswerer].map(([answeredBy, questions]) => (
        <section key={answeredBy}>
          <SheetHeading
            level={2}
            title={`For the ${answeredBy}`}
            facts={`${questions.length} ${questions.length === 1 ? 'question' : 'questions'}`}
          />
          <table className="plain-table questions">
            <thead>
              <tr>
                <th scope="col">Hangs on it</th>
                <th scope="col">Question</th>
                <th scope="col" className="end">
                  Openings
                </th>
                <th scope="col" className="end">
                  Rules
                </th>
                <th scope="col">Answer holds for</th>
                <th scope="col">Answer</th>
              </tr>
            </thead>
            <tbody>
              {questions.map((question) => (
                <QuestionLine
                  key={`${question.key} ${scope}`}
                  question={question}
                  waiting={waiting.get(question.key)}
                  scope={scope}
                  job={job}
                  data={data}
                />
              ))}
            </tbody>
          </table>
        </section>
      ))}
    </div>
  )
}

const chosenPlace = 'chosen'

const QuestionLine = memo(function QuestionLine({
  question,
  waiting,
  scope,
  job,
  data,
}: {
  readonly question: QuestionAsked
  readonly waiting: Waiting | undefined
  readonly scope: string
  readonly job: OpenJob
  readonly data: CautionsSheetData
}) {
  const { key, sentence, severity, fact, answer, leadsTo, rules } = question
  const [place, setPlace] = useState<string | null>(null)
  const [openingIds, setOpeningIds] = useState<readonly string[]>([])
  const standing = place ?? usualPlace(question, scope, waiting)
  const at: AnswerAt | null = standing === chosenPlace ? { at: 'openings', openingIds } : atPlace(standing)
  const locked = job.state.readOnly !== null
  const here = (): void => point({ form: 'question', key })
  return (
    <tr
      className={severity === 'can trap someone' ? 'trap' : 'question'}
      onPointerEnter={here}
      onFocus={here}
    >
      <td className={severity === 'can trap someone' ? 'severity trap' : 'severity'}>
        {severityWords[severity]}
      </td>
      <td className="question-words">
        {sentence}
        {leadsTo.length > 0 && (
          <span className="soft">
            {' '}
            {leadsTo.length === 1 ? 'One question may follow.' : `${leadsTo.length} questions may follow.`}
          </span>
        )}
      </td>
      <td className="end">{waiting?.at.get(scope) ?? 0}</td>
      <td className="end">{rules.length}</td>
      {fact === null || answer === null ? (
        <td colSpan={2} className="soft question-words">
          {capital(howAnswered(question))}: <Links job={job} openingIds={waiting?.openings ?? []} />
        </td>
      ) : (
        <>
          <td>
            <PlaceChoice
              job={job}
              question={sentence}
              waiting={waiting}
              value={standing}
              openingIds={openingIds}
              disabled={locked}
              onChange={(next, ids) => {
                setPlace(next)
                setOpeningIds(ids)
              }}
            />
          </td>
          <td>
            <Answering job={job} data={data} fact={fact} form={answer} question={sentence} at={at} />
          </td>
        </>
      )}
    </tr>
  )
})

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1)

function Answering({
  job,
  data,
  fact,
  form,
  question,
  at,
}: {
  readonly job: OpenJob
  readonly data: CautionsSheetData
  readonly fact: string
  readonly form: FactForm
  readonly question: string
  readonly at: AnswerAt | null
}) {
  return (
    <span title={at === null ? 'Say first for what the answer holds.' : undefined}>
      <AnswerControls
        form={form}
        value={null}
        label={at === null ? question : `${question} For ${placeWords(job, at)}`}
        disabled={at === null || job.state.readOnly !== null}
        onAnswer={(value) => {
          if (at !== null) void giveAnswer(job, data.answers, { fact, value, at })
        }}
      />
    </span>
  )
}

const mostLinks = 6

/** Openings by their marks, each leading to its page. */
export function Links({
  job,
  openingIds,
}: {
  readonly job: OpenJob
  readonly openingIds: readonly string[]
}) {
  const rest = openingIds.length - mostLinks
  return (
    <>
      {openingIds.slice(0, mostLinks).map((openingId, place) => (
        <span key={openingId}>
          {place > 0 && ', '}
          <a href={hrefOf({ sheet: 'opening', openingId })}>{job.rows.get(openingId)?.mark}</a>
        </span>
      ))}
      {rest > 0 && ` and ${rest} more`}
    </>
  )
}

/** As many openings stand in the list by themselves; more are chosen in a dialog. */
const mostNamed = 12

/** Where the answer will stand: the job, a level, a typical, or openings one chooses. */
function PlaceChoice({
  job,
  question,
  waiting,
  value,
  openingIds,
  disabled,
  onChange,
}: {
  readonly job: OpenJob
  readonly question: string
  readonly waiting: Waiting | undefined
  readonly value: string
  readonly openingIds: readonly string[]
  readonly disabled: boolean
  readonly onChange: (place: string, openingIds: readonly string[]) => void
}) {
  const [choosing, setChoosing] = useState(false)
  const count = (place: string): number => waiting?.at.get(place) ?? 0
  const levels = job.frame.levels.filter(({ id }) => count(levelPlace(id)) > 0)
  const typicals = job.frame.typicals.filter(({ id }) => count(typicalPlace(id)) > 0)
  const waits = waiting?.openings ?? []
  const few = waits.length > mostNamed ? [] : waits
  return (
    <>
      <select
        className="plain-select place-choice"
        aria-label={`Answer holds for: ${question}`}
        value={value}
        disabled={disabled}
        onChange={(event) => {
          if (event.currentTarget.value === chosenPlace) setChoosing(true)
          else onChange(event.currentTarget.value, [])
        }}
      >
        <option value="">Say where</option>
        <option value={jobPlace}>Whole job</option>
        <option value={chosenPlace}>
          {value === chosenPlace ? placeWords(job, { at: 'openings', openingIds }) : 'Chosen openings…'}
        </option>
        <optgroup label="Level">
          {levels.map(({ id }) => (
            <option key={id} value={levelPlace(id)}>
              {levelName(job, id)} ({count(levelPlace(id))})
            </option>
          ))}
        </optgroup>
        {few.length > 0 && (
          <optgroup label="Opening">
            {few.map((id) => (
              <option key={id} value={openingPlace(id)}>
                {job.rows.get(id)?.mark} {job.rows.get(id)?.where}
              </option>
            ))}
          </optgroup>
        )}
        {typicals.length > 0 && (
          <optgroup label="Typical">
            {typicals.map(({ id, name }) => (
              <option key={id} value={typicalPlace(id)}>
                {name} ({count(typicalPlace(id))})
              </option>
            ))}
          </optgroup>
        )}
      </select>
      {choosing && (
        <ChooseOpenings
          job={job}
          question={question}
          openingIds={waiting?.openings ?? []}
          onChosen={(ids) => onChange(chosenPlace, ids)}
          onClose={() => setChoosing(false)}
        />
      )}
    </>
  )
}
