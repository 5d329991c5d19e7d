import { useState } from 'react'
import { Button, Checkbox, Dialog, Field } from '../../ui/index.ts'
import type { OpenJob } from '../window-state.ts'
import { levelName } from './places.ts'

const mostShown = 200

/** Which of the openings that wait an answer is for. */
export function ChooseOpenings({
  job,
  question,
  openingIds,
  onChosen,
  onClose,
}: {
  readonly job: OpenJob
  readonly question: string
  readonly openingIds: readonly string[]
  readonly onChosen: (openingIds: readonly string[]) => void
  readonly onClose: () => void
}) {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set())
  const [words, setWords] = useState('')
  const rows = openingIds.flatMap((id) => job.rows.get(id) ?? [])
  const wanted = words.trim().toLowerCase()
  const found = rows.filter((row) => `${row.mark} ${row.where}`.toLowerCase().includes(wanted))
  const toggle = (ids: readonly string[], on: boolean): void => {
    const next = new Set(chosen)
    for (const id of ids)
      if (on) next.add(id)
      else next.delete(id)
    setChosen(next)
  }
  const count = `${chosen.size} ${chosen.size === 1 ? 'opening' : 'openings'}`
  return (
    <Dialog
      title="For which openings?"
      open
      size="middle"
      onClose={onClose}
      actions={
        <>
          <Button onPress={onClose}>Leave it</Button>
          <Button
            kind="main"
            disabled={chosen.size === 0}
            onPress={() => {
              onChosen(rows.map((row) => row.id as string).filter((id) => chosen.has(id)))
              onClose()
            }}
          >
            Answer for {count}
          </Button>
        </>
      }
    >
      <p>{question}</p>
      <div className="choose-line">
        <Field label="Mark or room" value={words} onChange={setWords} autoFocus />
        <Button
          onPress={() =>
            toggle(
              found.map((row) => row.id),
              true,
            )
          }
        >
          All {found.length}
        </Button>
        <Button
          onPress={() =>
            toggle(
              found.map((row) => row.id),
              false,
            )
          }
        >
          None of these
        </Button>
      </div>
      <ul className="choose-list">
        {found.slice(0, mostShown).map((row) => (
          <li key={row.id}>
            <Checkbox checked={chosen.has(row.id)} onChange={(on) => toggle([row.id], on)}>
              <b>{row.mark}</b> {row.where} <span className="soft">{levelName(job, row.levelId)}</span>
            </Checkbox>
          </li>
        ))}
        {found.length > mostShown && (
          <li className="soft">and {found.length - mostShown} more; say which by mark or room</li>
        )}
      </ul>
    </Dialog>
  )
}
