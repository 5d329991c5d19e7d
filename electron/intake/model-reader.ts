// Doors and storeys of a building model (IFC2X3, IFC4, IFC4X3) from its Part 21 records. No geometry is read.
// Attribute positions: buildingSMART, IFC2X3_TC1.exp, IFC4_ADD2_TC1.exp, IFC4X3_ADD2.exp.

import type { PlainDoor, PlainModel, PlainStorey } from '../../core/exchange/index.ts'
import { doubtSentence, refused } from './problems.ts'
import type { IntakeDoubt, Read } from './problems.ts'
import { indexStep } from './step-reader.ts'
import type { StepFile, StepValue } from './step-reader.ts'

const DOOR_TYPES = ['IFCDOOR', 'IFCDOORSTANDARDCASE'] as const
const DOOR_KINDS = ['IFCDOORSTYLE', 'IFCDOORTYPE'] as const
const BOUNDARIES = [
  'IFCRELSPACEBOUNDARY',
  'IFCRELSPACEBOUNDARY1STLEVEL',
  'IFCRELSPACEBOUNDARY2NDLEVEL',
] as const
const WANTED: ReadonlySet<string> = new Set([
  ...DOOR_TYPES,
  ...DOOR_KINDS,
  ...BOUNDARIES,
  'IFCPROJECT',
  'IFCSITE',
  'IFCBUILDING',
  'IFCBUILDINGSTOREY',
  'IFCSPACE',
  'IFCRELAGGREGATES',
  'IFCRELCONTAINEDINSPATIALSTRUCTURE',
  'IFCRELFILLSELEMENT',
  'IFCRELVOIDSELEMENT',
  'IFCRELDEFINESBYPROPERTIES',
  'IFCRELDEFINESBYTYPE',
  'IFCPROPERTYSET',
  'IFCPROPERTYSINGLEVALUE',
  'IFCPROPERTYENUMERATEDVALUE',
  'IFCPROPERTYLISTVALUE',
  'IFCPROPERTYBOUNDEDVALUE',
  'IFCCOMPLEXPROPERTY',
  'IFCUNITASSIGNMENT',
  'IFCSIUNIT',
  'IFCCONVERSIONBASEDUNIT',
  'IFCCONVERSIONBASEDUNITWITHOFFSET',
  'IFCMEASUREWITHUNIT',
])

const SMALLEST_DOOR_MILLIMETRES = 300
const LARGEST_DOOR_MILLIMETRES = 10_000

type Attributes = readonly StepValue[]

function textAt(attributes: Attributes, index: number): string | null {
  const value = attributes[index]
  return value?.kind === 'text' && value.text !== '' ? value.text : null
}

function numberOf(value: StepValue | undefined): number | null {
  if (value?.kind === 'typed') return numberOf(value.value)
  return value?.kind === 'number' && Number.isFinite(value.value) ? value.value : null
}

function wordAt(attributes: Attributes, index: number): string | null {
  const value = attributes[index]
  return value?.kind === 'word' ? value.word : null
}

function referenceAt(attributes: Attributes, index: number): number | null {
  const value = attributes[index]
  return value?.kind === 'reference' ? value.id : null
}

/** References of a list, of a typed list (IfcPropertySetDefinitionSet) or one alone. */
function referencesOf(value: StepValue | undefined): number[] {
  if (value?.kind === 'reference') return [value.id]
  if (value?.kind === 'typed') return referencesOf(value.value)
  if (value?.kind === 'list') return value.items.flatMap(referencesOf)
  return []
}

// Prefixes of the SI (ISO 80000-1, table 4) as IfcSIPrefix spells them.
const SI_PREFIXES: ReadonlyMap<string, number> = new Map([
  ['EXA', 1e18],
  ['PETA', 1e15],
  ['TERA', 1e12],
  ['GIGA', 1e9],
  ['MEGA', 1e6],
  ['KILO', 1e3],
  ['HECTO', 1e2],
  ['DECA', 1e1],
  ['DECI', 1e-1],
  ['CENTI', 1e-2],
  ['MILLI', 1e-3],
  ['MICRO', 1e-6],
  ['NANO', 1e-9],
  ['PICO', 1e-12],
  ['FEMTO', 1e-15],
  ['ATTO', 1e-18],
])

