// One opening: what the rules say of it, what is missing, and what is known.
import { useState } from 'react'
import type { AnswerAt, CautionInFull, QuestionAsked } from '../../../core/cautions/index.ts'
import {
  evidenceLimit,
  keptWords,
  localAmendments,
  withdrawCommand,
  wordsOfCaution,
} from '../../../core/cautions/index.ts'
import type { FactHere, OpeningCautions as Told } from '../../../core/contract/index.ts'
import { howAnswered, severityWords, sparedBy } from '../../../core/documents/index.ts'
import type { ScheduleRow } from '../../../core/schedule/index.ts'
import { Button, Citation, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange, useWindow, type OpenJob } from '../window-state.ts'
import { AnswerControls, giveAnswer } from './answer-controls.tsx'
import { whoAndWhen } from './answers-view.tsx'
import { pointHere, useCautions } from './cautions-state.ts'
import './cautions.css'
import { atPlace, jobPlace, levelName, levelPlace, openingPlace, placeWords, typicalPlace } from './places.ts'
import { PrintButton } from './print-cautions.tsx'
import { RuleInMargin } from './rule-words.tsx'
import { useKeptFocus } from './use-kept-focus.ts'

/** What the host says of one opening's cautions; null until it has. */
const useOpeningCautions = (openingId: string): Told | null => useAsked('cautions.opening', { openingId })

export function OpeningCautions({ row, job }: { readonly row: ScheduleRow; readonly job: OpenJob }) {
  const told = useOpeningCautions(row.id)
  if (told === null) return null
  const wrong = told.lines.filter(({ verdict }) => verdict === 'caution')
  const open = told.lines.filter(({ verdict }) => verdict === 'not known')
  const met = told.lines.filter(({ verdict }) => verdict === 'met')
  const spared = sparedBy(told.lines)
  return (
    <div onPointerLeave={() => pointHere(null)}>
      <section>
        <SheetHeading
          level={2}
          title="Cautions"
          facts={countsWords(told)}
          actions={<PrintButton job={job}>Print behaviour and cautions…</PrintButton>}
        />
        <p className="padded caution-words-plain">
          {wordsOfCaution} {localAmendments}
        </p>
        {wrong.length > 0 && <CautionTable openingId={row.id} lines={wrong} questions={told.questions} />}
        {open.length > 0 && (
          <details className="padded more-rules" open>
            <summary>
              {open.length} {open.length === 1 ? 'rule is' : 'rules are'} not known
            </summary>
            <CautionTable openingId={row.id} lines={open} questions={told.questions} />
          </details>
        )}
        <details className="padded more-rules">
          <summary>
            {met.length} {met.length === 1 ? 'rule is' : 'rules are'} met,{' '}
            {told.lines.length - met.length - wrong.length - open.length} do not apply
          </summary>
          {met.length > 0 && <CautionTable openingId={row.id} lines={met} questions={told.questions} />}
          <ul className="spared">
            {spared.map(({ reason, rules }) => (
              <li key={reason}>
                {reason}{' '}
                <span className="soft">
                  {rules} {rules === 1 ? 'rule' : 'rules'}
                </span>
              </li>
            ))}
          </ul>
        </details>
      </section>
      {told.questions.length > 0 && <MissingFacts row={row} job={job} told={told} />}
      <KnownFacts row={row} job={job} told={told} />
    </div>
  )
}

function countsWords({ lines, questions }: Told): string {
  const cautions = lines.filter(({ verdict }) => verdict === 'caution').length
  const open = lines.filter(({ verdict }) => verdict === 'not known').length
  return [
    `${cautions} ${cautions === 1 ? 'caution' : 'cautions'}`,
    `${open} not known for want of ${questions.length} ${questions.length === 1 ? 'answer' : 'answers'}`,
  ].join(', ')
}

