// The preparation sheet, the full-size template and the fitting sheet of one opening.
import { counted, writeFireLabel, writeLength, type Job } from '../job/index.ts'
import type {
  DoorToPrepare,
  PlacedHole,
  Preparation,
  PreparationCheck,
  Preparations,
  PreparedSurface,
  Tape,
} from '../preparation/index.ts'
import type {
  Block,
  CellMark,
  DocumentBlocks,
  FigureBlock,
  TableBlock,
  TableColumn,
  WordsBlock,
} from './blocks.ts'
import { sheetColumn, sheetOfJob } from './document-of-job.ts'

/** How the drawing is read. */
export const signWords =
  'An open circle goes through, a filled one is blind, a dashed one is drilled from the other face. ' +
  'Blue dashes are the bodies that hang there. Numbers are the order of work.'

export const howToReadDrawings = 'How to read the drawings'
/** The title of the table of checks. */
export const preparationChecks = 'Checks'

const whoDecidesHere =
  'Local codes, the label and licensed practice decide what may be cut. The part’s own instructions decide where they say otherwise.'

const oneGroup = (
  title: string,
  columns: readonly TableColumn[],
  rows: TableBlock['groups'][number]['rows'],
  emptyText: string,
): TableBlock => ({
  form: 'table',
  title,
  columns,
  groups: rows.length === 0 ? [] : [{ title: '', within: null, countText: null, rows }],
  emptyText,
})

/** A sheet for each fitting of one opening that has something to drill. */
export function preparationSheet(
  job: Job,
  door: DoorToPrepare,
  { preparations, withoutPattern }: Preparations,
): DocumentBlocks {
  return joined(job, door, 'Preparation sheet', preparations, withoutPattern, (each) => [
    standingWords(each),
    ...each.surfaces.flatMap((surface) => [surfaceFigure(surface), holeTable(surface)]),
    ...(each.surfaces.length === 0 ? [] : [plainWords(howToReadDrawings, signWords)]),
    checkTable(each.checks),
    ...patternNotes(each),
  ])
}

/** One sheet after another, each from the top of a page with its own head. */
function joined(
  job: Job,
  door: DoorToPrepare,
  title: string,
  preparations: readonly Preparation[],
  withoutPattern: readonly string[],
  say: (each: Preparation) => readonly Block[],
): DocumentBlocks {
  const whole = `${title}, opening ${door.mark}`
  const without =
    withoutPattern.length === 0
      ? []
      : [
          plainWords(
            'Without a pattern',
            `No pattern is kept for ${withoutPattern.join(', ')}; nothing is said of them here.`,
          ),
        ]
  if (preparations.length === 0) {
    const empty = sheetOfJob({
      job,
      title: whole,
      lines: [],
      blocks: [plainWords(null, 'Nothing on this opening has a pattern to drill by.'), ...without],
    })
    return empty
  }
  const sheets = preparations.map((each, index) => {
    const head = sheetOfJob({
      job,
      title: whole,
      lines: [`${each.tag}  ${each.partName}`],
      facts: doorFacts(door, each),
      blocks: [],
    })
    const blocks = head.blocks.map((block) =>
      block.form === 'title' ? { ...block, startsPage: true } : block,
    )
    // What is not there is said first, so that no template ends with a page of a few words.
    return {
      facts: head.facts,
      blocks: [...blocks, ...say(each).toSpliced(1, 0, ...(index === 0 ? without : []))],
    }
  })
  const facts = sheets[0]?.facts ?? sheetOfJob({ job, title: whole, lines: [], blocks: [] }).facts
  return { facts, blocks: sheets.flatMap(({ blocks }) => blocks) }
}

const plainWords = (title: string | null, ...paragraphs: string[]): WordsBlock => ({
  form: 'words',
  title,
  paragraphs,
  cautions: [],
})

