// One run by itself: its conductors with their terminals, the way from its source, and what hangs on it.
import type { ConductorRole, JobData } from '../job/index.ts'
import { conductorsOf, conductorUseOf } from './conductors.ts'
import { endOf, fittingName, type Run } from './ends.ts'
import { inOrder, runRow, sourceAtEnd, sourceOf, type RunRow } from './rows.ts'

export interface ConductorPage {
  readonly id: string
  readonly position: number
  readonly colour: string | null
  readonly size: string | null
  readonly stranded: boolean | null
  readonly purpose: string | null
  readonly role: ConductorRole | null
  /** The record that says its role; null where it was read from the purpose, or is not known. */
  readonly useId: string | null
  readonly fromTerminal: string | null
  readonly toTerminal: string | null
}

export interface RunPage {
  readonly row: RunRow
  readonly conductors: readonly ConductorPage[]
  /** "PS3", "AC1"; null where it hangs on neither. */
  readonly sourceMark: string | null
  /** Runs from the source to this one and it, in order; only it where the source is not known. */
  readonly way: readonly { readonly name: string; readonly metres: number | null }[]
  /** Null where a length on the way is not known. */
  readonly totalMetres: number | null
  /** Fittings it goes to and those fed onward from there. */
  readonly feeds: readonly string[]
  /** Points of the controller at its fitting. */
  readonly points: readonly string[]
}

export function runPage(data: JobData, runId: string): RunPage | null {
  const run = data.get('run', runId)
  if (run === undefined) return null
  const way = wayTo(data, run)
  const lengths = way.map(({ lengthMetres }) => lengthMetres)
  return {
    row: runRow(data, run),
    conductors: conductorsOf(data, run.id).map((each) => {
      const { role } = conductorUseOf(data, each)
      const [use] = data.referring('conductorUse', 'conductorId', each.id)
      const { id, position, colour, size, stranded, purpose, fromTerminal, toTerminal } = each
      return {
        id,
        position,
        colour,
        size,
        stranded,
        purpose,
        role,
        useId: use?.id ?? null,
        fromTerminal,
        toTerminal,
      }
    }),
    sourceMark: sourceOf(data, run)?.mark ?? null,
    way: way.map(({ name, lengthMetres }) => ({ name, metres: lengthMetres })),
    totalMetres: lengths.reduce<number | null>(
      (sum, metres) => (sum === null || metres === null ? null : sum + metres),
      0,
    ),
    feeds: fedFrom(data, run),
    points: pointsOn(data, run),
  }
}

const isOfController = (run: Run): boolean => run.fromControllerId !== null || run.toControllerId !== null

/** The runs from the source to this one. */
function wayTo(data: JobData, run: Run): readonly Run[] {
  const way = [run]
  for (let [at] = way; at !== undefined && sourceAtEnd(data, at) === null; at = way[0]) {
    const from = endOf(at, 'from')
    if (from.at !== 'fitting') break
    const before = data
      .referring('run', 'toFittingId', from.id)
      .toSorted(inOrder)
      .find((each) => !isOfController(each) && !way.includes(each))
    if (before === undefined) break
    way.unshift(before)
  }
  return way
}

function fedFrom(data: JobData, run: Run): readonly string[] {
  const to = endOf(run, 'to')
  if (to.at !== 'fitting') return []
  const found = new Set<string>([to.id])
  if (!isOfController(run))
    // A set that grows while it is walked: each fitting is visited once.
    for (const at of found)
      for (const { toFittingId } of data
        .referring('run', 'fromFittingId', at)
        .filter((each) => !isOfController(each))
        .toSorted(inOrder))
        if (toFittingId !== null) found.add(toFittingId)
  return [...found].map((id) => fittingName(data, id))
}

function pointsOn(data: JobData, run: Run): readonly string[] {
  const controllerId = run.fromControllerId ?? run.toControllerId
  const fittingId = run.fromFittingId ?? run.toFittingId
  if (controllerId === null || fittingId === null) return []
  return data
    .referring('point', 'fittingId', fittingId)
    .filter((point) => point.controllerId === controllerId)
    .toSorted(inOrder)
    .map(({ name }) => name)
}

/** The runs with an end at a fitting of this opening, in their order. */
export const runsAtOpening = (data: JobData, openingId: string): RunRow[] => {
  const found = new Set<Run>()
  for (const { id } of data.referring('fitting', 'openingId', openingId))
    for (const run of [
      ...data.referring('run', 'toFittingId', id),
      ...data.referring('run', 'fromFittingId', id),
    ])
      found.add(run)
  return [...found].toSorted(inOrder).map((run) => runRow(data, run))
}
