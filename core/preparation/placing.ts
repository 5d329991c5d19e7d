// Where fittings stand: who says so, and what it takes to say otherwise for one opening or for its typical.
import {
  effectiveFittings,
  fittingPlaces,
  type EffectiveFitting,
  type FittingPlace,
  type JobData,
  type JobRecord,
  type Opening,
} from '../job/index.ts'
import type { Side } from './model.ts'

export type Placement = JobRecord<'placement'>
export const placementFields = ['place', 'side', 'heightMicrometres', 'acrossMicrometres'] as const
export type PlacementField = (typeof placementFields)[number]
export type PlacementValues = Pick<Placement, PlacementField>

/** Who says a fact: this opening, its typical, the part, or the part's patterns, which leave no choice. */
export type SaidBy = 'opening' | 'typical' | 'part' | 'patterns'

export interface StandingFact<Value> {
  readonly value: Value | null
  /** Null where nobody says it. */
  readonly by: SaidBy | null
}

export interface FittingPlacement {
  readonly key: string
  readonly tag: string
  readonly partName: string | null
  readonly openingId: string
  readonly mark: string
  /** Null while it only follows its typical. */
  readonly fittingId: string | null
  readonly typicalFittingId: string | null
  readonly typicalName: string | null
  readonly position: number
  readonly place: StandingFact<FittingPlace>
  readonly side: StandingFact<Side>
  readonly heightMicrometres: StandingFact<number>
  readonly acrossMicrometres: StandingFact<number>
  /** The records that may be changed. */
  readonly own: Placement | null
  readonly ofTypical: Placement | null
}

interface Placements {
  readonly own: Placement | null
  readonly ofTypical: Placement | null
  readonly ofPart: Placement | null
}

function placementsOf(data: JobData, { fitting, slot, part }: EffectiveFitting): Placements {
  const typicalFittingId = slot?.id ?? fitting?.typicalFittingId ?? null
  const first = (field: 'fittingId' | 'typicalFittingId' | 'partId', id: string | null): Placement | null =>
    id === null ? null : (data.referring('placement', field, id)[0] ?? null)
  return {
    own: first('fittingId', fitting?.id ?? null),
    ofTypical: first('typicalFittingId', typicalFittingId),
    ofPart: first('partId', part?.id ?? null),
  }
}

/** Each fact from the nearest that says it. */
function standing<Field extends PlacementField>(
  { own, ofTypical, ofPart }: Placements,
  field: Field,
): StandingFact<NonNullable<Placement[Field]>> {
  const nearest = [
    ['opening', own],
    ['typical', ofTypical],
    ['part', ofPart],
  ] as const
  for (const [by, placement] of nearest) {
    const value = placement?.[field] ?? null
    if (value !== null) return { value, by }
  }
  return { value: null, by: null }
}

/** Where a fitting stands, as far as records say it. */
export function placementValues(data: JobData, fitting: EffectiveFitting): PlacementValues {
  const placements = placementsOf(data, fitting)
  return {
    place: standing(placements, 'place').value,
    side: standing(placements, 'side').value,
    heightMicrometres: standing(placements, 'heightMicrometres').value,
    acrossMicrometres: standing(placements, 'acrossMicrometres').value,
  }
}

/** Every fitting of an opening with who says where it stands; `sideOf` is the side that its patterns leave it. */
export function fittingPlacements(
  data: JobData,
  opening: Opening,
  sideOf: (key: string) => Side | null,
): FittingPlacement[] {
  return effectiveFittings(data, opening).flatMap((each, index): FittingPlacement[] => {
    if (each.leftOut) return []
    const placements = placementsOf(data, each)
    const side = standing(placements, 'side')
    const byPatterns = side.value === null ? sideOf(each.key) : null
    return [
      {
        key: each.key,
        tag: each.tag,
        partName: each.part?.name ?? null,
        openingId: opening.id,
        mark: opening.mark,
        fittingId: each.fitting?.id ?? null,
        typicalFittingId: each.slot?.id ?? null,
        typicalName: each.slot === null ? null : (data.get('typical', each.slot.typicalId)?.name ?? null),
        position: each.slot?.position ?? each.fitting?.position ?? index,
        place: standing(placements, 'place'),
        side: byPatterns === null ? side : { value: byPatterns, by: 'patterns' },
        heightMicrometres: standing(placements, 'heightMicrometres'),
        acrossMicrometres: standing(placements, 'acrossMicrometres'),
        own: placements.own,
        ofTypical: placements.ofTypical,
      },
    ]
  })
}

