import { describe, expect, test } from 'vitest'
import { invert, type JobData } from '../../../core/job/index.ts'
import {
  compareWithJob,
  joinUnderstandings,
  matchColumns,
  planTakeIn,
  understandModel,
  understandSheet,
  type Comparison,
  type TakeInDecisions,
  type Understanding,
} from '../../../core/exchange/index.ts'
import {
  addTypical,
  applyChecked,
  counter,
  doorOf,
  emptyJob,
  modelOf,
  openingBy,
  setOpening,
  sheetOfLines,
  stateOf,
} from './intake-fixtures.ts'

const understand = (lines: string): Understanding => {
  const sheet = sheetOfLines(lines)
  return understandSheet(sheet, matchColumns(sheet), {
    units: 'imperial',
    building: 'Main',
    level: 'Level 1',
  })
}

/** Compares and takes in; gives the comparison that was accepted. */
function takeIn(
  data: JobData,
  understanding: Understanding,
  decisions: (comparison: Comparison) => TakeInDecisions = () => ({}),
  ids = counter(`id${data.count('opening')}-`),
): { comparison: Comparison; name: string; edits: number } {
  const comparison = compareWithJob(understanding, data)
  const { change } = planTakeIn({
    understanding,
    comparison,
    decisions: decisions(comparison),
    data,
    newId: ids,
    file: 'doors.xlsx',
  })
  applyChecked(data, change)
  return { comparison, name: change.name, edits: change.edits.length }
}

const kindsOf = (comparison: Comparison): string[] =>
  comparison.items.map((item) => `${item.mark} ${item.kind}`)
const headings = 'Mark | Level | To | Size | Hand | Door matl | Label | Typical | Notes'
const first = `${headings}
  101 | Level 1 | 101 Lobby | PR 3-0 x 7-0 | RHRA | AL | NR | Entrance |
  102 | Level 1 | 101 | 3070 | LH | WD | 20 | | closer
  201 | Level 2 | 201 | 3070 | LH | | | |`

describe('the first take-in', () => {
  test('adds buildings, levels, rooms, openings and leaves as one change that undo takes back', () => {
    const data = emptyJob()
    addTypical(data, 'entrance')
    const before = stateOf(data)
    const comparison = compareWithJob(understand(first), data)
    expect(comparison.counts).toEqual({ added: 3, changed: 0, same: 0, gone: 0 })
    const { change, counts } = planTakeIn({
      understanding: understand(first),
      comparison,
      decisions: {},
      data,
      newId: counter(),
      file: 'doors.xlsx',
    })
    expect(change.name).toBe('Take in doors.xlsx: 3 added')
    expect(counts).toEqual({ added: 3, changed: 0, removed: 0 })
    applyChecked(data, change)
    expect(Array.from(data.all('building'), (each) => each.name)).toEqual(['Main'])
    expect(Array.from(data.all('level'), (each) => [each.name, each.position])).toEqual([
      ['Level 1', 0],
      ['Level 2', 1],
    ])
    expect(Array.from(data.all('space'), (each) => [each.number, each.name])).toEqual([
      ['101', 'Lobby'],
      ['201', null],
    ])
    const entrance = openingBy(data, '101')
    expect(entrance).toMatchObject({ hand: 'RHR', fireLabelMinutes: 0, typicalId: 'typical entrance' })
    expect(data.referring('leaf', 'openingId', entrance.id)).toMatchObject([
      { role: 'active', material: 'AL', position: 0 },
      { role: 'inactive', material: 'AL', position: 1 },
    ])
    expect(openingBy(data, '102').toSpaceId).toBe(entrance.toSpaceId)
    expect(entrance.source).toMatchObject({
      file: 'doors.xlsx',
      place: 'Doors, row 2',
      cells: { Size: 'PR 3-0 x 7-0', Label: 'NR' },
      understood: { mark: '101', level: 'Main, Level 1', leaves: '2', hand: 'RHR', fireLabel: '0' },
    })
    data.apply(invert(change.edits))
    expect(stateOf(data)).toBe(before)
  })

  test('the same sheet again changes nothing', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    const state = stateOf(data)
    const again = takeIn(data, understand(first))
    expect(again.comparison.counts).toEqual({ added: 0, changed: 0, same: 3, gone: 0 })
    expect(again.edits).toBe(0)
    expect(stateOf(data)).toBe(state)
  })

  test('a typical the job does not have is said, not made', () => {
    const { comparison } = takeIn(emptyJob(), understand(first))
    expect(comparison.items[0]?.remarks).toEqual([
      'There is no typical "Entrance" in this job; the name stays in the source cells.',
    ])
  })

  test('where nothing names a building or a level, plain words stand in and the next take-in finds them', () => {
    const sheet = sheetOfLines('Mark | Width\n1 | 3-0')
    const plain = understandSheet(sheet, matchColumns(sheet), { units: 'imperial' })
    const data = emptyJob()
    takeIn(data, plain)
    expect(Array.from(data.all('level'), (each) => each.name)).toEqual(['Level not given'])
    expect(Array.from(data.all('building'), (each) => each.name)).toEqual(['Building'])
    const again = takeIn(data, plain)
    expect(again.comparison.counts.same).toBe(1)
    expect(again.edits).toBe(0)
  })

  test('an item a person leaves is not added, nor the level only it needs', () => {
    const data = emptyJob()
    takeIn(data, understand(first), ({ items }) => ({ items: { [items[2]?.key ?? '']: 'leave' } }))
    expect(data.count('opening')).toBe(2)
    expect(data.count('level')).toBe(1)
  })
})

