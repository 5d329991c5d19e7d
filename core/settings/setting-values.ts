// What may be written as the value of a setting, and when two values are the same.
import type { SettingOfPart } from './part-settings.ts'
import { eitherOf } from './words.ts'

export type ValueReading =
  | {
      readonly ok: true
      /** As it is kept: the position's own name, or a number with the unit. */
      readonly value: string
      /** Null for a number between the positions, or free words. */
      readonly position: string | null
      /** The number, in the setting's unit; null for words. */
      readonly number: number | null
    }
  | { readonly ok: false; readonly sentence: string }

type Settable = Pick<SettingOfPart, 'name' | 'form' | 'unit' | 'positions'>

const plain = (text: string): string => text.trim().replace(/\s+/g, ' ').toLowerCase()

/** The number that a value says in this unit; null for words, another unit or a sign. */
export function numberIn(text: string, unit: string | null): number | null {
  const found = /^(\d+(?:[.,]\d+)?) ?(.*)$/.exec(plain(text))
  if (found === null) return null
  const [, digits = '', said = ''] = found
  if (said !== '' && said !== plain(unit ?? '')) return null
  return Number(digits.replace(',', '.'))
}

const takesNumbers = ({ form, unit }: Settable): boolean =>
  unit !== null && (form === 'dial' || form === 'parameter')

const takesWords = ({ form, unit, positions }: Settable): boolean =>
  form === 'parameter' && unit === null && positions.length === 0

/** Reads a value: a position by name, a number with the unit of a dial or parameter, or why it is neither. */
export function readSettingValue(setting: Settable, text: string): ValueReading {
  const said = plain(text)
  const number = numberIn(text, setting.unit)
  const named =
    setting.positions.find((each) => each.name === text.trim()) ??
    setting.positions.find((each) => plain(each.name) === said) ??
    setting.positions.find((each) => number !== null && numberIn(each.name, setting.unit) === number)
  if (named !== undefined) return { ok: true, value: named.name, position: named.name, number }
  if (number !== null && takesNumbers(setting) && isWithin(setting, number))
    return { ok: true, value: `${number} ${setting.unit ?? ''}`, position: null, number }
  if (said !== '' && takesWords(setting))
    return { ok: true, value: text.trim(), position: null, number: null }
  return { ok: false, sentence: `${notAValue(setting, text)}; expected ${expected(setting)}.` }
}

/** A dial cannot be turned past its first and last mark. A parameter may be any number. */
function isWithin(setting: Settable, number: number): boolean {
  if (setting.form !== 'dial') return true
  const marks = markedNumbers(setting)
  return marks.length < 2 || (number >= Math.min(...marks) && number <= Math.max(...marks))
}

const markedNumbers = (setting: Settable): number[] =>
  setting.positions.flatMap(({ name }) => numberIn(name, setting.unit) ?? [])

const notAValue = ({ name }: Settable, text: string): string =>
  text.trim() === '' ? `No value of ${name} was given` : `“${text.trim()}” is not a value of ${name}`

function expected(setting: Settable): string {
  const names = eitherOf(setting.positions.map((each) => each.name))
  if (takesWords(setting)) return 'a few words'
  if (!takesNumbers(setting)) return names === '' ? 'positions, which the part does not have yet' : names
  const number = `a number of ${setting.unit ?? ''}`
  if (names === '') return number
  return `${names}, or ${number}${setting.form === 'dial' && markedNumbers(setting).length > 1 ? ' between them' : ''}`
}

/** Whether two values say the same: "5s" is "5.0 s". What cannot be read is the same only as itself. */
export function isSameValue(setting: Settable, one: string, other: string): boolean {
  if (one === other) return true
  const [first, second] = [readSettingValue(setting, one), readSettingValue(setting, other)]
  return first.ok && second.ok ? first.value === second.value : plain(one) === plain(other)
}
