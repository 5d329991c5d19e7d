// From a job's records to what preparation is worked out from.
import {
  effectiveFittings,
  type EffectiveFitting,
  type Hand,
  type JobData,
  type JobRecord,
  type Leaf,
  type Opening,
} from '../job/index.ts'
import { swingAt } from './hang.ts'
import type {
  Body,
  DoorToPrepare,
  FittingToPrepare,
  LeafToPrepare,
  Pattern,
  PatternHole,
  Preparations,
  Side,
} from './model.ts'
import { placementValues } from './placing.ts'
import { prepareDoor } from './prepare.ts'

const inOrder = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : one.id > other.id ? 1 : 0)

function holeOf(data: JobData, hole: JobRecord<'partHole'>): PatternHole {
  const { partPatternId: _pattern, position: _position, ...rest } = hole
  const [cutOut] = data.referring('partCutOut', 'partHoleId', hole.id)
  if (cutOut === undefined || cutOut.widthMicrometres === null || cutOut.heightMicrometres === null)
    return rest
  const { widthMicrometres, heightMicrometres } = cutOut
  return { ...rest, cutOut: { widthMicrometres, heightMicrometres } }
}

/** One pattern for each place it fits; without a word on where it fits its swing is not known. */
function patternsOf(data: JobData, partId: string): Pattern[] {
  return data
    .referring('partPattern', 'partId', partId)
    .toSorted(inOrder)
    .flatMap((pattern): Pattern[] => {
      const holes = data
        .referring('partHole', 'partPatternId', pattern.id)
        .toSorted(inOrder)
        .map((hole) => holeOf(data, hole))
      const { id, name, substrate, notes } = pattern
      const base = { id, name, substrate, notes, holes }
      const fits = data.referring('partPatternFit', 'partPatternId', pattern.id)
      if (fits.length === 0)
        return [{ ...base, on: null, swing: null, leaves: null, bodyName: null, edgeMicrometres: null }]
      return fits
        .toSorted((one, other) => (one.id < other.id ? -1 : 1))
        .map((fit) => ({
          ...base,
          on: fit.goesOn,
          swing: fit.swing ?? 'either',
          leaves: fit.leaves,
          bodyName: data.get('partBody', fit.partBodyId ?? '')?.name ?? null,
          edgeMicrometres: fit.edgeMicrometres,
        }))
    })
}

const bodiesOf = (data: JobData, partId: string): Body[] =>
  data
    .referring('partBody', 'partId', partId)
    .toSorted(inOrder)
    .map(({ name, widthMicrometres, heightMicrometres, depthMicrometres, clearMicrometres, clearSide }) => ({
      name,
      widthMicrometres,
      heightMicrometres,
      depthMicrometres,
      clearMicrometres,
      clearSide,
    }))

/** A part all of whose patterns are for one swing stands on the side with that swing, whoever places it. */
function sideByPatterns(hand: Hand | null, patterns: readonly Pattern[]): Side | null {
  const [swing, another] = new Set(patterns.map((each) => each.swing))
  if (hand === null || another !== undefined) return null
  return (['keyed', 'egress'] as const).find((side) => swingAt(hand, side) === swing) ?? null
}

function leafRole(
  data: JobData,
  { fitting, slot }: EffectiveFitting,
  leaves: readonly Leaf[],
): FittingToPrepare['leaf'] {
  const own = leaves.find(({ id }) => id === fitting?.leafId)?.role
  if (own === 'active' || own === 'inactive') return own
  const typicalFittingId = slot?.id ?? fitting?.typicalFittingId ?? null
  if (typicalFittingId === null) return null
  return data.referring('typicalFittingLeaf', 'typicalFittingId', typicalFittingId)[0]?.leaf ?? null
}

/** An opening as preparation sees it; fittings left out on purpose or without a part are not there. */
export function doorFromJob(data: JobData, opening: Opening): DoorToPrepare {
  const leaves = data.referring('leaf', 'openingId', opening.id).toSorted(inOrder)
  const { mark, hand, widthMicrometres, heightMicrometres, thicknessMicrometres, frameMaterial } = opening
  return {
    mark,
    units: data.job.units,
    hand,
    widthMicrometres,
    heightMicrometres,
    thicknessMicrometres,
    frameMaterial,
    fireLabelMinutes: opening.fireLabelMinutes,
    headSoffitMicrometres:
      data.referring('openingFrame', 'openingId', opening.id)[0]?.headSoffitMicrometres ?? null,
    leaves: leaves.map(({ role, widthMicrometres: width, material }): LeafToPrepare => ({
      role,
      widthMicrometres: width,
      material,
    })),
    fittings: effectiveFittings(data, opening).flatMap((each): FittingToPrepare[] => {
      if (each.leftOut || each.part === null) return []
      const patterns = patternsOf(data, each.part.id)
      const placement = placementValues(data, each)
      return [
        {
          key: each.key,
          tag: each.tag,
          partName: each.part.name,
          leaf: leafRole(data, each, leaves),
          ...placement,
          side: placement.side ?? sideByPatterns(hand, patterns),
          patterns,
          bodies: bodiesOf(data, each.part.id),
        },
      ]
    }),
  }
}

/** What is drilled on one opening; null where the opening is gone. */
export function preparationsOf(data: JobData, openingId: string): Preparations | null {
  const opening = data.get('opening', openingId)
  return opening === undefined ? null : prepareDoor(doorFromJob(data, opening))
}
