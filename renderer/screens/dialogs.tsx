// The questions a deed may need answered first. Each is one small form; Enter does it, Escape leaves it.
import { useState, type FormEvent, type ReactNode } from 'react'
import { pageSizes } from '../../core/contract/index.ts'
import { markSequence, nextMark } from '../../core/job/index.ts'
import { scheduleColumns, usualColumns, type ColumnKey } from '../../core/schedule/index.ts'
import { ask } from '../bridge.ts'
import { Button, Checkbox, Choice, Dialog, Field, NumberField } from '../ui/index.ts'
import { PrintCautions } from './cautions/index.ts'
import type { DialogState } from './dialog-state.ts'
import { keep } from './keep.ts'
import { goTo } from './place.ts'
import { selectedOpenings } from './selected.ts'
import {
  makeChange,
  prefer,
  readSchedule,
  setIntake,
  shownColumns,
  useWindow,
  working,
  type OpenJob,
} from './window-state.ts'

interface Asked {
  readonly onClose: () => void
}

export function Dialogs({ dialog, onClose }: Asked & { readonly dialog: DialogState | null }) {
  const job = useWindow((state) => state.job)
  if (dialog === null) return null
  if (dialog.form === 'new job') return <NewJob onClose={onClose} />
  if (job === null) return null
  switch (dialog.form) {
    case 'add openings':
      return <AddOpenings job={job} levelId={dialog.levelId} onClose={onClose} />
    case 'renumber':
      return <Renumber job={job} openingIds={dialog.openingIds} onClose={onClose} />
    case 'move':
      return <MoveOpenings job={job} openingIds={dialog.openingIds} onClose={onClose} />
    case 'remove':
      return <RemoveOpenings job={job} openingIds={dialog.openingIds} onClose={onClose} />
    case 'add level':
      return <AddLevel job={job} onClose={onClose} />
    case 'add typical':
      return <AddTypical job={job} onClose={onClose} />
    case 'columns':
      return <Columns onClose={onClose} />
    case 'print':
      return <Print onClose={onClose} />
    case 'print cautions':
      return <PrintCautions job={job} onClose={onClose} />
    case 'paste rows':
      return <PasteRows onClose={onClose} />
  }
}

/** A dialog whose Enter does the one thing it is for. */
export function Form({
  title,
  does,
  danger = false,
  ready = true,
  size = 'small',
  onDo,
  onClose,
  children,
}: Asked & {
  readonly title: string
  /** The words on the button. */
  readonly does: string
  readonly danger?: boolean
  readonly ready?: boolean
  readonly size?: 'small' | 'middle'
  /** False keeps the dialog open: what went wrong stands in the notice. */
  readonly onDo: () => Promise<boolean>
  readonly children: ReactNode
}) {
  const [busy, setBusy] = useState(false)
  const act = async (): Promise<void> => {
    if (!ready || busy) return
    setBusy(true)
    const done = await onDo()
    setBusy(false)
    if (done) onClose()
  }
  return (
    <Dialog
      title={title}
      open
      onClose={onClose}
      size={size}
      actions={
        <>
          <Button onPress={onClose}>Leave it</Button>
          <Button kind={danger ? 'danger' : 'main'} disabled={!ready || busy} onPress={() => void act()}>
            {does}
          </Button>
        </>
      }
    >
      <form
        className="dialog-form"
        onSubmit={(event: FormEvent) => {
          event.preventDefault()
          void act()
        }}
      >
        {children}
        <button type="submit" hidden aria-hidden="true" tabIndex={-1} />
      </form>
    </Dialog>
  )
}

const levelOptions = (job: OpenJob) =>
  job.frame.levels.map((level) => {
    const building = job.frame.buildings.find((each) => each.id === level.buildingId)?.name ?? ''
    return {
      key: level.id,
      label: job.frame.buildings.length > 1 ? `${building}, ${level.name}` : level.name,
    }
  })

function NewJob({ onClose }: Asked) {
  const [name, setName] = useState('')
  return (
    <Form
      title="New job"
      does="Make the job"
      ready={name.trim() !== ''}
      onClose={onClose}
      onDo={async () => {
        const made = await working('Making the job', () => ask('job.make', { name: name.trim() }))
        if (made === null) return false
        await readSchedule(true)
        goTo({ sheet: 'schedule' })
        return true
      }}
    >
      <Field
        label="Name of the job"
        value={name}
        onChange={setName}
        autoFocus
        help="One client, one or more buildings. It becomes the name of the file."
      />
    </Form>
  )
}

