// New names for what other records call by name: a lever that draws a latch, a setting a bank reads, a position people set.
import type { JobData } from '../job/index.ts'
import type { Command } from '../schedule/index.ts'

type RecordsCommand = Extract<Command, { does: 'change records' }>
type SetRecord = RecordsCommand['set'][number]

export type Renamed =
  | { readonly ok: true; readonly command: RecordsCommand }
  | { readonly ok: false; readonly sentence: string }

export const renamedKinds = ['partHardware', 'partSetting', 'partPosition'] as const
export type RenamedKind = (typeof renamedKinds)[number]

const words: Readonly<Record<RenamedKind, string>> = {
  partHardware: 'hardware',
  partSetting: 'setting',
  partPosition: 'position',
}

const refuse = (sentence: string): Renamed => ({ ok: false, sentence })

/** Renames one of these and everything that called it by its old name, as one change. */
export function renameOfPart(data: JobData, kind: RenamedKind, id: string, wanted: string): Renamed {
  const record = data.get(kind, id)
  const name = wanted.trim()
  if (record === undefined) return refuse(`That ${words[kind]} is no longer there.`)
  if (name === '') return refuse(`No name was given; expected a name for the ${words[kind]}.`)
  const siblings =
    'partSettingId' in record
      ? data.referring('partPosition', 'partSettingId', record.partSettingId)
      : kind === 'partHardware'
        ? data.referring('partHardware', 'partId', record.partId)
        : data.referring('partSetting', 'partId', record.partId)
  if (siblings.some((each) => each.id !== id && each.name.toLowerCase() === name.toLowerCase()))
    return refuse(`There is already a ${words[kind]} called ${name}.`)
  const set: SetRecord[] = [{ kind, id, fields: { name } }]
  if ('partSettingId' in record) set.push(...callersOfPosition(data, record.partSettingId, record.name, name))
  else if (kind === 'partHardware') set.push(...callersOfHardware(data, record.partId, record.name, name))
  else set.push(...callersOfSetting(data, record.partId, record.name, name))
  return {
    ok: true,
    command: {
      does: 'change records',
      name: `Call ${words[kind]} ${record.name} ${name}`,
      add: [],
      set,
      remove: [],
    },
  }
}

const renamedIn = (list: readonly string[], from: string, to: string): string[] =>
  list.map((each) => (each === from ? to : each))

function callersOfHardware(data: JobData, partId: string, from: string, to: string): SetRecord[] {
  const set: SetRecord[] = data
    .referring('partBehaviour', 'partId', partId)
    .filter(({ workedWith }) => workedWith === from)
    .map(({ id }) => ({ kind: 'partBehaviour', id, fields: { workedWith: to } }))
  for (const { id, drawnBy, blocks, delayStartedBy } of data.referring('partElement', 'partId', partId))
    if ([drawnBy, blocks, delayStartedBy].some((list) => list.includes(from)))
      set.push({
        kind: 'partElement',
        id,
        fields: {
          drawnBy: renamedIn(drawnBy, from, to),
          blocks: renamedIn(blocks, from, to),
          delayStartedBy: renamedIn(delayStartedBy, from, to),
        },
      })
  return set
}

const rowsOfPart = (data: JobData, partId: string) =>
  data
    .referring('partSettingTable', 'partId', partId)
    .flatMap(({ id }) => data.referring('partSettingTableRow', 'partSettingTableId', id))

const callersOfSetting = (data: JobData, partId: string, from: string, to: string): SetRecord[] =>
  rowsOfPart(data, partId)
    .filter(({ when }) => from in when)
    .map(({ id, when }) => ({
      kind: 'partSettingTableRow',
      id,
      fields: {
        when: Object.fromEntries(
          Object.entries(when).map(([setting, position]) => [setting === from ? to : setting, position]),
        ),
      },
    }))

/** Values that were set say the position by name; banks do so too. */
function callersOfPosition(data: JobData, settingId: string, from: string, to: string): SetRecord[] {
  const setting = data.get('partSetting', settingId)
  const set: SetRecord[] = data
    .referring('settingValue', 'partSettingId', settingId)
    .filter(({ value }) => value === from)
    .map(({ id }) => ({ kind: 'settingValue', id, fields: { value: to } }))
  if (setting === undefined) return set
  for (const { id, when } of rowsOfPart(data, setting.partId))
    if (when[setting.name] === from)
      set.push({
        kind: 'partSettingTableRow',
        id,
        fields: { when: { ...when, [setting.name]: to } },
      })
  return set
}

/** What still calls a piece of hardware by name, so that it cannot go; null where nothing does. */
export function hardwareStillNamed(data: JobData, id: string): string | null {
  const hardware = data.get('partHardware', id)
  if (hardware === undefined) return null
  const { name, partId } = hardware
  const by = data
    .referring('partElement', 'partId', partId)
    .filter(({ drawnBy, blocks, delayStartedBy }) =>
      [...drawnBy, ...blocks, ...delayStartedBy].includes(name),
    )
    .map((each) => each.name)
  const works = data
    .referring('partBehaviour', 'partId', partId)
    .some(({ workedWith }) => workedWith === name)
  if (by.length === 0 && !works) return null
  return `The ${name} is still named by ${[...by.map((each) => `the ${each}`), ...(works ? ['what the part is worked with'] : [])].join(' and ')}; change that first.`
}
