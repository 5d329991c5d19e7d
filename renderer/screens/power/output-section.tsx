import { useEffect, useRef, useState } from 'react'
import {
  addRouteLength,
  changeOf,
  figure,
  scenarioWords,
  type DeviceFigure,
  type DevicePage,
  type OutputPage,
  type RemedyPage,
  type TreeLine,
} from '../../../core/power/index.ts'
import { voltsAlongRun } from '../../drawing/index.ts'
import { Button, DrawingView, SheetHeading } from '../../ui/index.ts'
import { useAsked } from '../use-asked.ts'
import { makeChange } from '../window-state.ts'
import { CableLengthCell } from './cable-length-cell.tsx'
import { Explained, markOf } from './figures.tsx'
import { putRight } from './put-right.ts'
import { usePower } from './power-state.ts'

/** One output: its volts along the run, what would put it right, and its tree of cable and devices. */
export function OutputSection({ outputId, locked }: { readonly outputId: string; readonly locked: boolean }) {
  const page = useAsked('power.output', { outputId })
  const sought = usePower((state) => state.sought === outputId)
  const place = useRef<HTMLElement>(null)
  const isThere = page !== null
  useEffect(() => {
    if (!sought || !isThere) return
    place.current?.scrollIntoView({ block: 'start' })
    usePower.setState({ sought: null })
  }, [sought, isThere])
  if (page === null) return null
  const { line } = page
  return (
    <section ref={place} aria-label={`${line.fullName}: volts along the run`}>
      <SheetHeading
        level={2}
        title={`${line.fullName}: volts along the run`}
        facts={[
          `${line.devices} ${line.devices === 1 ? 'device' : 'devices'}`,
          line.load.holdingAmps === null
            ? 'holding not known'
            : `${figure(line.load.holdingAmps, 2)} A holding`,
        ].join(', ')}
      />
      {page.faults.map((each) => (
        <p key={each} className="padded broken">
          {each}
        </p>
      ))}
      {page.figure !== null && <VoltsFigure figure={page.figure} />}
      <PutRight page={page} locked={locked} />
      {line.devices === 0 && page.tree.length < 2 ? (
        <p className="padded soft">
          Nothing hangs on this output yet. Its cable is entered on Runs &amp; points.
        </p>
      ) : (
        <Tree page={page} locked={locked} />
      )}
      {page.questions.length > 0 && (
        <ul className="power-questions">
          {page.questions.map(({ sentence, who }) => (
            <li key={sentence}>
              {sentence} <span className="soft">Ask {who}.</span>
            </li>
          ))}
        </ul>
      )}
    </section>
  )
}

const figureHeight = 300

/** As wide as the sheet has room. */
function VoltsFigure({ figure: input }: { readonly figure: NonNullable<OutputPage['figure']> }) {
  const place = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useEffect(() => {
    const element = place.current
    if (element === null) return undefined
    const measure = (): void => setWidth(Math.floor(element.clientWidth))
    measure()
    const watching = new ResizeObserver(measure)
    watching.observe(element)
    return () => watching.disconnect()
  }, [])
  return (
    <div ref={place} className="volts-figure">
      {width > 200 && (
        <DrawingView drawing={voltsAlongRun(input, { width, height: figureHeight, textSize: 11.5 })} />
      )}
      {input.notShown.length > 0 && (
        <p className="open">Not drawn, because facts are missing: {input.notShown.join(', ')}.</p>
      )}
    </div>
  )
}

function PutRight({ page, locked }: { readonly page: OutputPage; readonly locked: boolean }) {
  const { remedies, routesAsked, line } = page
  if (remedies.length === 0 && line.troubles.length === 0) return null
  return (
    <div className="put-right">
      <h3>Put right by</h3>
      {line.troubles.map((each) => (
        <p key={each} className="broken">
          {each}
        </p>
      ))}
      {remedies.length === 0 && <p className="soft">Nothing on this cable alone puts it right.</p>}
      <ul>
        {remedies.map((each, index) => (
          <Remedy key={each.deed} remedy={each} first={index === 0} locked={locked} />
        ))}
      </ul>
      {routesAsked.length > 0 && remedies.length > 0 && !locked && (
        <details>
          <summary>Offer outputs of other supplies too</summary>
          <p className="soft">A move is offered where the usual length of a run from that supply is known.</p>
          <div className="route-lengths">
            {routesAsked.map(({ supplyId, supplyMark, levelId, levelName }) => (
              <label key={supplyId}>
                {supplyMark} to {levelName}
                <CableLengthCell
                  label={`Usual length from ${supplyMark} to ${levelName}`}
                  metres={null}
                  units={page.units}
                  locked={locked}
                  hint={page.units === 'imperial' ? 'ft' : 'm'}
                  onSet={(metres) =>
                    metres === null
                      ? undefined
                      : makeChange(
                          addRouteLength(
                            `Say how far ${levelName} is from ${supplyMark}`,
                            levelId,
                            supplyId,
                            metres,
                          ),
                        )
                  }
                />
              </label>
            ))}
          </div>
        </details>
      )}
    </div>
  )
}

