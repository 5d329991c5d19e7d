// What the program keeps for the person beside the jobs: preferences, recent files, and column choices by header shape.
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import { targetFields, type ColumnUse, type RememberedMatching } from '../../core/exchange/index.ts'
import { plainPreferences, windowPreferences, type WindowPreferences } from '../../core/contract/index.ts'

const kept = z.strictObject({
  window: windowPreferences,
  recent: z.array(z.string()).max(50),
  /** Column choices a person made, by header shape; the latest last. */
  matchings: z.array(
    z.strictObject({
      shape: z.string(),
      uses: z.array(z.tuple([z.int().min(0), z.enum([...targetFields, 'cells'])])),
    }),
  ),
  /** Folders with job files that a person wants searched, beside that of new jobs. */
  folders: z.array(z.string()).max(200).default([]),
})
type Kept = z.infer<typeof kept>

const nothingKept: Kept = { window: plainPreferences, recent: [], matchings: [], folders: [] }
const mostMatchings = 200

export interface Keeping {
  readonly window: () => WindowPreferences
  readonly setWindow: (preferences: WindowPreferences) => void
  /** Most recent first; files that are gone are left out. */
  readonly recent: () => readonly string[]
  readonly remember: (jobPath: string) => void
  readonly matchings: () => readonly RememberedMatching[]
  readonly rememberMatching: (matching: RememberedMatching) => void
  readonly folders: () => readonly string[]
  readonly setFolders: (folders: readonly string[]) => void
}

/** Opens the small file of habits. A damaged one is set aside and begun anew: it holds no work. */
export function openKeeping(home: string): Keeping {
  const file = path.join(home, 'preferences.json')
  let current = readKept(file)
  const write = (next: Kept): void => {
    current = next
    try {
      mkdirSync(home, { recursive: true })
      // Written beside and moved into place, so that a stop in between leaves the old one whole.
      const beside = `${file}.new`
      writeFileSync(beside, `${JSON.stringify(next, null, 2)}\n`)
      renameSync(beside, file)
    } catch (error) {
      // A full or locked disk must not stand between a person and their job; the habit holds until the program ends.
      if (!(error instanceof Error && 'code' in error)) throw error
    }
  }
  return {
    window: () => current.window,
    setWindow: (window) => write({ ...current, window }),
    recent: () => current.recent.filter((each) => existsSync(each)),
    remember: (jobPath) => {
      const recent = [jobPath, ...current.recent.filter((each) => each !== jobPath)].slice(0, 20)
      write({ ...current, recent })
    },
    matchings: () => current.matchings,
    rememberMatching: ({ shape, uses }) => {
      const others = current.matchings.filter((each) => each.shape !== shape)
      const matchings = [
        ...others,
        { shape, uses: uses.map(([column, use]): [number, ColumnUse] => [column, use]) },
      ]
      write({ ...current, matchings: matchings.slice(-mostMatchings) })
    },
    folders: () => current.folders,
    setFolders: (folders) => write({ ...current, folders: [...folders] }),
  }
}

function readKept(file: string): Kept {
  if (!existsSync(file)) return nothingKept
  try {
    const read = kept.safeParse(JSON.parse(readFileSync(file, 'utf8')))
    if (read.success) return read.data
  } catch {
    // Not JSON: set aside below.
  }
  try {
    renameSync(file, `${file}.unreadable`)
  } catch {
    // It stays where it is, and is written over when the disk lets us.
  }
  return nothingKept
}
