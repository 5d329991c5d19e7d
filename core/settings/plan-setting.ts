// Turns "set this so" into edits that can be taken back, or into sentences that say why not. Changes nothing.
import {
  counted,
  addRecord,
  asId,
  records,
  setFields,
  type Change,
  type Edit,
  type Fitting,
  type JobData,
  type JobRecord,
  type Stage,
} from '../job/index.ts'
import { settingOfPart } from './part-settings.ts'
import { readSettingValue } from './setting-values.ts'
import { byTime } from './stages.ts'

/** A fitting whose setting is meant. One that only follows its typical has no record yet, and is given one. */
export type SettingTarget =
  | { readonly typicalFittingId: string }
  | { readonly openingId: string; readonly fittingId: string }
  | { readonly openingId: string; readonly followsTypicalFittingId: string }

export interface SetSettings {
  readonly stage: Stage
  /** Null takes the word back: designed is then as the typical says, set and found as noted before. */
  readonly values: readonly { readonly settingId: string; readonly value: string | null }[]
  readonly targets: readonly SettingTarget[]
  readonly who: string | null
  /** ISO 8601, UTC. */
  readonly at: string | null
  readonly visitId: string | null
}

export interface SettingProblem {
  readonly code:
    | 'nothing asked'
    | 'gone'
    | 'left out'
    | 'not of this part'
    | 'not a value'
    | 'only designed'
    | 'time'
    | 'visit'
  readonly openingId: string | null
  readonly sentence: string
}

export type PlannedSettings =
  | { readonly ok: true; readonly change: Change }
  | { readonly ok: false; readonly problems: readonly SettingProblem[] }

type Kept = JobRecord<'settingValue'>

/** A target looked up. */
interface Standing {
  readonly openingId: string | null
  /** "S1 on 118", or "S1 of Magnet + sensor". */
  readonly name: string
  readonly partId: string | null
  readonly fittingId: string | null
  readonly typicalFittingId: string | null
  /** The record it needs first. */
  readonly add: Fitting | null
}

/** Plans designed, set or found values of one or many fittings as one named change. */
export function planSetting(data: JobData, asked: SetSettings, newId: () => string): PlannedSettings {
  const problems: SettingProblem[] = []
  const refuse = (code: SettingProblem['code'], sentence: string, openingId: string | null = null): null => {
    problems.push({ code, openingId, sentence })
    return null
  }
  if (asked.targets.length === 0 || asked.values.length === 0)
    refuse('nothing asked', 'No setting was named; expected at least one fitting and one setting.')
  if (asked.at !== null && !records.settingValue.shape.at.safeParse(asked.at).success)
    refuse('time', `“${asked.at}” is not a time; expected one such as 2026-01-20T15:00:00Z.`)
  const visit = asked.visitId === null ? null : data.get('visit', asked.visitId)
  if (visit === undefined) refuse('visit', 'That visit is no longer there.')
  if (asked.visitId !== null && asked.stage === 'designed')
    refuse('visit', 'A visit changes no design; note the value as set or as found.')

  const values = new Map<string, { name: string; partId: string; value: string | null }>()
  for (const { settingId, value } of asked.values) {
    const record = data.get('partSetting', settingId)
    if (record === undefined) {
      refuse('gone', 'That setting is no longer there.')
      continue
    }
    const reading = value === null ? null : readSettingValue(settingOfPart(data, record), value)
    if (reading !== null && !reading.ok) refuse('not a value', reading.sentence)
    else values.set(settingId, { name: record.name, partId: record.partId, value: reading?.value ?? null })
  }

  const seen = new Set<string>()
  const standing: Standing[] = []
  for (const target of asked.targets) {
    const key = keyOf(target)
    if (seen.has(key)) continue
    seen.add(key)
    const found = 'typicalFittingId' in target ? slotOf(data, target) : fittingOf(data, target, newId)
    if ('sentence' in found) {
      problems.push(found)
      continue
    }
    if (found.openingId === null && asked.stage !== 'designed')
      refuse(
        'only designed',
        `${found.name} is a typical’s; only an opening’s fitting can be ${asked.stage}.`,
      )
    if (visit?.openingId != null && visit.openingId !== found.openingId)
      refuse('visit', `${found.name} is not on the opening of that visit.`, found.openingId)
    for (const { name, partId } of values.values())
      if (partId !== found.partId)
        refuse('not of this part', `The part of ${found.name} does not have this ${name}.`, found.openingId)
    standing.push(found)
  }
  if (problems.length > 0) return { ok: false, problems }

  const edits: Edit[] = []
  for (const each of standing) {
    const made = [...values].flatMap(([settingId, { value }]) =>
      editsFor(data, asked, each, settingId, value, newId),
    )
    if (made.length > 0 && each.add !== null) edits.push(addRecord('fitting', each.add))
    edits.push(...made)
  }
  return { ok: true, change: { name: nameOf(asked, [...values.values()], standing), edits } }
}

const keyOf = (target: SettingTarget): string =>
  'typicalFittingId' in target
    ? target.typicalFittingId
    : `${target.openingId} ${'fittingId' in target ? target.fittingId : target.followsTypicalFittingId}`

const gone = (openingId: string | null): SettingProblem => ({
  code: 'gone',
  openingId,
  sentence: 'That fitting is no longer there.',
})

