// Where holes go, and in which order things are fitted.
import { z } from 'zod'
import type { ElevationInput } from '../../documents/index.ts'
import type { JobRecord } from '../../job/index.ts'
import type { FittingPlacement, Preparations } from '../../preparation/index.ts'
import { call } from '../call.ts'
import type { MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

export interface OpeningPreparation {
  readonly result: Preparations
  /** With its fittings placed, seen from the egress side. */
  readonly elevation: ElevationInput
  readonly placements: readonly FittingPlacement[]
  readonly frame: JobRecord<'openingFrame'> | null
}

export const preparationSheetNames = ['preparation', 'template', 'fitting'] as const
export type PreparationSheetName = (typeof preparationSheetNames)[number]

export const preparationContract = {
  'preparation.opening': call(z.strictObject({ openingId: id }), told<OpeningPreparation>()),
  /** Of these openings, or of a level, or of the job (null); all fittings with a pattern, or what may be drilled. */
  'print.preparation': call(
    z.strictObject({
      sheet: z.enum(preparationSheetNames),
      of: z.union([
        z.strictObject({ openingIds: z.array(id).min(1).max(10_000) }),
        z.strictObject({ levelId: id.nullable() }),
      ]),
      only: z.enum(['all', 'what may be drilled']),
    }),
    told<MadeFile>(),
  ),
} as const
