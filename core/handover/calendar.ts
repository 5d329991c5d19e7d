// The maintenance calendar as an iCalendar file: RFC 5545, with the calendar's name of RFC 7986.
import type { DueItem } from './due.ts'

const lineOctets = 75

const octetsOf = (character: string): number => {
  const point = character.codePointAt(0) ?? 0
  return point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4
}

/** Breaks a content line so that none is longer than 75 octets without its line end, and no character is cut. RFC 5545, 3.1. */
export function foldLine(line: string): string {
  const lines: string[] = []
  let now = ''
  let octets = 0
  for (const character of line) {
    const more = octetsOf(character)
    if (octets + more > lineOctets) {
      lines.push(now)
      // The blank that marks the continuation counts.
      ;[now, octets] = [' ', 1]
    }
    now += character
    octets += more
  }
  return [...lines, now].join('\r\n')
}

/** Text as a TEXT value: backslash, semicolon, comma and line ends escaped, other controls left out. RFC 5545, 3.3.11. */
export function escapeText(text: string): string {
  return (
    text
      .toWellFormed()
      .replace(/[\\;,]/g, (sign) => `\\${sign}`)
      .replace(/\r\n|\r|\n/g, '\\n')
      // oxlint-disable-next-line no-control-regex
      .replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, '')
  )
}

const plainDay = (day: string): string => day.replaceAll('-', '')
/** yyyy-mm-ddThh:mm:ss(.sss)Z as 20260302T080000Z. */
const plainInstant = (instant: string): string => `${instant.slice(0, 19).replace(/[-:]/g, '')}Z`

/**
 * The recurrence of a day every so many months. A rule that names a day its month lacks would skip that month (RFC 5545,
 * 3.3.10), so from the 29th on it names the days that may stand in and takes the last of them.
 */
export function recurrenceRule(from: string, everyMonths: number): string {
  const rule = `FREQ=MONTHLY;INTERVAL=${everyMonths}`
  const date = Number(from.slice(8))
  if (date <= 28) return rule
  const days = Array.from({ length: date - 27 }, (_, at) => 28 + at)
  return `${rule};BYMONTHDAY=${days.join(',')};BYSETPOS=-1`
}

const categories: Readonly<Record<DueItem['form'], string>> = {
  'fire door inspection': 'Inspection',
  battery: 'Battery',
  task: 'Maintenance',
  warranty: 'Warranty',
}

function eventOf(item: DueItem, dueOn: string, options: CalendarOptions): string[] {
  const details = [item.details, item.source === null ? '' : `Source: ${item.source}.`]
  const described = details.filter((each) => each !== '').join('\n')
  return [
    'BEGIN:VEVENT',
    `UID:${escapeText(`${item.key.replaceAll(' ', '-')}@${options.jobId}`)}`,
    `DTSTAMP:${plainInstant(options.now)}`,
    // Without an end an event of a date lasts that day (RFC 5545, 3.6.1).
    `DTSTART;VALUE=DATE:${plainDay(dueOn)}`,
    `SUMMARY:${escapeText(item.title)}`,
    ...(described === '' ? [] : [`DESCRIPTION:${escapeText(described)}`]),
    `CATEGORIES:${categories[item.form]}`,
    'TRANSP:TRANSPARENT',
    ...(item.everyMonths === null ? [] : [`RRULE:${recurrenceRule(dueOn, item.everyMonths)}`]),
    'END:VEVENT',
  ]
}

export interface CalendarOptions {
  /** The job's id: it makes the events' ids the job's own, the same each time. */
  readonly jobId: string
  /** What the calendar is called. */
  readonly name: string
  /** When the file is written, ISO 8601 in UTC. */
  readonly now: string
}

/** The items that have a day, as the text of an .ics file: whole days, repeating where they repeat. */
export function calendarText(items: readonly DueItem[], options: CalendarOptions): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Lintelbook//Maintenance calendar//EN',
    'CALSCALE:GREGORIAN',
    `NAME:${escapeText(options.name)}`,
    ...items.flatMap((item) => (item.dueOn === null ? [] : eventOf(item, item.dueOn, options))),
    'END:VCALENDAR',
  ]
  return `${lines.map(foldLine).join('\r\n')}\r\n`
}