function AddOpenings({ job, levelId, onClose }: Asked & { job: OpenJob; levelId: string | null }) {
  const [near] = selectedOpenings()
  const there = levelId ?? (near === undefined ? undefined : job.rows.get(near)?.levelId)
  const [level, setLevel] = useState<string | null>(there ?? job.frame.levels[0]?.id ?? null)
  const [mark, setMark] = useState('')
  const [count, setCount] = useState<number | null>(1)
  const whole = count !== null && Number.isInteger(count) && count >= 1 && count <= 1000
  return (
    <Form
      title="Add openings"
      does="Add"
      ready={level !== null && whole}
      onClose={onClose}
      onDo={() =>
        makeChange({
          does: 'add openings',
          levelId: level ?? '',
          firstMark: mark.trim() === '' ? null : mark.trim(),
          count: count ?? 1,
        })
      }
    >
      <Field
        label="First mark"
        value={mark}
        onChange={setMark}
        autoFocus
        help="Left empty: the next after the last on that level."
      />
      <NumberField
        label="How many"
        value={count}
        onChange={setCount}
        problem={whole ? undefined : 'How many expects a whole number from 1 to 1000.'}
      />
      <Choice label="Level" options={levelOptions(job)} value={level} onChange={setLevel} />
    </Form>
  )
}

function Renumber({ job, openingIds, onClose }: Asked & { job: OpenJob; openingIds: readonly string[] }) {
  const marks = openingIds.map((id) => job.rows.get(id)?.mark ?? '')
  const [first, setFirst] = useState(marks[0] ?? '1')
  const next = first.trim() === '' ? [] : markSequence(first.trim(), openingIds.length)
  return (
    <Form
      title={openingIds.length === 1 ? `Renumber ${marks[0]}` : `Renumber ${openingIds.length} openings`}
      does="Renumber"
      ready={first.trim() !== ''}
      onClose={onClose}
      onDo={() =>
        makeChange({ does: 'renumber openings', openingIds: [...openingIds], firstMark: first.trim() })
      }
    >
      <Field
        label="First mark"
        value={first}
        onChange={setFirst}
        autoFocus
        help="The others follow in the order shown."
      />
      <ul className="dialog-list">
        {marks.slice(0, 6).map((mark, index) => (
          <li key={openingIds[index]}>
            {mark} becomes <b>{next[index] ?? '?'}</b>
          </li>
        ))}
        {marks.length > 6 && (
          <li>
            and {marks.length - 6} more, to {next.at(-1) ?? nextMark(first)}
          </li>
        )}
      </ul>
    </Form>
  )
}

function MoveOpenings({ job, openingIds, onClose }: Asked & { job: OpenJob; openingIds: readonly string[] }) {
  const [level, setLevel] = useState<string | null>(null)
  const what =
    openingIds.length === 1 ? job.rows.get(openingIds[0] ?? '')?.mark : `${openingIds.length} openings`
  return (
    <Form
      title={`Move ${what} to a level`}
      does="Move"
      ready={level !== null}
      onClose={onClose}
      onDo={() => makeChange({ does: 'move openings', openingIds: [...openingIds], levelId: level ?? '' })}
    >
      <Choice label="Level" options={levelOptions(job)} value={level} onChange={setLevel} autoFocus />
    </Form>
  )
}

function RemoveOpenings({
  job,
  openingIds,
  onClose,
}: Asked & { job: OpenJob; openingIds: readonly string[] }) {
  const marks = openingIds.map((id) => job.rows.get(id)?.mark ?? '')
  const what = marks.length === 1 ? marks[0] : `${marks.length} openings`
  return (
    <Form
      title={`Remove ${what}?`}
      does={`Remove ${what}`}
      danger
      onClose={onClose}
      onDo={() => makeChange({ does: 'remove openings', openingIds: [...openingIds] })}
    >
      <p>
        {marks.slice(0, 12).join(', ')}
        {marks.length > 12 ? ` and ${marks.length - 12} more` : ''}. Their fittings, answers and proofs go
        with them. It can be undone.
      </p>
    </Form>
  )
}

function AddLevel({ job, onClose }: Asked & { job: OpenJob }) {
  const [name, setName] = useState('')
  const [building, setBuilding] = useState<string | null>(job.frame.buildings[0]?.id ?? null)
  return (
    <Form
      title="Add a level"
      does="Add"
      ready={name.trim() !== '' && building !== null}
      onClose={onClose}
      onDo={() => makeChange({ does: 'add level', buildingId: building ?? '', name: name.trim() })}
    >
      <Field label="Name" value={name} onChange={setName} autoFocus help="Level 2, Basement, Roof" />
      {job.frame.buildings.length > 1 && (
        <Choice
          label="Building"
          options={job.frame.buildings.map((each) => ({ key: each.id, label: each.name }))}
          value={building}
          onChange={setBuilding}
        />
      )}
    </Form>
  )
}

const likeNone = 'none'

function AddTypical({ job, onClose }: Asked & { job: OpenJob }) {
  const [name, setName] = useState('')
  const [like, setLike] = useState(likeNone)
  return (
    <Form
      title="Add a typical"
      does="Add"
      ready={name.trim() !== ''}
      onClose={onClose}
      onDo={() =>
        makeChange({ does: 'add typical', name: name.trim(), likeTypicalId: like === likeNone ? null : like })
      }
    >
      <Field label="Name" value={name} onChange={setName} autoFocus help="What people on the job call it." />
      <Choice
        label="Begin like"
        options={[
          { key: likeNone, label: 'Empty' },
          ...job.frame.typicals.map((each) => ({ key: each.id, label: each.name })),
        ]}
        value={like}
        onChange={setLike}
      />
    </Form>
  )
}