/** Metres in one unit; null when the record is no unit of length. */
function metresOf(file: StepFile, id: number, depth = 0): number | null {
  const attributes = file.attributesOf(id)
  if (attributes === null || depth > 8) return null
  switch (file.typeOf(id)) {
    case 'IFCSIUNIT': {
      if (wordAt(attributes, 1) !== 'LENGTHUNIT' || wordAt(attributes, 3) !== 'METRE') return null
      const prefix = wordAt(attributes, 2)
      return prefix === null ? 1 : (SI_PREFIXES.get(prefix) ?? null)
    }
    case 'IFCCONVERSIONBASEDUNIT':
    case 'IFCCONVERSIONBASEDUNITWITHOFFSET': {
      if (wordAt(attributes, 1) !== 'LENGTHUNIT') return null
      const measureId = referenceAt(attributes, 3)
      const measure = measureId === null ? null : file.attributesOf(measureId)
      const factor = numberOf(measure?.[0])
      const baseId = measure === null ? null : referenceAt(measure, 1)
      const base = baseId === null ? null : metresOf(file, baseId, depth + 1)
      return factor === null || base === null || factor <= 0 ? null : factor * base
    }
    default:
      return null
  }
}

/** Metres in one unit of length of this model: the project's own assignment, else the first one. */
function lengthUnit(file: StepFile): number | null {
  const assignments: number[] = []
  for (const project of file.recordsOf('IFCPROJECT')) {
    const assigned = referenceAt(file.attributesOf(project) ?? [], 8)
    if (assigned !== null) assignments.push(assigned)
  }
  for (const assignment of [...assignments, ...file.recordsOf('IFCUNITASSIGNMENT')]) {
    for (const unit of referencesOf(file.attributesOf(assignment)?.[0])) {
      const metres = metresOf(file, unit)
      if (metres !== null) return metres
    }
  }
  return null
}

/** To 0.1 mm: exporters write 0.7619999999999989. */
function millimetres(value: number | null, metresPerUnit: number | null): number | null {
  if (value === null || metresPerUnit === null || value === 0) return null
  return Math.round(value * metresPerUnit * 10_000) / 10
}

/** A value as a person reads it: TRUE and FALSE as spreadsheets write them, numbers without noise, lists with commas. */
function valueText(value: StepValue | undefined): string | null {
  switch (value?.kind) {
    case undefined:
    case 'missing':
    case 'derived':
    case 'bits':
    case 'reference':
      return null
    case 'text':
      return value.text === '' ? null : value.text
    case 'number':
      return String(Number(value.value.toPrecision(15)))
    case 'word':
      return value.word === 'T'
        ? 'TRUE'
        : value.word === 'F'
          ? 'FALSE'
          : value.word === 'U'
            ? 'UNKNOWN'
            : value.word
    case 'typed':
      return valueText(value.value)
    case 'list': {
      const texts = value.items.map(valueText).filter((text) => text !== null)
      return texts.length === 0 ? null : texts.join(', ')
    }
  }
}

type Entries = ReadonlyMap<string, string>

