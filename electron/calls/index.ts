// The program behind every window: answers the contract's calls until it is closed.
import path from 'node:path'
import { answering, contract } from '../../core/contract/index.ts'
import type { Program, ProgramOptions } from '../machine.ts'
import { behaviourDesk } from './behaviour-desk.ts'
import { changeCalls } from './change-calls.ts'
import { closeFile, openAt, type Desk } from './desk.ts'
import { intakeCalls } from './intake-calls.ts'
import { intakeDesk } from './intake-desk.ts'
import { jobCalls, openDemo, readShelf } from './job-calls.ts'
import { openKeeping } from './keeping.ts'
import { paperCalls } from './paper-calls.ts'
import { cautionsCalls } from './cautions-calls.ts'
import { partsCalls } from './parts-calls.ts'
import { settingsCalls } from './settings-calls.ts'
import { powerCalls } from './power-calls.ts'
import { powerDesk } from './power-desk.ts'
import { runsCalls } from './runs-calls.ts'
import { preparationCalls } from './preparation-calls.ts'
import { provingCalls } from './proving-calls.ts'
import { handoverCalls } from './handover-calls.ts'
import { serviceCalls } from './service-calls.ts'
import { closeShelf, libraryCalls } from './library-calls.ts'
import { scheduleCalls } from './schedule-calls.ts'

const backupCheckMilliseconds = 60 * 60 * 1000

/** Starts the program: the file asked for, else the last one, else on the very first start a copy of the demo job. */
export async function openProgram(options: ProgramOptions): Promise<Program> {
  const power = powerDesk()
  const desk: Desk = {
    options,
    keeping: openKeeping(options.home),
    intakes: intakeDesk(),
    behaviour: behaviourDesk(power.read),
    power,
    file: null,
    trouble: null,
  }
  openAtStart(desk)
  const backups = setInterval(() => desk.file?.backupWhenDue(), backupCheckMilliseconds)
  backups.unref()
  return {
    answer: answering(
      contract,
      {
        ...jobCalls(desk),
        ...scheduleCalls(desk),
        ...changeCalls(desk),
        ...intakeCalls(desk),
        ...paperCalls(desk),
        ...cautionsCalls(desk),
        ...partsCalls(desk),
        ...settingsCalls(desk),
        ...powerCalls(desk),
        ...runsCalls(desk),
        ...preparationCalls(desk),
        ...provingCalls(desk),
        ...handoverCalls(desk),
        ...serviceCalls(desk),
        ...libraryCalls(desk),
      },
      {
        log: (callName, error) => console.error(`${options.now()} ${callName}`, error),
        checkAnswers: options.checkAnswers === true,
      },
    ),
    close: async () => {
      clearInterval(backups)
      closeFile(desk)
      await closeShelf(desk)
    },
  }
}

function openAtStart(desk: Desk): void {
  const { openPath, readOnly = false } = desk.options
  const [last] = desk.keeping.recent()
  const wanted = openPath === undefined ? last : path.resolve(openPath)
  const opened =
    wanted !== undefined
      ? openAt(desk, wanted, readOnly)
      : readShelf(desk).entries.length === 0
        ? openDemo(desk)
        : null
  if (opened !== null && !opened.ok) desk.trouble = opened.problem.sentence
}

export { newJobRecords } from './job-calls.ts'
export { exportSchedule, printSchedule } from './paper-calls.ts'
export { demoTwin } from './supplied.ts'
