// What a part declares: what holds, what a hand works, how people work it.
import { grips, howWorked, motions, workedAs, type JobRecord } from '../../../core/job/index.ts'
import {
  elementWords,
  engagedMeanings,
  gripMeanings,
  workedAsWords,
  type PartRecords,
} from '../../../core/parts/index.ts'
import { ask } from '../../bridge.ts'
import { Button } from '../../ui/index.ts'
import { NameCell } from '../job/index.ts'
import { TextCell } from '../text-cell.tsx'
import { AmountCell, NamesCell, SelectCell, YesNoCell } from './cells.tsx'
import {
  addRecords,
  explains,
  nextPosition,
  removeRecord,
  setRecord,
  settled,
  type Fields,
} from './part-state.ts'
import { Headings, RemoveCell, Section } from './section.tsx'

export interface PartSectionProps {
  readonly of: PartRecords
  readonly part: JobRecord<'part'>
  readonly locked: boolean
}

const freshName = (base: string, taken: readonly { readonly name: string }[]): string => {
  const names = new Set(taken.map(({ name }) => name))
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? base : `${base} ${number}`
    if (!names.has(name)) return name
  }
}
export { freshName }

export function PartDoing({ of, part, locked }: PartSectionProps) {
  const [declared] = of.partBehaviour
  if (declared === undefined) return <NotDeclared of={of} part={part} locked={locked} />
  return (
    <>
      <Holds of={of} part={part} locked={locked} />
      <Hardware of={of} part={part} locked={locked} />
      <Worked of={of} part={part} locked={locked} declared={declared} />
    </>
  )
}

function NotDeclared({ part, locked }: PartSectionProps) {
  return (
    <Section title="What it does" facts="not declared yet" locked={locked}>
      <p className="padded">
        Nobody said what this part does, so every doorway that has it may be held by it: its passages come out
        as not known.{' '}
        {!locked && (
          <Button
            kind="main"
            onPress={() =>
              void addRecords(`Declare what ${part.name} does`, {
                kind: 'partBehaviour',
                record: {
                  partId: part.id,
                  workedAs: null,
                  workedWith: null,
                  howWorked: null,
                  listedAs: null,
                  power: null,
                  shutsLeaf: false,
                  opensLeaf: false,
                },
              })
            }
          >
            Declare what it does
          </Button>
        )}
      </p>
    </Section>
  )
}

const engagedOptions = Object.keys(engagedMeanings)

