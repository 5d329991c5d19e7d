// What the rows of a door schedule say. Nothing is guessed in silence: a doubt becomes a question, a fault a sentence.
import {
  doubtsAboutSize,
  judgeDoorway,
  readFireLabel,
  readHand,
  readLength,
  readSize,
  saysNothing,
  tidy,
  type LengthField,
  type Reading,
  type Units,
} from '../job/index.ts'
import { targetNames, type TargetField } from './headings.ts'
import type { ColumnMatching, MatchedColumn } from './matching.ts'
import type { PlainCell, PlainRow, PlainSheet } from './plain.ts'
import { readDay, yearMonthDay } from './days.ts'
import { problemList, type Problems, type Where } from './saying.ts'
import {
  cellKey,
  roomOf,
  sameKey,
  type AsideWhy,
  type SetAside,
  type UnderstoodFields,
  type UnderstoodLevel,
  type UnderstoodOpening,
  type Understanding,
} from './understanding.ts'

export interface SheetOptions {
  readonly units: Units
  /** Used where the sheet names none. */
  readonly building?: string | null
  readonly level?: string | null
}

type Writable<T> = { -readonly [Key in keyof T]: T[Key] }
type Fields = Writable<UnderstoodFields>

const longestRead = 200
const noCell: PlainCell = { text: '', form: 'empty' }
const textFields = [
  'doorMaterial',
  'frameMaterial',
  'doorType',
  'hardwareSet',
  'typical',
  'furnishedBy',
  'fittedBy',
  'wiredBy',
  'terminatedBy',
  'serial',
  'assetTag',
  'sourceId',
] as const satisfies readonly TargetField[]

/** The columns of a matching by what they are for. */
class Columns {
  readonly #byUse = new Map<string, MatchedColumn[]>()
  readonly all: readonly MatchedColumn[]
  constructor(matching: ColumnMatching) {
    this.all = matching.columns
    for (const each of matching.columns)
      this.#byUse.set(each.use, [...(this.#byUse.get(each.use) ?? []), each])
  }
  for(use: TargetField): MatchedColumn | undefined {
    return this.#byUse.get(use)?.[0]
  }
  allFor(use: TargetField): readonly MatchedColumn[] {
    return this.#byUse.get(use) ?? []
  }
}

const cellAt = (row: PlainRow, column: MatchedColumn | undefined): PlainCell =>
  column === undefined ? noCell : (row.cells[column.column] ?? noCell)
const textAt = (row: PlainRow, column: MatchedColumn | undefined): string => cellAt(row, column).text.trim()

const filledTexts = (row: PlainRow): string[] =>
  row.cells.map((cell) => cell.text.trim()).filter((text) => text !== '')

const storey =
  /^(?:(?:the )?(?:level|floor|storey|story|lvl|basement|mezzanine|penthouse|roof|cellar)\b|(?:(?:lower|upper) )?(?:ground|first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|main|top|\d+(?:st|nd|rd|th))[ -](?:floor|level|storey|story)\b|(?:ground|basement|mezzanine|penthouse|roof)$|l ?\d+$)/i
const edifice = /^(?:building|bldg\.?|block|wing|tower)\b/i

