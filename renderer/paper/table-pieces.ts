// A table on paper: headings on every page, groups that never stand alone at a foot, rows that never split.
import type { TableBlock, TableColumn, TableGroup, TableRow } from '../../core/documents/index.ts'
import { fitColumns, type FittedColumn } from './columns.ts'
import { markDrawing, markOfCell, markRoom, markTop, type RowMark } from './marks.ts'
import type { Element } from './pdf-inside.ts'
import { fewLines, paintLines, room, type FewLines, type Layout, type Piece, type Sheet } from './pieces.ts'
import { followedByBlank, type Style } from './setting.ts'
import { wordsPieces } from './words-pieces.ts'

const usualMostLines = 3

interface Table {
  readonly layout: Layout
  readonly columns: readonly FittedColumn[]
  readonly style: Style
  readonly strong: Style
  readonly small: Style
  readonly mostLines: number
  /** Filled when the first piece is painted. */
  readonly tags: { table: Element | null; body: Element | null }
}

/** A longer cell than `mostLines` ends with the number of its note. A group without a title has no heading of its own. */
export function tablePieces(
  block: TableBlock,
  layout: Layout,
  mostLines: number = usualMostLines,
): { pieces: Piece[]; leftOut: readonly TableColumn[] } {
  const { look, setter } = layout
  const style: Style = { face: 'table', size: look.tableSize }
  const strong: Style = { face: 'tableStrong', size: look.tableSize }
  const small: Style = { face: 'table', size: look.tableSize - 1 }
  const { fitted, leftOut } = fitColumns(
    block,
    setter,
    style,
    strong,
    look.left + 3,
    look.right - look.left - 6,
  )
  const tags = { table: null, body: null }
  const table: Table = { layout, columns: fitted, style, strong, small, mostLines, tags }
  const pieces: Piece[] = []
  if (leftOut.length > 0) pieces.push(leftOutPiece(leftOut, layout, small))
  const rows = block.groups.reduce((sum, group) => sum + group.rows.length, 0)
  const headings = headingsPiece(table)
  pieces.push({ ...headings, keepWithNext: true })
  if (rows === 0) {
    pieces.push(
      room(8, true),
      ...wordsPieces({ form: 'words', title: null, paragraphs: [block.emptyText], cautions: [] }, layout),
    )
    return { pieces, leftOut }
  }
  for (const group of block.groups) {
    if (group.rows.length === 0) continue
    const titled = group.title !== ''
    if (titled) pieces.push({ ...groupPiece(table, group, false), above: [headings] })
    const above = titled ? [headings, groupPiece(table, group, true)] : [headings]
    for (const row of group.rows) pieces.push(rowPiece(table, row, above))
  }
  return { pieces, leftOut }
}

function leftOutPiece(leftOut: readonly TableColumn[], layout: Layout, style: Style): Piece {
  const { look, setter } = layout
  const names = leftOut.map((column) => column.heading).join(', ')
  const lines = setter.wrap(
    `Left out to fit this page: ${names}. A wider page has room for more.`,
    style,
    look.right - look.left,
  )
  const leading = style.size * 1.25
  return {
    height: lines.length * leading + 3,
    keepWithNext: true,
    above: [],
    paint(sheet, top) {
      sheet.say(sheet.element(sheet.root, 'P'), () =>
        paintLines(
          sheet.pen,
          { lines, tail: null },
          look.left,
          top + style.size,
          0,
          style.size,
          leading,
          'soft',
        ),
      )
    },
  }
}

/** The column headings, set to stand on one line at their foot. */
function headingsPiece(table: Table): Piece {
  const { layout, strong, small } = table
  const { look, setter } = layout
  const leading = look.tableLeading
  const headings = table.columns.map(({ column, width }) => ({
    lines: setter.wrap(column.heading, strong, width + 0.2).map(followedByBlank),
    units: column.unit === null ? [] : setter.wrap(column.unit, small, width + 0.2),
  }))
  const most = Math.max(1, ...headings.map((each) => each.lines.length + each.units.length))
  const height = most * leading + 8
  return {
    height,
    keepWithNext: false,
    above: [],
    paint(sheet, top, repeated) {
      const cells = (paintCell: (column: FittedColumn, paint: () => void) => void): void =>
        table.columns.forEach((fitted, index) => {
          const heading = headings[index] as (typeof headings)[number]
          const count = heading.lines.length + heading.units.length
          const first = top + 3 + (most - count) * leading + strong.size * 0.92
          paintCell(fitted, () => {
            const { left, width, column } = fitted
            const lines = { lines: heading.lines, tail: null }
            paintLines(sheet.pen, lines, left, first, width, strong.size, leading, 'ink', column.align)
            const units = { lines: heading.units, tail: null }
            const unitsFirst = first + heading.lines.length * leading
            paintLines(sheet.pen, units, left, unitsFirst, width, small.size, leading, 'soft', column.align)
          })
        })
      if (repeated) sheet.artifact('Pagination', () => cells((_, paint) => paint()))
      else {
        table.tags.table = sheet.element(sheet.root, 'Table')
        table.tags.body = null
        const head = sheet.element(table.tags.table, 'THead')
        const row = sheet.element(head, 'TR')
        cells((_, paint) => sheet.say(sheet.element(row, 'TH', { scope: 'Column' }), paint))
        head?.end()
      }
      sheet.artifact('Layout', () =>
        sheet.pen.rule(look.left, top + height - 0.4, look.right, top + height - 0.4, 0.8, 'ink'),
      )
    },
  }
}

