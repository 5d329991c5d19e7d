import { useEffect, useState } from 'react'
import type { CallPage } from '../../../core/contract/index.ts'
import { deviceVoltsWords, fedFromWords, warrantyWords } from '../../../core/documents/index.ts'
import { closeFinding, isOpen, startVisit } from '../../../core/service/index.ts'
import { ask } from '../../bridge.ts'
import { Button, Citation, MarginFacts, MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { BehaviourTable } from '../behaviour-table.tsx'
import { useCallerWords } from '../caller-words.ts'
import { momentWords } from '../history/index.ts'
import { keep } from '../keep.ts'
import { goTo, hrefOf } from '../place.ts'
import { openForChanges } from '../shelf/index.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange, useWindow, working } from '../window-state.ts'
import { CheckList } from './check-list.tsx'
import { HowSet } from './how-set.tsx'
import { symptomOf, useService } from './service-state.ts'
import { OpenVisits, Visits } from './visits.tsx'
import './service.css'

/** Not shown before it is of this opening: another one's readings would mislead. */
function useCallPage(openingId: string): CallPage | null {
  const page = useAsked('service.call', { openingId })
  return page?.openingId === openingId ? page : null
}

export function CallSheet({ openingId }: { readonly openingId: string }) {
  const page = useCallPage(openingId)
  const words = useCallerWords((state) => state.words)
  const chosen = useService((state) => state.chosen)
  const readOnly = useWindow((state) => state.job?.state.readOnly ?? null)
  const locked = readOnly !== null
  const begin = (): void => {
    if (page === null || locked) return
    void makeChange(
      startVisit({ id: page.openingId as never, mark: page.mark }, { by: null, symptom: words }),
    )
  }
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const target = event.target instanceof HTMLElement ? event.target : null
      if (target?.matches('input:not([type=radio]), textarea, select') === true) return
      if (event.ctrlKey || event.metaKey || event.altKey || event.key.toLowerCase() !== 'v') return
      if (document.querySelector('[role=dialog]') !== null) return
      event.preventDefault()
      begin()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  })
  if (page === null) return null
  const reported = page.visits.find(({ visit }) => isOpen(visit))?.visit.symptom ?? null
  const symptom = symptomOf(
    chosen,
    openingId,
    words,
    reported,
    page.checks.map((each) => each.symptom),
  )
  return (
    <div className="page call-page">
      <header className="opening-heading">
        <h1>{page.mark}</h1>
        <span className="opening-where">{page.where}</span>
        {words !== '' && <span className="soft">“{words}”</span>}
        <span className="sheet-actions">
          {locked ? (
            <Button kind="main" onPress={() => void openForChanges()}>
              Open for changes
            </Button>
          ) : (
            <Button kind="main" keyShown="V" onPress={begin}>
              Start a visit
            </Button>
          )}
          <Button onPress={() => void printSheet(openingId)}>Service sheet</Button>
          <Button onPress={() => goTo({ sheet: 'opening', openingId })}>The opening’s page</Button>
        </span>
      </header>
      <KeyFacts page={page} />
      <OpenVisits page={page} locked={locked} />
      <CheckList page={page} symptom={symptom} words={words} />
      <Findings page={page} locked={locked} />
      <Visits page={page} locked={locked} />
      <SinceHandover page={page} />
      <Behaviour page={page} />
      <Fed page={page} />
      <HowSet settings={page.settings} />
      <People page={page} />
      <History page={page} />
    </div>
  )
}

async function printSheet(openingId: string): Promise<void> {
  const made = await working('Setting the service sheet', () =>
    ask('print.service', { openingIds: [openingId] }),
  )
  if (made !== null) keep(made)
}

