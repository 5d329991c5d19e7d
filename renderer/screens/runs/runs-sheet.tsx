import { useState } from 'react'
import { Button, SheetHeading } from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { useWindow } from '../window-state.ts'
import { CablesView } from './cables-view.tsx'
import { PointsView } from './points-view.tsx'
import { AddRuns, CableLabels, ExportLists, PrintLists } from './runs-dialogs.tsx'
import { setRuns, useRuns, type WiringView } from './runs-state.ts'
import { RunsView } from './runs-view.tsx'
import './runs.css'

const views: readonly { readonly key: WiringView; readonly label: string }[] = [
  { key: 'runs', label: 'Runs' },
  { key: 'points', label: 'Points' },
  { key: 'cables', label: 'Cables' },
]

/** The wiring of the job: every run, every point, and how much cable that is. */
export function RunsAndPointsSheet() {
  const job = useWindow((state) => state.job)
  const { view, levelId, sourceId, shown } = useRuns()
  const overview = useAsked('runs.read', {})
  const [dialog, setDialog] = useState<'add' | 'print' | 'export' | 'labels' | null>(null)
  if (job === null || overview === null) return null
  const locked = job.state.readOnly !== null
  const close = (): void => setDialog(null)
  const questions = overview.rows.filter((row) => row.questions.length > 0).length
  const narrowed = levelId !== null || sourceId !== null || shown !== 'all'
  const inView = narrowed
    ? overview.rows
        .filter(
          (row) =>
            (levelId === null || row.levelId === levelId) &&
            (sourceId === null || row.sourceId === sourceId) &&
            (shown === 'all' || row.questions.length > 0),
        )
        .map(({ id }) => id)
    : []
  return (
    <div className="runs-sheet">
      <SheetHeading
        title="Runs & points"
        facts={`${overview.rows.length} ${overview.rows.length === 1 ? 'run' : 'runs'}${questions === 0 ? '' : `, ${questions} with open questions`}`}
        actions={
          <>
            <Button onPress={() => setDialog('labels')}>Cable labels</Button>
            <Button onPress={() => setDialog('export')}>For a spreadsheet</Button>
            <Button onPress={() => setDialog('print')}>Print</Button>
          </>
        }
      />
      <div className="runs-views" role="group" aria-label="What is shown">
        {views.map(({ key, label }) => (
          <button
            key={key}
            type="button"
            className="show-choice"
            aria-pressed={view === key}
            onClick={() => setRuns({ view: key })}
          >
            {label}
          </button>
        ))}
      </div>
      {view === 'runs' && <RunsView job={job} overview={overview} onAdd={() => setDialog('add')} />}
      {view === 'points' && <PointsView locked={locked} />}
      {view === 'cables' && <CablesView job={job} locked={locked} />}
      {dialog === 'add' && <AddRuns job={job} onClose={close} />}
      {dialog === 'print' && <PrintLists onClose={close} />}
      {dialog === 'export' && <ExportLists onClose={close} />}
      {dialog === 'labels' && <CableLabels overview={overview} runIds={inView} onClose={close} />}
    </div>
  )
}
