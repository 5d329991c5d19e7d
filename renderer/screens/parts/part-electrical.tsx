import { drawsMeanings } from '../../../core/parts/index.ts'
import { AmountCell, SelectCell } from './cells.tsx'
import type { PartSectionProps } from './part-behaviour.tsx'
import { addRecords, explains, removeRecord, setRecord, type Fields } from './part-state.ts'
import { Headings, RemoveCell, Section } from './section.tsx'

const partFigures = [
  [
    'minimumVolts',
    'Least volts',
    'V',
    'Below this it may not work. Volts at the device are compared with it.',
  ],
  ['maximumVolts', 'Most volts', 'V', 'Above this it may be harmed.'],
  ['holdingAmps', 'Holding', 'A', 'What it draws while it does its work, at the volts it is stated at.'],
  [
    'inrushAmps',
    'In-rush',
    'A',
    'What it draws for a moment when it is fed. 0 is known to have none; empty is not known.',
  ],
  ['inrushSeconds', 'In-rush lasts', 's', 'How long that moment is.'],
] as const

const loadMeanings: Readonly<Record<string, string>> = {
  current: 'Draws the same current whatever the volts.',
  power: 'A converter inside: with fewer volts it draws more current.',
  resistance: 'A coil: with fewer volts it draws less current.',
}

export function PartElectrical({ of, part, locked }: PartSectionProps) {
  const set = (fields: Fields) => setRecord(`Change ${part.name}`, 'part', part.id, fields)
  return (
    <Section
      title="Electrical"
      facts="for the whole part; each voltage position may say it more closely"
      add="Add figures for a position"
      locked={locked}
      onAdd={() =>
        addRecords(`Add figures to ${part.name}`, {
          kind: 'partLoad',
          record: {
            partId: part.id,
            partPositionId: null,
            statedVolts: null,
            minimumVolts: part.minimumVolts,
            maximumVolts: part.maximumVolts,
            holdingAmps: part.holdingAmps,
            inrushAmps: part.inrushAmps,
            inrushSeconds: part.inrushSeconds,
            draws: null,
          },
        })
      }
    >
      <dl className="fact-grid">
        {partFigures.map(([field, label, unit, meaning]) => (
          <div key={field} {...explains(label, meaning)}>
            <dt>
              {label}, {unit}
            </dt>
            <dd>
              <AmountCell
                label={label}
                value={part[field]}
                unit={unit}
                locked={locked}
                onSet={(value) => set({ [field]: value })}
              />
            </dd>
          </div>
        ))}
        <div
          {...explains(
            'Load',
            part.loadForm === null ? 'How it draws is not known.' : (loadMeanings[part.loadForm] ?? ''),
            'The network of wires is worked out with it: loads act on each other through the wire they share.',
          )}
        >
          <dt>Load</dt>
          <dd>
            <SelectCell
              label="Load"
              value={part.loadForm}
              options={['current', 'power', 'resistance']}
              none="not known"
              locked={locked}
              onSet={(loadForm) => set({ loadForm })}
            />
          </dd>
        </div>
        <NetworkFeed of={of} part={part} locked={locked} />
      </dl>
      {of.partLoad.length > 0 && <Loads of={of} part={part} locked={locked} />}
    </Section>
  )
}

function NetworkFeed({ of, part, locked }: PartSectionProps) {
  const [feed] = of.partNetworkFeed
  const name = `Change the network feed of ${part.name}`
  const set = (fields: Fields) =>
    feed === undefined
      ? addRecords(name, {
          kind: 'partNetworkFeed',
          record: { partId: part.id, feedClass: null, watts: null, ...fields },
        })
      : setRecord(name, 'partNetworkFeed', feed.id, fields)
  return (
    <>
      <div
        {...explains(
          'Class over the network cable',
          'The class of IEEE 802.3 that it asks of a port, 0 to 8. Empty where it is not fed over the network cable, or nobody told.',
        )}
      >
        <dt>Network feed class</dt>
        <dd>
          <SelectCell
            label="Network feed class"
            value={feed?.feedClass == null ? null : String(feed.feedClass)}
            options={['0', '1', '2', '3', '4', '5', '6', '7', '8']}
            none="not fed so"
            locked={locked}
            onSet={(words) => set({ feedClass: words === null ? null : Number(words) })}
          />
        </dd>
      </div>
      {feed !== undefined && (
        <div {...explains('Watts over the network cable', 'What it takes at its own end of the cable.')}>
          <dt>Network feed, W</dt>
          <dd>
            <AmountCell
              label="Network feed"
              value={feed.watts}
              unit="W"
              locked={locked}
              onSet={(watts) => set({ watts })}
            />
          </dd>
        </div>
      )}
    </>
  )
}

const loadFigures = [
  ['statedVolts', 'V'],
  ['minimumVolts', 'V'],
  ['maximumVolts', 'V'],
  ['holdingAmps', 'A'],
  ['inrushAmps', 'A'],
  ['inrushSeconds', 's'],
] as const

function Loads({ of, part, locked }: PartSectionProps) {
  const places = of.partSetting.flatMap((setting) =>
    of.partPosition
      .filter(({ partSettingId }) => partSettingId === setting.id)
      .map(({ id, name }) => ({ key: id as string, label: `${setting.name} at ${name}` })),
  )
  return (
    <div className="wide-table">
      <table className="plain-table">
        <Headings
          names={[
            'In',
            'Stated at, V',
            'Least, V',
            'Most, V',
            'Holding, A',
            'In-rush, A',
            'Lasts, s',
            'Draws',
            '',
          ]}
        />
        <tbody>
          {of.partLoad.map((load) => {
            const place = places.find(({ key }) => key === load.partPositionId)?.label ?? 'every position'
            const set = (fields: Fields) =>
              setRecord(`Change the figures of ${part.name}, ${place}`, 'partLoad', load.id, fields)
            return (
              <tr
                key={load.id}
                {...explains(
                  `Figures in ${place}`,
                  load.draws === null
                    ? 'When it draws follows what the doorway does.'
                    : drawsMeanings[load.draws],
                  'Standby and battery hours count with it.',
                )}
              >
                <td>
                  <SelectCell
                    label="In which position"
                    value={load.partPositionId}
                    options={places}
                    none="every position"
                    locked={locked}
                    onSet={(partPositionId) => set({ partPositionId })}
                  />
                </td>
                {loadFigures.map(([field, unit]) => (
                  <td key={field} className="narrow">
                    <AmountCell
                      label={`${field === 'statedVolts' ? 'Stated volts' : field}, ${place}`}
                      value={load[field]}
                      unit={unit}
                      locked={locked}
                      onSet={(value) => set({ [field]: value })}
                    />
                  </td>
                ))}
                <td>
                  <SelectCell
                    label={`When it draws, ${place}`}
                    value={load.draws}
                    options={Object.keys(drawsMeanings)}
                    none="as the doorway does"
                    locked={locked}
                    onSet={(draws) => set({ draws })}
                  />
                </td>
                <RemoveCell
                  what={`the figures in ${place}`}
                  locked={locked}
                  onRemove={() => removeRecord(`Remove figures of ${part.name}`, 'partLoad', load.id)}
                />
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}