function Columns({ onClose }: Asked) {
  const preferences = useWindow((state) => state.preferences)
  const shown = shownColumns(preferences)
  const rest = scheduleColumns.map((column) => column.key).filter((key) => !shown.includes(key))
  const heading = (key: ColumnKey): string => scheduleColumns.find((each) => each.key === key)?.heading ?? key
  const about = (key: ColumnKey): string => scheduleColumns.find((each) => each.key === key)?.about ?? ''
  const set = (keys: readonly ColumnKey[]): void => prefer({ columns: [...keys] })
  const moved = (key: ColumnKey, by: number): readonly ColumnKey[] => {
    const keys = shown.filter((each) => each !== key)
    keys.splice(Math.max(1, shown.indexOf(key) + by), 0, key)
    return keys
  }
  return (
    <Dialog
      title="Columns"
      open
      onClose={onClose}
      size="middle"
      actions={
        <>
          <Button onPress={() => prefer({ columns: null })}>The usual ones</Button>
          <Button kind="main" onPress={onClose}>
            Done
          </Button>
        </>
      }
    >
      <ul className="column-list">
        {[...shown, ...rest].map((key, index) => (
          <li key={key}>
            <Checkbox
              checked={shown.includes(key)}
              disabled={key === 'mark'}
              onChange={(checked) => set(checked ? [...shown, key] : shown.filter((each) => each !== key))}
            >
              <b>{heading(key)}</b> <span className="soft">{about(key)}</span>
            </Checkbox>
            {shown.includes(key) && key !== 'mark' && (
              <span className="column-moves">
                <Button
                  kind="quiet"
                  label={`${heading(key)} earlier`}
                  disabled={index < 2}
                  onPress={() => set(moved(key, -1))}
                >
                  ↑
                </Button>
                <Button
                  kind="quiet"
                  label={`${heading(key)} later`}
                  disabled={index === shown.length - 1}
                  onPress={() => set(moved(key, 1))}
                >
                  ↓
                </Button>
              </span>
            )}
          </li>
        ))}
      </ul>
    </Dialog>
  )
}

const pageWords: Readonly<Record<(typeof pageSizes)[number], string>> = {
  letter: 'Letter, landscape (11 × 8 1/2 in.)',
  tabloid: 'Tabloid, landscape (17 × 11 in.)',
  a4: 'A4, landscape (297 × 210 mm)',
  a3: 'A3, landscape (420 × 297 mm)',
}

function Print({ onClose }: Asked) {
  const { arrangement, preferences, groups, job } = useWindow.getState()
  const [pageSize, setPageSize] = useState<(typeof pageSizes)[number]>(
    job?.frame.job.units === 'metric' ? 'a3' : 'tabloid',
  )
  const [which, setWhich] = useState<'shown' | 'usual'>('shown')
  const shown = groups.reduce((sum, group) => sum + group.rows.length, 0)
  return (
    <Form
      title="Print the schedule"
      does="Make the PDF"
      onClose={onClose}
      onDo={async () => {
        const columns = which === 'shown' ? shownColumns(preferences) : usualColumns
        const made = await working('Setting the pages', () =>
          ask('print.schedule', { pageSize, arrangement, columns: [...columns] }),
        )
        if (made !== null) keep(made)
        return made !== null
      }}
    >
      <p>
        The {shown} openings in view, grouped and sorted as they stand. Narrow pages leave out the last
        columns and say which.
      </p>
      <Choice
        label="Page"
        autoFocus
        options={pageSizes.map((key) => ({ key, label: pageWords[key] }))}
        value={pageSize}
        onChange={(key) => setPageSize(key as (typeof pageSizes)[number])}
      />
      <Choice
        label="Columns"
        options={[
          { key: 'shown', label: 'Those shown now' },
          { key: 'usual', label: 'The usual ones' },
        ]}
        value={which}
        onChange={(key) => setWhich(key as 'shown' | 'usual')}
      />
    </Form>
  )
}

function PasteRows({ onClose }: Asked) {
  const [text, setText] = useState('')
  return (
    <Form
      title="Take in pasted rows"
      does="Read the rows"
      size="middle"
      ready={text.trim() !== ''}
      onClose={onClose}
      onDo={async () => {
        const preview = await working('Reading the rows', () => ask('intake.paste', { text }))
        if (preview === null) return false
        setIntake(preview)
        goTo({ sheet: 'intake' })
        return true
      }}
    >
      <Field
        label="Rows from a spreadsheet, with their headings"
        lines={12}
        value={text}
        onChange={setText}
        autoFocus
        help="Nothing is written before you have seen what each row was understood as."
      />
    </Form>
  )
}
