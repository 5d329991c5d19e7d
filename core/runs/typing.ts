// Typed and pasted cells of the run list as one change. What cannot be read is a sentence naming row, field and what was expected.
import {
  counted,
  readWireSize,
  saysNothing,
  sentenceAbout,
  writeWireSize,
  type JobData,
} from '../job/index.ts'
import {
  addConductors,
  cableKindsOf,
  conductorsOf,
  conform,
  readCableShort,
  wantedByKind,
  type CableKind,
  type Wanted,
} from './conductors.ts'
import {
  endFields,
  endName,
  endOf,
  endReader,
  fittingMaker,
  type EndRead,
  type FittingMaker,
  type KeptEnd,
  type Run,
  type RunEnd,
} from './ends.ts'
import { readCableLength } from './length.ts'
import { changeBuilder, type ChangeBuilder, type RecordsChange } from './records-change.ts'
import { runColumns, type RunColumn } from './rows.ts'

/** One typed cell. A row that is not there yet is named by a key that begins with `blank`. */
export interface RunCell {
  readonly rowKey: string
  readonly column: RunColumn
  readonly text: string
}

export interface RunProblem {
  readonly rowKey: string
  readonly column: RunColumn
  readonly sentence: string
}

export interface RunsTyped {
  /** Null where nothing would change, or something could not be read and the whole was to be refused. */
  readonly command: RecordsChange | null
  readonly problems: readonly RunProblem[]
}

export const runHeadings: Readonly<Record<RunColumn, string>> = {
  name: 'name',
  from: 'from',
  to: 'to',
  cable: 'cable',
  count: 'conductors',
  size: 'size',
  stranded: 'solid or stranded',
  length: 'length',
  notes: 'notes',
}

export type TypedHow = 'type' | 'paste' | 'fill' | 'clear'

export const isBlankRow = (rowKey: string): boolean => rowKey.startsWith('blank ')
const blankRowNumber = (rowKey: string): number => Number(rowKey.slice('blank '.length))

/** What the cells of one row say, as far as they could be read. Left out is untouched; null is emptied. */
interface Said {
  name?: string | null
  from?: RunEnd
  to?: RunEnd
  cable?: string | null
  kind?: CableKind
  count?: number | null
  size?: string | null
  stranded?: boolean | null
  lengthMetres?: number | null
  notes?: string | null
}

/** Plans the cells. With `refuse`, one that cannot be read leaves everything as it is. */
export function typeRuns(
  data: JobData,
  cells: readonly RunCell[],
  how: TypedHow,
  unreadable: 'refuse' | 'leave out',
): RunsTyped {
  const change = changeBuilder()
  const makeFitting = fittingMaker(data, change)
  const readEnd = endReader(data)
  const kinds = new Map(cableKindsOf(data).map((kind) => [kind.name.trim().toLowerCase(), kind]))
  const problems: RunProblem[] = []
  let added = 0
  const rows = [...Map.groupBy(cells, ({ rowKey }) => rowKey)].toSorted(([one], [other]) =>
    isBlankRow(one) && isBlankRow(other) ? blankRowNumber(one) - blankRowNumber(other) : 0,
  )
  let position = nextPosition(data)
  for (const [rowKey, ofRow] of rows) {
    const run = data.get('run', rowKey)
    if (run === undefined && !isBlankRow(rowKey)) continue
    const rowName = run?.name ?? `New row ${blankRowNumber(rowKey)}`
    const problem = (column: RunColumn, words: string): void => {
      problems.push({ rowKey, column, sentence: `${rowName}, ${runHeadings[column]}: ${words}` })
    }
    const said = readCells(data, ofRow, kinds, readEnd, problem)
    if (run === undefined) {
      if (addRun(data, change, makeFitting, said, position, problem)) {
        position += 1
        added += 1
      }
    } else setRun(data, change, makeFitting, run, said, problem)
  }
  if (problems.length > 0 && unreadable === 'refuse') return { command: null, problems }
  return { command: change.done(nameOf(data, cells, how, added, rows.length)), problems }
}

