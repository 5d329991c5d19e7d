// A take-in beside the job: what would be added, what would change, what is the same, what the source no longer has.
import {
  type Building,
  writeFireLabel,
  writeLength,
  type JobData,
  type LabelClass,
  type Leaf,
  type Opening,
  type Units,
} from '../job/index.ts'
import { scheduleRow, type ScheduleRow } from '../schedule/index.ts'
import { targetNames, type TargetField } from './headings.ts'
import {
  sameKey,
  type UnderstoodFields,
  type UnderstoodOpening,
  type Understanding,
} from './understanding.ts'

/** What a comparison looks at, one by one. `level` is building and level together. */
export const comparedFields = [
  'mark',
  'level',
  'where',
  'toRoom',
  'fromRoom',
  'leaves',
  'width',
  'height',
  'thickness',
  'hand',
  'doorMaterial',
  'frameMaterial',
  'fireLabel',
  'doorType',
  'hardwareSet',
  'typical',
  'furnishedBy',
  'fittedBy',
  'wiredBy',
  'terminatedBy',
  'serial',
  'assetTag',
  'installedOn',
  'notes',
  'sourceId',
] as const satisfies readonly TargetField[]
export type ComparedField = (typeof comparedFields)[number]

export interface FieldChange {
  readonly field: ComparedField
  readonly label: string
  readonly was: string
  readonly becomes: string
  /** A person changed it after it was last taken in, so it is left unless they choose otherwise. */
  readonly editedSince: boolean
}

export interface ComparedItem {
  /** Stable within one comparison; decisions name it. */
  readonly key: string
  readonly kind: 'added' | 'changed' | 'same' | 'gone'
  /** Index into the understanding's openings; null when gone. */
  readonly index: number | null
  readonly openingId: string | null
  readonly mark: string
  readonly level: string | null
  readonly place: string | null
  readonly changes: readonly FieldChange[]
  /** Why a person should look before accepting; such items are left unless chosen. */
  readonly doubt: string | null
  /** Said for information. */
  readonly remarks: readonly string[]
}

export interface Comparison {
  readonly items: readonly ComparedItem[]
  readonly counts: Readonly<Record<ComparedItem['kind'], number>>
}

/** An understood value as one line of text, '' for nothing; undefined when the source does not say. */
export type Said = (fields: UnderstoodFields) => string | undefined

const text = (value: string | number | null | undefined): string | undefined =>
  value === undefined ? undefined : value === null ? '' : String(value)
const label = (minutes: number | null | undefined, letter: LabelClass | null | undefined): string =>
  minutes === null || minutes === undefined ? (letter ?? '') : `${minutes}${letter ?? ''}`

function roomSaid(room: UnderstoodFields['toRoom']): string | undefined {
  if (room === undefined) return undefined
  if (room === null) return ''
  return room.name === null ? room.number : `${room.number} ${room.name}`
}

const said: Readonly<Record<Exclude<ComparedField, 'level'>, Said>> = {
  mark: (fields) => fields.mark,
  where: (fields) => text(fields.whereText),
  toRoom: (fields) => roomSaid(fields.toRoom),
  fromRoom: (fields) => roomSaid(fields.fromRoom),
  leaves: (fields) => text(fields.leaves),
  width: (fields) => text(fields.widthMicrometres),
  height: (fields) => text(fields.heightMicrometres),
  thickness: (fields) => text(fields.thicknessMicrometres),
  hand: (fields) => text(fields.hand),
  doorMaterial: (fields) => text(fields.doorMaterial),
  frameMaterial: (fields) => text(fields.frameMaterial),
  fireLabel: (fields) =>
    fields.fireLabelMinutes === undefined && fields.fireLabelClass === undefined
      ? undefined
      : label(fields.fireLabelMinutes, fields.fireLabelClass),
  doorType: (fields) => text(fields.doorType),
  hardwareSet: (fields) => text(fields.hardwareSet),
  typical: (fields) => text(fields.typical),
  furnishedBy: (fields) => text(fields.furnishedBy),
  fittedBy: (fields) => text(fields.fittedBy),
  wiredBy: (fields) => text(fields.wiredBy),
  terminatedBy: (fields) => text(fields.terminatedBy),
  serial: (fields) => text(fields.serial),
  assetTag: (fields) => text(fields.assetTag),
  installedOn: (fields) => text(fields.installedOn),
  notes: (fields) => text(fields.notes),
  sourceId: (fields) => text(fields.sourceId),
}

const levelText = (building: string, level: string): string =>
  building === '' ? level : `${building}, ${level}`

