// What can be set on a part: settings with positions, banks with their tables, and what each changes.
import { useState } from 'react'
import type { JobRecord } from '../../../core/job/index.ts'
import { effectTrouble, effectWords, valuesOfEffect, type PartRecords } from '../../../core/parts/index.ts'
import { ask } from '../../bridge.ts'
import { Button } from '../../ui/index.ts'
import { NameCell } from '../job/index.ts'
import { TextCell } from '../text-cell.tsx'
import { makeChange, tell } from '../window-state.ts'
import { SelectCell } from './cells.tsx'
import { freshName, type PartSectionProps } from './part-behaviour.tsx'
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

type Setting = JobRecord<'partSetting'>

const rename = (kind: 'partSetting' | 'partPosition', id: string, name: string): void =>
  void ask('part.rename', { kind, id, name }).then(settled)

export function PartSettings({ of, part, locked }: PartSectionProps) {
  return (
    <>
      <Section
        title="Settings"
        facts="each position with its meaning; the factory’s is marked"
        add="Add a setting"
        locked={locked}
        onAdd={() =>
          addRecords(
            `Add a setting to ${part.name}`,
            {
              kind: 'partSetting',
              record: {
                partId: part.id,
                position: nextPosition(of.partSetting),
                name: freshName('Setting', of.partSetting),
                form: 'jumper',
                unit: null,
                notes: null,
              },
            },
            ...['A', 'B'].map((name, position) => ({
              kind: 'partPosition' as const,
              record: {
                partSettingId: 'new:1',
                position,
                name,
                meaning: null,
                factory: position === 0,
              },
            })),
          )
        }
      >
        {of.partSetting.length === 0 ? (
          <p className="padded soft">Nothing can be set on it.</p>
        ) : (
          <div className="wide-table">
            <table className="plain-table fitted">
              <Headings
                names={['Setting', 'Form', 'Unit', 'Position', 'Meaning', 'Factory', 'Changes', '']}
              />
              {of.partSetting.map((setting) => (
                <OneSetting key={setting.id} of={of} part={part} locked={locked} setting={setting} />
              ))}
            </table>
          </div>
        )}
      </Section>
      <Banks of={of} part={part} locked={locked} />
      {of.partSetting.length > 0 && <Effects of={of} part={part} locked={locked} />}
    </>
  )
}

