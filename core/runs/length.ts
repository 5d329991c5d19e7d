// Lengths of cable as people type and read them: feet or metres, kept as metres.
import {
  knownAs,
  micrometresPerFoot,
  notKnown,
  readLength,
  saysNothing,
  tidy,
  type Reading,
  type Units,
} from '../job/index.ts'

const metresPerFoot = micrometresPerFoot / 1_000_000
const expected = 'a length such as 140 ft or 42.7 m'
const greatestMetres = 10_000

export const cableUnit = (units: Units): 'ft' | 'm' => (units === 'imperial' ? 'ft' : 'm')

/** Reads a length of cable to metres, to the millimetre. A bare number is in the job's units; 0 is a length. */
export function readCableLength(text: string, units: Units): Reading<number> {
  const plain = tidy(text).replace(/^(\d+),(\d{1,2})$/, '$1.$2')
  if (saysNothing(text)) return notKnown(text, 'a length of cable', expected)
  if (/^\d+(\.\d+)?$/.test(plain)) {
    const metres = Number(plain) * (units === 'imperial' ? metresPerFoot : 1)
    return metres <= greatestMetres
      ? knownAs(toMillimetres(metres), `read as ${units === 'imperial' ? 'feet' : 'metres'}`)
      : notKnown(text, 'a length of cable', `${expected}, and no more than ${greatestMetres} m`)
  }
  const read = readLength(text, { units })
  if (!read.known || read.value > greatestMetres * 1_000_000)
    return notKnown(text, 'a length of cable', expected)
  return knownAs(toMillimetres(read.value / 1_000_000))
}

const toMillimetres = (metres: number): number => Math.round(metres * 1000) / 1000

/** In the job's units without the unit: feet to a tenth, metres to a hundredth. */
export function writeCableLength(metres: number, units: Units): string {
  return units === 'imperial'
    ? String(Number((metres / metresPerFoot).toFixed(1)))
    : String(Number(metres.toFixed(2)))
}

export const cableLengthWords = (metres: number, units: Units): string =>
  `${writeCableLength(metres, units)} ${cableUnit(units)}`