function doorFacts(door: DoorToPrepare, prepared: Preparation): { name: string; text: string }[] {
  const notKnown = 'not known'
  const size = [door.widthMicrometres, door.heightMicrometres].map((each) =>
    each === null ? notKnown : writeLength(each, door.units, { style: 'trade', nearest: true }),
  )
  const leaf = door.leaves.find(({ role }) => role === prepared.leaf)
  const fact = (name: string, text: string | null): { name: string; text: string } => ({
    name,
    text: text === null || text === '' ? notKnown : text,
  })
  return [
    fact('Size', size.join(' by ')),
    fact('Hand', door.hand),
    fact(
      'Fitted on',
      [prepared.side === null ? null : `${prepared.side} side`, prepared.swing].filter(Boolean).join(', '),
    ),
    ...(door.leaves.length > 1 ? [fact('Leaf', prepared.leaf)] : []),
    fact('Frame', door.frameMaterial),
    fact('Door', leaf?.material ?? null),
    fact('Fire label', writeFireLabel({ minutes: door.fireLabelMinutes, class: null })),
  ]
}

/** Whether it may be drilled, first thing on the sheet. */
function standingWords({ mayDrill, checks, holes }: Preparation): WordsBlock {
  const refused = checks.filter(({ verdict }) => verdict === 'caution')
  const open = checks.filter(({ verdict }) => verdict === 'not known')
  const why = [
    refused.length > 0 ? counted(refused.length, 'check is refused', 'checks are refused') : null,
    open.length > 0 ? counted(open.length, 'check is not known', 'checks are not known') : null,
  ].filter((each) => each !== null)
  return {
    form: 'words',
    title: null,
    paragraphs: mayDrill
      ? [`All checks of these ${holes.length} holes are met. Measure before you drill.`]
      : [
          `Do not drill yet: ${why.length === 0 ? 'nothing could be placed' : why.join(', ')}. See the checks of the preparation sheet.`,
        ],
    cautions: [whoDecidesHere],
  }
}

const surfaceFigure = (surface: PreparedSurface): FigureBlock => ({
  form: 'figure',
  title: surface.title,
  figure: { kind: 'preparation', input: { surface } },
  size: { widthPoints: 520, heightPoints: 260 },
  trueSize: false,
  textAlternative: '',
  pageCaution: null,
})

const tapeWords = (tape: Tape | null): string => (tape === null ? '?' : `${tape.text} from ${tape.from}`)

function holeTable({ title, holes }: PreparedSurface): TableBlock {
  return oneGroup(
    `Holes: ${title}`,
    [
      sheetColumn('number', 'No.', 0, { align: 'right' }),
      sheetColumn('name', 'Hole', 1),
      sheetColumn('across', 'Across', 1),
      sheetColumn('along', 'Along', 1),
      sheetColumn('again', 'Check', 1, { priority: 1 }),
      sheetColumn('size', 'Size'),
      sheetColumn('depth', 'Depth'),
      sheetColumn('face', 'Face'),
      sheetColumn('drill', 'Drill with', 1),
      sheetColumn('fastener', 'Fastener', 1),
    ],
    holes.map((hole) => ({ cells: holeCells(hole), marks: holeMarks(hole) })),
    'Nothing is drilled here.',
  )
}

const holeCells = (hole: PlacedHole): string[] => [
  String(hole.number),
  hole.name,
  tapeWords(hole.across),
  tapeWords(hole.along),
  hole.acrossAgain === null ? '' : tapeWords(hole.acrossAgain),
  hole.sizeText,
  hole.depthText,
  hole.face ?? '',
  hole.drilledWith ?? '',
  hole.fastener ?? '',
]

function holeMarks({ across, along, diameterMicrometres, cutOut }: PlacedHole): Record<string, CellMark> {
  return {
    ...(across === null ? { across: 'not known' as const } : {}),
    ...(along === null ? { along: 'not known' as const } : {}),
    ...(diameterMicrometres === null && cutOut === null ? { size: 'not known' as const } : {}),
  }
}

