import { useState } from 'react'
import type { FindingLine, OpeningToWalk, ProvingOverview } from '../../../core/contract/index.ts'
import { proofPartWords, proofParts, type ProofCounts } from '../../../core/proving/index.ts'
import { ask } from '../../bridge.ts'
import {
  Button,
  Choice,
  Citation,
  EmptySheet,
  MarginFacts,
  MarginText,
  MarginTitle,
  SheetHeading,
} from '../../ui/index.ts'
import { keep } from '../keep.ts'
import { goTo, hrefOf } from '../place.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { makeChange, useWindow, working } from '../window-state.ts'
import './proving.css'

const shows = {
  todo: 'Still to do',
  failed: 'With failures',
  stale: 'No longer as proved',
  all: 'All openings',
} as const
type Shows = keyof typeof shows

const wanted: Readonly<Record<Shows, (opening: OpeningToWalk) => boolean>> = {
  todo: ({ proved }) => !proved,
  failed: ({ counts }) => counts.failed > 0,
  stale: ({ counts }) => counts.stale > 0,
  all: () => true,
}

/** How far the job is proved, and what is left to walk. */
export function ProvingSheet() {
  const job = useWindow((state) => state.job)
  const overview = useAsked('proving.read', {})
  const [levelId, setLevelId] = useState<string | null>(null)
  const [show, setShow] = useState<Shows>('todo')
  if (job === null || overview === null) return null
  const locked = job.state.readOnly !== null
  const openings = overview.openings.filter(
    (each) => (levelId === null || each.levelId === levelId) && wanted[show](each),
  )
  const [first] = openings
  return (
    <div className="page">
      <SheetHeading
        title="Proving"
        facts={`${overview.progress.proved} of ${overview.progress.openings} openings proved`}
        actions={
          <>
            <Button
              kind="main"
              disabled={first === undefined}
              onPress={() => {
                if (first !== undefined) goTo({ sheet: 'proof', openingId: first.openingId })
              }}
            >
              Walk {show === 'all' ? 'from the first' : 'the next'}
            </Button>
            <Button
              disabled={openings.length === 0}
              onPress={() => void printSheets(openings.map(({ openingId }) => openingId))}
            >
              Test sheets
            </Button>
          </>
        }
      />
      <Levels overview={overview} chosen={levelId} onChoose={setLevelId} />
      <SheetHeading
        level={2}
        title={shows[show]}
        facts={openings.length === 1 ? '1 opening' : `${openings.length} openings`}
        actions={
          <Choice
            label="Show"
            options={Object.entries(shows).map(([key, label]) => ({ key, label }))}
            value={show}
            onChange={(key) => setShow(key as Shows)}
          />
        }
      />
      <Openings openings={openings} show={show} />
      <Findings findings={overview.findings} locked={locked} />
    </div>
  )
}

async function printSheets(openingIds: readonly string[]): Promise<void> {
  const made = await working('Setting the test sheets', () =>
    ask('print.proofs', { openingIds: [...openingIds] }),
  )
  if (made !== null) keep(made)
}

const total = (counts: ProofCounts): number => Object.values(counts).reduce((sum, each) => sum + each, 0)

/** A bar of how much passed, with its share in words for ears. */
function Share({ counts }: { readonly counts: ProofCounts }) {
  const all = total(counts)
  const share = all === 0 ? 0 : Math.floor((counts.passed / all) * 100)
  return (
    <span className="share" role="img" aria-label={`${share} percent passed`}>
      <span style={{ inlineSize: `${share}%` }} />
    </span>
  )
}

function Levels({
  overview,
  chosen,
  onChoose,
}: {
  readonly overview: ProvingOverview
  readonly chosen: string | null
  readonly onChoose: (levelId: string | null) => void
}) {
  const rows = [
    { levelId: null, name: 'All levels', progress: overview.progress },
    ...overview.levels.map((each) => ({ ...each, levelId: each.levelId as string | null })),
  ]
  return (
    <table className="plain-table">
      <thead>
        <tr>
          <th scope="col">Level</th>
          <th scope="col" className="end">
            Openings
          </th>
          <th scope="col" className="end">
            Proved
          </th>
          <th scope="col">Steps passed</th>
          <th scope="col" className="end">
            To do
          </th>
          <th scope="col" className="end">
            Failed
          </th>
          <th scope="col" className="end">
            Not as proved
          </th>
          <th scope="col" className="end">
            Facts missing
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ levelId, name, progress: { openings, proved, steps } }) => (
          <tr key={levelId ?? 'all'} className={levelId === chosen ? 'here' : ''}>
            <td>
              <button
                type="button"
                className="link"
                aria-pressed={levelId === chosen}
                onClick={() => onChoose(levelId)}
              >
                {name}
              </button>
            </td>
            <td className="end">{openings}</td>
            <td className="end">{proved}</td>
            <td>
              <Share counts={steps} /> {steps.passed} of {total(steps)}
            </td>
            <td className="end">{orNothing(steps['not done'])}</td>
            <td className={steps.failed > 0 ? 'end stop' : 'end'}>{orNothing(steps.failed)}</td>
            <td className="end">{orNothing(steps.stale)}</td>
            <td className="end">{orNothing(steps['cannot be proved'])}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}

