import { counted } from '../../../core/job/index.ts'
import { useState } from 'react'
import type { OpenVisit, ServiceOverview } from '../../../core/contract/index.ts'
import type { DueItem } from '../../../core/handover/index.ts'
import type { JobRecord } from '../../../core/job/index.ts'
import { addTask, batteryChanged, doneTask, removeTask, type DueMonth } from '../../../core/service/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Choice, Citation, Field, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { hrefOf } from '../place.ts'
import { SearchShelf, openForChanges } from '../shelf/index.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange, useWindow, working } from '../window-state.ts'
import './service.css'

export function ServiceSheet() {
  const overview = useAsked('service.read', {})
  const readOnly = useWindow((state) => state.job?.state.readOnly ?? null)
  const locked = readOnly !== null
  if (overview === null) return null
  return (
    <div className="page service-page">
      <SheetHeading
        title="Service"
        facts={[
          counted(overview.openVisits.length, 'open visit'),
          counted(overview.openFindings, 'open finding'),
        ].join(', ')}
        actions={
          <>
            {locked && (
              <Button kind="main" onPress={() => void openForChanges()}>
                Open for changes
              </Button>
            )}
            <Button onPress={() => void keepCalendar()}>Calendar to keep</Button>
          </>
        }
      />
      <SearchShelf />
      <VisitTable
        title="Open visits"
        visits={overview.openVisits}
        empty="No visit is open. Find the opening, then start one."
      />
      <Due overview={overview} locked={locked} />
      <Tasks overview={overview} locked={locked} />
      <VisitTable
        title="Last visits"
        visits={overview.lastVisits}
        empty="Nobody was called in this job yet."
      />
    </div>
  )
}

async function keepCalendar(): Promise<void> {
  const made = await working('Writing the calendar', () => ask('service.calendar', {}))
  if (made !== null) keep(made)
}

