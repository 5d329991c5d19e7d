// Cells pasted from a spreadsheet: tab-separated text, with quotes round cells that hold tabs, quotes or line ends.
import type { PlainCell, PlainRow, PlainSheet } from './plain.ts'

const cellOf = (text: string): PlainCell => ({ text, form: text.trim() === '' ? 'empty' : 'text' })

/** Cuts clipboard text into rows of cells. A quote opens a quoted cell only at its start; an unclosed one is plain text. */
export function pastedCells(text: string): string[][] {
  const rows: string[][] = []
  let row: string[] = []
  let at = 0
  const endCell = (cell: string): void => void row.push(cell)
  const endRow = (): void => {
    rows.push(row)
    row = []
  }
  const plain = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n')
  while (at <= plain.length) {
    const quoted = plain[at] === '"' ? quotedCell(plain, at) : null
    let cell: string
    if (quoted === null) {
      let end = at
      while (end < plain.length && plain[end] !== '\t' && plain[end] !== '\n') end += 1
      cell = plain.slice(at, end)
      at = end
    } else ({ cell, end: at } = quoted)
    endCell(cell)
    if (at >= plain.length) {
      endRow()
      break
    }
    if (plain[at] === '\n') {
      endRow()
      // A last line end closes the last row and opens none.
      if (at + 1 >= plain.length) break
    }
    at += 1
  }
  return rows
}

/** The quoted cell that starts here, or null when it is not closed before a tab, a line end or the end. */
function quotedCell(text: string, start: number): { cell: string; end: number } | null {
  let cell = ''
  let at = start + 1
  while (at < text.length) {
    const close = text.indexOf('"', at)
    if (close < 0) return null
    cell += text.slice(at, close)
    const after = text[close + 1]
    if (after === '"') {
      cell += '"'
      at = close + 2
      continue
    }
    return after === undefined || after === '\t' || after === '\n' ? { cell, end: close + 1 } : null
  }
  return null
}

/** A sheet from clipboard text. Row numbers count from 1 in what was pasted. */
export function pastedSheet(text: string): PlainSheet {
  const rows = pastedCells(text)
    .map((cells, index): PlainRow => ({ number: index + 1, cells: cells.map(cellOf) }))
    .filter((row) => row.cells.some((cell) => cell.form !== 'empty'))
  return { name: 'Pasted cells', rows, merges: [] }
}