const nextPosition = (data: JobData): number => {
  let last = -1
  for (const { position } of data.all('run')) if (position > last) last = position
  return last + 1
}

const doingWords: Readonly<Record<TypedHow, string>> = {
  type: 'Set',
  paste: 'Paste',
  fill: 'Fill down',
  clear: 'Clear',
}

function nameOf(
  data: JobData,
  cells: readonly RunCell[],
  how: TypedHow,
  added: number,
  rows: number,
): string {
  if (added > 0)
    return rows === added
      ? `Add ${counted(added, 'run')}`
      : `${doingWords[how]} ${counted(rows, 'run')}, ${added} of them new`
  const [first] = cells
  const columns = new Set(cells.map(({ column }) => column))
  const what = columns.size === 1 && first !== undefined ? runHeadings[first.column] : 'cells'
  const of = rows === 1 ? (data.get('run', first?.rowKey ?? '')?.name ?? 'a run') : counted(rows, 'run')
  return `${doingWords[how]} ${what} of ${of}`
}

type Problem = (column: RunColumn, words: string) => void

function readCells(
  data: JobData,
  cells: readonly RunCell[],
  kinds: ReadonlyMap<string, CableKind>,
  readEnd: (text: string) => EndRead,
  problem: Problem,
): Said {
  const said: Said = {}
  // In the order of the columns, because a kind comes before a count of its own.
  for (const column of runColumns) {
    const cell = cells.find((each) => each.column === column)
    if (cell === undefined) continue
    const text = cell.text.trim()
    const isEmpty = text === ''
    switch (column) {
      case 'name':
      case 'notes':
        said[column] = isEmpty ? null : text
        break
      case 'from':
      case 'to': {
        const read = readEnd(text)
        if (read.ok) said[column] = read.end
        else problem(column, read.words)
        break
      }
      case 'cable': {
        said.cable = isEmpty ? null : text
        const kind = kinds.get(text.toLowerCase())
        if (kind !== undefined) {
          said.kind = kind
          said.cable = kind.name
        }
        break
      }
      case 'count': {
        const count = Number(text)
        if (saysNothing(text)) said.count = null
        else if (Number.isInteger(count) && count >= 1 && count <= 200) said.count = count
        else problem(column, `“${text}” is no number of conductors; expected a whole number from 1 to 200.`)
        break
      }
      case 'size': {
        const read = readWireSize(text)
        if (read.known) said.size = writeWireSize(read.value)
        else if (read.blank) said.size = null
        else problem(column, sentenceAbout(text, read))
        break
      }
      case 'stranded': {
        const word = text.toLowerCase()
        if (isEmpty) said.stranded = null
        else if (word.startsWith('str')) said.stranded = true
        else if (word.startsWith('sol')) said.stranded = false
        else problem(column, `“${text}” is neither; expected solid or stranded.`)
        break
      }
      case 'length': {
        const read = readCableLength(text, data.job.units)
        if (read.known) said.lengthMetres = read.value
        else if (read.blank) said.lengthMetres = null
        else problem(column, sentenceAbout(text, read))
        break
      }
    }
  }
  return said
}

/** What the cells ask of the conductors, over what the kind or the short form says; null where they ask nothing. */
function wantedBy(said: Said, before: Wanted | null): Wanted | null {
  const short = said.cable == null || said.kind !== undefined ? null : readCableShort(said.cable)
  const base: Wanted | null =
    said.kind !== undefined
      ? wantedByKind(said.kind)
      : before === null && short !== null
        ? { ...short, colours: [] }
        : before
  if (said.count === undefined && said.size === undefined && said.stranded === undefined)
    return base === before ? null : base
  const count = said.count === undefined ? (base?.count ?? 0) : (said.count ?? 0)
  return {
    count,
    size: said.size === undefined ? (base?.size ?? null) : said.size,
    stranded: said.stranded === undefined ? (base?.stranded ?? null) : said.stranded,
    colours: base?.colours ?? [],
  }
}

