// Choosing, sorting and grouping the rows, the same way for screen, paper and workbook.
import { z } from 'zod'
import { compareMarks } from '../job/index.ts'
import { columnKeys } from './column-keys.ts'
import { scheduleColumn } from './columns.ts'
import { hasQuestion } from './questions.ts'
import type { ScheduleFrame, ScheduleRow } from './rows.ts'

export const groupings = ['level', 'building', 'typical', 'label', 'furnished', 'nothing'] as const
export type Grouping = (typeof groupings)[number]

export const arrangement = z.strictObject({
  group: z.enum(groupings),
  sort: z.strictObject({ column: z.enum(columnKeys), direction: z.enum(['up', 'down']) }),
  /** Every word must stand somewhere in the row. */
  words: z.string().max(400),
  /** Empty lists choose nothing in particular: everything. */
  levelIds: z.array(z.string().max(64)).max(5000),
  typicalIds: z.array(z.string().max(64)).max(5000),
  only: z.enum(['all', 'questions', 'differing']),
})
/** Which rows are shown, in which order, under which headings. */
export type Arrangement = z.infer<typeof arrangement>

export const plainArrangement: Arrangement = {
  group: 'level',
  sort: { column: 'mark', direction: 'up' },
  words: '',
  levelIds: [],
  typicalIds: [],
  only: 'all',
}

export interface RowGroup {
  readonly key: string
  readonly title: string
  readonly rows: readonly ScheduleRow[]
}

/** Lower case, no accents, dashes and blanks alike. */
export const plainWords = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase()
    .replace(/[\s\-–—_/.]+/g, ' ')

function holdsWords(row: ScheduleRow, wanted: readonly string[]): boolean {
  if (wanted.length === 0) return true
  const text = plainWords(
    [
      row.mark,
      row.where,
      row.toRoom,
      row.fromRoom,
      row.typicalName,
      row.serial,
      row.assetTag,
      row.notes,
      row.doorType,
      row.hardwareSet,
      row.hand,
      row.doorMaterial,
      row.frameMaterial,
    ]
      .filter((each) => each !== null && each !== '')
      .join(' '),
  )
  return wanted.every((word) => text.includes(word))
}

/** The rows that the arrangement asks for, in no order. */
export function chooseRows(rows: readonly ScheduleRow[], arrangement: Arrangement): ScheduleRow[] {
  const wanted = plainWords(arrangement.words).split(' ').filter(Boolean)
  const levels = new Set(arrangement.levelIds)
  const typicals = new Set(arrangement.typicalIds)
  return rows.filter(
    (row) =>
      (levels.size === 0 || levels.has(row.levelId)) &&
      (typicals.size === 0 || (row.typicalId !== null && typicals.has(row.typicalId))) &&
      (arrangement.only === 'all' ||
        (arrangement.only === 'questions'
          ? hasQuestion(row)
          : row.ownTrades.length > 0 || row.differing > 0)) &&
      holdsWords(row, wanted),
  )
}

/** Chosen, sorted and grouped; groups that would be empty are left out. */
export function arrangeRows(
  rows: readonly ScheduleRow[],
  frame: ScheduleFrame,
  arrangement: Arrangement,
): RowGroup[] {
  const chosen = chooseRows(rows, arrangement)
  const column = scheduleColumn(arrangement.sort.column)
  const sign = arrangement.sort.direction === 'up' ? 1 : -1
  const rank = column.rank?.(frame)
  const byColumn =
    rank === undefined ? column.compare : (a: ScheduleRow, b: ScheduleRow) => sign * (rank(a) - rank(b))
  const byMark = scheduleColumn('mark').compare
  chosen.sort((a, b) => byColumn(a, b, sign) || byMark(a, b) || (a.id < b.id ? -1 : 1))
  const titles = groupTitles(frame, arrangement.group)
  const groups = new Map<string, ScheduleRow[]>([...titles.keys()].map((key) => [key, []]))
  for (const row of chosen) {
    const key = groupKey(row, arrangement.group)
    const group = groups.get(key)
    if (group === undefined) groups.set(key, [row])
    else group.push(row)
  }
  const found = [...groups].filter(([, each]) => each.length > 0)
  // Groups without a kept order of their own (labels, trades) stand in people's order, what is not known last.
  if (titles.size === 0)
    found.sort(([a], [b]) => Number(notKnownKeys.has(a)) - Number(notKnownKeys.has(b)) || compareMarks(a, b))
  return found.map(([key, each]) => ({ key, title: titles.get(key) ?? key, rows: each }))
}

