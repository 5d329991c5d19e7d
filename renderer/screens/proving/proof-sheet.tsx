import { useEffect, useRef, useState } from 'react'
import type { ProofPage, RecordedProof } from '../../../core/contract/index.ts'
import {
  proofPartWords,
  proofParts,
  readingPasses,
  type ProofLine,
  type ProofState,
} from '../../../core/proving/index.ts'
import { ask } from '../../bridge.ts'
import {
  Button,
  Citation,
  MarginFacts,
  MarginText,
  MarginTitle,
  readNumber,
  SheetHeading,
} from '../../ui/index.ts'
import { bytesToBase64 } from '../files.ts'
import { keep } from '../keep.ts'
import { goTo, hrefOf } from '../place.ts'
import { TextCell } from '../text-cell.tsx'
import { useAsked } from '../use-asked.ts'
import { stopFor, takeOutcome, useWindow, working } from '../window-state.ts'
import { lookAt, noteFor, useWalk } from './proving-state.ts'
import './proving.css'

const stateWords: Readonly<Record<ProofState, string>> = {
  passed: 'passed',
  failed: 'failed',
  'not done': '',
  stale: 'not as proved',
  'cannot be proved': 'facts missing',
}

/** The walk at one opening: step after step, each passed, failed or left out with one key or one touch. */
export function ProofSheet({ openingId }: { readonly openingId: string }) {
  const job = useWindow((state) => state.job)
  const page = useAsked('proving.opening', { openingId })
  const [at, setAt] = useState<string | null>(null)
  const steps = useRef<HTMLDivElement>(null)
  const here = page?.openingId === openingId ? page : null
  const lines = here?.proof.lines ?? []
  const current = lines.find(({ step }) => step.key === at) ?? nextOf(lines, null)
  useEffect(() => lookAt(current ?? null), [current])
  useEffect(() => {
    steps.current?.querySelector('[aria-current=step]')?.scrollIntoView({ block: 'nearest' })
  }, [current?.step.key])
  const locked = job === null || job.state.readOnly !== null
  const move = (by: number): void => {
    const place = lines.findIndex(({ step }) => step.key === current?.step.key)
    const next = lines[place + by]
    if (next !== undefined) setAt(next.step.key)
  }
  const record = async (
    line: ProofLine,
    result: RecordedProof['result'],
    reading: number | null = null,
    notes: string | null = null,
  ): Promise<void> => {
    const done = await recordResult(openingId, line, result, reading, notes)
    if (done) setAt(nextOf(lines, line)?.step.key ?? line.step.key)
  }
  useWalkKeys(here, current ?? null, locked, move, record)
  if (here === null || job === null) return null
  const { counts } = here.proof
  return (
    <div className="page proof-page">
      <header className="opening-heading">
        <h1>{here.mark}</h1>
        <span className="opening-where">{here.where}</span>
        <span className="soft">
          {counts.passed} of {lines.length} passed
          {counts.failed > 0 ? `, ${counts.failed} failed` : ''}
        </span>
        <span className="sheet-actions">
          <Button
            disabled={here.before === null}
            keyShown="PgUp"
            onPress={() => goTo({ sheet: 'proof', openingId: here.before ?? openingId })}
          >
            Previous
          </Button>
          <Button
            disabled={here.after === null}
            keyShown="PgDn"
            onPress={() => goTo({ sheet: 'proof', openingId: here.after ?? openingId })}
          >
            Next
          </Button>
        </span>
      </header>
      <div className="proof-bar">
        <WhoAndWhen locked={locked} />
        <Photograph openingId={openingId} line={current ?? null} locked={locked} />
        <Button onPress={() => void printSheet(openingId)}>Test sheet</Button>
        <a className="link" href={hrefOf({ sheet: 'opening', openingId })}>
          The opening’s page
        </a>
      </div>
      {lines.length === 0 && (
        <p className="padded">
          Nothing can be proved here yet: the opening has no fittings, or nobody can tell what its doorway
          does.
        </p>
      )}
      <div ref={steps}>
        {proofParts.map((part) => {
          const own = lines.filter(({ step }) => step.part === part)
          if (own.length === 0) return null
          return (
            <section key={part} aria-label={proofPartWords[part]}>
              <SheetHeading
                level={2}
                title={proofPartWords[part]}
                facts={`${own.filter(({ state }) => state === 'passed').length} of ${own.length}`}
              />
              <ol className="proof-steps">
                {own.map((line) => (
                  <Step
                    key={line.step.key}
                    line={line}
                    current={line === current}
                    locked={locked}
                    onLook={() => setAt(line.step.key)}
                    onRecord={(result, reading, notes) => void record(line, result, reading, notes)}
                  />
                ))}
              </ol>
            </section>
          )
        })}
      </div>
      <Gone page={here} />
      <Pictures page={here} />
    </div>
  )
}

/** The step to go to after this one: the next that is not passed, from the top where none follows. */
function nextOf(lines: readonly ProofLine[], after: ProofLine | null): ProofLine | undefined {
  const place = after === null ? -1 : lines.findIndex(({ step }) => step.key === after.step.key)
  const isOpen = ({ state, step }: ProofLine): boolean =>
    state !== 'passed' && step.expected !== null && step.key !== after?.step.key
  return lines.slice(place + 1).find(isOpen) ?? lines.find(isOpen) ?? lines[0]
}