function groupPiece(table: Table, group: TableGroup, continued: boolean): Piece {
  const { layout, strong, style } = table
  const { look, setter } = layout
  const count = continued || group.countText === null ? null : setter.line(group.countText, style)
  const countWidth = count === null ? 0 : count.width * style.size + 12
  const title = continued ? `${group.title}, continued` : group.title
  const lines = setter.wrap(title, strong, look.right - look.left - 6 - countWidth).map(followedByBlank)
  const height = lines.length * look.tableLeading + look.rowPadding * 2 + 1.4
  const baseline = look.rowPadding + 0.7 + strong.size * 0.92
  return {
    height,
    keepWithNext: true,
    above: [],
    paint(sheet, top, repeated) {
      sheet.artifact('Layout', () => sheet.pen.fill(look.left, top, look.right - look.left, height, 'tint'))
      const words = (): void => {
        const few = { lines, tail: null }
        paintLines(sheet.pen, few, look.left + 3, top + baseline, 0, strong.size, look.tableLeading, 'ink')
        if (count !== null)
          sheet.pen.text(count, look.right - 3 - count.width * style.size, top + baseline, style.size, 'soft')
      }
      if (repeated) {
        sheet.artifact('Pagination', words)
        return
      }
      sheet.bookmark(
        group.within === null ? [group.title] : [group.within, group.title],
        Math.max(0, top - 6),
      )
      table.tags.body?.end()
      table.tags.body = sheet.element(table.tags.table, 'TBody')
      const row = sheet.element(table.tags.body, 'TR')
      sheet.say(sheet.element(row, 'TH', { scope: 'Column', columnSpan: table.columns.length }), words)
      row?.end()
    },
  }
}

interface Cell {
  readonly fitted: FittedColumn
  readonly few: FewLines
}

function rowPiece(table: Table, row: TableRow, above: readonly Piece[]): Piece {
  const { layout, style, strong } = table
  const { look } = layout
  const cells = table.columns.map((fitted): Cell => {
    const mark = markOfCell(row, fitted.column.key)
    const width = fitted.width - (mark === undefined ? 0 : markRoom(mark, style.size))
    const face = fitted.place === 0 ? strong : style
    const where = (): string => [row.cells[0] ?? '', fitted.column.heading].filter(Boolean).join(', ')
    // A hair more than measured, or rounding alone would break a line.
    return {
      fitted,
      few: fewLines(layout, row.cells[fitted.place] ?? '', face, width + 0.2, table.mostLines, where),
    }
  })
  const most = Math.max(1, ...cells.map((cell) => cell.few.lines.length))
  const height = most * look.tableLeading + look.rowPadding * 2
  return {
    height,
    keepWithNext: false,
    above,
    paint(sheet, top) {
      table.tags.body ??= sheet.element(table.tags.table, 'TBody')
      const tagged = sheet.element(table.tags.body, 'TR')
      const baseline = top + look.rowPadding + style.size * 0.92
      for (const cell of cells) {
        const first = cell.fitted.place === 0
        const mark = markOfCell(row, cell.fitted.column.key)
        if (tagged === null && mark === undefined && cell.few.lines.length === 0) continue
        const element = sheet.element(tagged, first ? 'TH' : 'TD', first ? { scope: 'Row' } : {})
        if (mark === undefined && cell.few.lines.length === 0) continue
        const shift = mark === undefined ? 0 : paintMark(sheet, element, style, cell, mark, baseline)
        const { left, width, column } = cell.fitted
        sheet.say(element, () =>
          paintLines(
            sheet.pen,
            cell.few,
            left + shift,
            baseline,
            width - shift,
            style.size,
            look.tableLeading,
            'ink',
            column.align,
          ),
        )
      }
      tagged?.end()
      sheet.artifact('Layout', () =>
        sheet.pen.rule(look.left, top + height, look.right, top + height, 0.4, 'rule'),
      )
    },
  }
}

/** Paints a cell's mark before its words, wherever those stand; gives the room it takes. */
function paintMark(
  sheet: Sheet,
  cellElement: Element | null,
  style: Style,
  cell: Cell,
  mark: RowMark,
  baseline: number,
): number {
  const drawing = markDrawing(mark, style.size)
  const { left, width, column } = cell.fitted
  const words = Math.max(0, ...cell.few.lines.map((line) => line.width)) * style.size
  const whole = words === 0 ? drawing.width : words + markRoom(mark, style.size)
  const spare = Math.max(0, width - whole)
  const start = left + (column.align === 'left' ? 0 : column.align === 'right' ? spare : spare / 2)
  const element = sheet.element(cellElement, 'Span', { says: drawing.name })
  sheet.say(element, () => sheet.pen.drawing(drawing, start, markTop(drawing, baseline, style.size)))
  return markRoom(mark, style.size)
}
