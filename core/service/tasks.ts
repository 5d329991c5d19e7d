// Maintenance tasks as named changes, and the due list by month.
import { addMonths, type DueItem } from '../handover/index.ts'
import type { JobRecord } from '../job/index.ts'
import type { Command } from '../schedule/index.ts'

type RecordsChange = Extract<Command, { does: 'change records' }>

export interface NewTask {
  readonly name: string
  readonly everyMonths: number | null
  readonly openingId: string | null
  readonly supplyId: string | null
  readonly nextOn: string | null
}

export const addTask = ({ name, ...rest }: NewTask, position: number): RecordsChange => ({
  does: 'change records',
  name: `Add the task “${name.trim()}”`,
  add: [
    {
      kind: 'maintenanceTask',
      record: { id: 'new:task', position, name: name.trim(), partId: null, notes: null, ...rest },
    },
  ],
  set: [],
  remove: [],
})

/** Done: the next time is so many months after this day; one that comes once has none. */
export const doneTask = (task: JobRecord<'maintenanceTask'>, today: string): RecordsChange => ({
  does: 'change records',
  name: `Note “${task.name}” as done on ${today}`,
  add: [],
  set:
    task.everyMonths === null
      ? []
      : [
          {
            kind: 'maintenanceTask',
            id: task.id,
            fields: { nextOn: addMonths(today, task.everyMonths) },
          },
        ],
  remove: task.everyMonths === null ? [{ kind: 'maintenanceTask', id: task.id }] : [],
})

export const removeTask = (task: JobRecord<'maintenanceTask'>): RecordsChange => ({
  does: 'change records',
  name: `Remove the task “${task.name}”`,
  add: [],
  set: [],
  remove: [{ kind: 'maintenanceTask', id: task.id }],
})

/** A battery put in: its age starts anew. */
export const batteryChanged = (
  supply: Pick<JobRecord<'supply'>, 'id' | 'mark'>,
  day: string,
): RecordsChange => ({
  does: 'change records',
  name: `Note a new battery in ${supply.mark}`,
  add: [],
  set: [{ kind: 'supply', id: supply.id, fields: { batteryInstalledOn: day } }],
  remove: [],
})

export interface DueMonth {
  /** yyyy-mm; null holds what has no day. */
  readonly month: string | null
  readonly overdue: boolean
  readonly items: readonly DueItem[]
}

/** Due items by month: what is overdue first, what nobody can date last. */
export function dueByMonth(items: readonly DueItem[]): DueMonth[] {
  const months = Map.groupBy(items, ({ dueOn, state }) =>
    state === 'overdue' ? 'overdue' : (dueOn?.slice(0, 7) ?? 'not known'),
  )
  const keyed = [...months].toSorted(([one], [other]) => rank(one).localeCompare(rank(other)))
  return keyed.map(([key, own]) => ({
    month: /^\d/.test(key) ? key : null,
    overdue: key === 'overdue',
    items: own,
  }))
}

const rank = (key: string): string => (key === 'overdue' ? '0' : key === 'not known' ? '9' : `1${key}`)
