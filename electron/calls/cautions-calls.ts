// Cautions, facts and who can answer them.
import {
  cautionsInFull,
  cautionsOverview,
  factKeys,
  facts as register,
  openingsWaiting,
  readFactsOf,
  writeValue,
  type Facts,
  type QuestionAsked,
} from '../../core/cautions/index.ts'
import {
  done,
  refused,
  type Answer,
  type cautionsContract,
  type CautionsSheetData,
  type CodeInForce,
  type FactHere,
  type Handlers,
  type MadeFile,
  type OpeningCautions,
} from '../../core/contract/index.ts'
import {
  cautionsSheets,
  codeWords,
  elevationOfOpening,
  questionsSheet,
  type CautionsSheetInput,
} from '../../core/documents/index.ts'
import { compareMarks, type JobData, type Opening } from '../../core/job/index.ts'
import { scheduleColumn, scheduleFrame, scheduleRow, type ScheduleFrame } from '../../core/schedule/index.ts'
import type { JobFile } from '../store/index.ts'
import { noJob, withFile, type Desk } from './desk.ts'
import { pressed, sheetSize } from './made-files.ts'
import { openingsAsked } from './openings-asked.ts'

export const cautionsCalls = (desk: Desk): Handlers<typeof cautionsContract> => ({
  'cautions.read': () => withFile(desk, ({ data }) => done(readSheet(desk, data))),
  'cautions.opening': ({ openingId }) =>
    withFile(desk, ({ data }) => {
      const opening = data.get('opening', openingId)
      return opening === undefined
        ? refused('gone', 'That opening is no longer in this job.')
        : done(readOpening(desk, data, opening))
    }),
  'print.cautions': async (asked) => {
    const { file } = desk
    if (file === null) return noJob()
    return printSheets(desk, file, asked)
  },
  'print.questions': async () => {
    const { file } = desk
    return file === null ? noJob() : printQuestions(desk, file)
  },
})

function overviewOf(desk: Desk, data: JobData) {
  const judged = Array.from(
    data.all('opening'),
    (opening) => [opening.id as string, desk.behaviour.review(data, opening).cautions] as const,
  )
  return cautionsOverview(judged, desk.behaviour.facts(data, null))
}

function readSheet(desk: Desk, data: JobData): CautionsSheetData {
  const trouble = new Map(
    desk.behaviour.localRules(data).problems.map(({ id, sentence }) => [id, sentence] as const),
  )
  return {
    ...overviewOf(desk, data),
    code: codeInForce(desk.behaviour.facts(data, null)),
    answers: [...data.all('factAnswer')],
    ownRules: [...data.all('localRule')]
      .toSorted((one, other) => one.position - other.position)
      .map((record) => ({ record, trouble: trouble.get(record.id) ?? null })),
  }
}

function codeInForce(facts: Facts): CodeInForce {
  const [ibc, nfpa101] = [facts.answer('ibc-edition'), facts.answer('nfpa-101-edition')]
  return { ibc: ibc.known ? ibc.value : null, nfpa101: nfpa101.known ? nfpa101.value : null }
}

function readOpening(desk: Desk, data: JobData, opening: Opening): OpeningCautions {
  const facts = desk.behaviour.facts(data, opening)
  const answers = [...data.all('factAnswer')].filter(
    ({ openingId, typicalId, levelId }) =>
      (openingId ?? opening.id) === opening.id &&
      (typicalId ?? opening.typicalId) === opening.typicalId &&
      (levelId ?? opening.levelId) === opening.levelId,
  )
  const given = new Set(answers.map(({ fact }) => fact))
  for (const [fact, value] of Object.entries(readFactsOf(opening))) if (value !== null) given.delete(fact)
  return {
    ...cautionsInFull(desk.behaviour.review(data, opening).cautions, facts),
    facts: factsHere(facts, given),
    answers,
  }
}

/** Everything that is answered at an opening, in the register's order. */
const factsHere = (facts: Facts, given: ReadonlySet<string>): readonly FactHere[] =>
  factKeys.flatMap((fact) => {
    const answer = facts.answer(fact)
    if (!answer.known) return []
    const { question, answer: form } = register[fact]
    return {
      fact,
      question,
      answer: form,
      value: writeValue(answer.value),
      origin: answer.origin,
      isRead: !given.has(fact),
    }
  })

async function printSheets(
  desk: Desk,
  file: JobFile,
  asked: { readonly openingIds: readonly string[] } | { readonly levelId: string | null },
): Promise<Answer<MadeFile>> {
  const { data } = file
  const openings = openingsAsked(data, asked)
  const frame = scheduleFrame(data)
  const document = cautionsSheets(
    data.job,
    openings.map((opening) => sheetInput(desk, data, opening, frame)),
  )
  if (document === null)
    return refused('nothing-to-print', 'There is no opening to print; choose others, or add one first.')
  const [first] = openings
  const what = openings.length === 1 ? ` ${first?.mark ?? ''}` : ''
  return pressed(document, {
    name: `${data.job.name} - behaviour and cautions${what}`,
    pageSize: sheetSize(data.job),
    createdAt: desk.options.now(),
  })
}

function sheetInput(desk: Desk, data: JobData, opening: Opening, frame: ScheduleFrame): CautionsSheetInput {
  const row = scheduleRow(data, opening)
  const page = desk.behaviour.page(data, opening)
  const facts = desk.behaviour.facts(data, opening)
  const { lines, questions } = cautionsInFull(desk.behaviour.review(data, opening).cautions, facts)
  const { units } = data.job
  const text = (key: 'size' | 'hand' | 'label'): string => scheduleColumn(key).text(row, { units, frame })
  const level = frame.levels.find(({ id }) => id === opening.levelId)?.name ?? ''
  const label = text('label')
  return {
    mark: opening.mark,
    lines: [
      [row.where, level].filter((each) => each !== '').join(', '),
      [text('size'), text('hand'), label === 'none' ? 'no fire label' : label && `${label} label`]
        .filter((each) => each !== '')
        .join(', '),
      row.typicalName ?? 'no typical yet',
    ].filter((each) => each !== ''),
    elevation: elevationOfOpening(data, opening),
    behaviour: page.lines,
    sequence: page.sequence,
    arrangement: page.arrangement,
    cannotTell: page.cannotTell,
    codeWords: codeWords(codeInForce(facts)),
    cautions: lines,
    questions,
  }
}

async function printQuestions(desk: Desk, { data }: JobFile): Promise<Answer<MadeFile>> {
  const overview = overviewOf(desk, data)
  const marksOf = (question: QuestionAsked): readonly string[] =>
    openingsWaiting(overview, question)
      .flatMap((id) => data.get('opening', id)?.mark ?? [])
      .toSorted(compareMarks)
  const document = questionsSheet(data.job, {
    codeWords: codeWords(codeInForce(desk.behaviour.facts(data, null))),
    questions: overview.questions,
    marksOf,
  })
  return pressed(document, {
    name: `${data.job.name} - questions to answer`,
    pageSize: sheetSize(data.job),
    createdAt: desk.options.now(),
  })
}
