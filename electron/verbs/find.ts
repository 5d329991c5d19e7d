import path from 'node:path'
import { openJobFile } from '../store/index.ts'
import { json, type ExitCode, type Verb } from './verb.ts'

export const find: Verb = {
  about: 'find marks, rooms, serials and notes across job files',
  help: `lintelbook find WORDS JOB.lintelbook [JOB.lintelbook ...] [--json] [--most N]

Looks in every job file named for marks, places, rooms, serials, tags, parts, typicals and notes, forgiving of case,
blanks and dashes. The exit code is 1 when nothing was found or a file could not be opened.

Examples:
  lintelbook find "store room three" clinic.lintelbook
  lintelbook find 2611-04 jobs/*.lintelbook --json`,
  options: { json: { type: 'boolean' }, most: { type: 'string' } },
  words: [2, Number.POSITIVE_INFINITY],
  run: async (run) => {
    const [words = '', ...jobPaths] = run.positionals
    const most = Number(run.values['most'] ?? 20)
    if (!Number.isInteger(most) || most < 1) {
      run.complain(`--most expects a whole number from 1, not ${String(run.values['most'])}.`)
      return 2
    }
    const { who, now } = run.machine
    const found: { job: string; path: string; kind: string; title: string; detail: string }[] = []
    let code: ExitCode = 0
    for (const jobPath of jobPaths) {
      const opened = openJobFile(path.resolve(jobPath), { who, now, readOnly: true })
      if (!opened.ok) {
        run.complain(opened.sentence)
        code = 1
        continue
      }
      const job = opened.file.data.job.name
      for (const { kind, title, detail } of opened.file.find(words, most))
        found.push({ job, path: jobPath, kind, title, detail })
      opened.file.close()
    }
    if (run.values['json'] === true) run.say(json(found))
    else
      for (const { job, title, detail } of found)
        run.say(`${job}: ${title}${detail === '' ? '' : `, ${detail}`}`)
    if (found.length === 0) run.complain(`Nothing found for "${words}".`)
    return found.length === 0 ? 1 : code
  },
}