type FieldValue = string | number | boolean | null
type Fields = Readonly<Record<string, FieldValue>>

/** A command of the schedule, as `change records` takes it. */
export interface PlacingChange {
  readonly does: 'change records'
  readonly name: string
  readonly add: { readonly kind: 'fitting' | 'placement' | 'openingFrame'; readonly record: Fields }[]
  readonly set: {
    readonly kind: 'placement' | 'openingFrame'
    readonly id: string
    readonly fields: Fields
  }[]
  readonly remove: { readonly kind: 'placement' | 'openingFrame'; readonly id: string }[]
}

const fieldWords: Readonly<Record<PlacementField, string>> = {
  place: 'place',
  side: 'side',
  heightMicrometres: 'height',
  acrossMicrometres: 'distance from the strike edge',
}

/**
 * Says one fact of where a fitting stands, for its opening or for its typical. Null follows the next one again. A fitting
 * that only follows its typical gets a record of its own.
 */
export function placeCommand<Field extends PlacementField>(
  fitting: FittingPlacement,
  at: 'opening' | 'typical',
  field: Field,
  value: Placement[Field],
): PlacingChange {
  const before = at === 'opening' ? fitting.own : fitting.ofTypical
  const where = at === 'opening' ? `on ${fitting.mark}` : `of ${fitting.typicalName ?? 'its typical'}`
  const name = `Set ${fieldWords[field]} of ${fitting.tag} ${where}`
  const change: PlacingChange = { does: 'change records', name, add: [], set: [], remove: [] }
  if (before !== null) {
    const after = { ...before, [field]: value }
    // A placement that says nothing is none.
    if (placementFields.every((each) => after[each] === null))
      change.remove.push({ kind: 'placement', id: before.id })
    else change.set.push({ kind: 'placement', id: before.id, fields: { [field]: value } })
    return change
  }
  if (value === null) return change
  const needsFitting = at === 'opening' && fitting.fittingId === null
  if (needsFitting) change.add.push({ kind: 'fitting', record: followingFitting(fitting) })
  change.add.push({
    kind: 'placement',
    record: {
      id: 'new:placement',
      partId: null,
      typicalFittingId: at === 'typical' ? fitting.typicalFittingId : null,
      fittingId: at === 'typical' ? null : (fitting.fittingId ?? 'new:fitting'),
      place: null,
      side: null,
      heightMicrometres: null,
      acrossMicrometres: null,
      [field]: value,
    },
  })
  return change
}

/** A fitting that says nothing of its own yet; the same as in core/settings, whose edits are no commands. */
const followingFitting = ({ openingId, typicalFittingId, position }: FittingPlacement): Fields => ({
  id: 'new:fitting',
  openingId,
  leafId: null,
  typicalFittingId,
  position,
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

/** Says how deep the flat underside of an opening's frame head is; null is not known. */
export function soffitCommand(
  opening: Pick<Opening, 'id' | 'mark'>,
  before: JobRecord<'openingFrame'> | null,
  headSoffitMicrometres: number | null,
): PlacingChange {
  const change: PlacingChange = {
    does: 'change records',
    name: `Set soffit of the frame head of ${opening.mark}`,
    add: [],
    set: [],
    remove: [],
  }
  if (before !== null)
    change.set.push({ kind: 'openingFrame', id: before.id, fields: { headSoffitMicrometres } })
  else if (headSoffitMicrometres !== null)
    change.add.push({
      kind: 'openingFrame',
      record: { id: 'new:frame', openingId: opening.id, headSoffitMicrometres },
    })
  return change
}

/** Whether a change of a placement changes anything. */
export const changesSomething = ({ add, set, remove }: PlacingChange): boolean =>
  add.length + set.length + remove.length > 0

export const isPlace = (text: string): text is FittingPlace =>
  (fittingPlaces as readonly string[]).includes(text)
