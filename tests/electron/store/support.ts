import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterEach } from 'vitest'
import { makeJobFile, type JobFile, type Opened, type OpenOptions } from '../../../electron/store/index.ts'
import { smallRecords } from './small-records.ts'

export { opening, record, smallRecords } from './small-records.ts'

const folders: string[] = []
const open: JobFile[] = []

/** A folder that is gone after the test. */
export function temporaryFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'lintelbook-'))
  folders.push(folder)
  return folder
}

afterEach(() => {
  for (const file of open.splice(0)) file.close()
  for (const folder of folders.splice(0)) fs.rmSync(folder, { recursive: true, force: true })
})

/** Options with a clock that moves a second each time it is asked, from a given time on. */
export function optionsAt(start = '2026-03-05T12:00:00Z', more: Partial<OpenOptions> = {}): OpenOptions {
  let seconds = 0
  const now = (): string => new Date(Date.parse(start) + 1000 * seconds++).toISOString().replace('.000Z', 'Z')
  return { who: 'Ada Fitter', now, busyMilliseconds: 200, ...more }
}

/** The file, or the reason there is none as a failure of the test. Closed after the test. */
export function fileOf(opened: Opened): JobFile {
  if (!opened.ok) throw new Error(`${opened.problem.code}: ${opened.sentence}`)
  open.push(opened.file)
  return opened.file
}

/** A small job, open for writing, in a folder of its own. */
export function smallJob(options: OpenOptions = optionsAt()): JobFile {
  return fileOf(makeJobFile(path.join(temporaryFolder(), 'clinic.lintelbook'), smallRecords(), options))
}
