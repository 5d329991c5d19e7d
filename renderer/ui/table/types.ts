import type { ReactNode, Ref } from 'react'
import type { MenuEntry } from '../menu-entries.ts'

/** `own`: differs on purpose (small brass corner). `question`: a fact is missing. `stop`: a limit is broken or someone could be hurt. */
export type CellMark = 'own' | 'question' | 'stop'

export interface TableColumn<Row> {
  readonly key: string
  readonly heading: string
  /** Shown after the heading, softer: mm, V, A. */
  readonly unit?: string
  /** CSS pixels; `widths` of the table, by key, comes first. */
  readonly width: number
  /** Takes a share of the free width while no width was chosen by the person. */
  readonly grow?: boolean
  readonly align: 'start' | 'end'
  /** Stays at the left; frozen columns come first whatever their place in the array. */
  readonly frozen?: boolean
  /** Set heavier, as the mark of an opening; a click takes the whole row, shift click takes rows up to it. */
  readonly marksRow?: boolean
  /** True where a click on the heading may sort. Default true when the table has `onSort`. */
  readonly sortable?: boolean
  /** What is shown, copied, and read out for a drawn cell. Must depend on the row alone. */
  readonly text: (row: Row) => string
  /** A drawn cell; text(row) is its name for screen readers. */
  readonly cell?: (row: Row) => ReactNode
  readonly mark?: (row: Row) => CellMark | undefined
  /** One sentence about the mark, read out and shown on hover. */
  readonly note?: (row: Row) => string | undefined
  /** Absent: the column is worked out and cannot be typed into. */
  readonly editable?: (row: Row) => boolean
  /** What an edit starts from, when it differs from what is shown. */
  readonly editText?: (row: Row) => string
  /** A pick list while editing; other text may still be typed, the owner judges it. */
  readonly choices?: (row: Row) => readonly string[]
}

export interface TableGroup {
  readonly form: 'group'
  readonly key: string
  readonly title: string
  readonly count: number
  /** From 1. */
  readonly level: number
  /** Rows of a collapsed group are left out of `items` by the owner. */
  readonly collapsed?: boolean
}

export interface TableRow<Row> {
  readonly form: 'row'
  /** Unique among rows. */
  readonly key: string
  /** Keep the same object while nothing in it changed: a row is drawn again only when it is another object. */
  readonly row: Row
}

export type TableItem<Row> = TableGroup | TableRow<Row>

export interface CellPlace {
  readonly rowKey: string
  readonly columnKey: string
}

/**
 * `cells` is the block between two corners, `rows` whole rows. `anchor` is the cell one stands at: outlined, read out,
 * typed into, explained by the margin. `focus` is the far corner, which Shift moves; for one cell both are the same.
 */
export type TableSelection =
  | { readonly form: 'cells'; readonly anchor: CellPlace; readonly focus: CellPlace }
  | { readonly form: 'rows'; readonly anchor: CellPlace; readonly focus: CellPlace }
  | { readonly form: 'group'; readonly groupKey: string }
  | { readonly form: 'heading'; readonly columnKey: string }

export interface CellEdit {
  readonly rowKey: string
  readonly columnKey: string
  readonly text: string
}

export type EditHow = 'type' | 'paste' | 'fill' | 'clear'

/**
 * What became of an edit. Nothing, or true: taken, the new row follows in `items`. False: refused, the old text returns.
 * While a promise is open the typed text stands greyed.
 */
export type EditAnswer = void | boolean | Promise<void | boolean>

/** Cells of a paste or fill that could not be offered to the owner. */
export interface LeftOut {
  readonly how: EditHow
  /** Cells that may not be edited. */
  readonly locked: number
  /** Copied rows and columns that did not fit below and to the right. */
  readonly rowsBeyond: number
  readonly columnsBeyond: number
}

export interface TableSort {
  readonly columnKey: string
  readonly direction: 'up' | 'down'
}

/** The table's own deeds, for menus outside it. */
export type TableDeed =
  | 'edit'
  | 'copy'
  | 'cut'
  | 'paste'
  | 'clear'
  | 'fill'
  | 'selectAll'
  | 'selectRows'
  | 'open'

export interface TableHandle {
  readonly focus: () => void
  readonly reveal: (place: CellPlace) => void
  /** False where the window forbids it: most browsers let nobody paste from a menu. */
  readonly perform: (deed: TableDeed) => boolean
}

export interface TableProps<Row> {
  /** Name for screen readers. */
  readonly label: string
  readonly items: readonly TableItem<Row>[]
  /** In the order shown. Keep the same array while nothing changed. */
  readonly columns: readonly TableColumn<Row>[]
  readonly selection: TableSelection | null
  readonly onSelect: (selection: TableSelection) => void
  readonly onEdit?: (cells: readonly CellEdit[], how: EditHow) => EditAnswer
  readonly onLeftOut?: (leftOut: LeftOut) => void
  /** Space, or a double click on a frozen column. */
  readonly onOpen?: (rowKey: string) => void
  /** Delete while whole rows are taken (one click on the mark takes one); without it their cells are cleared. */
  readonly onRemoveRows?: (rowKeys: readonly string[]) => void
  readonly onToggle?: (groupKey: string) => void
  readonly sort?: TableSort | undefined
  readonly onSort?: (columnKey: string) => void
  /** Widths chosen by the person, CSS pixels by column key. */
  readonly widths?: Readonly<Record<string, number>> | undefined
  readonly onResize?: (columnKey: string, width: number) => void
  /** Entries of the context menu for what is selected. */
  readonly menu?: (selection: TableSelection) => readonly MenuEntry[]
  /** 34 as drawn, or 28. */
  readonly rowHeight?: 34 | 28
  /** Lines a heading may take before it is cut off. Default 2. */
  readonly headingLines?: 1 | 2 | 3
  /** In place of rows when there are none: what to do first. */
  readonly empty?: ReactNode
  readonly handle?: Ref<TableHandle>
}