describe('a newer revision', () => {
  const second = `${headings}
    101 | Level 1 | 101 Lobby | 3-0 x 7-0 | RHR | HM | NR | Entrance |
    102 | Level 1 | 101 | 3070 | LHR | WD | 45 | |
    103 | Level 1 | 103 | 3070 | RH | WD | | |`

  test('shows added, changed with both values, and gone', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    const comparison = compareWithJob(understand(second), data)
    expect(kindsOf(comparison)).toEqual(['101 changed', '102 changed', '103 added', '201 gone'])
    expect(comparison.items[0]?.changes.map(({ label, was, becomes }) => [label, was, becomes])).toEqual([
      ['Leaves', '2', '1'],
      ['Width', '6-0', '3-0'],
      ['Door material', 'AL', 'HM'],
    ])
    expect(comparison.items[1]?.changes.map(({ label, was, becomes }) => [label, was, becomes])).toEqual([
      ['Hand', 'LH', 'LHR'],
      ['Fire label', '20 min', '45 min'],
      ['Notes', 'closer', ''],
    ])
  })

  test('changes are accepted and gone ones stay, unless chosen; undo takes all of it back', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    const before = stateOf(data)
    const understanding = understand(second)
    const comparison = compareWithJob(understanding, data)
    const { change } = planTakeIn({
      understanding,
      comparison,
      decisions: {},
      data,
      newId: counter('x'),
      file: 'b.csv',
    })
    applyChecked(data, change)
    expect(change.name).toBe('Take in b.csv: 1 added, 2 changed')
    expect(data.count('opening')).toBe(4)
    expect(data.referring('leaf', 'openingId', openingBy(data, '101').id)).toMatchObject([
      { role: 'only', material: 'HM' },
    ])
    expect(openingBy(data, '102')).toMatchObject({ hand: 'LHR', fireLabelMinutes: 45, notes: null })
    expect(openingBy(data, '102').source).toMatchObject({ file: 'b.csv' })
    data.apply(invert(change.edits))
    expect(stateOf(data)).toBe(before)
  })

  test('a gone opening is removed with its leaves when a person chooses it', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    const { name } = takeIn(data, understand(second), ({ items }) => ({
      items: Object.fromEntries(items.map((item) => [item.key, item.kind === 'gone' ? 'accept' : 'leave'])),
    }))
    expect(name).toBe('Take in doors.xlsx: 1 removed')
    expect(Array.from(data.all('opening'), (each) => each.mark)).toEqual(['101', '102'])
    expect(data.count('leaf')).toBe(3)
  })

  test('what a person edited since is said and left, unless they choose otherwise', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    setOpening(data, '102', { hand: 'RH' })
    const item = compareWithJob(understand(second), data).items[1]
    expect(item?.changes.map((change) => [change.field, change.was, change.editedSince])).toEqual([
      ['hand', 'RH', true],
      ['fireLabel', '20 min', false],
      ['notes', 'closer', false],
    ])
    takeIn(data, understand(second))
    expect(openingBy(data, '102')).toMatchObject({ hand: 'RH', fireLabelMinutes: 45 })
    // Still different from what the source said, so still a person's.
    expect(compareWithJob(understand(second), data).items[1]).toMatchObject({
      kind: 'changed',
      changes: [{ field: 'hand', editedSince: true }],
    })
    takeIn(data, understand(second), ({ items }) => ({
      fields: { [items[1]?.key ?? '']: { hand: 'accept' } },
    }))
    expect(openingBy(data, '102').hand).toBe('LHR')
    expect(compareWithJob(understand(second), data).counts).toMatchObject({ changed: 0 })
  })

  test('what a person typed where the source said nothing before is theirs too', () => {
    const data = emptyJob()
    takeIn(data, understand('Mark | Level\n101 | Level 1\n102 | Level 1'))
    setOpening(data, '101', { hand: 'RH' })
    setOpening(data, '102', { hand: 'RH', source: null })
    const understanding = understand(
      'Mark | Level | Hand | Notes\n101 | Level 1 | LH | new\n102 | Level 1 | LH |',
    )
    const { comparison } = takeIn(data, understanding)
    expect(
      comparison.items.map((item) => item.changes.map(({ field, editedSince }) => [field, editedSince])),
    ).toEqual([
      [
        ['hand', true],
        ['notes', false],
      ],
      [['hand', true]],
    ])
    expect(openingBy(data, '101')).toMatchObject({ hand: 'RH', notes: 'new' })
    expect(openingBy(data, '102')).toMatchObject({ hand: 'RH' })
  })

  test('an unchanged opening is not touched by a copy of the file under another name', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    const understanding = understand(`a title\n${first}`)
    const comparison = compareWithJob(understanding, data)
    const parts = { understanding, comparison, decisions: {}, data, newId: counter('x'), file: 'copy.xlsx' }
    expect(planTakeIn(parts).change.edits).toEqual([])
  })

  test('an empty cell never clears what a person typed, and a column left out clears nothing', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    setOpening(data, '201', { notes: 'ask about the frame', serial: 'S1' })
    expect(compareWithJob(understand(first), data).counts).toMatchObject({ same: 3 })
    const fewer = understand('Mark | Level\n101 | Level 1\n102 | Level 1\n201 | Level 2')
    expect(compareWithJob(fewer, data).counts).toMatchObject({ same: 3, gone: 0 })
  })

  test('a room given by its number alone does not deny the name', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    const again = understand(first.replace('101 Lobby', '101'))
    expect(compareWithJob(again, data).counts).toMatchObject({ same: 3 })
  })

  test('an opening made by hand is never gone; of other buildings nothing is', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    setOpening(data, '201', { source: null })
    const sheet = sheetOfLines('Mark | Width\n1 | 3-0')
    const other = understandSheet(sheet, matchColumns(sheet), {
      units: 'imperial',
      building: 'Annex',
      level: 'Level 1',
    })
    expect(kindsOf(compareWithJob(other, data))).toEqual(['1 added'])
    expect(kindsOf(compareWithJob(understand('Mark | Level\n101 | Level 1'), data))).toEqual([
      '101 same',
      '102 gone',
    ])
  })
})

