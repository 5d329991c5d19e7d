// What a COBie workbook says about doors. Sheets and columns: standards.md 12.1 (public template, USACE ERDC) [S142].
// Contact data and the names of those who made the rows are never taken.
import {
  doubtsAboutSize,
  judgeDoorway,
  readFireLabel,
  readHand,
  readLength,
  saysNothing,
  type LengthField,
  type Reading,
  type Units,
} from '../job/index.ts'
import { ownAttributes, ownSystem, placeNotKnown } from './cobie-out-template.ts'
import { readDay } from './days.ts'
import type { PlainSheet } from './plain.ts'
import { problemList, type Where } from './saying.ts'
import {
  cellKey,
  sameKey,
  wordsOrNull,
  type SetAside,
  type UnderstoodFields,
  type UnderstoodLevel,
  type UnderstoodOpening,
  type UnderstoodRoom,
  type Understanding,
} from './understanding.ts'

type Writable<T> = { -readonly [Key in keyof T]: T[Key] }

/** One row of a workbook's sheet, by plain heading. */
interface BookRow {
  readonly number: number
  /** The cell's text, trimmed; empty for "n/a", "-" and the heading's own name used as filler. */
  readonly get: (heading: string) => string
  readonly entries: readonly (readonly [heading: string, text: string])[]
}

const plain = (text: string): string => text.toLowerCase().replace(/[^a-z0-9]/g, '')

/** "None" can be an answer (no fire label); the other placeholders and a repeated heading never are. */
const isFiller = (text: string, heading: string): boolean =>
  (saysNothing(text) && sameKey(text) !== 'none') || plain(text) === plain(heading)

function sheetNamed(sheets: readonly PlainSheet[], name: string): PlainSheet | undefined {
  return sheets.find((sheet) => plain(sheet.name) === plain(name))
}

function rowsOf(sheets: readonly PlainSheet[], name: string, keyHeading = 'Name'): BookRow[] {
  const sheet = sheetNamed(sheets, name)
  if (sheet === undefined) return []
  const start = sheet.rows.findIndex((row) =>
    row.cells.some((cell) => plain(cell.text) === plain(keyHeading)),
  )
  if (start < 0) return []
  const headings = (sheet.rows[start]?.cells ?? []).map((cell) => cell.text.trim())
  const places = new Map<string, number>()
  for (const [at, heading] of headings.entries())
    if (heading !== '' && !places.has(plain(heading))) places.set(plain(heading), at)
  return sheet.rows.slice(start + 1).map((row) => {
    const textAt = (at: number): string => {
      const text = (row.cells[at]?.text ?? '').trim()
      return isFiller(text, headings[at] ?? '') ? '' : text
    }
    return {
      number: row.number,
      get: (heading) => {
        const at = places.get(plain(heading))
        return at === undefined ? '' : textAt(at)
      },
      get entries() {
        return headings.flatMap((heading, at) => {
          const text = textAt(at)
          return text === '' ? [] : [[cellKey(heading, at), text] as const]
        })
      },
    }
  })
}

/** Whether these sheets are a COBie workbook: components with their types and spaces, by the template's headings. */
export function recogniseCobie(sheets: readonly PlainSheet[]): boolean {
  const component = sheetNamed(sheets, 'Component')
  if (component === undefined || sheetNamed(sheets, 'Space') === undefined) return false
  const wanted = ['name', 'typename', 'space', 'extobject']
  return component.rows.slice(0, 10).some((row) => {
    const texts = new Set(row.cells.map((cell) => plain(cell.text)))
    return wanted.every((heading) => texts.has(heading))
  })
}

const isDoor = (object: string): boolean => /^ifcdoor(?:standardcase)?$/i.test(object)
const isMail = (text: string): boolean => /[^\s@]{1,64}@[^\s@]+\.[^\s@]/.test(text.slice(0, 1000))
/** Columns that say who wrote a row and with what, not what the door is. */
const notKept = new Set(['createdby', 'createdon', 'extsystem'])

interface BookAttribute {
  readonly name: string
  readonly value: string
  readonly unit: string
}

