// The parts and typicals a new job starts with: records in the twin's form, without a job.
import { z } from 'zod'
import { recordKinds, records, type JobRecord, type RecordKind } from '../job/index.ts'

/** Records by kind; kinds the library does not have are absent. */
export type Library = { readonly [K in RecordKind]?: readonly JobRecord<K>[] }

const kindName = z.enum(recordKinds as [RecordKind, ...RecordKind[]])
const envelope = z.strictObject({
  format: z.literal('lintelbook library'),
  version: z.literal(1),
  records: z.partialRecord(kindName, z.array(z.unknown())),
  /** Of the twin's form; a library has neither. */
  attachments: z.strictObject({}),
  history: z.tuple([]),
})

/** Reads a library that comes with the program; throws when it is not one, which is a fault of the program. */
export function readLibrary(text: string): Library {
  const { records: kinds } = envelope.parse(JSON.parse(text))
  const library: Partial<Record<RecordKind, unknown[]>> = {}
  for (const kind of recordKinds) {
    const rows = kinds[kind]
    if (rows !== undefined) library[kind] = rows.map((row) => records[kind].parse(row))
  }
  return library as Library
}
