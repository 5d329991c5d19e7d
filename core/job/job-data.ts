// The whole of a job in memory: plain records by kind and id, with the ways records point at each other.
import type { Edit } from './edits.ts'
import { recordKinds, references, type Job, type JobRecord, type RecordKind } from './records.ts'

type Row = { readonly id: string } & Record<string, unknown>
type ByReference = Map<string, Map<string, Map<string, Row>>>

/**
 * Records of one job. Reading is plain; the only way to change it is `apply`, with edits that were checked before.
 * Lists by reference keep no promised order: sort by `position` or mark where order matters.
 */
export class JobData {
  readonly #kinds = new Map<RecordKind, Map<string, Row>>(recordKinds.map((kind) => [kind, new Map()]))
  readonly #referring = new Map<RecordKind, ByReference>()
  readonly #fields = new Map<RecordKind, readonly string[]>()

  constructor() {
    for (const kind of recordKinds) {
      const fields = references.filter((each) => each.from === kind).map((each) => each.field)
      this.#fields.set(kind, fields)
      this.#referring.set(kind, new Map(fields.map((field) => [field, new Map()])))
    }
  }

  /** The job record. Throws on a job that has none, which no opened file is. */
  get job(): Job {
    for (const job of this.all('job')) return job
    throw new Error('a job file without its job record')
  }

  get<K extends RecordKind>(kind: K, id: string): JobRecord<K> | undefined {
    return this.#kinds.get(kind)?.get(id) as JobRecord<K> | undefined
  }

  all<K extends RecordKind>(kind: K): Iterable<JobRecord<K>> {
    return (this.#kinds.get(kind) as Map<string, unknown>).values() as Iterable<JobRecord<K>>
  }

  count(kind: RecordKind): number {
    return this.#kinds.get(kind)?.size ?? 0
  }

  /** The records of a kind whose field refers to this id. */
  referring<K extends RecordKind>(kind: K, field: keyof JobRecord<K> & string, id: string): JobRecord<K>[] {
    const found = this.#referring.get(kind)?.get(field)?.get(id)
    return found === undefined ? [] : ([...found.values()] as unknown as JobRecord<K>[])
  }

  /** How many records `referring` would give; cheap however many they are. */
  countReferring<K extends RecordKind>(kind: K, field: keyof JobRecord<K> & string, id: string): number {
    return this.#referring.get(kind)?.get(field)?.get(id)?.size ?? 0
  }

  /** Puts a record in place, new or instead of the one with its id. For loading; edits go through `apply`. */
  put<K extends RecordKind>(kind: K, record: JobRecord<K>): void {
    const row = record as unknown as Row
    const rows = this.#kinds.get(kind) as Map<string, Row>
    const before = rows.get(row.id)
    rows.set(row.id, row)
    for (const field of this.#fields.get(kind) ?? []) {
      if (before !== undefined && before[field] === row[field]) {
        const target = row[field]
        if (typeof target === 'string') this.#referring.get(kind)?.get(field)?.get(target)?.set(row.id, row)
        continue
      }
      if (before !== undefined) this.#forget(kind, field, before)
      const target = row[field]
      if (typeof target !== 'string') continue
      const byTarget = this.#referring.get(kind)?.get(field) as Map<string, Map<string, Row>>
      let list = byTarget.get(target)
      if (list === undefined) byTarget.set(target, (list = new Map()))
      list.set(row.id, row)
    }
  }

  /** Carries out edits in order. Throws where one does not fit: an id there already, or not there. */
  apply(edits: readonly Edit[]): void {
    for (const edit of edits) {
      switch (edit.does) {
        case 'add':
          if (this.get(edit.kind, edit.record['id'] as string) !== undefined)
            throw new Error(`${edit.kind} ${String(edit.record['id'])} is there already`)
          this.put(edit.kind, edit.record as never)
          break
        case 'set': {
          const before = this.get(edit.kind, edit.id)
          if (before === undefined) throw new Error(`no ${edit.kind} ${edit.id} to set`)
          this.put(edit.kind, { ...before, ...edit.to } as never)
          break
        }
        case 'remove':
          this.#remove(edit.kind, edit.record['id'] as string)
          break
      }
    }
  }

  #remove(kind: RecordKind, id: string): void {
    const rows = this.#kinds.get(kind) as Map<string, Row>
    const row = rows.get(id)
    if (row === undefined) throw new Error(`no ${kind} ${id} to remove`)
    rows.delete(id)
    for (const field of this.#fields.get(kind) ?? []) this.#forget(kind, field, row)
  }

  #forget(kind: RecordKind, field: string, row: Row): void {
    const target = row[field]
    if (typeof target !== 'string') return
    const byTarget = this.#referring.get(kind)?.get(field)
    const list = byTarget?.get(target)
    list?.delete(row.id)
    if (list?.size === 0) byTarget?.delete(target)
  }
}