function Remedy({
  remedy,
  first,
  locked,
}: {
  readonly remedy: RemedyPage
  readonly first: boolean
  readonly locked: boolean
}) {
  const { deed, gives, command, works } = remedy
  return (
    <li className="remedy">
      {command !== null && !locked && (
        <Button
          kind={first && works ? 'main' : 'plain'}
          label={`Do it: ${deed}`}
          onPress={() => void putRight(command)}
        >
          Do it
        </Button>
      )}
      <span>
        <strong>{deed}</strong>: {gives}.
      </span>
    </li>
  )
}

function Tree({ page, locked }: { readonly page: OutputPage; readonly locked: boolean }) {
  return (
    <table className="plain-table power-table tree-table">
      <caption className="for-ears">
        Cable and devices of {page.line.fullName}, in the order of the cable
      </caption>
      <thead>
        <tr>
          <th scope="col">Place</th>
          <th scope="col">Run</th>
          <th scope="col">Wire</th>
          <th scope="col">Length</th>
          <th scope="col" className="end">
            Lost, V
          </th>
          <th scope="col" className="end">
            Needs, V
          </th>
          <th scope="col" className="end">
            Nominal, V
          </th>
          <th scope="col" className="end">
            Worst, V
          </th>
          <th scope="col" className="end">
            Battery end, V
          </th>
          <th scope="col" className="end">
            To spare, V
          </th>
        </tr>
      </thead>
      <tbody>
        {page.tree.slice(1).map((each) => (
          <TreeRow key={each.key} page={page} line={each} locked={locked} />
        ))}
      </tbody>
    </table>
  )
}

function TreeRow({
  page,
  line,
  locked,
}: {
  readonly page: OutputPage
  readonly line: TreeLine
  readonly locked: boolean
}) {
  const { runId, runName, lengthMetres, wire, dropVolts, verdict, depth, loose } = line
  const pointed = usePower((state) => state.pointed)
  const device = page.devices.find(({ load }) => line.loads.includes(load))
  const here = pointed?.form === 'device' && line.loads.includes(pointed.load)
  const worse = device === undefined ? null : worseOf(device)
  return (
    <tr
      className={`${here ? 'here' : ''} ${verdict === 'not met' ? 'not-met' : verdict === 'not known' ? 'question' : ''}`}
    >
      <td className="mark nowrap">
        <span aria-hidden="true" className="branch">
          {depth > 1 ? `${'\u2003'.repeat(depth - 2)}└ ` : ''}
        </span>
        {line.placeName}
        <span className="for-ears">
          , {depth === 1 ? 'from the output' : `${depth} runs from the output`}
        </span>
      </td>
      <td className={loose ? 'open' : ''}>{loose ? 'not joined to the output' : (runName ?? '')}</td>
      <td className={wire === null ? 'open nowrap' : 'nowrap'}>{wire ?? 'not known'}</td>
      <td className={lengthMetres === null ? 'short open' : 'short'}>
        {runId !== null && (
          <CableLengthCell
            label={`Length of ${runName ?? 'the run'}`}
            metres={lengthMetres}
            units={page.units}
            hint="?"
            locked={locked}
            onSet={(metres) =>
              makeChange(
                changeOf(`Set the length of ${runName ?? 'a run'}`, {
                  set: [{ kind: 'run', id: runId, fields: { lengthMetres: metres } }],
                }),
              )
            }
          />
        )}
      </td>
      <td className="end">{dropVolts === null ? '' : figure(dropVolts, 2)}</td>
      <td className="end">
        {device?.minimumVolts == null ? (device === undefined ? '' : '?') : figure(device.minimumVolts, 1)}
      </td>
      {(['nominal', 'worst', 'battery'] as const).map((key) => (
        <td key={key} className="end">
          {device !== undefined && (
            <VoltsCell page={page} device={device} named={caseNames[key]} of={device[key]} />
          )}
        </td>
      ))}
      <td className={`end ${worse === null ? '' : markOf(worse.verdict)}`}>
        {worse?.marginVolts == null ? '' : figure(worse.marginVolts, 2)}
      </td>
    </tr>
  )
}

const caseNames = {
  nominal: 'nominal',
  worst: 'at worst on mains',
  battery: 'at the end of the battery',
} as const

function worseOf({ worst, battery }: DevicePage): DeviceFigure | null {
  if (worst === null || battery === null) return worst ?? battery
  return (battery.marginVolts ?? Infinity) < (worst.marginVolts ?? Infinity) ? battery : worst
}

function VoltsCell({
  page,
  device,
  named,
  of,
}: {
  readonly page: OutputPage
  readonly device: DevicePage
  readonly named: string
  readonly of: DeviceFigure | null
}) {
  if (of === null) return <span className="soft">—</span>
  const { volts, verdict, scenario } = of
  return (
    <Explained
      about={{ form: 'device', outputId: page.line.id, load: device.load, name: device.name, scenario }}
      label={`${device.name} ${named}: ${volts === null ? (verdict === 'not met' ? 'cannot be fed' : 'not known') : `${figure(volts, 2)} V, ${verdict}`}, ${scenarioWords(scenario)}`}
      mark={markOf(verdict)}
    >
      {volts === null ? (verdict === 'not met' ? 'cannot be fed' : 'not known') : figure(volts, 2)}
    </Explained>
  )
}
