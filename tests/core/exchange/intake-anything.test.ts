import fc from 'fast-check'
import { expect, test } from 'vitest'
import { invert } from '../../../core/job/index.ts'
import {
  compareWithJob,
  matchColumns,
  pastedSheet,
  planTakeIn,
  recogniseCobie,
  understandCobie,
  understandSheet,
} from '../../../core/exchange/index.ts'
import { applyChecked, counter, emptyJob, sheetOf, stateOf } from './intake-fixtures.ts'

const words = [
  'Mark',
  'Door No',
  'Width',
  'Height',
  'Size',
  'Hand',
  'Level',
  'Label',
  'To',
  'Notes',
  'Leaves',
  'Installed on',
  '101',
  '102',
  'A-1',
  '3-0',
  '7-0',
  '3070',
  'PR 3-0 x 7-0',
  '914',
  '36',
  'LH',
  'RHRA',
  'B',
  '90 MIN',
  'N/A',
  'TBC',
  'LEVEL 2',
  'Total',
  'NOTES',
  '2026-03-04',
  '#REF!',
  '½',
  '-',
  '"',
  '__proto__',
  'constructor',
  '101 Lobby',
  '0',
]
const cells = fc.oneof(
  { weight: 5, arbitrary: fc.constantFrom(...words) },
  { weight: 2, arbitrary: fc.constant('') },
  { weight: 1, arbitrary: fc.string({ unit: 'grapheme', maxLength: 12 }) },
  {
    weight: 1,
    arbitrary: fc.record({
      text: fc.constantFrom('2026-03-04', '#DIV/0!', 'true', '101'),
      form: fc.constantFrom('date', 'error', 'yes-no', 'number'),
    }) as fc.Arbitrary<{ text: string; form: 'date' }>,
  },
)
const rows = fc.array(fc.array(cells, { maxLength: 7 }), { maxLength: 14 })

test('whatever stands in a sheet: every row is an opening, a heading or set aside with its reason', () => {
  fc.assert(
    fc.property(rows, (written) => {
      const sheet = sheetOf(written)
      const matching = matchColumns(sheet)
      const understanding = understandSheet(sheet, matching, { units: 'imperial' })
      const accounted = [
        ...matching.headerRows,
        ...understanding.openings.map((each) => each.row),
        ...understanding.setAside.map((each) => each.row),
      ]
      expect(accounted.toSorted((a, b) => a - b)).toEqual(sheet.rows.map((row) => row.number))
    }),
    { numRuns: 1500 },
  )
})

test('whatever is taken in: the records fit, a second take-in changes nothing, undo takes all back', () => {
  fc.assert(
    fc.property(rows, (written) => {
      const header = ['Mark', 'Level', 'Size', 'Hand', 'Label', 'To', 'Notes']
      const sheet = sheetOf([header, ...written])
      const understanding = understandSheet(sheet, matchColumns(sheet), { units: 'imperial' })
      const data = emptyJob()
      const before = stateOf(data)
      const take = (prefix: string) => {
        const comparison = compareWithJob(understanding, data)
        const parts = {
          understanding,
          comparison,
          decisions: {},
          data,
          newId: counter(prefix),
          file: 'any.csv',
        }
        return planTakeIn(parts).change
      }
      const change = take('a')
      applyChecked(data, change)
      expect(data.count('opening')).toBe(understanding.openings.length)
      expect(take('b').edits).toEqual([])
      data.apply(invert(change.edits))
      expect(stateOf(data)).toBe(before)
    }),
    { numRuns: 600 },
  )
})

test('whatever is pasted or called COBie: no reader throws', () => {
  fc.assert(
    fc.property(
      fc.string({ unit: fc.constantFrom('a', '"', '\t', '\n', '\r', '1', 'é') }),
      rows,
      (text, written) => {
        expect(pastedSheet(text).rows.every((row) => row.number > 0)).toBe(true)
        const sheets = ['Component', 'Space', 'Attribute', 'Type', 'Floor', 'Facility'].map((name) => ({
          ...sheetOf([['Name', 'TypeName', 'Space', 'ExtObject'], ...written, ['x', 'y', 'z', 'IfcDoor']]),
          name,
        }))
        expect(recogniseCobie(sheets)).toBe(true)
        expect(understandCobie(sheets).openings.length).toBeGreaterThan(0)
      },
    ),
    { numRuns: 300 },
  )
})

test('long and hostile cells cost little time', () => {
  const long = [
    '1'.repeat(30_000),
    'door size '.repeat(8),
    'x'.repeat(30_000),
    '1 '.repeat(15_000),
    "3'".repeat(9_000),
  ]
  const sheet = sheetOf([
    ['Mark', 'Size', 'Hand', 'Label', 'To', 'Leaves', 'Installed on', 'Width'],
    ['door size '.repeat(7), 'door size '.repeat(7) + 'q'],
    ...long.map((text, index) => [`${index}`, text, text, text, text, text, text, text]),
    ...Array.from({ length: 2_000 }, () => ['7', '3-0 x 7-0', 'LH', '20', 'Lobby', '1', '', '']),
  ])
  const start = performance.now()
  const understanding = understandSheet(sheet, matchColumns(sheet), { units: 'imperial' })
  const data = emptyJob()
  const first = compareWithJob(understanding, data)
  data.apply(
    planTakeIn({ understanding, comparison: first, decisions: {}, data, newId: counter(), file: 'long.csv' })
      .change.edits,
  )
  expect(compareWithJob(understanding, data).counts.same).toBe(understanding.openings.length)
  expect(performance.now() - start).toBeLessThan(3000)
})
