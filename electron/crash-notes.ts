// What went wrong when it should not have: kept on this machine, sent nowhere, for the person to pass on or not.
import { mkdirSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'

const notesAtMost = 20
const notePattern = /^crash \d{4}-\d\d-\d\dT[\d.]+Z\.txt$/

/** Where notes and the dumps of a crashed window lie. */
export const crashFolder = (home: string): string => path.join(home, 'crashes')

/** Writes a note of an error; the newest 20 stay. Gives its path, or null where nothing can be written. `now` is ISO 8601. */
export function noteCrash(home: string, what: string, error: unknown, now: string): string | null {
  const folder = crashFolder(home)
  const file = path.join(folder, `crash ${now.replaceAll(':', '')}.txt`)
  const detail = error instanceof Error ? (error.stack ?? error.message) : String(error)
  const machine = `${process.platform} ${process.arch}, Node ${process.versions.node}`
  try {
    mkdirSync(folder, { recursive: true })
    writeFileSync(file, `${now}\n${what}\n${machine}\n\n${detail}\n`)
    const older = readdirSync(folder)
      .filter((name) => notePattern.test(name))
      .toSorted()
      .slice(0, -notesAtMost)
    for (const name of older) rmSync(path.join(folder, name), { force: true })
    return file
  } catch {
    // A note that cannot be kept must not become the next crash.
    return null
  }
}
