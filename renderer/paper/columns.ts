// How wide each column is: measured from what stands in it, never guessed.
import type { TableBlock, TableColumn } from '../../core/documents/index.ts'
import { markOfCell, markRoom } from './marks.ts'
import type { Setter, Style } from './setting.ts'

export interface FittedColumn {
  readonly column: TableColumn
  /** Its place among the table's columns, and so in each row's cells. */
  readonly place: number
  readonly left: number
  /** Room for text; the gap to the next column is not part of it. */
  readonly width: number
}

export interface FittedColumns {
  readonly fitted: readonly FittedColumn[]
  /** Too much for this page. */
  readonly leftOut: readonly TableColumn[]
}

interface Wish {
  readonly column: TableColumn
  readonly place: number
  /** Every cell on one line, within reason. */
  readonly wide: number
  /** Cells in at most three lines, the ones that matter most in two; whole words. */
  readonly narrow: number
  readonly empty: boolean
  /** Widths of some of its cells' longest lines, ascending. */
  readonly cells: readonly number[]
}

export const columnGap = 8
/** No text column asks for more than this, in multiples of the type size: longer notes wrap. */
const widestInSizes = 30
const longestWordInSizes = 11
const mostWeighed = 300

const ascending = (values: readonly number[]): number[] => values.toSorted((a, b) => a - b)

/** The value that `share` of the sorted values do not exceed. */
function quantile(sorted: readonly number[], share: number): number {
  if (sorted.length === 0) return 0
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] as number
}

function wishOf(table: TableBlock, place: number, setter: Setter, style: Style, strong: Style): Wish {
  const column = table.columns[place] as TableColumn
  const headingWords = [...column.heading.split(/\s+/), ...(column.unit ?? '').split(/\s+/)]
  const heading = Math.max(...headingWords.map((word) => setter.width(word, strong)))
  const face = place === 0 ? strong : style
  const wholes: number[] = []
  const longestWords: number[] = []
  let empty = true
  let widest = 0
  let rows = 0
  for (const group of table.groups)
    for (const row of group.rows) {
      rows += 1
      const text = row.cells[place] ?? ''
      const mark = markOfCell(row, column.key)
      if (text === '' && mark === undefined) continue
      empty = false
      const beside = mark === undefined ? 0 : markRoom(mark, style.size)
      let whole = 0
      let longest = 0
      for (const line of text.split('\n')) {
        whole = Math.max(whole, setter.width(line, face))
        for (const word of line.split(/\s+/)) longest = Math.max(longest, setter.width(word, face))
      }
      wholes.push(whole + beside)
      longestWords.push(longest + beside)
      widest = Math.max(widest, whole + beside)
    }
  const cells = ascending(wholes)
  const longestWord = Math.min(quantile(ascending(longestWords), 0.98), longestWordInSizes * style.size)
  // A few very long cells shall not starve the other columns: they wrap, or go to the notes in full.
  const usual = Math.min(widest, quantile(cells, 0.97) * 1.15, widestInSizes * style.size)
  const firm = place === 0 || column.align === 'right'
  const narrow = firm
    ? Math.min(widest, widestInSizes * 0.5 * style.size)
    : Math.max(longestWord, usual / (column.priority <= 2 ? 1.8 : 2.6))
  return {
    column,
    place,
    wide: Math.ceil(Math.max(heading, usual, firm ? narrow : 0) * 10) / 10 + 0.1,
    narrow: Math.ceil(Math.max(heading, narrow) * 10) / 10 + 0.1,
    empty,
    cells: thinned(cells, rows),
  }
}

/** Every so many of the sorted widths, the widest among them; as many of each column, so that columns weigh alike. */
function thinned(sorted: readonly number[], rows: number): number[] {
  const step = Math.max(1, Math.ceil(rows / mostWeighed))
  return sorted.filter((_, at) => (sorted.length - 1 - at) % step === 0)
}

const total = (widths: readonly number[]): number =>
  widths.reduce((sum, width) => sum + width, 0) + columnGap * Math.max(0, widths.length - 1)

