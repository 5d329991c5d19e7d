import { useState } from 'react'
import type { LibraryState } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Field, SheetHeading } from '../../ui/index.ts'
import { working } from '../window-state.ts'

/** The folders that are searched; those that were chosen may go again. */
export function WatchedFolders({
  state,
  onState,
}: {
  readonly state: LibraryState
  readonly onState: (state: LibraryState) => void
}) {
  const [folder, setFolder] = useState('')
  const add = async (): Promise<void> => {
    if (folder.trim() === '') return
    const next = await working(`Looking at ${folder}`, () => ask('library.watch', { folder }))
    if (next === null) return
    onState(next)
    setFolder('')
  }
  const remove = async (path: string): Promise<void> => {
    const next = await working(`Leaving ${path} out`, () => ask('library.unwatch', { folder: path }))
    if (next !== null) onState(next)
  }
  return (
    <section aria-label="Folders searched">
      <SheetHeading
        level={2}
        title="Folders searched"
        facts={`${state.jobs} ${state.jobs === 1 ? 'job' : 'jobs'}, ${state.openings} openings${state.refreshing ? '; looking through them now' : ''}`}
      />
      {state.trouble !== null && <p className="padded own">{state.trouble}</p>}
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Folder</th>
            <th scope="col" className="end">
              Jobs
            </th>
            <th scope="col">State</th>
            <th scope="col">
              <span className="for-ears">Deeds</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {state.folders.map(({ path, chosen, reachable, looked, sentence, jobs }) => (
            <tr key={path} className={looked && !reachable ? 'question' : ''}>
              <td>{path}</td>
              <td className="end">{jobs}</td>
              <td className={sentence === null ? 'soft' : 'own'}>
                {sentence ?? (looked ? 'at hand' : 'not looked at yet')}
              </td>
              <td className="deeds">
                {chosen && (
                  <Button kind="quiet" label={`Leave out ${path}`} onPress={() => void remove(path)}>
                    Leave out
                  </Button>
                )}
              </td>
            </tr>
          ))}
          {state.unread.map(({ path, sentence }) => (
            <tr key={path} className="question">
              <td colSpan={2}>{path}</td>
              <td className="own" colSpan={2}>
                {sentence}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <form
        className="add-line"
        aria-label="Search another folder"
        onSubmit={(event) => {
          event.preventDefault()
          void add()
        }}
      >
        <Field label="Another folder, or a share" value={folder} onChange={setFolder} />
        <button type="submit" hidden aria-hidden="true" tabIndex={-1} />
        <Button disabled={folder.trim() === ''} onPress={() => void add()}>
          Search it too
        </Button>
      </form>
    </section>
  )
}
