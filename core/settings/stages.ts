// One setting of one fitting as designed, as set and as found. The latest word of each stage counts.
import type { JobRecord } from '../job/index.ts'
import type { SettingOfPart } from './part-settings.ts'
import { isSameValue, readSettingValue } from './setting-values.ts'
import type { SettingQuestion } from './words.ts'

type Kept = JobRecord<'settingValue'>

/** A value somebody wrote down, with who and when as far as they said. */
export interface NotedValue {
  readonly known: true
  readonly id: string
  readonly value: string
  readonly who: string | null
  readonly at: string | null
  readonly visitId: string | null
  /** Whether this is how it leaves the factory; null where the part does not say. */
  readonly isFactory: boolean | null
  /** Why it is no value of this setting, or null. */
  readonly problem: string | null
}

export interface NotNoted {
  readonly known: false
  /** Null where nobody need have noted it: it was not looked at on a visit. */
  readonly question: SettingQuestion | null
}

export type DesignedValue = (NotedValue & { readonly from: 'own' | 'typical' }) | NotNoted
export type StageValue = NotedValue | NotNoted

export interface ThreeStages {
  /** The own value here, else the typical's. The factory position is never taken for a design. */
  readonly designed: DesignedValue
  readonly set: StageValue
  readonly found: StageValue
  /** Whether the found value still stands: nobody noted a setting after it. */
  readonly foundStands: boolean
  /** As it stands: the later of set and found, or not known. What was only designed stands nowhere. */
  readonly standing: StageValue
  /** Every noted set and found value, oldest first. */
  readonly history: readonly Kept[]
}

const stripped = (at: string | null): string => (at ?? '').replace('Z', '')

/** Oldest first; what bears no time comes before all that does. Two records of one time go by id, so that order is no matter. */
export function byTime(one: Kept, other: Kept): number {
  const [first, second] = [stripped(one.at), stripped(other.at)]
  if (first !== second) return first < second ? -1 : 1
  // At one visit a thing is found before it is set.
  if (one.stage !== other.stage) return one.stage === 'found' ? -1 : 1
  return one.id < other.id ? -1 : one.id > other.id ? 1 : 0
}

const noted = (setting: SettingOfPart, kept: Kept): NotedValue => {
  const reading = readSettingValue(setting, kept.value)
  const { id, who, at, visitId } = kept
  return {
    known: true,
    id,
    value: reading.ok ? reading.value : kept.value,
    who,
    at,
    visitId,
    isFactory: setting.factory === null ? null : isSameValue(setting, kept.value, setting.factory),
    problem: reading.ok ? null : reading.sentence,
  }
}

/** The latest of these, or undefined. */
const latest = (values: readonly Kept[]): Kept | undefined => {
  let found: Kept | undefined
  for (const value of values) if (found === undefined || byTime(found, value) < 0) found = value
  return found
}

/** Puts the values of one setting in their stages. `own` and `usual` hold values of this setting only. */
export function threeStages(
  setting: SettingOfPart,
  tag: string,
  own: readonly Kept[],
  usual: readonly Kept[],
): ThreeStages {
  const designedHere = latest(own.filter((each) => each.stage === 'designed'))
  const designedThere = latest(usual.filter((each) => each.stage === 'designed'))
  const kept = designedHere ?? designedThere
  const designed: DesignedValue =
    kept === undefined
      ? {
          known: false,
          question: {
            words: `Where should ${setting.name} of ${tag} be set?`,
            whoCanSay: 'the project manager',
          },
        }
      : { ...noted(setting, kept), from: designedHere === undefined ? 'typical' : 'own' }
  if (own.length === 0) return { designed, ...nothingNoted(setting, tag) }

  const history = own.filter((each) => each.stage !== 'designed').toSorted(byTime)
  const lastSet = history.findLast((each) => each.stage === 'set')
  const lastFound = history.findLast((each) => each.stage === 'found')
  const none = nothingNoted(setting, tag)
  const set = lastSet === undefined ? none.set : noted(setting, lastSet)
  const found = lastFound === undefined ? none.found : noted(setting, lastFound)
  const foundStands = found.known && (lastSet === undefined || isAfter(lastFound, lastSet))
  return { designed, set, found, foundStands, standing: foundStands ? found : set, history }
}

/** Whether the found value may still stand. Without both times nobody can say that it was put right since. */
const isAfter = (found: Kept | undefined, set: Kept): boolean =>
  found !== undefined && (found.at === null || set.at === null || byTime(set, found) < 0)

const nothingNoted = (setting: SettingOfPart, tag: string) => {
  const set: NotNoted = {
    known: false,
    question: {
      words: `How was ${setting.name} of ${tag} set?`,
      whoCanSay: 'whoever set it on the bench, or a look under the cover',
    },
  }
  const found: NotNoted = { known: false, question: null }
  return { set, found, foundStands: false, standing: set, history: [] as readonly Kept[] }
}
