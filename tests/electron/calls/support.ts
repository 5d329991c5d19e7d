// A program in a home of its own, asked as a window asks it.
import { randomUUID } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll } from 'vitest'
import type {
  CallName,
  ChangeOutcome,
  Given,
  LintelbookContract,
  Out,
  Problem,
  ScheduleSnapshot,
} from '../../../core/contract/index.ts'
import type { Command, ScheduleRow } from '../../../core/schedule/index.ts'
import { openProgram } from '../../../electron/calls/index.ts'
import type { Program, ProgramOptions } from '../../../electron/machine.ts'

type Name = CallName<LintelbookContract>

export interface Running {
  readonly program: Program
  /** The value of a good answer; a refusal fails the test with its sentence. */
  readonly ask: <Call extends Name>(
    call: Call,
    input: Given<LintelbookContract, Call>,
  ) => Promise<Out<LintelbookContract, Call>>
  /** The problem of a refusal; a good answer fails the test. */
  readonly refusal: <Call extends Name>(
    call: Call,
    input: Given<LintelbookContract, Call>,
  ) => Promise<Problem>
  readonly change: (command: Command) => Promise<ChangeOutcome>
  readonly schedule: () => Promise<ScheduleSnapshot>
  readonly row: (mark: string) => Promise<ScheduleRow>
  /** The whole job as text: two equal texts are two equal jobs. */
  readonly twin: () => Promise<string>
  readonly close: () => Promise<void>
}

const folders: string[] = []
const programs: Program[] = []

/** A folder that is gone after the tests of the file. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-calls-'))
  folders.push(folder)
  return folder
}

afterAll(async () => {
  for (const program of programs) await program.close()
  for (const folder of folders) rmSync(folder, { recursive: true, force: true })
})

/** Options with a clock that moves on a second each time it is asked. */
export function optionsIn(home: string, more: Partial<ProgramOptions> = {}): ProgramOptions {
  let seconds = 0
  return {
    home,
    jobsFolder: path.join(home, 'jobs'),
    who: 'Ada Fitter',
    now: () => new Date(Date.UTC(2026, 2, 2, 8, 0, seconds++)).toISOString(),
    newId: randomUUID,
    checkAnswers: true,
    ...more,
  }
}

/** Starts the program as a window would; whatever is left open is closed after the tests of the file. */
export async function start(home: string, more: Partial<ProgramOptions> = {}): Promise<Running> {
  const program = await openProgram(optionsIn(home, more))
  programs.push(program)
  const ask: Running['ask'] = async (call, input) => {
    const answer = await program.answer({ call, input })
    if (!answer.ok) throw new Error(`${call}: ${answer.problem.code}: ${answer.problem.sentence}`)
    return answer.value as never
  }
  const refusal: Running['refusal'] = async (call, input) => {
    const answer = await program.answer({ call, input })
    if (answer.ok) throw new Error(`${call} was not refused`)
    return answer.problem
  }
  const schedule = () => ask('schedule.read', {})
  return {
    program,
    ask,
    refusal,
    change: (command) => ask('change.make', { command }),
    schedule,
    row: async (mark) => {
      const { rows } = await schedule()
      const row = rows.find((each) => each.mark === mark)
      if (row === undefined) throw new Error(`no opening ${mark}`)
      return row
    },
    twin: async () => textOf(await ask('twin.write', {})),
    close: async () => program.close(),
  }
}

export const bytesOf = (made: { readonly base64: string }): Buffer => Buffer.from(made.base64, 'base64')
export const textOf = (made: { readonly base64: string }): string => bytesOf(made).toString('utf8')
export const asBase64 = (text: string): string => Buffer.from(text).toString('base64')

const fixtures = path.resolve(import.meta.dirname, '../../../fixtures/intake')
export const fixture = (name: string): { fileName: string; base64: string } => ({
  fileName: name,
  base64: readFileSync(path.join(fixtures, name)).toString('base64'),
})

/** A home with one new, empty job open in it. */
export async function startEmpty(more: Partial<ProgramOptions> = {}): Promise<Running & { home: string }> {
  const home = temporaryFolder()
  const running = await start(home, { openPath: path.join(home, 'none.lintelbook'), ...more })
  await running.ask('job.make', { name: 'Ward block' })
  return { ...running, home }
}

/** Text without its journal: what the job says, not how it came to say it. */
export const withoutHistory = (twin: string): string =>
  JSON.stringify({ ...(JSON.parse(twin) as object), history: [] })
