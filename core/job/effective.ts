// An opening as its typical says it, overlaid by what was changed there on purpose. Nothing is copied, so a later
// change to the typical reaches every opening that uses it.
import type { JobData } from './job-data.ts'
import type { Fitting, Opening, Part, TypicalFitting } from './records.ts'

export const tradeFields = ['furnishedBy', 'fittedBy', 'wiredBy', 'terminatedBy'] as const
export type TradeField = (typeof tradeFields)[number]

/** A value with where it comes from: the record itself, its typical, or nowhere. */
export interface Inherited {
  readonly value: string | null
  readonly from: 'own' | 'typical' | 'nobody'
}

/** Own value first, then the typical's. A value equal to the typical's is still own: it was said on purpose. */
export function inherit(own: string | null, typical: string | null | undefined): Inherited {
  if (own !== null) return { value: own, from: 'own' }
  if (typical !== null && typical !== undefined) return { value: typical, from: 'typical' }
  return { value: null, from: 'nobody' }
}

/** One fitting as it stands on an opening. */
export interface EffectiveFitting {
  /** The fitting's own id where a record exists, else the typical fitting it follows. */
  readonly key: string
  readonly slot: TypicalFitting | null
  readonly fitting: Fitting | null
  readonly tag: string
  readonly part: Part | null
  readonly trades: Readonly<Record<TradeField, Inherited>>
  readonly serial: string | null
  readonly notes: string | null
  readonly leftOut: boolean
  /** Not of the typical: added here. */
  readonly added: boolean
  /** Words for each difference from the typical made here on purpose; empty where it follows. */
  readonly differences: readonly string[]
}

const byPosition = (a: { position: number; id: string }, b: { position: number; id: string }): number =>
  a.position - b.position || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)

/** The fittings of an opening: those of its typical in order, then those added here. Left-out ones are shown as such. */
export function effectiveFittings(data: JobData, opening: Opening): EffectiveFitting[] {
  const typical = opening.typicalId === null ? undefined : data.get('typical', opening.typicalId)
  const own = data.referring('fitting', 'openingId', opening.id).toSorted(byPosition)
  const slots =
    typical === undefined
      ? []
      : data.referring('typicalFitting', 'typicalId', typical.id).toSorted(byPosition)
  const bySlot = new Map(
    own.flatMap((each) => (each.typicalFittingId === null ? [] : [[each.typicalFittingId, each]])),
  )
  const following = slots.map((slot) => effective(data, opening, slot, bySlot.get(slot.id) ?? null))
  const slotIds = new Set<string>(slots.map((slot) => slot.id))
  // One left out of a typical that the opening no longer follows is not there to be shown.
  const added = own
    .filter((each) => each.typicalFittingId === null || !slotIds.has(each.typicalFittingId))
    .filter((each) => each.typicalFittingId === null || !each.leftOut)
    .map((each) => effective(data, opening, null, each))
  return [...following, ...added]
}

function effective(
  data: JobData,
  opening: Opening,
  slot: TypicalFitting | null,
  fitting: Fitting | null,
): EffectiveFitting {
  const typical = opening.typicalId === null ? undefined : data.get('typical', opening.typicalId)
  // A fitting kept from a typical followed before is still that part under that tag.
  const before = slot ?? data.get('typicalFitting', fitting?.typicalFittingId ?? '')
  const partId = fitting?.partId ?? before?.partId ?? null
  const part = partId === null ? null : (data.get('part', partId) ?? null)
  const trades = Object.fromEntries(
    tradeFields.map((field) => {
      // The nearest word counts: this fitting's, the typical fitting's, the opening's, the typical's.
      const own = fitting?.[field] ?? (slot?.[field] == null ? opening[field] : null)
      return [field, inherit(own, slot?.[field] ?? typical?.[field])]
    }),
  ) as Record<TradeField, Inherited>
  return {
    key: fitting?.id ?? `${opening.id} ${slot?.id ?? ''}`,
    slot,
    fitting,
    tag: fitting?.tag ?? before?.tag ?? '?',
    part,
    trades,
    serial: fitting?.serial ?? null,
    notes: fitting?.notes ?? before?.notes ?? null,
    leftOut: fitting?.leftOut ?? false,
    added: slot === null,
    differences: fitting === null ? [] : differencesOf(data, slot, fitting),
  }
}

const tradeWords: Readonly<Record<TradeField, string>> = {
  furnishedBy: 'furnished',
  fittedBy: 'fitted',
  wiredBy: 'wired',
  terminatedBy: 'terminated',
}

function differencesOf(data: JobData, slot: TypicalFitting | null, fitting: Fitting): string[] {
  if (slot === null) return ['added here']
  if (fitting.leftOut) return ['left out here']
  const found: string[] = []
  if (fitting.tag !== null && fitting.tag !== slot.tag) found.push(`tag ${fitting.tag}, not ${slot.tag}`)
  if (fitting.partId !== null && fitting.partId !== slot.partId) {
    const name = data.get('part', slot.partId)?.name ?? 'the typical’s part'
    found.push(`another part, not ${name}`)
  }
  const typical = data.get('typical', slot.typicalId)
  for (const field of tradeFields) {
    const own = fitting[field]
    if (own !== null && own !== (slot[field] ?? typical?.[field]))
      found.push(`${tradeWords[field]} by ${own}`)
  }
  const usual = data.referring('settingValue', 'typicalFittingId', slot.id)
  for (const value of data.referring('settingValue', 'fittingId', fitting.id)) {
    if (value.stage !== 'designed') continue
    const same = usual.find((each) => each.partSettingId === value.partSettingId && each.stage === 'designed')
    if (same?.value === value.value) continue
    const setting = data.get('partSetting', value.partSettingId)
    found.push(`${setting?.name ?? 'a setting'} at ${value.value}`)
  }
  return found
}

/** In how many fittings this opening differs from its typical on purpose; none where it follows no typical. */
export function fittingsThatDiffer(data: JobData, opening: Opening): number {
  if (opening.typicalId === null) return 0
  let count = 0
  for (const fitting of data.referring('fitting', 'openingId', opening.id)) {
    const slot = data.get('typicalFitting', fitting.typicalFittingId ?? '')
    const follows = slot?.typicalId === opening.typicalId
    if (slot !== undefined && !follows && fitting.leftOut) continue
    if (differencesOf(data, follows ? (slot ?? null) : null, fitting).length > 0) count += 1
  }
  return count
}