function addProperty(
  file: StepFile,
  id: number,
  prefix: string,
  into: Map<string, string>,
  depth: number,
): void {
  const attributes = file.attributesOf(id)
  if (attributes === null || depth > 8) return
  const name = textAt(attributes, 0)
  if (name === null) return
  let text: string | null = null
  switch (file.typeOf(id)) {
    case 'IFCPROPERTYSINGLEVALUE':
    case 'IFCPROPERTYENUMERATEDVALUE':
    case 'IFCPROPERTYLISTVALUE':
      text = valueText(attributes[2])
      break
    case 'IFCPROPERTYBOUNDEDVALUE': {
      const bounds = [valueText(attributes[3]), valueText(attributes[2])].filter((bound) => bound !== null)
      text = bounds.length === 0 ? null : bounds.join(' to ')
      break
    }
    case 'IFCCOMPLEXPROPERTY':
      for (const inner of referencesOf(attributes[3]))
        addProperty(file, inner, `${prefix}${name}.`, into, depth + 1)
      return
    default:
      return
  }
  if (text !== null) into.set(prefix + name, text)
}

/** Property sets by record, each read once: thousands of doors share the sets of their type. */
function makeSetReader(
  file: StepFile,
): (id: number) => { readonly name: string; readonly entries: Entries } | null {
  const known = new Map<number, { readonly name: string; readonly entries: Entries } | null>()
  return (id) => {
    const met = known.get(id)
    if (met !== undefined) return met
    let set: { readonly name: string; readonly entries: Entries } | null = null
    const attributes = file.typeOf(id) === 'IFCPROPERTYSET' ? file.attributesOf(id) : null
    if (attributes !== null) {
      const entries = new Map<string, string>()
      for (const property of referencesOf(attributes[4])) addProperty(file, property, '', entries, 0)
      set = { name: textAt(attributes, 2) ?? '', entries }
    }
    known.set(id, set)
    return set
  }
}

interface Relations {
  readonly aggregateOf: ReadonlyMap<number, number>
  readonly containerOf: ReadonlyMap<number, number>
  readonly openingOf: ReadonlyMap<number, number>
  readonly hostOf: ReadonlyMap<number, number>
  readonly spacesOf: ReadonlyMap<number, readonly number[]>
  readonly kindOf: ReadonlyMap<number, number>
  readonly setsOf: ReadonlyMap<number, readonly number[]>
}

function pushTo(map: Map<number, number[]>, key: number, value: number): void {
  const list = map.get(key)
  if (list === undefined) map.set(key, [value])
  else if (!list.includes(value)) list.push(value)
}

function readRelations(file: StepFile, doors: ReadonlySet<number>, kinds: ReadonlySet<number>): Relations {
  const oneToMany = (type: string, oneAt: number, manyAt: number): Map<number, number> => {
    const map = new Map<number, number>()
    for (const id of file.recordsOf(type)) {
      const attributes = file.attributesOf(id)
      const one = attributes === null ? null : referenceAt(attributes, oneAt)
      if (attributes === null || one === null) continue
      for (const many of referencesOf(attributes[manyAt])) if (!map.has(many)) map.set(many, one)
    }
    return map
  }
  const spacesOf = new Map<number, number[]>()
  for (const boundary of BOUNDARIES.flatMap((type) => file.recordsOf(type)).sort((a, b) => a - b)) {
    const attributes = file.attributesOf(boundary)
    const space = attributes === null ? null : referenceAt(attributes, 4)
    const element = attributes === null ? null : referenceAt(attributes, 5)
    if (space === null || element === null || !doors.has(element)) continue
    if (file.typeOf(space) === 'IFCSPACE') pushTo(spacesOf, element, space)
  }
  const setsOf = new Map<number, number[]>()
  for (const id of file.recordsOf('IFCRELDEFINESBYPROPERTIES')) {
    const attributes = file.attributesOf(id)
    if (attributes === null) continue
    const objects = referencesOf(attributes[4]).filter((object) => doors.has(object) || kinds.has(object))
    if (objects.length === 0) continue
    for (const set of referencesOf(attributes[5])) for (const object of objects) pushTo(setsOf, object, set)
  }
  return {
    aggregateOf: oneToMany('IFCRELAGGREGATES', 4, 5),
    containerOf: oneToMany('IFCRELCONTAINEDINSPATIALSTRUCTURE', 5, 4),
    openingOf: oneToMany('IFCRELFILLSELEMENT', 4, 5),
    hostOf: oneToMany('IFCRELVOIDSELEMENT', 4, 5),
    spacesOf,
    kindOf: oneToMany('IFCRELDEFINESBYTYPE', 5, 4),
    setsOf,
  }
}

