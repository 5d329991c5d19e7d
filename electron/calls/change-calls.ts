// Making, taking back and doing again.
import {
  done,
  refused,
  type Answer,
  type CellRefusal,
  type ChangeOutcome,
  type Handlers,
  type HistoryEntry,
  type LintelbookContract,
  type ScheduleSnapshot,
} from '../../core/contract/index.ts'
import type { Change, Edit, JobData } from '../../core/job/index.ts'
import { openingsTouched, plan, scheduleFrame, scheduleRow, type Command } from '../../core/schedule/index.ts'
import type { HistoryEntry as StoredEntry, JobFile } from '../store/index.ts'
import { fromStore, jobState, withFile, type Desk } from './desk.ts'

type ChangeCalls = Pick<
  Handlers<LintelbookContract>,
  'change.make' | 'change.undo' | 'change.redo' | 'history.read'
>

export const changeCalls = (desk: Desk): ChangeCalls => ({
  'change.make': ({ command }) =>
    withFile(desk, (file) => {
      const { who, now, newId } = desk.options
      const planned = plan(command, file.data, newId, { who, at: now() })
      if (!planned.ok) {
        const [first] = planned.problems
        const others = planned.problems.length - 1
        const more = others > 0 ? ` ${others} more could not be read either.` : ''
        return refused(
          'not-possible',
          `${first?.sentence ?? 'This cannot be done.'}${more} Nothing was changed.`,
          planned.problems,
        )
      }
      return commit(desk, file, planned.change, planned.reveal, planned.leftOut)
    }),
  'change.undo': () => withFile(desk, (file) => turned(desk, file, file.undo())),
  'change.redo': () => withFile(desk, (file) => turned(desk, file, file.redo())),
  'history.read': ({ limit }) =>
    withFile(desk, (file) => done({ entries: file.history(limit).map(historyEntry) })),
})

export const historyEntry = (entry: StoredEntry): HistoryEntry => ({
  seq: entry.seq,
  name: entry.name,
  who: entry.who,
  at: entry.at,
  state: entry.state,
})

/** The parts of a job by name, as windows choose from them. */
export const partsToChoose = (data: JobData): ScheduleSnapshot['parts'] =>
  Array.from(data.all('part'), ({ id, name, kind }) => ({ id, name, kind })).toSorted((one, other) =>
    one.name.localeCompare(other.name),
  )

/** Plans a command of the program's own making and writes it. `at`: when it was asked, where that is not now. */
export function carryOut(
  desk: Desk,
  file: JobFile,
  command: Command,
  at: string = desk.options.now(),
): Answer<ChangeOutcome> {
  const { who, newId } = desk.options
  const planned = plan(command, file.data, newId, { who, at })
  if (planned.ok) return commit(desk, file, planned.change, planned.reveal, planned.leftOut)
  const [first] = planned.problems
  return refused('not-possible', `${first?.sentence ?? 'This cannot be done.'} Nothing was changed.`)
}

/** Writes a change and says what became of the rows. A change without edits writes nothing. */
export function commit(
  desk: Desk,
  file: JobFile,
  change: Change,
  reveal: readonly string[],
  leftOut: readonly CellRefusal[],
): Answer<ChangeOutcome> {
  if (change.edits.length === 0) return done(outcome(desk, file, change.name, [], reveal, leftOut))
  const committed = file.commit(change)
  if (!committed.ok) return fromStore(committed)
  return done(outcome(desk, file, committed.name, committed.edits, reveal, leftOut))
}

function turned(desk: Desk, file: JobFile, result: ReturnType<JobFile['undo']>): Answer<ChangeOutcome> {
  return result.ok ? done(outcome(desk, file, result.name, result.edits, [], [])) : fromStore(result)
}

function outcome(
  desk: Desk,
  file: JobFile,
  name: string,
  edits: readonly Edit[],
  reveal: readonly string[],
  leftOut: readonly CellRefusal[],
): ChangeOutcome {
  const { data } = file
  const touched = openingsTouched(data, edits)
  const changed = [...touched.openings].flatMap((id) => {
    const opening = data.get('opening', id)
    return opening === undefined ? [] : [scheduleRow(data, opening)]
  })
  const reached = desk.behaviour.changed(data, edits)
  desk.power.changed(data, edits, reached === 'all' ? 'all' : [...touched.openings, ...reached])
  const onBatteries = desk.behaviour.batteriesChanged(data)
  const judged =
    reached === 'all'
      ? [...data.all('opening')]
      : [...new Set<string>([...touched.openings, ...reached, ...onBatteries])].flatMap(
          (id) => data.get('opening', id) ?? [],
        )
  return {
    state: jobState(file),
    name,
    changed,
    gates: desk.behaviour.gates(data, judged),
    cautions: desk.behaviour.cautions(data, judged),
    removed: [...touched.removed],
    frame: touched.frame ? scheduleFrame(data) : null,
    parts: touched.frame ? partsToChoose(data) : null,
    reveal,
    leftOut,
  }
}
