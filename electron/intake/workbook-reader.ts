import { zipSync } from 'fflate'
import type { PlainCell, PlainFile, PlainRow, PlainSheet } from '../../core/exchange/index.ts'
import { readStoredWorkbook } from './hucre-adapter.ts'
import type { StoredSheet } from './hucre-adapter.ts'
import { doubtSentence, MAX_CELLS, MAX_ROWS, refused } from './problems.ts'
import type { ForeignKind, IntakeProblem, Read } from './problems.ts'
import type { ZipContents } from './zip-preflight.ts'

const EMPTY_CELL: PlainCell = { text: '', form: 'empty' }
// Parts that hold no cell; leaving them out means that no code ever parses them.
const PARTS_WITHOUT_CELLS =
  /(^|\/)(media|drawings|charts|embeddings|printerSettings|pivotTables|pivotCache|externalLinks|slicers|slicerCaches|timelines|timelineCaches|comments|threadedComments|persons|theme|customXml|docProps|tables|ctrlProps|activeX)\/|\/worksheets\/_rels\//i
// Rows a sheet may list at all, filled or only dressed, before it is opened.
const MAX_LISTED_ROWS = MAX_ROWS * 4
const FAR_ROWS = 10_000
const ROW_TAG = Buffer.from('<row ')

/** Whether the files of a zip are a workbook, and if not, what else they are; null when they are none of these. */
export function workbookKind(contents: ZipContents): 'workbook' | ForeignKind | null {
  const names = [...contents.keys()].map((name) => name.toLowerCase())
  if (names.includes('xl/workbook.bin')) return 'binary-workbook'
  if (names.includes('mimetype') && names.includes('content.xml')) return 'open-document'
  if (!names.includes('[content_types].xml')) return null
  if (names.some((name) => name.startsWith('word/'))) return 'word-document'
  const types = contents.get('[Content_Types].xml')
  const listed = types === undefined ? '' : Buffer.from(types).toString('latin1')
  if (
    /spreadsheetml\.sheet\.main|ms-excel\.sheet\.macroEnabled\.main|spreadsheetml\.template\.main/i.test(
      listed,
    )
  ) {
    return 'workbook'
  }
  return names.some((name) => name.startsWith('xl/')) ? 'workbook' : 'zip'
}

function isSheet(partName: string): boolean {
  return /worksheets\/[^/]+\.xml$/i.test(partName)
}

function countRowTags(xml: Uint8Array): number {
  const buffer = Buffer.from(xml.buffer, xml.byteOffset, xml.byteLength)
  let count = 0
  for (let at = buffer.indexOf(ROW_TAG); at >= 0; at = buffer.indexOf(ROW_TAG, at + ROW_TAG.length)) count++
  return count
}

function hasPaddedNumbers(contents: ZipContents): boolean {
  for (const [name, part] of contents) {
    if (/styles\.xml$/i.test(name) && /formatCode="0{2,12}"/.test(Buffer.from(part).toString('latin1')))
      return true
  }
  return false
}

const EMPTY_ROWS = /<row\b[^>]*?(?:\/>|>(?:\s*<c\b[^>]*\/>)*\s*<\/row>)/g

/**
 * Leaves out rows of dressed blanks from sheets that reach far below their rows. hucre builds every row down to the last
 * one: a blank with a border in row 1,048,558 costs a million rows. A sheet that does not number its rows stays as it is.
 */
