// What each column of the schedule shows, how it sorts, and what text typed, pasted or filled into it means.
import {
  compareMarks,
  knownAs,
  notKnown,
  readFireLabel,
  readHand,
  readLength,
  readSize,
  writeFireLabel,
  writeLength,
  writeSize,
  hands,
  type Opening,
  type Reading,
  type TradeField,
  type Units,
} from '../job/index.ts'
import { columnKeys, type ColumnKey } from './column-keys.ts'
import type { ScheduleFrame, ScheduleRow } from './rows.ts'

/** What a column needs beside its row: the job's units and names. */
export interface ColumnContext {
  readonly units: Units
  readonly frame: ScheduleFrame
}

/** What a cell's new text sets. `leaves` and `material` reach the opening's leaves. */
export interface CellMeaning {
  readonly opening?: Partial<Opening>
  readonly leaves?: 1 | 2
  readonly material?: string | null
}

export interface ScheduleColumn {
  readonly key: ColumnKey
  readonly heading: string
  /** One sentence for the margin and the printed legend. */
  readonly about: string
  /** CSS pixels on screen; paper measures for itself. */
  readonly width: number
  readonly align: 'start' | 'end'
  /** Shown before a person chooses. */
  readonly usual: boolean
  /** Left out first on a page too narrow: 1 stays longest. */
  readonly priority: number
  readonly text: (row: ScheduleRow, context: ColumnContext) => string
  /** People's order, turned round by a sign of -1; what is missing stands last either way. */
  readonly compare: (a: ScheduleRow, b: ScheduleRow, sign?: 1 | -1) => number
  /** Where a row's value stands in an order the job keeps; sorts instead of `compare`. */
  readonly rank?: (frame: ScheduleFrame) => (row: ScheduleRow) => number
  /** Absent where the column is worked out. Blank text clears, and is offered only where that means something. */
  readonly read?: (text: string, context: ColumnContext) => Reading<CellMeaning>
  readonly choices?: (context: ColumnContext) => readonly string[]
}

const plainOrder = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
/** Text in people's order; what is missing stands last. */
const byText =
  (of: (row: ScheduleRow) => string | null): ScheduleColumn['compare'] =>
  (a, b, sign = 1) => {
    const [left, right] = [of(a) ?? '', of(b) ?? '']
    if (left === '' || right === '') return left === right ? 0 : left === '' ? 1 : -1
    return left === right ? 0 : sign * compareMarks(left, right)
  }
const byNumber =
  (of: (row: ScheduleRow) => number | null): ScheduleColumn['compare'] =>
  (a, b, sign = 1) => {
    const [left, right] = [of(a), of(b)]
    if (left === null || right === null) return left === right ? 0 : left === null ? 1 : -1
    return sign * (left - right)
  }
/** The place of each id in a list of the frame. */
function rankIn(listed: readonly { readonly id: string }[]): (id: string) => number {
  const places = new Map(listed.map((each, place) => [each.id, place]))
  return (id) => places.get(id) ?? listed.length
}

const byWidth = byNumber((row) => row.widthMicrometres)
const byHeight = byNumber((row) => row.heightMicrometres)

const blank = (text: string): boolean => text.trim() === ''
const trimmed = (text: string): string | null => (blank(text) ? null : text.trim())

/** A column of words kept as they are. */
function wordsColumn(
  key: ColumnKey,
  heading: string,
  about: string,
  of: (row: ScheduleRow) => string | null,
  set: (value: string | null) => CellMeaning,
  rest: Pick<ScheduleColumn, 'width' | 'usual' | 'priority'> & Pick<Partial<ScheduleColumn>, 'choices'>,
): ScheduleColumn {
  return {
    key,
    heading,
    about,
    align: 'start',
    ...rest,
    text: (row) => of(row) ?? '',
    compare: byText(of),
    read: (text) => knownAs(set(trimmed(text))),
  }
}