/** What the desk is asked first. */
function KeyFacts({ page }: { readonly page: CallPage }) {
  const last = page.visits.find(({ visit }) => !isOpen(visit))?.visit
  const readings = page.fed.flatMap(({ tag, proved }) =>
    proved === null ? [] : [`${tag} ${proved.reading ?? ''} V`],
  )
  const sources = [...new Set(page.fed.filter(({ from }) => from !== null).map(fedFromWords))]
  return (
    <dl className="call-facts">
      <div className={page.times.some(({ designed }) => designed !== null) ? 'wide question' : 'wide'}>
        <dt>Stays released for</dt>
        <dd>
          {page.times.length === 0
            ? 'nothing here is set by time'
            : page.times.map(({ what, stands, designed }) => (
                <span key={what} className={designed === null ? 'time' : 'time own'}>
                  {what} <b>{stands ?? 'not known'}</b>
                  {designed === null ? '' : `, designed ${designed}`}
                </span>
              ))}
        </dd>
      </div>
      <div>
        <dt>Fed from</dt>
        <dd>{sources.length === 0 ? 'nothing here is fed' : sources.join('; ')}</dd>
      </div>
      <div>
        <dt>Had when proved{page.provedAt === null ? '' : `, ${page.provedAt.slice(0, 10)}`}</dt>
        <dd>
          {readings.length === 0
            ? page.provedAt === null
              ? 'not proved'
              : 'no volts read'
            : readings.join(', ')}
        </dd>
      </div>
      <div>
        <dt>Last visit</dt>
        <dd>
          {last === undefined
            ? 'none'
            : [last.at?.slice(0, 10), last.who, last.found].filter((each) => each != null).join(', ')}
        </dd>
      </div>
      <div>
        <dt>Warranty</dt>
        <dd>{warrantyWords(page.warranties)}</dd>
      </div>
      <div>
        <dt>Battery</dt>
        <dd>
          {page.batteries.length === 0
            ? 'none'
            : page.batteries
                .map(({ mark, ageMonths, replaceBy, question }) =>
                  question === null
                    ? `${mark}: ${ageMonths ?? 0} ${ageMonths === 1 ? 'month' : 'months'} old, to ${replaceBy ?? '?'}`
                    : question,
                )
                .join(' ')}
        </dd>
      </div>
    </dl>
  )
}

