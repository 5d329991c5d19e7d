// Keeps the bench running. Limits are wide: the bench itself, on a quiet machine, holds to the goals.
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { isMet, share, tableOf, type Line } from './lines.ts'
import { fullBench, measure } from './measure.ts'

describeWith(lacksBrowser(), 'the bench, on 2,000 openings', () => {
  test('measures everything, and nothing is far off', async () => {
    const lines = await measure({
      ...fullBench,
      openings: 2000,
      edits: 10,
      opens: 1,
      scrollMilliseconds: 400,
      office: false,
    })
    console.log(tableOf(lines))
    const measured = new Map(
      lines.flatMap((line) => ('measured' in line ? [[line.what, line.measured]] : [])),
    )
    expect(measured.get('a  file to usable schedule')).toBeLessThan(15_000)
    expect(measured.get('b  one edit to paint, p95')).toBeLessThan(1000)
    expect(measured.get('g  the schedule printed to PDF')).toBeGreaterThan(1)
    expect(measured.size).toBeGreaterThanOrEqual(16)
  }, 180_000)
})

test.each<[Partial<Line>, boolean | null]>([
  [{ measured: 50, goal: { atMost: 50 } }, true],
  [{ measured: 50.1, goal: { atMost: 50 } }, false],
  [{ measured: 9, goal: { atLeast: 10 } }, false],
  [{ measured: 9 }, null],
])('a line %j is met: %s', (line, expected) => {
  expect(isMet({ what: 'x', unit: 'ms', measured: 0, ...line })).toBe(expected)
})

test('a share of values', () => {
  expect(share([3, 1, 2], 0.5)).toBe(2)
  expect(share([1, 2, 3, 4], 0.95)).toBe(4)
})
