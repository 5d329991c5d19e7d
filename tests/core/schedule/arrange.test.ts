import { describe, expect, test } from 'vitest'
import {
  arrangeRows,
  chooseRows,
  plainArrangement,
  plainWords,
  scheduleFrame,
  scheduleRows,
  type Arrangement,
  type ColumnKey,
} from '../../../core/schedule/index.ts'
import { smallJob } from '../support/small-job.ts'

const data = smallJob()
const rows = scheduleRows(data)
const frame = scheduleFrame(data)

/** "Title: marks" for each group; marks of the yard, which repeat those of the ground, carry a Y. */
const arranged = (wanted: Partial<Arrangement>): string[] =>
  arrangeRows(rows, frame, { ...plainArrangement, ...wanted }).map(
    (group) =>
      `${group.title}: ${group.rows.map((row) => (row.levelId === 'yard' ? `Y${row.mark}` : row.mark)).join(' ')}`,
  )

describe('groups', () => {
  test.each([
    ['level', ['Main, Ground: 2 10 101 102 104A', 'Main, First: 201 202 B2-03', 'Annexe, Yard: Y101 Y102']],
    ['building', ['Main: 2 10 101 102 104A 201 202 B2-03', 'Annexe: Y101 Y102']],
    ['typical', ['Store room: 101 Y101 102 104A 201', 'Office: 10 202', 'No typical yet: 2 Y102 B2-03']],
    [
      'label',
      [
        '20 minutes: 201',
        '90 minutes: 104A',
        'No label: 10 101 Y101 102 B2-03',
        'Label not known: 2 Y102 202',
      ],
    ],
    [
      'furnished',
      ['Door supplier: 10 202', 'Owner: B2-03', 'Furnished by: not known: 2 101 Y101 102 Y102 104A 201'],
    ],
    ['nothing', ['All openings: 2 10 101 Y101 102 Y102 104A 201 202 B2-03']],
  ] as const)('by %s', (group, expected) => {
    expect(arranged({ group })).toEqual(expected)
  })
  test('what is not known stands after every trade, whatever it begins with', () => {
    const named = rows.map((row) => (row.mark === '2' ? { ...row, furnishedBy: 'Zoe' } : row))
    const titles = arrangeRows(named, frame, { ...plainArrangement, group: 'furnished' }).map(
      (each) => each.title,
    )
    expect(titles).toEqual(['Door supplier', 'Owner', 'Zoe', 'Furnished by: not known'])
  })
  test('one building needs no name before its levels', () => {
    const one = { ...frame, buildings: frame.buildings.slice(0, 1) }
    expect(arrangeRows(rows, one, plainArrangement)[0]?.title).toBe('Ground')
  })
  test('levels stand in the order the job keeps', () => {
    const turned = { ...frame, levels: frame.levels.toReversed() }
    const titles = arrangeRows(rows, turned, plainArrangement).map((each) => each.title)
    expect(titles).toEqual(['Annexe, Yard', 'Main, First', 'Main, Ground'])
  })
})

