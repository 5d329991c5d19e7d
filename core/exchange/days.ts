// Days as sheets write them.
import { knownAs, notKnown, saysNothing, type Reading } from '../job/index.ts'

const monthDays = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** Year, month and day of an ISO text, with or without its time; null when it is none. */
export function yearMonthDay(text: string): { text: string; month: number; day: number } | null {
  const found = /^(\d{4})-(\d\d)-(\d\d)(?:[T ]\d\d:\d\d.*)?$/.exec(text.trim())
  if (found === null) return null
  const [, year = '', month = '', day = ''] = found
  if (Number(day) < 1 || Number(day) > (monthDays[Number(month) - 1] ?? 0)) return null
  return { text: `${year}-${month}-${day}`, month: Number(month), day: Number(day) }
}

const expected = 'a day such as 2026-01-31'
const monthNames = 'jan feb mar apr may jun jul aug sep oct nov dec'.split(' ')
const twoDigits = (value: number): string => String(value).padStart(2, '0')

/** Reads a day: ISO with or without a time, 31 Jan 2026, Jan 31, 2026; 31/01/2026 only when it cannot be read two ways. */
export function readDay(text: string): Reading<string> {
  const plain = text.trim()
  // The epoch stands in for "no date" in some workbooks.
  if (saysNothing(plain) || /^1(?:900-01-0[01]|899-12-3[01])/.test(plain))
    return notKnown('', 'a day', expected)
  const iso = yearMonthDay(plain)
  if (iso !== null) return knownAs(iso.text)
  const named =
    /^(\d{1,2})[ -]([a-z]{3})[a-z]*\.?[ ,-]+(\d{4})$/i.exec(plain) ??
    /^([a-z]{3})[a-z]*\.? (\d{1,2}),? (\d{4})$/i.exec(plain)
  if (named !== null) {
    const dayFirst = /^\d/.test(named[1] ?? '')
    const month = monthNames.indexOf((dayFirst ? named[2] : named[1])?.toLowerCase() ?? '') + 1
    const day = Number(dayFirst ? named[1] : named[2])
    const made = yearMonthDay(`${named[3] ?? ''}-${twoDigits(month)}-${twoDigits(day)}`)
    if (month > 0 && made !== null) return knownAs(made.text)
  }
  const numbers = /^(\d{1,2})[/.](\d{1,2})[/.](\d{4})$/.exec(plain)
  if (numbers !== null) {
    const [first, second] = [Number(numbers[1]), Number(numbers[2])]
    const make = (month: number, day: number): string | null =>
      yearMonthDay(`${numbers[3] ?? ''}-${twoDigits(month)}-${twoDigits(day)}`)?.text ?? null
    const [monthFirst, dayFirst] = [make(first, second), make(second, first)]
    const only =
      monthFirst === null || monthFirst === dayFirst ? dayFirst : dayFirst === null ? monthFirst : null
    if (only !== null) return knownAs(only)
    if (monthFirst !== null) return notKnown(plain, 'a day that can be read one way only', expected)
  }
  return notKnown(plain, 'a day', expected)
}
