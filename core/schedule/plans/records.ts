// Records that need no plan of their own: added, set and removed together as one named change, checked by their shapes.
import type { z } from 'zod'
import {
  addRecord,
  readShape,
  recordKinds,
  records,
  references,
  removeRecords,
  setFields,
  type Edit,
  type JobData,
  type RecordKind,
} from '../../job/index.ts'
import type { Command } from '../commands.ts'
import { impossible, planned, type NewId, type Planned, type Stamp } from './planned.ts'

type Fields = Readonly<Record<string, unknown>>
type RecordsCommand = Extract<Command, { does: 'change records' }>

/** Kinds with a plan of their own, or that only the program writes. */
const keptFrom: ReadonlySet<RecordKind> = new Set<RecordKind>([
  'job',
  'building',
  'level',
  'opening',
  'leaf',
  'typical',
  'typicalFitting',
])

/** Kinds of which two may not bear one name, by the field that names them. */
const namedOnce: Partial<Record<RecordKind, string>> = {
  part: 'name',
  supply: 'mark',
  controller: 'mark',
  networkSwitch: 'mark',
  cableKind: 'name',
  issue: 'name',
}

/** What a kind is called in a sentence: "partSetting" is "part setting". */
export const kindWords = (kind: RecordKind): string =>
  kind.replaceAll(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)

/** Turns the command into edits. Ids that begin with `new:` are given real ones; stamps become who and when. */
export function planRecords(
  command: RecordsCommand,
  data: JobData,
  newId: NewId,
  stamp: Stamp | null,
): Planned {
  const ids = new Map<string, string>()
  for (const { record } of command.add) {
    const wanted = record['id']
    if (typeof wanted !== 'string' || !wanted.startsWith('new:'))
      return impossible('A new record must be named by an id that begins with "new:".')
    ids.set(wanted, newId())
  }
  const filled = (fields: Fields): Fields =>
    Object.fromEntries(Object.entries(fields).map(([field, value]) => [field, valueOf(value, ids, stamp)]))

  const edits: Edit[] = []
  const adds = command.add.toSorted((a, b) => recordKinds.indexOf(a.kind) - recordKinds.indexOf(b.kind))
  const named = new Set(adds.map(({ record }) => ids.get(record['id'] as string)))
  const isThere = (kind: RecordKind, id: string): boolean => data.get(kind, id) !== undefined || named.has(id)
  for (const { kind, record } of adds) {
    const trouble = mayNot(kind) ?? recordTrouble(kind, filled(record), data, isThere)
    if (trouble !== null) return impossible(trouble)
    edits.push(addRecord(kind, filled(record) as never))
  }
  for (const { kind, id, fields } of command.set) {
    const before = data.get(kind, id)
    if (before === undefined) return impossible(`That ${kindWords(kind)} is no longer there.`)
    const after = { ...before, ...filled(fields) }
    const trouble = mayNot(kind) ?? recordTrouble(kind, after, data, isThere)
    if (trouble !== null) return impossible(trouble)
    const set = setFields(kind, before as never, filled(fields) as never)
    if (set !== null) edits.push(set)
  }
  const removed = new Set<string>()
  for (const [kind, gone] of Map.groupBy(command.remove, (each) => each.kind)) {
    const trouble = mayNot(kind)
    if (trouble !== null) return impossible(trouble)
    if (gone.some(({ id }) => data.get(kind, id) === undefined))
      return impossible(`That ${kindWords(kind)} is no longer there.`)
    const still = gone.map(({ id }) => id).filter((id) => !removed.has(`${kind} ${id}`))
    const removal = removeRecords(data, kind, still)
    if (removal.refusedBy !== null)
      return impossible(
        `This ${kindWords(kind)} is still used by a ${kindWords(removal.refusedBy.kind)}; change that first.`,
      )
    for (const edit of removal.edits) {
      const key = edit.does === 'remove' ? `${edit.kind} ${String(edit.record['id'])}` : null
      if (key !== null && removed.has(key)) continue
      if (key !== null) removed.add(key)
      edits.push(edit)
    }
  }
  return planned(command.name, edits)
}

function valueOf(value: unknown, ids: ReadonlyMap<string, string>, stamp: Stamp | null): unknown {
  if (typeof value === 'string') return ids.get(value) ?? value
  if (typeof value !== 'object' || value === null || !('stamped' in value)) return value
  if (stamp === null) throw new Error('a change that says who and when, planned without either')
  return value.stamped === 'who' ? stamp.who : stamp.at
}

const mayNot = (kind: RecordKind): string | null =>
  keptFrom.has(kind) ? `A ${kindWords(kind)} is not changed in this way.` : null

function recordTrouble(
  kind: RecordKind,
  record: Fields,
  data: JobData,
  isThere: (kind: RecordKind, id: string) => boolean,
): string | null {
  const read = readShape(records[kind] as z.ZodType<unknown>, record)
  if (!read.ok) {
    const { field, words } = read.fault
    return `The ${kindWords(kind)}${field === null ? '' : `, field ${kindWords(field as RecordKind)}`}: ${words}.`
  }
  for (const { from, field, to } of references) {
    const target = from === kind ? record[field] : null
    if (typeof target === 'string' && !isThere(to, target))
      return `The ${kindWords(kind)}, field ${kindWords(field as RecordKind)}: that ${kindWords(to)} is no longer there.`
  }
  const nameField = namedOnce[kind]
  if (nameField === undefined) return null
  const wanted = String(record[nameField]).trim().toLowerCase()
  for (const other of data.all(kind)) {
    const row = other as unknown as Fields
    if (row['id'] !== record['id'] && String(row[nameField]).trim().toLowerCase() === wanted)
      return `The job already has a ${kindWords(kind)} called ${String(row[nameField])}.`
  }
  return null
}