/**
 * The same groups with changed rows in place and removed ones gone, so that nothing jumps while a person edits: a row
 * keeps its place even where its new text would sort or filter it elsewhere. Null when a row is new or belongs to
 * another group now, and all must be arranged again.
 */
export function keepArranged(
  groups: readonly RowGroup[],
  grouping: Grouping,
  changed: ReadonlyMap<string, ScheduleRow>,
  removed: ReadonlySet<string>,
): RowGroup[] | null {
  const seen = new Set<string>()
  const kept: RowGroup[] = []
  for (const group of groups) {
    if (!group.rows.some((row) => changed.has(row.id) || removed.has(row.id))) {
      kept.push(group)
      continue
    }
    const rows: ScheduleRow[] = []
    for (const row of group.rows) {
      if (removed.has(row.id)) continue
      const next = changed.get(row.id)
      if (next !== undefined && groupKey(next, grouping) !== group.key) return null
      if (next !== undefined) seen.add(next.id)
      rows.push(next ?? row)
    }
    if (rows.length > 0) kept.push({ ...group, rows })
  }
  return seen.size === changed.size ? kept : null
}

const labelNotKnown = 'Label not known'
const furnishedNotKnown = 'Furnished by: not known'
const notKnownKeys: ReadonlySet<string> = new Set([labelNotKnown, furnishedNotKnown])

function groupTitles(frame: ScheduleFrame, group: Grouping): Map<string, string> {
  switch (group) {
    case 'level': {
      const several = frame.buildings.length > 1
      const names = new Map(frame.buildings.map((building) => [building.id as string, building.name]))
      return new Map(
        frame.levels.map((level) => [
          level.id,
          several ? `${names.get(level.buildingId) ?? ''}, ${level.name}` : level.name,
        ]),
      )
    }
    case 'building':
      return new Map(frame.buildings.map((building) => [building.id, building.name]))
    case 'typical':
      return new Map<string, string>([
        ...frame.typicals.map((typical): [string, string] => [typical.id, typical.name]),
        ['', 'No typical yet'],
      ])
    case 'nothing':
      return new Map([['all', 'All openings']])
    case 'label':
    case 'furnished':
      return new Map()
  }
}

function groupKey(row: ScheduleRow, group: Grouping): string {
  switch (group) {
    case 'level':
      return row.levelId
    case 'building':
      return row.buildingId
    case 'typical':
      return row.typicalId ?? ''
    case 'label':
      if (row.fireLabelMinutes === null) return labelNotKnown
      return row.fireLabelMinutes === 0 ? 'No label' : `${row.fireLabelMinutes} minutes`
    case 'furnished':
      return row.furnishedBy ?? furnishedNotKnown
    case 'nothing':
      return 'all'
  }
}

/** Words for what was asked for, or null for the whole job. */
export function choiceWords(frame: ScheduleFrame, arrangement: Arrangement): string | null {
  const names = (ids: readonly string[], list: readonly { id: string; name: string }[]): string =>
    ids.map((id) => list.find((each) => each.id === id)?.name ?? '?').join(', ')
  const words = [
    ...(arrangement.levelIds.length > 0 ? [names(arrangement.levelIds, frame.levels)] : []),
    ...(arrangement.typicalIds.length > 0 ? [names(arrangement.typicalIds, frame.typicals)] : []),
    ...(arrangement.only === 'questions' ? ['openings with open questions'] : []),
    ...(arrangement.only === 'differing' ? ['openings that differ from their typical'] : []),
    ...(arrangement.words.trim() === '' ? [] : [`rows with “${arrangement.words.trim()}”`]),
  ]
  return words.length === 0 ? null : `Only ${words.join('; ')}`
}
