import { writeFileSync } from 'node:fs'
import path from 'node:path'
import {
  groupings,
  plainArrangement,
  usualColumns,
  scheduleColumns,
  type Arrangement,
} from '../../core/schedule/index.ts'
import { pageSizes } from '../../core/contract/index.ts'
import { exportSchedule, printSchedule } from '../calls/index.ts'
import { openJobFile, writeJobAsTwin } from '../store/index.ts'
import { oneOf, refusedWith, textOf, type Verb } from './verb.ts'

const forms = ['.pdf', '.xlsx', '.csv', '.json'] as const

export const print: Verb = {
  about: 'print the schedule, or write it out',
  help: `lintelbook print JOB.lintelbook --to FILE [--page letter|tabloid|a4|a3] [--group GROUP] [--all-columns]

Writes the opening schedule. The ending of FILE says how: .pdf on paper, .xlsx or .csv for a spreadsheet, .json for
the whole job as text.

  --to FILE       what to write; a file of that name is replaced
  --page SIZE     landscape page of the PDF; tabloid when left out
  --group GROUP   ${groupings.join(', ')}
  --all-columns   every column, not only the usual ones

Examples:
  lintelbook print clinic.lintelbook --to schedule.pdf --page a3
  lintelbook print clinic.lintelbook --to schedule.xlsx --all-columns
  lintelbook print clinic.lintelbook --to clinic.json`,
  options: {
    to: { type: 'string' },
    page: { type: 'string' },
    group: { type: 'string' },
    'all-columns': { type: 'boolean' },
  },
  words: [1, 1],
  run: async (run) => {
    const to = textOf(run, 'to')
    const form = to === null ? null : oneOf(path.extname(to).toLowerCase(), forms)
    const pageSize = oneOf(textOf(run, 'page') ?? 'tabloid', pageSizes)
    const group = oneOf(textOf(run, 'group') ?? 'level', groupings)
    if (to === null || form === null || pageSize === null || group === null) {
      run.complain(
        to === null || form === null
          ? `print expects --to and a file that ends in ${forms.join(', ')}.`
          : pageSize === null
            ? `--page expects one of ${pageSizes.join(', ')}.`
            : `--group expects one of ${groupings.join(', ')}.`,
      )
      return 2
    }
    const { who, now } = run.machine
    const opened = openJobFile(path.resolve(run.positionals[0] ?? ''), { who, now, readOnly: true })
    if (!opened.ok) return refusedWith(run, opened.sentence)
    const { file } = opened
    const arrangement: Arrangement = { ...plainArrangement, group }
    const columns =
      run.values['all-columns'] === true ? scheduleColumns.map((column) => column.key) : usualColumns
    try {
      if (form === '.json') {
        writeFileSync(to, writeJobAsTwin(file))
        run.say(`Wrote the whole job to ${to}.`)
        return 0
      }
      const made =
        form === '.pdf'
          ? await printSchedule(file, { pageSize, arrangement, columns, createdAt: now() })
          : {
              ok: true as const,
              value: await exportSchedule(file, {
                form: form === '.csv' ? 'csv' : 'xlsx',
                arrangement,
                columns,
              }),
            }
      if (!made.ok) return refusedWith(run, made.problem.sentence)
      writeFileSync(to, Buffer.from(made.value.base64, 'base64'))
      for (const warning of made.value.warnings) run.complain(warning)
      const pages =
        made.value.pages === null ? '' : `, ${made.value.pages} ${made.value.pages === 1 ? 'page' : 'pages'}`
      run.say(`Wrote ${file.data.count('opening')} openings to ${to}${pages}.`)
      return 0
    } catch (error) {
      if (error instanceof Error && 'code' in error)
        return refusedWith(run, `${to} could not be written: ${error.message}.`)
      throw error
    } finally {
      file.close()
    }
  },
}
