// Job files on the shelf, searched together.
import { statSync } from 'node:fs'
import path from 'node:path'
import {
  done,
  refused,
  type Answer,
  type Handlers,
  type LibraryState,
  type libraryContract,
} from '../../core/contract/index.ts'
import { openLibrary, type Library } from '../library/index.ts'
import type { Desk } from './desk.ts'

/** The shelf of each desk, opened when it is first asked for, and anew when its folders change. */
const shelves = new WeakMap<Desk, { readonly library: Library; readonly places: string }>()

export const libraryCalls = (desk: Desk): Handlers<typeof libraryContract> => ({
  'library.read': async () => done(stateOf(desk, await shelf(desk))),
  'library.refresh': async () => {
    const library = await shelf(desk)
    begin(desk, library)
    return done(stateOf(desk, library))
  },
  'library.search': async ({ words, limit }) => {
    const library = await shelf(desk)
    const found = words.trim() === '' ? [] : library.search(words, limit)
    return done({ found, refreshing: library.state().refreshing })
  },
  'library.watch': async ({ folder }) => watch(desk, folder),
  'library.unwatch': async ({ folder }) => {
    desk.keeping.setFolders(desk.keeping.folders().filter((each) => each !== folder))
    return looked(desk)
  },
})

/** The folders, and single job files that were opened from elsewhere. */
function placesOf({ options, keeping }: Desk): readonly string[] {
  const folders = [...new Set([options.jobsFolder, ...keeping.folders()])]
  const isInside = (file: string): boolean =>
    folders.some((folder) => !path.relative(folder, file).startsWith('..'))
  return [...folders, ...keeping.recent().filter((file) => !isInside(file))]
}

async function shelf(desk: Desk): Promise<Library> {
  const folders = placesOf(desk)
  const places = JSON.stringify(folders)
  const open = shelves.get(desk)
  if (open?.places === places) return open.library
  const { home, now } = desk.options
  // The new one stands before the old one is waited for, so that no second is opened beside it.
  const library = openLibrary({ home, folders, now, log: (line) => console.error(`${now()} shelf: ${line}`) })
  shelves.set(desk, { library, places })
  begin(desk, library)
  await open?.library.close()
  return library
}

/** Looks through the folders without being waited for. */
function begin({ options }: Desk, library: Library): void {
  library.refresh().catch((error: unknown) => console.error(`${options.now()} shelf`, error))
}

export async function closeShelf(desk: Desk): Promise<void> {
  await shelves.get(desk)?.library.close()
  shelves.delete(desk)
}

async function looked(desk: Desk): Promise<Answer<LibraryState>> {
  return done(stateOf(desk, await shelf(desk)))
}

async function watch(desk: Desk, given: string): Promise<Answer<LibraryState>> {
  const folder = given.trim()
  if (!path.isAbsolute(folder))
    return refused(
      'not-possible',
      `“${folder}” is no whole path; expected one from the top, such as a share’s.`,
    )
  const there = statSync(folder, { throwIfNoEntry: false })
  if (there !== undefined && !there.isDirectory())
    return refused('not-possible', `${folder} is a file; expected the folder it lies in.`)
  // A share that is away may be named too: it is looked at when it is back.
  const folders = desk.keeping.folders()
  if (!folders.includes(folder)) desk.keeping.setFolders([...folders, folder])
  return looked(desk)
}

function stateOf({ options, keeping }: Desk, library: Library): LibraryState {
  const { folders, files, ...rest } = library.state()
  const chosen = new Set(keeping.folders())
  const shown = new Set([options.jobsFolder, ...chosen].map((each) => path.resolve(each)))
  return {
    folders: folders
      .filter((each) => shown.has(each.path))
      .map(({ path: folder, reachable, sentence, lookedAt, jobs }) => ({
        path: folder,
        chosen: folder !== path.resolve(options.jobsFolder),
        reachable,
        looked: lookedAt !== null,
        sentence,
        jobs,
      })),
    unread: files.flatMap(({ path: file, sentence }) =>
      sentence === null ? [] : [{ path: file, sentence }],
    ),
    ...rest,
  }
}
