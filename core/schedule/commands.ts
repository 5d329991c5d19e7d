// What a person may ask of a job, as plain values checked on arrival. `plan.ts` turns each into named edits.
import { z } from 'zod'
import { recordKinds, stages, type RecordKind } from '../job/index.ts'
import { columnKeys } from './column-keys.ts'

const id = z.string().min(1).max(64)
const name = z.string().min(1).max(400)
const wordsOrNull = z.string().max(20_000).nullable()
const kind = z.enum(recordKinds as [RecordKind, ...RecordKind[]])
/** Fields by name; `{ stamped }` is filled with who asks, or with when. Their shapes are those of the records. */
const fields = z.record(z.string().max(64), z.json().or(z.strictObject({ stamped: z.enum(['who', 'at']) })))
const ids = z.array(id).min(1).max(50_000)

const trades = {
  furnishedBy: wordsOrNull,
  fittedBy: wordsOrNull,
  wiredBy: wordsOrNull,
  terminatedBy: wordsOrNull,
}

export const cellText = z.strictObject({
  openingId: id,
  column: z.enum(columnKeys),
  text: z.string().max(20_000),
})

export const command = z.discriminatedUnion('does', [
  z.strictObject({
    does: z.literal('set cells'),
    how: z.enum(['type', 'paste', 'fill', 'clear']),
    cells: z.array(cellText).min(1).max(400_000),
    /** What becomes of the whole when some cells cannot be read: nothing is written, or only those are left out. */
    unreadable: z.enum(['refuse', 'leave out']),
  }),
  z.strictObject({
    does: z.literal('add openings'),
    levelId: id,
    firstMark: name.nullable(),
    count: z.int().min(1).max(1000),
  }),
  z.strictObject({ does: z.literal('duplicate openings'), openingIds: ids }),
  /** In the order given. */
  z.strictObject({ does: z.literal('renumber openings'), openingIds: ids, firstMark: name }),
  z.strictObject({ does: z.literal('move openings'), openingIds: ids, levelId: id }),
  z.strictObject({ does: z.literal('remove openings'), openingIds: ids }),
  z.strictObject({
    does: z.literal('set job'),
    fields: z
      .strictObject({
        name,
        number: wordsOrNull,
        client: wordsOrNull,
        address: wordsOrNull,
        preparedBy: wordsOrNull,
        units: z.enum(['imperial', 'metric']),
        dateForm: z.enum(['iso', 'local']),
        buildingCode: wordsOrNull,
        loadingLimitPercent: z.int().min(1).max(100),
        scheduleIssue: wordsOrNull,
        scheduleDate: z
          .string()
          .regex(/^\d{4}-\d\d-\d\d$/)
          .nullable(),
        notes: wordsOrNull,
      })
      .partial(),
  }),
  z.strictObject({ does: z.literal('add building'), name }),
  z.strictObject({ does: z.literal('rename building'), buildingId: id, name }),
  z.strictObject({ does: z.literal('remove building'), buildingId: id }),
  z.strictObject({ does: z.literal('add level'), buildingId: id, name }),
  z.strictObject({ does: z.literal('rename level'), levelId: id, name }),
  z.strictObject({ does: z.literal('move level'), levelId: id, by: z.union([z.literal(-1), z.literal(1)]) }),
  z.strictObject({ does: z.literal('remove level'), levelId: id }),
  z.strictObject({ does: z.literal('add typical'), name, likeTypicalId: id.nullable() }),
  z.strictObject({
    does: z.literal('set typical'),
    typicalId: id,
    fields: z.strictObject({ name, description: wordsOrNull, ...trades, notes: wordsOrNull }).partial(),
  }),
  z.strictObject({ does: z.literal('remove typical'), typicalId: id }),
  z.strictObject({ does: z.literal('add typical fitting'), typicalId: id, partId: id, tag: name.nullable() }),
  z.strictObject({
    does: z.literal('set typical fitting'),
    typicalFittingId: id,
    fields: z.strictObject({ tag: name, partId: id, ...trades, notes: wordsOrNull }).partial(),
  }),
  z.strictObject({ does: z.literal('remove typical fitting'), typicalFittingId: id }),
  z.strictObject({ does: z.literal('add fitting'), openingId: id, partId: id, tag: name.nullable() }),
  /** Of a typical's fitting (typicalFittingId) or one added here (fittingId). Null fields follow the typical again. */
  z.strictObject({
    does: z.literal('set fitting'),
    openingId: id,
    typicalFittingId: id.nullable(),
    fittingId: id.nullable(),
    fields: z
      .strictObject({
        tag: name.nullable(),
        partId: id.nullable(),
        leftOut: z.boolean(),
        ...trades,
        serial: wordsOrNull,
        notes: wordsOrNull,
      })
      .partial(),
  }),
  z.strictObject({ does: z.literal('remove fitting'), fittingId: id }),
  /** Who and when are filled in by the host. Null takes a word back. */
  z.strictObject({
    does: z.literal('set settings'),
    stage: z.enum(stages),
    /** Each of these values on each of its targets; no target stands in two of them. */
    sets: z
      .array(
        z.strictObject({
          values: z
            .array(z.strictObject({ settingId: id, value: z.string().min(1).max(400).nullable() }))
            .min(1)
            .max(200),
          targets: z
            .array(
              z.union([
                z.strictObject({ typicalFittingId: id }),
                z.strictObject({ openingId: id, fittingId: id }),
                z.strictObject({ openingId: id, followsTypicalFittingId: id }),
              ]),
            )
            .min(1)
            .max(50_000),
        }),
      )
      .min(1)
      .max(1000),
    visitId: id.nullable(),
  }),
  /** Records that need no plan of their own, as one change under the name given. New ids begin with `new:`. */
  z.strictObject({
    does: z.literal('change records'),
    name: z.string().min(1).max(200),
    add: z.array(z.strictObject({ kind, record: fields })).max(50_000),
    set: z.array(z.strictObject({ kind, id, fields })).max(50_000),
    remove: z.array(z.strictObject({ kind, id })).max(50_000),
  }),
])

export type Command = z.infer<typeof command>
export type CellText = z.infer<typeof cellText>

/** Why a command was not carried out: one cell or one deed, with a sentence naming row, field and what was expected. */
export interface CommandProblem {
  readonly openingId: string | null
  readonly column: (typeof columnKeys)[number] | null
  readonly sentence: string
}