function OneSetting({ of, part, locked, setting }: PartSectionProps & { readonly setting: Setting }) {
  const positions = of.partPosition.filter(({ partSettingId }) => partSettingId === setting.id)
  const set = (fields: Fields) =>
    setRecord(`Change setting ${setting.name} of ${part.name}`, 'partSetting', setting.id, fields)
  const addPosition = () =>
    addRecords(`Add a position to ${setting.name} of ${part.name}`, {
      kind: 'partPosition',
      record: {
        partSettingId: setting.id,
        position: nextPosition(positions),
        name: freshName('position', positions),
        meaning: null,
        factory: false,
      },
    })
  const head = (
    <>
      <td className="mark">
        <NameCell
          name={setting.name}
          label="Setting"
          locked={locked}
          onSet={(name) => rename('partSetting', setting.id, name)}
        />
      </td>
      <td>
        <SelectCell
          label={`Form of ${setting.name}`}
          value={setting.form}
          options={['jumper', 'switch', 'dial', 'parameter']}
          locked={locked}
          onSet={(form) => set({ form })}
        />
      </td>
      <td className="narrow">
        <TextCell
          text={setting.unit}
          label={`Unit of ${setting.name}`}
          locked={locked}
          onSet={(unit) => set({ unit })}
        />
      </td>
    </>
  )
  return (
    <tbody className="one-setting">
      {positions.map((position, index) => {
        const effects = of.settingEffect
          .filter(({ partPositionId }) => partPositionId === position.id)
          .map((effect) => effectWords(of, effect))
        const change = (fields: Fields) =>
          setRecord(`Change ${position.name} of ${setting.name}`, 'partPosition', position.id, fields)
        return (
          <tr
            key={position.id}
            {...explains(
              `${setting.name} at ${position.name}`,
              position.meaning ?? 'What it means was not said.',
              effects.length === 0
                ? 'It changes nothing that a doorway does.'
                : `It changes what a doorway does: ${effects.join('; ')}.`,
              position.factory
                ? 'The factory leaves it so. That is never taken for a design.'
                : 'The factory does not leave it so.',
            )}
          >
            {index === 0 ? head : <td colSpan={3} aria-hidden="true" />}
            <td>
              <NameCell
                name={position.name}
                label={`Position of ${setting.name}`}
                locked={locked}
                onSet={(name) => rename('partPosition', position.id, name)}
              />
            </td>
            <td>
              <TextCell
                text={position.meaning}
                label={`Meaning of ${setting.name} at ${position.name}`}
                locked={locked}
                onSet={(meaning) => change({ meaning })}
              />
            </td>
            <td className="narrow">
              <input
                type="radio"
                name={`factory of ${setting.id}`}
                aria-label={`${setting.name} leaves the factory at ${position.name}`}
                checked={position.factory}
                disabled={locked}
                onChange={() => void setFactory(setting, positions, position.id)}
              />
            </td>
            <td className="soft wrap">{effects.join('; ')}</td>
            <td className="deeds">
              {!locked && (
                <>
                  {index === positions.length - 1 && (
                    <Button
                      kind="quiet"
                      label={`Add a position to ${setting.name}`}
                      onPress={() => void addPosition()}
                    >
                      Add
                    </Button>
                  )}
                  <Button
                    kind="quiet"
                    label={`Remove ${positions.length === 1 ? setting.name : `${position.name} of ${setting.name}`}`}
                    onPress={() =>
                      void (positions.length === 1
                        ? removeRecord(
                            `Remove setting ${setting.name} of ${part.name}`,
                            'partSetting',
                            setting.id,
                          )
                        : removeRecord(
                            `Remove ${position.name} of ${setting.name}`,
                            'partPosition',
                            position.id,
                          ))
                    }
                  >
                    Remove
                  </Button>
                </>
              )}
            </td>
          </tr>
        )
      })}
      {positions.length === 0 && (
        <tr {...explains(setting.name, 'It has no positions: any value can be set on it, with its unit.')}>
          {head}
          <td colSpan={4} className="soft">
            any value
          </td>
          <td className="deeds">
            {!locked && (
              <>
                <Button
                  kind="quiet"
                  label={`Add a position to ${setting.name}`}
                  onPress={() => void addPosition()}
                >
                  Add
                </Button>
                <Button
                  kind="quiet"
                  label={`Remove ${setting.name}`}
                  onPress={() =>
                    void removeRecord(
                      `Remove setting ${setting.name} of ${part.name}`,
                      'partSetting',
                      setting.id,
                    )
                  }
                >
                  Remove
                </Button>
              </>
            )}
          </td>
        </tr>
      )}
    </tbody>
  )
}

const setFactory = (
  setting: Setting,
  positions: readonly JobRecord<'partPosition'>[],
  id: string,
): Promise<boolean> =>
  makeChange({
    does: 'change records',
    name: `Set the factory position of ${setting.name}`,
    add: [],
    set: positions
      .filter((each) => each.factory !== (each.id === id))
      .map((each) => ({ kind: 'partPosition', id: each.id, fields: { factory: each.id === id } })),
    remove: [],
  })

