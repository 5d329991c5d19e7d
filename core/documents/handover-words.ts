// Small pieces that the pages of a binder share.
import type { Block, TableBlock, TableColumn, TableRow } from './blocks.ts'

/** A heading, with sentences under it where there are any. */
export const section = (
  title: string | null,
  paragraphs: readonly string[] = [],
  cautions: readonly string[] = [],
): Block => ({ form: 'words', title, paragraphs, cautions })

export const plainRow = (...cells: readonly string[]): TableRow => ({ cells, marks: {} })

export interface PlainGroup {
  readonly title: string
  readonly countText?: string
  readonly within?: string
  readonly rows: readonly TableRow[]
}

export const tableOf = (
  title: string,
  columns: readonly TableColumn[],
  groups: readonly PlainGroup[],
  emptyText: string,
): TableBlock => ({
  form: 'table',
  title,
  columns,
  groups: groups.map(({ title: heading, countText = null, within = null, rows }) => ({
    title: heading,
    countText,
    within,
    rows,
  })),
  emptyText,
})

/** A table of one group, with its heading over it. */
export const titledTable = (
  title: string,
  columns: readonly TableColumn[],
  rows: readonly TableRow[],
  emptyText: string,
): Block[] => [
  section(title),
  tableOf(title, columns, rows.length === 0 ? [] : [{ title: '', rows }], emptyText),
]

/** Marks of many openings in a cell, cut short. */
export const fewMarks = (marks: readonly string[], most = 24): string =>
  marks.length > most
    ? `${marks.slice(0, most).join(', ')} and ${marks.length - most} more`
    : marks.join(', ')
