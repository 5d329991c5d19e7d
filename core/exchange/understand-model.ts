// What a building model says about doors, and what it cannot say.
import {
  doubtsAboutSize,
  judgeDoorway,
  readFireLabel,
  readLength,
  saysNothing,
  type Units,
} from '../job/index.ts'
import type { PlainDoor, PlainModel } from './plain.ts'
import { problemList, type Problems, type Where } from './saying.ts'
import {
  cellKey,
  sameKey,
  wordsOrNull,
  type SetAside,
  type UnderstoodFields,
  type UnderstoodOpening,
  type Understanding,
} from './understanding.ts'

type Writable<T> = { -readonly [Key in keyof T]: T[Key] }

/** Where the door number is kept. Every program that writes models has its own habit, so a person chooses. */
export type MarkSource = 'name' | 'tag' | { readonly set: string; readonly property: string }

export interface MarkChoice {
  readonly source: MarkSource
  /** As a person reads it: "Name", "Tag", "Mark (Identity Data)". */
  readonly label: string
  /** How many doors have a value, and how many different values there are. */
  readonly filled: number
  readonly different: number
  readonly samples: readonly string[]
}

export interface MarkProposal {
  readonly proposed: MarkSource
  /** The most likely first. */
  readonly choices: readonly MarkChoice[]
}

export interface ModelOptions {
  readonly units?: Units
  /** The proposal's, unless a person chose. */
  readonly markFrom?: MarkSource
  readonly building?: string | null
}

function markOf(door: PlainDoor, source: MarkSource): string | null {
  const text =
    source === 'name'
      ? door.name
      : source === 'tag'
        ? door.tag
        : door.properties[source.set]?.[source.property]
  return text === null || text === undefined || saysNothing(text) ? null : text.trim().replace(/\s+/g, ' ')
}

const numberNames =
  /^(?:mark|door ?(?:number|no\.?|mark|id)|opening ?(?:number|no\.?|mark)|number|nummer|no\.?|mark ?number|tag)$/i
const guid = /^(?:[0-9a-f]{8}-[0-9a-f]{4}-.*|[0-9A-Za-z_$]{22})$/i

/** How much a source looks like door numbers: given on all doors, different on each, short, and not a program's own id. */
function likelihood(values: readonly string[], doors: number, source: MarkSource): number {
  if (values.length === 0) return 0
  const share = (test: (value: string) => boolean): number => values.filter(test).length / values.length
  const filled = values.length / doors
  const different = new Set(values.map(sameKey)).size / values.length
  const short = share((value) => value.length <= 10 && !value.includes(':'))
  const ownId = share((value) => guid.test(value) || /^\d{5,}$/.test(value))
  const named = typeof source === 'object' && /^(?:mark|door|opening)/i.test(source.property) ? 1 : 0
  return filled * different * (0.2 + short) * (1 - 0.9 * ownId) * (1 + named)
}

/** The places a door number may be kept in, with samples, and the most likely of them. */
export function proposeMarkSource(model: PlainModel): MarkProposal {
  const sources: MarkSource[] = ['name', 'tag']
  const seen = new Set<string>()
  for (const door of model.doors)
    for (const [set, properties] of Object.entries(door.properties))
      for (const property of Object.keys(properties)) {
        const key = JSON.stringify([set, property])
        if (!numberNames.test(property.trim()) || seen.has(key)) continue
        seen.add(key)
        sources.push({ set, property })
      }
  const weighed = sources.map((source) => {
    const values = model.doors.flatMap((door) => markOf(door, source) ?? [])
    const unlike = [...new Set(values)]
    const choice: MarkChoice = {
      source,
      label: source === 'name' ? 'Name' : source === 'tag' ? 'Tag' : `${source.property} (${source.set})`,
      filled: values.length,
      different: unlike.length,
      samples: unlike.slice(0, 5),
    }
    return { choice, weight: likelihood(values, model.doors.length, source) }
  })
  const choices = weighed.toSorted((a, b) => b.weight - a.weight).map((each) => each.choice)
  return { proposed: choices[0]?.source ?? 'name', choices }
}

/** A property by name, the common set first, then any other set. Filler such as "Fire Rating" in FireRating is nothing. */
function property(door: PlainDoor, names: RegExp): { set: string; name: string; value: string } | null {
  const sets = Object.entries(door.properties).toSorted(
    ([a], [b]) => Number(b === 'Pset_DoorCommon') - Number(a === 'Pset_DoorCommon'),
  )
  for (const [set, properties] of sets)
    for (const [name, value] of Object.entries(properties)) {
      if (!names.test(name.trim()) || isFiller(value, name)) continue
      return { set, name, value: value.trim() }
    }
  return null
}

