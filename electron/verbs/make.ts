import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { jobFileExtension, makeJobFile, makeJobFromTwin } from '../store/index.ts'
import { demoTwin, newJobRecords } from '../calls/index.ts'
import { refusedWith, textOf, type Verb } from './verb.ts'

export const make: Verb = {
  about: 'make a job file',
  help: `lintelbook make JOB${jobFileExtension} [--name NAME | --demo | --from TEXT.json]

Makes a new job file; a file that is there already is never written over.

  --name NAME        what the job is called; else the name of the file
  --demo             the invented demo job, Harrow Street Clinic
  --from TEXT.json   a whole job as it was written out as text

Examples:
  lintelbook make ward-block${jobFileExtension} --name "Ward block"
  lintelbook make demo${jobFileExtension} --demo
  lintelbook make again${jobFileExtension} --from ward-block.json`,
  options: { name: { type: 'string' }, demo: { type: 'boolean' }, from: { type: 'string' } },
  words: [1, 1],
  run: async (run) => {
    const jobPath = path.resolve(run.positionals[0] ?? '')
    if (!jobPath.endsWith(jobFileExtension))
      return refusedWith(
        run,
        `The job file ${path.basename(jobPath)} expects a name that ends in ${jobFileExtension}.`,
      )
    const from = textOf(run, 'from')
    const isDemo = run.values['demo'] === true
    if ((isDemo && from !== null) || ((isDemo || from !== null) && textOf(run, 'name') !== null)) {
      run.complain('make expects one of --name, --demo and --from: a job that is there already has its name.')
      return 2
    }
    if (!existsSync(path.dirname(jobPath)))
      return refusedWith(run, `There is no folder ${path.dirname(jobPath)} to make the job file in.`)
    const twin = isDemo ? demoTwin : from
    const { who, now } = run.machine
    const name = textOf(run, 'name') ?? path.basename(jobPath, jobFileExtension)
    let text: string | null = null
    if (twin !== null) {
      try {
        text = readFileSync(twin, 'utf8')
      } catch {
        return refusedWith(run, `There is no file ${twin} that can be read.`)
      }
    }
    const made =
      text === null
        ? makeJobFile(jobPath, newJobRecords(run.machine, name), { who, now })
        : makeJobFromTwin(jobPath, text, { who, now })
    if (!made.ok) return refusedWith(run, made.sentence)
    const openings = made.file.data.count('opening')
    made.file.close()
    run.say(`Made ${run.positionals[0]} with ${openings} ${openings === 1 ? 'opening' : 'openings'}.`)
    return 0
  },
}
