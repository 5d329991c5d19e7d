import type { HandoverRead } from '../../../core/contract/index.ts'
import type { PartQuantity } from '../../../core/handover/index.ts'
import type { JobRecord } from '../../../core/job/index.ts'
import { readNumber, Button, SheetHeading } from '../../ui/index.ts'
import { TextCell } from '../text-cell.tsx'
import { makeChange, tell, type OpenJob } from '../window-state.ts'

type Task = JobRecord<'maintenanceTask'>

/** Spares beside what is fitted, tasks, and what falls due. */
export function UpkeepView({
  read,
  job,
  locked,
}: {
  readonly read: HandoverRead
  readonly job: OpenJob
  readonly locked: boolean
}) {
  return (
    <>
      <Tasks tasks={read.tasks} supplies={read.supplies} job={job} locked={locked} />
      <Spares quantities={read.quantities} spares={read.spares} locked={locked} />
      <Due due={read.due} />
    </>
  )
}

/** A whole number from a cell, or a sentence in view and undefined. */
function wholeNumber(text: string | null, what: string): number | null | undefined {
  if (text === null) return null
  const value = readNumber(text)
  if (typeof value === 'number' && Number.isInteger(value) && value >= 0) return value
  tell({ weight: 'stop', words: `${what} expects a whole number; “${text}” is none. Nothing was changed.` })
  return undefined
}