/** True where a run was added; a row that says nothing adds none. */
function addRun(
  data: JobData,
  change: ChangeBuilder,
  makeFitting: FittingMaker,
  said: Said,
  position: number,
  problem: Problem,
): boolean {
  if (Object.values(said).every((value) => value === null || isNothing(value))) return false
  const from = said.from ?? { at: 'nothing' }
  const to = said.to ?? { at: 'nothing' }
  const wanted = wantedBy(said, null)
  if (wanted !== null && wanted.count === 0 && (wanted.size !== null || wanted.stranded !== null))
    problem(
      'count',
      'nothing was given; expected how many conductors there are, or a cable kind that says so.',
    )
  const ends = {
    ...endFields('from', from, makeFitting),
    ...endFields('to', to, makeFitting),
  }
  const runId = change.add('run', {
    name: said.name ?? usualName(data, from, to),
    position,
    ...ends,
    cable: said.cable ?? null,
    lengthMetres: said.lengthMetres ?? null,
    notes: said.notes ?? null,
  })
  if (wanted !== null) addConductors(change, runId, [from, to], wanted)
  return true
}

const isNothing = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && 'at' in value && value.at === 'nothing'

/** A run nobody named is called after where it goes: "118 M1", "PS1 output 2 to AC1". */
export function usualName(data: JobData, from: RunEnd, to: RunEnd): string {
  const [one, other] = [nameOfEnd(data, from), nameOfEnd(data, to)]
  if (to.at === 'fitting' || to.at === 'slot')
    return from.at === 'controller' ? `${other} to ${one}` : `${other} feed`
  return [one, other].filter((each) => each !== '').join(' to ') || 'New run'
}

function nameOfEnd(data: JobData, end: RunEnd): string {
  if (end.at !== 'slot') return endName(data, end)
  const mark = data.get('opening', end.openingId)?.mark ?? '?'
  return `${mark} ${data.get('typicalFitting', end.typicalFittingId)?.tag ?? '?'}`
}

function setRun(
  data: JobData,
  change: ChangeBuilder,
  makeFitting: FittingMaker,
  run: Run,
  said: Said,
  problem: Problem,
): void {
  if (said.name === null) {
    problem('name', 'nothing was given; expected what the run is called.')
    return
  }
  const fields = {
    ...(said.name === undefined ? {} : { name: said.name }),
    ...(said.from === undefined ? {} : endFields('from', said.from, makeFitting)),
    ...(said.to === undefined ? {} : endFields('to', said.to, makeFitting)),
    ...(said.cable === undefined ? {} : { cable: said.cable }),
    ...(said.lengthMetres === undefined ? {} : { lengthMetres: said.lengthMetres }),
    ...(said.notes === undefined ? {} : { notes: said.notes }),
  }
  if (Object.keys(fields).length > 0) change.set('run', run.id, fields)
  setConductors(data, change, run, said, problem)
}

function setConductors(data: JobData, change: ChangeBuilder, run: Run, said: Said, problem: Problem): void {
  const there = conductorsOf(data, run.id)
  const [first] = there
  const before: Wanted | null =
    first === undefined
      ? null
      : {
          count: there.length,
          size: first.size,
          stranded: first.stranded,
          colours: there.map(({ colour }) => colour ?? ''),
        }
  const wanted = wantedBy(said, before)
  if (wanted === null) return
  if (wanted.count === 0 && (wanted.size !== null || wanted.stranded !== null) && there.length === 0) {
    problem(
      'count',
      'nothing was given; expected how many conductors there are, or a cable kind that says so.',
    )
    return
  }
  const ends: readonly [KeptEnd, KeptEnd] = [endOf(run, 'from'), endOf(run, 'to')]
  const colours = said.kind === undefined ? [] : wanted.colours
  const isKind = said.kind !== undefined
  const landed = conform(
    data,
    change,
    { id: run.id, ends },
    { ...wanted, colours },
    { size: isKind || said.size !== undefined, stranded: isKind || said.stranded !== undefined },
  )
  if (landed > 0)
    problem(
      said.count === undefined ? 'cable' : 'count',
      `${counted(landed, 'conductor')} more than ${wanted.count} ${landed === 1 ? 'is' : 'are'} landed on terminals; clear those terminals first.`,
    )
}
