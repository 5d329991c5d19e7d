// How much cable of each sort, with waste, and how many conductors to land.
import type { JobData } from '../job/index.ts'
import { conductorsOf } from './conductors.ts'
import type { Run } from './ends.ts'
import { levelNames } from './level-names.ts'
import { levelOf, runsInOrder } from './rows.ts'

/** Runs of one sort of cable: all of a job, or those of one level. */
export interface CableAmount {
  readonly runs: number
  /** Of the runs whose length is known. */
  readonly metres: number
  readonly withWasteMetres: number | null
  /** Runs that nobody measured; while there are any the metres are not the whole. */
  readonly withoutLength: number
}

export interface CableQuantity extends CableAmount {
  /** "18/2 plenum", or what its conductors come to. */
  readonly cable: string
  readonly conductorsEach: number | null
  readonly levels: readonly (CableAmount & { readonly levelId: string | null; readonly name: string })[]
}

export interface Quantities {
  readonly cables: readonly CableQuantity[]
  /** Null: nobody said how much is wasted. */
  readonly wastePercent: number | null
  readonly jobId: string
  /** The record that says how much; null where there is none yet. */
  readonly termsId: string | null
  readonly conductors: number
  /** Ends of conductors that are landed, and all of them. */
  readonly landedEnds: number
  readonly ends: number
}

/** As written on the run, else by its conductors. */
export function cableName(data: JobData, run: Run): string {
  const written = run.cable?.trim() ?? ''
  if (written !== '') return written
  const conductors = conductorsOf(data, run.id)
  if (conductors.length === 0) return 'cable not known'
  const sizes = [...new Set(conductors.map(({ size }) => size ?? 'size not known'))]
  return `${conductors.length} x ${sizes.join(' and ')}`
}

export function quantities(data: JobData): Quantities {
  const [terms] = [...data.all('jobTerms')]
  const wastePercent = terms?.cableWastePercent ?? null
  const amount = (runs: readonly Run[]): CableAmount => {
    const metres = runs.reduce((sum, { lengthMetres }) => sum + (lengthMetres ?? 0), 0)
    return {
      runs: runs.length,
      metres,
      withWasteMetres: wastePercent === null ? null : metres * (1 + wastePercent / 100),
      withoutLength: runs.filter(({ lengthMetres }) => lengthMetres === null).length,
    }
  }
  const runs = runsInOrder(data)
  const byCable = Map.groupBy(runs, (run) => cableName(data, run))
  const names = new Map<string | null, string>([...levelNames(data), [null, 'at no opening']])
  let [conductors, landedEnds] = [0, 0]
  for (const each of data.all('conductor')) {
    conductors += 1
    landedEnds += Number(each.fromTerminal !== null) + Number(each.toTerminal !== null)
  }
  return {
    wastePercent,
    jobId: data.job.id,
    termsId: terms?.id ?? null,
    conductors,
    landedEnds,
    ends: conductors * 2,
    cables: [...byCable]
      .map(([cable, all]): CableQuantity => {
        const counts = new Set(all.map((run) => conductorsOf(data, run.id).length))
        const byLevel = Map.groupBy(all, (run) => levelOf(data, run))
        return {
          cable,
          conductorsEach: counts.size === 1 ? ([...counts][0] ?? null) : null,
          ...amount(all),
          levels: [...names].flatMap(([levelId, name]) => {
            const there = byLevel.get(levelId)
            return there === undefined ? [] : [{ levelId, name, ...amount(there) }]
          }),
        }
      })
      .toSorted((one, other) => comparer.compare(one.cable, other.cable)),
  }
}

const comparer = new Intl.Collator('en', { numeric: true })