/** The storey at or above a place in the building's tree. */
function storeyAbove(file: StepFile, relations: Relations, from: number | undefined): number | null {
  const met = new Set<number>()
  for (let id = from; id !== undefined && !met.has(id); id = relations.aggregateOf.get(id)) {
    if (file.typeOf(id) === 'IFCBUILDINGSTOREY') return id
    met.add(id)
  }
  return null
}

/** The storey of an element: by containment (in a storey or a space), as part of another element, or by its wall. */
function storeyOf(file: StepFile, relations: Relations, element: number): number | null {
  const met = new Set<number>()
  const waiting = [element]
  for (let id = waiting.shift(); id !== undefined; id = waiting.shift()) {
    if (met.has(id)) continue
    met.add(id)
    const storey =
      storeyAbove(file, relations, relations.containerOf.get(id)) ?? storeyAbove(file, relations, id)
    if (storey !== null) return storey
    for (const next of [
      relations.aggregateOf.get(id),
      relations.openingOf.get(id),
      relations.hostOf.get(id),
    ]) {
      if (next !== undefined) waiting.push(next)
    }
  }
  for (const space of relations.spacesOf.get(element) ?? []) {
    const storey = storeyAbove(file, relations, space)
    if (storey !== null) return storey
  }
  return null
}

/** Name, else long name, of the building at or above a place. */
function buildingAbove(file: StepFile, relations: Relations, from: number): string | null {
  const met = new Set<number>()
  for (
    let id: number | undefined = from;
    id !== undefined && !met.has(id);
    id = relations.aggregateOf.get(id)
  ) {
    if (file.typeOf(id) === 'IFCBUILDING') {
      const attributes = file.attributesOf(id) ?? []
      return textAt(attributes, 2) ?? textAt(attributes, 7)
    }
    met.add(id)
  }
  return null
}

interface StoreyRecord {
  readonly storey: PlainStorey
  readonly id: number
}

function readStoreys(
  file: StepFile,
  relations: Relations,
  metresPerUnit: number | null,
  doubts: IntakeDoubt[],
): Map<number, StoreyRecord> {
  const storeys = new Map<number, StoreyRecord>()
  let unnamed = 0
  for (const id of file.recordsOf('IFCBUILDINGSTOREY')) {
    const attributes = file.attributesOf(id)
    if (attributes === null) continue
    let name = textAt(attributes, 2) ?? textAt(attributes, 7)
    if (name === null) {
      unnamed++
      name = `Unnamed storey ${unnamed}`
    }
    const elevation = numberOf(attributes[9])
    const elevationMetres =
      elevation === null || metresPerUnit === null
        ? null
        : Math.round(elevation * metresPerUnit * 10_000) / 10_000
    const building = buildingAbove(file, relations, id)
    storeys.set(id, {
      id,
      storey: { globalId: textAt(attributes, 0) ?? `#${id}`, name, building, elevationMetres },
    })
  }
  if (unnamed > 0) doubts.push({ code: 'unnamed-storeys', count: unnamed })
  const elevations = [...storeys.values()]
    .map(({ storey }) => storey.elevationMetres)
    .filter((metres) => metres !== null)
  const spread = elevations.length < 2 ? 0 : Math.max(...elevations) - Math.min(...elevations)
  // One real COBie model declares millimetres and stores its elevations in metres.
  if (spread > 0 && spread < 0.1) doubts.push({ code: 'odd-elevations' })
  return storeys
}

interface DoorKind {
  readonly operation: string | null
  readonly sets: readonly number[]
}

