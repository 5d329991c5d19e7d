// Explains what is under the cursor on the cautions sheet.
import { useMemo } from 'react'
import {
  evidenceLimit,
  keptWords,
  openingsWaiting,
  type QuestionAsked,
} from '../../../core/cautions/index.ts'
import type { CautionsSheetData } from '../../../core/contract/index.ts'
import { codeWords, howAnswered, marksWords, severityWords } from '../../../core/documents/index.ts'
import { compareMarks } from '../../../core/job/index.ts'
import { Citation, MarginText, MarginTitle } from '../../ui/index.ts'
import { useWindow, type OpenJob } from '../window-state.ts'
import { questionOf, troubleOf, whoAndWhen } from './answers-view.tsx'
import { useCautions, type Pointed } from './cautions-state.ts'
import { scopeWords } from './own-rules-view.tsx'
import { kindOfPlace, placeOf, placeWords } from './places.ts'
import { RuleInMargin } from './rule-words.tsx'

export function CautionsMargin() {
  const job = useWindow((state) => state.job)
  const { data, pointed } = useCautions()
  if (job === null || data === null) return null
  return pointed === null ? <HowToRead data={data} /> : <Explained job={job} data={data} pointed={pointed} />
}

function HowToRead({ data }: { readonly data: CautionsSheetData }) {
  return (
    <>
      <MarginTitle>What is asked, and of whom</MarginTitle>
      <MarginText>
        Each rule is judged for each opening from what the doorway does and from what was answered. What
        nobody answered is not known, and never counts as met.
      </MarginText>
      <MarginText>
        An answer holds for the whole job, a level, a typical or an opening. The one nearer the opening wins.
      </MarginText>
      <MarginText>In force: {codeWords(data.code)}.</MarginText>
      <Citation>{evidenceLimit}</Citation>
    </>
  )
}

interface Explaining {
  readonly job: OpenJob
  readonly data: CautionsSheetData
}

function Explained({ job, data, pointed }: Explaining & { readonly pointed: Pointed }) {
  switch (pointed.form) {
    case 'question': {
      const question = data.questions.find(({ key }) => key === pointed.key)
      return question === undefined ? (
        <HowToRead data={data} />
      ) : (
        <QuestionWords job={job} data={data} question={question} />
      )
    }
    case 'caution':
      return <CautionWords job={job} data={data} {...pointed} />
    case 'answer':
      return <AnswerWords job={job} data={data} id={pointed.id} />
    case 'own rule':
      return <OwnRuleWords data={data} id={pointed.id} />
  }
}

const mostMarks = 60
const mostRules = 8
const mostAnswers = 12

function QuestionWords({ job, data, question }: Explaining & { readonly question: QuestionAsked }) {
  const marks = useMemo(
    () =>
      openingsWaiting(data, question)
        .flatMap((id) => job.rows.get(id)?.mark ?? [])
        .toSorted(compareMarks),
    [job.rows, data, question],
  )
  const rules = data.rules.filter(({ key }) => question.rules.includes(key))
  const answered = data.answers.filter(({ fact }) => fact === question.fact)
  return (
    <>
      <MarginTitle>Ask the {question.answeredBy}</MarginTitle>
      <MarginText>
        <i>{question.sentence}</i>
      </MarginText>
      <MarginText>
        {question.answer === null
          ? `It is ${howAnswered(question)}.`
          : `One answer usually holds for one ${question.belongsTo}. ${severityWords[question.severity]}: that is the gravest of what hangs on it.`}
      </MarginText>
      <MarginText>
        {marks.length === 1 ? 'One opening waits' : `${marks.length} openings wait`}:{' '}
        {marksWords(marks, mostMarks)}.
      </MarginText>
      {question.leadsTo.length > 0 && (
        <MarginText>It may lead on to: {question.leadsTo.join(' ')}</MarginText>
      )}
      {answered.length > 0 && (
        <MarginText>
          Answered elsewhere: <AnswersInWords job={job} answers={answered} />.
        </MarginText>
      )}
      <MarginTitle>{rules.length === 1 ? 'One rule waits' : `${rules.length} rules wait`}</MarginTitle>
      {rules.slice(0, mostRules).map((rule) => (
        <RuleInMargin key={rule.key} rule={rule} />
      ))}
      {rules.length > mostRules && <MarginText>and {rules.length - mostRules} more.</MarginText>}
    </>
  )
}

