// The demo job, and commands carried out on it as the program does.
import { demoRecords } from '../../../fixtures/demo/index.ts'
import { libraryRecords } from '../../../fixtures/parts-library/index.ts'
import { jobDataOf } from '../../../fixtures/record-list.ts'
import { invert, type Edit, type JobData } from '../../../core/job/index.ts'
import { plan, type Command } from '../../../core/schedule/index.ts'
import { counter, everything } from '../support/small-job.ts'
import { dataOfLibrary } from '../../../core/parts/index.ts'

export const demoJob = (): JobData => jobDataOf(demoRecords())
export const libraryJob = (): JobData => dataOfLibrary(libraryRecords())

const newId = counter()

/** Carries a command out; throws its sentence where it is refused. */
export function carryOut(data: JobData, command: Command): readonly Edit[] {
  const planned = plan(command, data, newId, { who: 'Ada', at: '2026-01-31T08:30:00Z' })
  if (!planned.ok) throw new Error(planned.problems[0]?.sentence)
  data.apply(planned.change.edits)
  return planned.change.edits
}

/** Takes edits back and says whether the job is as it was. */
export function takesBack(data: JobData, before: unknown, edits: readonly Edit[]): boolean {
  data.apply(invert(edits))
  return JSON.stringify(everything(data)) === JSON.stringify(before)
}

export { everything }