function Holds({ of, part, locked }: PartSectionProps) {
  const hardware = of.partHardware.map(({ name }) => name)
  return (
    <Section
      title="What holds"
      facts="each with when it is engaged"
      add="Add something that holds"
      locked={locked}
      onAdd={() =>
        addRecords(`Add something that holds to ${part.name}`, {
          kind: 'partElement',
          record: {
            partId: part.id,
            position: nextPosition(of.partElement),
            name: freshName('lock', of.partElement),
            grip: 'holds the leaf',
            engaged: 'while fed',
            drawnBy: [],
            blocks: [],
            delayStartedBy: [],
            delaySeconds: null,
            relatches: null,
          },
        })
      }
    >
      {of.partElement.length === 0 ? (
        <p className="padded soft">It holds nothing.</p>
      ) : (
        <div className="wide-table">
          <table className="plain-table fitted">
            <Headings
              names={[
                'Name',
                'Grip',
                'Engaged',
                'Drawn by',
                'Blocks',
                'Delay from',
                'Delay, s',
                'Relatches',
                '',
              ]}
            />
            <tbody>
              {of.partElement.map((element) => {
                const set = (fields: Fields) =>
                  setRecord(`Change the ${element.name} of ${part.name}`, 'partElement', element.id, fields)
                const named = (field: string): string => `${field} of the ${element.name}`
                return (
                  <tr
                    key={element.id}
                    {...explains(
                      `The ${element.name}: ${elementWords(element)}`,
                      gripMeanings[element.grip],
                      element.engaged === null
                        ? 'When it is engaged is decided by a setting, or nobody told.'
                        : engagedMeanings[element.engaged],
                    )}
                  >
                    <td className="mark">
                      <NameCell
                        name={element.name}
                        label="Name"
                        locked={locked}
                        onSet={(name) => void set({ name })}
                      />
                    </td>
                    <td>
                      <SelectCell
                        label={named('Grip')}
                        value={element.grip}
                        options={grips}
                        locked={locked}
                        onSet={(grip) => set({ grip })}
                      />
                    </td>
                    <td>
                      <SelectCell
                        label={named('Engaged')}
                        value={element.engaged}
                        options={engagedOptions}
                        none="as a setting says"
                        locked={locked}
                        onSet={(engaged) => set({ engaged })}
                      />
                    </td>
                    <td>
                      <NamesCell
                        label={named('Drawn by')}
                        value={element.drawnBy}
                        among={hardware}
                        locked={locked}
                        onSet={(drawnBy) => set({ drawnBy: [...drawnBy] })}
                      />
                    </td>
                    <td>
                      <NamesCell
                        label={named('Blocks')}
                        value={element.blocks}
                        among={hardware}
                        locked={locked}
                        onSet={(blocks) => set({ blocks: [...blocks] })}
                      />
                    </td>
                    <td>
                      <NamesCell
                        label={named('Delay started by')}
                        value={element.delayStartedBy}
                        among={hardware}
                        locked={locked}
                        onSet={(delayStartedBy) => set({ delayStartedBy: [...delayStartedBy] })}
                      />
                    </td>
                    <td className="narrow">
                      {element.delayStartedBy.length === 0 ? (
                        <span className="soft">none</span>
                      ) : (
                        <AmountCell
                          label={named('Delay')}
                          value={element.delaySeconds}
                          unit="seconds"
                          hint="as it is set"
                          locked={locked}
                          onSet={(delaySeconds) => set({ delaySeconds })}
                        />
                      )}
                    </td>
                    <td className="narrow">
                      {element.grip === 'latches' ? (
                        <YesNoCell
                          label={named('Relatches')}
                          value={element.relatches}
                          mayBeUnknown
                          locked={locked}
                          onSet={(relatches) => set({ relatches })}
                        />
                      ) : (
                        <span className="soft">—</span>
                      )}
                    </td>
                    <RemoveCell
                      what={`the ${element.name}`}
                      locked={locked}
                      onRemove={() =>
                        removeRecord(`Remove the ${element.name} of ${part.name}`, 'partElement', element.id)
                      }
                    />
                  </tr>
                )
              })}
            </tbody>
          </table>
        </div>
      )}
    </Section>
  )
}

function Hardware({ of, part, locked }: PartSectionProps) {
  return (
    <Section
      title="What a hand works"
      facts="on its two sides"
      add="Add hardware"
      locked={locked}
      onAdd={() =>
        addRecords(`Add hardware to ${part.name}`, {
          kind: 'partHardware',
          record: {
            partId: part.id,
            position: nextPosition(of.partHardware),
            name: freshName('lever', of.partHardware),
            side: 'egress',
            motion: 'lever',
          },
        })
      }
    >
      {of.partHardware.length === 0 ? (
        <p className="padded soft">Nothing on it is worked by hand to open the door.</p>
      ) : (
        <table className="plain-table narrow-table">
          <Headings names={['Name', 'Side', 'One motion', '']} />
          <tbody>
            {of.partHardware.map((hardware) => {
              const set = (fields: Fields) =>
                setRecord(`Change the ${hardware.name} of ${part.name}`, 'partHardware', hardware.id, fields)
              return (
                <tr
                  key={hardware.id}
                  {...explains(
                    `The ${hardware.name}`,
                    hardware.side === 'egress'
                      ? 'Worked by somebody leaving. A latch that it draws lets them out by one motion.'
                      : 'Worked from the keyed side. What is blocked there needs a key or a release.',
                  )}
                >
                  <td className="mark">
                    <NameCell
                      name={hardware.name}
                      label="Name"
                      locked={locked}
                      onSet={(name) =>
                        void ask('part.rename', { kind: 'partHardware', id: hardware.id, name }).then(settled)
                      }
                    />
                  </td>
                  <td>
                    <SelectCell
                      label={`Side of the ${hardware.name}`}
                      value={hardware.side}
                      options={['keyed', 'egress']}
                      locked={locked}
                      onSet={(side) => set({ side })}
                    />
                  </td>
                  <td>
                    <SelectCell
                      label={`Motion of the ${hardware.name}`}
                      value={hardware.motion}
                      options={[...motions, 'key']}
                      locked={locked}
                      onSet={(motion) => set({ motion })}
                    />
                  </td>
                  <RemoveCell
                    what={`the ${hardware.name}`}
                    locked={locked}
                    onRemove={() => ask('part.removeHardware', { hardwareId: hardware.id }).then(settled)}
                  />
                </tr>
              )
            })}
          </tbody>
        </table>
      )}
    </Section>
  )
}

