import { useEffect, useState } from 'react'
import type { HistoryEntry } from '../../../core/contract/index.ts'
import { ask } from '../../bridge.ts'
import { EmptySheet, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { stopFor, useWindow } from '../window-state.ts'

const stateWords: Readonly<Record<HistoryEntry['state'], string>> = {
  done: '',
  undone: 'taken back, can be done again',
  dropped: 'taken back',
}

const twoDigits = (value: number): string => String(value).padStart(2, '0')

/** An instant as the person's own clock shows it. */
export function momentWords(instant: string): string {
  const at = new Date(instant)
  const day = [at.getFullYear(), twoDigits(at.getMonth() + 1), twoDigits(at.getDate())].join('-')
  return `${day} ${twoDigits(at.getHours())}:${twoDigits(at.getMinutes())}`
}

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
      <SheetHeading title="What was changed" facts="kept in the job file, newest first" />
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

/** How to read the journal. */
export function HistoryMargin() {
  return (
    <>
      <MarginTitle>Nothing is forgotten</MarginTitle>
      <MarginText>
        Every change stands here under its name, with who made it and when. The newest that is done can be
        taken back with Ctrl+Z, then the one before it, also after the program was closed.
      </MarginText>
      <MarginText>
        A change that was taken back can be done again until something else is changed. It stays in this list
        either way.
      </MarginText>
    </>
  )
}