describe('matching', () => {
  test('by source id first, so a new mark and level are changes', () => {
    const data = emptyJob('metric')
    takeIn(data, understandModel(modelOf([doorOf('g1', { name: 'D1' }), doorOf('g2', { name: 'D2' })])))
    const moved = understandModel(
      modelOf([doorOf('g1', { name: 'D2' }), doorOf('g2', { name: 'D9', storey: 'Level 2' })]),
    )
    const { comparison } = takeIn(data, moved)
    expect(
      comparison.items.map((item) => item.changes.map(({ field, was, becomes }) => [field, was, becomes])),
    ).toEqual([
      [['mark', 'D1', 'D2']],
      [
        ['mark', 'D2', 'D9'],
        ['level', 'Annex, Level 1', 'Annex, Level 2'],
      ],
    ])
    expect(data.count('opening')).toBe(2)
    expect(data.get('level', openingBy(data, 'D9').levelId)?.name).toBe('Level 2')
  })

  test('case and blanks of places do not matter', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    expect(compareWithJob(understand(first.replaceAll('Level 1', 'LEVEL  1')), data).counts).toMatchObject({
      same: 3,
    })
  })

  test('by mark alone where the source names no level', () => {
    const data = emptyJob()
    takeIn(data, understand(first))
    const sheet = sheetOfLines('Mark | Hand\n102 | RH\n999 | LH')
    const bare = understandSheet(sheet, matchColumns(sheet), { units: 'imperial' })
    expect(kindsOf(compareWithJob(bare, data)).slice(0, 2)).toEqual(['102 changed', '999 added'])
  })

  test('duplicates taken in twice stay two; when one of them changes it is found; when unclear a person decides', () => {
    const twice = 'Mark | Hand\n7 | LH\n7 | RH'
    const data = emptyJob()
    takeIn(data, understand(twice))
    expect(compareWithJob(understand(twice), data).counts).toMatchObject({ same: 2 })
    expect(kindsOf(compareWithJob(understand('Mark | Hand\n7 | LHR\n7 | RH'), data))).toEqual([
      '7 changed',
      '7 same',
    ])
    const unclear = compareWithJob(understand('Mark | Hand\n7 | LHR\n7 | RHR'), data)
    expect(kindsOf(unclear)).toEqual(['7 added', '7 added', '7 gone', '7 gone'])
    expect(unclear.items[0]?.doubt).toBe(
      'Several openings have the mark 7 on this level, so it is not clear which is which.',
    )
    const state = stateOf(data)
    takeIn(data, understand('Mark | Hand\n7 | LHR\n7 | RHR'))
    expect(stateOf(data)).toBe(state)
  })

  test('sheets of one workbook are taken in together, so none makes the other’s openings gone', () => {
    const sheets = [understand('Mark | Level\n1 | Level 1'), understand('Mark | Level\n2 | Level 2')]
    const data = emptyJob()
    takeIn(data, joinUnderstandings(sheets))
    expect(compareWithJob(joinUnderstandings(sheets), data).counts).toEqual({
      added: 0,
      changed: 0,
      same: 2,
      gone: 0,
    })
  })
})

test('new levels stand from the ground up where the source gives heights', () => {
  const storey = (name: string, elevationMetres: number) => ({
    globalId: name,
    name,
    building: 'Annex',
    elevationMetres,
  })
  const data = emptyJob('metric')
  takeIn(
    data,
    understandModel(
      modelOf([doorOf('a', { name: '1', storey: 'Roof' }), doorOf('b', { name: '2', storey: 'Level 1' })], {
        storeys: [storey('Roof', 9), storey('Level 1', 0), storey('Cellar', -3)],
      }),
    ),
  )
  const levels = Array.from(data.all('level')).toSorted((a, b) => a.position - b.position)
  expect(levels.map((level) => [level.name, level.elevationMetres, level.sourceId])).toEqual([
    ['Level 1', 0, 'Level 1'],
    ['Roof', 9, 'Roof'],
  ])
})
