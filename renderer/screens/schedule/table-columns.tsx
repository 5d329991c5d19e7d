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
import type { TableColumn } from '../../ui/index.ts'

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