function VisitTable({
  title,
  visits,
  empty,
}: {
  readonly title: string
  readonly visits: readonly OpenVisit[]
  readonly empty: string
}) {
  return (
    <section aria-label={title}>
      <SheetHeading level={2} title={title} />
      {visits.length === 0 ? (
        <p className="padded soft">{empty}</p>
      ) : (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">Opening</th>
              <th scope="col">Where</th>
              <th scope="col">Reported</th>
              <th scope="col">Found</th>
              <th scope="col">When</th>
              <th scope="col">Who</th>
            </tr>
          </thead>
          <tbody>
            {visits.map(({ visit, mark, where }) => (
              <tr key={visit.id}>
                <td className="mark">
                  {visit.openingId === null ? (
                    ''
                  ) : (
                    <a href={hrefOf({ sheet: 'call', openingId: visit.openingId })}>{mark}</a>
                  )}
                </td>
                <td>{where}</td>
                <td className="wrap">{visit.symptom}</td>
                <td className="wrap">{visit.found}</td>
                <td>{(visit.at ?? visit.reportedAt)?.slice(0, 10)}</td>
                <td>{visit.who ?? visit.reportedBy}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}

const monthNames = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const

const monthWords = ({ month, overdue }: DueMonth): string => {
  if (overdue) return 'Overdue'
  if (month === null) return 'No day known'
  return `${monthNames[Number(month.slice(5)) - 1] ?? ''} ${month.slice(0, 4)}`
}

/** The month two years from this day. */
const horizon = (today: string): string => `${Number(today.slice(0, 4)) + 2}${today.slice(4, 7)}`

function Due({ overview, locked }: { readonly overview: ServiceOverview; readonly locked: boolean }) {
  const [all, setAll] = useState(false)
  const until = horizon(overview.today)
  const shown = overview.due.filter(({ month }) => all || month === null || month <= until)
  return (
    <section aria-label="Due">
      <SheetHeading
        level={2}
        title="Due"
        facts="batteries, yearly fire door inspections, tasks, ends of warranties"
        actions={
          shown.length < overview.due.length && (
            <Button kind="quiet" onPress={() => setAll(true)}>
              Beyond two years as well
            </Button>
          )
        }
      />
      <table className="plain-table due">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">What</th>
            <th scope="col">Of</th>
            <th scope="col">
              <span className="for-ears">Deeds</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {shown.flatMap((month) => [
            <tr key={monthWords(month)} className="group-row">
              <td colSpan={4} className={month.overdue ? 'overdue' : ''}>
                {monthWords(month)}
              </td>
            </tr>,
            ...month.items.map((item) => (
              <DueLine key={item.key} item={item} overview={overview} locked={locked} />
            )),
          ])}
          {shown.length === 0 && (
            <tr>
              <td colSpan={4} className="soft">
                Nothing is due. Add a task below, or give supplies the day of their battery.
              </td>
            </tr>
          )}
        </tbody>
      </table>
    </section>
  )
}

function DueLine({
  item,
  overview,
  locked,
}: {
  readonly item: DueItem
  readonly overview: ServiceOverview
  readonly locked: boolean
}) {
  const supply = overview.supplies.find(({ id }) => id === item.supplyId)
  const [first] = item.openingIds
  const questions = item.questions.slice(0, 2).join(' ')
  const more = item.questions.length - 2
  return (
    <tr className={item.state === 'overdue' ? 'question' : ''}>
      <td className="mark">{item.dueOn ?? 'not known'}</td>
      <td className="due-what">
        {first !== undefined && item.openingIds.length === 1 ? (
          <a href={hrefOf({ sheet: 'call', openingId: first })}>{item.title}</a>
        ) : item.supplyId === null ? (
          item.title
        ) : (
          <a href={hrefOf({ sheet: 'supply', supplyId: item.supplyId })}>{item.title}</a>
        )}
        {questions !== '' && (
          <span className="own">
            {' '}
            {questions}
            {more > 0 ? ` And ${more} more.` : ''}
          </span>
        )}
      </td>
      <td className="soft">
        <span className="due-details" title={item.details}>
          {item.details}
        </span>
      </td>
      <td className="deeds">
        {item.form === 'battery' && supply !== undefined && !locked && (
          <Button
            kind="quiet"
            label={`Replaced today: the battery of ${supply.mark}`}
            onPress={() =>
              void makeChange(batteryChanged({ id: supply.id as never, mark: supply.mark }, overview.today))
            }
          >
            Replaced today
          </Button>
        )}
      </td>
    </tr>
  )
}

function Tasks({ overview, locked }: { readonly overview: ServiceOverview; readonly locked: boolean }) {
  const { tasks, today } = overview
  return (
    <section aria-label="Maintenance tasks">
      <SheetHeading level={2} title="Maintenance tasks" facts="what the contract or the maker asks for" />
      {tasks.length > 0 && (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">Task</th>
              <th scope="col">Every</th>
              <th scope="col">Next on</th>
              <th scope="col">
                <span className="for-ears">Deeds</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {tasks.map((task) => (
              <TaskLine key={task.id} task={task} today={today} locked={locked} />
            ))}
          </tbody>
        </table>
      )}
      {!locked && <AddTask overview={overview} />}
    </section>
  )
}

function TaskLine({
  task,
  today,
  locked,
}: {
  readonly task: JobRecord<'maintenanceTask'>
  readonly today: string
  readonly locked: boolean
}) {
  return (
    <tr>
      <td>{task.name}</td>
      <td>{task.everyMonths === null ? 'once' : `${task.everyMonths} months`}</td>
      <td>{task.nextOn ?? 'not known'}</td>
      <td className="deeds">
        {!locked && (
          <>
            <Button
              kind="quiet"
              label={`Done today: ${task.name}`}
              onPress={() => void makeChange(doneTask(task, today))}
            >
              Done today
            </Button>
            <Button
              kind="quiet"
              label={`Remove ${task.name}`}
              onPress={() => void makeChange(removeTask(task))}
            >
              Remove
            </Button>
          </>
        )}
      </td>
    </tr>
  )
}

const intervals = ['1', '3', '6', '12', '24', '48', 'once'] as const

function AddTask({ overview }: { readonly overview: ServiceOverview }) {
  const [name, setName] = useState('')
  const [every, setEvery] = useState<string>('12')
  const [supplyId, setSupplyId] = useState<string>('all')
  const [nextOn, setNextOn] = useState('')
  const act = async (): Promise<void> => {
    if (name.trim() === '') return
    const made = await makeChange(
      addTask(
        {
          name,
          everyMonths: every === 'once' ? null : Number(every),
          openingId: null,
          supplyId: supplyId === 'all' ? null : supplyId,
          nextOn: nextOn === '' ? null : nextOn,
        },
        overview.tasks.length,
      ),
    )
    if (made) setName('')
  }
  return (
    <form
      className="add-line task-line"
      aria-label="Add a maintenance task"
      onSubmit={(event) => {
        event.preventDefault()
        void act()
      }}
    >
      <Field label="New task" value={name} onChange={setName} />
      <Choice
        label="Every"
        options={intervals.map((key) => ({
          key,
          label: key === 'once' ? 'once' : key === '1' ? '1 month' : `${key} months`,
        }))}
        value={every}
        onChange={setEvery}
      />
      <Choice
        label="Of"
        options={[
          { key: 'all', label: 'the whole job' },
          ...overview.supplies.map(({ id, mark }) => ({ key: id, label: `supply ${mark}` })),
        ]}
        value={supplyId}
        onChange={setSupplyId}
      />
      <label className="field">
        <span>Next on</span>
        <input
          type="date"
          className="field-input"
          value={nextOn}
          onChange={(event) => setNextOn(event.currentTarget.value)}
        />
      </label>
      <button type="submit" hidden aria-hidden="true" tabIndex={-1} />
      <Button disabled={name.trim() === ''} onPress={() => void act()}>
        Add
      </Button>
    </form>
  )
}

export function ServiceMargin() {
  return (
    <>
      <MarginTitle>When somebody calls</MarginTitle>
      <MarginText>
        Type what the caller says: a room, a mark, a serial, or the whole sentence. What answers best comes
        first, from every job file on the shelf. Another job opens for reading only, until you ask for more.
      </MarginText>
      <MarginTitle>What is due</MarginTitle>
      <MarginText>
        Fire doors a year after they were installed, batteries four years after theirs, warranties where a
        part says how long, and the tasks written down here. The calendar takes all that have a day, and goes
        into any calendar program.
      </MarginText>
      <Citation>
        Intervals: NFPA 80 for fire doors, each year; NFPA 72 for batteries, written for fire alarm systems.
        Both from secondary pages; the maker and local codes decide.
      </Citation>
    </>
  )
}
