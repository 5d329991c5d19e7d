import { toldApartWords, relayWords } from '../../../core/documents/index.ts'
import { writeCableLength, cableUnit } from '../../../core/runs/index.ts'
import { SheetHeading } from '../../ui/index.ts'
import { Headings } from '../parts/index.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { useWindow } from '../window-state.ts'
import { LoopTable } from './points-view.tsx'
import { setRuns, showRun } from './runs-state.ts'
import './runs.css'

/** The runs that end at an opening, and its points with their loops. */
export function OpeningWiring({ openingId }: { readonly openingId: string }) {
  const answer = useAsked('runs.opening', { openingId })
  const units = useWindow((state) => state.job?.frame.job.units)
  if (answer === null || units === undefined) return null
  const { runs, points } = answer
  return (
    <section aria-label="Wiring" className="opening-wiring">
      <SheetHeading
        level={2}
        title="Wiring"
        facts={`${runs.length === 1 ? '1 run' : `${runs.length} runs`}, ${points.length === 1 ? '1 point' : `${points.length} points`}`}
      />
      {runs.length === 0 && <p className="padded soft">No run ends here yet. Add it under Runs & points.</p>}
      {runs.length > 0 && (
        <table className="plain-table">
          <Headings names={['Run', 'From', 'To', 'Cable', `Length, ${cableUnit(units)}`, 'To be answered']} />
          <tbody>
            {runs.map((run) => (
              <tr key={run.id} className={run.questions.length > 0 ? 'question' : ''}>
                <td className="mark">
                  <a className="link" href={hrefOf({ sheet: 'runs' })} onClick={() => showRun(run.id)}>
                    {run.name}
                  </a>
                </td>
                <td>{run.from === '' ? 'not known' : run.from}</td>
                <td>{run.to === '' ? 'not known' : run.to}</td>
                <td className="wrap">{run.cable ?? '—'}</td>
                <td>{run.lengthMetres === null ? '—' : writeCableLength(run.lengthMetres, units)}</td>
                <td className="wrap own">{run.questions.map(({ words }) => words).join(' ')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {points.map((point) => (
        <details key={point.id} className="opening-point">
          <summary>
            <b>
              {point.controllerMark} {point.name}
            </b>{' '}
            {point.wiredToFitting}
            {point.contactName === null ? '' : `, ${point.contactName}`}:{' '}
            <span className={pointClass(point)}>
              {point.direction === 'output' ? relayWords(point) : pointWords(point)}
            </span>
          </summary>
          {point.direction === 'input' ? (
            <LoopTable point={point} />
          ) : (
            <p>
              <a
                className="link"
                href={hrefOf({ sheet: 'runs' })}
                onClick={() => setRuns({ view: 'points', controllerId: point.controllerId })}
              >
                Open the points of {point.controllerMark}
              </a>
            </p>
          )}
        </details>
      ))}
    </section>
  )
}

type Point = Parameters<typeof relayWords>[0]

const pointWords = (point: Point): string =>
  point.loop !== null && point.loop.disagreements.length > 0
    ? 'contact and point disagree'
    : toldApartWords(point)

const pointClass = ({ loop }: Point): string =>
  loop === null
    ? 'soft'
    : loop.disagreements.length > 0 || loop.toldApart.answer === 'no'
      ? 'loop-trouble'
      : loop.toldApart.answer === 'yes'
        ? 'soft'
        : 'own'