function Banks({ of, part, locked }: PartSectionProps) {
  const names = of.partSetting.map(({ name }) => name)
  if (of.partSetting.length < 2 && of.partSettingTable.length === 0) return null
  return (
    <Section
      title="Banks"
      facts="several settings that mean something together"
      add="Add a bank"
      locked={locked}
      onAdd={() =>
        addRecords(
          `Add a bank to ${part.name}`,
          {
            kind: 'partSettingTable',
            record: {
              partId: part.id,
              position: nextPosition(of.partSettingTable),
              name: freshName('Bank', of.partSettingTable),
            },
          },
          {
            kind: 'partSettingTableRow',
            record: {
              partSettingTableId: 'new:1',
              position: 0,
              when: Object.fromEntries(
                of.partSetting
                  .slice(0, 2)
                  .map((setting) => [setting.name, positionsOf(of, setting.name)[0] ?? '']),
              ),
              meaning: 'not said yet',
            },
          },
        )
      }
    >
      {of.partSettingTable.length === 0 && <p className="padded soft">It has no banks.</p>}
      {of.partSettingTable.map((bank) => {
        const rows = of.partSettingTableRow.filter(({ partSettingTableId }) => partSettingTableId === bank.id)
        const read = names.filter((name) => rows.some(({ when }) => name in when))
        return (
          <table key={bank.id} className="plain-table narrow-table">
            <caption>
              <NameCell
                name={bank.name}
                label="Bank"
                locked={locked}
                onSet={(name) =>
                  void setRecord(`Call bank ${bank.name} ${name}`, 'partSettingTable', bank.id, { name })
                }
              />
            </caption>
            <Headings names={[...read, 'Together they mean', '']} />
            <tbody>
              {rows.map((row) => {
                const set = (fields: Fields) =>
                  setRecord(`Change bank ${bank.name} of ${part.name}`, 'partSettingTableRow', row.id, fields)
                return (
                  <tr
                    key={row.id}
                    {...explains(
                      `${bank.name}: ${Object.entries(row.when)
                        .map(([name, position]) => `${name} ${position}`)
                        .join(', ')}`,
                      `Together they mean: ${row.meaning}.`,
                    )}
                  >
                    {read.map((name) => (
                      <td key={name}>
                        <SelectCell
                          label={`${name} in ${bank.name}: ${row.meaning}`}
                          value={row.when[name] ?? null}
                          options={positionsOf(of, name)}
                          none="any"
                          locked={locked}
                          onSet={(position) => {
                            const { [name]: _before, ...rest } = row.when
                            return set({ when: position === null ? rest : { ...rest, [name]: position } })
                          }}
                        />
                      </td>
                    ))}
                    <td>
                      <NameCell
                        name={row.meaning}
                        label="Meaning"
                        locked={locked}
                        onSet={(meaning) => void set({ meaning })}
                      />
                    </td>
                    <RemoveCell
                      what={`${row.meaning} of ${bank.name}`}
                      locked={locked}
                      onRemove={() =>
                        rows.length === 1
                          ? removeRecord(
                              `Remove bank ${bank.name} of ${part.name}`,
                              'partSettingTable',
                              bank.id,
                            )
                          : removeRecord(`Remove a row of ${bank.name}`, 'partSettingTableRow', row.id)
                      }
                    />
                  </tr>
                )
              })}
            </tbody>
            {!locked && (
              <tfoot>
                <tr>
                  <td colSpan={read.length + 2}>
                    <Button
                      kind="quiet"
                      label={`Add a row to ${bank.name}`}
                      onPress={() =>
                        void addRecords(`Add a row to ${bank.name} of ${part.name}`, {
                          kind: 'partSettingTableRow',
                          record: {
                            partSettingTableId: bank.id,
                            position: nextPosition(rows),
                            when: { ...rows.at(-1)?.when },
                            meaning: 'not said yet',
                          },
                        })
                      }
                    >
                      Add a row
                    </Button>
                  </td>
                </tr>
              </tfoot>
            )}
          </table>
        )
      })}
    </Section>
  )
}

function positionsOf(of: PartRecords, settingName: string): string[] {
  const setting = of.partSetting.find(({ name }) => name === settingName)
  return of.partPosition.filter(({ partSettingId }) => partSettingId === setting?.id).map(({ name }) => name)
}

type Changes = JobRecord<'settingEffect'>['changes']
const changesOfContact: readonly Changes[] = ['turned round', 'without power', 'lasts seconds']
const changesOfElement: readonly Changes[] = ['engaged', 'delay seconds']

/** Every position, and every row of a bank, under a key that says which it is. */
function placesOf(of: PartRecords): readonly { readonly key: string; readonly label: string }[] {
  return [
    ...of.partSetting.flatMap((setting) =>
      of.partPosition
        .filter(({ partSettingId }) => partSettingId === setting.id)
        .map(({ id, name }) => ({ key: `position ${id}`, label: `${setting.name} at ${name}` })),
    ),
    ...of.partSettingTable.flatMap((bank) =>
      of.partSettingTableRow
        .filter(({ partSettingTableId }) => partSettingTableId === bank.id)
        .map(({ id, meaning }) => ({ key: `row ${id}`, label: `${bank.name}: ${meaning}` })),
    ),
  ]
}

