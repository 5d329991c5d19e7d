// What a setting changes elsewhere: declared on its positions and bank rows as data, turned here into facts.
import type { JobData, JobRecord } from '../job/index.ts'
import type { FittingSettings, SettingState, StageOrStanding } from './settings-of.ts'
import { numberIn } from './setting-values.ts'

/** The vocabulary: what can be changed, and what its value is read as. Seconds and volts are numbers. */
export interface EffectValues {
  /** A jumper turns a contact's rest and change round. */
  readonly 'turned round': boolean
  readonly 'without power': 'closed' | 'open'
  /** Whether an element holds while it is fed or while it is not: fail safe, fail secure. */
  readonly engaged: 'fed' | 'not fed'
  /** A delayed element lets go after this. */
  readonly 'delay seconds': number
  /** A contact stays changed for this: hold time, release time. */
  readonly 'lasts seconds': number
  readonly 'relock seconds': number
  readonly 'release seconds': number
  readonly 'exit switch': 'enabled' | 'disabled'
  readonly 'input acts when': 'closed' | 'open' | 'never'
  readonly lamp: string
  readonly volts: number
}
export type EffectName = keyof EffectValues

/** Known with its origin, or not known with the setting to ask for. The behaviour engine takes it as it is. */
export type SettingFact<T> =
  | { readonly known: true; readonly value: T; readonly origin: string | null }
  | {
      readonly known: false
      readonly question: { readonly about: 'setting'; readonly thing: string; readonly setting: string }
    }

/** One declared effect, by the names that values go by. */
export interface DeclaredEffect {
  readonly changes: string
  /** The contact or element of the part; null where it bears on the part as a whole. */
  readonly targetId: string | null
  readonly targetName: string | null
  readonly of:
    | { readonly setting: string; readonly position: string }
    | { readonly bank: string; readonly rowId: string; readonly meaning: string }
  readonly value: string
}

export type AppliedEffect = {
  readonly [K in EffectName]: {
    readonly changes: K
    readonly targetId: string | null
    readonly targetName: string | null
    /** Settings and banks that decide it. */
    readonly decidedBy: readonly string[]
    readonly fact: SettingFact<EffectValues[K]>
  }
}[EffectName]

type Readers = { readonly [K in EffectName]: (text: string) => EffectValues[K] | null }

const amount = (text: string): number | null => {
  const number = text.trim() === '' ? NaN : Number(text)
  return Number.isFinite(number) && number >= 0 ? number : null
}
const oneOf =
  <const T extends string>(...choices: readonly T[]) =>
  (text: string): T | null =>
    choices.find((each) => each === text) ?? null

const readers: Readers = {
  'turned round': (text) => (text === 'yes' ? true : text === 'no' ? false : null),
  'without power': oneOf('closed', 'open'),
  engaged: (text) => (text === 'while fed' ? 'fed' : text === 'while not fed' ? 'not fed' : null),
  'delay seconds': amount,
  'lasts seconds': amount,
  'relock seconds': amount,
  'release seconds': amount,
  'exit switch': oneOf('enabled', 'disabled'),
  'input acts when': oneOf('closed', 'open', 'never'),
  lamp: (text) => (text.trim() === '' ? null : text),
  volts: amount,
}

export const effectNames = Object.keys(readers) as readonly EffectName[]
const isEffectName = (text: string): text is EffectName => Object.hasOwn(readers, text)

/** Which values count. `standing or designed`: as it stands, and as designed where nobody noted how it stands. */
export type EffectStage = StageOrStanding | 'standing or designed'

/** The declared effects of a part, in a fixed order. */
export function declaredEffects(data: JobData, fitting: FittingSettings): DeclaredEffect[] {
  const found: DeclaredEffect[] = []
  const add = (effects: readonly JobRecord<'settingEffect'>[], of: DeclaredEffect['of']): void => {
    for (const effect of effects)
      found.push({
        changes: effect.changes,
        targetId: effect.partContactId ?? effect.partElementId,
        targetName:
          data.get('partContact', effect.partContactId ?? '')?.name ??
          data.get('partElement', effect.partElementId ?? '')?.name ??
          null,
        of,
        value: effect.value,
      })
  }
  for (const { setting } of fitting.settings)
    for (const { id, name } of setting.positions)
      add(data.referring('settingEffect', 'partPositionId', id), { setting: setting.name, position: name })
  for (const { bank } of fitting.banks)
    for (const { id, meaning } of bank.rows)
      add(data.referring('settingEffect', 'partSettingTableRowId', id), {
        bank: bank.name,
        rowId: id,
        meaning,
      })
  return found
}

/** What the settings of a fitting make of everything that they change. */
export const settingEffects = (
  data: JobData,
  fitting: FittingSettings,
  stage: EffectStage,
): AppliedEffect[] => effectsOf(fitting, declaredEffects(data, fitting), stage)

/**
 * The same from declarations as plain values. One thing that two settings decide otherwise is not known. A position that
 * declares nothing says nothing; a number between the marks of a time is that time.
 */
export function effectsOf(
  fitting: Pick<FittingSettings, 'tag' | 'settings' | 'banks'>,
  declared: readonly DeclaredEffect[],
  stage: EffectStage,
): AppliedEffect[] {
  const groups = new Map<string, DeclaredEffect[]>()
  for (const effect of declared) {
    const key = JSON.stringify([effect.changes, effect.targetId])
    const group = groups.get(key)
    if (group === undefined) groups.set(key, [effect])
    else group.push(effect)
  }
  return [...groups]
    .toSorted(([one], [other]) => (one < other ? -1 : 1))
    .flatMap(([, group]) => {
      const changes = group[0]?.changes ?? ''
      return isEffectName(changes) ? [applied(changes, fitting, group, stage)] : []
    })
}