/** Attributes by sheet and row; keys are compared lower-case and trimmed, as the template's rules do. */
function attributesOf(
  sheets: readonly PlainSheet[],
  wanted: ReadonlySet<string>,
): Map<string, BookAttribute[]> {
  const found = new Map<string, BookAttribute[]>()
  for (const row of rowsOf(sheets, 'Attribute')) {
    const key = `${plain(row.get('SheetName'))} ${sameKey(row.get('RowName'))}`
    const value = row.get('Value')
    // Some templates fill a value with the attribute's own name.
    if (value === '' || plain(value) === plain(row.get('Name')) || !wanted.has(key)) continue
    const list = found.get(key) ?? []
    list.push({ name: row.get('Name'), value, unit: row.get('Unit') })
    found.set(key, list)
  }
  return found
}

const unitsPerMetre: readonly (readonly [RegExp, number])[] = [
  [/^(?:mm|millimet(?:er|re)s?)$/, 0.001],
  [/^(?:cm|centimet(?:er|re)s?)$/, 0.01],
  [/^(?:m|met(?:er|re)s?)$/, 1],
  [/^(?:ft|foot|feet)$/, 0.3048],
  [/^(?:in|inch|inches)$/, 0.0254],
]

function levelsOf(
  sheets: readonly PlainSheet[],
  building: string | null,
  warnings: string[],
): UnderstoodLevel[] {
  const linear = rowsOf(sheets, 'Facility')[0]?.get('LinearUnits').toLowerCase() ?? ''
  let factor = unitsPerMetre.find(([pattern]) => pattern.test(linear))?.[1] ?? 1
  const rows = rowsOf(sheets, 'Floor').filter((row) => row.get('Name') !== '')
  const highest = Math.max(0, ...rows.map((row) => Math.abs(Number(row.get('Elevation')) || 0)))
  // A file may declare millimetres and store metres: a whole building lower than half a metre is no building.
  if (factor < 0.1 && highest > 0 && highest * factor < 0.5) {
    factor = 1
    warnings.push(
      `Level heights were taken as metres, because in ${linear} the building would be lower than 0.5 m.`,
    )
  }
  return rows.map((row) => {
    const elevation = row.get('Elevation')
    const known = elevation !== '' && Number.isFinite(Number(elevation))
    return {
      building,
      name: row.get('Name'),
      elevationMetres: known ? Math.round(Number(elevation) * factor * 1e6) / 1e6 : null,
      sourceId: wordsOrNull(row.get('ExtIdentifier')),
    }
  })
}

interface BookSpace {
  /** Null for a space of our own workbooks that only says on which level something is. */
  readonly room: UnderstoodRoom | null
  readonly floor: string | null
}

/** The spaces a component names: one name that may hold a comma itself, or a list with or without blanks. */
function spacesNamed(
  text: string,
  spaces: ReadonlyMap<string, BookSpace>,
): { name: string; space?: BookSpace }[] {
  const named = (name: string): { name: string; space?: BookSpace } => {
    const space = spaces.get(sameKey(name))
    return space === undefined ? { name } : { name, space }
  }
  if (text === '') return []
  if (spaces.has(sameKey(text))) return [named(text)]
  return text
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map(named)
}

export interface CobieOptions {
  /** How bare sizes are judged where the workbook gives no unit. Metric unless said. */
  readonly units?: Units
}

