import { readFileSync } from 'node:fs'
import path from 'node:path'
import {
  compareWithJob,
  noChoices,
  planTakeIn,
  readPlainFile,
  type IntakeChoices,
} from '../../core/exchange/index.ts'
import { problemSentence, readFileInWorker } from '../intake/index.ts'
import { openJobFile, type JobFile } from '../store/index.ts'
import { json, oneOf, refusedWith, textOf, type ExitCode, type Verb, type VerbRun } from './verb.ts'

export const take: Verb = {
  about: 'take a schedule, workbook or model into a job',
  help: `lintelbook take FILE --into JOB.lintelbook [--accept] [--units imperial|metric] [--building NAME]
               [--level NAME] [--mark name|tag|SET/PROPERTY] [--json]

Shows what FILE (.xlsx, .csv, .ifc, .ifczip) was understood as, and how it differs from the job. Nothing is
written without --accept; then it is one change that can be taken back in the window. What was changed by hand
since the last take-in is left, and openings that the file no longer has stay.

  --into JOB       the job file
  --accept         write it
  --units UNITS    what bare numbers are, where both would fit
  --building NAME  for rows that name no building
  --level NAME     for rows that name no level
  --mark SOURCE    where a model keeps the door number
  --json           everything that was understood, as JSON

Examples:
  lintelbook take doors.xlsx --into clinic.lintelbook
  lintelbook take doors.xlsx --into clinic.lintelbook --accept
  lintelbook take model.ifc --into clinic.lintelbook --mark "Identity Data/Mark" --accept`,
  options: {
    into: { type: 'string' },
    accept: { type: 'boolean' },
    units: { type: 'string' },
    building: { type: 'string' },
    level: { type: 'string' },
    mark: { type: 'string' },
    json: { type: 'boolean' },
  },
  words: [1, 1],
  run: async (run) => {
    const into = textOf(run, 'into')
    if (into === null) {
      run.complain('take expects --into and a job file; lintelbook help take shows how.')
      return 2
    }
    const choices = choicesOf(run)
    if (typeof choices === 'string') {
      run.complain(choices)
      return 2
    }
    const from = run.positionals[0] ?? ''
    let bytes: Buffer
    try {
      bytes = readFileSync(from)
    } catch {
      return refusedWith(run, `There is no file ${from} that can be read.`)
    }
    const read = await readFileInWorker(path.basename(from), bytes)
    if (!read.ok) return refusedWith(run, problemSentence(read.problem))
    const accept = run.values['accept'] === true
    const opened = openJobFile(path.resolve(into), {
      who: run.machine.who,
      now: run.machine.now,
      readOnly: !accept,
    })
    if (!opened.ok) return refusedWith(run, opened.sentence)
    try {
      return takeInto(run, opened.file, path.basename(from), read.file, choices, accept)
    } finally {
      opened.file.close()
    }
  },
}

function choicesOf(run: VerbRun): IntakeChoices | string {
  const unitsText = textOf(run, 'units')
  const units = unitsText === null ? null : oneOf(unitsText, ['imperial', 'metric'])
  if (unitsText !== null && units === null) return `--units expects imperial or metric, not ${unitsText}.`
  const mark = textOf(run, 'mark')
  const [set, ...property] = (mark ?? '').split('/')
  const markFrom =
    mark === null
      ? null
      : (oneOf(mark, ['name', 'tag']) ??
        (property.length > 0 ? { set: set ?? '', property: property.join('/') } : undefined))
  if (markFrom === undefined) return `--mark expects name, tag or SET/PROPERTY, not ${mark ?? ''}.`
  return { ...noChoices, units, markFrom, building: textOf(run, 'building'), level: textOf(run, 'level') }
}

function takeInto(
  run: VerbRun,
  file: JobFile,
  name: string,
  plain: Parameters<typeof readPlainFile>[0],
  choices: IntakeChoices,
  accept: boolean,
): ExitCode {
  const reading = readPlainFile(plain, { units: file.data.job.units, choices, remembered: [] })
  const { understanding } = reading
  const comparison = compareWithJob(understanding, file.data)
  const takeIn = {
    understanding,
    comparison,
    decisions: {},
    data: file.data,
    newId: run.machine.newId,
    file: name,
  }
  const { change, counts } = planTakeIn(takeIn)
  const written = accept && change.edits.length > 0
  if (written) {
    const committed = file.commit(change)
    if (!committed.ok) return refusedWith(run, committed.sentence)
  }
  const code = understanding.openings.length === 0 ? 1 : 0
  if (run.values['json'] === true) {
    run.say(json({ file: name, form: reading.form, written, counts, understanding, comparison }))
    if (code === 1) run.complain(nothingFound(name))
    return code
  }
  const { added, changed, same, gone } = comparison.counts
  run.say(`${name}: ${understanding.openings.length} openings understood.`)
  run.say(
    `Beside the job: ${added} new, ${changed} changed, ${same} the same, ${gone} no longer in the file.`,
  )
  for (const warning of understanding.warnings) run.say(warning)
  for (const problem of understanding.problems) run.say(problem.sentence)
  if (understanding.setAside.length > 0) run.say(`${understanding.setAside.length} rows were set aside.`)
  if (code === 1) return refusedWith(run, nothingFound(name))
  run.say(
    accept
      ? `Written: ${counts.added} added, ${counts.changed} changed. Nothing was removed.`
      : 'Nothing was written; --accept writes it.',
  )
  return 0
}

const nothingFound = (name: string): string => `No opening was found in ${name}; nothing was written.`