const verdictWords: Readonly<Record<PreparationCheck['verdict'], string>> = {
  met: 'met',
  caution: 'refused',
  'not known': 'not known',
  'does not apply': 'does not apply',
}
const verdictRank: readonly PreparationCheck['verdict'][] = ['caution', 'not known', 'met', 'does not apply']
const verdictMarks: Readonly<Partial<Record<PreparationCheck['verdict'], CellMark>>> = {
  caution: 'broken',
  'not known': 'question',
}

/** What is wrong first. A question stands with who can answer it; a limit with its source and how far it was confirmed. */
function checkTable(checks: readonly PreparationCheck[]): TableBlock {
  const ordered = checks.toSorted(
    (one, other) => verdictRank.indexOf(one.verdict) - verdictRank.indexOf(other.verdict),
  )
  return oneGroup(
    preparationChecks,
    [
      sheetColumn('verdict', 'Check'),
      sheetColumn('sentence', 'What was found', 2),
      sheetColumn('question', 'Question', 2),
      sheetColumn('source', 'Source', 1, { priority: 1 }),
    ],
    ordered.map(({ verdict, sentence, questions, source }) => {
      const mark = verdictMarks[verdict]
      return {
        cells: [
          verdictWords[verdict],
          sentence,
          questions.map(({ words, whoCanSay }) => `${words} (${whoCanSay})`).join('\n'),
          source === null ? '' : `${source.words} (${source.standing})`,
        ],
        marks: mark === undefined ? {} : { verdict: mark },
      }
    }),
    'Nothing was checked.',
  )
}

function patternNotes({ patterns }: Preparation): Block[] {
  const notes = [...new Set(patterns.flatMap((pattern) => pattern.notes ?? []))]
  return notes.length === 0
    ? []
    : [{ form: 'words', title: 'From the pattern', paragraphs: notes, cautions: [] }]
}

const templateCaution = 'Do not drill until the bars measure 100 mm and 4 in.'

/** Full-size templates of every face; only where the hand is known, since a turned template drills the wrong holes. */
export function templateSheet(job: Job, door: DoorToPrepare, result: Preparations): DocumentBlocks {
  return joined(job, door, 'Full-size template', result.preparations, result.withoutPattern, (each) => [
    standingWords(each),
    plainWords(
      null,
      'Print at 100 %, not fitted to the page. Measure both bars across and the bar down on every sheet. Join the sheets cross on cross, then check one hole of each face with the tape against the preparation sheet.',
    ),
    ...each.surfaces.map((surface): Block =>
      surface.strikeAt === null
        ? plainWords(
            surface.title,
            'No template is printed until the hand of the door and the side of the work are known.',
          )
        : {
            form: 'figure',
            title: null,
            figure: {
              kind: 'template',
              input: { heading: `${door.mark}, ${each.tag} ${each.partName}`, surface },
            },
            size: 'fit',
            trueSize: true,
            textAlternative: '',
            pageCaution: templateCaution,
          },
    ),
  ])
}

/** The fitting sheet: the steps in order, each with what to beware of, and room to tick. */
export function fittingSheet(job: Job, door: DoorToPrepare, result: Preparations): DocumentBlocks {
  return joined(job, door, 'Fitting sheet', result.preparations, result.withoutPattern, (each) => [
    standingWords(each),
    oneGroup(
      'Steps',
      [
        sheetColumn('step', 'Step', 0, { align: 'right' }),
        sheetColumn('do', 'Do', 3),
        sheetColumn('beware', 'Beware', 3),
        sheetColumn('done', 'Done, initials', 1),
      ],
      each.steps.map(({ words, cautions }, index) => ({
        cells: [String(index + 1), words, cautions.join('\n'), ''],
        marks: {},
      })),
      'There are no steps until the pattern can be placed.',
    ),
  ])
}
