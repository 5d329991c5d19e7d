import { expect, test } from 'vitest'
import { addMonths, wholeMonthsBetween } from '../../../core/handover/index.ts'

// Days of months and leap years: Gregorian calendar (ISO 8601). That a day a month lacks becomes its last: common practice, no source.
test.each([
  { day: '2026-01-31', months: 1, later: '2026-02-28' },
  { day: '2028-01-31', months: 1, later: '2028-02-29' },
  { day: '2026-01-31', months: 2, later: '2026-03-31' },
  { day: '2026-08-31', months: 1, later: '2026-09-30' },
  { day: '2024-02-29', months: 12, later: '2025-02-28' },
  { day: '2024-02-29', months: 48, later: '2028-02-29' },
  { day: '2096-02-29', months: 48, later: '2100-02-28' },
  { day: '1996-02-29', months: 48, later: '2000-02-29' },
  { day: '2026-12-15', months: 1, later: '2027-01-15' },
  { day: '2026-02-09', months: 24, later: '2028-02-09' },
  { day: '2026-03-31', months: 0, later: '2026-03-31' },
  { day: '2026-03-31', months: -1, later: '2026-02-28' },
  { day: '2026-01-10', months: -13, later: '2024-12-10' },
])('$day and $months months is $later', ({ day, months, later }) => {
  expect(addMonths(day, months)).toBe(later)
})

test.each([
  { from: '2026-01-15', to: '2026-02-14', months: 0 },
  { from: '2026-01-15', to: '2026-02-15', months: 1 },
  { from: '2026-01-31', to: '2026-02-28', months: 1 },
  { from: '2026-02-02', to: '2030-02-01', months: 47 },
  { from: '2026-02-02', to: '2030-02-02', months: 48 },
  { from: '2026-05-01', to: '2026-05-01', months: 0 },
  { from: '2026-05-01', to: '2026-03-01', months: -2 },
])('$from to $to are $months whole months', ({ from, to, months }) => {
  expect(wholeMonthsBetween(from, to)).toBe(months)
})

test('what is no day throws', () => {
  expect(() => addMonths('2026-13-01', 1)).toThrow('"2026-13-01" is not a day')
  expect(() => addMonths('soon', 1)).toThrow('"soon" is not a day')
})