const powers = ['none', 'from a supply', 'from the fire alarm', 'from the mains'] as const
const listings = ['UL 294', 'UL 1034', 'UL 305', 'UL 10C']

function Worked({
  of,
  part,
  locked,
  declared,
}: PartSectionProps & { readonly declared: JobRecord<'partBehaviour'> }) {
  const set = (fields: Fields) =>
    setRecord(`Change what ${part.name} does`, 'partBehaviour', declared.id, fields)
  return (
    <Section title="How it is worked" locked={locked}>
      <dl className="fact-grid">
        <div
          {...explains(
            'Worked as',
            'In which condition somebody works it: to leave, to release by hand, with a credential, by key, or by staff. Each makes a condition of its own in every doorway that has this part.',
          )}
        >
          <dt>Worked as</dt>
          <dd>
            <SelectCell
              label="Worked as"
              value={declared.workedAs}
              options={workedAs.map((key) => ({ key, label: `${key}: ${workedAsWords[key]}` }))}
              none="nobody works it"
              locked={locked}
              onSet={(value) => set({ workedAs: value })}
            />
          </dd>
        </div>
        <div
          {...explains(
            'Worked with',
            'The hardware of this part that works its switches: pressing it is asking, so no second motion is needed.',
          )}
        >
          <dt>Worked with</dt>
          <dd>
            <SelectCell
              label="Worked with"
              value={declared.workedWith}
              options={of.partHardware.map(({ name }) => name)}
              none="no hardware of its own"
              locked={locked}
              onSet={(workedWith) => set({ workedWith })}
            />
          </dd>
        </div>
        <div
          {...explains(
            'How',
            'Whether it senses somebody coming, is pressed, and so on. The rules for sensor release and for release by hardware ask this.',
          )}
        >
          <dt>How</dt>
          <dd>
            <SelectCell
              label="How it is worked"
              value={declared.howWorked}
              options={howWorked}
              none="not known"
              locked={locked}
              onSet={(value) => set({ howWorked: value })}
            />
          </dd>
        </div>
        <div
          {...explains(
            'Power of its contacts',
            'What its contacts need to change. A pressed button opens its contact with its lamp dark, so it needs none; a sensor needs a supply and is lost without it.',
          )}
        >
          <dt>Its contacts need power</dt>
          <dd>
            <SelectCell
              label="Power of its contacts"
              value={declared.power}
              options={powers}
              none="not known"
              locked={locked}
              onSet={(power) => set({ power })}
            />
          </dd>
        </div>
        <div {...explains('Shuts the leaf', 'A closer: let go, the leaf shuts and can latch.')}>
          <dt>Shuts the leaf</dt>
          <dd>
            <YesNoCell
              label="Shuts the leaf"
              value={declared.shutsLeaf}
              locked={locked}
              onSet={(shutsLeaf) => set({ shutsLeaf })}
            />
          </dd>
        </div>
        <div
          {...explains('Opens the leaf', 'An operator: asked, it opens the leaf, or pushes against a lock.')}
        >
          <dt>Opens the leaf</dt>
          <dd>
            <YesNoCell
              label="Opens the leaf"
              value={declared.opensLeaf}
              locked={locked}
              onSet={(opensLeaf) => set({ opensLeaf })}
            />
          </dd>
        </div>
        <div
          {...explains(
            'Listed to',
            `The standards it is listed to, with commas between: ${listings.join(', ')}. “none” is known to bear none; empty is not known.`,
          )}
        >
          <dt>Listed to</dt>
          <dd>
            <TextCell
              text={declared.listedAs === null ? null : declared.listedAs.join(', ') || 'none'}
              label="Listed to"
              hint="not known"
              locked={locked}
              choices={[...listings, 'none']}
              onSet={(text) =>
                set({
                  listedAs:
                    text === null
                      ? null
                      : text === 'none'
                        ? []
                        : text
                            .split(',')
                            .map((each) => each.trim())
                            .filter((each) => each !== ''),
                })
              }
            />
          </dd>
        </div>
      </dl>
    </Section>
  )
}
