// Every run of a job as one line: what people type, what it comes to, and what is missing.
import type { JobData, Units } from '../job/index.ts'
import { cableLengthWords } from './length.ts'
import { conductorsOf } from './conductors.ts'
import { endName, endOf, openingAt, type KeptEnd, type Run } from './ends.ts'

export const runColumns = [
  'name',
  'from',
  'to',
  'cable',
  'count',
  'size',
  'stranded',
  'length',
  'notes',
] as const
export type RunColumn = (typeof runColumns)[number]

export interface RunQuestion {
  readonly column: RunColumn
  readonly words: string
}

export interface RunRow {
  readonly id: string
  readonly name: string
  readonly from: string
  readonly to: string
  readonly cable: string | null
  readonly count: number
  /** Null where nobody said it, or where they differ. */
  readonly size: string | null
  readonly stranded: boolean | null
  /** The conductors are not all alike. */
  readonly mixed: boolean
  readonly lengthMetres: number | null
  readonly notes: string | null
  /** Of the opening it goes to, else of the one it comes from. */
  readonly levelId: string | null
  /** The supply or controller it hangs on, over other fittings too; null where it hangs on none. */
  readonly sourceId: string | null
  readonly questions: readonly RunQuestion[]
}

/** Longer than this is asked about: about 500 ft, common practice, no source. */
export const askAboveMetres = 152.4

export const inOrder = (
  one: { position: number; id: string },
  other: { position: number; id: string },
): number => one.position - other.position || (one.id < other.id ? -1 : one.id > other.id ? 1 : 0)

export const runsInOrder = (data: JobData): Run[] => [...data.all('run')].toSorted(inOrder)

export const runRows = (data: JobData): RunRow[] => runsInOrder(data).map((run) => runRow(data, run))

export function runRow(data: JobData, run: Run): RunRow {
  const [from, to] = [endOf(run, 'from'), endOf(run, 'to')]
  const conductors = conductorsOf(data, run.id)
  const [first] = conductors
  const mixed = conductors.some(({ size, stranded }) => size !== first?.size || stranded !== first?.stranded)
  const row = {
    id: run.id as string,
    name: run.name,
    from: endName(data, from),
    to: endName(data, to),
    cable: run.cable,
    count: conductors.length,
    size: mixed ? null : (first?.size ?? null),
    stranded: mixed ? null : (first?.stranded ?? null),
    mixed,
    lengthMetres: run.lengthMetres,
    notes: run.notes,
    levelId: levelOf(data, run),
    sourceId: sourceOf(data, run)?.id ?? null,
  }
  return { ...row, questions: questionsOf(row, data.job.units) }
}

/** The level of the opening a run goes to, else of the one it comes from; null where it is at no opening. */
export const levelOf = (data: JobData, run: Run): string | null =>
  (openingAt(data, endOf(run, 'to')) ?? openingAt(data, endOf(run, 'from')))?.levelId ?? null

export interface Source {
  readonly form: 'supply' | 'controller'
  readonly id: string
  readonly mark: string
}

function sourceAt(data: JobData, end: KeptEnd): Source | null {
  const supply =
    end.at === 'output' ? data.get('supply', data.get('output', end.id)?.supplyId ?? '') : undefined
  if (supply !== undefined) return { form: 'supply', id: supply.id, mark: supply.mark }
  const controller = end.at === 'controller' ? data.get('controller', end.id) : undefined
  return controller === undefined ? null : { form: 'controller', id: controller.id, mark: controller.mark }
}

/** Whether a run comes from a supply or a controller itself, at either end. */
export const sourceAtEnd = (data: JobData, run: Run): Source | null =>
  sourceAt(data, endOf(run, 'from')) ?? sourceAt(data, endOf(run, 'to'))

/** The supply or controller a run hangs on, followed upstream from fitting to fitting. */
export function sourceOf(data: JobData, run: Run): Source | null {
  const seen = new Set<string>()
  let at: Run | undefined = run
  while (at !== undefined && !seen.has(at.id)) {
    seen.add(at.id)
    const source = sourceAtEnd(data, at)
    if (source !== null) return source
    const before: KeptEnd = endOf(at, 'from')
    at =
      before.at === 'fitting'
        ? data
            .referring('run', 'toFittingId', before.id)
            .toSorted(inOrder)
            .find((each) => endOf(each, 'from').at !== 'controller')
        : undefined
  }
  return null
}

function questionsOf(row: Omit<RunRow, 'questions'>, units: Units): RunQuestion[] {
  const found: RunQuestion[] = []
  const { name, lengthMetres } = row
  if (row.from === '') found.push({ column: 'from', words: `Where does ${name} come from?` })
  if (row.to === '') found.push({ column: 'to', words: `Where does ${name} go to?` })
  if (row.count === 0) found.push({ column: 'count', words: `How many conductors has ${name}?` })
  else if (row.size === null && !row.mixed)
    found.push({ column: 'size', words: `Which size are the conductors of ${name}?` })
  else if (row.stranded === null && !row.mixed)
    found.push({ column: 'stranded', words: `Are the conductors of ${name} solid or stranded?` })
  if (lengthMetres === null) found.push({ column: 'length', words: `How long is ${name}?` })
  else if (lengthMetres > askAboveMetres)
    found.push({
      column: 'length',
      words: `Is ${name} really ${cableLengthWords(lengthMetres, units)} long? More than ${cableLengthWords(askAboveMetres, units)} is asked about.`,
    })
  else if (lengthMetres === 0) found.push({ column: 'length', words: `Is ${name} really of no length?` })
  return found
}