async function recordResult(
  openingId: string,
  { step }: ProofLine,
  result: RecordedProof['result'],
  reading: number | null,
  notes: string | null,
): Promise<boolean> {
  const { who, day } = useWalk.getState()
  const at = day === null ? null : `${day}T12:00:00Z`
  const answer = await ask('proving.record', {
    results: [{ openingId, stepKey: step.key, result, reading, notes, who, at }],
  })
  if (answer.ok) takeOutcome(answer.value)
  else stopFor(answer.problem)
  return answer.ok
}

function useWalkKeys(
  page: ProofPage | null,
  current: ProofLine | null,
  locked: boolean,
  move: (by: number) => void,
  record: (line: ProofLine, result: RecordedProof['result']) => Promise<void>,
): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const target = event.target instanceof HTMLElement ? event.target : null
      if (page === null || document.querySelector('[role=dialog]') !== null) return
      const turn = event.key === 'PageDown' ? page.after : event.key === 'PageUp' ? page.before : null
      const act = (doing: () => unknown): void => {
        event.preventDefault()
        void doing()
      }
      if (turn !== null) return act(() => goTo({ sheet: 'proof', openingId: turn }))
      if (target?.matches('input, textarea, select') === true) return
      if (event.ctrlKey || event.metaKey || event.altKey) return
      if (event.key === 'ArrowDown') return act(() => move(1))
      if (event.key === 'ArrowUp') return act(() => move(-1))
      if (locked || current === null) return
      const key = event.key.toLowerCase()
      if (key === 'p' && current.step.measured === null) return act(() => record(current, 'passed'))
      if (key === 'f') return act(() => record(current, 'failed'))
      if (key === 'o') return act(() => record(current, 'not done'))
      if (/^\d$/.test(key) && current.step.measured !== null)
        document.querySelector<HTMLInputElement>('[aria-current=step] .proof-reading input')?.focus()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [page, current, locked, move, record])
}

function Step({
  line,
  current,
  locked,
  onLook,
  onRecord,
}: {
  readonly line: ProofLine
  readonly current: boolean
  readonly locked: boolean
  readonly onLook: () => void
  readonly onRecord: (result: RecordedProof['result'], reading: number | null, notes: string | null) => void
}) {
  const { step, state, last, staleBecause } = line
  const [reading, setReading] = useState('')
  const [notes, setNotes] = useState<string | null>(null)
  const read = readNumber(reading)
  const passes = readingPasses(step, read ?? null)
  const canPass = step.expected !== null && read !== undefined && passes !== false
  const needsReading = step.measured !== null && step.measured.unit !== 's' && read === null
  return (
    <li
      className={`proof-step ${state.replaceAll(' ', '-')}${current ? ' current' : ''}`}
      aria-current={current ? 'step' : undefined}
    >
      <button type="button" className="proof-does" onClick={onLook}>
        {step.does}
      </button>
      <span className="proof-expected">
        {step.expected ?? `Not known yet. ${step.because.join(' ')}`}
        {staleBecause !== null && <span className="question"> {staleBecause}</span>}
      </span>
      <span className="proof-state">
        {stateWords[state]}
        {last !== null && state !== 'not done' && (
          <span className="soft">
            {' '}
            {[
              last.reading === null ? null : `${last.reading} ${last.unit ?? ''}`,
              last.who,
              last.at?.slice(0, 10),
            ]
              .filter((each) => each != null)
              .join(', ')}
          </span>
        )}
        {last?.notes != null && <span className="soft"> “{last.notes}”</span>}
      </span>
      {current && step.caution !== null && <p className="proof-caution">{step.caution}</p>}
      {current && !locked && (
        <form
          className="proof-deeds"
          onSubmit={(event) => {
            event.preventDefault()
            onRecord(passes === false ? 'failed' : 'passed', read ?? null, notes)
          }}
        >
          {step.measured !== null && (
            <label className="proof-reading">
              Read{' '}
              <input
                inputMode="decimal"
                value={reading}
                aria-label={`Reading in ${step.measured.unit}`}
                onChange={(event) => setReading(event.currentTarget.value)}
              />{' '}
              {step.measured.unit}
              {read === undefined && <span className="stop"> a number is expected</span>}
              {passes === false && <span className="stop"> outside its limits</span>}
              {passes === true && <span> inside its limits</span>}
            </label>
          )}
          <Button
            kind="main"
            keyShown={step.measured === null ? 'P' : 'Enter'}
            disabled={!canPass || needsReading}
            onPress={() => onRecord('passed', read ?? null, notes)}
          >
            Passed
          </Button>
          <Button
            kind="danger"
            keyShown="F"
            disabled={read === undefined}
            onPress={() => onRecord('failed', read ?? null, notes)}
          >
            Failed
          </Button>
          <Button keyShown="O" onPress={() => onRecord('not done', null, notes)}>
            Leave open
          </Button>
          {notes === null ? (
            <Button kind="quiet" onPress={() => setNotes('')}>
              Add a note
            </Button>
          ) : (
            <input
              className="proof-notes"
              autoFocus
              aria-label="Note on this step"
              placeholder="What was seen"
              value={notes}
              onChange={(event) => setNotes(event.currentTarget.value)}
            />
          )}
        </form>
      )}
    </li>
  )
}