const parties = ['Door supplier', 'Integrator', 'Electrician', 'General contractor', 'Owner']
const materials = ['HM', 'WD', 'AL', 'GL', 'FRP']

const tradeColumn = (key: ColumnKey, heading: string, about: string, field: TradeField): ScheduleColumn =>
  wordsColumn(
    key,
    heading,
    about,
    (row) => row[field],
    (value) => ({ opening: { [field]: value } }),
    {
      width: 118,
      usual: field === 'furnishedBy' || field === 'fittedBy',
      priority: 6,
      choices: ({ frame }) =>
        [...new Set([...frame.typicals.flatMap((typical) => typical[field] ?? []), ...parties])].toSorted(),
    },
  )

const sizeWords = (row: ScheduleRow, units: Units): string =>
  row.widthMicrometres === null && row.heightMicrometres === null
    ? ''
    : writeSize(
        {
          leaves: row.leaves === 2 ? 2 : 1,
          widthMicrometres: row.widthMicrometres,
          heightMicrometres: row.heightMicrometres,
        },
        units,
      )

const columns: readonly ScheduleColumn[] = [
  {
    key: 'mark',
    heading: 'Mark',
    about: 'The door number, as the drawings and the label on the frame give it.',
    width: 68,
    align: 'start',
    usual: true,
    priority: 1,
    text: (row) => row.mark,
    compare: (a, b, sign = 1) => sign * compareMarks(a.mark, b.mark),
    read: (text) =>
      blank(text)
        ? notKnown(text, 'a mark', 'a door number such as 104A')
        : text.trim().length > 60
          ? notKnown(text.slice(0, 20) + '…', 'a mark', 'at most 60 characters')
          : knownAs({ opening: { mark: text.trim() } }),
  },
  {
    key: 'where',
    heading: 'Where',
    about: 'The room it leads to, and where one comes from.',
    width: 162,
    align: 'start',
    usual: true,
    priority: 1,
    text: (row) => row.where,
    compare: byText((row) => row.where),
    read: (text) => knownAs({ opening: { whereText: trimmed(text) } }),
  },
  {
    key: 'building',
    heading: 'Building',
    about: 'The building the opening is in. Move openings to put them elsewhere.',
    width: 130,
    align: 'start',
    usual: false,
    priority: 5,
    text: (row, { frame }) => frame.buildings.find((each) => each.id === row.buildingId)?.name ?? '',
    compare: (a, b, sign = 1) => sign * plainOrder(a.buildingId, b.buildingId),
    rank: ({ buildings }) => {
      const rank = rankIn(buildings)
      return (row) => rank(row.buildingId)
    },
  },
  {
    key: 'level',
    heading: 'Level',
    about: 'The level the opening is on. Move openings to put them elsewhere.',
    width: 100,
    align: 'start',
    usual: false,
    priority: 5,
    text: (row, { frame }) => frame.levels.find((each) => each.id === row.levelId)?.name ?? '',
    compare: (a, b, sign = 1) => sign * plainOrder(a.levelId, b.levelId),
    rank: ({ levels }) => {
      const rank = rankIn(levels)
      return (row) => rank(row.levelId)
    },
  },
  {
    key: 'size',
    heading: 'Size',
    about: 'Nominal width and height of the doorway; PR is a pair of leaves.',
    width: 98,
    align: 'start',
    usual: true,
    priority: 2,
    text: (row, { units }) => sizeWords(row, units),
    compare: (a, b, sign) => byWidth(a, b, sign) || byHeight(a, b, sign),
    read: (text, { units }) => {
      if (blank(text)) return knownAs({ opening: { widthMicrometres: null, heightMicrometres: null } })
      const size = readSize(text, units)
      if (!size.known) return size
      const { leaves, widthMicrometres, heightMicrometres, thicknessMicrometres } = size.value
      const opening =
        thicknessMicrometres === null
          ? { widthMicrometres, heightMicrometres }
          : { widthMicrometres, heightMicrometres, thicknessMicrometres }
      return knownAs({ opening, leaves }, size.how, size.question)
    },
  },
  {
    key: 'thickness',
    heading: 'Thickness',
    about: 'Thickness of the leaf.',
    width: 82,
    align: 'end',
    usual: false,
    priority: 8,
    text: (row, { units }) =>
      row.thicknessMicrometres === null
        ? ''
        : writeLength(row.thicknessMicrometres, units, { as: 'thickness', style: 'inches' }),
    compare: byNumber((row) => row.thicknessMicrometres),
    read: (text, { units }) => {
      if (blank(text)) return knownAs({ opening: { thicknessMicrometres: null } })
      const length = readLength(text, { units, as: 'thickness' })
      if (!length.known) return length
      return knownAs({ opening: { thicknessMicrometres: length.value } }, length.how, length.question)
    },
    choices: ({ units }) => (units === 'imperial' ? ['1 3/4"', '1 3/8"', '2 1/4"'] : ['45', '40', '54']),
  },
  {
    key: 'hand',
    heading: 'Hand',
    about: 'Judged standing at the keyed side, facing the door; a pair by its active leaf.',
    width: 50,
    align: 'start',
    usual: true,
    priority: 2,
    text: (row) => row.hand ?? '',
    compare: byText((row) => row.hand),
    read: (text) => {
      if (blank(text)) return knownAs({ opening: { hand: null } })
      const reading = readHand(text)
      return reading.known ? knownAs({ opening: { hand: reading.value.hand } }) : reading
    },
    choices: () => hands,
  },
  wordsColumn(
    'material',
    'Door material',
    'Material of the leaf: HM hollow metal, WD wood, AL aluminium, GL glass.',
    (row) => row.doorMaterial,
    (material) => ({ material }),
    { width: 70, usual: true, priority: 4, choices: () => materials },
  ),
  wordsColumn(
    'frame',
    'Frame material',
    'Material of the frame: HM hollow metal, WD wood, AL aluminium.',
    (row) => row.frameMaterial,
    (value) => ({ opening: { frameMaterial: value } }),
    { width: 70, usual: true, priority: 4, choices: () => materials },
  ),
  {
    key: 'label',
    heading: 'Label',
    about: 'Minutes on the fire label. None means known to bear no label; blank means nobody has said.',
    width: 60,
    align: 'start',
    usual: true,
    priority: 2,
    text: (row) => writeFireLabel({ minutes: row.fireLabelMinutes, class: row.fireLabelClass }),
    compare: byNumber((row) => row.fireLabelMinutes),
    read: (text) => {
      if (blank(text)) return knownAs({ opening: { fireLabelMinutes: null, fireLabelClass: null } })
      const label = readFireLabel(text)
      if (!label.known) return label
      return knownAs(
        { opening: { fireLabelMinutes: label.value.minutes, fireLabelClass: label.value.class } },
        label.how,
        label.question,
      )
    },
    choices: () => ['none', '20 min', '45 min', '60 min', '90 min', '180 min'],
  },
  {
    key: 'typical',
    heading: 'Typical',
    about: 'The arrangement it follows. A corner marks an opening that differs from it on purpose.',
    width: 124,
    align: 'start',
    usual: true,
    priority: 2,
    text: (row) => row.typicalName ?? '',
    compare: byText((row) => row.typicalName),
    read: (text, { frame }) => {
      if (blank(text)) return knownAs({ opening: { typicalId: null } })
      const wanted = text.trim().toLowerCase()
      const typical = frame.typicals.find((each) => each.name.toLowerCase() === wanted)
      if (typical !== undefined) return knownAs({ opening: { typicalId: typical.id } })
      return notKnown(text, 'a typical of this job', listed(frame.typicals.map((each) => each.name)))
    },
    choices: ({ frame }) => frame.typicals.map((each) => each.name),
  },
  tradeColumn('furnished', 'Furnished by', 'Who supplies the hardware.', 'furnishedBy'),
  tradeColumn('fitted', 'Fitted by', 'Who fits it to door and frame.', 'fittedBy'),
  tradeColumn('wired', 'Wired by', 'Who brings the cable.', 'wiredBy'),
  tradeColumn('terminated', 'Terminated by', 'Who makes the connections.', 'terminatedBy'),
  wordsColumn(
    'doorType',
    'Door type',
    'The architect’s type letter or name for the door.',
    (row) => row.doorType,
    (value) => ({ opening: { doorType: value } }),
    { width: 90, usual: false, priority: 7 },
  ),
  wordsColumn(
    'hardwareSet',
    'Hardware set',
    'The set the door hardware schedule gives it.',
    (row) => row.hardwareSet,
    (value) => ({ opening: { hardwareSet: value } }),
    { width: 96, usual: false, priority: 7 },
  ),
  wordsColumn(
    'serial',
    'Serial',
    'Serial of the door itself; fittings have their own.',
    (row) => row.serial,
    (value) => ({ opening: { serial: value } }),
    { width: 100, usual: false, priority: 9 },
  ),
  wordsColumn(
    'assetTag',
    'Asset tag',
    'The owner’s asset tag.',
    (row) => row.assetTag,
    (value) => ({ opening: { assetTag: value } }),
    { width: 90, usual: false, priority: 9 },
  ),
  {
    key: 'installed',
    heading: 'Installed',
    about: 'The day the door was installed, as year-month-day.',
    width: 96,
    align: 'start',
    usual: false,
    priority: 9,
    text: (row) => row.installedOn ?? '',
    compare: byText((row) => row.installedOn),
    read: (text) => {
      if (blank(text)) return knownAs({ opening: { installedOn: null } })
      const day = readDay(text)
      return day === null
        ? notKnown(text, 'a day', 'year-month-day such as 2026-03-14')
        : knownAs({ opening: { installedOn: day } })
    },
  },
  wordsColumn(
    'notes',
    'Notes',
    'Whatever has no column of its own.',
    (row) => row.notes,
    (value) => ({ opening: { notes: value } }),
    { width: 220, usual: true, priority: 3 },
  ),
  {
    key: 'source',
    heading: 'Taken from',
    about: 'The file and row this opening was taken in from.',
    width: 160,
    align: 'start',
    usual: false,
    priority: 10,
    text: (row) =>
      row.sourceFile === null ? '' : [row.sourceFile, row.sourcePlace].filter(Boolean).join(', '),
    compare: byText((row) => row.sourceFile),
  },
]

const listed = (names: readonly string[]): string =>
  names.length === 0
    ? 'the name of a typical; this job has none yet'
    : `one of ${names.slice(0, 8).join(', ')}`

/** An ISO day that exists in the calendar, or null. */
export function readDay(text: string): string | null {
  const found = /^(\d{4})-(\d{1,2})-(\d{1,2})$/.exec(text.trim())
  if (found === null) return null
  const [year, month, day] = [Number(found[1]), Number(found[2]), Number(found[3])]
  const leap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1]
  if (days === undefined || day < 1 || day > days) return null
  return `${found[1]}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`
}

const byKey = new Map(columns.map((column) => [column.key, column]))

/** Every column, in the order they stand before a person chooses. */
export const scheduleColumns: readonly ScheduleColumn[] = columnKeys.map((key) => scheduleColumn(key))

export function scheduleColumn(key: ColumnKey): ScheduleColumn {
  const column = byKey.get(key)
  if (column === undefined) throw new Error(`no column ${key}`)
  return column
}

/** The columns shown before a person chooses. */
export const usualColumns: readonly ColumnKey[] = scheduleColumns
  .filter((column) => column.usual)
  .map((column) => column.key)
