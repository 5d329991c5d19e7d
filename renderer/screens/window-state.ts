// What this window shows. The job itself lives with the host; here stand its rows as last told, and how a person looks at them.
import { create } from 'zustand'
import {
  plainPreferences,
  type Answer,
  type ChangeOutcome,
  type IntakePreview,
  type JobState,
  type Problem,
  type ScheduleSnapshot,
  type Shelf,
  type WindowPreferences,
} from '../../core/contract/index.ts'
import {
  arrangeRows,
  keepArranged,
  plainArrangement,
  usualColumns,
  type Arrangement,
  type ColumnKey,
  type Command,
  type RowGroup,
  type ScheduleFrame,
  type ScheduleRow,
} from '../../core/schedule/index.ts'
import type { CautionCount } from '../../core/cautions/index.ts'
import type { Gates } from '../../core/documents/index.ts'
import { ask } from '../bridge.ts'
import type { TableSelection } from '../ui/index.ts'

/** A strip with a sentence, and what can be done about it. */
export interface WindowNotice {
  readonly weight: 'told' | 'question' | 'stop'
  readonly words: string
  readonly more?: readonly string[]
  readonly actions?: readonly { readonly label: string; readonly act: () => void }[]
}

export interface OpenJob {
  readonly state: JobState
  readonly frame: ScheduleFrame
  readonly rows: ReadonlyMap<string, ScheduleRow>
  /** What each doorway does, by opening. */
  readonly gates: ReadonlyMap<string, Gates | null>
  /** How each opening stands with the rules. */
  readonly cautions: ReadonlyMap<string, CautionCount>
  readonly parts: ScheduleSnapshot['parts']
}

export interface WindowState {
  readonly job: OpenJob | null
  readonly shelf: Shelf | null
  readonly preferences: WindowPreferences
  readonly arrangement: Arrangement
  /** The rows as last arranged. Edits keep their places; only arranging anew moves rows. */
  readonly groups: readonly RowGroup[]
  readonly collapsed: ReadonlySet<string>
  readonly selection: TableSelection | null
  readonly notice: WindowNotice | null
  /** One sentence while something long is under way. */
  readonly working: string | null
  readonly intake: IntakePreview | null
  /** Grows with every change, so that pages know to ask again. */
  readonly revision: number
}

export const useWindow = create<WindowState>()(() => ({
  job: null,
  shelf: null,
  preferences: plainPreferences,
  arrangement: plainArrangement,
  groups: [],
  collapsed: new Set(),
  selection: null,
  notice: null,
  working: null,
  intake: null,
  revision: 0,
}))

const set = useWindow.setState
const get = useWindow.getState

export const tell = (notice: WindowNotice | null): void => set({ notice })
export const stopFor = (problem: Problem): void => tell({ weight: 'stop', words: problem.sentence })

/** The columns shown, in order. */
export const shownColumns = (preferences: WindowPreferences): readonly ColumnKey[] =>
  preferences.columns ?? usualColumns

function arrangedAnew(job: OpenJob, arrangement: Arrangement): readonly RowGroup[] {
  return arrangeRows([...job.rows.values()], job.frame, arrangement)
}

function takeSnapshot(snapshot: ScheduleSnapshot, fresh: boolean): void {
  const { state, frame, rows, gates, cautions, parts, preferences } = snapshot
  const job: OpenJob = {
    state,
    frame,
    parts,
    rows: new Map(rows.map((row) => [row.id, row])),
    gates: byOpening(gates),
    cautions: byOpening(cautions),
  }
  const arrangement = fresh
    ? { ...plainArrangement, ...keptArrangement(preferences.arrangement) }
    : get().arrangement
  set({
    job,
    revision: state.revision,
    arrangement,
    groups: arrangedAnew(job, arrangement),
    ...(fresh
      ? { preferences, collapsed: new Set<string>(), selection: null, notice: null, intake: null }
      : {}),
  })
  document.title = `${state.jobName} · Lintelbook`
  if (fresh && state.readOnly !== null) tell({ weight: 'question', words: state.readOnly })
}