function CautionWords({
  job,
  data,
  line: at,
  openingId,
}: Explaining & { readonly line: number; readonly openingId: string | null }) {
  const line = data.lines[at]
  const rule = data.rules.find(({ key }) => key === line?.rule)
  const row = openingId === null ? undefined : job.rows.get(openingId)
  if (line === undefined || rule === undefined) return <HowToRead data={data} />
  const missing = data.questions.filter(({ key }) => line.missing.includes(key))
  return (
    <>
      <MarginTitle>
        {row === undefined ? '' : `${row.mark} ${row.where}: `}
        {line.verdict}, {severityWords[line.severity].toLowerCase()}
      </MarginTitle>
      {row !== undefined && line.sentences.map((each) => <MarginText key={each}>{each}</MarginText>)}
      {row !== undefined &&
        missing.map((question) => (
          <MarginText key={question.key}>
            <i>{question.sentence}</i> Ask the {question.answeredBy}.
          </MarginText>
        ))}
      <RuleInMargin rule={rule} />
    </>
  )
}

/** "Level 2 I-2; 101 B and 3 more". */
function AnswersInWords({
  job,
  answers,
}: Pick<Explaining, 'job'> & { readonly answers: CautionsSheetData['answers'] }) {
  const words = answers
    .slice(0, mostAnswers)
    .map((each) => `${placeWords(job, placeOf(each))} ${keptWords(each.fact, each.value)}`)
  const rest = answers.length - words.length
  return `${words.join('; ')}${rest > 0 ? ` and ${rest} more` : ''}`
}

function AnswerWords({ job, data, id }: Explaining & { readonly id: string }) {
  const answer = data.answers.find((each) => each.id === id)
  if (answer === undefined) return <HowToRead data={data} />
  const at = placeOf(answer)
  const others = data.answers.filter((each) => each.fact === answer.fact && each.id !== id)
  const trouble = troubleOf(answer)
  return (
    <>
      <MarginTitle>{keptWords(answer.fact, answer.value)}</MarginTitle>
      <MarginText>
        <i>{questionOf(answer.fact, data.ownRules)}</i>
      </MarginText>
      <MarginText>
        Holds for {placeWords(job, at)} ({kindOfPlace[at.at]}), said by {whoAndWhen(answer)}.
      </MarginText>
      {trouble !== null && <MarginText>{trouble} It counts as not answered.</MarginText>}

      {others.length > 0 && (
        <MarginText>
          Answered elsewhere too: <AnswersInWords job={job} answers={others} />. The one nearer the opening
          wins.
        </MarginText>
      )}
    </>
  )
}

function OwnRuleWords({ data, id }: { readonly data: CautionsSheetData; readonly id: string }) {
  const rule = data.ownRules.find(({ record }) => record.id === id)
  if (rule === undefined) return <HowToRead data={data} />
  const { record, trouble } = rule
  return (
    <>
      <MarginTitle>A rule of the job’s own</MarginTitle>
      <MarginText>{record.sentence}</MarginText>
      <MarginText>
        Asked of the {record.answeredBy}: <i>{record.question}</i> Wanted: {record.wanted}. For{' '}
        {scopeWords(record)}.
      </MarginText>
      {trouble !== null && <MarginText>{trouble}</MarginText>}
      <Citation>
        {record.citation}. As it was written down here; nobody checked it. The authority having jurisdiction
        decides.
      </Citation>
    </>
  )
}
