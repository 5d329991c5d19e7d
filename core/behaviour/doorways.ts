// The doorways of a job, read once: openings that do not differ share one, and an edit drops only what it reaches.
import type { Edit, JobData, JobRecord, Opening, RecordKind } from '../job/index.ts'
import { declaredInJob } from './declared-in-job.ts'
import type { DeclaredParts } from './declarations.ts'
import {
  doorwayOf,
  laterFirst,
  leavesOf,
  stagesCounted,
  supplyByRuns,
  type DoorwayAnswer,
  type DoorwayOptions,
  type KeyedLeaf,
} from './from-job.ts'

/** Which openings may have another doorway now. */
export type TouchedOpenings = 'all' | ReadonlySet<string>

export interface Doorways {
  /** The doorway of an opening; the same value for openings that do not differ. */
  readonly of: (opening: Opening) => DoorwayAnswer
  /** Tells what was changed, after the data took it. */
  readonly changed: (edits: readonly Edit[]) => TouchedOpenings
  /** What the options say may be otherwise: batteries were worked out anew. Doorways are built again, keys are kept. */
  readonly renew: () => void
}

/** Kinds that say what parts, typicals and supplies are: any doorway may rest on them, no opening's own key does. */
const shared: ReadonlySet<RecordKind> = new Set<RecordKind>([
  'part',
  'partSetting',
  'partPosition',
  'partSettingTable',
  'partSettingTableRow',
  'partContact',
  'partContactState',
  'partContactTiming',
  'partBehaviour',
  'partHardware',
  'partElement',
  'settingEffect',
  'typicalFitting',
  'typicalFittingLeaf',
  'supply',
  'controller',
])

/** Reads doorways as `doorwayOf` does, from the job's own declarations. */
export function doorwaysOf(data: JobData, options: Omit<DoorwayOptions, 'declared'>): Doorways {
  let declared: DeclaredParts | null = null
  /** By key. Null: this arrangement's doorway names records of its opening, so nobody can share it. */
  let byKey = new Map<string, DoorwayAnswer | null>()
  let own = new Map<string, DoorwayAnswer>()
  const keys = new Map<string, string | null>()
  const stages = stagesCounted[options.stage].flat()

  const build = (opening: Opening): DoorwayAnswer =>
    doorwayOf(data, opening, { ...options, declared: (declared ??= declaredInJob(data)) })

  const ownOf = (opening: Opening): DoorwayAnswer => {
    const answer = own.get(opening.id) ?? build(opening)
    own.set(opening.id, answer)
    return answer
  }

  const of = (opening: Opening): DoorwayAnswer => {
    let key = keys.get(opening.id)
    if (key === undefined) keys.set(opening.id, (key = keyOf(data, opening, stages)))
    if (key === null) return ownOf(opening)
    const found = byKey.get(key)
    if (found === null) return ownOf(opening)
    if (found !== undefined) return found
    const answer = build(opening)
    const isOwn = answer.ok && answer.namesRecords
    byKey.set(key, isOwn ? null : answer)
    return isOwn ? ownOf(opening) : answer
  }

  const renew = (): void => {
    declared = null
    byKey = new Map()
    own = new Map()
  }

  const changed = (edits: readonly Edit[]): TouchedOpenings => {
    const openings = new Set<string>()
    let all = false
    for (const edit of edits) {
      if (shared.has(edit.kind)) all = true
      if (edit.kind === 'leafOverlap') declared = null
      for (const record of recordsOf(data, edit)) {
        // What a typical's fitting is set to, or linked to, is the typical's.
        if (record['typicalFittingId'] != null && edit.kind === 'settingValue') all = true
        if (record['typicalId'] != null && edit.kind === 'link') all = true
        for (const id of openingsReached(data, edit.kind, record)) openings.add(id)
      }
    }
    for (const id of openings) {
      keys.delete(id)
      own.delete(id)
    }
    if (all) renew()
    return all ? 'all' : openings
  }

  return { of, changed, renew }
}

/**
 * What an opening has of its own that its doorway rests on, as text: two openings with the same text have the same
 * doorway. Null where it has links of its own.
 */
function keyOf(data: JobData, opening: Opening, stages: readonly string[]): string | null {
  if (data.countReferring('link', 'openingId', opening.id) > 0) return null
  const leaves = leavesOf(data, opening)
  let key = opening.typicalId ?? ''
  for (const leaf of leaves) key += `\n${leaf.role === 'inactive' ? overlapOf(data, leaf) : leaf.role}`
  const fittings = data.referring('fitting', 'openingId', opening.id)
  if (fittings.length > 1) fittings.sort(byPosition)
  for (const fitting of fittings) key += `\n${fittingKey(data, fitting, leaves, stages)}`
  return key
}

type Ordered = Pick<JobRecord<'fitting' | 'point'>, 'id' | 'position'>
const byPosition = (one: Ordered, other: Ordered): number =>
  one.position - other.position || (one.id < other.id ? -1 : 1)

function overlapOf(data: JobData, { role, recordId }: KeyedLeaf): string {
  const [overlap] = data.referring('leafOverlap', 'leafId', recordId)
  return `${role} ${overlap?.opensAfterActive ?? '?'}`
}