/** Understands the doors of a COBie workbook: Component rows whose ExtObject is IfcDoor. */
export function understandCobie(sheets: readonly PlainSheet[], options: CobieOptions = {}): Understanding {
  const units = options.units ?? 'metric'
  const warnings: string[] = []
  const problems = problemList()
  const setAside: SetAside[] = []
  const facility = rowsOf(sheets, 'Facility')[0]
  const building = wordsOrNull(facility?.get('Name') ?? '')
  const levels = levelsOf(sheets, building, warnings)
  const levelNames = new Map(levels.map((level) => [sameKey(level.name), level.name]))
  const spaces = new Map(
    rowsOf(sheets, 'Space').map((row): [string, BookSpace] => {
      const floor = levelNames.get(sameKey(row.get('FloorName'))) ?? wordsOrNull(row.get('FloorName'))
      const name = wordsOrNull(row.get('Description'))
      const ours = row.get('ExtSystem') === ownSystem
      if (ours && row.get('ExtIdentifier').startsWith(placeNotKnown.trim()))
        return [sameKey(row.get('Name')), { room: null, floor }]
      const room = {
        // Our own workbooks tag a room whose number could not be its name there.
        number: (ours ? wordsOrNull(row.get('RoomTag')) : null) ?? row.get('Name'),
        name,
        level: floor,
        sourceId: wordsOrNull(row.get('ExtIdentifier')),
      }
      return [sameKey(row.get('Name')), { room, floor }]
    }),
  )
  const types = new Map(rowsOf(sheets, 'Type').map((row) => [sameKey(row.get('Name')), row]))
  const doors = rowsOf(sheets, 'Component').filter((row) => isDoor(row.get('ExtObject')))
  const attributes = attributesOf(
    sheets,
    new Set(
      doors.flatMap((row) => [
        `component ${sameKey(row.get('Name'))}`,
        `type ${sameKey(row.get('TypeName'))}`,
      ]),
    ),
  )

  const openings: UnderstoodOpening[] = []
  let pairsOfRooms = 0
  for (const row of doors) {
    const place = `Component, row ${row.number}`
    const where: Where = { row: row.number, place, called: `Component row ${row.number}` }
    const mark = row.get('Name').replace(/\s+/g, ' ')
    if (mark === '') {
      const expected = 'the name of the component'
      problems.refuseSaying(where, 'Name', '', expected, `there is no name; expected ${expected}.`)
      setAside.push({ row: row.number, place, why: 'no mark', text: row.get('Description') })
      continue
    }
    const type = types.get(sameKey(row.get('TypeName')))
    const own = new Map<string, BookAttribute>()
    for (const key of [`type ${sameKey(row.get('TypeName'))}`, `component ${sameKey(row.get('Name'))}`])
      for (const each of attributes.get(key) ?? []) own.set(plain(each.name), each)

    const attribute = (...names: string[]): BookAttribute | undefined =>
      names.map((name) => own.get(name)).find((each) => each !== undefined)
    const ownWord = (name: string): string | undefined => attribute(plain(name))?.value
    const fields: Writable<UnderstoodFields> = { mark: ownWord(ownAttributes.mark) ?? mark }
    function take<T>(found: BookAttribute | undefined, read: (text: string) => Reading<T>): T | undefined {
      if (found === undefined) return undefined
      const reading = read(found.value)
      if (!reading.known) {
        if (!reading.blank) problems.refuse(where, found.name, found.value, reading)
        return undefined
      }
      if (reading.question !== undefined) problems.ask(where, found.name, found.value, reading.question)
      return reading.value
    }
    const length = (as: LengthField, ...names: string[]): number | undefined => {
      const found = attribute(...names)
      if (found === undefined || Number(found.value) === 0) return undefined
      const bare = /^[\d.,]+$/.test(found.value)
      const unit = unitsPerMetre.some(([pattern]) => pattern.test(found.unit.toLowerCase()))
      const text = bare && unit ? `${found.value} ${found.unit}` : found.value
      return take(found, () => readLength(text, { units, as }))
    }

    const width = length('doorWidth', 'width', 'nominalwidth', 'overallwidth')
    const height = length('doorHeight', 'height', 'nominalheight', 'overallheight')
    const thickness = length('thickness', 'thickness', 'doorthickness')
    const saidLeaves = ownWord(ownAttributes.leaves)
    const leaves = saidLeaves === '1' ? 1 : saidLeaves === '2' ? 2 : null
    if (leaves !== null) fields.leaves = leaves
    if (width !== undefined) {
      const doorway = judgeDoorway(width, leaves, leaves === null ? null : 'whole', 'metric')
      if (saidLeaves === undefined) fields.leaves = doorway.leaves
      fields.widthMicrometres = doorway.widthMicrometres
      if (doorway.question !== null && saidLeaves === undefined)
        problems.ask(where, 'Width', attribute('width')?.value ?? '', doorway.question)
    }
    if (height !== undefined) fields.heightMicrometres = height
    if (thickness !== undefined) fields.thicknessMicrometres = thickness
    for (const doubt of doubtsAboutSize(width ?? null, height ?? null, units)) {
      const found = attribute(doubt.field, `nominal${doubt.field}`, `overall${doubt.field}`)
      problems.ask(where, found?.name ?? doubt.field, found?.value ?? '', doubt.sentence)
    }
    const hand = take(attribute('hand', 'handing', 'doorhand'), readHand)
    if (hand !== undefined) fields.hand = hand.hand
    const label = take(
      attribute('firerating', 'firelabel', 'fireresistance', 'fireresistancerating'),
      readFireLabel,
    )
    if (label !== undefined) [fields.fireLabelMinutes, fields.fireLabelClass] = [label.minutes, label.class]

    fields.doorType = wordsOrNull(row.get('TypeName'))
    const frame = attribute('doorframe', 'framematerial')
    if (frame !== undefined) fields.frameMaterial = frame.value
    const set = attribute('hardwareset', 'hardwaregroup', 'doorhardware')
    if (set !== undefined) fields.hardwareSet = set.value
    const material = attribute('doormaterial', 'material')?.value ?? wordsOrNull(type?.get('Material') ?? '')
    if (material !== null) {
      fields.doorMaterial = material
      if (fields.leaves === undefined && saidLeaves === undefined) {
        fields.leaves = 1
        problems.ask(where, 'Leaves', '', 'The number of leaves is not said; it was taken as one.')
      }
    }
    fields.serial = wordsOrNull(row.get('SerialNumber'))
    fields.assetTag =
      wordsOrNull(row.get('TagNumber')) ??
      wordsOrNull(row.get('AssetIdentifier')) ??
      wordsOrNull(row.get('BarCode'))
    const installed = readDay(row.get('InstallationDate'))
    fields.installedOn = installed.known ? installed.value : null
    if (!installed.known && !installed.blank)
      problems.refuse(where, 'InstallationDate', row.get('InstallationDate'), installed)
    fields.sourceId = wordsOrNull(row.get('ExtIdentifier'))

    const named = spacesNamed(row.get('Space'), spaces)
    const [to, from] = named
    const roomOfNamed = (each: (typeof named)[number] | undefined): UnderstoodRoom | null =>
      each === undefined
        ? null
        : each.space === undefined
          ? { number: each.name, name: null }
          : each.space.room
    fields.toRoom = roomOfNamed(to)
    fields.fromRoom = roomOfNamed(from)
    if (from !== undefined) pairsOfRooms += 1
    for (const each of named)
      if (each.space === undefined && !levelNames.has(sameKey(each.name)))
        problems.ask(
          where,
          'Space',
          each.name,
          `"${each.name}" is not on the Space sheet, so its level is not known.`,
        )
    if (named.length > 2)
      problems.ask(
        where,
        'Space',
        row.get('Space'),
        'More than two spaces are named; the first two were taken.',
      )
    const floors = [
      ...new Set(named.flatMap((each) => each.space?.floor ?? levelNames.get(sameKey(each.name)) ?? [])),
    ]
    if (floors.length > 1)
      problems.ask(
        where,
        'Space',
        row.get('Space'),
        `Its spaces are on ${floors.join(' and ')}; ${floors[0] ?? ''} was taken.`,
      )

    openings.push({
      row: row.number,
      place,
      building,
      level: ownWord(ownAttributes.level) ?? floors[0] ?? null,
      fields,
      cells: cellsOf(row, type, own),
    })
  }
  askAboutRepeats(openings, problems)
  if (pairsOfRooms > 0)
    warnings.push(
      `${pairsOfRooms} doors name two spaces. A workbook does not say which is which: the first was taken as the room led to.`,
    )
  if (openings.length === 0 && setAside.length === 0)
    warnings.push('No component of this workbook is a door (ExtObject IfcDoor).')
  return {
    form: 'cobie',
    name: building ?? 'COBie',
    levels,
    openings,
    setAside,
    problems: problems.found,
    warnings,
  }
}