/** The heading of a group of rows: which level or building follows. "(continued)" is no part of the name. */
function titleOf(texts: readonly string[]): { why: 'level title' | 'building title'; name: string } | null {
  const different = [...new Set(texts)]
  const [only] = different
  if (different.length !== 1 || only === undefined || only.length > 60) return null
  const name = only.replace(/[\s:,-]*\(?\b(?:cont(?:inued|'d|d|\.)?)\b\.?\)?\s*$/i, '').replace(/[\s:]+$/, '')
  if (name === '') return null
  if (storey.test(name)) return { why: 'level title', name }
  return edifice.test(name) ? { why: 'building title', name } : null
}

const totals = /\b(?:sub[- ]?totals?|grand totals?|totals?|count|sum)\b/i

/** A row's texts in their places, all figures alike: page 1 and page 2 have the same title. */
const withoutFigures = (row: PlainRow): string =>
  row.cells
    .map((cell) => sameKey(cell.text).replace(/\d+/g, '#'))
    .join('|')
    .replace(/\|+$/, '')

/** Why a row is no opening, or null when it is one (or should have been). */
function asideWhy(
  row: PlainRow,
  columns: Columns,
  headings: readonly PlainRow[],
  titles: ReadonlySet<string>,
): AsideWhy | null {
  const texts = filledTexts(row)
  if (texts.length === 0) return 'blank'
  if (titles.has(withoutFigures(row))) return 'heading repeated'
  for (const heading of headings) {
    let same = 0
    for (const [at, cell] of row.cells.entries())
      if (cell.text.trim() !== '' && sameKey(cell.text) === sameKey(heading.cells[at]?.text ?? '')) same += 1
    if (same > 0 && same >= texts.length * 0.6 && (same > 1 || texts.length === 1)) return 'heading repeated'
  }
  const mark = textAt(row, columns.for('mark'))
  const [first = ''] = texts
  if (totals.test(first) && (mark === '' || mark === first) && texts.length <= 4) return 'subtotal'
  if (texts.length > 2) return null
  const wordsOnly = texts.every((text) => !/^\d+[A-Za-z]?$/.test(text))
  if (/^(?:notes?|legend|abbreviations?|remarks?)\b[ :]*$/i.test(first)) return 'note'
  if (mark === '') return texts.length === 1 || texts.some((text) => text.length > 40) ? 'note' : null
  const longWords = (text: string): boolean => text.length > 40 || text.split(/\s+/).length > 5
  if (texts.some(longWords) && (longWords(mark) || /^(?:\d+[.)]|[*•-]|notes?:?)$/i.test(mark))) return 'note'
  if (wordsOnly && /^page \d+|schedule$/i.test(first)) return 'note'
  return null
}

/** Bare numbers of a column were judged in this unit; the odd ones out are asked about. */
type Judged = {
  readonly where: Where
  readonly heading: string
  readonly found: string
  readonly how: string
}

/** Reads one sheet through a matching of its columns. Rows keep their source numbers in every message. */
export function understandSheet(
  sheet: PlainSheet,
  matching: ColumnMatching,
  options: SheetOptions,
): Understanding {
  const columns = new Columns(matching)
  const problems = problemList()
  const headingRows = sheet.rows.filter((row) => matching.headerRows.includes(row.number))
  const lastHeading = matching.headerRows.at(-1) ?? 0
  const titles = new Set(
    sheet.rows
      .filter((row) => row.number < (matching.headerRows[0] ?? 0))
      .map(withoutFigures)
      .filter((text) => /\p{L}{3}/u.test(text)),
  )
  const openings: UnderstoodOpening[] = []
  const setAside: SetAside[] = []
  const judged: Judged[] = []
  let titleLevel: string | null = null
  let titleBuilding: string | null = null

  for (const row of sheet.rows) {
    if (matching.headerRows.includes(row.number)) continue
    const place = `${sheet.name}, row ${row.number}`
    const putAside = (why: AsideWhy): void =>
      void setAside.push({ row: row.number, place, why, text: filledTexts(row).join(' · ').slice(0, 200) })
    const title = titleOf(filledTexts(row))
    if (title !== null) {
      if (title.why === 'building title') [titleBuilding, titleLevel] = [title.name, null]
      else titleLevel = title.name
      putAside(title.why)
      continue
    }
    if (row.number < lastHeading) {
      putAside('note')
      continue
    }
    const why = asideWhy(row, columns, headingRows, titles)
    if (why !== null) {
      putAside(why)
      continue
    }
    const where: Where = { row: row.number, place, called: `Row ${row.number}` }
    const mark = readMark(row, columns, where, problems)
    if (mark === null) {
      putAside('no mark')
      continue
    }
    const said = (field: TargetField): string | null => {
      const text = textAt(row, columns.for(field))
      return saysNothing(text) ? null : text
    }
    openings.push({
      row: row.number,
      place,
      building: said('building') ?? titleBuilding ?? options.building ?? null,
      level: said('level') ?? titleLevel ?? options.level ?? null,
      fields: readFields(row, mark, columns, options.units, where, problems, judged),
      cells: cellsOf(row, columns),
    })
  }
  askAboutMixedUnits(judged, problems)
  askAboutDuplicates(openings, columns, problems)
  return {
    form: 'sheet',
    name: sheet.name,
    levels: levelsOf(openings),
    openings,
    setAside,
    problems: problems.found.toSorted((a, b) => a.row - b.row),
    warnings:
      columns.for('mark') === undefined
        ? ['No column was found for the mark (door number). Say which column holds it.']
        : [],
  }
}

function readMark(row: PlainRow, columns: Columns, where: Where, problems: Problems): string | null {
  const column = columns.for('mark')
  // One sentence about the sheet says it; the rows need not repeat it.
  if (column === undefined) return null
  const cell = cellAt(row, column)
  const expected = 'a door number such as 104A'
  const field = column.heading === '' ? 'Mark' : column.heading
  if (cell.form === 'date') {
    const words = `the spreadsheet turned this mark into the date ${cell.text.trim()}; expected ${expected}, stored as text.`
    problems.refuseSaying(where, field, cell.text, expected, words)
    return null
  }
  const mark = cell.text.trim().replace(/\s+/g, ' ')
  if (cell.form !== 'error' && !saysNothing(mark)) return mark.slice(0, 400)
  problems.refuseSaying(where, field, mark, expected, `there is no mark; expected ${expected}.`)
  return null
}

function cellsOf(row: PlainRow, columns: Columns): Record<string, string> {
  const cells: Record<string, string> = {}
  for (const { column, heading } of columns.all) {
    const text = row.cells[column]?.text.trim() ?? ''
    if (text === '') continue
    const key = cellKey(heading, column)
    cells[key in cells ? `${key} (${column + 1})` : key] = text.slice(0, 20_000)
  }
  return cells
}

function readFields(
  row: PlainRow,
  mark: string,
  columns: Columns,
  units: Units,
  where: Where,
  problems: Problems,
  judged: Judged[],
): UnderstoodFields {
  const fields: Fields = { mark }
  const named = (column: MatchedColumn, field: TargetField): string =>
    column.heading === '' ? targetNames[field] : column.heading

  /** Passes a cell to its reader; says what was wrong, asks what is doubtful. Undefined when nothing was said or taken. */
  function take<T>(
    field: TargetField,
    read: (text: string, column: MatchedColumn) => Reading<T>,
  ): T | null | undefined {
    const column = columns.for(field)
    if (column === undefined) return undefined
    const cell = cellAt(row, column)
    const heading = named(column, field)
    if (cell.form === 'error') {
      const words = `the cell holds the error ${cell.text.trim()}; its value was left out.`
      problems.refuseSaying(where, heading, cell.text, 'a value', words)
      return undefined
    }
    // Nothing a reader knows is this long; a stray paragraph must not cost time.
    const found = cell.text.trim().slice(0, longestRead)
    const reading = read(found, column)
    if (!reading.known) {
      if (reading.blank) return null
      problems.refuse(where, heading, found, reading)
      return undefined
    }
    if (reading.question !== undefined) problems.ask(where, heading, found, reading.question)
    return reading.value
  }

  function length(field: 'width' | 'height' | 'thickness', as: LengthField): number | null | undefined {
    if (refusedDate(field)) return undefined
    return take(field, (text, column) => {
      const bare = /^\s*[\d.,]+\s*$/.test(text)
      const reading = readLength(bare && column.unit !== null ? `${text} ${column.unit}` : text, {
        units,
        as,
      })
      if (bare && reading.known && reading.how !== undefined && !reading.question)
        judged.push({ where, heading: named(column, field), found: text, how: reading.how })
      return reading
    })
  }

  /** 3-4 typed into a spreadsheet becomes 4 March: the size is gone, only a guess at it is left. */
  function refusedDate(field: 'size' | 'width' | 'height' | 'thickness'): boolean {
    const column = columns.for(field)
    const cell = cellAt(row, column)
    const date = cell.form === 'date' ? yearMonthDay(cell.text) : null
    if (column === undefined || date === null) return false
    const expected = 'a size kept as text, such as 3-0'
    const words = `the spreadsheet turned this into the date ${date.text}; was ${date.month}-${date.day} meant? Expected ${expected}.`
    problems.refuseSaying(where, named(column, field), cell.text, expected, words)
    return true
  }

  const leavesSaid = take('leaves', readLeaves)
  readDoorway(leavesSaid)

  const hand = take('hand', readHand)
  if (hand !== undefined) fields.hand = hand === null ? null : hand.hand
  const label = take('fireLabel', readFireLabel)
  if (label !== undefined)
    [fields.fireLabelMinutes, fields.fireLabelClass] =
      label === null ? [null, null] : [label.minutes, label.class]
  const installed = take('installedOn', readDay)
  if (installed !== undefined) fields.installedOn = installed

  const words = (field: TargetField): string | null | undefined => {
    const column = columns.for(field)
    if (column === undefined) return undefined
    const text = textAt(row, column)
    return saysNothing(text) ? null : text.slice(0, 20_000)
  }
  for (const field of textFields) {
    const text = words(field)
    if (text !== undefined) fields[field] = text
  }
  const placed = words('where')
  if (placed !== undefined) fields.whereText = placed
  for (const field of ['toRoom', 'fromRoom'] as const) {
    const text = words(field)
    if (text !== undefined) fields[field] = text === null ? null : roomOf(text)
  }
  const noteColumns = columns.allFor('notes')
  if (noteColumns.length > 0) {
    const notes = noteColumns.map((column) => textAt(row, column)).filter((text) => !saysNothing(text))
    fields.notes = notes.length === 0 ? null : notes.join('\n').slice(0, 20_000)
  }
  return fields

  function readDoorway(leaves: 1 | 2 | null | undefined): void {
    const size = refusedDate('size')
      ? undefined
      : take('size', (text) =>
          readSize(leaves === 2 && !saysNothing(text) ? `PR ${unpaired(text)}` : text, units),
        )
    const thickness = length('thickness', 'thickness')
    if (thickness !== undefined) fields.thicknessMicrometres = thickness
    if (size !== undefined && size !== null) {
      fields.leaves = leaves ?? size.leaves
      fields.widthMicrometres = size.widthMicrometres
      fields.heightMicrometres = size.heightMicrometres
      if (size.thicknessMicrometres !== null) fields.thicknessMicrometres = size.thicknessMicrometres
      return
    }
    const column = columns.for('width')
    const widthText = textAt(row, column).slice(0, longestRead)
    const height = length('height', 'doorHeight')
    // A whole size often stands under Width: 3070, or 3-0 x 7-0.
    if (
      column !== undefined &&
      (height === null || height === undefined) &&
      looksLikeSize(widthText, units)
    ) {
      const both = take('width', (text) => readSize(leaves === 2 ? `PR ${unpaired(text)}` : text, units))
      if (both !== undefined && both !== null) {
        fields.leaves = leaves ?? both.leaves
        fields.widthMicrometres = both.widthMicrometres
        fields.heightMicrometres = both.heightMicrometres
        return
      }
    }
    const paired = pairWord.test(widthText)
    const width = length('width', 'doorWidth')
    if (height !== undefined) fields.heightMicrometres = height
    if (width === null) fields.widthMicrometres = null
    if (size === null && column === undefined) fields.widthMicrometres = fields.heightMicrometres = null
    const said = leaves ?? (paired ? 2 : null)
    if (leaves !== undefined || paired) fields.leaves = said
    if (width !== null && width !== undefined && column !== undefined) {
      const doorway = judgeDoorway(width, said, column.ofLeaf ? 'each' : null, units)
      fields.leaves = doorway.leaves
      fields.widthMicrometres = doorway.widthMicrometres
      if (doorway.question !== null) problems.ask(where, named(column, 'width'), widthText, doorway.question)
    }
    for (const doubt of doubtsAboutSize(fields.widthMicrometres ?? null, height ?? null, units)) {
      const its = columns.for(doubt.field)
      if (its !== undefined) problems.ask(where, named(its, doubt.field), textAt(row, its), doubt.sentence)
    }
  }
}

const pairWord = /(?<![a-z])(?:prs?\.?|pair)(?![a-z])|\(2\)/i
const unpaired = (text: string): string => text.replace(pairWord, ' ')

/** Two sizes with an x between, or four digits that a width in feet and inches never has alone. */
const looksLikeSize = (text: string, units: Units): boolean =>
  /\d.*[x×].*\d/i.test(text) ||
  (units === 'imperial' && /^\d{4,5}$/.test(text) && readSize(text, units).known)

/** PR, pair, double, 2; SGL, single, 1. */
function readLeaves(text: string): Reading<1 | 2> {
  const word = tidy(text).toLowerCase().replace(/[().]/g, '').trim()
  if (/^(?:1|one|s|sgl|single|single leaf|1 leaf)$/.test(word)) return { known: true, value: 1 }
  if (/^(?:2|two|d|dbl|double|pr|prs|pair|2 leaves|double leaf|pair of leaves)$/.test(word))
    return { known: true, value: 2 }
  return {
    known: false,
    blank: saysNothing(text),
    isNot: 'a number of leaves',
    expected: '1 or 2, single or pair',
  }
}

function askAboutMixedUnits(judged: readonly Judged[], problems: Problems): void {
  for (const [, rows] of Map.groupBy(judged, (each) => each.heading)) {
    const counts = [...Map.groupBy(rows, (each) => each.how)].toSorted((a, b) => b[1].length - a[1].length)
    const [most, ...others] = counts
    for (const [how, odd] of others)
      for (const each of odd)
        problems.ask(
          each.where,
          each.heading,
          each.found,
          `"${each.found.trim()}" was ${how}, while most of this column was ${most?.[0] ?? ''}.`,
        )
  }
}

function askAboutDuplicates(
  openings: readonly UnderstoodOpening[],
  columns: Columns,
  problems: Problems,
): void {
  const keyOf = (each: UnderstoodOpening): string =>
    JSON.stringify([each.building, each.level, each.fields.mark].map((part) => sameKey(part ?? '')))
  for (const [, same] of Map.groupBy(openings, keyOf)) {
    if (same.length < 2) continue
    const rows = same.map((each) => each.row)
    for (const each of same)
      problems.ask(
        { row: each.row, place: each.place, called: `Row ${each.row}` },
        columns.for('mark')?.heading || 'Mark',
        each.fields.mark,
        `${each.fields.mark} stands ${same.length} times on ${each.level ?? 'this level'}, in rows ${rows.slice(0, 6).join(', ')}${rows.length > 6 ? ' and more' : ''}.`,
      )
  }
}

function levelsOf(openings: readonly UnderstoodOpening[]): UnderstoodLevel[] {
  const levels = new Map<string, UnderstoodLevel>()
  for (const { building, level } of openings) {
    if (level === null) continue
    const key = JSON.stringify([sameKey(building ?? ''), sameKey(level)])
    if (!levels.has(key)) levels.set(key, { building, name: level, elevationMetres: null, sourceId: null })
  }
  return [...levels.values()]
}