const letters = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '')
/** "Door - Frame" as a frame's material only repeats what it is the material of. */
const onlyNamesTheThing = /^(?:(?:door|frame|panel|leaf|material|default)[^\p{L}\p{N}]*)+$/iu
const isFiller = (value: string, name: string): boolean =>
  onlyNamesTheThing.test(value.trim()) ||
  (saysNothing(value) && sameKey(value) !== 'none') ||
  letters(value).endsWith(letters(name))

/** Leaves that an operation type has: standards.md 12.2 (IFC4 ADD2) [S143]. */
function leavesOf(operation: string | null): 1 | 2 | null {
  if (operation === null) return null
  if (/^DOUBLE_DOOR|^SWING_FIXED/.test(operation)) return 2
  return /^(?:SINGLE_SWING|DOUBLE_SWING|SLIDING_TO|FOLDING_TO|LIFTING|ROLLINGUP)/.test(operation) ? 1 : null
}

/** What to ask about the hand. The two candidates per operation are the official table: standards.md 12.2 [S143]. */
function handQuestion(operation: string | null): string | null {
  const keyed = 'the model does not say which side is keyed'
  switch (operation) {
    case 'SINGLE_SWING_LEFT':
      return `Is it LH or RHR? The model says SINGLE_SWING_LEFT, but ${keyed}.`
    case 'SINGLE_SWING_RIGHT':
      return `Is it RH or LHR? The model says SINGLE_SWING_RIGHT, but ${keyed}.`
    case 'DOUBLE_DOOR_SINGLE_SWING':
    case 'SWING_FIXED_LEFT':
    case 'SWING_FIXED_RIGHT':
      return `What is the hand of the active leaf? The model says neither which leaf is active nor which side is keyed.`
    default:
      return null
  }
}

const isMail = (text: string): boolean => /[^\s@]{1,64}@[^\s@]+\.[^\s@]/.test(text.slice(0, 1000))

/** Understands the doors of a model. GlobalId becomes the source id; the hand stays unknown, with its question. */
export function understandModel(model: PlainModel, options: ModelOptions = {}): Understanding {
  const units = options.units ?? 'metric'
  const markFrom = options.markFrom ?? proposeMarkSource(model).proposed
  const problems = problemList()
  const setAside: SetAside[] = []
  const openings: UnderstoodOpening[] = []
  const warnings = [...model.warnings]
  const ids = new Set<string>()
  let swingUnknown = 0
  let pairsOfRooms = 0
  for (const [index, door] of model.doors.entries()) {
    const row = index + 1
    const place = `Door ${door.globalId}`
    if (ids.has(door.globalId)) {
      setAside.push({ row, place, why: 'repeated', text: door.name ?? '' })
      continue
    }
    ids.add(door.globalId)
    const own = markOf(door, markFrom)
    const mark = (own ?? door.tag?.trim() ?? '') || (door.name?.trim() ?? '') || door.globalId
    const where: Where = { row, place, called: `Door ${mark}` }
    if (own === null)
      problems.ask(
        where,
        'Mark',
        '',
        'It has no door number in the chosen place; its tag or name was taken instead.',
      )
    const fields: Writable<UnderstoodFields> = { mark: mark.slice(0, 400), sourceId: door.globalId }
    takeSize(door, fields, units, where, problems)
    const rating = property(door, /^fire ?(?:rating|resistance(?: ?rating)?)$/i)
    if (rating !== null) {
      const reading = readFireLabel(rating.value)
      if (!reading.known) {
        if (!reading.blank) problems.refuse(where, rating.name, rating.value, reading)
      } else {
        ;[fields.fireLabelMinutes, fields.fireLabelClass] = [reading.value.minutes, reading.value.class]
        if (reading.question !== undefined) problems.ask(where, rating.name, rating.value, reading.question)
      }
    }
    const ask = handQuestion(door.operation)
    if (ask === null) swingUnknown += 1
    else problems.ask(where, 'Hand', door.operation ?? '', ask)

    const take = (
      field: 'hardwareSet' | 'frameMaterial' | 'doorType' | 'serial' | 'assetTag',
      names: RegExp,
    ): void => {
      const found = property(door, names)
      if (found !== null) fields[field] = found.value
    }
    take('hardwareSet', /^(?:door ?)?hardware ?(?:set|group)$/i)
    take('frameMaterial', /^frame ?material$/i)
    take('doorType', /^type ?mark$/i)
    take('serial', /^serial ?number$/i)
    take('assetTag', /^(?:asset ?(?:tag|identifier|id)|bar ?code)$/i)
    const material = property(door, /^(?:door|leaf|panel) ?material$/i)
    if (material !== null) {
      fields.doorMaterial = material.value
      fields.leaves ??= 1
    }
    const rooms = door.spaces.filter((space) => !saysNothing(space.number))
    const roomOf = (at: number): { number: string; name: string | null } | null => {
      const space = rooms[at]
      return space === undefined ? null : { number: space.number.trim(), name: wordsOrNull(space.name ?? '') }
    }
    fields.toRoom = roomOf(0)
    fields.fromRoom = roomOf(1)
    if (rooms.length > 1) pairsOfRooms += 1

    openings.push({
      row,
      place,
      building: wordsOrNull(door.building ?? '') ?? options.building ?? null,
      level: wordsOrNull(door.storey ?? ''),
      fields,
      cells: cellsOf(door, markFrom),
    })
  }
  const noLevel = openings.filter((each) => each.level === null).length
  if (noLevel > 0) warnings.push(`${noLevel} doors are on no level of the model.`)
  if (swingUnknown > 0)
    warnings.push(
      `${swingUnknown} doors come without a hand: the model does not say how they swing, nor which side is keyed.`,
    )
  if (pairsOfRooms > 0)
    warnings.push(
      `${pairsOfRooms} doors bound two rooms. A model does not say which is which: the first was taken as the room led to.`,
    )
  if (setAside.length > 0)
    warnings.push(`${setAside.length} doors were repeated under the same GlobalId and taken once.`)
  askAboutRepeats(openings, problems)
  return {
    form: 'model',
    name: `${model.schema} model`,
    levels: model.storeys.map((storey) => ({
      building: wordsOrNull(storey.building ?? '') ?? options.building ?? null,
      name: wordsOrNull(storey.name) ?? storey.globalId,
      elevationMetres: storey.elevationMetres,
      sourceId: storey.globalId,
    })),
    openings,
    setAside,
    problems: problems.found,
    warnings,
  }
}