/** The leaves of an opening in order. */
export const leavesOf = (data: JobData, opening: Opening): Leaf[] =>
  data.referring('leaf', 'openingId', opening.id).toSorted((a, b) => a.position - b.position)

/** What the job says now, in the same words as `said`. */
function nowText(data: JobData, opening: Opening, field: ComparedField): string {
  const room = (id: string | null): string => {
    const space = id === null ? undefined : data.get('space', id)
    return space === undefined ? '' : space.name === null ? space.number : `${space.number} ${space.name}`
  }
  switch (field) {
    case 'mark':
      return opening.mark
    case 'level': {
      const level = data.get('level', opening.levelId)
      const building = level === undefined ? undefined : data.get('building', level.buildingId)
      return levelText(building?.name ?? '', level?.name ?? '')
    }
    case 'where':
      return opening.whereText ?? ''
    case 'toRoom':
      return room(opening.toSpaceId)
    case 'fromRoom':
      return room(opening.fromSpaceId)
    case 'leaves': {
      const count = data.referring('leaf', 'openingId', opening.id).length
      return count === 0 ? '' : String(count)
    }
    case 'doorMaterial':
      return leavesOf(data, opening)[0]?.material ?? ''
    case 'width':
      return text(opening.widthMicrometres) ?? ''
    case 'height':
      return text(opening.heightMicrometres) ?? ''
    case 'thickness':
      return text(opening.thicknessMicrometres) ?? ''
    case 'fireLabel':
      return label(opening.fireLabelMinutes, opening.fireLabelClass)
    case 'typical':
      return opening.typicalId === null ? '' : (data.get('typical', opening.typicalId)?.name ?? '')
    default:
      return opening[field] ?? ''
  }
}

/** Whether two texts of a field say the same; names of places and typicals do whatever their case. */
function agree(field: ComparedField, now: string, next: string, fields: UnderstoodFields): boolean {
  if (now === next) return true
  switch (field) {
    case 'level':
    case 'typical':
      return sameKey(now) === sameKey(next)
    case 'toRoom':
    case 'fromRoom': {
      const room = fields[field]
      // A source that gives the number alone does not deny the name.
      if (room !== null && room !== undefined && room.name === null)
        return sameKey(now) === sameKey(room.number) || sameKey(now).startsWith(`${sameKey(room.number)} `)
      return sameKey(now) === sameKey(next)
    }
    default:
      return false
  }
}

/** A field's text as people read it. */
function shown(field: ComparedField, value: string, units: Units): string {
  if (value === '') return ''
  switch (field) {
    case 'width':
      return writeLength(Number(value), units, { as: 'doorWidth' })
    case 'height':
      return writeLength(Number(value), units, { as: 'doorHeight' })
    case 'thickness':
      return writeLength(Number(value), units, { as: 'thickness', style: 'inches' })
    case 'fireLabel': {
      const found = /^(\d*)([A-E]?)$/.exec(value)
      const minutes = found?.[1] ? Number(found[1]) : null
      return writeFireLabel({ minutes, class: (found?.[2] || null) as LabelClass | null })
    }
    default:
      return value
  }
}

/** What a building is called when neither the source nor the job names one. */
export const unnamedBuilding = 'Building'

const buildingOf = (data: JobData, opening: Opening | undefined): string | undefined => {
  const level = opening === undefined ? undefined : data.get('level', opening.levelId)
  return level === undefined ? undefined : data.get('building', level.buildingId)?.name
}

/** The job's first building by position. */
function firstBuilding(data: JobData): string {
  let first: Building | undefined
  for (const building of data.all('building'))
    if (first === undefined || building.position < first.position) first = building
  return first?.name ?? unnamedBuilding
}

/**
 * The building and level an understood opening belongs on, by name. Where the source names no building it stays in the one
 * it is in, or goes to the job's first. Level is '' where the source names none.
 */
export function homeOf(
  data: JobData,
  each: UnderstoodOpening,
  opening?: Opening,
): { building: string; level: string } {
  const building = each.building ?? buildingOf(data, opening) ?? firstBuilding(data)
  return { building, level: each.level ?? '' }
}

/** Everything said about an opening, as kept with it for the next comparison. */
export function understoodTexts(
  data: JobData,
  each: UnderstoodOpening,
  opening?: Opening,
): Record<string, string> {
  const texts: Record<string, string> = {}
  for (const field of comparedFields) {
    const value = saidText(data, each, field, opening)
    if (value !== undefined) texts[field] = value
  }
  return texts
}

function saidText(
  data: JobData,
  each: UnderstoodOpening,
  field: ComparedField,
  opening: Opening | undefined,
): string | undefined {
  if (field !== 'level') return said[field](each.fields)
  const { building, level } = homeOf(data, each, opening)
  return level === '' ? undefined : levelText(building, level)
}

