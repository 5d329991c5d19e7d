import Papa from 'papaparse'
import type { PlainCell, PlainFile, PlainRow } from '../../core/exchange/index.ts'
import { doubtSentence, MAX_CELLS, MAX_ROWS, refused } from './problems.ts'
import type { Read } from './problems.ts'
import { decodeText } from './text-decoding.ts'

const DELIMITERS = [',', ';', '\t', '|'] as const
const GUESS_ROWS = 60
const GUESS_CHARACTERS = 200_000
const MOST_RECOVERIES = 20
const EMPTY_CELL: PlainCell = { text: '', form: 'empty' }
// Papa needs some quotation mark; NUL stands in cells of no real file.
const NO_QUOTE = '\u0000'

interface Parsed {
  readonly records: string[][]
  /** First record with an unclosed or misplaced quotation mark, and where in the text it was found. */
  readonly badQuote: { readonly record: number; readonly index: number } | null
}

function parse(text: string, delimiter: string, quoteChar: string, preview = 0): Parsed {
  const result = Papa.parse<string[]>(text, {
    delimiter,
    quoteChar,
    newline: '\n',
    preview,
    skipEmptyLines: false,
  })
  const bad = result.errors.find((error) => error.type === 'Quotes')
  return {
    records: result.data,
    badQuote: bad === undefined ? null : { record: bad.row ?? 0, index: bad.index ?? 0 },
  }
}

/** Filled rows at the commonest width, times that width: a title row or a decimal comma does not mislead it. */
function delimiterScore(
  sample: string,
  delimiter: string,
): { readonly score: number; readonly columns: number } {
  const rowsByWidth = new Map<number, number>()
  for (const record of parse(sample, delimiter, '"', GUESS_ROWS).records) {
    if (record.length > 1) rowsByWidth.set(record.length, (rowsByWidth.get(record.length) ?? 0) + 1)
  }
  let best = { score: 0, columns: 1 }
  for (const [columns, rows] of rowsByWidth) {
    const score = rows * Math.min(columns - 1, 12)
    if (score > best.score) best = { score, columns }
  }
  return best
}

function guessDelimiter(text: string): string {
  const sample = text.slice(0, GUESS_CHARACTERS)
  let best = { delimiter: ',', score: 0 }
  for (const delimiter of DELIMITERS) {
    const { score } = delimiterScore(sample, delimiter)
    if (score > best.score) best = { delimiter, score }
  }
  return best.delimiter
}

/**
 * All records of a text. One quotation mark too many would swallow the rest of the file: the line it stands on is read
 * again with quotation marks as ordinary characters, a warning names the row, and reading goes on after that line.
 */
function readRecords(
  text: string,
  delimiter: string,
  firstRow: number,
): { records: string[][]; warnings: string[] } {
  const records: string[][] = []
  const warnings: string[] = []
  let rest = text
  for (;;) {
    const parsed = parse(rest, delimiter, '"')
    const bad = parsed.badQuote
    if (bad === null) {
      for (const record of parsed.records) records.push(record)
      return { records, warnings }
    }
    for (const record of parsed.records.slice(0, bad.record)) records.push(record)
    const row = firstRow + records.length
    const lineStart = rest.lastIndexOf('\n', Math.max(0, bad.index - 1)) + 1
    if (warnings.length >= MOST_RECOVERIES) {
      warnings.push(doubtSentence({ code: 'many-open-quotes', row }))
      for (const record of parse(rest.slice(lineStart), delimiter, NO_QUOTE).records) records.push(record)
      return { records, warnings }
    }
    warnings.push(doubtSentence({ code: 'open-quote', row }))
    const lineEnd = rest.indexOf('\n', lineStart)
    const line = rest.slice(lineStart, lineEnd < 0 ? rest.length : lineEnd)
    records.push(line.split(delimiter))
    if (lineEnd < 0) return { records, warnings }
    rest = rest.slice(lineEnd + 1)
  }
}

/** An apostrophe before what a spreadsheet would run was put there by a writer such as ours; it is no part of the text. */
const withoutGuard = (text: string): string => (/^'[=+\-@]/.test(text) ? text.slice(1) : text)

function toRow(record: readonly string[], number: number): PlainRow {
  let width = record.length
  while (width > 0 && record[width - 1] === '') width--
  const cells = record
    .slice(0, width)
    .map((text): PlainCell => (text === '' ? EMPTY_CELL : { text: withoutGuard(text), form: 'text' }))
  return { number, cells }
}

function sheetNameOf(fileName: string): string {
  const last = fileName.split(/[\\/]/).at(-1) ?? fileName
  return last.replace(/\.[^.]{1,5}$/, '')
}

function hasTextName(name: string): boolean {
  return /\.(csv|tsv|tab|txt)$/i.test(name) || !/\.[^.\s]{1,5}$/.test(name)
}

/**
 * Reads delimited text as one sheet; every filled cell is text, so marks keep their zeros. The delimiter is guessed, or
 * named by a first line "sep=;". Text under another name than .csv, .tsv or .txt must show columns to be taken as CSV.
 */
export function readCsv(name: string, bytes: Uint8Array): Read<PlainFile> {
  const decoded = decodeText(bytes)
  const warnings = [...decoded.warnings]
  let text = decoded.text.replace(/\r\n?/g, '\n')
  let firstRow = 1
  const named = /^sep=([,;|\t])\n/i.exec(text)
  if (named !== null) {
    text = text.slice(named[0].length)
    firstRow = 2
  }
  const delimiter = named?.[1] ?? guessDelimiter(text)
  if (!hasTextName(name)) {
    const sample = text.slice(0, GUESS_CHARACTERS)
    const { columns, score } = delimiterScore(sample, delimiter)
    // Prose has commas too, but not two in nearly every line.
    const filled = parse(sample, delimiter, '"', GUESS_ROWS).records.filter(
      (record) => record.join('') !== '',
    ).length
    const rowsAlike = score / Math.min(columns - 1, 12)
    if (columns < 3 || rowsAlike < Math.max(2, filled * 0.8)) {
      return refused({ code: 'not-a-workbook', name, kind: 'text' })
    }
    warnings.push(doubtSentence({ code: 'read-as-csv', name }))
  }

  const read = readRecords(text, delimiter, firstRow)
  const rows: PlainRow[] = []
  let cells = 0
  for (const [index, record] of read.records.entries()) {
    const row = toRow(record, firstRow + index)
    if (row.cells.length === 0) continue
    rows.push(row)
    cells += row.cells.length
    if (rows.length > MAX_ROWS) return refused({ code: 'too-many-rows', name, sheet: null, limit: MAX_ROWS })
    if (cells > MAX_CELLS) return refused({ code: 'too-many-cells', name, sheet: null, limit: MAX_CELLS })
  }
  if (rows.length === 0) return refused({ code: 'empty', name, what: 'text' })
  const sheets = [{ name: sheetNameOf(name), rows, merges: [] }]
  return { ok: true, value: { form: 'sheets', sheets, warnings: [...warnings, ...read.warnings] } }
}
