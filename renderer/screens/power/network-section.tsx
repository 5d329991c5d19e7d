import { useState } from 'react'
import {
  addSwitch,
  changeOf,
  figure,
  type NetworkFeeds,
  type PortPage,
  type RecordsChange,
  type SwitchPage,
} from '../../../core/power/index.ts'
import { Button, Choice, NumberField, SheetHeading } from '../../ui/index.ts'
import { AmountCell, SelectCell, YesNoCell } from '../parts/index.ts'
import { TextCell } from '../text-cell.tsx'
import { makeChange } from '../window-state.ts'
import { CableLengthCell } from './cable-length-cell.tsx'
import { markOf, verdictWords } from './figures.tsx'
import { point } from './power-state.ts'

const types = [
  { key: '1', label: 'type 1, 15.4 W' },
  { key: '2', label: 'type 2, 30 W' },
  { key: '3', label: 'type 3, 60 W' },
  { key: '4', label: 'type 4, 90 W' },
]

/** Switches that feed over the network cable, with their ports and budgets. */
export function NetworkSection({
  network,
  locked,
}: {
  readonly network: NetworkFeeds
  readonly locked: boolean
}) {
  const { switches } = network
  return (
    <section aria-label="Over the network cable">
      <SheetHeading
        level={2}
        title="Over the network cable"
        facts={switches.length === 0 ? 'no switch yet' : `${switches.length} feeding`}
      />
      {switches.map((each) => (
        <Switch key={each.record.id} page={each} network={network} locked={locked} />
      ))}
      {!locked && <NewSwitch taken={switches.map(({ record }) => record.mark)} />}
    </section>
  )
}

const setSwitch = (
  page: SwitchPage,
  name: string,
  fields: RecordsChange['set'][number]['fields'],
): Promise<boolean> =>
  makeChange(changeOf(name, { set: [{ kind: 'networkSwitch', id: page.record.id, fields }] }))