/** What the schedule shows where the opening itself says nothing: the typical's trades, a place made of the rooms. */
function shownAnyway(row: ScheduleRow, field: ComparedField): string {
  switch (field) {
    case 'where':
    case 'furnishedBy':
    case 'fittedBy':
    case 'wiredBy':
    case 'terminatedBy':
      return row[field] ?? ''
    default:
      return ''
  }
}

function changesOf(data: JobData, opening: Opening, each: UnderstoodOpening): FieldChange[] {
  const units = data.job.units
  const before = opening.source?.understood ?? {}
  const changes: FieldChange[] = []
  let row: ScheduleRow | null = null
  for (const field of comparedFields) {
    const next = saidText(data, each, field, opening)
    if (next === undefined) continue
    const own = nowText(data, opening, field)
    if (agree(field, own, next, each.fields)) continue
    // A schedule that was written out and comes back says what it showed; that is no change.
    const now = own === '' ? shownAnyway((row ??= scheduleRow(data, opening)), field) : own
    // Our own workbooks give the opening's id where none came with it.
    if (now === next || (field === 'sourceId' && own === '' && next === opening.id)) continue
    const last = before[field]
    // An empty cell clears a value only when the source gave that value before.
    if (next === '' && (last === undefined || last === '')) continue
    if (field === 'typical' && next !== '' && typicalNamed(data, next) === undefined) continue
    const editedSince = last === undefined ? own !== '' : now !== last && sameKey(now) !== sameKey(last)
    changes.push({
      field,
      label: targetNames[field],
      was: shown(field, now, units),
      becomes: shown(field, next, units),
      editedSince,
    })
  }
  return changes
}

/** The typical of this name, whatever its case. */
export function typicalNamed(data: JobData, name: string): string | undefined {
  for (const typical of data.all('typical')) if (sameKey(typical.name) === sameKey(name)) return typical.id
  return undefined
}

interface Matches {
  /** Understood index to opening. */
  readonly pairs: ReadonlyMap<number, Opening>
  readonly doubts: ReadonlyMap<number, string>
  readonly doubtfulOpenings: ReadonlyMap<string, string>
}

function matchOpenings(
  data: JobData,
  openings: readonly UnderstoodOpening[],
  existing: readonly Opening[],
): Matches {
  const pairs = new Map<number, Opening>()
  const doubts = new Map<number, string>()
  const doubtfulOpenings = new Map<string, string>()
  const taken = new Set<string>()
  const pair = (index: number, opening: Opening): void => {
    pairs.set(index, opening)
    taken.add(opening.id)
  }
  /** Pairs what stands under one key on both sides; alike ones first, the rest only when one is left on each side. */
  const pairUnder = (
    keyed: Map<string, number[]>,
    its: Map<string, Opening[]>,
    sayDoubt: (key: string) => string,
  ): void => {
    for (const [key, indexes] of keyed) {
      const candidates = (its.get(key) ?? []).filter((opening) => !taken.has(opening.id))
      const left = indexes.filter((index) => !pairs.has(index))
      if (left.length > 1 || candidates.length > 1) {
        const byTexts = Map.groupBy(candidates, (opening) =>
          JSON.stringify(ordered(opening.source?.understood ?? {})),
        )
        for (const index of left) {
          const texts = understoodTexts(data, openings[index] as UnderstoodOpening, candidates[0])
          const alike = byTexts.get(JSON.stringify(texts))?.shift()
          if (alike !== undefined) pair(index, alike)
        }
      }
      const restMine = left.filter((index) => !pairs.has(index))
      const rest = candidates.filter((opening) => !taken.has(opening.id))
      const [first] = restMine
      const [only] = rest
      if (restMine.length === 1 && rest.length === 1 && first !== undefined && only !== undefined)
        pair(first, only)
      else if (restMine.length > 0 && rest.length > 0) {
        for (const index of restMine) doubts.set(index, sayDoubt(key))
        for (const opening of rest) doubtfulOpenings.set(opening.id, sayDoubt(key))
      }
    }
  }
  const group = (keyOf: (each: UnderstoodOpening) => string | null): Map<string, number[]> => {
    const found = new Map<string, number[]>()
    for (const [index, each] of openings.entries()) {
      const key = pairs.has(index) ? null : keyOf(each)
      if (key === null) continue
      const list = found.get(key)
      if (list === undefined) found.set(key, [index])
      else list.push(index)
    }
    return found
  }
  const groupOwn = (keyOf: (opening: Opening) => string | null): Map<string, Opening[]> => {
    const found = new Map<string, Opening[]>()
    for (const opening of existing) {
      const key = taken.has(opening.id) ? null : keyOf(opening)
      if (key === null) continue
      const list = found.get(key)
      if (list === undefined) found.set(key, [opening])
      else list.push(opening)
    }
    return found
  }

  pairUnder(
    group((each) => each.fields.sourceId ?? null),
    groupOwn((opening) => opening.sourceId ?? opening.id),
    (key) => `Several openings carry the source id ${key}, so it is not clear which is which.`,
  )
  const keyOf = (building: string, level: string, mark: string): string =>
    JSON.stringify([building, level, mark].map(sameKey))
  pairUnder(
    group((each) => {
      const { building, level } = homeOf(data, each)
      return level === '' ? null : keyOf(building, level, each.fields.mark)
    }),
    groupOwn((opening) => {
      const level = data.get('level', opening.levelId)
      const building = level === undefined ? undefined : data.get('building', level.buildingId)
      return level === undefined ? null : keyOf(building?.name ?? '', level.name, opening.mark)
    }),
    (key) =>
      `Several openings have the mark ${markIn(key)} on this level, so it is not clear which is which.`,
  )
  pairUnder(
    group((each) =>
      each.level !== null && each.building === null ? keyOf('', each.level, each.fields.mark) : null,
    ),
    groupOwn((opening) => keyOf('', data.get('level', opening.levelId)?.name ?? '', opening.mark)),
    (key) => `Several openings have the mark ${markIn(key)}, and the source names no building.`,
  )
  pairUnder(
    group((each) => (each.level === null ? sameKey(each.fields.mark) : null)),
    groupOwn((opening) => sameKey(opening.mark)),
    (key) => `Several openings have the mark ${key}, and the source names no level.`,
  )
  return { pairs, doubts, doubtfulOpenings }
}

