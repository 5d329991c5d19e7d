// Reads an iCalendar file back, by RFC 5545 and sharing nothing with what writes it.

export interface ReadLine {
  readonly name: string
  readonly value: string
}
export interface ReadEvent {
  readonly lines: readonly ReadLine[]
  readonly value: (name: string) => string | undefined
}

/** RFC 5545, 3.1: a line end followed by one blank or tab is no line end. */
export const unfold = (text: string): string => text.replace(/\r\n[ \t]/g, '')

/** RFC 5545, 3.3.11. */
export const unescapeText = (value: string): string =>
  value.replace(/\\([\\;,nN])/g, (_, sign: string) => (sign.toLowerCase() === 'n' ? '\n' : sign))

export function readCalendar(text: string): { head: ReadLine[]; events: ReadEvent[] } {
  const head: ReadLine[] = []
  const events: ReadEvent[] = []
  let now: ReadLine[] | null = null
  const lines = unfold(text).split('\r\n')
  if (lines.pop() !== '') throw new Error('the last line has no line end')
  if (lines.shift() !== 'BEGIN:VCALENDAR' || lines.pop() !== 'END:VCALENDAR') throw new Error('no VCALENDAR')
  for (const line of lines) {
    if (/[\r\n]/.test(line)) throw new Error(`a line end that is no CRLF: ${JSON.stringify(line)}`)
    const found = /^([A-Z-]+(?:;[A-Z-]+=[^;:]+)*):(.*)$/s.exec(line)
    if (found === null) throw new Error(`no content line: ${JSON.stringify(line)}`)
    const [, name = '', value = ''] = found
    if (line === 'BEGIN:VEVENT') now = []
    else if (line === 'END:VEVENT' && now !== null) {
      const its = now
      events.push({ lines: its, value: (wanted) => its.find((each) => each.name === wanted)?.value })
      now = null
    } else (now ?? head).push({ name, value })
  }
  return { head, events }
}

const lastOf = (year: number, month: number): number => new Date(Date.UTC(year, month, 0)).getUTCDate()

/** The first days of a monthly rule with INTERVAL, BYMONTHDAY and BYSETPOS=-1, from yyyymmdd. RFC 5545, 3.3.10. */
export function expandMonthly(start: string, rule: string, count: number): string[] {
  const parts = new Map(rule.split(';').map((part) => part.split('=') as [string, string]))
  if (parts.get('FREQ') !== 'MONTHLY') throw new Error(`not monthly: ${rule}`)
  const [year, month, day] = [start.slice(0, 4), start.slice(4, 6), start.slice(6, 8)].map(Number) as [
    number,
    number,
    number,
  ]
  const wanted = parts.get('BYMONTHDAY')?.split(',').map(Number) ?? [day]
  const days: string[] = []
  for (let step = 0; days.length < count; step += Number(parts.get('INTERVAL') ?? 1)) {
    const all = year * 12 + month - 1 + step
    const [itsYear, itsMonth] = [Math.floor(all / 12), (all % 12) + 1]
    // Days the month does not have are ignored.
    const there = wanted.filter((each) => each <= lastOf(itsYear, itsMonth)).toSorted((a, b) => a - b)
    const taken = parts.get('BYSETPOS') === '-1' ? there.slice(-1) : there
    for (const each of taken) {
      const text = `${itsYear}${String(itsMonth).padStart(2, '0')}${String(each).padStart(2, '0')}`
      if (text >= start) days.push(text)
    }
  }
  return days.slice(0, count)
}
