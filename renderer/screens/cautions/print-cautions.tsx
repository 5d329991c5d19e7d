import { useState } from 'react'
import { ask } from '../../bridge.ts'
import { Button, Choice, Dialog } from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { usePlace } from '../place.ts'
import { selectedOpenings } from '../selected.ts'
import { working, type OpenJob } from '../window-state.ts'
import { jobPlace, levelName, levelPlace } from './places.ts'

const questions = 'questions'
const here = 'here'
const selected = 'selected'

const selectedWords = (job: OpenJob, [first = '', ...rest]: readonly string[]): string =>
  rest.length === 0 ? (job.rows.get(first)?.mark ?? '') : `the ${rest.length + 1} openings selected`

/** What to print: the questions for the meeting, or a behaviour and cautions sheet for each of some openings. */
export function PrintCautions({ job, onClose }: { readonly job: OpenJob; readonly onClose: () => void }) {
  const place = usePlace()
  const row = place.sheet === 'opening' ? job.rows.get(place.openingId) : undefined
  const [chosen] = useState(() => (place.sheet === 'schedule' ? selectedOpenings() : []))
  const [what, setWhat] = useState(row !== undefined ? here : chosen.length > 0 ? selected : questions)
  const print = async (): Promise<void> => {
    const made = await working('Setting the pages', () => {
      if (what === questions) return ask('print.questions', {})
      if (what === selected) return ask('print.cautions', { openingIds: [...chosen] })
      if (what === here) return ask('print.cautions', { openingIds: row === undefined ? [] : [row.id] })
      return ask('print.cautions', { levelId: what === jobPlace ? null : what.replace(/^level /, '') })
    })
    if (made === null) return
    keep(made)
    onClose()
  }
  return (
    <Dialog
      title="Print cautions"
      open
      onClose={onClose}
      actions={
        <>
          <Button onPress={onClose}>Leave it</Button>
          <Button kind="main" onPress={() => void print()}>
            Make the PDF
          </Button>
        </>
      }
    >
      <p>
        A sheet for an opening says what it does and why, its sequence of operation, and what the rules say of
        it. The words of caution stand on each page.
      </p>
      <Choice
        label="What"
        autoFocus
        value={what}
        options={[
          ...(row === undefined ? [] : [{ key: here, label: `Behaviour and cautions of ${row.mark}` }]),
          ...(chosen.length === 0
            ? []
            : [{ key: selected, label: `Behaviour and cautions of ${selectedWords(job, chosen)}` }]),
          { key: questions, label: 'Questions to answer, by who can answer' },
          ...job.frame.levels
            .filter((level) => level.openings > 0)
            .map(({ id, openings }) => ({
              key: levelPlace(id),
              label: `Behaviour and cautions, ${levelName(job, id)} (${openings})`,
            })),
          { key: jobPlace, label: `Behaviour and cautions, every opening (${job.rows.size})` },
        ]}
        onChange={setWhat}
      />
    </Dialog>
  )
}

/** A button that asks what to print. */
export function PrintButton({ job, children }: { readonly job: OpenJob; readonly children: string }) {
  const [asking, setAsking] = useState(false)
  return (
    <>
      <Button onPress={() => setAsking(true)}>{children}</Button>
      {asking && <PrintCautions job={job} onClose={() => setAsking(false)} />}
    </>
  )
}