function fittingKey(
  data: JobData,
  fitting: JobRecord<'fitting'>,
  leaves: readonly KeyedLeaf[],
  stages: readonly string[],
): string {
  const { id, typicalFittingId, leafId, tag, partId, leftOut } = fitting
  let key = typicalFittingId ?? ''
  if (leafId !== null) key += `\ton ${leaves.findIndex(({ recordId }) => recordId === leafId)}`
  if (tag !== null) key += `\ttag ${JSON.stringify(tag)}`
  if (partId !== null) key += `\tpart ${partId}`
  if (leftOut) key += '\tleft out'
  if (data.countReferring('settingValue', 'fittingId', id) > 0)
    for (const value of data.referring('settingValue', 'fittingId', id).toSorted(laterFirst))
      if (stages.includes(value.stage))
        key += `\tset ${value.partSettingId} ${value.stage} ${JSON.stringify(value.value)}`
  if (data.countReferring('run', 'toFittingId', id) > 0) key += `\tfed by ${supplyByRuns(data, id)?.id ?? ''}`
  if (data.countReferring('point', 'fittingId', id) > 0) key += `\tat ${pointsAt(data, id)}`
  return key
}

/** The controllers with points at a fitting, and what was told of those points. */
const pointsAt = (data: JobData, fittingId: string): string =>
  data
    .referring('point', 'fittingId', fittingId)
    .toSorted(byPosition)
    .map((point) => `${point.controllerId}${toldOf(data, point)}`)
    .toSorted()
    .join(' ')

function toldOf(data: JobData, { id, direction, partContactId }: JobRecord<'point'>): string {
  if (direction === 'output') {
    const [relay] = data.referring('pointRelay', 'pointId', id)
    if (relay === undefined) return ''
    const { contact, energised, releasedInOpenHours, unlockSeconds } = relay
    return `:${contact}/${energised}/${releasedInOpenHours}/${unlockSeconds}`
  }
  const [terms] = data.referring('pointTerms', 'pointId', id)
  return terms?.normally == null ? '' : `:${partContactId}/${terms.normally}/${terms.wiredTo}`
}

type Fields = Readonly<Record<string, unknown>>

/** The record that an edit is about, before and after. */
function recordsOf(data: JobData, edit: Edit): readonly Fields[] {
  if (edit.does !== 'set') return [edit.record]
  const now = data.get(edit.kind, edit.id) as Fields | undefined
  return [
    { ...now, ...edit.from, id: edit.id },
    { ...now, ...edit.to, id: edit.id },
  ]
}

const text = (record: Fields, field: string): string | null => {
  const value = record[field]
  return typeof value === 'string' ? value : null
}

/** The openings whose doorway can rest on this record. A kind that is not named here reaches none. */
function openingsReached(data: JobData, kind: RecordKind, record: Fields): readonly string[] {
  const id = text(record, 'id') ?? ''
  switch (kind) {
    case 'opening':
      // Its mark stands in the doorway of the other door of an interlock.
      return [
        id,
        ...data.referring('fitting', 'openingId', id).flatMap((each) => interlockedWith(data, each.id)),
      ]
    case 'fitting':
      return [...openingIn(record), ...interlockedWith(data, id)]
    case 'leaf':
    case 'link':
      return openingIn(record)
    case 'leafOverlap':
      return openingIn(data.get('leaf', text(record, 'leafId') ?? ''))
    case 'settingValue':
    case 'point':
      return ofFitting(data, text(record, 'fittingId'))
    case 'pointRelay':
    case 'pointTerms':
      return ofFitting(data, data.get('point', text(record, 'pointId') ?? '')?.fittingId ?? null)
    case 'run': {
      const to = text(record, 'toFittingId')
      return to === null ? [] : [...ofFitting(data, to), ...fedThrough(data, to)]
    }
    case 'output':
      return data
        .referring('run', 'fromOutputId', id)
        .flatMap(({ toFittingId }) =>
          toFittingId === null ? [] : [...ofFitting(data, toFittingId), ...fedThrough(data, toFittingId)],
        )
    default:
      return []
  }
}

const openingIn = (record: Fields | undefined): readonly string[] => {
  const opening = record === undefined ? null : text(record, 'openingId')
  return opening === null ? [] : [opening]
}

const ofFitting = (data: JobData, fittingId: string | null): readonly string[] =>
  fittingId === null
    ? []
    : [...openingIn(data.get('fitting', fittingId)), ...interlockedWith(data, fittingId)]

/** Openings with a link of their own from this fitting. */
const interlockedWith = (data: JobData, fittingId: string): readonly string[] =>
  data.referring('link', 'fromFittingId', fittingId).flatMap(openingIn)

/** Openings of the fittings that are fed onward from this one. */
function fedThrough(data: JobData, fittingId: string): readonly string[] {
  const found: string[] = []
  const seen = new Set([fittingId])
  // A set that grows while it is walked: each fitting is visited once.
  for (const at of seen)
    for (const { toFittingId } of data.referring('run', 'fromFittingId', at))
      if (toFittingId !== null && !seen.has(toFittingId)) {
        seen.add(toFittingId)
        found.push(...ofFitting(data, toFittingId))
      }
  return found
}
