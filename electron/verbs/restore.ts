import path from 'node:path'
import {
  jobFileExtension,
  listBackups,
  newestBackup,
  problemSentence,
  restoreBackup,
} from '../store/index.ts'
import { refusedWith, textOf, type Verb, type VerbRun } from './verb.ts'

export const restore: Verb = {
  about: 'go back to a backup of a job file',
  help: `lintelbook restore JOB${jobFileExtension} [--list | --from BACKUP${jobFileExtension}]

Puts a backup in the place of a job file that is damaged, gone or went wrong. What was there is set aside in the backup
folder, whole, so nothing is thrown away. Nobody may have the job open meanwhile.

  --list          only list the backups beside the job, oldest first
  --from BACKUP   the backup to go back to; else the newest

Examples:
  lintelbook restore clinic${jobFileExtension} --list
  lintelbook restore clinic${jobFileExtension}`,
  options: { list: { type: 'boolean' }, from: { type: 'string' } },
  words: [1, 1],
  run: async (run) => {
    const jobPath = path.resolve(run.positionals[0] ?? '')
    if (run.values['list'] === true) {
      if (textOf(run, 'from') === null) return list(run, jobPath)
      run.complain('restore expects one of --list and --from.')
      return 2
    }
    const { who, now } = run.machine
    const from = textOf(run, 'from') ?? newestBackup(jobPath, now())?.path ?? null
    if (from === null) return refusedWith(run, noBackups(jobPath))
    const restored = restoreBackup(jobPath, path.resolve(from), { who, now, program: 'command line' })
    if (!restored.ok) return refusedWith(run, restored.sentence)
    run.say(`${run.positionals[0]} is as it was in ${path.basename(from)}.`)
    if (restored.setAside !== null) run.say(`What was there is set aside as ${restored.setAside}`)
    return 0
  },
}

const noBackups = (jobPath: string): string =>
  problemSentence({ code: 'no-backups', file: path.basename(jobPath) })

function list(run: VerbRun, jobPath: string): 0 | 1 {
  const backups = listBackups(jobPath)
  if (backups.length === 0) {
    run.complain(noBackups(jobPath))
    return 1
  }
  for (const { madeAt, revision, path: each } of backups)
    run.say(`${madeAt}  after ${revision} changes  ${each}`)
  return 0
}