describe('sorting: people’s order, what is missing last either way', () => {
  const sorted = (column: ColumnKey, direction: 'up' | 'down'): string =>
    (arranged({ group: 'nothing', sort: { column, direction } })[0] ?? '').replace('All openings: ', '')
  test.each<[ColumnKey, string, string]>([
    ['mark', '2 10 101 Y101 102 Y102 104A 201 202 B2-03', 'B2-03 202 201 104A 102 Y102 101 Y101 10 2'],
    // Nine of 3-0 x 7-0, one pair of 6-0 x 8-0, three without a size.
    ['size', '10 101 Y101 102 201 B2-03 104A 2 Y102 202', '104A 10 101 Y101 102 201 B2-03 2 Y102 202'],
    ['label', '10 101 Y101 102 B2-03 201 104A 2 Y102 202', '104A 201 10 101 Y101 102 B2-03 2 Y102 202'],
    ['hand', '10 101 Y101 104A 201 B2-03 202 102 2 Y102', '102 202 10 101 Y101 104A 201 B2-03 2 Y102'],
    ['typical', '10 202 101 Y101 102 104A 201 2 Y102 B2-03', '101 Y101 102 104A 201 10 202 2 Y102 B2-03'],
    ['serial', '201 2 10 101 Y101 102 Y102 104A 202 B2-03', '201 2 10 101 Y101 102 Y102 104A 202 B2-03'],
    ['level', '2 10 101 102 104A 201 202 B2-03 Y101 Y102', 'Y101 Y102 201 202 B2-03 2 10 101 102 104A'],
    ['building', '2 10 101 102 104A 201 202 B2-03 Y101 Y102', 'Y101 Y102 2 10 101 102 104A 201 202 B2-03'],
  ])('%s', (column, up, down) => {
    expect(sorted(column, 'up')).toBe(up)
    expect(sorted(column, 'down')).toBe(down)
  })
  test('numbers within words count as numbers', () => {
    const places = ['Room 10', 'room 9', '', 'Room 2']
    const some = rows.slice(0, 4).map((row, at) => ({ ...row, where: places[at] ?? '' }))
    const wheres = (direction: 'up' | 'down') =>
      arrangeRows(some, frame, {
        ...plainArrangement,
        group: 'nothing',
        sort: { column: 'where', direction },
      })
        .flatMap((group) => group.rows)
        .map((row) => row.where)
    expect(wheres('up')).toEqual(['Room 2', 'room 9', 'Room 10', ''])
    expect(wheres('down')).toEqual(['Room 10', 'room 9', 'Room 2', ''])
  })
})

describe('choosing', () => {
  const chosen = (wanted: Partial<Arrangement>): string =>
    chooseRows(rows, { ...plainArrangement, ...wanted })
      .map((row) => row.id)
      .join('')
  test.each([
    ['', 'abcdefghij'],
    ['  ', 'abcdefghij'],
    ['cafe', 'ab'],
    ['CAFÉ', 'ab'],
    ['b2 03', 'h'],
    ['B2–03', 'h'],
    ['b2_03', 'h'],
    ['lobby 102', 'a'],
    ['102 lobby', 'a'],
    ['back DOOR', 'd'],
    ['hold-open', 'b'],
    ['sn 9', 'f'],
    ['t-7', 'f'],
    ['office', 'dg'],
    ['rhr', 'b'],
    ['wd', 'a'],
    ['hm lh 104', 'c'],
    ['nothing like it', ''],
  ])('the words "%s" choose %s', (words, ids) => {
    expect(chosen({ words })).toBe(ids)
  })
  test.each<[string, Partial<Arrangement>, string]>([
    ['levels', { levelIds: ['first', 'yard'] }, 'fghij'],
    ['typicals', { typicalIds: ['office'] }, 'dg'],
    ['levels and typicals', { levelIds: ['ground'], typicalIds: ['office', 'store'] }, 'abcd'],
    ['open questions', { only: 'questions' }, 'eghj'],
    // By fittings: b, c, i. By trades: d has its own; h has no typical to differ from.
    ['differing', { only: 'differing' }, 'bcdi'],
    ['differing on a level, with a word', { only: 'differing', levelIds: ['ground'], words: '10' }, 'bcd'],
  ])('%s', (_what, wanted, ids) => {
    expect(chosen(wanted)).toBe(ids)
  })
  test('groups without rows are left out', () => {
    expect(arranged({ words: 'back' })).toEqual(['Main, Ground: 10'])
    expect(arranged({ words: 'nothing like it' })).toEqual([])
  })
})

test.each([
  ['Café – Küche', 'cafe kuche'],
  ['A.1_2/3', 'a 1 2 3'],
  ['  x ', ' x '],
])('plain words of "%s"', (text, plain) => {
  expect(plainWords(text)).toBe(plain)
})
