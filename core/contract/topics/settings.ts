// Settings as designed, as set and as found.
import { z } from 'zod'
import type { BenchBatch, FittingSettings, SettingFinding } from '../../settings/index.ts'
import { call } from '../call.ts'
import type { MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

/** A batch without its fittings, which are asked for when somebody looks at it. */
export type BatchInShort = Omit<BenchBatch, 'fittings'> & { readonly fittingCount: number }

/** What a fitting's settings change in what its doorway does, as it stands against as it was designed. */
export interface SettingConsequence {
  readonly openingId: string
  /** "Fire alarm: was to be out free, now out held." */
  readonly sentences: readonly string[]
}

export interface SettingsOverview {
  readonly batches: readonly BatchInShort[]
  readonly findings: readonly SettingFinding[]
  readonly consequences: readonly SettingConsequence[]
}

export interface OpeningSettings {
  readonly fittings: readonly FittingSettings[]
  readonly findings: readonly SettingFinding[]
  readonly consequences: readonly string[]
}

export const settingsContract = {
  /** Of one level, or of the whole job. */
  'settings.read': call(z.strictObject({ levelId: id.nullable() }), told<SettingsOverview>()),
  'settings.batch': call(
    z.strictObject({ levelId: id.nullable(), key: z.string().max(20_000) }),
    told<{ readonly batch: BenchBatch | null }>(),
  ),
  'settings.opening': call(z.strictObject({ openingId: id }), told<OpeningSettings>()),
  /** A setting sheet for each of these openings, or a bench sheet by batches for all of a level or the job. */
  'print.settings': call(
    z.union([
      z.strictObject({ openingIds: z.array(id).min(1).max(10_000) }),
      z.strictObject({ benchOfLevelId: id.nullable() }),
    ]),
    told<MadeFile>(),
  ),
} as const
