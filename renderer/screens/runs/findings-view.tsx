import { useState } from 'react'
import type { WiringFinding, WiringFindingForm } from '../../../core/runs/index.ts'
import { hrefOf } from '../place.ts'
import { setRuns, showRun } from './runs-state.ts'

const formWords: Readonly<Record<WiringFindingForm, readonly [one: string, more: string]>> = {
  'no run': ['opening without a run', 'openings without a run'],
  'ends nowhere': ['run to nothing', 'runs to nothing'],
  'left out': ['run to what was left out', 'runs to what was left out'],
  'terminal used twice': ['terminal used twice', 'terminals used twice'],
  'output used by nobody': ['output feeds nothing', 'outputs feed nothing'],
  'point used by nobody': ['point wired to nothing', 'points wired to nothing'],
  'contact at two points': ['contact at two points', 'contacts at two points'],
}

/** What was found, counted by sort; one sort at a time is listed. */
export function Findings({ findings }: { readonly findings: readonly WiringFinding[] }) {
  const [open, setOpen] = useState<WiringFindingForm | null>(null)
  const byForm = Map.groupBy(findings, ({ form }) => form)
  if (findings.length === 0) return null
  const listed = open === null ? [] : (byForm.get(open) ?? [])
  return (
    <section className="wiring-findings" aria-label="What was found">
      <div className="finding-sorts">
        {[...byForm].map(([form, all]) => (
          <button
            key={form}
            type="button"
            className="show-choice"
            aria-pressed={open === form}
            onClick={() => setOpen(open === form ? null : form)}
          >
            {all.length} <span>{formWords[form][all.length === 1 ? 0 : 1]}</span>
          </button>
        ))}
      </div>
      {listed.length > 0 && (
        // Scrolls, so it must take the focus.
        <ul tabIndex={0} aria-label="Findings of this sort">
          {listed.map((each) => (
            <li key={each.words}>
              {each.words} <Way finding={each} />
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

function Way({ finding }: { readonly finding: WiringFinding }) {
  const { runId, openingId, controllerId } = finding
  if (runId !== null)
    return (
      <button type="button" className="link" onClick={() => showRun(runId)}>
        Show the run
      </button>
    )
  if (controllerId !== null)
    return (
      <button type="button" className="link" onClick={() => setRuns({ view: 'points', controllerId })}>
        Show the points
      </button>
    )
  return openingId === null ? null : (
    <a className="link" href={hrefOf({ sheet: 'opening', openingId })}>
      Open the page
    </a>
  )
}