/** A model's sizes are the opening's whole size, in millimetres. */
function takeSize(
  door: PlainDoor,
  fields: Writable<UnderstoodFields>,
  units: Units,
  where: Where,
  problems: Problems,
): void {
  const micrometres = (millimetres: number | null): number | null =>
    millimetres === null || millimetres <= 0 || millimetres > 1_000_000
      ? null
      : Math.round(millimetres * 1000)
  const [width, height] = [micrometres(door.widthMillimetres), micrometres(door.heightMillimetres)]
  const leaves = leavesOf(door.operation)
  if (width !== null) {
    const doorway = judgeDoorway(width, leaves, 'whole', units)
    fields.widthMicrometres = width
    fields.leaves = doorway.leaves
    if (doorway.question !== null)
      problems.ask(where, 'Width', String(door.widthMillimetres), doorway.question)
  } else if (leaves !== null) fields.leaves = leaves
  if (height !== null) fields.heightMicrometres = height
  for (const doubt of doubtsAboutSize(width, height, units))
    problems.ask(
      where,
      doubt.field === 'width' ? 'Width' : 'Height',
      String(doubt.field === 'width' ? door.widthMillimetres : door.heightMillimetres),
      doubt.sentence,
    )
  const thickness = property(door, /^(?:door|leaf|panel)? ?thickness$/i)
  // Only a thickness with its unit in it counts: a model's property text carries no unit of its own.
  if (thickness === null || /^[\d.,]+$/.test(thickness.value)) return
  const reading = readLength(thickness.value, { units, as: 'thickness' })
  if (reading.known) fields.thicknessMicrometres = reading.value
}

function cellsOf(door: PlainDoor, markFrom: MarkSource): Record<string, string> {
  const cells: Record<string, string> = {}
  const keep = (key: string, text: string | null | undefined): void => {
    if (text !== null && text !== undefined && text.trim() !== '' && !isMail(text))
      cells[cellKey(key, 0)] = text.trim().slice(0, 20_000)
  }
  keep('Name', door.name)
  keep('Tag', door.tag)
  keep('Operation', door.operation)
  for (const [name, value] of Object.entries(door.properties['Pset_DoorCommon'] ?? {})) keep(name, value)
  if (typeof markFrom === 'object')
    keep(markFrom.property, door.properties[markFrom.set]?.[markFrom.property])
  return cells
}

function askAboutRepeats(openings: readonly UnderstoodOpening[], problems: Problems): void {
  const keyOf = (each: UnderstoodOpening): string =>
    JSON.stringify([each.building ?? '', each.level ?? '', each.fields.mark].map(sameKey))
  for (const [, same] of Map.groupBy(openings, keyOf))
    if (same.length > 1)
      for (const { row, place, fields, level } of same)
        problems.ask(
          { row, place, called: `Door ${fields.mark}` },
          'Mark',
          fields.mark,
          `${same.length} doors have this mark on ${level ?? 'no level'}.`,
        )
}