function operationFrom(
  attributes: Attributes,
  operationAt: number,
  ownWordsAt: number | null,
): string | null {
  const operation = wordAt(attributes, operationAt)
  if (operation === null || operation === 'NOTDEFINED') return null
  if (operation === 'USERDEFINED' && ownWordsAt !== null) return textAt(attributes, ownWordsAt) ?? operation
  return operation
}

function readKinds(file: StepFile, kinds: ReadonlySet<number>): Map<number, DoorKind> {
  const read = new Map<number, DoorKind>()
  for (const id of kinds) {
    const attributes = file.attributesOf(id)
    if (attributes === null) continue
    const isStyle = file.typeOf(id) === 'IFCDOORSTYLE'
    // IfcDoorStyle has OperationType at 8, IfcDoorType has ElementType, PredefinedType before it.
    const operation = isStyle ? operationFrom(attributes, 8, null) : operationFrom(attributes, 10, 12)
    read.set(id, { operation, sets: referencesOf(attributes[5]) })
  }
  return read
}

/** Objects made of entries, so that a set or property named __proto__ is a name like any other. */
function propertiesOf(
  setIds: readonly number[],
  readSet: (id: number) => { readonly name: string; readonly entries: Entries } | null,
): PlainDoor['properties'] {
  const merged = new Map<string, Map<string, string>>()
  for (const id of setIds) {
    const set = readSet(id)
    if (set === null || set.entries.size === 0) continue
    const into = merged.get(set.name) ?? new Map<string, string>()
    for (const [name, text] of set.entries) into.set(name, text)
    merged.set(set.name, into)
  }
  return Object.fromEntries([...merged].map(([name, entries]) => [name, Object.fromEntries(entries)]))
}

type Space = PlainDoor['spaces'][number]

/** Rooms by record, each read once: a corridor bounds many doors. */
function makeSpaceReader(file: StepFile): (id: number) => Space {
  const known = new Map<number, Space>()
  return (id) => {
    const met = known.get(id)
    if (met !== undefined) return met
    const attributes = file.attributesOf(id) ?? []
    const space = { number: textAt(attributes, 2) ?? '', name: textAt(attributes, 7) }
    known.set(id, space)
    return space
  }
}

function acceptedSchema(schema: string): 'IFC2X3' | 'IFC4' | 'IFC4X3' | 'draft' | null {
  const name = schema.trim().toUpperCase()
  if (/^IFC2X3(_|$)/.test(name)) return 'IFC2X3'
  if (/^IFC4(_|$)/.test(name)) return 'IFC4'
  if (/^IFC4X3(_|$)/.test(name)) return 'IFC4X3'
  return /^IFC4X[12](_|$)/.test(name) ? 'draft' : null
}

