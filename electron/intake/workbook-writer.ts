import Papa from 'papaparse'
import { storeWorkbook } from './hucre-adapter.ts'

export interface ColumnToWrite {
  readonly heading: string
  /** In characters, as spreadsheets count. */
  readonly width: number
  readonly form: 'text' | 'number'
}

export interface SheetToWrite {
  readonly name: string
  readonly columns: readonly ColumnToWrite[]
  readonly rows: readonly (readonly (string | number | null)[])[]
  /** Lines above the headings, one cell each; the first is set large. */
  readonly titles?: readonly string[]
  /** Rows that stay in view, counted from the top. Unless given: everything down to the headings. */
  readonly frozenRows?: number
  readonly frozenColumns?: number
  /** Filter buttons on the headings. Unless given: yes. */
  readonly filter?: boolean
  readonly landscape?: boolean
}

// Limits and forbidden characters of a workbook (ECMA-376 part 1, 18.2.19 and 18.3.1.96; 32,767 is a limit in use).
const MAX_SHEET_NAME = 31
const MAX_CELL_TEXT = 32_767
const FIXED_DATE = new Date(Date.UTC(2000, 0, 1))

function sheetNames(sheets: readonly SheetToWrite[]): string[] {
  const taken = new Set<string>()
  return sheets.map((sheet, index) => {
    // oxlint-disable-next-line no-control-regex
    const clean = sheet.name
      .toWellFormed()
      .replace(/[[\]:*?/\\\u0000-\u001f]/g, ' ')
      .replace(/^'+|'+$/g, '')
      .trim()
    const base = clean === '' ? `Sheet ${index + 1}` : clean
    let name = base.slice(0, MAX_SHEET_NAME)
    for (let copy = 2; taken.has(name.toLowerCase()); copy++) {
      const tail = ` (${copy})`
      name = base.slice(0, MAX_SHEET_NAME - tail.length) + tail
    }
    taken.add(name.toLowerCase())
    return name
  })
}

/** Text for a cell: well formed, and "_x0041_" kept from being read as a coded character (ECMA-376 part 1, 22.9.2.19). */
function cellText(text: string): string {
  return text
    .toWellFormed()
    .slice(0, MAX_CELL_TEXT)
    .replace(/_(x[0-9a-fA-F]{4}_)/g, '_x005F_$1')
}

function cellValue(value: string | number | null): string | number | null {
  if (typeof value === 'string') return cellText(value)
  return typeof value === 'number' && !Number.isFinite(value) ? null : value
}

/**
 * Writes a workbook: per sheet the titles, one row of headings, then the rows. Strings are always stored as text, so a
 * leading "=" never becomes a formula; numbers as numbers. Without `writtenAt` the file carries a fixed date, so the same
 * sheets give the same bytes.
 */
export async function writeWorkbook(
  sheets: readonly SheetToWrite[],
  writtenAt: Date = FIXED_DATE,
): Promise<Uint8Array> {
  const names = sheetNames(sheets)
  return storeWorkbook(
    sheets.map((sheet, index) => {
      const titles = sheet.titles ?? []
      const headingRow = titles.length + 1
      const filter = sheet.filter ?? sheet.rows.length > 0
      return {
        name: names[index] ?? sheet.name,
        columns: sheet.columns,
        rows: [
          ...titles.map((title) => [cellText(title)]),
          sheet.columns.map((column) => cellText(column.heading)),
          ...sheet.rows.map((row) => row.map(cellValue)),
        ],
        titleRows: titles.length > 0 ? [1] : [],
        headingRows: [headingRow],
        frozenRows: sheet.frozenRows ?? headingRow,
        frozenColumns: sheet.frozenColumns ?? 0,
        filterRow: filter ? headingRow : null,
        landscape: sheet.landscape ?? true,
      }
    }),
    writtenAt,
  )
}

// OWASP, "CSV Injection" and ASVS 5.0, 1.2.10 (the null character): a cell that starts with one of these may be run as a
// formula. The full-width forms are read as their narrow ones by spreadsheets set to Japanese (from memory).
// oxlint-disable-next-line no-control-regex
const FORMULA_START = /^[=+\-@\t\r\n\0＝＋－＠]/
const PLAIN_NUMBER = /^[+-]?\d+([.,]\d+)?$/

function csvCell(value: string | number | null, form: 'text' | 'number'): string {
  if (value === null) return ''
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : ''
  if (form === 'number' && PLAIN_NUMBER.test(value)) return value
  return FORMULA_START.test(value) ? `'${value}` : value
}

/**
 * Writes one sheet as CSV: commas, CRLF, UTF-8 with a byte order mark (spreadsheets need it to see UTF-8). Text that a
 * spreadsheet could run as a formula gets a leading apostrophe; numbers such as -5 stay numbers.
 */
export function writeCsv(sheet: Pick<SheetToWrite, 'columns' | 'rows'>): Uint8Array {
  const rows = [
    sheet.columns.map((column) => csvCell(column.heading, 'text')),
    ...sheet.rows.map((row) =>
      row.map((value, index) => csvCell(value, sheet.columns[index]?.form ?? 'text')),
    ),
  ]
  const text = `\ufeff${Papa.unparse(rows, { newline: '\r\n', delimiter: ',' })}\r\n`
  return new TextEncoder().encode(text)
}
