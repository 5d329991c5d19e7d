import { useCallback, useEffect, useMemo } from 'react'
import type { ColumnKey, RowGroup, ScheduleRow } from '../../../core/schedule/index.ts'
import { hasQuestion } from '../../../core/schedule/index.ts'
import {
  Button,
  EmptySheet,
  findPlaces,
  selectedRowKeys,
  SheetHeading,
  Table,
  type CellEdit,
  type EditHow,
  type LeftOut,
  type TableItem,
  type TableSelection,
} from '../../ui/index.ts'
import { useCommands } from '../commands.tsx'
import { goTo } from '../place.ts'
import {
  arrange,
  makeChange,
  prefer,
  select,
  shownColumns,
  tell,
  toggleGroup,
  useWindow,
} from '../window-state.ts'
import { FilterBar } from './filter-bar.tsx'
import { useFeedsKept } from '../power/index.ts'
import { scheduleTable } from '../schedule-table.ts'
import { tableColumns, withGates } from './table-columns.tsx'

// One item object a row for as long as the row is the same object, so that the table redraws only what changed.
const itemOfRow = new WeakMap<ScheduleRow, TableItem<ScheduleRow>>()
function rowItem(row: ScheduleRow): TableItem<ScheduleRow> {
  const known = itemOfRow.get(row)
  if (known !== undefined) return known
  const item: TableItem<ScheduleRow> = { form: 'row', key: row.id, row }
  itemOfRow.set(row, item)
  return item
}

/** Groups with headings, folded ones without their rows. */
export function tableItems(
  groups: readonly RowGroup[],
  collapsed: ReadonlySet<string>,
  headings: boolean,
): readonly TableItem<ScheduleRow>[] {
  const items: TableItem<ScheduleRow>[] = []
  for (const group of groups) {
    const folded = headings && collapsed.has(group.key)
    if (headings)
      items.push({
        form: 'group',
        key: group.key,
        title: group.title,
        count: group.rows.length,
        level: 1,
        ...(folded ? { collapsed: true } : {}),
      })
    if (!folded) for (const row of group.rows) items.push(rowItem(row))
  }
  return items
}

/** The items and columns in view, shared by the sheet, the menus and the margin. */
export function useScheduleTable() {
  const job = useWindow((state) => state.job)
  const groups = useWindow((state) => state.groups)
  const collapsed = useWindow((state) => state.collapsed)
  const grouping = useWindow((state) => state.arrangement.group)
  const preferences = useWindow((state) => state.preferences)
  const frame = job?.frame
  const writable = job !== null && job.state.readOnly === null
  const items = useMemo(
    () => tableItems(groups, collapsed, grouping !== 'nothing'),
    [groups, collapsed, grouping],
  )
  const keys = shownColumns(preferences)
  const { gates } = preferences
  const columns = useMemo(() => {
    if (frame === undefined) return []
    const own = tableColumns(keys, { units: frame.job.units, frame }, writable)
    return gates ? withGates(own) : own
  }, [keys, frame, writable, gates])
  return { items, columns }
}

