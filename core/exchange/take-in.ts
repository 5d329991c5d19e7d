// Turns an accepted take-in into one change of the job, so that one undo takes it back.
import {
  addRecord,
  asId,
  removeRecords,
  setFields,
  type Building,
  type Change,
  type Edit,
  type Id,
  type JobData,
  type Leaf,
  type Level,
  type Opening,
  type OpeningSource,
  type Space,
} from '../job/index.ts'
import {
  homeOf,
  leavesOf,
  typicalNamed,
  understoodTexts,
  type ComparedField,
  type ComparedItem,
  type Comparison,
} from './compare.ts'
import {
  sameKey,
  type UnderstoodFields,
  type UnderstoodOpening,
  type UnderstoodRoom,
  type Understanding,
} from './understanding.ts'

export type Decision = 'accept' | 'leave'

/** What a person chose; what is not named here follows the defaults. */
export interface TakeInDecisions {
  readonly items?: Readonly<Record<string, Decision>>
  /** By item key, then field. */
  readonly fields?: Readonly<Record<string, Readonly<Partial<Record<ComparedField, Decision>>>>>
}

/** Added and changed are accepted, gone and doubtful ones left. */
export function decisionFor(item: ComparedItem, decisions: TakeInDecisions): Decision {
  const chosen = decisions.items?.[item.key]
  if (chosen !== undefined) return chosen
  return item.kind === 'gone' || item.doubt !== null ? 'leave' : 'accept'
}

/** A field that a person edited since the last take-in is left. */
export function fieldDecisionFor(
  item: ComparedItem,
  field: ComparedField,
  decisions: TakeInDecisions,
): Decision {
  const chosen = decisions.fields?.[item.key]?.[field]
  if (chosen !== undefined) return chosen
  return item.changes.some((change) => change.field === field && change.editedSince) ? 'leave' : 'accept'
}

export interface TakeIn {
  readonly understanding: Understanding
  readonly comparison: Comparison
  readonly decisions: TakeInDecisions
  readonly data: JobData
  readonly newId: () => string
  /** The file's name, kept with every opening that comes from it. */
  readonly file: string
  /** Names the change for undo; else it is made of the counts. */
  readonly name?: string
}

export interface PlannedTakeIn {
  readonly change: Change
  readonly counts: { readonly added: number; readonly changed: number; readonly removed: number }
}

const withoutLevel = 'Level not given'

/** Buildings, levels and rooms by name: those of the job, and those this take-in adds. */
class Places {
  readonly edits: Edit[] = []
  readonly #data: JobData
  readonly #newId: () => string
  readonly #buildings = new Map<string, Building>()
  readonly #levels = new Map<string, Level>()
  readonly #spaces = new Map<string, Space>()
  readonly #levelsOfSource: Understanding['levels']
  readonly #addedNames: Set<string>

