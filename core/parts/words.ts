// What a part does, said from what it declares; and what each declaration means.
import { listed } from '../behaviour/index.ts'
import type { JobRecord } from '../job/index.ts'
import type { PartRecords } from './part-records.ts'

type Element = JobRecord<'partElement'>

/** What each grip means, for the margin. */
export const gripMeanings: Readonly<Record<Element['grip'], string>> = {
  'holds the leaf':
    'While it is engaged nobody passes, in or out, and no lever helps. A magnet does so. It is no latch.',
  'blocks hardware':
    'While it is engaged the named lever or pad does nothing: what it would have drawn stays thrown. The lock of an outer lever does so.',
  latches:
    'A positive latch or bolt: it holds the leaf until hardware draws it, a strike lets it pass, or it is withdrawn electrically.',
  'keeps a latch':
    'Holds the latch of the lock it stands opposite. When it lets go, the latch passes: it lets in, and the way out stays with the hardware.',
  'holds the leaf open':
    'Holds the leaf standing open. When it lets go, the leaf must shut by itself and latch.',
}

/** When something is engaged, as people say it. */
export const engagedMeanings: Readonly<Record<NonNullable<Element['engaged']>, string>> = {
  always: 'It is engaged whatever happens to the power.',
  'by hand': 'Somebody throws it; whether it is thrown is a question.',
  'while the active leaf is shut': 'It can only be drawn once the active leaf stands open.',
  'while fed': 'With no power it lets go: fail safe.',
  'while not fed': 'With no power it holds: fail secure.',
}

/** When a load draws, for the margin. */
export const drawsMeanings: Readonly<Record<NonNullable<JobRecord<'partLoad'>['draws']>, string>> = {
  'all the time': 'Counts in full through standby and alarm.',
  'while it holds': 'Draws as long as the door is held, so through the whole standby.',
  'while it is released': 'Draws only while the door is let go.',
  'only when worked': 'Draws for the moments in which somebody works it.',
}

export const workedAsWords: Readonly<Record<NonNullable<JobRecord<'partBehaviour'>['workedAs']>, string>> = {
  exit: 'asks to leave',
  'manual release': 'releases by hand',
  credential: 'reads a credential',
  key: 'is turned by key',
  staff: 'is worked by staff',
}

const when = ({ engaged }: Element): string =>
  engaged === null ? 'as its setting says' : engaged === 'always' ? '' : engaged

/** One thing that holds: "holds in and out while fed". */
export function elementWords(element: Element): string {
  const { grip, name, blocks, drawnBy, delayStartedBy, delaySeconds } = element
  const spaced = (...words: readonly string[]): string => words.filter((each) => each !== '').join(' ')
  const wait =
    delayStartedBy.length === 0
      ? ''
      : `, lets go ${delaySeconds === null ? 'some seconds' : `${delaySeconds} s`} after ${listed(delayStartedBy)}`
  switch (grip) {
    case 'holds the leaf':
      return spaced('holds in and out', when(element)) + wait
    case 'keeps a latch':
      return spaced('keeps the latch', when(element)) + wait
    case 'holds the leaf open':
      return spaced('holds the leaf open', when(element)) + wait
    case 'blocks hardware':
      return spaced('blocks the', blocks.length === 0 ? 'hardware' : listed(blocks), when(element)) + wait
    case 'latches': {
      const drawn = drawnBy.length === 0 ? '' : `, drawn by ${listed(drawnBy)}`
      return spaced(name === 'latch' ? '' : name, 'latches', when(element)) + drawn + wait
    }
  }
}

/** What a part holds and does, in one short sentence. */
export function doesWords(of: PartRecords): string {
  const [declared] = of.partBehaviour
  if (declared === undefined) return 'Not declared: it may hold anything.'
  const words = [
    ...of.partElement.map(elementWords),
    ...(declared.workedAs === null ? [] : [workedAsWords[declared.workedAs]]),
    ...(declared.shutsLeaf ? ['shuts the leaf'] : []),
    ...(declared.opensLeaf ? ['opens the leaf'] : []),
    ...(of.partElement.length === 0 ? tells(of) : []),
  ]
  if (words.length === 0)
    return of.partHardware.length === 0
      ? 'Holds nothing and asks nothing.'
      : `Has a ${listed(of.partHardware.map(({ name }) => name))} and holds nothing.`
  const text = words.join('; ')
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}

const tells = ({ partContact }: PartRecords): string[] =>
  partContact.length === 0
    ? []
    : [`${partContact.length === 1 ? 'contact' : 'contacts'} ${listed(partContact.map(({ name }) => name))}`]

/** "0.25 A"; a dash where nobody told. */
export const amount = (value: number | null, unit: string): string =>
  value === null ? '—' : `${value} ${unit}`

/** "21.6 to 26.4 V", "up to 30 V"; a dash where nobody told. */
export function voltsWords(minimum: number | null, maximum: number | null): string {
  if (minimum !== null && maximum !== null) return `${minimum} to ${maximum} V`
  if (minimum !== null) return `from ${minimum} V`
  return maximum === null ? '—' : `up to ${maximum} V`
}

/** What one effect of a setting makes: "magnet delay seconds 15". */
export function effectWords(of: PartRecords, effect: JobRecord<'settingEffect'>): string {
  const thing =
    of.partContact.find(({ id }) => id === effect.partContactId)?.name ??
    of.partElement.find(({ id }) => id === effect.partElementId)?.name ??
    '?'
  switch (effect.changes) {
    case 'turned round':
      return effect.value === 'yes' ? `${thing} is turned round` : `${thing} is as its form says`
    case 'without power':
      return `${thing} is ${effect.value} without power`
    case 'engaged':
      return `${thing} is engaged ${effect.value}`
    case 'delay seconds':
      return `${thing} waits ${effect.value} s`
    case 'lasts seconds':
      return `${thing} stays changed ${effect.value} s`
  }
}

/** What an effect must say to be understood; null where it does. */
export function effectTrouble(changes: JobRecord<'settingEffect'>['changes'], value: string): string | null {
  const wanted = valuesOfEffect[changes]
  if (wanted === null)
    return /^\d+(\.\d+)?$/.test(value)
      ? null
      : `“${value}” is not a number of seconds; expected one such as 15.`
  return wanted.includes(value) ? null : `“${value}” is not understood; expected ${listed(wanted)}.`
}

/** What an effect can make of a thing; null is a number of seconds. */
export const valuesOfEffect: Readonly<
  Record<JobRecord<'settingEffect'>['changes'], readonly string[] | null>
> = {
  'turned round': ['yes', 'no'],
  'without power': ['open', 'closed'],
  engaged: ['while fed', 'while not fed'],
  'delay seconds': null,
  'lasts seconds': null,
}