function CautionTable({
  openingId,
  lines,
  questions,
}: {
  readonly openingId: string
  readonly lines: readonly CautionInFull[]
  readonly questions: readonly QuestionAsked[]
}) {
  const asked = new Map(questions.map((question) => [question.key, question]))
  return (
    <table className="plain-table cautions-table">
      <thead>
        <tr>
          <th scope="col">Verdict</th>
          <th scope="col">What is asked for, and what is wrong or missing</th>
          <th scope="col">Citation, and what is left to the reader</th>
        </tr>
      </thead>
      <tbody>
        {lines.map(({ rule, verdict, severity, sentences, missing }) => (
          <tr
            key={rule.key}
            onPointerEnter={() => pointHere({ openingId, form: 'rule', key: rule.key })}
            className={verdict === 'caution' ? 'trap' : verdict === 'not known' ? 'question' : ''}
          >
            <td className={verdict === 'caution' ? 'severity trap' : verdict === 'met' ? '' : 'severity'}>
              {verdict}
              {verdict !== 'met' && <small>{severityWords[severity]}</small>}
            </td>
            <td>
              {rule.sentence}
              {sentences.length > 0 && <b className="wrong">{sentences.join(' ')}</b>}
              {missing.map((key) => {
                const question = asked.get(key)
                return question === undefined ? null : (
                  <span key={key} className="missing-fact">
                    {question.sentence} <i>{question.answeredBy}</i>
                  </span>
                )
              })}
            </td>
            <td className="cited">
              {rule.citations.join('; ')}. {rule.standing}
              <small>Left to the reader: {rule.leftToReader.join(' ')}</small>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

interface Here {
  readonly row: ScheduleRow
  readonly job: OpenJob
  readonly told: Told
}

/** The places an answer for this opening may stand at, nearest first. */
function placesHere(
  row: ScheduleRow,
  job: OpenJob,
): readonly { readonly key: string; readonly label: string }[] {
  return [
    { key: openingPlace(row.id), label: `${row.mark} only` },
    ...(row.typicalId === null
      ? []
      : [{ key: typicalPlace(row.typicalId), label: `typical ${row.typicalName ?? ''}` }]),
    { key: levelPlace(row.levelId), label: levelName(job, row.levelId) },
    { key: jobPlace, label: 'whole job' },
  ]
}

/** Where an answer to a question usually belongs, seen from this opening. */
function usualHere({ belongsTo }: QuestionAsked, row: ScheduleRow): string {
  if (belongsTo === 'job') return jobPlace
  if (belongsTo === 'level') return levelPlace(row.levelId)
  return belongsTo === 'typical' && row.typicalId !== null
    ? typicalPlace(row.typicalId)
    : openingPlace(row.id)
}

function MissingFacts({ row, job, told }: Here) {
  const { ref, onFocus } = useKeptFocus<HTMLElement>()
  return (
    <section ref={ref} onFocus={onFocus}>
      <SheetHeading
        level={2}
        title="Missing facts"
        facts="answered here for this opening, its typical, its level or the whole job"
      />
      <table className="plain-table questions">
        <thead>
          <tr>
            <th scope="col">Hangs on it</th>
            <th scope="col">Question</th>
            <th scope="col">Who can answer</th>
            <th scope="col">Answer holds for</th>
            <th scope="col">Answer</th>
          </tr>
        </thead>
        <tbody>
          {told.questions.map((question) => (
            <MissingFact key={question.key} question={question} row={row} job={job} told={told} />
          ))}
        </tbody>
      </table>
    </section>
  )
}

function MissingFact({ question, row, job, told }: Here & { readonly question: QuestionAsked }) {
  const [place, setPlace] = useState(usualHere(question, row))
  const { severity, sentence, answeredBy, fact, answer } = question
  const at: AnswerAt = atPlace(place) ?? { at: 'job' }
  const isTrap = severity === 'can trap someone'
  const here = (): void => pointHere({ openingId: row.id, form: 'question', key: question.key })
  return (
    <tr className={isTrap ? 'trap' : 'question'} onPointerEnter={here} onFocus={here}>
      <td className={isTrap ? 'severity trap' : 'severity'}>{severityWords[severity]}</td>
      <td className="question-words">{sentence}</td>
      <td>{answeredBy}</td>
      {fact === null || answer === null ? (
        <td colSpan={2} className="soft question-words">
          Above, {howAnswered(question).replace(/^answered /, '')}.
        </td>
      ) : (
        <>
          <td>
            <PlaceHere row={row} job={job} question={sentence} value={place} onChange={setPlace} />
          </td>
          <td>
            <AnswerControls
              form={answer}
              value={null}
              label={`${sentence} For ${placeWords(job, at)}`}
              disabled={job.state.readOnly !== null}
              onAnswer={(value) => void giveAnswer(job, told.answers, { fact, value, at })}
            />
          </td>
        </>
      )}
    </tr>
  )
}

function PlaceHere({
  row,
  job,
  question,
  value,
  onChange,
}: {
  readonly row: ScheduleRow
  readonly job: OpenJob
  readonly question: string
  readonly value: string
  readonly onChange: (place: string) => void
}) {
  return (
    <select
      className="plain-select place-choice"
      aria-label={`Answer holds for: ${question}`}
      value={value}
      disabled={job.state.readOnly !== null}
      onChange={(event) => onChange(event.currentTarget.value)}
    >
      {placesHere(row, job).map(({ key, label }) => (
        <option key={key} value={key}>
          {label}
        </option>
      ))}
    </select>
  )
}

function KnownFacts({ row, job, told }: Here) {
  return (
    <section>
      <SheetHeading
        level={2}
        title="Known facts"
        facts="an answer given here overrides the wider one, for this opening only"
      />
      <table className="plain-table answers">
        <thead>
          <tr>
            <th scope="col">Question</th>
            <th scope="col">Answer</th>
            <th scope="col">From</th>
            <th scope="col">Who and when</th>
          </tr>
        </thead>
        <tbody>
          {told.facts.map((known) => (
            <KnownFact key={known.fact} known={known} row={row} job={job} told={told} />
          ))}
          {told.facts.length === 0 && (
            <tr>
              <td colSpan={4} className="soft">
                Nothing is known yet.
              </td>
            </tr>
          )}
        </tbody>
      </table>
    </section>
  )
}

function KnownFact({ known, row, job, told }: Here & { readonly known: FactHere }) {
  const { fact, question, answer, value, origin, isRead } = known
  const [changing, setChanging] = useState(false)
  const own = told.answers.filter((each) => each.fact === fact && each.openingId === row.id)
  const at: AnswerAt = { at: 'openings', openingIds: [row.id] }
  return (
    <tr>
      <td className="question-words">{question}</td>
      <td>
        {changing ? (
          <AnswerControls
            form={answer}
            value={value}
            label={`${question} For ${row.mark} only`}
            disabled={job.state.readOnly !== null}
            onAnswer={(next) => {
              void giveAnswer(job, told.answers, { fact, value: next, at }).then(() => setChanging(false))
            }}
          />
        ) : (
          <>
            <b>{keptWords(fact, value)}</b>{' '}
            {!isRead && (
              <Button
                kind="quiet"
                label={`Answer otherwise here: ${question}`}
                disabled={job.state.readOnly !== null}
                onPress={() => setChanging(true)}
              >
                {origin.at === 'opening' ? 'Change' : 'Otherwise here'}
              </Button>
            )}
            {own.length > 0 && (
              <Button
                kind="quiet"
                label={`Withdraw here: ${question}`}
                disabled={job.state.readOnly !== null}
                onPress={() => void makeChange(withdrawCommand(own, row.mark))}
              >
                Withdraw
              </Button>
            )}
          </>
        )}
      </td>
      <td>{isRead ? 'the record' : originWords(origin.at, row, job)}</td>
      <td className="soft">{isRead ? '' : whoAndWhen({ who: origin.who, at: origin.when })}</td>
    </tr>
  )
}

function originWords(at: FactHere['origin']['at'], row: ScheduleRow, job: OpenJob): string {
  switch (at) {
    case 'opening':
      return 'this opening'
    case 'typical':
      return row.typicalName ?? 'its typical'
    case 'level':
      return levelName(job, row.levelId)
    case 'job':
      return 'the whole job'
  }
}

/** The margin of an opening's page, while the cursor is on its cautions. */
export function PointedCaution({ openingId }: { readonly openingId: string }) {
  const pointed = useCautions((state) => state.pointedHere)
  const told = useOpeningCautions(openingId)
  if (told === null || pointed === null || pointed.openingId !== openingId) return null
  const question = told.questions.find(({ key }) => pointed.form === 'question' && key === pointed.key)
  const rules = told.lines
    .map(({ rule }) => rule)
    .filter(({ key }) => (question === undefined ? key === pointed.key : question.rules.includes(key)))
  // The question was just answered.
  if (rules.length === 0) return null
  return (
    <>
      {question !== undefined && (
        <>
          <MarginTitle>Ask the {question.answeredBy}</MarginTitle>
          <MarginText>
            <i>{question.sentence}</i>
          </MarginText>
          {question.leadsTo.length > 0 && (
            <MarginText>It may lead on to: {question.leadsTo.join(' ')}</MarginText>
          )}
        </>
      )}
      <MarginTitle>
        {question === undefined
          ? 'The rule'
          : rules.length === 1
            ? 'One rule waits'
            : `${rules.length} rules wait`}
      </MarginTitle>
      {rules.map((rule) => (
        <RuleInMargin key={rule.key} rule={rule} />
      ))}
    </>
  )
}

/** The margin of the schedule's cautions column: what is wrong with one opening, and what is missing. */
export function CautionsOfRow({ row }: { readonly row: ScheduleRow }) {
  const told = useOpeningCautions(row.id)
  const isReadOnly = useWindow((state) => state.job?.state.readOnly !== null)
  if (told === null) return null
  const cautions = told.lines.filter(({ verdict }) => verdict === 'caution')
  const mostAsked = 12
  return (
    <>
      <MarginTitle>
        {row.mark} {row.where}, cautions
      </MarginTitle>
      {cautions.length === 0 && <MarginText>No caution.</MarginText>}
      {cautions.map(({ rule, sentences }) => (
        <div key={rule.key}>
          <MarginText>
            <b>{sentences.join(' ')}</b>
          </MarginText>
          <RuleInMargin rule={rule} />
        </div>
      ))}
      {told.questions.length > 0 && (
        <>
          <MarginTitle>
            {told.questions.length === 1
              ? 'One fact is missing'
              : `${told.questions.length} facts are missing`}
          </MarginTitle>
          {told.questions.slice(0, mostAsked).map((question) => (
            <MarginText key={question.key}>
              <i>{question.sentence}</i> Ask the {question.answeredBy}.
            </MarginText>
          ))}
          {told.questions.length > mostAsked && (
            <MarginText>and {told.questions.length - mostAsked} more.</MarginText>
          )}
          <MarginText>
            Until they are answered nothing here counts as met.
            {isReadOnly ? '' : ' Space opens the page, where they can be answered.'}
          </MarginText>
        </>
      )}
      <Citation>
        {wordsOfCaution} {evidenceLimit}
      </Citation>
    </>
  )
}
