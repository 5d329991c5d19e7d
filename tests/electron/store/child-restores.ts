// Adds an opening, says so ("kept NUMBER"), backs up, goes back to that backup, and so on until it is killed.
import { newestBackup, openJobFile, restoreBackup, type JobFile } from '../../../electron/store/index.ts'
import { opening } from './small-records.ts'

const [jobPath = '', start = '0'] = process.argv.slice(2)
let seconds = Number(start)
const options = {
  who: 'Child',
  // A second later each time, so that each backup has a name of its own.
  now: () => new Date(Date.UTC(2026, 2, 6) + 1000 * seconds++).toISOString(),
}

function opened(): JobFile {
  const result = openJobFile(jobPath, options)
  if (!result.ok || result.file.readOnly) throw new Error(result.ok ? 'held by somebody' : result.sentence)
  return result.file
}

for (let number = Number(start); ; number++) {
  const file = opened()
  const done = file.commit({
    name: `Add ${number}`,
    edits: [{ does: 'add', kind: 'opening', record: opening(number) }],
  })
  if (!done.ok) throw new Error(done.sentence)
  process.stdout.write(`kept ${number}\n`)
  const made = file.backup()
  file.close()
  if (!made.ok) throw new Error(made.sentence)
  const backup = newestBackup(jobPath, '2030-01-01T00:00:00Z')
  const restored = restoreBackup(jobPath, backup?.path ?? '', options)
  if (!restored.ok) throw new Error(restored.sentence)
}
