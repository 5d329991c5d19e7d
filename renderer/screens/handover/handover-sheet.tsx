// From proofs to a sealed issue: what is open, the seal, the binder, and what goes out beside it.
import { useEffect, useState } from 'react'
import type { HandoverRead } from '../../../core/contract/index.ts'
import type { StandingLine } from '../../../core/handover/index.ts'
import { Button, Citation, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { useWindow } from '../window-state.ts'
import { BinderView } from './binder-view.tsx'
import { DifferencesView } from './differences-view.tsx'
import { DocumentsView } from './documents-view.tsx'
import { FilesView } from './files-view.tsx'
import './handover.css'
import { follow, handoverViews, lookAt, showView, useHandover, type HandoverView } from './handover-state.ts'
import { IssuesView } from './issues-view.tsx'
import { PeopleView } from './people-view.tsx'
import { ProgressStrip } from './progress-strip.tsx'
import { SealDialog } from './seal-dialog.tsx'
import { UpkeepView } from './upkeep-view.tsx'

const countOf: Partial<Record<HandoverView, (read: HandoverRead) => number>> = {
  standing: ({ standing }) => standing.length,
  issues: ({ issues }) => issues.length,
  people: ({ signatures }) => signatures.length,
  upkeep: ({ tasks }) => tasks.length,
  documents: ({ documents }) => documents.length,
}

export function HandoverSheet() {
  const job = useWindow((state) => state.job)
  const view = useHandover((state) => state.view)
  const read = useAsked('handover.read', {})
  const [sealing, setSealing] = useState(false)
  const underWay = read?.underWay ?? null
  useEffect(() => {
    if (underWay !== null) void follow(underWay)
  }, [underWay])
  if (job === null || read === null) return null
  const locked = job.state.readOnly !== null
  const stops = read.standing.filter(({ weight }) => weight === 'stop').length
  return (
    <div className="page">
      <SheetHeading
        title="Handover"
        facts={
          read.standing.length === 0
            ? 'Nothing that is known of is open'
            : `${read.standing.length} open${stops > 0 ? `, ${stops} can hurt someone or failed` : ''}`
        }
        actions={
          <Button kind="main" disabled={locked} onPress={() => setSealing(true)}>
            Seal an issue…
          </Button>
        }
      />
      <ProgressStrip />
      <div className="handover-views" role="group" aria-label="Parts of the handover">
        {(Object.keys(handoverViews) as HandoverView[]).map((each) => (
          <button
            key={each}
            type="button"
            className="show-choice"
            aria-pressed={view === each}
            onClick={() => showView(each)}
          >
            {handoverViews[each]} <small>{countOf[each]?.(read)}</small>
          </button>
        ))}
      </div>
      {view === 'standing' && <Standing lines={read.standing} />}
      {view === 'issues' && <IssuesView issues={read.issues} />}
      {view === 'differences' && <DifferencesView issues={read.issues} lastSealedId={read.lastSealedId} />}
      {view === 'binder' && <BinderView job={job} />}
      {view === 'files' && <FilesView job={job} />}
      {view === 'people' && (
        <PeopleView signatures={read.signatures} contacts={read.contacts} locked={locked} />
      )}
      {view === 'upkeep' && <UpkeepView read={read} job={job} locked={locked} />}
      {view === 'documents' && <DocumentsView documents={read.documents} job={job} locked={locked} />}
      {sealing && <SealDialog names={read.nextNames} onClose={() => setSealing(false)} />}
    </div>
  )
}

const weightWords: Readonly<Record<StandingLine['weight'], string>> = {
  stop: 'Can hurt someone, or failed',
  question: 'To be settled',
  told: 'Missing',
}
const sheetWords: Readonly<Record<StandingLine['sheet'], string>> = {
  proving: 'Proving',
  cautions: 'Cautions',
  power: 'Power',
  schedule: 'Schedule',
  handover: 'Signatures',
  job: 'Job',
}
const most = 12

function Standing({ lines }: { readonly lines: readonly StandingLine[] }) {
  if (lines.length === 0)
    return <p className="padded">Nothing that the program knows of stands between this job and a seal.</p>
  return (
    <table className="plain-table standing-table">
      <thead>
        <tr>
          <th scope="col">Weight</th>
          <th scope="col">What is open</th>
          <th scope="col">Openings</th>
          <th scope="col">Settled under</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr
            key={line.key}
            className={line.weight}
            onMouseEnter={() => lookAt(line)}
            onFocus={() => lookAt(line)}
          >
            <td className="standing-weight">{weightWords[line.weight]}</td>
            <td className="wrap">{line.sentence}</td>
            <td className="standing-marks">
              {line.openings.slice(0, most).map(({ id, mark }) => (
                <a key={id} className="link" href={linkOf(line, id)}>
                  {mark}
                </a>
              ))}
              {line.openings.length > most && (
                <span className="soft">and {line.openings.length - most} more</span>
              )}
            </td>
            <td>
              {line.sheet === 'handover' ? (
                <button type="button" className="link" onClick={() => showView('people')}>
                  {sheetWords[line.sheet]}
                </button>
              ) : (
                <a className="link" href={hrefOf({ sheet: line.sheet })}>
                  {sheetWords[line.sheet]}
                </a>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

const linkOf = ({ sheet }: StandingLine, openingId: string): string =>
  hrefOf(sheet === 'proving' ? { sheet: 'proof', openingId } : { sheet: 'opening', openingId })

const viewHelp: Readonly<Record<HandoverView, string>> = {
  standing:
    'Sealing is never forbidden by these lines. Where something failed or can trap someone, it asks first, and the binder says it on its cover and in its first chapter.',
  issues:
    'A sealed issue keeps the state of the job, what was worked out, the binder and its files with their SHA-256 hashes, all inside the job file. Two files with one hash are the same to the last byte.',
  differences:
    'What is otherwise than in a sealed issue: first the cells of each opening, then what follows from them for behaviour, cautions and volts.',
  binder:
    'A print is no issue: nothing is kept. The archive copy carries makers’ documents inside it as files; the reading copy has them bound in at their place.',
  files:
    'The code on a label says the job and the mark in plain words. Typed or pasted into the find box (Ctrl K), it opens the page of that opening.',
  people: 'The binder has a line to sign for each of these; two blank lines where nobody is named.',
  upkeep:
    'Yearly inspections, batteries and ends of warranties are worked out; tasks are what people add to them.',
  documents:
    'A PDF is kept once, by its hash. One that covers an opening stands behind that opening’s page; one that covers a part stands in its own chapter.',
}

export function HandoverMargin() {
  const { view, line } = useHandover()
  return (
    <>
      <MarginTitle>{line === null ? handoverViews[view] : weightWords[line.weight]}</MarginTitle>
      {line !== null && <MarginText>{line.sentence}</MarginText>}
      {line !== null && line.openings.length > 0 && (
        <MarginText>{line.openings.map(({ mark }) => mark).join(', ')}</MarginText>
      )}
      <MarginText>{viewHelp[view]}</MarginText>
      <Citation>
        Local codes and the authority having jurisdiction decide what must be handed over and signed. A list
        without lines does not say that a building is safe.
      </Citation>
    </>
  )
}
