// Volts, loading, batteries and what would put them right.
import { z } from 'zod'
import type {
  FeedRow,
  NetworkFeeds,
  OpeningFeed,
  OutputPage,
  PowerOverview,
  SupplyPage,
} from '../../power/index.ts'
import { call } from '../call.ts'
import type { MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

export interface PowerRead {
  readonly overview: PowerOverview
  readonly network: NetworkFeeds
}

/** Rows that differ since a version; `all` where the window starts anew. A null row has nothing to feed. */
export interface FeedRows {
  readonly version: number
  readonly all: boolean
  readonly rows: Readonly<Record<string, FeedRow | null>>
}

const scenario = z.strictObject({
  condition: z.enum(['nominal', 'lowest output', 'end of discharge', 'highest output']),
  moment: z.enum(['holding', 'worst moment']),
  celsius: z.number(),
})

export const powerContract = {
  'power.read': call(z.strictObject({}), told<PowerRead>()),
  'power.supply': call(z.strictObject({ supplyId: id }), told<SupplyPage>()),
  'power.output': call(z.strictObject({ outputId: id }), told<OutputPage>()),
  /** The sum of one device's volts, line by line. */
  'power.working': call(
    z.strictObject({ outputId: id, load: id, scenario }),
    told<{ readonly lines: readonly string[] }>(),
  ),
  /** What the schedule says of every opening's feed; `after` is the version a window has. */
  'power.feeds': call(z.strictObject({ after: z.int().nullable() }), told<FeedRows>()),
  'power.opening': call(z.strictObject({ openingId: id }), told<OpeningFeed>()),
  /** Sheets of some supplies or of all, all batteries with their working, or a riser diagram for each building. */
  'print.power': call(
    z.union([
      z.strictObject({ what: z.literal('supplies'), supplyIds: z.array(id).min(1).max(1000).nullable() }),
      z.strictObject({ what: z.literal('batteries') }),
      z.strictObject({ what: z.literal('risers') }),
    ]),
    told<MadeFile>(),
  ),
  'export.power': call(z.strictObject({ form: z.enum(['xlsx', 'csv']) }), told<MadeFile>()),
} as const
