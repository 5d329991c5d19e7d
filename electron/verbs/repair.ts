import path from 'node:path'
import { jobFileExtension, repairJobFile } from '../store/index.ts'
import { json, refusedWith, textOf, type Verb } from './verb.ts'

export const repair: Verb = {
  about: 'save what can be read of a damaged job file into a new one',
  help: `lintelbook repair JOB${jobFileExtension} [--to NEW${jobFileExtension}] [--json]

Reads what can be read of a damaged job file, saves it into a new one, and lists what could not be saved. The damaged
file is left as it is. Where there is a backup, lintelbook restore usually saves more. A letter that changed within a
text cannot be noticed: look over what was saved.

  --to NEW   the new file; else the same name with "repaired" added
  --json     the list as JSON

The exit code is 0 when a new file was made, whatever is missing in it, and 1 when none was.

Example:
  lintelbook repair clinic${jobFileExtension}`,
  options: { to: { type: 'string' }, json: { type: 'boolean' } },
  words: [1, 1],
  run: async (run) => {
    const damaged = run.positionals[0] ?? ''
    const to = textOf(run, 'to') ?? besideIt(damaged)
    if (!to.endsWith(jobFileExtension))
      return refusedWith(
        run,
        `The new file ${path.basename(to)} expects a name that ends in ${jobFileExtension}.`,
      )
    const { who, now } = run.machine
    const repaired = repairJobFile(damaged, to, { who, now, program: 'command line' })
    if (!repaired.ok) return refusedWith(run, repaired.sentence)
    const { rowsKept, fromJournal, losses } = repaired
    if (run.values['json'] === true) {
      run.say(json({ path: to, rowsKept, fromJournal, losses }))
      return 0
    }
    run.say(`Made ${to} with ${rowsKept + fromJournal} rows.`)
    run.say(losses.length === 0 ? 'Everything could be read.' : `Not as it was:\n${losses.join('\n')}`)
    return 0
  },
}

const besideIt = (damaged: string): string => {
  const { dir, name } = path.parse(damaged)
  return path.join(dir, `${name} repaired${jobFileExtension}`)
}
