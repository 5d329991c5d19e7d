// The only file that knows hucre. Should it have to go: @e965/xlsx reads, exceljs' stream writer writes the same.
import { readXlsx, writeXlsx } from 'hucre/xlsx'
import type { Cell, CellStyle, CellValue, Sheet } from 'hucre/xlsx'
import { EncryptedFileError, ParseError } from 'hucre'
import type { CellForm, Merge } from '../../core/exchange/index.ts'

/** A cell as stored: what the sheet keeps, not how it is dressed. */
export interface StoredCell {
  readonly text: string
  readonly form: CellForm
  /** A formula without a cached result. */
  readonly lacksResult: boolean
}

export interface StoredSheet {
  readonly name: string
  readonly hidden: boolean
  readonly rowCount: number
  /** Cells of a row, from 1, cut behind the last filled one; null for an empty cell. */
  readonly rowAt: (number: number) => readonly (StoredCell | null)[]
  readonly merges: readonly Merge[]
}

export type StoredWorkbook =
  | { readonly ok: true; readonly sheets: readonly StoredSheet[] }
  | {
      readonly ok: false
      readonly reason: 'encrypted' | 'stray-cell' | 'damaged'
      readonly sheet: string | null
    }

// Serial 1 is 1 January 1900; anything before is a time of day without a day. (ECMA-376 part 1, 18.17.4)
const FIRST_DAY_MILLISECONDS = Date.UTC(1900, 0, 1)

function dateText(date: Date): StoredCell {
  const milliseconds = date.getTime()
  if (Number.isNaN(milliseconds)) return { text: '#NUM!', form: 'error', lacksResult: false }
  const iso = new Date(Math.round(milliseconds / 1000) * 1000).toISOString()
  const day = iso.slice(0, iso.indexOf('T'))
  const time = iso.slice(iso.indexOf('T') + 1, -5)
  const text = milliseconds < FIRST_DAY_MILLISECONDS ? time : time === '00:00:00' ? day : `${day}T${time}`
  return { text, form: 'date', lacksResult: false }
}

/** Spreadsheets show 15 digits; 0.1 + 0.2 must not become 0.30000000000000004. */
function numberText(value: number, numberFormat: string | undefined): string {
  const padding = numberFormat !== undefined && /^0{2,12}$/.test(numberFormat) ? numberFormat.length : 0
  if (padding > 0 && Number.isInteger(value) && value >= 0) return String(value).padStart(padding, '0')
  return String(Number(value.toPrecision(15)))
}

function storedCell(value: CellValue, details: Cell | undefined): StoredCell | null {
  if (details?.type === 'error') return { text: String(value), form: 'error', lacksResult: false }
  if (value === null || value === '') {
    if (details?.type === 'formula' && value === null) return { text: '', form: 'empty', lacksResult: true }
    return null
  }
  if (value instanceof Date) return dateText(value)
  if (typeof value === 'string') return { text: value, form: 'text', lacksResult: false }
  if (typeof value === 'boolean')
    return { text: value ? 'TRUE' : 'FALSE', form: 'yes-no', lacksResult: false }
  return { text: numberText(value, details?.style?.numFmt), form: 'number', lacksResult: false }
}

function cutRow(sheet: Sheet, index: number): readonly (StoredCell | null)[] {
  const values = sheet.rows[index] ?? []
  let width = values.length
  const cells: (StoredCell | null)[] = []
  while (width > 0 && (values[width - 1] ?? null) === null && !sheet.cells?.has(`${index},${width - 1}`))
    width--
  for (let column = 0; column < width; column++) {
    cells.push(storedCell(values[column] ?? null, sheet.cells?.get(`${index},${column}`)))
  }
  while (cells.length > 0 && cells.at(-1) === null) cells.pop()
  return cells
}

function mergesOf(sheet: Sheet): Merge[] {
  const merges: Merge[] = []
  for (const { startRow, startCol, endRow, endCol } of sheet.merges ?? []) {
    // A nonsense reference comes back as NaN or -1.
    if (![startRow, startCol, endRow, endCol].every((bound) => Number.isInteger(bound) && bound >= 0))
      continue
    merges.push({
      top: Math.min(startRow, endRow) + 1,
      left: Math.min(startCol, endCol) + 1,
      bottom: Math.max(startRow, endRow) + 1,
      right: Math.max(startCol, endCol) + 1,
    })
  }
  return merges
}