function Tasks({
  tasks,
  supplies,
  job,
  locked,
}: {
  readonly tasks: readonly Task[]
  readonly supplies: HandoverRead['supplies']
  readonly job: OpenJob
  readonly locked: boolean
}) {
  const set = (task: Task, fields: Partial<Task>): Promise<boolean> =>
    makeChange({
      does: 'change records',
      name: `Change the task ${task.name}`.slice(0, 200),
      add: [],
      set: [{ kind: 'maintenanceTask', id: task.id, fields }],
      remove: [],
    })
  return (
    <section aria-label="Tasks">
      <SheetHeading
        level={2}
        title="Tasks"
        facts="what people add to the inspections and batteries that are worked out"
        actions={
          <Button disabled={locked} onPress={() => void addTask(tasks.length)}>
            Add a task
          </Button>
        }
      />
      {tasks.length > 0 && (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">Task</th>
              <th scope="col">About</th>
              <th scope="col">Every so many months</th>
              <th scope="col">Next on</th>
              <th scope="col">Notes</th>
              <th scope="col">
                <span className="for-ears">Deeds</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {tasks.map((task) => (
              <tr key={task.id}>
                <td>
                  <TextCell
                    text={task.name}
                    label={`Name of the task ${task.name}`}
                    locked={locked}
                    onSet={(name) => (name === null ? undefined : set(task, { name }))}
                  />
                </td>
                <td>
                  <select
                    className="plain-select"
                    aria-label={`What the task ${task.name} is about`}
                    disabled={locked}
                    value={aboutOf(task)}
                    onChange={(event) => void set(task, aboutFields(event.currentTarget.value))}
                  >
                    <option value="">the whole job</option>
                    <optgroup label="Supply">
                      {supplies.map(({ id, mark }) => (
                        <option key={id} value={`supplyId ${id}`}>
                          {mark}
                        </option>
                      ))}
                    </optgroup>
                    <optgroup label="Part">
                      {job.parts.map(({ id, name }) => (
                        <option key={id} value={`partId ${id}`}>
                          {name}
                        </option>
                      ))}
                    </optgroup>
                    <optgroup label="Opening">
                      {[...job.rows.values()].map(({ id, mark }) => (
                        <option key={id} value={`openingId ${id}`}>
                          {mark}
                        </option>
                      ))}
                    </optgroup>
                  </select>
                </td>
                <td>
                  <TextCell
                    text={task.everyMonths === null ? null : String(task.everyMonths)}
                    label={`Months between times of ${task.name}`}
                    hint="once"
                    locked={locked}
                    onSet={(text) => {
                      const everyMonths = wholeNumber(text, `Months of ${task.name}`)
                      return everyMonths === undefined ? undefined : set(task, { everyMonths })
                    }}
                  />
                </td>
                <td>
                  <TextCell
                    text={task.nextOn}
                    label={`Next day of ${task.name}`}
                    hint="yyyy-mm-dd"
                    locked={locked}
                    onSet={(nextOn) => set(task, { nextOn })}
                  />
                </td>
                <td>
                  <TextCell
                    text={task.notes}
                    label={`Notes of ${task.name}`}
                    locked={locked}
                    onSet={(notes) => set(task, { notes })}
                  />
                </td>
                <td className="deeds">
                  <Button
                    kind="quiet"
                    disabled={locked}
                    label={`Remove the task ${task.name}`}
                    onPress={() =>
                      void makeChange({
                        does: 'change records',
                        name: `Remove the task ${task.name}`.slice(0, 200),
                        add: [],
                        set: [],
                        remove: [{ kind: 'maintenanceTask', id: task.id }],
                      })
                    }
                  >
                    Remove
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}

const aboutOf = ({ supplyId, partId, openingId }: Task): string =>
  supplyId !== null
    ? `supplyId ${supplyId}`
    : partId !== null
      ? `partId ${partId}`
      : openingId !== null
        ? `openingId ${openingId}`
        : ''

function aboutFields(value: string): Partial<Task> {
  const [field = '', ...rest] = value.split(' ')
  return {
    supplyId: null,
    partId: null,
    openingId: null,
    ...(field === '' ? {} : { [field]: rest.join(' ') }),
  }
}

const addTask = (position: number): Promise<boolean> =>
  makeChange({
    does: 'change records',
    name: 'Add a maintenance task',
    add: [
      {
        kind: 'maintenanceTask',
        record: {
          id: 'new:task',
          position,
          name: 'New task',
          everyMonths: null,
          partId: null,
          openingId: null,
          supplyId: null,
          nextOn: null,
          notes: null,
        },
      },
    ],
    set: [],
    remove: [],
  })

function Spares({
  quantities,
  spares,
  locked,
}: {
  readonly quantities: readonly PartQuantity[]
  readonly spares: HandoverRead['spares']
  readonly locked: boolean
}) {
  return (
    <section aria-label="Spares">
      <SheetHeading level={2} title="Spares" facts="beside what is fitted; empty is not known, 0 is none" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Part</th>
            <th scope="col" className="end">
              Fitted
            </th>
            <th scope="col">Spares</th>
            <th scope="col">Kept where</th>
          </tr>
        </thead>
        <tbody>
          {quantities.flatMap(({ partId, partName, fitted }) => {
            if (partId === null) return []
            const spare = spares.find((each) => each.partId === partId) ?? null
            return [
              <tr key={partId}>
                <td>{partName}</td>
                <td className="end">{fitted}</td>
                <td>
                  <TextCell
                    text={spare === null ? null : String(spare.count)}
                    label={`Spares of ${partName ?? 'this part'}`}
                    locked={locked}
                    onSet={(text) => {
                      const count = wholeNumber(text, `Spares of ${partName ?? 'this part'}`)
                      return count === undefined
                        ? undefined
                        : setSpare(partId, partName ?? '', spare, { count })
                    }}
                  />
                </td>
                <td>
                  <TextCell
                    text={spare?.whereKept ?? null}
                    label={`Where spares of ${partName ?? 'this part'} are kept`}
                    locked={locked || spare === null}
                    onSet={(whereKept) => setSpare(partId, partName ?? '', spare, { whereKept })}
                  />
                </td>
              </tr>,
            ]
          })}
        </tbody>
      </table>
    </section>
  )
}

function setSpare(
  partId: string,
  partName: string,
  spare: HandoverRead['spares'][number] | null,
  fields: { readonly count?: number | null; readonly whereKept?: string | null },
): Promise<boolean> {
  const name = `Note the spares of ${partName}`.slice(0, 200)
  if (fields.count === null)
    return makeChange({
      does: 'change records',
      name,
      add: [],
      set: [],
      remove: spare === null ? [] : [{ kind: 'spare', id: spare.id }],
    })
  return makeChange({
    does: 'change records',
    name,
    add:
      spare === null
        ? [
            {
              kind: 'spare',
              record: { id: 'new:spare', partId, count: fields.count ?? 0, whereKept: null, notes: null },
            },
          ]
        : [],
    set: spare === null ? [] : [{ kind: 'spare', id: spare.id, fields }],
    remove: [],
  })
}

const shownDue = 14

function Due({ due }: { readonly due: HandoverRead['due'] }) {
  const known = due.filter(({ dueOn }) => dueOn !== null)
  const unknown = due.length - known.length
  return (
    <section aria-label="What falls due">
      <SheetHeading
        level={2}
        title="What falls due"
        facts={`${known.length} with a day${unknown > 0 ? `, ${unknown} not known when` : ''}`}
      />
      {known.length > 0 && (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">On</th>
              <th scope="col">What</th>
              <th scope="col">Again</th>
            </tr>
          </thead>
          <tbody>
            {known.slice(0, shownDue).map(({ key, dueOn, title, everyMonths, state }) => (
              <tr key={key}>
                <td className={state === 'overdue' ? 'stop' : ''}>{dueOn}</td>
                <td>{title}</td>
                <td>{everyMonths === null ? 'once' : `every ${everyMonths} months`}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {known.length > shownDue && (
        <p className="padded soft">
          And {known.length - shownDue} later; the binder and the calendar have all.
        </p>
      )}
    </section>
  )
}