/** Grouping and order are habits; the words and levels looked for belong to the moment. */
const keptArrangement = (arrangement: Arrangement | null): Partial<Arrangement> =>
  arrangement === null ? {} : { group: arrangement.group, sort: arrangement.sort }

/** Reads the open job anew. */
export async function readSchedule(fresh: boolean): Promise<void> {
  const answer = await ask('schedule.read', {})
  if (answer.ok) takeSnapshot(answer.value, fresh)
  else if (answer.problem.code === 'no-job') set({ job: null })
  else stopFor(answer.problem)
}

export async function readShelf(): Promise<void> {
  const answer = await ask('shelf.read', {})
  if (answer.ok) set({ shelf: answer.value })
  else stopFor(answer.problem)
}

export function takeOutcome(outcome: ChangeOutcome): void {
  const { job, groups, arrangement } = get()
  if (job === null) return
  const changed = changedRows(job, outcome)
  const next: OpenJob = {
    ...job,
    state: outcome.state,
    frame: outcome.frame ?? job.frame,
    parts: outcome.parts ?? job.parts,
    rows: rowsAfter(job, changed, outcome.removed),
    gates: afterChange(job.gates, outcome.gates, outcome.removed),
    cautions: afterChange(job.cautions, outcome.cautions, outcome.removed),
  }
  const kept = keepArranged(groups, arrangement.group, changed, new Set(outcome.removed))
  set({ job: next, groups: kept ?? arrangedAnew(next, arrangement), revision: outcome.state.revision })
  const [first] = outcome.reveal
  if (first !== undefined) revealOpening(first, 'mark')
}

interface SharedByOpenings<Value> {
  readonly sets: readonly Value[]
  readonly of: Readonly<Record<string, number>>
}

const byOpening = <Value>({ sets, of }: SharedByOpenings<Value>): Map<string, Value> =>
  new Map(Object.entries(of).map(([id, place]) => [id, sets[place] as Value]))

function afterChange<Value>(
  before: ReadonlyMap<string, Value>,
  told: SharedByOpenings<Value>,
  removed: readonly string[],
): ReadonlyMap<string, Value> {
  const next = new Map(before)
  for (const id of removed) next.delete(id)
  for (const [id, each] of byOpening(told)) next.set(id, each)
  return next
}

/** The rows to draw anew: those that changed, and those whose doorway may do or be judged otherwise now. */
function changedRows(job: OpenJob, outcome: ChangeOutcome): Map<string, ScheduleRow> {
  const changed = new Map<string, ScheduleRow>(outcome.changed.map((row) => [row.id, row]))
  for (const id of Object.keys(outcome.gates.of)) {
    const row = job.rows.get(id)
    // Another object, because the table draws a row again only when it is one.
    if (row !== undefined && !changed.has(id)) changed.set(id, { ...row })
  }
  return changed
}

function rowsAfter(
  job: OpenJob,
  changed: ReadonlyMap<string, ScheduleRow>,
  removed: readonly string[],
): OpenJob['rows'] {
  if (changed.size === 0 && removed.length === 0) return job.rows
  const rows = new Map(job.rows)
  for (const id of removed) rows.delete(id)
  for (const [id, row] of changed) rows.set(id, row)
  return rows
}

/** Puts the cursor on an opening, unfolding and widening what hides it. */
export function revealOpening(id: string, column?: ColumnKey): void {
  const { job, collapsed } = get()
  if (job === null || !job.rows.has(id)) return
  const holding = (): RowGroup | undefined =>
    get().groups.find((each) => each.rows.some((row) => row.id === id))
  if (holding() === undefined) arrange({ words: '', levelIds: [], typicalIds: [], only: 'all' })
  const group = holding()
  if (group === undefined) return
  const { selection } = get()
  // Whoever comes back from a page finds the cursor in the column it was in.
  const columnKey = column ?? (selection?.form === 'cells' ? selection.anchor.columnKey : 'mark')
  const place = { rowKey: id, columnKey }
  const unfolded = new Set(collapsed)
  unfolded.delete(group.key)
  set({ collapsed: unfolded, selection: { form: 'cells', anchor: place, focus: place } })
}

