// What the margin says about the cell under the cursor: what it means, where it comes from, what is missing.
import { doubtsAboutSize, handMeanings, writeLength, type TradeField, type Units } from '../job/index.ts'
import type { ColumnKey } from './column-keys.ts'
import { scheduleColumn, type ColumnContext } from './columns.ts'
import { scheduleQuestions, type ScheduleQuestion } from './questions.ts'
import type { ScheduleRow } from './rows.ts'

export interface CellExplanation {
  readonly title: string
  readonly paragraphs: readonly string[]
  /** Sources, and whose word counts. */
  readonly citations: readonly string[]
  readonly questions: readonly ScheduleQuestion[]
}

const labelCaution =
  'What label a doorway needs is for the adopted code and the authority having jurisdiction to say. The label on the door itself counts.'

/** Explains one cell of one row. */
export function explainCell(row: ScheduleRow, key: ColumnKey, context: ColumnContext): CellExplanation {
  const column = scheduleColumn(key)
  const { paragraphs, citations } = about(row, key, context)
  return {
    title: `${row.mark} ${row.where}`.trim() + `, ${column.heading.toLowerCase()}`,
    paragraphs,
    citations,
    questions: scheduleQuestions(row),
  }
}

interface Said {
  readonly paragraphs: readonly string[]
  readonly citations: readonly string[]
}

const said = (...paragraphs: string[]): Said => ({ paragraphs, citations: [] })

function about(row: ScheduleRow, key: ColumnKey, context: ColumnContext): Said {
  const column = scheduleColumn(key)
  const text = column.text(row, context)
  switch (key) {
    case 'mark':
      return said(
        placeWords(row, context),
        ...roomWords(row),
        row.typicalName === null
          ? 'It follows no typical yet.'
          : `It follows the typical ${row.typicalName}.`,
        ...takenFrom(row),
      )
    case 'where':
      return said(
        row.whereIsOwn
          ? 'Written here by hand.'
          : text === ''
            ? 'Nobody has said where it leads.'
            : 'Put together from the rooms it joins.',
        ...roomWords(row),
      )
    case 'size':
      return sizeWords(row, context.units)
    case 'thickness':
      return text === ''
        ? said('Thickness not known.')
        : said(`The leaf is ${inBoth(row.thicknessMicrometres)} thick.`)
    case 'hand':
      return handWords(row)
    case 'label':
      return labelWords(row)
    case 'typical':
      return typicalWords(row, context)
    case 'furnished':
      return tradeWords(row, context, 'furnishedBy', 'Furnished')
    case 'fitted':
      return tradeWords(row, context, 'fittedBy', 'Fitted')
    case 'wired':
      return tradeWords(row, context, 'wiredBy', 'Wired')
    case 'terminated':
      return tradeWords(row, context, 'terminatedBy', 'Terminated')
    case 'source':
      return said(...(row.sourceFile === null ? ['Made here, not taken in from a file.'] : takenFrom(row)))
    case 'building':
    case 'level':
    case 'material':
    case 'frame':
    case 'doorType':
    case 'hardwareSet':
    case 'serial':
    case 'assetTag':
    case 'installed':
    case 'notes':
      return said(column.about, ...(key === 'notes' && text !== '' ? [text] : []))
  }
}

const inBoth = (micrometres: number | null): string =>
  micrometres === null
    ? 'not known'
    : `${writeLength(micrometres, 'imperial', { style: 'inches', nearest: true })} (${writeLength(micrometres, 'metric', { nearest: true })} mm)`

function placeWords(row: ScheduleRow, { frame }: ColumnContext): string {
  const level = frame.levels.find((each) => each.id === row.levelId)?.name ?? 'a level'
  const building = frame.buildings.find((each) => each.id === row.buildingId)?.name
  return frame.buildings.length > 1 && building !== undefined ? `On ${level} of ${building}.` : `On ${level}.`
}

function roomWords(row: ScheduleRow): string[] {
  if (row.toRoom !== '' && row.fromRoom !== '') return [`It leads from ${row.fromRoom} to ${row.toRoom}.`]
  if (row.toRoom !== '') return [`It leads to ${row.toRoom}.`]
  return row.fromRoom === '' ? [] : [`It leads out of ${row.fromRoom}.`]
}

