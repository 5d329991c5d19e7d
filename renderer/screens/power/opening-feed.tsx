// What feeds one opening: on its own page, and in the schedule's margin.
import { cableWords, figure, scenarioWords, type DeviceFeed } from '../../../core/power/index.ts'
import { MarginText, MarginTitle, SheetHeading } from '../../ui/index.ts'
import { hrefOf } from '../place.ts'
import { useAsked } from '../use-asked.ts'
import { useWindow } from '../window-state.ts'
import { markOf } from './figures.tsx'
import { choose } from './power-state.ts'
import './power.css'

const voltsOf = ({ volts, verdict }: DeviceFeed): string =>
  volts === null ? (verdict === 'not met' ? 'cannot be fed' : 'not known') : `${figure(volts, 2)} V`

/** Each device with its output, the cable to it and its volts at worst. Nothing where nothing draws current. */
export function OpeningFeed({ openingId }: { readonly openingId: string }) {
  const feed = useAsked('power.opening', { openingId })
  const units = useWindow((state) => state.job?.frame.job.units ?? 'metric')
  if (feed === null || feed.devices.length + feed.notFed.length === 0) return null
  return (
    <section aria-label="Feed">
      <SheetHeading level={2} title="Feed" facts="volts at worst over all circumstances" />
      <table className="plain-table power-table">
        <thead>
          <tr>
            <th scope="col">Device</th>
            <th scope="col">From</th>
            <th scope="col">Along the cable</th>
            <th scope="col" className="end">
              Volts
            </th>
            <th scope="col" className="end">
              To spare, V
            </th>
            <th scope="col">When</th>
          </tr>
        </thead>
        <tbody>
          {feed.devices.map((each) => (
            <tr
              key={each.load}
              className={
                each.verdict === 'not met' ? 'not-met' : each.verdict === 'not known' ? 'question' : ''
              }
            >
              <td className="mark">{each.tag}</td>
              <td>
                <a
                  className="link"
                  href={hrefOf({ sheet: 'supply', supplyId: each.supplyId })}
                  onClick={() => choose(each.supplyId, each.outputId)}
                >
                  {each.supplyMark} output {each.outputName}
                </a>
              </td>
              <td className={each.metres === null ? 'open' : ''}>
                {each.metres === null ? 'not known' : cableWords(each.metres, units)}
              </td>
              <td className={`end ${markOf(each.verdict)}`}>{voltsOf(each)}</td>
              <td className={`end ${markOf(each.verdict)}`}>
                {each.marginVolts === null ? '' : figure(each.marginVolts, 2)}
              </td>
              <td>{scenarioWords(each.scenario)}</td>
            </tr>
          ))}
          {feed.notFed.map((tag) => (
            <tr key={tag} className="question">
              <td className="mark">{tag}</td>
              <td colSpan={5} className="open">
                Nothing feeds it yet.
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

/** The schedule's margin while the cursor is on feed or volts. */
export function FeedWords({ openingId, mark }: { readonly openingId: string; readonly mark: string }) {
  const feed = useAsked('power.opening', { openingId })
  const units = useWindow((state) => state.job?.frame.job.units ?? 'metric')
  return (
    <>
      <MarginTitle>{mark}, feed</MarginTitle>
      {feed !== null && feed.devices.length + feed.notFed.length === 0 && (
        <MarginText>Nothing of this opening is known to draw current.</MarginText>
      )}
      {feed?.devices.map((each) => (
        <MarginText key={each.load}>
          {each.tag} hangs on{' '}
          <a
            href={hrefOf({ sheet: 'supply', supplyId: each.supplyId })}
            onClick={() => choose(each.supplyId, each.outputId)}
          >
            {each.supplyMark} output {each.outputName}
          </a>
          ,{' '}
          {each.metres === null
            ? 'over a length that is not known'
            : `${cableWords(each.metres, units)} along the cable`}
          .{' '}
          {each.volts === null
            ? each.verdict === 'not met'
              ? 'It cannot be fed over this wire.'
              : 'Its volts are not known: facts are missing.'
            : `It has ${figure(each.volts, 2)} V ${scenarioWords(each.scenario)}${each.marginVolts === null ? '' : each.marginVolts >= 0 ? `, ${figure(each.marginVolts, 2)} V to spare` : `, ${figure(-each.marginVolts, 2)} V outside what it works with`}.`}
        </MarginText>
      ))}
      {feed?.notFed.map((tag) => (
        <MarginText key={tag}>
          <i>What feeds {tag}?</i> Nothing does yet.
        </MarginText>
      ))}
    </>
  )
}
