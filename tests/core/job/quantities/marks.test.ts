import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compareMarks, markSequence, nextMark } from '../../../../core/job/quantities/index.ts'

describe('the order of marks', () => {
  test('people read numbers by value and take letters after', () => {
    const ordered = [
      '2',
      '2A',
      '10',
      '10A',
      '10B',
      '101',
      '104A',
      '104AA',
      '1001',
      'A1',
      'A2',
      'A10',
      'B2-03',
      'B2-10',
      'B10-1',
    ]
    expect(ordered.toReversed().toSorted(compareMarks)).toEqual(ordered)
  })
  test.each([
    ['a1', 'A2', -1],
    ['007', '7', -1],
    ['99999999999999999999', '100000000000000000000', -1],
    ['D-9', 'D-10', -1],
    ['Ä1', 'B1', 1],
    ['', '1', -1],
  ] as const)('%s against %s', (a, b, sign) => {
    expect(Math.sign(compareMarks(a, b))).toBe(sign)
    expect(Math.sign(compareMarks(b, a))).toBe(-sign)
  })
  test('it is a total order', () => {
    const marks = fc.string({
      unit: fc.constantFrom('0', '1', '2', '9', 'a', 'A', 'b', '-', ' ', '.', 'é'),
      maxLength: 6,
    })
    fc.assert(
      fc.property(marks, marks, marks, (a, b, c) => {
        expect(compareMarks(a, b) === 0).toBe(a === b)
        expect(Math.sign(compareMarks(a, b)) + Math.sign(compareMarks(b, a))).toBe(0)
        const [x, y, z] = [a, b, c].toSorted(compareMarks) as [string, string, string]
        expect(compareMarks(x, z)).toBeLessThanOrEqual(0)
        expect(compareMarks(x, y)).toBeLessThanOrEqual(0)
        expect(compareMarks(y, z)).toBeLessThanOrEqual(0)
      }),
      { numRuns: 2000 },
    )
  })
})

test.each([
  ['118', '119'],
  ['104A', '104B'],
  ['104Z', '104AA'],
  ['104a', '104b'],
  ['D-009', 'D-010'],
  ['999', '1000'],
  ['B2-03', 'B2-04'],
  ['99999999999999999999', '100000000000000000000'],
  ['A', 'B'],
  ['Lobby', 'Lobby 2'],
  ['Lobby 2', 'Lobby 3'],
  ['', '1'],
])('after %s comes %s', (mark, next) => {
  expect(nextMark(mark)).toBe(next)
})

test('a sequence starts with its first mark and rises in people’s order', () => {
  expect(markSequence('118', 3)).toEqual(['118', '119', '120'])
  expect(markSequence('104A', 2)).toEqual(['104A', '104B'])
  expect(markSequence('1', 0)).toEqual([])
  const long = markSequence('D-008', 200)
  expect(new Set(long).size).toBe(200)
  expect(long.toSorted(compareMarks)).toEqual(long)
})