/** What goes first: a column nobody filled, then the least needed, of equals the last. Null when all that is left must stay. */
function nextToGo(wishes: readonly Wish[]): Wish | null {
  const may = wishes.filter((wish) => wish.column.priority > 0)
  const from = may.some((wish) => wish.empty) ? may.filter((wish) => wish.empty) : may
  return from.reduce<Wish | null>(
    (found, wish) => (found === null || wish.column.priority >= found.column.priority ? wish : found),
    null,
  )
}

/** How badly cells wrap at a width: a third line is four times as bad as a second. Lines seldom fill, so some is lost. */
function badness(cells: readonly number[], width: number): number {
  let sum = 0
  for (let at = cells.length - 1; at >= 0; at -= 1) {
    const cell = cells[at] as number
    if (cell <= width) break
    const lines = Math.min(4, Math.max(2, Math.ceil(cell / (width * 0.88))))
    sum += (lines - 1) ** 2
  }
  return sum
}

/** From narrow upwards: room goes where a point of it mends the most wrapping. */
function shareRoom(wishes: readonly Wish[], extra: number): number[] {
  const widths = wishes.map((wish) => wish.narrow)
  let left = extra
  for (;;) {
    let best: { readonly index: number; readonly width: number; readonly worth: number } | null = null
    for (const [index, wish] of wishes.entries()) {
      const width = widths[index] as number
      const now = badness(wish.cells, width)
      if (now === 0) continue
      const wrapped = wish.cells.filter((cell) => cell > width)
      for (const share of [0.3, 0.6, 0.8, 0.95, 1])
        for (const lines of [1, 2, 3]) {
          const fits = quantile(wrapped, share) / (lines === 1 ? 1 : lines * 0.88)
          const to = Math.min(wish.wide, fits + 0.1)
          const cost = to - width
          if (cost <= 0.05 || cost > left) continue
          const worth = (now - badness(wish.cells, to)) / cost
          if (worth > 0 && (best === null || worth > best.worth)) best = { index, width: to, worth }
        }
    }
    if (best === null) break
    left -= best.width - (widths[best.index] as number)
    widths[best.index] = best.width
  }
  const wanting = wishes.reduce((sum, wish, index) => sum + wish.wide - (widths[index] as number), 0)
  if (wanting <= 0) return widths
  return widths.map(
    (width, index) => width + ((wishes[index] as Wish).wide - width) * Math.min(1, left / wanting),
  )
}

/** Widths in points for a table as wide as `room`, with the columns that do not fit left out. */
export function fitColumns(
  table: TableBlock,
  setter: Setter,
  style: Style,
  strong: Style,
  left: number,
  room: number,
): FittedColumns {
  let wishes = table.columns.map((_, place) => wishOf(table, place, setter, style, strong))
  const leftOut: Wish[] = []
  while (total(wishes.map((wish) => wish.narrow)) > room) {
    const going = nextToGo(wishes)
    if (going === null) break
    leftOut.push(going)
    wishes = wishes.filter((wish) => wish !== going)
  }
  const gaps = columnGap * Math.max(0, wishes.length - 1)
  const wide = total(wishes.map((wish) => wish.wide))
  const narrow = total(wishes.map((wish) => wish.narrow))
  let widths: number[]
  if (wide <= room) {
    const weights = wishes.reduce((sum, wish) => sum + wish.column.widthWeight, 0)
    widths = wishes.map((wish) =>
      weights === 0 ? wish.wide : wish.wide + ((room - wide) * wish.column.widthWeight) / weights,
    )
  } else if (narrow <= room) {
    widths = shareRoom(wishes, room - narrow)
  } else {
    widths = wishes.map((wish) => ((room - gaps) * wish.narrow) / (narrow - gaps))
  }
  let x = left
  const fitted = wishes.map((wish, index) => {
    const width = widths[index] as number
    const column = { column: wish.column, place: wish.place, left: x, width }
    x += width + columnGap
    return column
  })
  return {
    fitted,
    leftOut: leftOut.toSorted((a, b) => a.place - b.place).map((wish) => wish.column),
  }
}