/** Asks for a change. Says what could not be read, and offers to leave just that out. True when it was carried out. */
export async function makeChange(command: Command): Promise<boolean> {
  const answer = await ask('change.make', { command })
  return settle(answer, command)
}

function settle(answer: Answer<ChangeOutcome>, command: Command | null): boolean {
  if (answer.ok) {
    takeOutcome(answer.value)
    const { leftOut } = answer.value
    tell(
      leftOut.length === 0
        ? null
        : {
            weight: 'question',
            words: `${leftOut.length} ${leftOut.length === 1 ? 'cell was' : 'cells were'} left out.`,
            more: leftOut.map((each) => each.sentence),
          },
    )
    return true
  }
  const more = refusalsOf(answer.problem)
  const others = command?.does === 'set cells' ? command.cells.length - more.length : 0
  tell({
    weight: 'stop',
    words:
      command?.does === 'set cells' && more.length > 1
        ? `${more.length} cells could not be read. Nothing was changed.`
        : answer.problem.sentence,
    ...(more.length > 1 ? { more } : {}),
    ...(command?.does === 'set cells' && others > 0
      ? {
          actions: [
            {
              label: `Leave ${more.length === 1 ? 'it' : 'them'} out and set the other ${others}`,
              act: () => void makeChange({ ...command, unreadable: 'leave out' }),
            },
          ],
        }
      : {}),
  })
  return false
}

function refusalsOf(problem: Problem): string[] {
  const { details } = problem
  if (!Array.isArray(details)) return []
  return details.flatMap((each: unknown) =>
    typeof each === 'object' && each !== null && 'sentence' in each ? [String(each.sentence)] : [],
  )
}

export async function undo(): Promise<void> {
  const answer = await ask('change.undo', {})
  if (settle(answer, null) && answer.ok) tell({ weight: 'told', words: `Taken back: ${answer.value.name}.` })
}

export async function redo(): Promise<void> {
  const answer = await ask('change.redo', {})
  if (settle(answer, null) && answer.ok) tell({ weight: 'told', words: `Done again: ${answer.value.name}.` })
}

/** Runs something long with a sentence in view, and says what went wrong. */
export async function working<Value>(
  words: string,
  doing: () => Promise<Answer<Value>>,
): Promise<Value | null> {
  set({ working: words, notice: null })
  try {
    const answer = await doing()
    if (answer.ok) return answer.value
    stopFor(answer.problem)
    return null
  } finally {
    set({ working: null })
  }
}

let saving: ReturnType<typeof setTimeout> | undefined
function savePreferences(): void {
  clearTimeout(saving)
  saving = setTimeout(() => void ask('preferences.set', { preferences: get().preferences }), 400)
}

export function prefer(change: Partial<WindowPreferences>): void {
  set({ preferences: { ...get().preferences, ...change } })
  savePreferences()
}

export function arrange(change: Partial<Arrangement>): void {
  const { job } = get()
  const arrangement = { ...get().arrangement, ...change }
  set(job === null ? { arrangement } : { arrangement, groups: arrangedAnew(job, arrangement) })
  if (change.group !== undefined || change.sort !== undefined) prefer({ arrangement })
}

export function toggleGroup(key: string): void {
  const collapsed = new Set(get().collapsed)
  if (!collapsed.delete(key)) collapsed.add(key)
  set({ collapsed })
}

export const select = (selection: TableSelection | null): void => set({ selection })

/** For windows that look on while another writes: asks now and then whether anything changed. */
export async function lookAgain(): Promise<void> {
  const { job } = get()
  if (job === null || job.state.readOnly === null) return
  const answer = await ask('schedule.since', { revision: job.state.revision })
  if (answer.ok && answer.value.snapshot !== null) takeSnapshot(answer.value.snapshot, false)
}

export async function leaveJob(): Promise<void> {
  const answer = await ask('job.close', {})
  if (!answer.ok) return stopFor(answer.problem)
  set({ job: null, intake: null, notice: null, selection: null })
  document.title = 'Lintelbook'
  await readShelf()
}

export const setIntake = (intake: IntakePreview | null): void => set({ intake })
