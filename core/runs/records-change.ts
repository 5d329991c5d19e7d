// Gathers records into one named change that can be taken back.
import type { z } from 'zod'
import type { RecordKind, records } from '../job/index.ts'
import type { Command } from '../schedule/index.ts'

export type RecordsChange = Extract<Command, { does: 'change records' }>

/** A record whose ids are plain text, as one that is still to be made. */
type Plain<K extends RecordKind> = z.input<(typeof records)[K]>

export interface ChangeBuilder {
  /** Adds a record and gives the id by which the same change may refer to it. */
  readonly add: <K extends RecordKind>(kind: K, record: Omit<Plain<K>, 'id'>) => string
  readonly set: <K extends RecordKind>(kind: K, id: string, fields: Partial<Plain<K>>) => void
  readonly remove: (kind: RecordKind, id: string) => void
  /** Null where nothing would change. */
  readonly done: (name: string) => RecordsChange | null
}

export function changeBuilder(): ChangeBuilder {
  const add: RecordsChange['add'] = []
  const set: RecordsChange['set'] = []
  const remove: RecordsChange['remove'] = []
  return {
    add: (kind, record) => {
      const id = `new:${add.length + 1}`
      add.push({ kind, record: { ...record, id } as RecordsChange['add'][number]['record'] })
      return id
    },
    set: (kind, id, fields) => {
      set.push({ kind, id, fields: fields as RecordsChange['set'][number]['fields'] })
    },
    remove: (kind, id) => {
      remove.push({ kind, id })
    },
    done: (name) =>
      add.length + set.length + remove.length === 0
        ? null
        : { does: 'change records', name, add, set, remove },
  }
}
