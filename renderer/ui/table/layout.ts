import type { CSSProperties } from 'react'
import type { TableColumn } from './types.ts'

export interface PlacedColumn<Row> {
  readonly column: TableColumn<Row>
  readonly width: number
  readonly left: number
  /** The last frozen column: a rule at its end shows where scrolling begins. */
  readonly edge: boolean
  readonly style: CSSProperties
}

export interface ColumnLayout<Row> {
  readonly columns: readonly PlacedColumn<Row>[]
  readonly frozenCount: number
  readonly frozenWidth: number
  readonly totalWidth: number
}

export const LEAST_COLUMN_WIDTH = 32

/** Widths in CSS pixels: what the person chose, else the column's own; columns that grow share what is left of the room. */
export const columnWidths = <Row>(
  columns: readonly TableColumn<Row>[],
  chosen: Readonly<Record<string, number>>,
  room: number,
): number[] => {
  const base = columns.map((column) => Math.max(LEAST_COLUMN_WIDTH, chosen[column.key] ?? column.width))
  const grows = columns.map((column) => column.grow === true && chosen[column.key] === undefined)
  const count = grows.filter(Boolean).length
  const free = room - base.reduce((sum, width) => sum + width, 0)
  if (count === 0 || free <= 0) return base
  const share = Math.floor(free / count)
  return base.map((width, index) => (grows[index] === true ? width + share : width))
}

/** `columns` as `shownColumns` gives them. */
export const placeColumns = <Row>(
  columns: readonly TableColumn<Row>[],
  chosen: Readonly<Record<string, number>>,
  room: number,
): ColumnLayout<Row> => {
  const widths = columnWidths(columns, chosen, room)
  let left = 0
  const placed = columns.map((column, index): PlacedColumn<Row> => {
    const width = widths[index] ?? column.width
    const start = left
    left += width
    const style: CSSProperties =
      column.frozen === true
        ? { width, position: 'sticky', left: start }
        : { width, position: 'absolute', left: start }
    const edge = column.frozen === true && columns[index + 1]?.frozen !== true
    return { column, width, left: start, edge, style }
  })
  const frozen = placed.filter(({ column }) => column.frozen === true)
  const frozenWidth = frozen.reduce((sum, { width }) => sum + width, 0)
  return { columns: placed, frozenCount: frozen.length, frozenWidth, totalWidth: left }
}