const takenFrom = (row: ScheduleRow): string[] =>
  row.sourceFile === null
    ? []
    : [`Taken in from ${[row.sourceFile, row.sourcePlace].filter(Boolean).join(', ')}.`]

function sizeWords(row: ScheduleRow, units: Units): Said {
  if (row.widthMicrometres === null && row.heightMicrometres === null) return said('Size not known.')
  const pair = row.leaves === 2 ? 'A pair of leaves in a doorway' : 'A doorway'
  const [width, height] = [row.widthMicrometres, row.heightMicrometres]
  const measures =
    width === null
      ? `${pair} ${inBoth(height)} high; how wide is not known.`
      : height === null
        ? `${pair} ${inBoth(width)} wide; how high is not known.`
        : `${pair} ${inBoth(width)} wide and ${inBoth(height)} high.`
  const doubts = doubtsAboutSize(row.widthMicrometres, row.heightMicrometres, units)
  return {
    paragraphs: [measures, ...doubts.map((doubt) => doubt.sentence)],
    citations: [
      'Nominal size of the doorway; the leaf is smaller by its clearances (Steel Door Institute, nominal and net door size). Width first, by common practice.',
    ],
  }
}

function handWords(row: ScheduleRow): Said {
  if (row.hand === null) return said('Hand not known.')
  return {
    paragraphs: [
      `Standing at the keyed side and facing the door: ${handMeanings[row.hand]}.`,
      ...(row.leaves === 2 ? ['Of a pair, this is the active leaf.'] : []),
    ],
    citations: [
      'Judged from the keyed side, by common practice; the same four hands stand in the documentation of IfcDoor, IFC 4.3 (ISO 16739-1).',
    ],
  }
}

function labelWords(row: ScheduleRow): Said {
  const letter = row.fireLabelClass === null ? '' : `, class ${row.fireLabelClass}`
  const words =
    row.fireLabelMinutes === null
      ? row.fireLabelClass === null
        ? 'Nobody has said whether this door bears a fire label. Unknown is not the same as none.'
        : `Class ${row.fireLabelClass} is given, but not for how many minutes.`
      : row.fireLabelMinutes === 0
        ? 'Known to bear no fire label.'
        : `A ${row.fireLabelMinutes} minute label${letter}.`
  return {
    paragraphs: [words],
    citations: [
      'Label classes A to E: NFPA 80, informational annex, as secondary sources give it; class B is 60 or 90 minutes.',
      labelCaution,
    ],
  }
}

function typicalWords(row: ScheduleRow, { frame }: ColumnContext): Said {
  const typical = frame.typicals.find((each) => each.id === row.typicalId)
  if (typical === undefined) return said('No typical yet, so nothing says what this door is fitted with.')
  const fittings = typical.fittings.map((each) => `${each.tag} ${each.part}`).join('; ')
  return said(
    ...(typical.description === null ? [] : [typical.description]),
    ...(fittings === '' ? ['It has no fittings yet.'] : [`${fittings}.`]),
    row.differing === 0 && row.ownTrades.length === 0
      ? 'Follows its typical in everything; a change to the typical reaches it.'
      : differsWords(row),
  )
}

function differsWords(row: ScheduleRow): string {
  const parts = [
    ...(row.differing > 0 ? [row.differing === 1 ? 'one fitting' : `${row.differing} fittings`] : []),
    ...(row.ownTrades.length > 0 ? ['who does what'] : []),
  ]
  return `Differs on purpose in ${parts.join(' and in ')}; its page says how.`
}

function tradeWords(row: ScheduleRow, { frame }: ColumnContext, field: TradeField, verb: string): Said {
  const value = row[field]
  const typical = frame.typicals.find((each) => each.id === row.typicalId)
  if (value === null) return said(`${verb} by: nobody has said.`)
  if (!row.ownTrades.includes(field)) {
    return typical === undefined
      ? said(`${verb} by ${value}.`)
      : said(`${verb} by ${value}, as the typical ${typical.name} says.`)
  }
  const usual = typical?.[field]
  return said(
    usual === null || usual === undefined
      ? `${verb} by ${value}, said for this opening.`
      : `${verb} by ${value}, said for this opening. The typical ${typical?.name ?? ''} says ${usual}.`,
    'Clear the cell to follow the typical again.',
  )
}
