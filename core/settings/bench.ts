// What is to be set on the bench over the whole job: fittings of one part that are set alike are one batch.
import { effectiveFittings, type JobData, type Opening } from '../job/index.ts'
import { partBook, type PartBook } from './part-settings.ts'
import type { SettingTarget } from './plan-setting.ts'
import { fittingSettings, type FittingSettings, type SettingState } from './settings-of.ts'

/** How far a fitting is: nothing noted, some of it, all as designed, or something noted otherwise. */
export type BenchState = 'not set' | 'partly set' | 'as designed' | 'differs'

export interface BenchFitting {
  readonly openingId: string
  readonly mark: string
  readonly levelId: string
  readonly tag: string
  readonly serial: string | null
  readonly target: SettingTarget
  readonly state: BenchState
  /** "Hold time set to 2 s on 2026-01-20 by Bench 2": what stands otherwise, or null. */
  readonly otherwise: string | null
}

export interface BenchChoice {
  readonly settingId: string
  readonly name: string
  /** Null: nobody designed it yet. */
  readonly choose: string | null
}

/** Fittings of one part that are designed alike. */
export interface BenchBatch {
  readonly key: string
  readonly partId: string
  readonly partName: string
  readonly partModel: string | null
  readonly choices: readonly BenchChoice[]
  readonly counts: Readonly<Record<BenchState, number>>
  readonly fittings: readonly BenchFitting[]
}

/** Batches by part name, larger ones first within a part. `openings` are those asked about. */
export function benchBatches(
  data: JobData,
  openings: Iterable<Opening>,
  book: PartBook = partBook(data),
): BenchBatch[] {
  const batches = new Map<string, { of: FittingSettings; fittings: BenchFitting[] }>()
  for (const opening of openings)
    for (const each of effectiveFittings(data, opening)) {
      const { part, slot, fitting } = each
      if (each.leftOut || part === null || book(part.id).settings.length === 0) continue
      const of = fittingSettings(data, book, {
        openingId: opening.id,
        fittingId: fitting?.id ?? null,
        typicalFittingId: slot?.id ?? null,
        tag: each.tag,
        partId: part.id,
        serial: each.serial,
      })
      const key = batchKey(part.id, of.settings)
      const batch = batches.get(key) ?? { of, fittings: [] }
      batches.set(key, batch)
      batch.fittings.push(benchFitting(opening, of, targetOf(opening, of)))
    }
  return [...batches].map(([key, { of, fittings }]) => batchOf(key, of, fittings)).toSorted(inOrder)
}

const designedOf = ({ designed }: SettingState): string | null => (designed.known ? designed.value : null)

const batchKey = (partId: string, settings: readonly SettingState[]): string =>
  JSON.stringify([partId, ...settings.map(designedOf)])

/** A fitting that only follows its typical has no record yet, and is named by what it follows. */
function targetOf(opening: Opening, of: FittingSettings): SettingTarget {
  return of.fittingId === null
    ? { openingId: opening.id, followsTypicalFittingId: of.typicalFittingId ?? '' }
    : { openingId: opening.id, fittingId: of.fittingId }
}

function benchFitting(opening: Opening, of: FittingSettings, target: SettingTarget): BenchFitting {
  const otherwise = of.settings.flatMap(({ differences }) => differences.map(({ words }) => words))
  const noted = of.settings.filter(({ standing }) => standing.known).length
  const state: BenchState =
    otherwise.length > 0
      ? 'differs'
      : noted === 0
        ? 'not set'
        : noted < of.settings.length
          ? 'partly set'
          : 'as designed'
  return {
    openingId: opening.id,
    mark: opening.mark,
    levelId: opening.levelId,
    tag: of.tag,
    serial: of.serial,
    target,
    state,
    otherwise: otherwise.length === 0 ? null : otherwise.join(' '),
  }
}

function batchOf(key: string, of: FittingSettings, fittings: readonly BenchFitting[]): BenchBatch {
  const counts = { 'not set': 0, 'partly set': 0, 'as designed': 0, differs: 0 }
  for (const { state } of fittings) counts[state] += 1
  return {
    key,
    partId: of.partId ?? '',
    partName: of.partName ?? '',
    partModel: of.partModel,
    choices: of.settings.map((each) => ({
      settingId: each.setting.id,
      name: each.setting.name,
      choose: designedOf(each),
    })),
    counts,
    fittings,
  }
}

const comparer = new Intl.Collator('en', { numeric: true })
const inOrder = (one: BenchBatch, other: BenchBatch): number =>
  comparer.compare(one.partName, other.partName) ||
  other.fittings.length - one.fittings.length ||
  (one.key < other.key ? -1 : 1)
