import { useState } from 'react'
import { readDay } from '../../../core/schedule/index.ts'
import { Button, Choice, Citation, Field, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { BuildingCodeChoice } from '../cautions/index.ts'
import { useCommands } from '../commands.tsx'
import { makeChange, useWindow, type OpenJob } from '../window-state.ts'

type JobFields = OpenJob['frame']['job']

/** A field that is set when the person leaves it, as one change. */
function JobField({
  job,
  field,
  label,
  help,
  lines = 1,
}: {
  readonly job: OpenJob
  readonly field: 'name' | 'number' | 'client' | 'address' | 'preparedBy' | 'scheduleIssue' | 'scheduleDate'
  readonly label: string
  readonly help?: string
  readonly lines?: number
}) {
  const stored = job.frame.job[field] ?? ''
  const [draft, setDraft] = useState<string | null>(null)
  const text = draft ?? stored
  const problem =
    field === 'scheduleDate' && text.trim() !== '' && readDay(text) === null
      ? `${label}: "${text.trim()}" is not a day; expected year-month-day such as 2026-03-14.`
      : field === 'name' && text.trim() === ''
        ? 'Name expects at least one character.'
        : undefined
  const leave = (): void => {
    if (draft === null || problem !== undefined) return
    const value = field === 'scheduleDate' && draft.trim() !== '' ? readDay(draft) : draft.trim()
    if (value !== stored)
      void makeChange({
        does: 'set job',
        fields: { [field]: value === '' ? null : value },
      }).then(() => setDraft(null))
    else setDraft(null)
  }
  return (
    <div onBlur={leave}>
      <Field
        label={label}
        value={text}
        onChange={setDraft}
        problem={problem}
        lines={lines}
        disabled={job.state.readOnly !== null}
        {...(help === undefined ? {} : { help })}
      />
    </div>
  )
}

/** The job's own facts, and the list of its buildings and levels. */
export function JobSheet() {
  const job = useWindow((state) => state.job)
  if (job === null) return null
  const set = (fields: Partial<Pick<JobFields, 'units'>>): void =>
    void makeChange({ does: 'set job', fields })
  const locked = job.state.readOnly !== null
  return (
    <div className="page">
      <SheetHeading title="Job details" facts={job.state.path} />
      <div className="form-columns">
        <section>
          <JobField job={job} field="name" label="Name" />
          <JobField job={job} field="number" label="Job number" />
          <JobField job={job} field="client" label="Client" />
          <JobField job={job} field="address" label="Address" lines={2} />
          <JobField job={job} field="preparedBy" label="Prepared by" />
        </section>
        <section>
          <JobField
            job={job}
            field="scheduleIssue"
            label="Issue of the schedule"
            help="Stands on every printed page."
          />
          <JobField job={job} field="scheduleDate" label="Date of the issue" help="Year-month-day." />
          <Choice
            label="Measures"
            disabled={locked}
            value={job.frame.job.units}
            options={[
              { key: 'imperial', label: 'Feet and inches' },
              { key: 'metric', label: 'Millimetres' },
            ]}
            onChange={(units) => set({ units: units as 'imperial' | 'metric' })}
          />
          <BuildingCodeChoice job={job} />
        </section>
      </div>
      <Places job={job} locked={locked} />
    </div>
  )
}

function Places({ job, locked }: { readonly job: OpenJob; readonly locked: boolean }) {
  const { openDialog } = useCommands()
  const [building, setBuilding] = useState('')
  return (
    <section className="places">
      <SheetHeading
        level={2}
        title="Buildings and levels"
        facts="in the order the schedule shows them"
        actions={
          <Button disabled={locked} onPress={() => openDialog({ form: 'add level' })}>
            Add a level
          </Button>
        }
      />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Name</th>
            <th scope="col" className="end">
              Openings
            </th>
            <th scope="col">Order</th>
            <th scope="col">
              <span className="for-ears">Remove</span>
            </th>
          </tr>
        </thead>
        {job.frame.buildings.map((each) => {
          const levels = job.frame.levels.filter((level) => level.buildingId === each.id)
          return (
            <tbody key={each.id}>
              <tr className="group-row">
                <td>
                  <NameCell
                    name={each.name}
                    label="Building name"
                    locked={locked}
                    onSet={(name) => void makeChange({ does: 'rename building', buildingId: each.id, name })}
                  />
                </td>
                <td className="end">{levels.reduce((sum, level) => sum + level.openings, 0)}</td>
                <td aria-hidden="true" />
                <td>
                  <Button
                    kind="quiet"
                    label={`Remove ${each.name}`}
                    disabled={locked || levels.length > 0}
                    onPress={() => void makeChange({ does: 'remove building', buildingId: each.id })}
                  >
                    Remove
                  </Button>
                </td>
              </tr>
              {levels.map((level, index) => (
                <tr key={level.id}>
                  <td className="indent">
                    <NameCell
                      name={level.name}
                      label="Level name"
                      locked={locked}
                      onSet={(name) => void makeChange({ does: 'rename level', levelId: level.id, name })}
                    />
                  </td>
                  <td className="end">{level.openings}</td>
                  <td>
                    <Button
                      kind="quiet"
                      label={`${level.name} earlier`}
                      disabled={locked || index === 0}
                      onPress={() => void makeChange({ does: 'move level', levelId: level.id, by: -1 })}
                    >
                      ↑
                    </Button>
                    <Button
                      kind="quiet"
                      label={`${level.name} later`}
                      disabled={locked || index === levels.length - 1}
                      onPress={() => void makeChange({ does: 'move level', levelId: level.id, by: 1 })}
                    >
                      ↓
                    </Button>
                  </td>
                  <td>
                    <Button
                      kind="quiet"
                      label={`Remove ${level.name}`}
                      disabled={locked || level.openings > 0}
                      onPress={() => void makeChange({ does: 'remove level', levelId: level.id })}
                    >
                      Remove
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          )
        })}
      </table>
      <form
        className="add-line"
        onSubmit={(event) => {
          event.preventDefault()
          if (building.trim() === '') return
          void makeChange({ does: 'add building', name: building.trim() }).then(
            (made) => made && setBuilding(''),
          )
        }}
      >
        <Field label="Another building" value={building} onChange={setBuilding} disabled={locked} />
        <Button
          disabled={locked || building.trim() === ''}
          onPress={() =>
            void makeChange({ does: 'add building', name: building.trim() }).then(
              (made) => made && setBuilding(''),
            )
          }
        >
          Add
        </Button>
      </form>
    </section>
  )
}

/** A name that is changed where it stands. */
export function NameCell({
  name,
  label,
  locked,
  onSet,
}: {
  readonly name: string
  readonly label: string
  readonly locked: boolean
  readonly onSet: (name: string) => void
}) {
  const [draft, setDraft] = useState<string | null>(null)
  const settle = (): void => {
    if (draft !== null && draft.trim() !== '' && draft.trim() !== name) onSet(draft.trim())
    setDraft(null)
  }
  return (
    <input
      className="cell-input"
      aria-label={`${label}: ${name}`}
      value={draft ?? name}
      readOnly={locked}
      onChange={(event) => setDraft(event.currentTarget.value)}
      onBlur={settle}
      onKeyDown={(event) => {
        if (event.key === 'Enter') event.currentTarget.blur()
        if (event.key === 'Escape') {
          event.stopPropagation()
          setDraft(null)
        }
      }}
    />
  )
}

export function JobMargin() {
  const job = useWindow((state) => state.job)
  if (job === null) return null
  return (
    <>
      <MarginTitle>One file, one job</MarginTitle>
      <MarginText>
        Everything about this job stands in one file. It is copied before it is upgraded and about once a day,
        and every change is kept with its name, so it can be taken back even after the program was closed.
      </MarginText>
      <MarginText>
        A level can be removed once no opening is on it. Its order here is its order in the schedule and on
        paper.
      </MarginText>
      <Citation>
        The building code is the one the authority having jurisdiction has adopted, with its local amendments.
      </Citation>
    </>
  )
}
