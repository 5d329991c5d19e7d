// Finding the heading rows of a sheet and proposing a field for every column. A person may change the proposal.
import { meaningOf, plainHeading, targetFields, type HeadingUnit, type TargetField } from './headings.ts'
import type { Merge, PlainRow, PlainSheet } from './plain.ts'

/** `cells`: kept with the row as it was read, given to no field. */
export type ColumnUse = TargetField | 'cells'

export interface MatchedColumn {
  /** Place in the row, from 0. */
  readonly column: number
  readonly heading: string
  readonly use: ColumnUse
  /** How the proposal came about. */
  readonly because: 'named' | 'likely' | 'remembered' | 'corrected' | 'not recognised'
  readonly unit: HeadingUnit | null
  readonly ofLeaf: boolean
}

/** A plain value: a person's corrections are the same value with other uses. */
export interface ColumnMatching {
  readonly sheet: string
  /** Source row numbers of the headings; empty when none were found. */
  readonly headerRows: readonly number[]
  readonly columns: readonly MatchedColumn[]
  readonly shape: string
}

/** What is kept of a corrected matching, to be proposed when the same headings come again. */
export interface RememberedMatching {
  readonly shape: string
  /** Place of the column to its use. */
  readonly uses: readonly (readonly [column: number, use: ColumnUse])[]
}

const furthestHeader = 60
const mostHeaderRows = 3

/** A row that could be headings: words only, nothing stored as a number or a date. */
const mayBeHeading = (row: PlainRow): boolean =>
  row.cells.every((cell) => cell.form === 'empty' || cell.form === 'text') &&
  row.cells.some((cell) => cell.text.trim() !== '') &&
  row.cells.every((cell) => cell.text.length < 80)

/** A row's texts with merged headings filled across, or, without merges, a group heading over the blanks beside it. */
function headingTexts(row: PlainRow, merges: readonly Merge[], width: number, isGroupRow: boolean): string[] {
  const texts = Array.from({ length: width }, (_, at) => row.cells[at]?.text.trim() ?? '')
  const here = merges.filter((merge) => row.number >= merge.top && row.number <= merge.bottom)
  for (const merge of here) {
    const text = texts[merge.left - 1] ?? ''
    if (row.number === merge.top)
      for (let at = merge.left; at <= Math.min(merge.right, width); at += 1) texts[at - 1] = text
  }
  if (!isGroupRow || here.some((merge) => merge.right > merge.left)) return texts
  let group = ''
  return texts.map((text) => (text === '' ? group : (group = text)))
}

/** Headings of several rows put together: DOOR over WIDTH becomes "DOOR WIDTH". */
function joinedHeadings(rows: readonly PlainRow[], sheet: PlainSheet): string[] {
  const width = Math.max(...rows.map((row) => row.cells.length))
  const texts = rows.map((row, index) => headingTexts(row, sheet.merges, width, index < rows.length - 1))
  const last = texts.at(-1) ?? []
  return Array.from({ length: width }, (_, column) => {
    const parts: string[] = []
    for (const [index, row] of texts.entries()) {
      const text = row[column] ?? ''
      // A group heading reaches only over columns that have their own heading below it.
      const own = (rows[index]?.cells[column]?.text.trim() ?? '') !== ''
      const named = index === texts.length - 1 || own || (last[column] ?? '') !== ''
      if (text !== '' && named && parts.at(-1) !== text) parts.push(text)
    }
    return parts.join(' ').replace(/\s+/g, ' ')
  })
}

/** The surest meaning of a heading: of all its rows together, or of its lowest row alone. */
function meaningOfJoined(heading: string, lowest: string): ReturnType<typeof meaningOf> {
  const whole = meaningOf(heading)
  if (whole.field !== null || lowest === heading || lowest === '') return whole
  const alone = meaningOf(lowest)
  // FRAME over TYPE is no door type: only headings that mean one thing under any group count alone.
  const group = plainHeading(heading.slice(0, heading.length - lowest.length))
  const aboutDoor =
    group === '' || /^(?:door|dr|opening|leaf|size|nominal|general|dimensions?)s?\b/.test(group)
  if (
    !aboutDoor &&
    ['doorType', 'doorMaterial', 'width', 'height', 'thickness', 'size', 'mark'].includes(alone.field ?? '')
  )
    return whole
  return alone
}

interface Candidate {
  readonly rows: readonly PlainRow[]
  readonly headings: readonly string[]
  readonly columns: readonly MatchedColumn[]
  readonly score: number
}

