// Sizes that can hardly be meant. A doubt asks; it never changes what was read.
import { micrometresPerFoot, writeLength, type Units } from './lengths.ts'

export interface SizeDoubt {
  readonly field: 'width' | 'height'
  readonly sentence: string
}

// A doorway of 0.6 to 6 m (common practice, no source); heights from 1.8 m.
const limits = {
  width: { least: 600_000, most: 6_000_000, usualLeast: 600_000, usualMost: 2_500_000 },
  height: { least: 1_800_000, most: 6_000_000, usualLeast: 1_900_000, usualMost: 3_000_000 },
} as const

function doubtAbout(field: 'width' | 'height', value: number, units: Units): SizeDoubt | null {
  const limit = limits[field]
  const inWords = (length: number): string => writeLength(length, units === 'metric' ? 'metric' : 'imperial')
  const said = units === 'metric' ? `${inWords(value)} mm` : inWords(value)
  if (value >= limit.least && value <= limit.most) return null
  // A lost or doubled digit (94 for 940), or metres kept where millimetres were said.
  const slip = [value * 10, value / 10, value * 1000, value / 1000].find(
    (each) => Number.isInteger(each) && each >= limit.usualLeast && each <= limit.usualMost,
  )
  const meant =
    slip === undefined ? '' : ` Was ${units === 'metric' ? `${inWords(slip)} mm` : inWords(slip)} meant?`
  const small = value < limit.least
  const word = field === 'width' ? (small ? 'narrow' : 'wide') : small ? 'low' : 'high'
  return { field, sentence: `${said} is very ${word} for a door.${meant}` }
}

/** Doubts about a doorway's size: outside 0.6 to 6 m, a lost digit, or width and height swapped. */
export function doubtsAboutSize(
  widthMicrometres: number | null,
  heightMicrometres: number | null,
  units: Units = 'metric',
): SizeDoubt[] {
  if (
    widthMicrometres !== null &&
    heightMicrometres !== null &&
    heightMicrometres < limits.height.least &&
    heightMicrometres >= 2 * micrometresPerFoot &&
    widthMicrometres >= limits.height.least
  )
    return [{ field: 'width', sentence: 'The width comes first; it seems to be swapped with the height.' }]
  const found: SizeDoubt[] = []
  const width = widthMicrometres === null ? null : doubtAbout('width', widthMicrometres, units)
  const height = heightMicrometres === null ? null : doubtAbout('height', heightMicrometres, units)
  if (width !== null) found.push(width)
  if (height !== null) found.push(height)
  return found
}
