import path from 'node:path'
import { compareMarks } from '../../core/job/index.ts'
import { hasQuestion, scheduleFrame, scheduleQuestions, scheduleRows } from '../../core/schedule/index.ts'
import { openJobFile } from '../store/index.ts'
import { json, refusedWith, type Verb } from './verb.ts'

export const check: Verb = {
  about: 'check a job file and print the results as JSON',
  help: `lintelbook check JOB.lintelbook

Looks whether the file is sound (its pages, its references, the shape of every record) and which facts the schedule
still lacks. The results are printed as JSON. The exit code is 0 when the file is sound, whatever is still open, and
1 when it is not or cannot be opened.

Example:
  lintelbook check clinic.lintelbook`,
  options: {},
  words: [1, 1],
  run: async (run) => {
    const { who, now } = run.machine
    const opened = openJobFile(path.resolve(run.positionals[0] ?? ''), { who, now, readOnly: true })
    if (!opened.ok) {
      run.say(json({ job: null, sound: false, findings: [opened.sentence] }))
      return refusedWith(run, opened.sentence)
    }
    const { file } = opened
    try {
      const { sound, findings } = file.check()
      const frame = scheduleFrame(file.data)
      const rows = scheduleRows(file.data)
      const levelOf = new Map(frame.levels.map((level) => [level.id as string, level.name]))
      const open = rows.filter(hasQuestion).toSorted((a, b) => compareMarks(a.mark, b.mark))
      run.say(
        json({
          job: frame.job.name,
          sound,
          findings,
          counts: {
            buildings: frame.buildings.length,
            levels: frame.levels.length,
            openings: rows.length,
            typicals: frame.typicals.length,
            fittings: file.data.count('fitting'),
            changes: file.revision,
          },
          openQuestions: open.map((row) => ({
            mark: row.mark,
            level: levelOf.get(row.levelId) ?? null,
            questions: scheduleQuestions(row).map((question) => question.words),
          })),
        }),
      )
      return sound ? 0 : 1
    } finally {
      file.close()
    }
  },
}
