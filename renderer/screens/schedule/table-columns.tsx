// The schedule's columns as the table wants them: the core says what each means, here they get their look.
import {
  scheduleColumn,
  scheduleQuestions,
  type ColumnContext,
  type ColumnKey,
  type ScheduleQuestion,
  type ScheduleRow,
} from '../../../core/schedule/index.ts'
import type { TradeField } from '../../../core/job/index.ts'
import { countWords, worstWords, type CautionCount } from '../../../core/cautions/index.ts'
import { gateColumns, gateWords, type Gate, type GateColumn } from '../../../core/documents/index.ts'
import { gateMark } from '../../drawing/index.ts'
import { DrawingView, type TableColumn } from '../../ui/index.ts'
import { feedTableColumns } from '../power/index.ts'
import { useWindow } from '../window-state.ts'

const tradeOf: Partial<Record<ColumnKey, TradeField>> = {
  furnished: 'furnishedBy',
  fitted: 'fittedBy',
  wired: 'wiredBy',
  terminated: 'terminatedBy',
}

function questionAbout(row: ScheduleRow, key: ColumnKey): ScheduleQuestion | undefined {
  return scheduleQuestions(row).find((question) => question.column === key)
}

/** Whether this cell differs on purpose from what the typical says. */
function differs(row: ScheduleRow, key: ColumnKey): boolean {
  if (key === 'typical') return row.differing > 0
  const field = tradeOf[key]
  return field !== undefined && row.ownTrades.includes(field)
}

const gateHeadings: Readonly<Record<GateColumn, string>> = {
  secured: 'Secured',
  'exit asked': 'Exit asked',
  'fire alarm': 'Fire alarm',
  'mains lost': 'Mains lost',
  'no power': 'No power',
}

const gateKey = (column: GateColumn): string => `gate ${column}`

/** The condition a column shows, or undefined for a column of the schedule itself. */
export const gateOfColumn = (key: string): GateColumn | undefined =>
  gateColumns.find((column) => gateKey(column) === key)

// Read where the row is drawn: the columns stay the same object while gates change, and the changed row is drawn anew.
const gateFor = (row: ScheduleRow, column: GateColumn): Gate | null =>
  useWindow.getState().job?.gates.get(row.id)?.[column] ?? null

/** What each doorway does: one mark a condition, in and out. */
function gateTableColumns(): readonly TableColumn<ScheduleRow>[] {
  return gateColumns.map((column) => ({
    key: gateKey(column),
    heading: gateHeadings[column],
    width: column === 'secured' ? 60 : 54,
    align: 'start',
    sortable: false,
    text: (row) => {
      const gate = gateFor(row, column)
      return gate === null ? '' : gateWords(gate)
    },
    cell: (row) => {
      const gate = gateFor(row, column)
      return gate === null ? null : <DrawingView drawing={gateMark(gate)} label={null} />
    },
  }))
}

/** The column that says the worst the rules have to say of an opening. */
export const cautionsColumn = 'cautions'

const countFor = (row: ScheduleRow): CautionCount | undefined =>
  useWindow.getState().job?.cautions.get(row.id)

const cautionTableColumn: TableColumn<ScheduleRow> = {
  key: cautionsColumn,
  heading: 'Cautions',
  width: 100,
  align: 'start',
  sortable: false,
  text: (row) => {
    const count = countFor(row)
    return count === undefined ? '' : worstWords(count)
  },
  mark: (row) => {
    const count = countFor(row)
    if (count === undefined) return undefined
    if (count.canTrap + count.breaks > 0) return 'stop'
    return count.asks + count.missing > 0 ? 'question' : undefined
  },
  note: (row) => {
    const count = countFor(row)
    return count === undefined ? undefined : countWords(count)
  },
}

/** The columns with what the rules say of each doorway, and what it does, after its typical. */
export function withGates(columns: readonly TableColumn<ScheduleRow>[]): readonly TableColumn<ScheduleRow>[] {
  const at = columns.findIndex((column) => column.key === 'typical') + 1
  const worked = [cautionTableColumn, ...gateTableColumns(), ...feedTableColumns]
  return at === 0 ? [...columns, ...worked] : [...columns.slice(0, at), ...worked, ...columns.slice(at)]
}

export function tableColumns(
  keys: readonly ColumnKey[],
  context: ColumnContext,
  writable: boolean,
): readonly TableColumn<ScheduleRow>[] {
  return keys.map((key) => {
    const column = scheduleColumn(key)
    const { choices } = column
    return {
      key,
      heading: column.heading,
      width: column.width,
      align: column.align,
      frozen: key === 'mark',
      marksRow: key === 'mark',
      grow: key === 'notes' || key === 'where',
      text: (row) => column.text(row, context),
      mark: (row) =>
        questionAbout(row, key) !== undefined ? 'question' : differs(row, key) ? 'own' : undefined,
      note: (row) =>
        questionAbout(row, key)?.words ??
        (differs(row, key) ? 'Differs from its typical on purpose.' : undefined),
      ...(writable && column.read !== undefined ? { editable: () => true } : {}),
      ...(choices === undefined ? {} : { choices: () => choices(context) }),
    }
  })
}
