import type { MouseEvent, PointerEvent } from 'react'
import type { ColumnLayout, PlacedColumn } from './layout.ts'
import type { TableSort } from './types.ts'

export const headingId = (table: string, column: number): string => `${table}-h${column}`

interface HeadingCellProps<Row> {
  readonly table: string
  readonly placed: PlacedColumn<Row>
  readonly index: number
  readonly active: boolean
  readonly sort: TableSort | undefined
  readonly canSort: boolean
  readonly onGrip: ((event: PointerEvent, column: number) => void) | undefined
  readonly onFit: (event: MouseEvent, column: number) => void
}

const SortMark = ({ direction }: { readonly direction: 'up' | 'down' }) => (
  <svg viewBox="0 0 8 8" className="sort-mark" aria-hidden="true">
    <path d={direction === 'up' ? 'M0 6.5 L4 1.5 L8 6.5 Z' : 'M0 1.5 L8 1.5 L4 6.5 Z'} />
  </svg>
)

const HeadingCell = <Row,>({
  table,
  placed,
  index,
  active,
  sort,
  canSort,
  onGrip,
  onFit,
}: HeadingCellProps<Row>) => {
  const { column } = placed
  const direction = sort?.columnKey === column.key ? sort.direction : null
  const sortWord = direction === null ? 'none' : direction === 'up' ? 'ascending' : 'descending'
  const names = ['heading-cell']
  if (column.align === 'end') names.push('at-end')
  if (column.frozen === true) names.push('frozen')
  if (placed.edge) names.push('frozen-edge')
  if (active) names.push('active')
  if (canSort) names.push('sorts')
  return (
    <div
      id={headingId(table, index)}
      role="columnheader"
      aria-colindex={index + 1}
      aria-sort={canSort || direction !== null ? sortWord : undefined}
      data-heading={index}
      className={names.join(' ')}
      style={placed.style}
    >
      <span className="heading-text">
        {column.heading}
        {column.unit !== undefined && <span className="heading-unit"> {column.unit}</span>}
        {direction !== null && <SortMark direction={direction} />}
      </span>
      {onGrip !== undefined && (
        <span
          className="grip"
          onPointerDown={(event) => onGrip(event, index)}
          onDoubleClick={(event) => onFit(event, index)}
          aria-hidden="true"
        />
      )}
    </div>
  )
}

export interface HeadingRowProps<Row> {
  readonly table: string
  readonly layout: ColumnLayout<Row>
  readonly shown: readonly number[]
  readonly height: number
  readonly activeColumn: number
  readonly sort: TableSort | undefined
  readonly sorts: boolean
  readonly onGrip: ((event: PointerEvent, column: number) => void) | undefined
  readonly onFit: (event: MouseEvent, column: number) => void
}

export const HeadingRow = <Row,>(props: HeadingRowProps<Row>) => {
  const { layout, shown } = props
  return (
    <div
      role="row"
      aria-rowindex={1}
      className="table-heading"
      style={{ height: props.height, width: layout.totalWidth }}
    >
      {shown.map((index) => {
        const placed = layout.columns[index]
        if (placed === undefined) return null
        return (
          <HeadingCell
            key={placed.column.key}
            table={props.table}
            placed={placed}
            index={index}
            active={props.activeColumn === index}
            sort={props.sort}
            canSort={props.sorts && placed.column.sortable !== false}
            onGrip={props.onGrip}
            onFit={props.onFit}
          />
        )
      })}
    </div>
  )
}
