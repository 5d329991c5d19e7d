// The behaviour and cautions sheet: what a doorway does and why, in which order, and what the rules say of it.
import {
  evidenceLimit,
  localAmendments,
  wordsOfCaution,
  type CautionInFull,
  type QuestionAsked,
} from '../cautions/index.ts'
import type { Job } from '../job/index.ts'
import type { Block, CellMark, DocumentBlocks, TableRow } from './blocks.ts'
import { howAnswered, marksWords, severityWords, sparedBy } from './cautions-words.ts'
import { conditionWords } from './condition-words.ts'
import { joinedSheets, sheetColumn, sheetOfJob } from './document-of-job.ts'
import type { ElevationInput } from './elevation-input.ts'
import type { GateLine } from './gates.ts'

export interface CautionsSheetInput {
  readonly mark: string
  /** Where it is, its size, hand, label and typical, each a line. */
  readonly lines: readonly string[]
  readonly elevation: ElevationInput
  readonly behaviour: readonly GateLine[]
  readonly sequence: readonly string[]
  /** The arrangement behind the way out, with the reasons. */
  readonly arrangement: { readonly name: string; readonly reasons: readonly string[] } | null
  /** Why nobody can tell what it does. */
  readonly cannotTell: readonly string[]
  /** The codes and editions in force, in a sentence. */
  readonly codeWords: string
  readonly cautions: readonly CautionInFull[]
  readonly questions: readonly QuestionAsked[]
}

/** One line at the foot of each page; the words in full stand at the top. */
export const cautionsPageNote =
  'Supports a review. Local codes, the authority having jurisdiction and licensed people decide.'

/** A sheet for each opening, from the top of a page. Null where there are none. */
export const cautionsSheets = (job: Job, openings: readonly CautionsSheetInput[]): DocumentBlocks | null =>
  joinedSheets(
    openings.map((opening) => cautionsSheet(job, opening)),
    'Behaviour and cautions',
  )

/** One opening's sheet, with the words of caution on each page. */
export function cautionsSheet(job: Job, opening: CautionsSheetInput): DocumentBlocks {
  const { mark, lines, elevation, behaviour, arrangement, cannotTell, sequence } = opening
  return sheetOfJob({
    job,
    title: `${mark}: behaviour and cautions`,
    lines,
    facts: [{ name: 'Code', text: opening.codeWords }],
    pageNote: cautionsPageNote,
    blocks: [
      words(null, [], [`${wordsOfCaution} ${localAmendments}`, evidenceLimit]),
      { form: 'elevation', title: `Opening ${mark}`, input: elevation },
      {
        form: 'behaviour',
        title: arrangement === null ? 'What it does' : `What it does; way out: ${arrangement.name}`,
        rows: behaviour.map(({ condition, of, gate, because }) => ({
          condition: of === null ? conditionWords[condition] : `${conditionWords[condition]}, ${of}`,
          gate,
          because,
        })),
        emptyText: cannotTell.join(' ') || 'What it does was not worked out.',
      },
      ...(sequence.length === 0 ? [] : [words('Sequence of operation', sequence)]),
      cautionsTable(opening),
      ...sparedWords(opening),
    ],
  })
}

const words = (
  title: string | null,
  paragraphs: readonly string[],
  cautions: readonly string[] = [],
): Block => ({ form: 'words', title, paragraphs, cautions })

const verdictGroups = [
  ['caution', 'Cautions'],
  ['not known', 'Not known'],
  ['met', 'Met'],
] as const

