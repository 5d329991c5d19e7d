import fs from 'node:fs'
import path from 'node:path'
import { afterEach } from 'vitest'
import { openLibrary, type Library, type LibraryOptions } from '../../../electron/library/index.ts'
import { makeJobFile, type NewRecords } from '../../../electron/store/index.ts'
import { optionsAt, temporaryFolder } from '../store/support.ts'
import { record, smallRecords } from '../store/small-records.ts'

export { temporaryFolder } from '../store/support.ts'
export { smallRecords } from '../store/small-records.ts'

const open: Library[] = []

afterEach(async () => {
  for (const library of open.splice(0)) await library.close()
})

/** Closed after the test. */
export function libraryOf(
  home: string,
  folders: readonly string[],
  more: Partial<LibraryOptions> = {},
): Library {
  const library = openLibrary({ home, folders, now: () => '2026-11-25T09:00:00Z', log: () => {}, ...more })
  open.push(library)
  return library
}

/** A closed job file, as if it was written long ago. */
export function jobFile(folder: string, name: string, records: NewRecords = smallRecords()): string {
  const jobPath = path.join(folder, `${name}.lintelbook`)
  const made = makeJobFile(jobPath, records, optionsAt())
  if (!made.ok) throw new Error(made.sentence)
  made.file.close()
  age(jobPath)
  return jobPath
}

/** Sets a file's time back, so that it does not count as just written. */
export function age(file: string, seconds = 1_700_000_000): void {
  fs.utimesSync(file, seconds, seconds)
}

/** A small job of this name, whose first opening has this mark. */
export function jobCalled(name: string, mark: string, more: Record<string, unknown> = {}): NewRecords {
  const small = smallRecords()
  const [job] = small.job ?? []
  const [first, ...others] = small.opening ?? []
  return {
    ...small,
    job: [{ ...record('job', { ...job }), name }],
    opening: [{ ...record('opening', { ...first }), mark, ...more }, ...others],
  }
}

/** Two folders: the program's own, and one for jobs. */
export function twoFolders(): { readonly home: string; readonly jobs: string } {
  const folder = temporaryFolder()
  const [home = '', jobs = ''] = ['home', 'jobs'].map((name) => path.join(folder, name))
  fs.mkdirSync(jobs)
  return { home, jobs }
}