function candidate(rows: readonly PlainRow[], sheet: PlainSheet): Candidate {
  const headings = joinedHeadings(rows, sheet)
  const lowest = rows.at(-1)?.cells ?? []
  const meanings = headings.map((heading, column) =>
    meaningOfJoined(heading, lowest[column]?.text.trim().replace(/\s+/g, ' ') ?? ''),
  )
  const taken = new Map<TargetField, number>()
  for (const strength of [3, 2, 1] as const)
    for (const [column, meaning] of meanings.entries())
      if (meaning.field !== null && meaning.strength === strength && !taken.has(meaning.field))
        taken.set(meaning.field, column)
  const columns = headings.map((heading, column): MatchedColumn => {
    const meaning = meanings[column]
    const field = meaning?.field ?? null
    const its = field !== null && (taken.get(field) === column || field === 'notes')
    return {
      column,
      heading,
      use: its && field !== null ? field : 'cells',
      because: its ? (meaning?.strength === 3 ? 'named' : 'likely') : 'not recognised',
      unit: meaning?.unit ?? null,
      ofLeaf: its && (meaning?.ofLeaf ?? false),
    }
  })
  const score = [...taken].reduce((sum, [field, column]) => {
    const strength = meanings[column]?.strength ?? 0
    return sum + strength + (field === 'mark' ? 3 : 0)
  }, 0)
  return { rows, headings, columns, score }
}

/** The rows most likely to be the headings: up to three rows next to each other that name the most fields. */
function findHeader(sheet: PlainSheet): Candidate | null {
  let best: Candidate | null = null
  const near = sheet.rows.slice(0, furthestHeader)
  for (let start = 0; start < near.length; start += 1)
    for (let count = 1; count <= mostHeaderRows; count += 1) {
      const rows = near.slice(start, start + count)
      const adjoining = rows.every(
        (row, index) => index === 0 || row.number - (rows[index - 1]?.number ?? 0) === 1,
      )
      if (rows.length < count || !adjoining || !rows.every(mayBeHeading)) break
      const each = candidate(rows, sheet)
      // More rows must earn their place, or a title or a data row of words would join the headings.
      const fewer = best !== null && each.score === best.score && rows.length < best.rows.length
      if (best === null || each.score > best.score || fewer) best = each
    }
  if (best === null) return findPlainHeader(sheet)
  const fields = best.columns.filter((each) => each.use !== 'cells').map((each) => each.use)
  const enough = fields.includes('mark') ? fields.length >= 2 : fields.length >= 3
  return enough || (fields.includes('mark') && best.headings.length === 1) ? best : findPlainHeader(sheet)
}

/** Where no heading is known, the first row of plain words still names the columns, so that a person can match them. */
function findPlainHeader(sheet: PlainSheet): Candidate | null {
  const widest = widthOf(sheet)
  for (const row of sheet.rows.slice(0, furthestHeader)) {
    const texts = row.cells.map((cell) => cell.text.trim()).filter((text) => text !== '')
    if (texts.length < 2 || texts.length < widest / 2) continue
    const named = mayBeHeading(row) && texts.every((text) => /^\p{L}/u.test(text))
    return named && new Set(texts).size === texts.length ? candidate([row], sheet) : null
  }
  return null
}

const shapeOf = (headings: readonly string[]): string =>
  headings.map(plainHeading).join('|').replace(/\|+$/, '')

/** A stable key of a sheet's headings, by which a corrected matching is found again. */
export const headerShape = (sheet: PlainSheet): string => {
  const found = findHeader(sheet)
  return found === null ? unheadedShape(sheet) : shapeOf(found.headings)
}

const widthOf = (sheet: PlainSheet): number =>
  sheet.rows.reduce((most, row) => Math.max(most, row.cells.length), 0)
const unheadedShape = (sheet: PlainSheet): string => `no headings, ${widthOf(sheet)} columns`

/** Proposes a field for every column; a matching remembered for the same headings goes first. */
export function matchColumns(
  sheet: PlainSheet,
  remembered: readonly RememberedMatching[] = [],
): ColumnMatching {
  const found = findHeader(sheet)
  const shape = found === null ? unheadedShape(sheet) : shapeOf(found.headings)
  const proposed: readonly MatchedColumn[] =
    found?.columns ??
    Array.from({ length: widthOf(sheet) }, (_, column) => ({
      column,
      heading: '',
      use: 'cells' as const,
      because: 'not recognised' as const,
      unit: null,
      ofLeaf: false,
    }))
  const known = remembered.findLast((each) => each.shape === shape)
  const uses = new Map(known?.uses)
  return {
    sheet: sheet.name,
    headerRows: found?.rows.map((row) => row.number) ?? [],
    columns: proposed.map((each) => {
      const use = uses.get(each.column)
      return use === undefined || use === each.use ? each : { ...each, use, because: 'remembered' as const }
    }),
    shape,
  }
}

/** A person's correction: this column is for that field. A field already given elsewhere moves here. */
export function correctColumn(matching: ColumnMatching, column: number, use: ColumnUse): ColumnMatching {
  return {
    ...matching,
    columns: matching.columns.map((each) => {
      if (each.column === column) return { ...each, use, because: 'corrected' as const }
      const moved = each.use === use && use !== 'cells' && use !== 'notes'
      return moved ? { ...each, use: 'cells' as const, because: 'corrected' as const } : each
    }),
  }
}

/** What to keep of a matching, once a person has accepted it. */
export const rememberMatching = (matching: ColumnMatching): RememberedMatching => ({
  shape: matching.shape,
  uses: matching.columns.map((each) => [each.column, each.use] as const),
})

/** The fields a matching leaves without a column. */
export const unmatchedFields = (matching: ColumnMatching): TargetField[] => {
  const used = new Set<string>(matching.columns.map((each) => each.use))
  return targetFields.filter((field) => !used.has(field))
}
