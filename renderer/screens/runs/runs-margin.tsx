import type { Step } from '../../../core/settings/index.ts'
import { cableLengthWords, type PointPage, type RunPage } from '../../../core/runs/index.ts'
import type { Units } from '../../../core/job/index.ts'
import { relayWords } from '../../../core/documents/index.ts'
import { Citation, MarginFacts, MarginText, MarginTitle } from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { useWindow } from '../window-state.ts'
import { useRuns, type WiringView } from './runs-state.ts'

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`

/** Explains the run or the loop under the cursor. */
export function RunsAndPointsMargin() {
  const { pointed, view } = useRuns()
  const units = useWindow((state) => state.job?.frame.job.units)
  return (
    <>
      {pointed?.form === 'run' && view === 'runs' && units !== undefined && (
        <RunExplained runId={pointed.runId} units={units} />
      )}
      {pointed?.form === 'point' && view === 'points' && <PointExplained point={pointed.point} />}
      <General view={view} />
    </>
  )
}

function General({ view }: { readonly view: WiringView }) {
  switch (view) {
    case 'runs':
      return (
        <>
          <MarginTitle>A run is one length of cable</MarginTitle>
          <MarginText>
            Type its ends as you say them: PS3 output 2, 118 M1, AC2. Write the cable by the name of a kind,
            or as 18/2. A run without a length, a size or an end is a question, never nothing.
          </MarginText>
          <MarginText>
            Rows from a spreadsheet go below the last run: name, from, to, cable, conductors, size, solid or
            stranded, length, notes.
          </MarginText>
          <Caution />
        </>
      )
    case 'points':
      return (
        <>
          <MarginTitle>A loop tells states apart by its resistors</MarginTitle>
          <MarginText>
            What is expected at the controller’s terminals is worked out from the contact, its resistors and
            the cable out and back, from the coldest to the warmest the job can be.
          </MarginText>
          <MarginText>
            A relay that is said here is taken at its word: a wrong one shows as a doorway that does the wrong
            thing.
          </MarginText>
          <Caution />
        </>
      )
    case 'cables':
      return (
        <>
          <MarginTitle>The job’s convention</MarginTitle>
          <MarginText>
            A kind says how many conductors there are, their size and their colours in order. The usual
            lengths fill only empty lengths, and only when you ask for it.
          </MarginText>
          <Caution />
        </>
      )
  }
}

const Caution = () => (
  <Citation>
    Local codes decide how wires are run and how far they may go; wiring is work for licensed people.
  </Citation>
)

function RunExplained({ runId, units }: { readonly runId: string; readonly units: Units }) {
  const page = useAsked('runs.run', { runId })?.page ?? null
  if (page === null) return null
  const { row, way, totalMetres, feeds, sourceMark, points } = page
  const length = (metres: number | null): string =>
    metres === null ? 'not known' : cableLengthWords(metres, units)
  return (
    <>
      <MarginTitle>{row.name}</MarginTitle>
      <MarginText>{carriesWords(page)}</MarginText>
      {feeds.length > 0 && (
        <MarginText>
          {points.length > 0 ? `At ${listed(feeds)}: ${listed(points)}.` : `It feeds ${listed(feeds)}.`}
        </MarginText>
      )}
      <MarginFacts
        facts={[
          ...way.map(({ name, metres }) => ({ name, value: length(metres) })),
          ...(way.length > 1
            ? [{ name: `From ${sourceMark ?? 'its start'} to its end`, value: length(totalMetres) }]
            : []),
        ]}
      />
      {row.questions.map(({ words }) => (
        <MarginText key={words}>
          <i>{words}</i>
        </MarginText>
      ))}
    </>
  )
}

/** "Two conductors feed and return, two are spare." */
function carriesWords({ row, conductors, sourceMark }: RunPage): string {
  if (conductors.length === 0) return 'What it carries is not known: it has no conductors yet.'
  const byRole = Map.groupBy(conductors, ({ role }) => role ?? 'not said')
  const roles = [...byRole].map(([role, all]) => `${all.length} ${role}`)
  const from = sourceMark === null ? '' : ` It hangs on ${sourceMark}.`
  const cable = row.cable ?? `${conductors.length} ${conductors.length === 1 ? 'conductor' : 'conductors'}`
  return `${cable}: ${listed(roles)}.${from}`
}

/** The working of a loop, line by line, each with its source. */
export function PointExplained({ point }: { readonly point: PointPage }) {
  const { loop } = point
  const states = loop?.states.filter(({ steps }) => steps.length > 0) ?? []
  const [shown] = states.filter(({ reading }) => reading.form === 'ohms')
  return (
    <>
      <MarginTitle>
        {point.controllerMark} {point.name}
      </MarginTitle>
      {point.direction === 'output' && <MarginText>{relayWords(point)}.</MarginText>}
      {loop !== null && (
        <MarginFacts
          facts={loop.states.map(({ circumstance, words, meaning }) => ({
            name: circumstance,
            value: words,
            ...(meaning === 'not known' ? { mark: 'question' as const } : {}),
          }))}
        />
      )}
      {loop?.disagreements.map(({ words }) => (
        <MarginText key={words}>{words}</MarginText>
      ))}
      {shown !== undefined && (
        <>
          <MarginTitle>How {shown.circumstance} comes to that</MarginTitle>
          {shown.steps.map((step) => (
            <Line key={`${step.what} ${step.working}`} step={step} />
          ))}
          {states
            .filter((each) => each !== shown && each.reading.form === 'ohms')
            .map(({ circumstance, steps }) => {
              const last = steps.slice(-2)
              return last.map((step) => (
                <Line
                  key={`${circumstance} ${step.what}`}
                  step={{ ...step, what: `${circumstance}: ${step.what}` }}
                />
              ))
            })}
        </>
      )}
      {loop?.questions.map(({ words, whoCanSay }) => (
        <MarginText key={words}>
          <i>{words}</i> Ask {whoCanSay}.
        </MarginText>
      ))}
    </>
  )
}

function Line({ step }: { readonly step: Step }) {
  return (
    <p className="working-line">
      <b>{step.what}</b>
      <span>{step.working}</span>
      <span className="working-result">= {step.result}</span>
      {step.source !== null && <small>{step.source}</small>}
    </p>
  )
}
