// From the schedule's own rows and columns to its document: the same words that the screen shows.
import type { TradeField } from '../job/index.ts'
import {
  scheduleColumn,
  scheduleQuestions,
  type ColumnKey,
  type RowGroup,
  type ScheduleFrame,
  type ScheduleRow,
} from '../schedule/index.ts'
import type { DocumentBlocks } from './blocks.ts'
import {
  scheduleDocument,
  type ScheduleDocumentColumn,
  type ScheduleDocumentRow,
} from './schedule-document.ts'

export interface PrintedSchedule {
  readonly frame: ScheduleFrame
  /** Chosen, sorted and grouped by `arrangeRows`. */
  readonly groups: readonly RowGroup[]
  readonly columns: readonly ColumnKey[]
  /** When only a part of the job is shown, which: "Level 2 only". */
  readonly choice?: string | null
}

/** Which columns take the room that is left over, and how much of it. */
const widthWeights: Partial<Record<ColumnKey, number>> = { where: 3, typical: 1, notes: 4 }

const tradeColumns: Readonly<Record<TradeField, ColumnKey>> = {
  furnishedBy: 'furnished',
  fittedBy: 'fitted',
  wiredBy: 'wired',
  terminatedBy: 'terminated',
}

const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

/** A day as the job writes its dates: 2026-03-03, or 3 March 2026. */
export function dayWords(day: string, form: 'iso' | 'local'): string {
  const [, year, month, date] = /^(\d{4})-(\d\d)-(\d\d)$/.exec(day) ?? []
  const name = months[Number(month) - 1]
  return form === 'iso' || name === undefined ? day : `${Number(date)} ${name} ${year}`
}

function documentColumn(key: ColumnKey): ScheduleDocumentColumn {
  const column = scheduleColumn(key)
  return {
    key,
    heading: column.heading,
    // Texts carry their own units, as on screen.
    unit: null,
    align: column.align === 'end' ? 'right' : 'left',
    widthWeight: widthWeights[key] ?? 0,
    priority: column.priority,
  }
}

function documentRow(row: ScheduleRow, printed: PrintedSchedule): ScheduleDocumentRow {
  const { frame } = printed
  const context = { units: frame.job.units, frame }
  const texts = printed.columns.map((key) => [key, scheduleColumn(key).text(row, context)])
  const own = row.ownTrades.map((field) => tradeColumns[field])
  return {
    texts: Object.fromEntries(texts) as Record<string, string>,
    notKnown: scheduleQuestions(row).map(({ column }) => (column === 'leaves' ? 'size' : column)),
    own: row.differing > 0 ? [...own, 'typical'] : own,
  }
}

/** The building a group of one level is in, when its title says so. */
function buildingOf(group: RowGroup, frame: ScheduleFrame): string | null {
  const building = frame.buildings.find((each) => each.id === group.rows[0]?.buildingId)
  return building !== undefined && group.title.startsWith(`${building.name}, `) ? building.name : null
}

/** The opening schedule of a job as it is arranged. The issue and its date are the job's own. */
export function printedSchedule(printed: PrintedSchedule): DocumentBlocks {
  const { job } = printed.frame
  return scheduleDocument({
    job,
    columns: printed.columns.map(documentColumn),
    groups: printed.groups.map((group) => ({
      groupTitle: group.title,
      within: buildingOf(group, printed.frame),
      rows: group.rows.map((row) => documentRow(row, printed)),
    })),
    issueName: job.scheduleIssue,
    issuedOn: job.scheduleDate === null ? null : dayWords(job.scheduleDate, job.dateForm),
    choice: printed.choice ?? null,
  })
}
