import type { Answer, JobState, ShelfEntry } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import { Button, EmptySheet, Notice, SheetHeading } from '../../ui/index.ts'
import { useCommands } from '../commands.tsx'
import { momentWords } from '../history/index.ts'
import { goTo } from '../place.ts'
import { readSchedule, useWindow, working } from '../window-state.ts'
import { SearchShelf } from './search-shelf.tsx'
import { useLibrary } from './use-library.ts'
import { WatchedFolders } from './watched-folders.tsx'
import './shelf.css'

async function open(words: string, opening: () => Promise<Answer<JobState>>): Promise<void> {
  const state = await working(words, opening)
  if (state === null) return
  await readSchedule(true)
  goTo({ sheet: 'schedule' })
}

const openEntry = (entry: ShelfEntry): Promise<void> =>
  open(`Opening ${entry.fileName}`, () => ask('job.open', { path: entry.path, readOnly: false }))

async function chooseJob(): Promise<void> {
  const chosen = await working('Choosing a job file', () => ask('job.choose', {}))
  if (chosen === null || chosen.state === null) return
  await readSchedule(true)
  goTo({ sheet: 'schedule' })
}

const megabytes = (bytes: number): string =>
  bytes < 100_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`

/** The job files at hand, newest first. */
export function ShelfSheet() {
  const shelf = useWindow((state) => state.shelf)
  const { openDialog } = useCommands()
  const [library, setLibrary] = useLibrary()
  if (shelf === null) return null
  const actions = (
    <>
      <Button kind="main" onPress={() => openDialog({ form: 'new job' })}>
        New job
      </Button>
      {shelf.hasFileDialog && <Button onPress={() => void chooseJob()}>Open a file</Button>}
      <Button onPress={() => void open('Copying the demo job', () => ask('job.openDemo', {}))}>
        A fresh copy of the demo
      </Button>
    </>
  )
  return (
    <div className="page">
      <SheetHeading title="Shelf" facts={`Job files in ${shelf.folder}`} actions={actions} />
      {shelf.trouble !== null && <Notice kind="stop">{shelf.trouble}</Notice>}
      <SearchShelf />
      {shelf.entries.length === 0 ? (
        <EmptySheet>No job file yet. Make a new job, or look at the demo first.</EmptySheet>
      ) : (
        <table className="plain-table shelf">
          <thead>
            <tr>
              <th scope="col">Job file</th>
              <th scope="col">Last changed</th>
              <th scope="col" className="end">
                Size
              </th>
              <th scope="col">Folder</th>
            </tr>
          </thead>
          <tbody>
            {shelf.entries.map((entry) => (
              <tr key={entry.path}>
                <td>
                  <button type="button" className="link" onClick={() => void openEntry(entry)}>
                    {entry.fileName}
                  </button>
                </td>
                <td>{momentWords(entry.modifiedAt)}</td>
                <td className="end">{megabytes(entry.bytes)}</td>
                <td className="soft">{entry.folder === shelf.folder ? 'here' : entry.folder}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {library !== null && <WatchedFolders state={library} onState={setLibrary} />}
    </div>
  )
}
