// The opening schedule as a document: the rows the schedule screen shows, with head, legend and who decides.
import { counted } from '../job/index.ts'
import type { CellMark, CountsBlock, DocumentBlocks, LegendEntry, TableColumn, TableRow } from './blocks.ts'
import { scheduleLegend } from './schedule-legend.ts'

/** Stands on each page and in full at the end. */
export const whoDecides = 'Local codes and the authority having jurisdiction decide.'
const whoDecidesInFull = [
  'Local codes and the authority having jurisdiction decide what each opening must do.',
  'This schedule supports that review. It is not a substitute for licensed practice.',
].join(' ')

export interface ScheduleDocumentColumn {
  readonly key: string
  readonly heading: string
  readonly unit: string | null
  readonly align: 'left' | 'right' | 'centre'
  readonly widthWeight: number
  /** Lower stays longer on a narrow page; left out, the column's place decides. */
  readonly priority?: number
}

export interface ScheduleDocumentRow {
  /** By column key; a key that is absent is an empty cell. */
  readonly texts: Readonly<Record<string, string>>
  /** Column keys whose fact nobody has given. */
  readonly notKnown?: readonly string[]
  /** Column keys that differ from the typical on purpose. */
  readonly own?: readonly string[]
}

export interface ScheduleDocumentInput {
  readonly job: {
    readonly name: string
    readonly number: string | null
    readonly client: string | null
    readonly address: string | null
    readonly preparedBy: string | null
  }
  readonly columns: readonly ScheduleDocumentColumn[]
  /** Grouped and sorted as they shall stand. */
  readonly groups: readonly {
    readonly groupTitle: string
    /** The building, when there are several. */
    readonly within?: string | null
    readonly rows: readonly ScheduleDocumentRow[]
  }[]
  readonly issueName: string | null
  /** The date as it shall be read. */
  readonly issuedOn: string | null
  /** Signs that only this schedule has. */
  readonly legend?: readonly LegendEntry[]
  /** What was asked for, when it is not the whole job: "Level 2 only". */
  readonly choice?: string | null
}

/** Columns in the order given go from the last; the mark never goes, for a row without it says nothing. */
const priorityOf = (column: ScheduleDocumentColumn, place: number): number =>
  column.key === 'mark' ? 0 : (column.priority ?? place + 1)

function tableRow(row: ScheduleDocumentRow, columns: readonly ScheduleDocumentColumn[]): TableRow {
  const marks: Record<string, CellMark> = {}
  for (const key of row.own ?? []) marks[key] = 'own'
  for (const key of row.notKnown ?? []) marks[key] = 'not known'
  return { cells: columns.map((column) => row.texts[column.key] ?? ''), marks }
}

/** Every text of these columns. */
function* textsOf(input: ScheduleDocumentInput, ...wanted: readonly string[]): Iterable<string> {
  const keys = input.columns.map((column) => column.key).filter((key) => wanted.includes(key))
  for (const group of input.groups)
    for (const row of group.rows) for (const key of keys) yield row.texts[key] ?? ''
}

function marksShown(input: ScheduleDocumentInput): Set<CellMark> {
  const shown = new Set<CellMark>()
  for (const group of input.groups)
    for (const row of group.rows) {
      const { marks } = tableRow(row, input.columns)
      for (const column of input.columns) {
        const mark = marks[column.key]
        if (mark !== undefined) shown.add(mark)
      }
    }
  return shown
}

function countsOf(input: ScheduleDocumentInput): CountsBlock {
  const rows = input.groups.flatMap((group) => group.rows)
  const notKnown = rows.filter((row) => (row.notKnown ?? []).length > 0).length
  const own = rows.filter((row) => (row.own ?? []).length > 0).length
  const counts = [{ count: rows.length, words: rows.length === 1 ? 'opening' : 'openings' }]
  if (notKnown > 0)
    counts.push({ count: notKnown, words: notKnown === 1 ? 'needs an answer' : 'need answers' })
  if (own > 0)
    counts.push({ count: own, words: own === 1 ? 'differs from its typical' : 'differ from their typical' })
  return { form: 'counts', counts }
}

/** The opening schedule from rows that are already chosen, sorted, grouped and put into words. */
export function scheduleDocument(input: ScheduleDocumentInput): DocumentBlocks {
  const { job } = input
  const facts: { name: string; text: string }[] = []
  const fact = (name: string, text: string | null): void => {
    if (text !== null && text.trim() !== '') facts.push({ name, text })
  }
  fact('Client', job.client)
  fact('Job number', job.number)
  fact('Issue', input.issueName)
  fact('Date', input.issuedOn)
  fact('Prepared by', job.preparedBy)
  fact('Shows', input.choice ?? null)
  const columns = input.columns.map((column, place): TableColumn => ({
    key: column.key,
    heading: column.heading,
    unit: column.unit,
    align: column.align,
    widthWeight: column.widthWeight,
    priority: priorityOf(column, place),
  }))
  const legend = scheduleLegend(
    {
      labelled: Array.from(textsOf(input, 'label')).some((text) => text !== ''),
      materialTexts: textsOf(input, 'material', 'frame'),
      handTexts: textsOf(input, 'hand'),
      marks: marksShown(input),
    },
    input.legend ?? [],
  )
  return {
    facts: {
      title: 'Opening schedule',
      jobName: job.name,
      jobNumber: job.number,
      client: job.client,
      address: job.address,
      preparedBy: job.preparedBy,
      issueName: input.issueName,
      dateText: input.issuedOn,
      pageNote: whoDecides,
    },
    blocks: [
      {
        form: 'title',
        title: 'Opening schedule',
        lines: [job.name, job.address ?? ''].filter((line) => line.trim() !== ''),
        facts,
      },
      countsOf(input),
      {
        form: 'table',
        title: 'Openings',
        columns,
        groups: input.groups.map((group) => ({
          title: group.groupTitle,
          within: group.within ?? null,
          countText: counted(group.rows.length, 'opening', 'openings'),
          rows: group.rows.map((row) => tableRow(row, input.columns)),
        })),
        emptyText: 'No openings yet. Take in a schedule or add an opening, then print again.',
      },
      ...(legend.sections.length > 0 ? [legend] : []),
      { form: 'words', title: null, paragraphs: [], cautions: [whoDecidesInFull] },
    ],
  }
}
