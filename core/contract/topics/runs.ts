// Runs, conductors, controllers, points and their loops.
import { z } from 'zod'
import { labelStocks } from '../../documents/index.ts'
import {
  runColumns,
  type CableKind,
  type ControllerInShort,
  type PointPage,
  type Quantities,
  type RecordsChange,
  type RouteTable,
  type RunPage,
  type RunProblem,
  type RunRow,
  type Source,
  type TagToWire,
  type WiringFinding,
} from '../../runs/index.ts'
import { call } from '../call.ts'
import type { MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

export interface RunsOverview {
  readonly rows: readonly RunRow[]
  readonly kinds: readonly string[]
  readonly sources: readonly Source[]
  readonly findings: readonly WiringFinding[]
  /** Empty lengths that the routes say, and those they do not. */
  readonly fillable: number
  readonly withoutRoute: number
}

/** Where new runs may start. */
export interface StartToChoose {
  readonly at: 'output' | 'controller'
  readonly id: string
  readonly name: string
}

export interface CablesPage {
  readonly kinds: readonly CableKind[]
  readonly routes: RouteTable
  readonly quantities: Quantities
}

/** A change for the window to ask for; null where there is nothing to change. */
export interface PlannedChange {
  readonly command: RecordsChange | null
}

const nothing = z.strictObject({})
const start = z.strictObject({ at: z.enum(['output', 'controller']), id })
const openingIds = z.array(id).max(50_000)
const stockKeys = labelStocks.map(({ key }) => key)

/** The lists that are written as workbook or CSV, and printed. */
export const runLists = ['cables', 'conductors', 'points', 'quantities'] as const

export const runsContract = {
  'runs.read': call(nothing, told<RunsOverview>()),
  'runs.run': call(z.strictObject({ runId: id }), told<{ readonly page: RunPage | null }>()),
  /** Typed or pasted cells as a change, with a sentence for each that could not be read. */
  'runs.type': call(
    z.strictObject({
      cells: z
        .array(z.strictObject({ rowKey: id, column: z.enum(runColumns), text: z.string().max(20_000) }))
        .min(1)
        .max(200_000),
      how: z.enum(['type', 'paste', 'fill', 'clear']),
      unreadable: z.enum(['refuse', 'leave out']),
    }),
    told<PlannedChange & { readonly problems: readonly RunProblem[] }>(),
  ),
  'runs.starts': call(nothing, told<{ readonly starts: readonly StartToChoose[] }>()),
  'runs.tags': call(z.strictObject({ openingIds, start }), told<{ readonly tags: readonly TagToWire[] }>()),
  'runs.add': call(
    z.strictObject({
      openingIds,
      start,
      tags: z.array(z.string().max(400)).max(1000),
      cableKindId: id.nullable(),
      fillLengths: z.boolean(),
    }),
    told<PlannedChange>(),
  ),
  'runs.fill': call(nothing, told<PlannedChange>()),
  'runs.controllers': call(
    nothing,
    told<{
      readonly controllers: readonly ControllerInShort[]
      readonly findings: readonly WiringFinding[]
    }>(),
  ),
  'runs.points': call(
    z.strictObject({ controllerId: id }),
    told<{ readonly points: readonly PointPage[] }>(),
  ),
  'runs.wirePoint': call(z.strictObject({ pointId: id, text: z.string().max(400) }), told<PlannedChange>()),
  'runs.cables': call(nothing, told<CablesPage>()),
  'runs.opening': call(
    z.strictObject({ openingId: id }),
    told<{ readonly runs: readonly RunRow[]; readonly points: readonly PointPage[] }>(),
  ),
  'print.runs': call(
    z.union([
      /** Grouped by level, or by supply and controller. */
      z.strictObject({ list: z.literal('cables'), by: z.enum(['level', 'source']) }),
      z.strictObject({ list: z.literal('points'), controllerId: id.nullable() }),
      z.strictObject({ list: z.literal('quantities') }),
    ]),
    told<MadeFile>(),
  ),
  /** Two labels for each run: one for each end. */
  'print.cableLabels': call(
    z.strictObject({
      runIds: z.array(id).max(50_000),
      stock: z.enum(stockKeys as [string, ...string[]]),
      startAt: z.int().min(1).max(200),
    }),
    told<MadeFile>(),
  ),
  'export.runs': call(
    z.strictObject({ list: z.enum(runLists), form: z.enum(['xlsx', 'csv']) }),
    told<MadeFile>(),
  ),
} as const
