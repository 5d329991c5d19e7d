import { useEffect, useState } from 'react'
import type { HistoryEntry } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import { EmptySheet, SheetHeading } from '../../ui/index.ts'
import { stopFor, useWindow } from '../window-state.ts'

const stateWords: Readonly<Record<HistoryEntry['state'], string>> = {
  done: '',
  undone: 'taken back, can be done again',
  dropped: 'taken back',
}

export const momentWords = (instant: string): string => instant.slice(0, 16).replace('T', ' ')

/** The journal: every change ever made to this job, newest first. */
export function HistorySheet() {
  const revision = useWindow((state) => state.revision)
  const [entries, setEntries] = useState<readonly HistoryEntry[] | null>(null)
  useEffect(() => {
    void ask('history.read', { limit: 500 }).then((answer) =>
      answer.ok ? setEntries(answer.value.entries) : stopFor(answer.problem),
    )
  }, [revision])
  if (entries === null) return null
  return (
    <div className="page">
      <SheetHeading title="What was changed" facts="kept in the job file, newest first; times are UTC" />
      {entries.length === 0 ? (
        <EmptySheet>Nothing was changed in this job yet.</EmptySheet>
      ) : (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">When</th>
              <th scope="col">Change</th>
              <th scope="col">Who</th>
              <th scope="col">Now</th>
            </tr>
          </thead>
          <tbody>
            {entries.map((entry) => (
              <tr key={entry.seq} className={entry.state === 'done' ? '' : 'soft'}>
                <td>{momentWords(entry.at)}</td>
                <td>{entry.name}</td>
                <td>{entry.who}</td>
                <td>{stateWords[entry.state]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </div>
  )
}