const markIn = (key: string): string => String((JSON.parse(key) as string[])[2] ?? '')

/** A kept text record in the order that `understoodTexts` makes. */
function ordered(texts: Readonly<Record<string, string>>): Record<string, string> {
  const found: Record<string, string> = {}
  for (const field of comparedFields) {
    const value = texts[field]
    if (value !== undefined) found[field] = value
  }
  return found
}

/**
 * Compares what was understood with the job. Openings are matched by source id, else by building, level and mark (by mark
 * alone where the source names no level). Gone are openings once taken in, of the buildings the source speaks of.
 */
export function compareWithJob(understanding: Understanding, data: JobData): Comparison {
  const existing = [...data.all('opening')]
  const { openings } = understanding
  const { pairs, doubts, doubtfulOpenings } = matchOpenings(data, openings, existing)
  const items: ComparedItem[] = []
  const severalBuildings = data.count('building') > 1
  for (const [index, each] of openings.entries()) {
    const opening = pairs.get(index)
    const changes = opening === undefined ? [] : changesOf(data, opening, each)
    const remarks: string[] = []
    const typical = each.fields.typical
    if (typical !== null && typical !== undefined && typicalNamed(data, typical) === undefined)
      remarks.push(`There is no typical "${typical}" in this job; the name stays in the source cells.`)
    if (opening === undefined && each.building === null && severalBuildings)
      remarks.push('The source names no building; the first building is taken.')
    items.push({
      key: `opening ${index}`,
      kind: opening === undefined ? 'added' : changes.length > 0 ? 'changed' : 'same',
      index,
      openingId: opening?.id ?? null,
      mark: each.fields.mark,
      level: each.level,
      place: each.place,
      changes,
      doubt: doubts.get(index) ?? null,
      remarks,
    })
  }
  const matched = new Set<string>([...pairs.values()].map((opening) => opening.id))
  const spokenOf = new Set(openings.map((each) => sameKey(each.building ?? '')))
  for (const opening of existing) {
    if (matched.has(opening.id) || opening.source === null) continue
    const level = data.get('level', opening.levelId)
    const building = level === undefined ? undefined : data.get('building', level.buildingId)
    if (!spokenOf.has('') && !spokenOf.has(sameKey(building?.name ?? ''))) continue
    items.push({
      key: `gone ${opening.id}`,
      kind: 'gone',
      index: null,
      openingId: opening.id,
      mark: opening.mark,
      level: level?.name ?? null,
      place: null,
      changes: [],
      doubt: doubtfulOpenings.get(opening.id) ?? null,
      remarks: [],
    })
  }
  const counts = { added: 0, changed: 0, same: 0, gone: 0 }
  for (const item of items) counts[item.kind] += 1
  return { items, counts }
}