  constructor(takeIn: TakeIn) {
    this.#data = takeIn.data
    this.#newId = takeIn.newId
    this.#levelsOfSource = takeIn.understanding.levels
    this.#addedNames = new Set()
    const { data } = takeIn
    for (const building of byPosition(data.all('building')))
      keepFirst(this.#buildings, sameKey(building.name), building)
    for (const level of byPosition(data.all('level')))
      keepFirst(this.#levels, keyUnder(level.buildingId, level.name), level)
    for (const space of data.all('space'))
      keepFirst(this.#spaces, keyUnder(space.levelId, space.number), space)
  }

  building(name: string): Building {
    const known = this.#buildings.get(sameKey(name))
    if (known !== undefined) return known
    const added: Building = {
      id: asId<'building'>(this.#newId()),
      name: name.slice(0, 400),
      position: after([...this.#buildings.values()]),
      address: null,
      sourceId: null,
      notes: null,
    }
    this.#buildings.set(sameKey(added.name), added)
    this.edits.push(addRecord('building', added))
    return added
  }

  level(buildingName: string, levelName: string): Level {
    const building = this.building(buildingName)
    const name = (levelName === '' ? withoutLevel : levelName).slice(0, 400)
    const known = this.#levels.get(keyUnder(building.id, name))
    if (known !== undefined) return known
    const source = this.#levelsOfSource.find((each) => sameKey(each.name) === sameKey(name))
    const added: Level = {
      id: asId<'level'>(this.#newId()),
      buildingId: building.id,
      name,
      position: after([...this.#levels.values()].filter((each) => each.buildingId === building.id)),
      elevationMetres: source?.elevationMetres ?? null,
      sourceId: source?.sourceId ?? null,
    }
    this.#levels.set(keyUnder(building.id, name), added)
    this.edits.push(addRecord('level', added))
    return added
  }

  /** The room of this number on its level, added when it is new; a room without a name gets the source's. */
  space(room: UnderstoodRoom, level: Level): Id<'space'> {
    const known = this.#spaces.get(keyUnder(level.id, room.number))
    if (known === undefined) {
      const added: Space = {
        id: asId<'space'>(this.#newId()),
        levelId: level.id,
        number: room.number.slice(0, 400),
        name: room.name,
        sourceId: room.sourceId ?? null,
      }
      this.#spaces.set(keyUnder(level.id, room.number), added)
      this.#addedNames.add(added.id)
      this.edits.push(addRecord('space', added))
      return added.id
    }
    if (known.name === null && room.name !== null && !this.#addedNames.has(known.id)) {
      const edit = setFields('space', known, { name: room.name })
      if (edit !== null) this.edits.push(edit)
      this.#spaces.set(keyUnder(level.id, room.number), { ...known, name: room.name })
    }
    return known.id
  }

  typical(name: string | null): Id<'typical'> | null {
    const id = name === null ? undefined : typicalNamed(this.#data, name)
    return id === undefined ? null : asId<'typical'>(id)
  }
}

const keyUnder = (parent: string, name: string): string => `${parent} ${sameKey(name)}`
const byPosition = <T extends { readonly position: number }>(records: Iterable<T>): T[] =>
  [...records].toSorted((a, b) => a.position - b.position)
const after = (records: readonly { readonly position: number }[]): number =>
  records.reduce((next, each) => Math.max(next, each.position + 1), 0)
function keepFirst<T>(map: Map<string, T>, key: string, value: T): void {
  if (!map.has(key)) map.set(key, value)
}

/**
 * The change that carries out what a person accepted: buildings, levels and rooms first, then openings with their leaves,
 * then removals of what they chose to remove. Fields they left keep their values.
 */
export function planTakeIn(takeIn: TakeIn): PlannedTakeIn {
  const { understanding, comparison, decisions, data } = takeIn
  const places = new Places(takeIn)
  const edits: Edit[] = []
  const removals: string[] = []
  const counts = { added: 0, changed: 0, removed: 0 }
  addLevelsInOrder(takeIn, places)
  for (const item of comparison.items) {
    if (decisionFor(item, decisions) === 'leave') continue
    const each = item.index === null ? undefined : understanding.openings[item.index]
    switch (item.kind) {
      case 'added':
        if (each === undefined) break
        edits.push(...addOpening(takeIn, each, places))
        counts.added += 1
        break
      case 'changed':
      case 'same': {
        const opening = item.openingId === null ? undefined : data.get('opening', item.openingId)
        if (each === undefined || opening === undefined) break
        const made = changeOpening(takeIn, item, each, opening, places)
        edits.push(...made)
        if (item.kind === 'changed' && made.length > 0) counts.changed += 1
        break
      }
      case 'gone':
        if (item.openingId === null) break
        removals.push(item.openingId)
        counts.removed += 1
        break
    }
  }
  const removed = removeRecords(data, 'opening', removals)
  const name = takeIn.name ?? takeInName(takeIn.file, counts)
  return { change: { name, edits: [...places.edits, ...edits, ...removed.edits] }, counts }
}

function takeInName(file: string, counts: PlannedTakeIn['counts']): string {
  const parts = [
    counts.added > 0 ? `${counts.added} added` : '',
    counts.changed > 0 ? `${counts.changed} changed` : '',
    counts.removed > 0 ? `${counts.removed} removed` : '',
  ].filter((part) => part !== '')
  return `Take in ${file}: ${parts.length === 0 ? 'nothing changed' : parts.join(', ')}`
}

/** New levels are added from the ground up where the source gives heights, else in its order. */
function addLevelsInOrder(takeIn: TakeIn, places: Places): void {
  const { understanding, comparison, decisions, data } = takeIn
  const order = new Map(understanding.levels.map((level, index) => [sameKey(level.name), { level, index }]))
  const needed = comparison.items.flatMap((item) => {
    const each = item.index === null ? undefined : understanding.openings[item.index]
    if (each === undefined || decisionFor(item, decisions) === 'leave') return []
    const moves = item.changes.some((change) => change.field === 'level')
    if (item.kind !== 'added' && !(moves && fieldDecisionFor(item, 'level', decisions) === 'accept'))
      return []
    const opening = item.openingId === null ? undefined : data.get('opening', item.openingId)
    return [homeOf(data, each, opening)]
  })
  const different = new Map(
    needed.map((home) => [JSON.stringify([home.building, home.level].map(sameKey)), home]),
  )
  const rank = (name: string): [height: number, index: number] => {
    const found = order.get(sameKey(name))
    return [found?.level.elevationMetres ?? 0, found?.index ?? Infinity]
  }
  const allHigh = [...different.values()].every(
    (home) =>
      order.get(sameKey(home.level))?.level.elevationMetres !== undefined &&
      order.get(sameKey(home.level))?.level.elevationMetres !== null,
  )
  const sorted = [...different.values()].toSorted((a, b) => {
    const [heightA, indexA] = rank(a.level)
    const [heightB, indexB] = rank(b.level)
    return (allHigh ? heightA - heightB : 0) || (indexA === indexB ? 0 : indexA - indexB)
  })
  for (const home of sorted) places.level(home.building, home.level)
}

function sourceOf(takeIn: TakeIn, each: UnderstoodOpening, opening?: Opening): OpeningSource {
  return {
    file: takeIn.file,
    place: each.place,
    cells: { ...each.cells },
    understood: { ...opening?.source?.understood, ...understoodTexts(takeIn.data, each, opening) },
  }
}

/** The room a field names, on its own level where the source says so. */
function spaceOf(
  room: UnderstoodRoom | null | undefined,
  building: string,
  level: Level,
  places: Places,
): Id<'space'> | null {
  if (room === null || room === undefined) return null
  const its = room.level === null || room.level === undefined ? level : places.level(building, room.level)
  return places.space(room, its)
}

function addOpening(takeIn: TakeIn, each: UnderstoodOpening, places: Places): Edit[] {
  const { fields } = each
  const home = homeOf(takeIn.data, each)
  const level = places.level(home.building, home.level)
  const id = asId<'opening'>(takeIn.newId())
  const opening: Opening = {
    id,
    levelId: level.id,
    mark: fields.mark,
    whereText: fields.whereText ?? null,
    toSpaceId: spaceOf(fields.toRoom, home.building, level, places),
    fromSpaceId: spaceOf(fields.fromRoom, home.building, level, places),
    widthMicrometres: fields.widthMicrometres ?? null,
    heightMicrometres: fields.heightMicrometres ?? null,
    thicknessMicrometres: fields.thicknessMicrometres ?? null,
    hand: fields.hand ?? null,
    doorType: fields.doorType ?? null,
    frameMaterial: fields.frameMaterial ?? null,
    fireLabelMinutes: fields.fireLabelMinutes ?? null,
    fireLabelClass: fields.fireLabelClass ?? null,
    hardwareSet: fields.hardwareSet ?? null,
    typicalId: places.typical(fields.typical ?? null),
    furnishedBy: fields.furnishedBy ?? null,
    fittedBy: fields.fittedBy ?? null,
    wiredBy: fields.wiredBy ?? null,
    terminatedBy: fields.terminatedBy ?? null,
    serial: fields.serial ?? null,
    assetTag: fields.assetTag ?? null,
    installedOn: fields.installedOn ?? null,
    notes: fields.notes ?? null,
    sourceId: fields.sourceId ?? null,
    source: sourceOf(takeIn, each),
  }
  const material = fields.doorMaterial ?? null
  const count = fields.leaves ?? (material === null ? 0 : 1)
  const leaves = Array.from({ length: count }, (_, position) =>
    addRecord('leaf', newLeaf(takeIn.newId, id, position, count, material)),
  )
  return [addRecord('opening', opening), ...leaves]
}

const roleAt = (position: number, count: number): Leaf['role'] =>
  count === 1 ? 'only' : position === 0 ? 'active' : 'inactive'

const newLeaf = (
  newId: () => string,
  openingId: Id<'opening'>,
  position: number,
  count: number,
  material: string | null,
): Leaf => ({
  id: asId<'leaf'>(newId()),
  openingId,
  position,
  role: roleAt(position, count),
  widthMicrometres: null,
  material,
})

function changeOpening(
  takeIn: TakeIn,
  item: ComparedItem,
  each: UnderstoodOpening,
  opening: Opening,
  places: Places,
): Edit[] {
  const accepted = new Set(
    item.changes
      .map((change) => change.field)
      .filter((field) => fieldDecisionFor(item, field, takeIn.decisions) === 'accept'),
  )
  const { fields } = each
  const home = homeOf(takeIn.data, each, opening)
  const nowOn = takeIn.data.get('level', opening.levelId)
  const level = accepted.has('level') || nowOn === undefined ? places.level(home.building, home.level) : nowOn
  const to: Partial<Opening> = accepted.has('level') ? { levelId: level.id } : {}
  for (const field of accepted) Object.assign(to, valueOf(field, fields, places))
  if (accepted.has('toRoom')) to.toSpaceId = spaceOf(fields.toRoom, home.building, level, places)
  if (accepted.has('fromRoom')) to.fromSpaceId = spaceOf(fields.fromRoom, home.building, level, places)
  const source = sourceOf(takeIn, each, opening)
  // An unchanged opening is touched only when the source now says more than it did.
  const saysMore = !sameTexts(source.understood, opening.source?.understood ?? {})
  if (item.kind === 'changed' || saysMore) to.source = source
  const edit = setFields('opening', opening, to)
  return [...(edit === null ? [] : [edit]), ...changeLeaves(takeIn, opening, accepted, fields)]
}

function sameTexts(a: Readonly<Record<string, string>>, b: Readonly<Record<string, string>>): boolean {
  const keys = Object.keys(a)
  return keys.length === Object.keys(b).length && keys.every((key) => a[key] === b[key])
}

/** The record fields that a compared field sets. Rooms, level and leaves have their own ways. */
function valueOf(field: ComparedField, fields: UnderstoodFields, places: Places): Partial<Opening> {
  switch (field) {
    case 'level':
    case 'toRoom':
    case 'fromRoom':
    case 'leaves':
    case 'doorMaterial':
      return {}
    case 'mark':
      return { mark: fields.mark }
    case 'where':
      return { whereText: fields.whereText ?? null }
    case 'width':
      return { widthMicrometres: fields.widthMicrometres ?? null }
    case 'height':
      return { heightMicrometres: fields.heightMicrometres ?? null }
    case 'thickness':
      return { thicknessMicrometres: fields.thicknessMicrometres ?? null }
    case 'hand':
      return { hand: fields.hand ?? null }
    case 'fireLabel':
      return {
        fireLabelMinutes: fields.fireLabelMinutes ?? null,
        fireLabelClass: fields.fireLabelClass ?? null,
      }
    case 'typical':
      return { typicalId: places.typical(fields.typical ?? null) }
    default:
      return { [field]: fields[field] ?? null }
  }
}

function changeLeaves(
  takeIn: TakeIn,
  opening: Opening,
  accepted: ReadonlySet<ComparedField>,
  fields: UnderstoodFields,
): Edit[] {
  if (!accepted.has('leaves') && !accepted.has('doorMaterial')) return []
  const now = leavesOf(takeIn.data, opening)
  const material = accepted.has('doorMaterial') ? (fields.doorMaterial ?? null) : (now[0]?.material ?? null)
  const wanted = accepted.has('leaves') ? (fields.leaves ?? 0) : now.length
  const count = wanted === 0 && material !== null ? 1 : wanted
  const edits: Edit[] = []
  for (const [position, leaf] of now.slice(0, count).entries()) {
    const to: Partial<Leaf> = accepted.has('doorMaterial') ? { material } : {}
    if (accepted.has('leaves')) to.role = roleAt(position, count)
    const edit = setFields('leaf', leaf, to)
    if (edit !== null) edits.push(edit)
  }
  for (let position = now.length; position < count; position += 1)
    edits.push(addRecord('leaf', newLeaf(takeIn.newId, opening.id, position, count, material)))
  const surplus = now.slice(count).map((leaf) => leaf.id)
  return surplus.length === 0 ? edits : [...edits, ...removeRecords(takeIn.data, 'leaf', surplus).edits]
}
