import { expect, test } from 'vitest'
import { readDay, scheduleFrame, scheduleRow, usualColumns } from '../../../core/schedule/index.ts'
import { openingOf, smallJob } from '../support/small-job.ts'

const data = smallJob()

test.each([
  [
    'a',
    {
      buildingId: 'main',
      levelId: 'ground',
      where: 'Lobby, from 102',
      whereIsOwn: false,
      toRoom: '101 Lobby',
      fromRoom: '102 Café',
      leaves: 1,
      doorMaterial: 'WD',
      typicalName: 'Store room',
      fittedBy: 'Integrator',
      wiredBy: null,
      ownTrades: [],
      differing: 0,
    },
  ],
  ['b', { where: 'Café', toRoom: '102 Café', fromRoom: '', differing: 1 }],
  ['c', { where: '', leaves: 2, doorMaterial: 'HM', differing: 3 }],
  [
    'd',
    {
      where: 'Back door',
      whereIsOwn: true,
      furnishedBy: 'Door supplier',
      fittedBy: 'Owner',
      ownTrades: ['fittedBy'],
    },
  ],
  ['e', { where: '', leaves: 1, typicalId: null, typicalName: null, differing: 0, ownTrades: [] }],
  ['g', { where: 'from 201', toRoom: '', fromRoom: '201' }],
  // Without a typical nothing differs from one.
  ['h', { furnishedBy: 'Owner', ownTrades: [] }],
  ['j', { sourceFile: 'doors.xlsx', sourcePlace: 'row 12', fireLabelClass: 'B', fireLabelMinutes: null }],
])('the row of %s', (id, fields) => {
  expect(scheduleRow(data, openingOf(data, id))).toMatchObject(fields)
})

test('beside the rows: places and typicals in the job’s order, with how many openings each has', () => {
  const frame = scheduleFrame(data)
  expect(frame.buildings.map((each) => each.name)).toEqual(['Main', 'Annexe'])
  expect(frame.levels.map((each) => [each.name, each.openings])).toEqual([
    ['Ground', 5],
    ['First', 3],
    ['Yard', 2],
  ])
  expect(frame.typicals.map((each) => [each.name, each.openings, each.fittings.length])).toEqual([
    ['Store room', 5, 2],
    ['Office', 2, 1],
  ])
  expect(frame.job).toMatchObject({ name: 'Harrow Street Clinic', units: 'imperial' })
})

test('the columns one sees first', () => {
  expect(usualColumns).toEqual([
    'mark',
    'where',
    'size',
    'hand',
    'label',
    'typical',
    'material',
    'frame',
    'furnished',
    'fitted',
    'notes',
  ])
})

test.each([
  ['2026-03-14', '2026-03-14'],
  [' 2026-3-4 ', '2026-03-04'],
  ['2024-02-29', '2024-02-29'],
  ['2026-02-29', null],
  ['2100-02-29', null],
  ['2000-02-29', '2000-02-29'],
  ['2026-13-01', null],
  ['2026-00-01', null],
  ['2026-01-00', null],
  ['14/03/2026', null],
])('the day %s', (text, day) => {
  expect(readDay(text)).toBe(day)
})
