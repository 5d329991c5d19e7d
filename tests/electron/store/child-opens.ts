// A second process: opens the job it is given, says what it got as one line, and holds it until its input ends.
import { openJobFile } from '../../../electron/store/index.ts'

const [jobPath = '', hold = 'no', who = 'Ben Desk'] = process.argv.slice(2)
const opened = openJobFile(jobPath, { who, now: () => '2026-03-05T13:00:00Z', busyMilliseconds: 500 })
const line = opened.ok
  ? {
      ok: true,
      readOnly: opened.file.readOnly,
      because: opened.file.readOnlyBecause?.code ?? null,
      holder: opened.file.holder?.name ?? null,
      openings: opened.file.data.count('opening'),
    }
  : { ok: false, code: opened.problem.code }
process.stdout.write(`${JSON.stringify(line)}\n`)
if (hold === 'hold') process.stdin.resume().on('end', () => opened.ok && opened.file.close())
else if (opened.ok) opened.file.close()
