import type { CellPlace, TableColumn, TableItem, TableSelection } from './types.ts'

/** Where everything stands. Rows are counted without group headings: `row` 0 is the first opening, not the first heading. */
export interface Places {
  readonly rowKeys: readonly string[]
  readonly columnKeys: readonly string[]
  readonly groupKeys: readonly string[]
  readonly rowByKey: ReadonlyMap<string, number>
  readonly columnByKey: ReadonlyMap<string, number>
  /** Row to item, group to item. */
  readonly itemOfRow: readonly number[]
  readonly itemOfGroup: ReadonlyMap<string, number>
}

/** A block of cells, both ends included, in rows and columns. */
export interface Block {
  readonly top: number
  readonly bottom: number
  readonly left: number
  readonly right: number
}

export interface Spot {
  readonly row: number
  readonly column: number
}

/** Frozen columns first, else as given. */
export const shownColumns = <Row>(columns: readonly TableColumn<Row>[]): readonly TableColumn<Row>[] => [
  ...columns.filter((column) => column.frozen === true),
  ...columns.filter((column) => column.frozen !== true),
]

/** `columns` as `shownColumns` gives them. */
export const findPlaces = <Row>(
  items: readonly TableItem<Row>[],
  columns: readonly TableColumn<Row>[],
): Places => {
  const rowKeys: string[] = []
  const itemOfRow: number[] = []
  const groupKeys: string[] = []
  const itemOfGroup = new Map<string, number>()
  const rowByKey = new Map<string, number>()
  for (let index = 0; index < items.length; index += 1) {
    const item = items[index]
    if (item === undefined) continue
    if (item.form === 'group') {
      groupKeys.push(item.key)
      itemOfGroup.set(item.key, index)
      continue
    }
    rowByKey.set(item.key, rowKeys.length)
    rowKeys.push(item.key)
    itemOfRow.push(index)
  }
  const columnKeys = columns.map((column) => column.key)
  const columnByKey = new Map(columnKeys.map((key, index) => [key, index]))
  return { rowKeys, columnKeys, groupKeys, rowByKey, columnByKey, itemOfRow, itemOfGroup }
}

/** True when the same rows and headings stand in the same order, whatever their content: the places still hold. */
export const samePlaces = <Row>(
  before: readonly TableItem<Row>[],
  items: readonly TableItem<Row>[],
): boolean => {
  if (before === items) return true
  if (before.length !== items.length) return false
  for (let index = 0; index < items.length; index += 1) {
    const one = before[index]
    const other = items[index]
    if (one !== other && (one?.key !== other?.key || one?.form !== other?.form)) return false
  }
  return true
}

/** Null when the row or column is no longer shown. */
export const spotOf = (places: Places, place: CellPlace): Spot | null => {
  const row = places.rowByKey.get(place.rowKey)
  const column = places.columnByKey.get(place.columnKey)
  return row === undefined || column === undefined ? null : { row, column }
}

/** The nearest cell to a spot; null when there are no cells at all. */
export const placeAt = (places: Places, spot: Spot): CellPlace | null => {
  const rowKey = places.rowKeys[clamp(spot.row, 0, places.rowKeys.length - 1)]
  const columnKey = places.columnKeys[clamp(spot.column, 0, places.columnKeys.length - 1)]
  return rowKey === undefined || columnKey === undefined ? null : { rowKey, columnKey }
}

export const clamp = (value: number, least: number, most: number): number =>
  Math.max(least, Math.min(most, value))

/** The cells a selection covers; null for a group heading, a column heading, or when the anchor is no longer shown. */
export const blockOf = (places: Places, selection: TableSelection | null): Block | null => {
  if (selection === null || selection.form === 'group' || selection.form === 'heading') return null
  const anchor = spotOf(places, selection.anchor)
  if (anchor === null) return null
  const focus = spotOf(places, selection.focus) ?? anchor
  const whole = selection.form === 'rows'
  return {
    top: Math.min(anchor.row, focus.row),
    bottom: Math.max(anchor.row, focus.row),
    left: whole ? 0 : Math.min(anchor.column, focus.column),
    right: whole ? places.columnKeys.length - 1 : Math.max(anchor.column, focus.column),
  }
}

export const blockSize = (block: Block): { readonly rows: number; readonly columns: number } => ({
  rows: block.bottom - block.top + 1,
  columns: block.right - block.left + 1,
})

/** Keys of the rows a selection covers, top to bottom. */
export const selectedRowKeys = (places: Places, selection: TableSelection | null): readonly string[] => {
  const block = blockOf(places, selection)
  return block === null ? [] : places.rowKeys.slice(block.top, block.bottom + 1)
}

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`

/** What is said politely when a selection grows; null for one cell, which is read by itself. */
export const selectionSentence = (places: Places, selection: TableSelection | null): string | null => {
  const block = blockOf(places, selection)
  if (block === null || selection === null) return null
  const { rows, columns } = blockSize(block)
  if (selection.form === 'rows') return counted(rows, 'whole row', 'whole rows')
  if (rows === 1 && columns === 1) return null
  return `${counted(rows, 'row', 'rows')} by ${counted(columns, 'column', 'columns')}`
}