function slotOf(data: JobData, target: { readonly typicalFittingId: string }): Standing | SettingProblem {
  const slot = data.get('typicalFitting', target.typicalFittingId)
  if (slot === undefined) return gone(null)
  const typical = data.get('typical', slot.typicalId)?.name ?? 'its typical'
  return {
    openingId: null,
    name: `${slot.tag} of ${typical}`,
    partId: slot.partId,
    fittingId: null,
    typicalFittingId: slot.id,
    add: null,
  }
}

function fittingOf(
  data: JobData,
  target: Exclude<SettingTarget, { typicalFittingId: string }>,
  newId: () => string,
): Standing | SettingProblem {
  const opening = data.get('opening', target.openingId)
  if (opening === undefined)
    return { code: 'gone', openingId: null, sentence: 'That opening is no longer there.' }
  const slotId = 'fittingId' in target ? null : target.followsTypicalFittingId
  const fitting =
    'fittingId' in target
      ? data.get('fitting', target.fittingId)
      : data
          .referring('fitting', 'openingId', opening.id)
          .toSorted((one, other) => one.position - other.position || (one.id < other.id ? -1 : 1))
          .findLast((each) => each.typicalFittingId === slotId)
  if ('fittingId' in target && fitting?.openingId !== opening.id) return gone(opening.id)
  const slot = data.get('typicalFitting', fitting?.typicalFittingId ?? slotId ?? '')
  if (fitting === undefined && (slot === undefined || slot.typicalId !== opening.typicalId))
    return gone(opening.id)
  const name = `${fitting?.tag ?? slot?.tag ?? '?'} on ${opening.mark}`
  if (fitting?.leftOut === true)
    return { code: 'left out', openingId: opening.id, sentence: `${name} is left out there.` }
  const add = fitting === undefined && slot !== undefined ? followingFitting(newId(), opening.id, slot) : null
  return {
    openingId: opening.id,
    name,
    partId: fitting?.partId ?? slot?.partId ?? null,
    fittingId: fitting?.id ?? add?.id ?? null,
    typicalFittingId: null,
    add,
  }
}

/** A fitting that says nothing of its own yet. */
export const followingFitting = (
  id: string,
  openingId: Fitting['openingId'],
  slot: JobRecord<'typicalFitting'>,
): Fitting => ({
  id: asId(id),
  openingId,
  leafId: null,
  typicalFittingId: slot.id,
  position: slot.position,
  tag: null,
  partId: null,
  leftOut: false,
  furnishedBy: null,
  fittedBy: null,
  wiredBy: null,
  terminatedBy: null,
  serial: null,
  installedOn: null,
  notes: null,
})

/** Designed is one word that is replaced. Set and found are a history: only a word of the same moment is corrected. */
function editsFor(
  data: JobData,
  { stage, who, at, visitId }: SetSettings,
  standing: Standing,
  settingId: string,
  value: string | null,
  newId: () => string,
): Edit[] {
  const kept = keptValues(data, standing)
    .filter((each) => each.partSettingId === settingId && each.stage === stage)
    .toSorted(byTime)
  const last = kept.at(-1)
  const remove = (each: Kept): Edit => ({ does: 'remove', kind: 'settingValue', record: each })
  if (value === null) return (stage === 'designed' ? kept : kept.slice(-1)).map(remove)
  const before =
    stage === 'designed'
      ? last
      : kept.findLast((each) => each.at === at && each.visitId === visitId && each.who === who)
  if (before !== undefined) {
    const set = setFields(
      'settingValue',
      before,
      before.value === value ? {} : { value, who, at, visitId: visitId === null ? null : asId(visitId) },
    )
    // Older designs of one setting are no history; what is left of them would come back with the typical.
    const older = stage === 'designed' ? kept.slice(0, -1).map(remove) : []
    return set === null ? older : [...older, set]
  }
  return [
    addRecord('settingValue', {
      id: asId<'settingValue'>(newId()),
      typicalFittingId: standing.typicalFittingId === null ? null : asId(standing.typicalFittingId),
      fittingId: standing.fittingId === null ? null : asId(standing.fittingId),
      partSettingId: asId(settingId),
      stage,
      value,
      who,
      at,
      visitId: visitId === null ? null : asId(visitId),
    }),
  ]
}

const keptValues = (data: JobData, { fittingId, typicalFittingId }: Standing): Kept[] =>
  fittingId !== null
    ? data.referring('settingValue', 'fittingId', fittingId)
    : data.referring('settingValue', 'typicalFittingId', typicalFittingId ?? '')

const verbs: Readonly<Record<Stage, string>> = {
  designed: 'Design',
  set: 'Note as set',
  found: 'Note as found',
}

function nameOf(
  { stage }: SetSettings,
  values: readonly { readonly name: string; readonly value: string | null }[],
  standing: readonly Standing[],
): string {
  const [only] = values
  const [place] = standing
  const what = values.length === 1 && only !== undefined ? only.name : counted(values.length, 'setting')
  const where =
    standing.length === 1 && place !== undefined ? place.name : counted(standing.length, 'fitting')
  if (values.every((each) => each.value === null)) return `Take back ${what} of ${where} as ${stage}`
  const to = values.length === 1 && only?.value != null ? `: ${only.value}` : ''
  return `${verbs[stage]} ${what} of ${where}${to}`
}