/** The name of what decides an effect. */
const deciderOf = ({ of }: DeclaredEffect): string => ('setting' in of ? of.setting : of.bank)

function applied<K extends EffectName>(
  changes: K,
  fitting: Pick<FittingSettings, 'tag' | 'settings' | 'banks'>,
  group: readonly DeclaredEffect[],
  stage: EffectStage,
): AppliedEffect {
  const decidedBy = [...new Set(group.map(deciderOf))].toSorted()
  const facts = decidedBy.map((decider) => {
    const effects = group.filter((each) => deciderOf(each) === decider)
    return decided<K>(
      readers[changes] as (text: string) => EffectValues[K] | null,
      changes,
      fitting,
      decider,
      effects,
      stage,
    )
  })
  const { targetId = null, targetName = null } = group[0] ?? {}
  return { changes, targetId, targetName, decidedBy, fact: agreed(facts) } as AppliedEffect
}

/** What all of them say; the question of the first that does not know, or that says otherwise. */
function agreed<T>(
  facts: readonly (SettingFact<T> & { readonly by: string; readonly tag: string })[],
): SettingFact<T> {
  const [first] = facts
  if (first === undefined) throw new Error('an effect that nothing decides')
  for (const { by: _by, tag: _tag, ...fact } of facts) if (!fact.known) return fact
  const other = facts.find((each) => each.known && first.known && each.value !== first.value)
  if (other !== undefined)
    return { known: false, question: { about: 'setting', thing: other.tag, setting: other.by } }
  const { by: _by, tag: _tag, ...fact } = first
  return fact
}

function decided<K extends EffectName>(
  read: (text: string) => EffectValues[K] | null,
  changes: K,
  { tag, settings, banks }: Pick<FittingSettings, 'tag' | 'settings' | 'banks'>,
  decider: string,
  effects: readonly DeclaredEffect[],
  stage: EffectStage,
): SettingFact<EffectValues[K]> & { readonly by: string; readonly tag: string } {
  const asked = {
    known: false,
    question: { about: 'setting', thing: tag, setting: decider },
    by: decider,
    tag,
  } as const
  const state = settings.find(({ setting }) => setting.name === decider)
  const bank = banks.find((each) => each.bank.name === decider)
  const isOfSetting = effects.some(({ of }) => 'setting' in of)
  if (isOfSetting && state !== undefined) {
    const value = chosenValue(state, stage)
    if (value === null) return asked
    const effect = effects.find(({ of }) => 'setting' in of && of.position === value)
    const meant =
      effect === undefined
        ? changes.endsWith('seconds')
          ? secondsIn(value, state)
          : null
        : read(effect.value)
    if (meant === null) return asked
    return {
      known: true,
      value: meant as EffectValues[K],
      origin: `${decider} at ‘${value}’`,
      by: decider,
      tag,
    }
  }
  if (bank === undefined) return asked
  const reading =
    stage === 'standing or designed' && bank.readings.standing.state === 'not known'
      ? bank.readings.designed
      : bank.readings[stage === 'standing or designed' ? 'standing' : stage]
  if (reading.state !== 'chosen') return asked
  const effect = effects.find(({ of }) => 'bank' in of && of.rowId === reading.rowId)
  const meant = effect === undefined ? null : read(effect.value)
  if (meant === null) return asked
  return { known: true, value: meant, origin: `${decider} at ‘${reading.meaning}’`, by: decider, tag }
}

function chosenValue(state: SettingState, stage: EffectStage): string | null {
  const value =
    stage === 'standing or designed' ? (state.standing.known ? state.standing : state.designed) : state[stage]
  return value.known && value.problem === null ? value.value : null
}

const secondsOfUnit: Readonly<Record<string, number>> = { ms: 0.001, s: 1, min: 60, h: 3600 }

/** Only a number between the marks: a mark that declares nothing says nothing. */
function secondsIn(value: string, { setting }: SettingState): number | null {
  const factor = secondsOfUnit[setting.unit ?? '']
  const number = numberIn(value, setting.unit)
  const isMark = setting.positions.some(({ name }) => name === value)
  return factor === undefined || number === null || isMark ? null : number * factor
}

/** What differs between two stages of a fitting, in words: "Signal stays changed for 5 s, not 2 s (Hold time)." */
export function effectDifferences(
  before: readonly AppliedEffect[],
  after: readonly AppliedEffect[],
): string[] {
  return after.flatMap((now) => {
    const then = before.find((each) => each.changes === now.changes && each.targetId === now.targetId)
    if (then === undefined || !then.fact.known || !now.fact.known) return []
    if (then.fact.value === now.fact.value) return []
    const whole = worded(now).join(' ')
    const [, instead] = worded(then)
    return [`${now.targetName ?? 'The part'} ${whole}, not ${instead} (${now.decidedBy.join(', ')}).`]
  })
}

/** The verb, and what may stand alone after "not". */
function worded(effect: AppliedEffect): readonly [string, string] {
  if (!effect.fact.known) return ['is', 'not known']
  const { value } = effect.fact
  const text = String(value)
  switch (effect.changes) {
    case 'turned round':
      return ['is', value === true ? 'turned round' : 'as marked']
    case 'without power':
      return ['is without power', text]
    case 'engaged':
      return ['holds while', text]
    case 'delay seconds':
      return ['lets go after', `${text} s`]
    case 'lasts seconds':
      return ['stays changed for', `${text} s`]
    case 'relock seconds':
      return ['relocks after', `${text} s`]
    case 'release seconds':
      return ['releases for', `${text} s`]
    case 'exit switch':
      return ['has its exit switch', text]
    case 'input acts when':
      return ['acts when its input is', text]
    case 'lamp':
      return ['shows', text]
    case 'volts':
      return ['works at', `${text} V`]
  }
}
