import { describe, expect, test } from 'vitest'
import {
  addMonths,
  calendarText,
  dueItems,
  escapeText,
  foldLine,
  recurrenceRule,
  type DueItem,
} from '../../../core/handover/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'
import { expandMonthly, readCalendar, unescapeText, unfold } from './read-calendar.ts'

const octets = (text: string): number => new TextEncoder().encode(text).length
const options = { jobId: 'job-1', name: 'Harrow Street Clinic', now: '2026-11-25T09:30:15.250Z' }
const item = (to: Partial<DueItem>): DueItem => ({
  key: 'task t1',
  form: 'task',
  title: 'Test the release',
  details: '',
  dueOn: '2026-12-01',
  state: 'to come',
  everyMonths: null,
  openingIds: [],
  supplyId: null,
  partId: null,
  questions: [],
  source: null,
  ...to,
})

describe('the reader of these tests agrees with the examples of RFC 5545', () => {
  test('3.1, folding', () => {
    const line = 'DESCRIPTION:This is a long description that exists on a long line.'
    const folded = ['DESCRIPTION:This is a lo', ' ng description', '  that exists on a long line.'].join(
      '\r\n',
    )
    expect(unfold(folded)).toBe(line)
  })

  test('3.3.11, escaping', () => {
    expect(unescapeText('Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.')).toBe(
      'Project XYZ Final Review\nConference Room - 3B\nCome Prepared.',
    )
  })

  test('3.8.5.3, a day a month does not have is ignored', () => {
    expect(expandMonthly('20070115', 'FREQ=MONTHLY;BYMONTHDAY=15,30', 5)).toEqual([
      '20070115',
      '20070130',
      '20070215',
      '20070315',
      '20070330',
    ])
  })
})

describe('folding', () => {
  // RFC 5545, 3.1: lines no longer than 75 octets, without the line end.
  test.each([
    { what: 'exactly 75 octets', line: `SUMMARY:${'x'.repeat(67)}`, lines: 1 },
    { what: '76 octets', line: `SUMMARY:${'x'.repeat(68)}`, lines: 2 },
    { what: '75 and 74 octets', line: 'x'.repeat(75 + 74), lines: 2 },
    { what: 'one octet more', line: 'x'.repeat(75 + 74 + 1), lines: 3 },
    { what: 'letters of two octets', line: `SUMMARY:${'é'.repeat(200)}`, lines: 6 },
    { what: 'signs of three and four octets', line: `SUMMARY:${'門🚪'.repeat(50)}`, lines: 5 },
    { what: 'blanks at the fold', line: `SUMMARY:${' '.repeat(300)}x`, lines: 5 },
    { what: 'nothing', line: '', lines: 1 },
  ])('$what', ({ line, lines }) => {
    const folded = foldLine(line)
    expect(folded.split('\r\n')).toHaveLength(lines)
    for (const each of folded.split('\r\n')) expect(octets(each)).toBeLessThanOrEqual(75)
    expect(unfold(folded)).toBe(line)
  })
})

describe('escaping', () => {
  test.each([
    { text: 'a, b; c', escaped: 'a\\, b\\; c' },
    { text: 'C:\\doors', escaped: 'C:\\\\doors' },
    { text: 'one\ntwo\r\nthree\rfour', escaped: 'one\\ntwo\\nthree\\nfour' },
    { text: 'a colon: "quoted"', escaped: 'a colon: "quoted"' },
    { text: 'bell\u0007 gone', escaped: 'bell gone' },
    { text: '\\n', escaped: '\\\\n' },
    // RFC 5545, 3.3.11, its example the other way round.
    {
      text: 'Project XYZ Final Review\nConference Room - 3B\nCome Prepared.',
      escaped: 'Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.',
    },
  ])('$text', ({ text, escaped }) => {
    expect(escapeText(text)).toBe(escaped)
    // oxlint-disable-next-line no-control-regex
    expect(unescapeText(escaped)).toBe(text.replace(/\r\n?/g, '\n').replace(/\u0007/g, ''))
  })
})

describe('recurrence', () => {
  test.each([1, 3, 12, 48])('every %d months it falls where calendar months do, from any day', (months) => {
    for (const from of ['2026-01-28', '2026-01-29', '2026-01-30', '2026-01-31', '2024-02-29', '2026-02-28']) {
      const wanted = Array.from({ length: 40 }, (_, step) =>
        addMonths(from, step * months).replaceAll('-', ''),
      )
      expect(expandMonthly(from.replaceAll('-', ''), recurrenceRule(from, months), 40)).toEqual(wanted)
    }
  })

  test('a day all months have needs no more than the interval', () => {
    expect(recurrenceRule('2026-02-09', 12)).toBe('FREQ=MONTHLY;INTERVAL=12')
    expect(recurrenceRule('2026-01-31', 1)).toBe('FREQ=MONTHLY;INTERVAL=1;BYMONTHDAY=28,29,30,31;BYSETPOS=-1')
  })
})

describe('the file', () => {
  test('one event, whole', () => {
    expect(
      calendarText(
        [item({ details: 'Opening 118.', everyMonths: 1, source: 'the maker; or less' })],
        options,
      ),
    ).toBe(
      [
        'BEGIN:VCALENDAR',
        'VERSION:2.0',
        'PRODID:-//Lintelbook//Maintenance calendar//EN',
        'CALSCALE:GREGORIAN',
        'NAME:Harrow Street Clinic',
        'BEGIN:VEVENT',
        'UID:task-t1@job-1',
        'DTSTAMP:20261125T093015Z',
        'DTSTART;VALUE=DATE:20261201',
        'SUMMARY:Test the release',
        'DESCRIPTION:Opening 118.\\nSource: the maker\\; or less.',
        'CATEGORIES:Maintenance',
        'TRANSP:TRANSPARENT',
        'RRULE:FREQ=MONTHLY;INTERVAL=1',
        'END:VEVENT',
        'END:VCALENDAR',
        '',
      ].join('\r\n'),
    )
  })

  test('what has no day is not in it; the same items give the same text', () => {
    const items = [item({}), item({ key: 'task t2', dueOn: null })]
    expect(readCalendar(calendarText(items, options)).events).toHaveLength(1)
    expect(calendarText(items, options)).toBe(calendarText(items, options))
  })

  test('the demo job reads back: every dated item, its words and its own id', () => {
    const data = jobDataOf(demoRecords())
    const items = dueItems(data, '2026-11-25')
    const text = calendarText(items, options)
    for (const line of text.split('\r\n')) expect(octets(line)).toBeLessThanOrEqual(75)
    const { head, events } = readCalendar(text)
    // RFC 5545, 3.6: PRODID and VERSION are required, each once; 3.6.1: UID and DTSTAMP.
    for (const name of ['PRODID', 'VERSION'])
      expect(head.filter((line) => line.name === name)).toHaveLength(1)
    const dated = items.filter((each) => each.dueOn !== null)
    expect(dated.length).toBeGreaterThan(5)
    expect(events.map((event) => unescapeText(event.value('SUMMARY') ?? ''))).toEqual(
      dated.map((each) => each.title),
    )
    expect(events.map((event) => event.value('DTSTART;VALUE=DATE'))).toEqual(
      dated.map((each) => each.dueOn?.replaceAll('-', '')),
    )
    expect(new Set(events.map((event) => event.value('UID'))).size).toBe(events.length)
    for (const event of events)
      for (const name of ['UID', 'DTSTAMP', 'SUMMARY'])
        expect(event.lines.filter((line) => line.name === name)).toHaveLength(1)
  })
})