function readDoors(
  file: StepFile,
  schema: 'IFC2X3' | 'IFC4' | 'IFC4X3' | 'draft',
  metresPerUnit: number | null,
  doubts: IntakeDoubt[],
): Pick<PlainModel, 'storeys' | 'doors'> {
  const doorIds = DOOR_TYPES.flatMap((type) => file.recordsOf(type)).sort((a, b) => a - b)
  const kindIds = new Set(DOOR_KINDS.flatMap((type) => file.recordsOf(type)))
  const relations = readRelations(file, new Set(doorIds), kindIds)
  const storeys = readStoreys(file, relations, metresPerUnit, doubts)
  const kinds = readKinds(file, kindIds)
  const readSet = makeSetReader(file)
  const readSpace = makeSpaceReader(file)

  const doors: PlainDoor[] = []
  const idsMet = new Set<string>()
  const idsRepeated = new Set<string>()
  const withoutStorey: string[] = []
  const odd: { door: string; millimetres: number }[] = []
  for (const id of doorIds) {
    const attributes = file.attributesOf(id)
    if (attributes === null) continue
    const globalId = textAt(attributes, 0)
    if (globalId === null) {
      doubts.push({ code: 'door-without-id', record: id })
      continue
    }
    if (idsMet.has(globalId)) idsRepeated.add(globalId)
    idsMet.add(globalId)
    const kindId = relations.kindOf.get(id)
    const kind = kindId === undefined ? undefined : kinds.get(kindId)
    const storeyId = storeyOf(file, relations, id)
    const storey = storeyId === null ? undefined : storeys.get(storeyId)?.storey
    const own = schema === 'IFC2X3' ? null : operationFrom(attributes, 11, 12)
    const name = textAt(attributes, 2)
    if (storey === undefined) withoutStorey.push(name ?? globalId)
    const door: PlainDoor = {
      globalId,
      name,
      tag: textAt(attributes, 7),
      storey: storey?.name ?? null,
      building: storey?.building ?? null,
      widthMillimetres: millimetres(numberOf(attributes[9]), metresPerUnit),
      heightMillimetres: millimetres(numberOf(attributes[8]), metresPerUnit),
      operation: own ?? kind?.operation ?? null,
      spaces: (relations.spacesOf.get(id) ?? []).map(readSpace),
      properties: propertiesOf(
        [
          ...(kind?.sets ?? []),
          ...(kindId === undefined ? [] : (relations.setsOf.get(kindId) ?? [])),
          ...(relations.setsOf.get(id) ?? []),
        ],
        readSet,
      ),
    }
    for (const size of [door.widthMillimetres, door.heightMillimetres]) {
      if (size !== null && (size < SMALLEST_DOOR_MILLIMETRES || size > LARGEST_DOOR_MILLIMETRES)) {
        odd.push({ door: name ?? globalId, millimetres: size })
        break
      }
    }
    doors.push(door)
  }

  if (idsRepeated.size > 0) doubts.push({ code: 'repeated-door-ids', globalIds: [...idsRepeated] })
  const firstLost = withoutStorey[0]
  if (firstLost !== undefined) {
    doubts.push({ code: 'doors-without-storey', count: withoutStorey.length, firstDoor: firstLost })
  }
  const firstOdd = odd[0]
  if (firstOdd !== undefined) {
    doubts.push({
      code: 'odd-door-sizes',
      count: odd.length,
      firstDoor: firstOdd.door,
      firstMillimetres: firstOdd.millimetres,
    })
  }
  return { storeys: [...storeys.values()].map(({ storey }) => storey), doors }
}

/**
 * Reads a building model from Part 21 bytes. Refuses a file that breaks off, has no records, or follows no known
 * schema; everything else that is odd becomes a warning. Lengths in property sets stay in the model's own unit.
 */
export function readModel(name: string, bytes: Uint8Array): Read<PlainModel> {
  const file = indexStep(bytes, WANTED)
  if (!file.ended) return refused({ code: 'truncated', name, what: 'model', lastRecord: file.lastRecord })
  const accepted = file.schema === null ? null : acceptedSchema(file.schema)
  if (file.schema === null || accepted === null)
    return refused({ code: 'unknown-schema', name, schema: file.schema })
  if (file.recordCount === 0) return refused({ code: 'empty', name, what: 'model' })

  const doubts: IntakeDoubt[] = []
  if (accepted === 'draft') doubts.push({ code: 'draft-schema', schema: file.schema })
  const metresPerUnit = lengthUnit(file)
  if (metresPerUnit === null) doubts.push({ code: 'no-length-unit' })
  const { storeys, doors } = readDoors(file, accepted, metresPerUnit, doubts)
  for (const [code, counted] of [
    ['unreadable-records', file.unreadable],
    ['repeated-records', file.repeated],
    ['bad-escapes', file.badEscapes],
    ['raw-bytes', file.rawBytes],
  ] as const) {
    if (counted.count > 0) doubts.push({ code, ...counted })
  }
  return { ok: true, value: { schema: file.schema, storeys, doors, warnings: doubts.map(doubtSentence) } }
}