export function ScheduleSheet() {
  const job = useWindow((state) => state.job)
  const selection = useWindow((state) => state.selection)
  const arrangement = useWindow((state) => state.arrangement)
  const widths = useWindow((state) => state.preferences.widths)
  const groups = useWindow((state) => state.groups)
  const { items, columns } = useScheduleTable()
  useFeedsKept()

  const { contextMenu, openDialog } = useCommands()

  useEffect(() => scheduleTable.current?.focus(), [])

  const onEdit = useCallback(
    (cells: readonly CellEdit[], how: EditHow) =>
      makeChange({
        does: 'set cells',
        how,
        unreadable: 'refuse',
        cells: cells.map((cell) => ({
          openingId: cell.rowKey,
          column: cell.columnKey as ColumnKey,
          text: cell.text,
        })),
      }),
    [],
  )
  const onOpen = useCallback((rowKey: string) => goTo({ sheet: 'opening', openingId: rowKey }), [])
  const onSort = useCallback(
    (columnKey: string) =>
      arrange({
        sort: {
          column: columnKey as ColumnKey,
          direction:
            arrangement.sort.column === columnKey && arrangement.sort.direction === 'up' ? 'down' : 'up',
        },
      }),
    [arrangement.sort],
  )
  const onResize = useCallback(
    (columnKey: string, width: number) =>
      prefer({ widths: { ...useWindow.getState().preferences.widths, [columnKey]: Math.round(width) } }),
    [],
  )
  const onRemoveRows = useCallback(
    (rowKeys: readonly string[]) => openDialog({ form: 'remove', openingIds: rowKeys }),
    [openDialog],
  )
  const menu = useCallback(
    (at: TableSelection) => contextMenu(selectedRowKeys(findPlaces(items, columns), at)),
    [contextMenu, items, columns],
  )

  if (job === null) return null
  const shown = groups.reduce((sum, group) => sum + group.rows.length, 0)
  const writable = job.state.readOnly === null
  return (
    <div className="schedule-sheet">
      <SheetHeading title="Opening schedule" facts={headingFacts(groups, shown, job.rows.size)} />
      <FilterBar />
      <Table
        label="Opening schedule"
        items={items}
        columns={columns}
        selection={selection}
        onSelect={select}
        {...(writable ? { onEdit, onRemoveRows, onLeftOut: sayLeftOut } : {})}
        onOpen={onOpen}
        onToggle={toggleGroup}
        sort={{ columnKey: arrangement.sort.column, direction: arrangement.sort.direction }}
        onSort={onSort}
        widths={widths}
        onResize={onResize}
        menu={menu}
        handle={scheduleTable}
        empty={<EmptySchedule filtered={job.rows.size > 0} />}
      />
    </div>
  )
}

/** Cells that a paste or fill could not even offer. What could not be read is said by the change itself. */
function sayLeftOut({ locked, rowsBeyond, columnsBeyond }: LeftOut): void {
  const parts = [
    ...(locked > 0
      ? [`${locked} ${locked === 1 ? 'cell is' : 'cells are'} worked out and cannot be typed into`]
      : []),
    ...(rowsBeyond > 0 ? [`${rowsBeyond} ${rowsBeyond === 1 ? 'row' : 'rows'} did not fit below`] : []),
    ...(columnsBeyond > 0
      ? [`${columnsBeyond} ${columnsBeyond === 1 ? 'column' : 'columns'} did not fit at the right`]
      : []),
  ]
  if (parts.length > 0) tell({ weight: 'question', words: `Left out: ${parts.join('; ')}.` })
}

function headingFacts(groups: readonly RowGroup[], shown: number, all: number): string {
  let questions = 0
  let differing = 0
  for (const group of groups)
    for (const row of group.rows) {
      if (hasQuestion(row)) questions += 1
      if (row.differing > 0 || row.ownTrades.length > 0) differing += 1
    }
  const count = shown === all ? `${all} ${all === 1 ? 'opening' : 'openings'}` : `${shown} of ${all} openings`
  return [
    count,
    ...(questions > 0 ? [`${questions} ${questions === 1 ? 'needs' : 'need'} answers`] : []),
    ...(differing > 0 ? [`${differing} ${differing === 1 ? 'differs' : 'differ'} from the typical`] : []),
  ].join(', ')
}

function EmptySchedule({ filtered }: { readonly filtered: boolean }) {
  const { openDialog, chooseFile } = useCommands()
  if (filtered)
    return (
      <EmptySheet
        actions={
          <Button onPress={() => arrange({ words: '', levelIds: [], typicalIds: [], only: 'all' })}>
            Show everything
          </Button>
        }
      >
        No opening answers to what is asked for above.
      </EmptySheet>
    )
  return (
    <EmptySheet
      actions={
        <>
          <Button kind="main" onPress={chooseFile}>
            Take in a file
          </Button>
          <Button onPress={() => openDialog({ form: 'add openings', levelId: null })}>Add openings</Button>
        </>
      }
    >
      This schedule has no openings yet. Take in the architect’s door schedule or model, paste rows from a
      spreadsheet, or add openings by hand.
    </EmptySheet>
  )
}
