// What the program has in hand: one open job file at a time, the person's preferences, and take-ins under way.
import { realpathSync } from 'node:fs'
import path from 'node:path'
import { done, refused, type Answer, type JobState } from '../../core/contract/index.ts'
import {
  jobFileExtension,
  openJobFile,
  problemSentence,
  type JobFile,
  type StoreResult,
} from '../store/index.ts'
import type { ProgramOptions } from '../machine.ts'
import type { BehaviourDesk } from './behaviour-desk.ts'
import type { IntakeDesk } from './intake-desk.ts'
import type { Keeping } from './keeping.ts'
import type { PowerDesk } from './power-desk.ts'

export interface Desk {
  readonly options: ProgramOptions
  readonly keeping: Keeping
  readonly intakes: IntakeDesk
  readonly behaviour: BehaviourDesk
  readonly power: PowerDesk
  file: JobFile | null
  /** A sentence about what could not be opened at the start. */
  trouble: string | null
}

export const noJob = () => refused('no-job', 'No job is open. Choose one from the shelf, or make a new one.')

/** A refusal of the store as an answer. */
export const fromStore = (result: Extract<StoreResult<object>, { ok: false }>): Answer<never> =>
  refused(result.problem.code, result.sentence)

/** Runs with the open job file, or answers that there is none. */
export const withFile = <Value>(desk: Desk, doing: (file: JobFile) => Answer<Value>): Answer<Value> =>
  desk.file === null ? noJob() : doing(desk.file)

export function jobState(file: JobFile): JobState {
  return {
    path: file.path,
    fileName: path.basename(file.path, jobFileExtension),
    jobName: file.data.job.name,
    openings: file.data.count('opening'),
    revision: file.revision,
    undoName: file.undoName,
    redoName: file.redoName,
    readOnly: readOnlyWords(file),
  }
}

function readOnlyWords({ readOnly, readOnlyBecause }: JobFile): string | null {
  if (!readOnly) return null
  // The store's own sentence for this is about a change that was not made.
  return readOnlyBecause === null || readOnlyBecause.code === 'read-only'
    ? 'This job is open for reading only.'
    : problemSentence(readOnlyBecause)
}

export const storeOptions = (desk: Desk) => ({ who: desk.options.who, now: desk.options.now })

/** Opens a job file in place of the one in hand, which stays where the other cannot be opened. */
export function openAt(desk: Desk, jobPath: string, readOnly: boolean): Answer<JobState> {
  // Opened twice, a file would be held by ourselves.
  if (desk.file !== null && isSamePlace(desk.file.path, jobPath)) closeFile(desk)
  const opened = openJobFile(jobPath, { ...storeOptions(desk), readOnly })
  if (!opened.ok) return fromStore(opened)
  closeFile(desk)
  desk.file = opened.file
  desk.trouble = null
  desk.keeping.remember(opened.file.path)
  return done(jobState(opened.file))
}

function isSamePlace(one: string, other: string): boolean {
  try {
    return realpathSync.native(one) === realpathSync.native(other)
  } catch {
    return path.resolve(one) === path.resolve(other)
  }
}

export function closeFile(desk: Desk): void {
  desk.file?.close()
  desk.file = null
  desk.intakes.dropAll()
  desk.behaviour.forget()
  desk.power.forget()
}
