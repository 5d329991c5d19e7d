import type { MoveTo } from './keys.ts'
import { clamp, placeAt, spotOf, type Places, type Spot } from './places.ts'
import type { TableSelection } from './types.ts'

export interface MoveRequest {
  readonly places: Places
  readonly selection: TableSelection | null
  /** Where one last stood: the row may be gone since. */
  readonly lastSpot: Spot
  readonly pageRows: number
}

/** One cell, selected. Null when the table has none. */
export const selectSpot = (places: Places, spot: Spot): TableSelection | null => {
  const place = placeAt(places, spot)
  return place === null ? null : { form: 'cells', anchor: place, focus: place }
}

const targetOf = (places: Places, from: Spot, to: MoveTo, pageRows: number): Spot => {
  const lastRow = places.rowKeys.length - 1
  const lastColumn = places.columnKeys.length - 1
  const at = (row: number, column: number): Spot => ({
    row: clamp(row, 0, lastRow),
    column: clamp(column, 0, lastColumn),
  })
  switch (to) {
    case 'up':
      return at(from.row - 1, from.column)
    case 'down':
      return at(from.row + 1, from.column)
    case 'left':
      return at(from.row, from.column - 1)
    case 'right':
      return at(from.row, from.column + 1)
    case 'top':
      return at(0, from.column)
    case 'bottom':
      return at(lastRow, from.column)
    case 'first':
      return at(from.row, 0)
    case 'last':
      return at(from.row, lastColumn)
    case 'start':
      return at(0, 0)
    case 'end':
      return at(lastRow, lastColumn)
    case 'pageUp':
      return at(from.row - pageRows, from.column)
    case 'pageDown':
      return at(from.row + pageRows, from.column)
  }
}

/** The group heading a row stands under, or null. */
export const groupAbove = (places: Places, row: number): string | null => {
  const item = places.itemOfRow[row]
  if (item === undefined) return null
  let found: string | null = null
  for (const key of places.groupKeys) {
    if ((places.itemOfGroup.get(key) ?? Infinity) > item) break
    found = key
  }
  return found
}

const firstRowUnder = (places: Places, groupKey: string): number => {
  const item = places.itemOfGroup.get(groupKey) ?? 0
  const row = places.itemOfRow.findIndex((rowItem) => rowItem > item)
  return row < 0 ? places.rowKeys.length - 1 : row
}

const headingSelection = (places: Places, column: number): TableSelection | null => {
  const columnKey = places.columnKeys[clamp(column, 0, places.columnKeys.length - 1)]
  return columnKey === undefined ? null : { form: 'heading', columnKey }
}

const groupSelection = (places: Places, index: number): TableSelection | null => {
  const groupKey = places.groupKeys[clamp(index, 0, places.groupKeys.length - 1)]
  return groupKey === undefined ? null : { form: 'group', groupKey }
}

const moveOnGroups = (request: MoveRequest, groupKey: string, to: MoveTo): TableSelection | null => {
  const { places } = request
  const index = places.groupKeys.indexOf(groupKey)
  if (to === 'up') return index <= 0 ? headingSelection(places, 0) : groupSelection(places, index - 1)
  if (to === 'down' && index < places.groupKeys.length - 1) return groupSelection(places, index + 1)
  if (to === 'top' || to === 'pageUp') return groupSelection(places, 0)
  if (to === 'bottom' || to === 'pageDown') return groupSelection(places, Infinity)
  const spot = { row: firstRowUnder(places, groupKey), column: 0 }
  return selectSpot(places, targetOf(places, spot, to === 'right' || to === 'down' ? 'first' : to, 0))
}

const moveOnHeadings = (request: MoveRequest, columnKey: string, to: MoveTo): TableSelection | null => {
  const { places } = request
  const column = places.columnByKey.get(columnKey) ?? 0
  if (to === 'down' || to === 'bottom' || to === 'pageDown' || to === 'end') {
    const spot =
      to === 'down' ? { row: 0, column } : targetOf(places, { row: 0, column }, to, request.pageRows)
    return selectSpot(places, spot) ?? groupSelection(places, 0)
  }
  return headingSelection(places, targetOf(places, { row: 0, column }, to, 0).column)
}

/**
 * Where a key leads. Group headings are stepped over; Left from the first column goes to the heading above,
 * Up from the first row to the column's heading. With `extend` the anchor stays. Null when nothing can be selected.
 */
export const moveSelection = (request: MoveRequest, to: MoveTo, extend: boolean): TableSelection | null => {
  const { places, selection, lastSpot, pageRows } = request
  if (selection?.form === 'group' && places.itemOfGroup.has(selection.groupKey)) {
    return moveOnGroups(request, selection.groupKey, to)
  }
  if (selection?.form === 'heading' && places.columnByKey.has(selection.columnKey)) {
    return moveOnHeadings(request, selection.columnKey, to)
  }
  const cells =
    selection !== null && (selection.form === 'cells' || selection.form === 'rows') ? selection : null
  const from = cells === null ? null : spotOf(places, extend ? cells.focus : cells.anchor)
  if (from === null) return selectSpot(places, lastSpot) ?? groupSelection(places, 0)
  if (!extend && to === 'up' && from.row === 0) return headingSelection(places, from.column)
  if (!extend && to === 'left' && from.column === 0) {
    const groupKey = groupAbove(places, from.row)
    if (groupKey !== null) return { form: 'group', groupKey }
  }
  const focus = placeAt(places, targetOf(places, from, to, pageRows))
  if (focus === null || cells === null) return null
  return extend ? { ...cells, focus } : { form: 'cells', anchor: focus, focus }
}

/** Tab: one cell on, over the row's end into the next row. Null past the table's last or first cell: Tab leaves. */
export const nextCell = (places: Places, from: Spot, by: 1 | -1): Spot | null => {
  const columns = places.columnKeys.length
  const at = from.row * columns + from.column + by
  if (at < 0 || at >= columns * places.rowKeys.length) return null
  return { row: Math.floor(at / columns), column: at % columns }
}