function Effects({ of, part, locked }: PartSectionProps) {
  const places = placesOf(of)
  const placeOf = (effect: JobRecord<'settingEffect'>): string =>
    places.find(
      ({ key }) =>
        key === `position ${effect.partPositionId}` || key === `row ${effect.partSettingTableRowId}`,
    )?.label ?? '?'
  return (
    <Section title="What settings change" facts="in what a doorway does" locked={locked}>
      {of.settingEffect.length > 0 && (
        <table className="plain-table narrow-table">
          <Headings names={['When', 'Then', '']} />
          <tbody>
            {of.settingEffect.map((effect) => (
              <tr
                key={effect.id}
                {...explains(
                  placeOf(effect),
                  `Then ${effectWords(of, effect)}.`,
                  'Every doorway whose fitting is designed so is worked out with it.',
                )}
              >
                <td>{placeOf(effect)}</td>
                <td>{effectWords(of, effect)}</td>
                <RemoveCell
                  what={`what ${placeOf(effect)} changes`}
                  locked={locked}
                  onRemove={() =>
                    removeRecord(`Remove what ${placeOf(effect)} changes`, 'settingEffect', effect.id)
                  }
                />
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {!locked && of.partContact.length + of.partElement.length > 0 && places.length > 0 && (
        <AddEffect of={of} part={part} places={places} />
      )}
    </Section>
  )
}

function AddEffect({
  of,
  part,
  places,
}: Pick<PartSectionProps, 'of' | 'part'> & { readonly places: ReturnType<typeof placesOf> }) {
  const [place, setPlace] = useState<string | null>(null)
  const [thing, setThing] = useState<string | null>(null)
  const [changes, setChanges] = useState<Changes | null>(null)
  const [value, setValue] = useState<string | null>(null)
  const things = [
    ...of.partElement.map(({ id, name }) => ({ key: `element ${id}`, label: `the ${name}` })),
    ...of.partContact.map(({ id, name }) => ({ key: `contact ${id}`, label: `contact ${name}` })),
  ]
  const possible = thing?.startsWith('contact ') ? changesOfContact : changesOfElement
  const values = changes === null ? [] : valuesOfEffect[changes]
  const add = async (): Promise<void> => {
    if (place === null || thing === null || changes === null || value === null) return
    const trouble = effectTrouble(changes, value.trim())
    if (trouble !== null) return tell({ weight: 'stop', words: `${trouble} Nothing was changed.` })
    const [placeKind, placeId] = split(place)
    const [thingKind, thingId] = split(thing)
    const added = await addRecords(
      `Say what ${places.find(({ key }) => key === place)?.label ?? 'a setting'} changes on ${part.name}`,
      {
        kind: 'settingEffect',
        record: {
          partPositionId: placeKind === 'position' ? placeId : null,
          partSettingTableRowId: placeKind === 'row' ? placeId : null,
          partContactId: thingKind === 'contact' ? thingId : null,
          partElementId: thingKind === 'element' ? thingId : null,
          changes,
          value: value.trim(),
        },
      },
    )
    if (added) setValue(null)
  }
  return (
    <div className="line-of-choices">
      <SelectCell label="When" value={place} options={places} none="When …" locked={false} onSet={setPlace} />
      <SelectCell
        label="What is changed"
        value={thing}
        options={things}
        none="it changes …"
        locked={false}
        onSet={(next) => {
          setThing(next)
          setChanges(null)
          setValue(null)
        }}
      />
      <SelectCell
        label="In what"
        value={changes}
        options={thing === null ? [] : possible}
        none="in what …"
        locked={false}
        onSet={(next) => {
          setChanges(next as Changes | null)
          setValue(null)
        }}
      />
      {values === null ? (
        <input
          className="cell-input framed"
          aria-label="Seconds"
          placeholder="seconds"
          value={value ?? ''}
          onChange={(event) => setValue(event.currentTarget.value)}
        />
      ) : (
        <SelectCell label="To" value={value} options={values} none="to …" locked={false} onSet={setValue} />
      )}
      <Button disabled={value === null || value === ''} onPress={() => void add()}>
        Add
      </Button>
    </div>
  )
}

function split(key: string): readonly [string, string] {
  const at = key.indexOf(' ')
  return [key.slice(0, at), key.slice(at + 1)]
}
