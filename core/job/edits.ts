// Changes as values: each can be carried out, taken back, written down and named.
import type { JobData } from './job-data.ts'
import { recordKinds, references, type JobRecord, type RecordKind } from './records.ts'

type Fields = Readonly<Record<string, unknown>>

/** One record added, some fields set, or one record removed. Holds what it needs to be taken back. */
export type Edit =
  | { readonly does: 'add'; readonly kind: RecordKind; readonly record: Fields }
  | {
      readonly does: 'set'
      readonly kind: RecordKind
      readonly id: string
      readonly from: Fields
      readonly to: Fields
    }
  | { readonly does: 'remove'; readonly kind: RecordKind; readonly record: Fields }

/** Edits that belong together, under the name that undo shows: "Set hand of 3 openings". */
export interface Change {
  readonly name: string
  readonly edits: readonly Edit[]
}

export const addRecord = <K extends RecordKind>(kind: K, record: JobRecord<K>): Edit => ({
  does: 'add',
  kind,
  record: record as Fields,
})

/** Sets the fields that really differ; null when none does. A field of undefined says nothing and is left alone. */
export function setFields<K extends RecordKind>(
  kind: K,
  before: JobRecord<K>,
  to: Partial<JobRecord<K>>,
): Edit | null {
  const from: Record<string, unknown> = {}
  const differing: Record<string, unknown> = {}
  for (const [field, value] of Object.entries(to)) {
    const old = (before as Fields)[field]
    if (value === undefined) continue
    if (old === value || JSON.stringify(old) === JSON.stringify(value)) continue
    from[field] = old
    differing[field] = value
  }
  if (Object.keys(differing).length === 0) return null
  return { does: 'set', kind, id: (before as Fields)['id'] as string, from, to: differing }
}

/** The removal of a record with all that goes with it. `refusedBy` names a record that still needs it. */
export interface Removal {
  readonly edits: readonly Edit[]
  readonly refusedBy: { readonly kind: RecordKind; readonly id: string } | null
}

/** Removes records of one kind: their own children first, other records forget them. Nothing vanishes unjournalled. */
export function removeRecords(data: JobData, kind: RecordKind, ids: readonly string[]): Removal {
  const gone = new Map<string, { kind: RecordKind; id: string }>()
  const collect = (each: RecordKind, id: string): void => {
    const key = `${each} ${id}`
    if (gone.has(key)) return
    if (data.get(each, id) === undefined) throw new Error(`no ${each} ${id} to remove`)
    gone.set(key, { kind: each, id })
    for (const reference of references) {
      if (reference.to !== each || reference.whenGone !== 'together') continue
      for (const child of data.referring(reference.from, reference.field as never, id))
        collect(reference.from, (child as unknown as { id: string }).id)
    }
  }
  for (const id of ids) collect(kind, id)

  const cleared = new Map<string, { kind: RecordKind; record: Fields; fields: Set<string> }>()
  for (const { kind: each, id } of gone.values()) {
    for (const reference of references) {
      if (reference.to !== each || reference.whenGone === 'together') continue
      for (const other of data.referring(reference.from, reference.field as never, id)) {
        const record = other as unknown as Fields
        const key = `${reference.from} ${record['id'] as string}`
        if (gone.has(key)) continue
        if (reference.whenGone === 'refused')
          return { edits: [], refusedBy: { kind: reference.from, id: record['id'] as string } }
        const entry = cleared.get(key) ?? { kind: reference.from, record, fields: new Set<string>() }
        entry.fields.add(reference.field)
        cleared.set(key, entry)
      }
    }
  }

  const edits: Edit[] = []
  for (const { kind: each, record, fields } of cleared.values()) {
    const from = Object.fromEntries([...fields].map((field) => [field, record[field]]))
    const to = Object.fromEntries([...fields].map((field) => [field, null]))
    edits.push({ does: 'set', kind: each, id: record['id'] as string, from, to })
  }
  // Later kinds refer to earlier ones, never the other way: a record goes before everything it refers to.
  const order = (kind: RecordKind): number => recordKinds.indexOf(kind)
  for (const { kind: each, id } of [...gone.values()].toSorted((a, b) => order(b.kind) - order(a.kind)))
    edits.push({ does: 'remove', kind: each, record: data.get(each, id) as unknown as Fields })
  return { edits, refusedBy: null }
}

/** The edits that take these back, in the order that does. */
export function invert(edits: readonly Edit[]): Edit[] {
  return edits.toReversed().map((edit): Edit => {
    switch (edit.does) {
      case 'add':
        return { does: 'remove', kind: edit.kind, record: edit.record }
      case 'set':
        return { does: 'set', kind: edit.kind, id: edit.id, from: edit.to, to: edit.from }
      case 'remove':
        return { does: 'add', kind: edit.kind, record: edit.record }
    }
  })
}