function Findings({ page, locked }: { readonly page: CallPage; readonly locked: boolean }) {
  const open = page.findings.filter(({ state }) => state === 'open')
  if (open.length === 0) return null
  return (
    <section aria-label="Open findings">
      <SheetHeading level={2} title="Open findings" facts={`${open.length}`} />
      <ul className="call-findings">
        {open.map(({ id, words, owner, raisedAt }) => (
          <li key={id}>
            {words}{' '}
            <span className="soft">
              {[raisedAt?.slice(0, 10), owner].filter((each) => each != null).join(', ')}
            </span>
            {!locked && (
              <Button
                kind="quiet"
                label={`Close: ${words}`}
                onPress={() => void makeChange(closeFinding(id, page.mark))}
              >
                Close
              </Button>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

function SinceHandover({ page }: { readonly page: CallPage }) {
  const { against, differences } = page.sinceHandover
  return (
    <section aria-label="What differs from handover">
      <SheetHeading level={2} title="What differs from handover" facts={`against ${against}`} />
      {differences.length === 0 ? (
        <p className="padded soft">Nothing.</p>
      ) : (
        <table className="plain-table">
          <thead>
            <tr>
              <th scope="col">Device</th>
              <th scope="col">What</th>
              <th scope="col">Then</th>
              <th scope="col">Now</th>
            </tr>
          </thead>
          <tbody>
            {differences.map((each) => (
              <tr key={`${each.tag} ${each.what}`}>
                <td className="mark">{each.tag}</td>
                <td>{each.what}</td>
                <td>{each.atHandover}</td>
                <td className="own">{each.now}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  )
}

/** What it should do now, or as it was designed. */
function Behaviour({ page }: { readonly page: CallPage }) {
  const [stage, setStage] = useState<'found' | 'designed'>('found')
  const { lines, cannotTell } = page.behaviour[stage]
  return (
    <section aria-label="What it should do">
      <SheetHeading
        level={2}
        title="What it should do"
        actions={
          <fieldset className="symptoms small">
            <legend className="for-ears">With its settings</legend>
            {(['found', 'designed'] as const).map((each) => (
              <label key={each}>
                <input
                  type="radio"
                  name={`stage ${page.openingId}`}
                  checked={stage === each}
                  onChange={() => setStage(each)}
                />
                <span>{each === 'found' ? 'As it stands' : 'As designed'}</span>
              </label>
            ))}
          </fieldset>
        }
      />
      {page.consequences.length > 0 && (
        <ul className="setting-findings">
          {page.consequences.map((each) => (
            <li key={each} className="consequence">
              {each}
            </li>
          ))}
        </ul>
      )}
      {cannotTell.map((each) => (
        <p key={each} className="padded soft">
          {each}
        </p>
      ))}
      {lines.length > 0 && <BehaviourTable lines={lines} />}
    </section>
  )
}

function Fed({ page }: { readonly page: CallPage }) {
  if (page.fed.length === 0) return null
  return (
    <section aria-label="Where it is fed">
      <SheetHeading level={2} title="Where it is fed" facts="and what it had when it was proved" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Device</th>
            <th scope="col">Fed from</th>
            <th scope="col">Over</th>
            <th scope="col">Terminals</th>
            <th scope="col">Should have</th>
            <th scope="col">Had when proved</th>
          </tr>
        </thead>
        <tbody>
          {page.fed.map((device) => (
            <tr key={device.fittingId} className={device.proved?.result === 'failed' ? 'question' : ''}>
              <td className="mark">{device.tag}</td>
              <td>
                {device.from === null ? (
                  fedFromWords(device)
                ) : (
                  <a href={hrefOf({ sheet: 'supply', supplyId: device.from.supplyId })}>
                    {fedFromWords(device)}
                  </a>
                )}
              </td>
              <td>
                {device.route
                  .map(({ name, cable }) => [name, cable].filter((each) => each !== null).join(', '))
                  .join('; ')}
              </td>
              <td>{device.terminals ?? 'not known'}</td>
              <td>{deviceVoltsWords(device)}</td>
              <td>{device.proved?.text ?? 'not read'}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function People({ page }: { readonly page: CallPage }) {
  if (page.people.length === 0) return null
  return (
    <section aria-label="Who to ask">
      <SheetHeading level={2} title="Who to ask" />
      <table className="plain-table">
        <thead>
          <tr>
            <th scope="col">Who</th>
            <th scope="col">About</th>
            <th scope="col">Company</th>
            <th scope="col">Reach at</th>
          </tr>
        </thead>
        <tbody>
          {page.people.map((each) => (
            <tr key={each.name}>
              <td className="mark">{each.name}</td>
              <td>{each.about}</td>
              <td>{each.company}</td>
              <td>{[each.phone, each.email].filter((one) => one !== null).join(', ')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function History({ page }: { readonly page: CallPage }) {
  const done = page.history.filter(({ state }) => state === 'done')
  if (done.length === 0) return null
  return (
    <section aria-label="Last changes">
      <SheetHeading level={2} title="Last changes" facts="in this job" />
      <ul className="call-history">
        {done.slice(0, 8).map((entry) => (
          <li key={entry.seq}>
            {entry.name}{' '}
            <span className="soft">
              {entry.who}, {momentWords(entry.at)}
            </span>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Why the check under the cursor stands there, and what it means if it is otherwise. */
export function CallMargin() {
  const pointed = useService((state) => state.pointed)
  return (
    <>
      {pointed !== null && (
        <>
          <MarginTitle>{pointed.at}</MarginTitle>
          <MarginText>{pointed.because}</MarginText>
          <MarginFacts
            facts={[
              { name: 'Right is', value: pointed.expected ?? pointed.question ?? 'to be seen' },
              ...(pointed.last === null ? [] : [{ name: 'Last', value: pointed.last }]),
            ]}
          />
          <MarginText>
            <i>If it is otherwise:</i> {pointed.otherwise}
          </MarginText>
          {pointed.caution !== null && <p className="check-caution">{pointed.caution}</p>}
        </>
      )}
      {pointed === null && (
        <>
          <MarginTitle>How the list is made</MarginTitle>
          <MarginText>
            It follows from this opening alone: what stands between its feed and what holds, how each thing is
            set against its design, the volts and ohms worked out for it, what was read when it was proved,
            and what was found since. What is known to be otherwise comes first; looks come before readings.
          </MarginText>
          <MarginText>
            Point at a line to read why it stands there, and what it means if it is otherwise.
          </MarginText>
        </>
      )}
      <Citation>
        Never bridge a device that lets people out. Local codes and the authority having jurisdiction decide;
        work inside supplies and on the fire alarm is for those licensed for it.
      </Citation>
    </>
  )
}