function cautionsTable({ mark, cautions, questions }: CautionsSheetInput): Block {
  const asked = new Map(questions.map((question) => [question.key, question]))
  return {
    form: 'table',
    title: `Cautions of ${mark}`,
    columns: [
      sheetColumn('consequence', 'If not kept', 0),
      sheetColumn('rule', 'What is asked for', 3),
      sheetColumn('why', 'What is wrong, or who can answer', 4),
      sheetColumn('citation', 'Citation', 3),
      sheetColumn('left', 'Left to the reader', 3),
    ],
    groups: verdictGroups.flatMap(([verdict, title]) => {
      const rows = cautions.filter((each) => each.verdict === verdict)
      return rows.length === 0
        ? []
        : [
            {
              title,
              within: null,
              countText: `${rows.length} ${rows.length === 1 ? 'rule' : 'rules'}`,
              rows: rows.map((row) => cautionRow(row, asked)),
            },
          ]
    }),
    emptyText: 'No rule asks anything of this opening.',
  }
}

function cautionRow(caution: CautionInFull, asked: ReadonlyMap<string, QuestionAsked>): TableRow {
  const { rule, verdict, severity, sentences, missing } = caution
  const questions = missing.flatMap((key) => {
    const question = asked.get(key)
    return question === undefined ? [] : [`${question.sentence} (${question.answeredBy})`]
  })
  return {
    cells: [
      severityWords[severity],
      rule.sentence,
      [...sentences, ...questions].join(' '),
      `${rule.citations.join('; ')}. ${rule.standing}`,
      rule.leftToReader.join(' '),
    ],
    marks: markOf(verdict),
  }
}

function markOf(verdict: CautionInFull['verdict']): Readonly<Record<string, CellMark>> {
  if (verdict === 'caution') return { consequence: 'broken' }
  return verdict === 'not known' ? { consequence: 'question' } : {}
}

function sparedWords({ cautions }: CautionsSheetInput): Block[] {
  const spared = sparedBy(cautions)
  if (spared.length === 0) return []
  return [
    words('Rules that do not apply here', [
      spared.map(({ reason, rules }) => `${reason} (${rules} ${rules === 1 ? 'rule' : 'rules'})`).join(' '),
    ]),
  ]
}

export interface QuestionsSheetInput {
  readonly codeWords: string
  readonly questions: readonly QuestionAsked[]
  /** The marks of the openings that wait for a question, in people's order. */
  readonly marksOf: (question: QuestionAsked) => readonly string[]
}

/** More marks than this would fill the page. */
const mostMarks = 16
const toWriteOn = '________________________________'

/** What to ask at the coordination meeting, by who can answer, with room for the answer. */
export function questionsSheet(
  job: Job,
  { codeWords, questions, marksOf }: QuestionsSheetInput,
): DocumentBlocks {
  const byAnswerer = Map.groupBy(questions, ({ answeredBy }) => answeredBy)
  return sheetOfJob({
    job,
    title: 'Questions to answer',
    lines: ['By who can answer; what can trap someone first, then what settles the most openings.'],
    facts: [{ name: 'Code', text: codeWords }],
    pageNote: cautionsPageNote,
    blocks: [
      {
        form: 'table',
        title: 'Questions',
        columns: [
          sheetColumn('hangs', 'What hangs on it', 0),
          sheetColumn('question', 'Question', 4),
          sheetColumn('waiting', 'Openings that wait', 3),
          sheetColumn('answer', 'Answer, by whom, date', 4),
        ],
        groups: [...byAnswerer].map(([answeredBy, theirs]) => ({
          title: `For the ${answeredBy}`,
          within: null,
          countText: `${theirs.length} ${theirs.length === 1 ? 'question' : 'questions'}`,
          rows: theirs.map((question) => ({
            cells: [
              severityWords[question.severity],
              [
                question.sentence,
                howAnswered(question),
                ...(question.leadsTo.length === 0
                  ? []
                  : [`Then, where it applies: ${question.leadsTo.join(' ')}`]),
              ].join('\n'),
              `${question.openings}: ${marksWords(marksOf(question), mostMarks)}`,
              toWriteOn,
            ],
            marks: question.severity === 'can trap someone' ? { hangs: 'broken' } : { hangs: 'question' },
          })),
        })),
        emptyText: 'Nothing is left to ask.',
      },
      words(null, [], [wordsOfCaution]),
    ],
  })
}
