// Days moved by calendar months. No clock: today is always given.

const daysIn = (year: number, month: number): number => {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28
  return [4, 6, 9, 11].includes(month) ? 30 : 31
}

const parts = (day: string): [year: number, month: number, day: number] => {
  const found = /^(\d{4})-(\d\d)-(\d\d)$/.exec(day)
  const [year, month, date] = (found?.slice(1) ?? []).map(Number)
  if (year === undefined || month === undefined || date === undefined || month < 1 || month > 12 || date < 1)
    throw new Error(`"${day}" is not a day`)
  return [year, month, date]
}

const padded = (value: number, length: number): string => String(value).padStart(length, '0')

/**
 * The day so many calendar months after a day (yyyy-mm-dd); a day its month does not have becomes the month's last:
 * 31 January and one month is the last of February. Throws on text that is no day.
 */
export function addMonths(day: string, months: number): string {
  const [year, month, date] = parts(day)
  const all = year * 12 + (month - 1) + months
  const [thenYear, thenMonth] = [Math.floor(all / 12), (((all % 12) + 12) % 12) + 1]
  const thenDate = Math.min(date, daysIn(thenYear, thenMonth))
  return `${padded(thenYear, 4)}-${padded(thenMonth, 2)}-${padded(thenDate, 2)}`
}

/** How many whole calendar months lie between two days; negative when the second is earlier. */
export function wholeMonthsBetween(from: string, to: string): number {
  if (to < from) return -wholeMonthsBetween(to, from)
  const [fromYear, fromMonth] = parts(from)
  const [toYear, toMonth] = parts(to)
  const months = (toYear - fromYear) * 12 + (toMonth - fromMonth)
  return addMonths(from, months) > to ? months - 1 : months
}
