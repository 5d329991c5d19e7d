// npm run demo. No window: makes the invented demo job, prints its schedule, and says in a few lines what is in it.
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import {
  plainArrangement,
  scheduleFrame,
  scheduleQuestions,
  scheduleRows,
  usualColumns,
} from '../../core/schedule/index.ts'
import { demoTwin, printSchedule } from '../calls/index.ts'
import { personName } from '../machine.ts'
import { makeJobFromTwin, type JobFile } from '../store/index.ts'

const now = (): string => new Date().toISOString()
const say = (line: string): void => console.log(line)

/** LINTELBOOK_HOME/demo, emptied; else a new temporary folder. */
function freshFolder(): string {
  const home = process.env['LINTELBOOK_HOME']
  if (!home) return mkdtempSync(path.join(os.tmpdir(), 'lintelbook-demo-'))
  const folder = path.resolve(home, 'demo')
  rmSync(folder, { recursive: true, force: true })
  mkdirSync(folder, { recursive: true })
  return folder
}

function saySummary({ data }: JobFile): void {
  const { job, buildings, levels } = scheduleFrame(data)
  const rows = scheduleRows(data)
  say(`${job.name}, an invented job: ${rows.length} openings`)
  for (const { id, name } of buildings)
    for (const level of levels.filter((each) => each.buildingId === id))
      say(`  ${`${name}, ${level.name}`.padEnd(32)}${String(level.openings).padStart(4)}`)
  const asked = rows.map(scheduleQuestions).filter((questions) => questions.length > 0)
  const kinds = Map.groupBy(asked.flat(), (question) => question.column)
  const counts = [...kinds].map(([column, questions]) => `${column} ${questions.length}`)
  say(`Open questions at ${asked.length} openings: ${counts.join(', ')}`)
  const differing = rows.filter((row) => row.ownTrades.length > 0 || row.differing > 0)
  say(`Differ from their typical on purpose: ${differing.length} openings`)
}

async function print(file: JobFile, folder: string, pageSize: 'tabloid' | 'letter'): Promise<boolean> {
  const paper = { pageSize, arrangement: plainArrangement, columns: usualColumns, createdAt: now() }
  const printed = await printSchedule(file, paper)
  if (!printed.ok) {
    console.error(printed.problem.sentence)
    return false
  }
  const target = path.join(folder, `opening schedule, ${pageSize}.pdf`)
  writeFileSync(target, Buffer.from(printed.value.base64, 'base64'))
  say(`Schedule, ${pageSize}, ${printed.value.pages} pages: ${target}`)
  return true
}

async function demo(): Promise<number> {
  const folder = freshFolder()
  const jobPath = path.join(folder, 'Harrow Street Clinic.lintelbook')
  const made = makeJobFromTwin(jobPath, readFileSync(demoTwin, 'utf8'), { who: personName(), now })
  if (!made.ok) {
    console.error(made.sentence)
    return 1
  }
  const { file } = made
  try {
    saySummary(file)
    const isPrinted = (await print(file, folder, 'tabloid')) && (await print(file, folder, 'letter'))
    say(`Job file: ${jobPath}`)
    say(`To work in it: npm start -- "${jobPath}"`)
    return isPrinted ? 0 : 1
  } finally {
    file.close()
  }
}

process.exitCode = await demo()