/** For sheets that were filled by hand: whose hand, and on which day. */
function WhoAndWhen({ locked }: { readonly locked: boolean }) {
  const { who, day } = useWalk()
  return (
    <>
      <span className="proof-who">
        Done by
        <TextCell
          text={who}
          label="Done by"
          hint="you"
          locked={locked}
          onSet={(next) => noteFor({ who: next, day })}
        />
      </span>
      <span className="proof-who">
        On
        <input
          type="date"
          className="cell-input"
          aria-label="Done on; empty is now"
          value={day ?? ''}
          readOnly={locked}
          onChange={(event) =>
            noteFor({ who, day: event.currentTarget.value === '' ? null : event.currentTarget.value })
          }
        />
      </span>
    </>
  )
}

function Photograph({
  openingId,
  line,
  locked,
}: {
  readonly openingId: string
  readonly line: ProofLine | null
  readonly locked: boolean
}) {
  const input = useRef<HTMLInputElement>(null)
  const take = async (file: File): Promise<void> => {
    const outcome = await working(`Keeping ${file.name}`, async () =>
      ask('proving.photograph', {
        openingId,
        stepKey: line?.step.key ?? null,
        fileName: file.name,
        base64: bytesToBase64(await file.arrayBuffer()),
        caption: line?.step.does ?? '',
      }),
    )
    if (outcome !== null) takeOutcome(outcome)
  }
  return (
    <>
      <Button disabled={locked} onPress={() => input.current?.click()}>
        Add a photograph
      </Button>
      <input
        ref={input}
        type="file"
        hidden
        accept="image/jpeg,image/png"
        capture="environment"
        aria-label="Photograph of this step"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? []
          event.currentTarget.value = ''
          if (file !== undefined) void take(file)
        }}
      />
    </>
  )
}

async function printSheet(openingId: string): Promise<void> {
  const made = await working('Setting the test sheet', () => ask('print.proofs', { openingIds: [openingId] }))
  if (made !== null) keep(made)
}

/** What was proved of things that are no longer there is kept, and told. */
function Gone({ page }: { readonly page: ProofPage }) {
  const { gone } = page.proof
  if (gone.length === 0) return null
  return (
    <section aria-label="Proved before">
      <SheetHeading level={2} title="Proved before" facts="steps that this opening no longer has" />
      <ul className="proof-gone">
        {gone.map(({ id, step, expected, result, who, at }) => (
          <li key={id}>
            {step}: {expected}; {result}
            {[who, at?.slice(0, 10)].map((each) => (each == null ? '' : `, ${each}`))}.
          </li>
        ))}
      </ul>
    </section>
  )
}

function Pictures({ page }: { readonly page: ProofPage }) {
  if (page.photographs.length === 0) return null
  return (
    <section aria-label="Photographs">
      <SheetHeading level={2} title="Photographs" />
      <ul className="proof-pictures">
        {page.photographs.map(({ id, name, sha256, mediaType }) => (
          <li key={id}>
            <Picture sha256={sha256 ?? ''} mediaType={mediaType ?? 'image/jpeg'} name={name} />
            {name}
          </li>
        ))}
      </ul>
    </section>
  )
}

function Picture({
  sha256,
  mediaType,
  name,
}: {
  readonly sha256: string
  readonly mediaType: string
  readonly name: string
}) {
  const [source, setSource] = useState<string | null>(null)
  useEffect(() => {
    let wanted = true
    void ask('attachment.read', { sha256 }).then((answer) => {
      if (wanted && answer.ok) setSource(`data:${mediaType};base64,${answer.value.base64}`)
    })
    return () => {
      wanted = false
    }
  }, [sha256, mediaType])
  return source === null ? null : <img src={source} alt={name} />
}

export function ProofMargin() {
  const line = useWalk((state) => state.line)
  if (line === null) return null
  const { step, last } = line
  return (
    <>
      <MarginTitle>{step.expected === null ? 'What is missing' : 'Why this is expected'}</MarginTitle>
      {step.because.map((each) => (
        <MarginText key={each}>{each}</MarginText>
      ))}
      {step.because.length === 0 && <MarginText>As it was designed.</MarginText>}
      {last !== null && (
        <MarginFacts
          facts={[
            { name: 'Last result', value: last.result },
            { name: 'Expected then', value: last.expected },
            {
              name: 'By',
              value: [last.who, last.at?.slice(0, 10)].filter((each) => each != null).join(', '),
            },
          ]}
        />
      )}
      {step.caution !== null && <Citation>{step.caution}</Citation>}
      <Citation>
        Local codes and the authority having jurisdiction decide what must be tested and witnessed; where a
        licence is asked for, a licensed person does it.
      </Citation>
    </>
  )
}
