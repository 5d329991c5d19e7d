// Whether a change fits what is there: shapes, old values, references. Decided before anything is written.
import type { z } from 'zod'
import {
  readShape,
  records,
  references,
  type Edit,
  type JobData,
  type Reference,
  type RecordKind,
} from '../../core/job/index.ts'
import type { Fields } from './rows.ts'
import type { StoreProblem } from './problems.ts'

export type Checked =
  | { readonly ok: true; readonly edits: readonly Edit[] }
  | { readonly ok: false; readonly problem: StoreProblem }

const referencesFrom = Map.groupBy(references, (reference) => reference.from)
const referencesTo = Map.groupBy(references, (reference) => reference.to)

class Refused extends Error {
  readonly problem: StoreProblem
  constructor(
    code: 'conflict' | 'bad-record',
    kind: string,
    id: string,
    field: string | null,
    detail: string,
  ) {
    super(detail)
    this.problem = { code, kind, id, field, detail }
  }
}

/** The edits in the exact form they will be kept in, or the first thing that does not fit. Changes nothing. */
export function checkChange(data: JobData, edits: readonly Edit[]): Checked {
  const after = new Overlay(data)
  try {
    const kept = edits.map((edit) => after.carryOut(edit))
    after.checkReferences()
    after.checkJob()
    return { ok: true, edits: kept }
  } catch (error) {
    if (error instanceof Refused) return { ok: false, problem: error.problem }
    throw error
  }
}

/** The job as it would be: what the edits touched, over what is there. */
class Overlay {
  readonly #data: JobData
  readonly #touched = new Map<RecordKind, Map<string, Fields | null>>()

  constructor(data: JobData) {
    this.#data = data
  }

  #get(kind: RecordKind, id: string): Fields | null {
    const touched = this.#touched.get(kind)?.get(id)
    if (touched !== undefined) return touched
    return (this.#data.get(kind, id) as Fields | undefined) ?? null
  }

  #put(kind: RecordKind, id: string, record: Fields | null): void {
    let touched = this.#touched.get(kind)
    if (touched === undefined) this.#touched.set(kind, (touched = new Map()))
    touched.set(id, record)
  }

  carryOut(edit: Edit): Edit {
    if (!Object.hasOwn(records, edit.kind))
      throw new Refused('bad-record', String(edit.kind), '', null, 'no such kind of record')
    switch (edit.does) {
      case 'add': {
        const record = wellFormed(edit.kind, edit.record)
        const id = record['id'] as string
        if (this.#get(edit.kind, id) !== null)
          throw new Refused('conflict', edit.kind, id, null, 'it is already there')
        this.#put(edit.kind, id, record)
        return { does: 'add', kind: edit.kind, record }
      }
      case 'set': {
        const before = this.#get(edit.kind, edit.id)
        if (before === null) throw new Refused('conflict', edit.kind, edit.id, null, 'it is not there')
        const to = wellFormedFields(edit.kind, edit.id, edit.to)
        const from: Record<string, unknown> = {}
        for (const field of Object.keys(to)) {
          if (!Object.hasOwn(edit.from, field))
            throw new Refused('bad-record', edit.kind, edit.id, field, 'the old value is not given')
          if (!same(before[field], edit.from[field]))
            throw new Refused('conflict', edit.kind, edit.id, field, 'it has another value by now')
          from[field] = before[field]
        }
        for (const field of Object.keys(edit.from))
          if (!Object.hasOwn(to, field))
            throw new Refused('bad-record', edit.kind, edit.id, field, 'the new value is not given')
        // The whole again: fields that fit one by one may not fit together.
        this.#put(edit.kind, edit.id, wellFormed(edit.kind, { ...before, ...to }))
        return { does: 'set', kind: edit.kind, id: edit.id, from, to }
      }
      case 'remove': {
        const id = String(edit.record['id'])
        const before = this.#get(edit.kind, id)
        if (before === null) throw new Refused('conflict', edit.kind, id, null, 'it is not there')
        if (!same(before, edit.record))
          throw new Refused('conflict', edit.kind, id, null, 'it has other values by now')
        this.#put(edit.kind, id, null)
        return { does: 'remove', kind: edit.kind, record: before }
      }
    }
  }

  checkReferences(): void {
    for (const [kind, touched] of this.#touched)
      for (const [id, record] of touched)
        if (record === null) this.#checkNobodyRefersTo(kind, id)
        else this.#checkTargets(kind, id, record)
  }

  #checkTargets(kind: RecordKind, id: string, record: Fields): void {
    for (const { field, to } of referencesFrom.get(kind) ?? []) {
      const target = record[field]
      if (typeof target === 'string' && this.#get(to, target) === null)
        throw new Refused('conflict', kind, id, field, `there is no ${to} ${target}`)
    }
  }

  #checkNobodyRefersTo(kind: RecordKind, id: string): void {
    for (const reference of referencesTo.get(kind) ?? []) {
      const by = this.#stillReferring(reference, id)
      if (by !== null)
        throw new Refused('conflict', kind, id, null, `${reference.from} ${by} still refers to it`)
    }
  }

  #stillReferring({ from, field }: Reference, id: string): string | null {
    for (const each of this.#data.referring(from, field as never, id)) {
      const other = each as unknown as Fields
      if (this.#get(from, other['id'] as string)?.[field] === id) return other['id'] as string
    }
    return null
  }

  checkJob(): void {
    const touched = this.#touched.get('job')
    if (touched === undefined) return
    const ids = new Set([...this.#data.all('job')].map((job) => job.id as string))
    for (const [id, record] of touched)
      if (record === null) ids.delete(id)
      else ids.add(id)
    if (ids.size !== 1)
      throw new Refused('bad-record', 'job', [...ids][0] ?? '', null, 'a file holds exactly one job')
  }
}

/** A copy in the shape's order, or a refusal. Half characters become the replacement character, as on disk. */
function wellFormed(kind: RecordKind, record: unknown): Fields {
  const read = readShape(records[kind] as z.ZodType<unknown>, record)
  if (read.ok) return repaired(read.value) as Fields
  const id = (record as Fields | null)?.['id']
  throw new Refused('bad-record', kind, typeof id === 'string' ? id : '', read.fault.field, read.fault.words)
}

function wellFormedFields(kind: RecordKind, id: string, fields: Fields): Fields {
  const shape = records[kind].shape as unknown as Readonly<Record<string, z.ZodType<unknown>>>
  const kept: Record<string, unknown> = {}
  for (const [field, value] of Object.entries(fields)) {
    const schema = Object.hasOwn(shape, field) ? shape[field] : undefined
    if (schema === undefined || field === 'id')
      throw new Refused('bad-record', kind, id, field, 'this field cannot be set')
    const read = readShape(schema, value)
    if (!read.ok) throw new Refused('bad-record', kind, id, field, read.fault.words)
    kept[field] = repaired(read.value)
  }
  return kept
}

function repaired(value: unknown): unknown {
  if (typeof value === 'string') return value.isWellFormed() ? value : value.toWellFormed()
  if (value === null || typeof value !== 'object') return value
  if (Array.isArray(value)) return value.map(repaired)
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key.toWellFormed(), repaired(each)]))
}

/** Equal as values; keys may stand in any order. */
export function same(one: unknown, other: unknown): boolean {
  if (one === other) return true
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false
  const keys = Object.keys(one)
  if (keys.length !== Object.keys(other).length) return false
  return keys.every((key) => Object.hasOwn(other, key) && same((one as Fields)[key], (other as Fields)[key]))
}