function Switch({
  page,
  network,
  locked,
}: {
  readonly page: SwitchPage
  readonly network: NetworkFeeds
  readonly locked: boolean
}) {
  const { record, ports, byClassWatts, drawnWatts, withinByClass, withinDrawn } = page
  const { mark } = record
  const at = () => point({ form: 'switch', switchId: record.id })
  return (
    <details className="network-switch">
      <summary onMouseEnter={at} onFocus={at}>
        <strong>{mark}</strong> {ports.filter(({ feeds }) => feeds !== null).length} of {ports.length} ports
        used, by class{' '}
        <span className={markOf(withinByClass)}>
          {byClassWatts === null ? 'not known' : `${figure(byClassWatts, 1)} W`}
        </span>
        , drawn{' '}
        <span className={markOf(withinDrawn)}>
          {drawnWatts === null ? 'not known' : `${figure(drawnWatts, 1)} W`}
        </span>{' '}
        of {page.budgetWatts === null ? 'a budget not known' : `${page.budgetWatts} W`}
      </summary>
      <dl className="fact-grid">
        <div>
          <dt>Mark</dt>
          <dd>
            <TextCell
              text={mark}
              label={`Mark of ${mark}`}
              locked={locked}
              onSet={(text) =>
                text === null ? undefined : setSwitch(page, `Name ${mark} ${text}`, { mark: text })
              }
            />
          </dd>
        </div>
        <div>
          <dt>Where</dt>
          <dd>
            <TextCell
              text={record.whereText}
              label={`Where ${mark} stands`}
              locked={locked}
              onSet={(whereText) => setSwitch(page, `Say where ${mark} stands`, { whereText })}
            />
          </dd>
        </div>
        <div>
          <dt>Budget of all ports, W</dt>
          <dd>
            <AmountCell
              label={`Budget of ${mark}`}
              unit="watts"
              value={record.budgetWatts}
              locked={locked}
              onSet={(budgetWatts) => setSwitch(page, `Set the budget of ${mark}`, { budgetWatts })}
            />
          </dd>
        </div>
      </dl>
      <table className="plain-table">
        <thead>
          <tr>
            {['Port', 'Gives', 'Feeds', 'Cable', 'Stranded', 'Length', 'Class', 'Draws', 'At device', ''].map(
              (each) => (
                <th key={each} scope="col">
                  {each === '' ? <span className="for-ears">What is wrong</span> : each}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {ports.map((port) => (
            <PortRow key={port.record.id} mark={mark} port={port} network={network} locked={locked} />
          ))}
        </tbody>
      </table>
      {!locked && (
        <p className="padded">
          <Button
            kind="quiet"
            label={`Remove ${mark}`}
            onPress={() =>
              void makeChange(
                changeOf(`Remove ${mark}`, {
                  remove: [
                    ...ports.map((port) => ({ kind: 'networkPort' as const, id: port.record.id as string })),
                    { kind: 'networkSwitch', id: record.id },
                  ],
                }),
              )
            }
          >
            Remove {mark}
          </Button>
        </p>
      )}
    </details>
  )
}

function PortRow({
  mark,
  port,
  network,
  locked,
}: {
  readonly mark: string
  readonly port: PortPage
  readonly network: NetworkFeeds
  readonly locked: boolean
}) {
  const { record } = port
  const name = `port ${record.name} of ${mark}`
  const set = (what: string, fields: RecordsChange['set'][number]['fields']): Promise<boolean> =>
    makeChange(changeOf(`Set ${what} of ${name}`, { set: [{ kind: 'networkPort', id: record.id, fields }] }))
  const targets = network.targets.map(({ fittingId, controllerId, name: label }) => ({
    key: fittingId === null ? `controller ${controllerId}` : `fitting ${fittingId}`,
    label,
  }))
  const chosen =
    record.fittingId !== null
      ? `fitting ${record.fittingId}`
      : record.controllerId !== null
        ? `controller ${record.controllerId}`
        : null
  // What a port feeds stays to be seen where its part no longer asks for it.
  const options =
    chosen === null || targets.some(({ key }) => key === chosen)
      ? targets
      : [...targets, { key: chosen, label: port.feeds ?? 'something no longer there' }]
  return (
    <tr className={port.verdict === 'not met' ? 'not-met' : port.verdict === 'not known' ? 'question' : ''}>
      <td className="mark">{record.name}</td>
      <td>
        <SelectCell
          label={`What ${name} gives`}
          value={record.feedType === null ? null : String(record.feedType)}
          options={types}
          none="not known"
          locked={locked}
          onSet={(value) => set('the type', { feedType: value === null ? null : Number(value) })}
        />
      </td>
      <td>
        <SelectCell
          label={`What ${name} feeds`}
          value={chosen}
          options={options}
          none="nothing"
          locked={locked}
          onSet={(value) =>
            set('what it feeds', {
              fittingId: value?.startsWith('fitting ') === true ? value.slice(8) : null,
              controllerId: value?.startsWith('controller ') === true ? value.slice(11) : null,
            })
          }
        />
      </td>
      <td>
        <TextCell
          text={record.cableSize}
          label={`Wire size of ${name}`}
          hint={port.feeds === null ? '' : 'not known'}
          locked={locked}
          onSet={(cableSize) => set('the wire size', { cableSize })}
        />
      </td>
      <td>
        <YesNoCell
          label={`Is the cable of ${name} stranded`}
          value={record.stranded}
          mayBeUnknown
          locked={locked}
          onSet={(stranded) => set('the stranding', { stranded })}
        />
      </td>
      <td>
        <CableLengthCell
          label={`Length of the cable of ${name}`}
          metres={record.lengthMetres}
          units={network.units}
          locked={locked}
          onSet={(lengthMetres) => set('the length', { lengthMetres })}
        />
      </td>
      <td>{port.feedClass ?? ''}</td>
      <td className="nowrap">{port.drawnWatts === null ? '' : `${figure(port.drawnWatts, 1)} W`}</td>
      <td className="nowrap">
        {port.volts === null
          ? ''
          : `${figure(port.volts, 1)} V, at most ${figure(port.availableWatts ?? 0, 1)} W`}
      </td>
      <td className="wrap broken">
        {port.findings.join(' ') || (port.feeds === null ? '' : verdictOnly(port))}
      </td>
    </tr>
  )
}

const verdictOnly = ({ verdict }: PortPage) => (
  <span className={verdict === 'met' ? 'soft' : 'open'}>{verdictWords[verdict]}</span>
)

function NewSwitch({ taken }: { readonly taken: readonly string[] }) {
  const [ports, setPorts] = useState<number | null>(24)
  const [type, setType] = useState('2')
  const [budgetWatts, setBudget] = useState<number | null>(null)
  return (
    <div className="add-line">
      <NumberField label="Ports" value={ports} onChange={setPorts} />
      <Choice label="Each gives" options={types} value={type} onChange={setType} />
      <NumberField label="Budget" unit="W" value={budgetWatts} onChange={setBudget} />
      <Button
        disabled={ports === null || !Number.isInteger(ports) || ports < 1 || ports > 96}
        onPress={() =>
          void makeChange(addSwitch(taken, { ports: ports ?? 0, feedType: Number(type), budgetWatts }))
        }
      >
        Add a switch
      </Button>
    </div>
  )
}