/**
 * Reads every sheet of a checked workbook. Formulas give their cached result; error cells, yes-no cells and dates keep
 * their form. A cell stored as ISO text (t="d") arrives as text: hucre does not tell it apart.
 * `withFormats` reads number formats too (a mark 7 shown as 007), which costs memory on sheets of styled blanks.
 */
export async function readStoredWorkbook(bytes: Uint8Array, withFormats: boolean): Promise<StoredWorkbook> {
  let sheets: readonly Sheet[]
  try {
    sheets = (await readXlsx(bytes, { readStyles: withFormats })).sheets
  } catch (error) {
    // hucre throws typed errors, and on some damaged files plain TypeError or RangeError: all mean the file.
    if (error instanceof EncryptedFileError) return { ok: false, reason: 'encrypted', sheet: null }
    if (
      error instanceof ParseError &&
      /over the \d+ limit|outside the supported sheet bounds/.test(error.message)
    ) {
      return {
        ok: false,
        reason: 'stray-cell',
        sheet: /^Sheet "(.*?)" spans/.exec(error.message)?.[1] ?? null,
      }
    }
    return { ok: false, reason: 'damaged', sheet: null }
  }
  return {
    ok: true,
    sheets: sheets.map((sheet) => ({
      name: sheet.name,
      hidden: sheet.hidden === true || sheet.veryHidden === true,
      rowCount: sheet.rows.length,
      rowAt: (number: number) => cutRow(sheet, number - 1),
      merges: mergesOf(sheet),
    })),
  }
}

export interface SheetToStore {
  readonly name: string
  readonly columns: readonly { readonly width: number; readonly form: 'text' | 'number' }[]
  readonly rows: readonly (readonly (string | number | null)[])[]
  /** Row numbers from 1 that are headings or titles. */
  readonly headingRows: readonly number[]
  readonly titleRows: readonly number[]
  readonly frozenRows: number
  readonly frozenColumns: number
  /** Row with the filter buttons, from 1; null for none. */
  readonly filterRow: number | null
  readonly landscape: boolean
}

const HEADING: CellStyle = {
  font: { bold: true },
  fill: { type: 'pattern', pattern: 'solid', fgColor: { rgb: 'E7E6E2' } },
  border: { bottom: { style: 'thin', color: { rgb: '6B6A66' } } },
  alignment: { vertical: 'bottom', wrapText: true },
  numFmt: '@',
}
const TITLE: CellStyle = { font: { bold: true, size: 14 }, numFmt: '@' }
const TEXT: CellStyle = { numFmt: '@', alignment: { vertical: 'top' } }
const NUMBER: CellStyle = { alignment: { vertical: 'top', horizontal: 'right' } }

function columnLetters(column: number): string {
  let letters = ''
  for (let rest = column; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters
  }
  return letters
}

/** Writes a workbook. The same sheets and the same date give the same bytes. */
export async function storeWorkbook(sheets: readonly SheetToStore[], writtenAt: Date): Promise<Uint8Array> {
  return writeXlsx({
    properties: { created: writtenAt, modified: writtenAt },
    sheets: sheets.map((sheet) => {
      const cells = new Map<string, Partial<Cell>>()
      const dress = (number: number, style: CellStyle): void => {
        for (const [column, value] of (sheet.rows[number - 1] ?? []).entries()) {
          cells.set(`${number - 1},${column}`, { value, style })
        }
      }
      for (const number of sheet.headingRows) dress(number, HEADING)
      for (const number of sheet.titleRows) dress(number, TITLE)
      const last = columnLetters(Math.max(1, sheet.columns.length))
      return {
        name: sheet.name,
        columns: sheet.columns.map(({ width, form }) => ({ width, style: form === 'text' ? TEXT : NUMBER })),
        rows: sheet.rows.map((row) => [...row]),
        cells,
        freezePane: { rows: sheet.frozenRows, columns: sheet.frozenColumns },
        pageSetup: {
          orientation: sheet.landscape ? ('landscape' as const) : ('portrait' as const),
          fitToPage: true,
          fitToWidth: 1,
          fitToHeight: 0,
          ...(sheet.frozenRows > 0 ? { printTitlesRow: `$1:$${sheet.frozenRows}` } : {}),
        },
        ...(sheet.filterRow === null
          ? {}
          : {
              autoFilter: {
                range: `A${sheet.filterRow}:${last}${Math.max(sheet.filterRow, sheet.rows.length)}`,
              },
            }),
      }
    }),
  })
}