function withoutFarBlanks(xml: Uint8Array): Uint8Array {
  const buffer = Buffer.from(xml.buffer, xml.byteOffset, xml.byteLength)
  const lastRow = buffer.lastIndexOf(ROW_TAG)
  if (lastRow < 0) return xml
  const number = Number(/\sr="(\d+)"/.exec(buffer.toString('latin1', lastRow, lastRow + 500))?.[1] ?? 0)
  if (number < countRowTags(xml) + FAR_ROWS) return xml
  // One byte, one character: the marks looked for are ASCII in UTF-8, and nothing else is touched.
  const text = buffer.toString('latin1')
  if (/<row\b(?![^>]*\sr=")/.test(text)) return xml
  return Buffer.from(text.replace(EMPTY_ROWS, ''), 'latin1')
}

/** Only what holds cells, packed anew: what was checked is what gets read. */
function repack(contents: ZipContents): Uint8Array {
  const parts: Record<string, Uint8Array> = Object.create(null) as Record<string, Uint8Array>
  for (const [name, part] of contents) {
    if (!/\.(xml|rels)$/i.test(name) || PARTS_WITHOUT_CELLS.test(name)) continue
    parts[name] = isSheet(name) ? withoutFarBlanks(part) : part
  }
  return zipSync(parts, { level: 0 })
}

function cellName(row: number, column: number): string {
  let letters = ''
  for (let rest = column; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters
  }
  return `${letters}${row}`
}

// Dates get no warning here: COBie is full of them, and core/exchange warns where a size is wanted.
type CellDoubt = 'formulas-without-result' | 'error-cells'

interface Tally {
  rows: number
  cells: number
}

function readSheet(name: string, stored: StoredSheet, tally: Tally, warnings: string[]): Read<PlainSheet> {
  const rows: PlainRow[] = []
  const doubts = new Map<CellDoubt, { count: number; firstCell: string }>()
  const note = (code: CellDoubt, row: number, column: number): void => {
    const known = doubts.get(code)
    if (known === undefined) doubts.set(code, { count: 1, firstCell: cellName(row, column) })
    else known.count++
  }
  for (let number = 1; number <= stored.rowCount; number++) {
    const storedCells = stored.rowAt(number)
    if (storedCells.length === 0) continue
    const cells = storedCells.map((cell, index): PlainCell => {
      if (cell === null) return EMPTY_CELL
      if (cell.lacksResult) note('formulas-without-result', number, index + 1)
      if (cell.form === 'error') note('error-cells', number, index + 1)
      return { text: cell.text, form: cell.form }
    })
    if (cells.every((cell) => cell.form === 'empty')) continue
    rows.push({ number, cells })
    tally.rows++
    tally.cells += cells.length
    if (tally.rows > MAX_ROWS)
      return refused({ code: 'too-many-rows', name, sheet: stored.name, limit: MAX_ROWS })
    if (tally.cells > MAX_CELLS)
      return refused({ code: 'too-many-cells', name, sheet: stored.name, limit: MAX_CELLS })
  }
  if (stored.hidden) warnings.push(doubtSentence({ code: 'hidden-sheet', sheet: stored.name }))
  for (const [code, doubt] of doubts) warnings.push(doubtSentence({ code, sheet: stored.name, ...doubt }))
  return { ok: true, value: { name: stored.name, rows, merges: stored.merges } }
}

/** Whether a part's XML is there to its end: hucre reads half a sheet without a word. */
function isWhole(partName: string, xml: Uint8Array): boolean {
  const root = isSheet(partName) ? 'worksheet' : /sharedStrings\.xml$/i.test(partName) ? 'sst' : null
  if (root === null) return true
  const end = Buffer.from(xml.subarray(-400)).toString('latin1')
  return new RegExp(`</(\\w+:)?${root}\\s*>\\s*(<!--[^>]*-->\\s*)*$|<(\\w+:)?${root}\\b[^<>]*/>\\s*$`).test(
    end,
  )
}

/** Reads the sheets of a workbook from its checked zip: all of them, hidden ones too, in the workbook's order. */
export async function readWorkbook(name: string, contents: ZipContents): Promise<Read<PlainFile>> {
  for (const [part, xml] of contents) {
    if (!isWhole(part, xml)) {
      return refused({ code: 'damaged', name, what: 'workbook', detail: `${part} breaks off` })
    }
    if (isSheet(part) && countRowTags(xml) > MAX_LISTED_ROWS) {
      return refused({ code: 'too-many-rows', name, sheet: null, limit: MAX_ROWS })
    }
  }
  const stored = await readStoredWorkbook(repack(contents), hasPaddedNumbers(contents))
  if (!stored.ok) {
    const problems: Record<typeof stored.reason, IntakeProblem> = {
      encrypted: { code: 'encrypted', name },
      'stray-cell': { code: 'stray-cell', name, sheet: stored.sheet },
      damaged: { code: 'damaged', name, what: 'workbook', detail: 'its sheets do not hang together' },
    }
    return refused(problems[stored.reason])
  }
  const warnings: string[] = []
  const tally: Tally = { rows: 0, cells: 0 }
  const sheets: PlainSheet[] = []
  for (const storedSheet of stored.sheets) {
    const sheet = readSheet(name, storedSheet, tally, warnings)
    if (!sheet.ok) return sheet
    sheets.push(sheet.value)
  }
  if (tally.rows === 0) return refused({ code: 'empty', name, what: 'workbook' })
  return { ok: true, value: { form: 'sheets', sheets, warnings } }
}