const orNothing = (count: number): string => (count === 0 ? '' : String(count))

const most = 200

function Openings({ openings, show }: { readonly openings: readonly OpeningToWalk[]; readonly show: Shows }) {
  if (openings.length === 0)
    return (
      <EmptySheet>
        {show === 'todo' ? 'Every opening here is proved.' : 'No opening here is like that.'}
      </EmptySheet>
    )
  return (
    <>
      <ul className="walk-list">
        {openings.slice(0, most).map(({ openingId, mark, where, counts }) => (
          <li key={openingId}>
            <a href={hrefOf({ sheet: 'proof', openingId })}>
              <strong>{mark}</strong> <span className="walk-where">{where}</span>
              <span className="walk-counts">
                {counts.passed} of {total(counts)}
                {counts.failed > 0 && <span className="stop"> {counts.failed} failed</span>}
                {counts.stale > 0 && <span className="question"> {counts.stale} not as proved</span>}
              </span>
            </a>
          </li>
        ))}
      </ul>
      {openings.length > most && (
        <p className="soft padded">And {openings.length - most} more; choose a level to see them.</p>
      )}
    </>
  )
}

function Findings({
  findings,
  locked,
}: {
  readonly findings: readonly FindingLine[]
  readonly locked: boolean
}) {
  const [all, setAll] = useState(false)
  const shown = findings.filter(({ finding }) => all || finding.state === 'open')
  const open = findings.filter(({ finding }) => finding.state === 'open').length
  if (findings.length === 0) return null
  return (
    <section aria-label="Findings">
      <SheetHeading
        level={2}
        title="Findings"
        facts={`${open} open of ${findings.length}`}
        actions={
          <Button kind="quiet" onPress={() => setAll(!all)}>
            {all ? 'Only open ones' : 'All of them'}
          </Button>
        }
      />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Opening</th>
            <th scope="col">Finding</th>
            <th scope="col">Whose it is</th>
            <th scope="col">Raised</th>
            <th scope="col">Closed</th>
            <th scope="col">
              <span className="for-ears">Deeds</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {shown.map(({ finding, mark }) => (
            <tr key={finding.id} className={finding.state === 'open' ? 'question' : 'soft'}>
              <td className="mark">
                {finding.openingId === null ? (
                  ''
                ) : (
                  <a className="link" href={hrefOf({ sheet: 'proof', openingId: finding.openingId })}>
                    {mark}
                  </a>
                )}
              </td>
              <td className="wrap">{finding.words}</td>
              <td>
                <TextCell
                  text={finding.owner}
                  label={`Whose finding on ${mark ?? 'the job'} it is`}
                  locked={locked}
                  onSet={(owner) =>
                    setFinding(finding.id, `Give a finding to ${owner ?? 'nobody'}`, { owner })
                  }
                />
              </td>
              <td>{finding.raisedAt?.slice(0, 10)}</td>
              <td>{finding.closedAt?.slice(0, 10)}</td>
              <td className="deeds">
                <Button
                  kind="quiet"
                  disabled={locked}
                  onPress={() =>
                    void (finding.state === 'open'
                      ? setFinding(finding.id, `Close a finding on ${mark ?? 'the job'}`, {
                          state: 'closed',
                          closedAt: { stamped: 'at' },
                        })
                      : setFinding(finding.id, `Open a finding on ${mark ?? 'the job'} again`, {
                          state: 'open',
                          closedAt: null,
                        }))
                  }
                >
                  {finding.state === 'open' ? 'Close' : 'Open again'}
                </Button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

const setFinding = (
  id: string,
  name: string,
  fields: Readonly<Record<string, string | null | { readonly stamped: 'who' | 'at' }>>,
): Promise<boolean> =>
  makeChange({
    does: 'change records',
    name,
    add: [],
    set: [{ kind: 'finding', id, fields: { ...fields } }],
    remove: [],
  })

export function ProvingMargin() {
  const overview = useAsked('proving.read', {})
  return (
    <>
      <MarginTitle>Made from what was worked out</MarginTitle>
      <MarginText>
        No step here was typed in. Each comes from the settings, the volts, the loops, the behaviour and the
        answers of its opening. When one of these changes after a step has passed, the step no longer counts
        and says why.
      </MarginText>
      {overview !== null && (
        <MarginFacts
          facts={proofParts.map((part) => {
            const counts = overview.progress.byPart[part]
            return { name: proofPartWords[part], value: `${counts.passed} of ${total(counts)}` }
          })}
        />
      )}
      <Citation>
        Local codes and the authority having jurisdiction decide what must be tested and witnessed; where a
        licence is asked for, a licensed person does it.
      </Citation>
    </>
  )
}