function cellsOf(
  row: BookRow,
  type: BookRow | undefined,
  own: ReadonlyMap<string, BookAttribute>,
): Record<string, string> {
  const cells: Record<string, string> = {}
  const keep = (key: string, text: string): void => {
    if (text !== '' && !isMail(text)) cells[cellKey(key, 0)] = text.slice(0, 20_000)
  }
  for (const [heading, text] of row.entries) if (!notKept.has(plain(heading))) keep(heading, text)
  for (const heading of [
    'Description',
    'NominalWidth',
    'NominalHeight',
    'NominalLength',
    'Material',
    'Finish',
  ])
    keep(`Type ${heading}`, type?.get(heading) ?? '')
  for (const { name, value, unit } of own.values()) keep(name, unit === '' ? value : `${value} ${unit}`)
  return cells
}

function askAboutRepeats(
  openings: readonly UnderstoodOpening[],
  problems: ReturnType<typeof problemList>,
): void {
  for (const [, same] of Map.groupBy(openings, (each) => sameKey(each.fields.mark)))
    if (same.length > 1)
      for (const { row, place, fields } of same)
        problems.ask(
          { row, place, called: `Component row ${row}` },
          'Name',
          fields.mark,
          `${fields.mark} stands ${same.length} times; component names are meant to be unique.`,
        )
}
