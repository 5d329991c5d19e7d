import { memo, type CSSProperties, type ReactNode } from 'react'
import { CellEditor, type AfterEdit, type EditMode } from './cell-editor.tsx'
import type { ColumnLayout, PlacedColumn } from './layout.ts'
import type { PendingCell, PendingRow } from './pending.ts'
import type { CellMark } from './types.ts'

export interface EditState {
  readonly rowKey: string
  readonly columnKey: string
  readonly start: string
  readonly mode: EditMode
}

/** Never replaced while the table lives, so that a row is not drawn again for them. */
export interface RowDeeds {
  readonly take: (edit: EditState, text: string, after: AfterEdit) => void
  readonly cancel: () => void
}

export const cellId = (table: string, itemIndex: number, column: number): string =>
  `${table}-${itemIndex}-${column}`

const markWords: Readonly<Record<CellMark, string>> = {
  own: 'Different on purpose',
  question: 'A fact is missing',
  stop: 'A limit is broken',
}

interface CellViewProps<Row> {
  readonly id: string
  readonly placed: PlacedColumn<Row>
  readonly columnIndex: number
  readonly row: Row
  readonly rowName: string
  readonly selected: boolean
  readonly active: boolean
  readonly toFill: boolean
  readonly handle: boolean
  readonly pending: PendingCell | undefined
  readonly edit: EditState | null
  readonly deeds: RowDeeds
}

const cellClass = <Row,>(props: CellViewProps<Row>, mark: CellMark | undefined): string => {
  const { placed, selected, active, toFill, pending, edit } = props
  const { column } = placed
  return [
    'cell',
    column.align === 'end' && 'at-end',
    column.frozen && 'frozen',
    placed.edge && 'frozen-edge',
    column.marksRow && 'row-mark',
    selected && 'selected',
    active && 'active',
    toFill && 'to-fill',
    pending !== undefined && 'waiting',
    edit !== null && 'editing',
    mark === 'stop' && 'stopped',
  ]
    .filter(Boolean)
    .join(' ')
}

const CellView = <Row,>(props: CellViewProps<Row>) => {
  const { id, placed, columnIndex, row, rowName, selected, pending, edit, deeds } = props
  const { column } = placed
  const mark = column.mark?.(row)
  const note = mark === undefined ? undefined : (column.note?.(row) ?? markWords[mark])
  const text = pending?.text ?? column.text(row)
  const drawn = pending === undefined ? column.cell?.(row) : undefined
  const content: ReactNode =
    edit === null ? (
      (drawn ?? <span className="cell-text">{text}</span>)
    ) : (
      <CellEditor
        label={`${column.heading}, ${rowName}`}
        start={edit.start}
        mode={edit.mode}
        alignEnd={column.align === 'end'}
        choices={column.choices?.(row) ?? []}
        onTake={(taken, after) => deeds.take(edit, taken, after)}
        onCancel={deeds.cancel}
      />
    )
  return (
    <div
      id={id}
      role={column.marksRow === true ? 'rowheader' : 'gridcell'}
      aria-colindex={columnIndex + 1}
      aria-selected={selected}
      aria-label={drawn === undefined || edit !== null ? undefined : text}
      aria-description={note}
      aria-readonly={column.editable?.(row) === true ? undefined : true}
      aria-busy={pending === undefined ? undefined : true}
      title={note}
      data-column={columnIndex}
      className={cellClass(props, mark)}
      style={placed.style}
    >
      {content}
      {mark !== undefined && <span className={`corner ${mark}`} />}
      {props.handle && <span className="fill-handle" aria-hidden="true" />}
    </div>
  )
}

export interface RowViewProps<Row> {
  readonly table: string
  readonly row: Row
  readonly rowKey: string
  readonly itemIndex: number
  readonly rowNumber: number
  /** Undefined where the table has no group headings. */
  readonly level: number | undefined
  readonly top: number
  readonly height: number
  readonly layout: ColumnLayout<Row>
  readonly shown: readonly number[]
  /** Selected columns of this row, both included; -1 for none. */
  readonly selectedFrom: number
  readonly selectedTo: number
  readonly activeColumn: number
  /** Columns a fill would reach in this row, both included; -1 for none. */
  readonly fillFrom: number
  readonly fillTo: number
  /** The column with the corner to pull at; -1 for none. */
  readonly handleColumn: number
  readonly pending: PendingRow | undefined
  readonly edit: EditState | null
  readonly deeds: RowDeeds
}

const RowContent = <Row,>(props: RowViewProps<Row>) => {
  const { table, row, itemIndex, layout, shown, selectedFrom, selectedTo, activeColumn, pending, edit } =
    props
  const style: CSSProperties = { top: props.top, height: props.height, width: layout.totalWidth }
  const here = activeColumn >= 0
  return (
    <div
      role="row"
      aria-rowindex={itemIndex + 2}
      aria-level={props.level}
      data-row={props.rowNumber}
      className={`table-row${here ? ' here' : ''}${edit === null ? '' : ' editing'}`}
      style={style}
    >
      {shown.map((index) => {
        const placed = layout.columns[index]
        if (placed === undefined) return null
        const { key } = placed.column
        return (
          <CellView
            key={key}
            id={cellId(table, itemIndex, index)}
            placed={placed}
            columnIndex={index}
            row={row}
            rowName={edit === null ? '' : (layout.columns[0]?.column.text(row) ?? '')}
            selected={index >= selectedFrom && index <= selectedTo}
            active={index === activeColumn}
            toFill={index >= props.fillFrom && index <= props.fillTo}
            handle={index === props.handleColumn}
            pending={pending?.get(key)}
            edit={edit?.columnKey === key ? edit : null}
            deeds={props.deeds}
          />
        )
      })}
    </div>
  )
}

// The cast keeps the type parameter that memo loses.
/** One row; drawn again only when one of its properties is another value. */
export const RowView = memo(RowContent) as typeof RowContent
