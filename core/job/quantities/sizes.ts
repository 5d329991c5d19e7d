// Doorway sizes as they stand in schedules: 3070, 3-0 x 7-0, PR 6-0 x 8-0, 914 x 2134.
import {
  micrometresPerFoot,
  micrometresPerInch,
  readLength,
  writeLength,
  type LengthField,
  type Units,
} from './lengths.ts'
import { doubtsAboutSize } from './plausibility.ts'
import { knownAs, notKnown, tidy, type Reading } from './reading.ts'

/** The whole doorway: a pair's width is both leaves together. */
export interface Size {
  readonly leaves: 1 | 2
  readonly widthMicrometres: number
  readonly heightMicrometres: number
  readonly thicknessMicrometres: number | null
}

// Common practice, no source: PR 3-0 x 7-0 gives each leaf, and a swinging leaf over 4-0 is rare.
const widestLeafMicrometres = 4 * micrometresPerFoot
const doubtfulLeafFrom = 3.5 * micrometresPerFoot
const surelyPairFrom = 5 * micrometresPerFoot

const isNot = 'a size'
const expected =
  'a width and a height such as 3-0 x 7-0, 36 x 84, 914 x 2134 or 3070, with PR before it for a pair'

type LeafWord = {
  readonly leaves: 1 | 2 | null
  readonly width: 'each' | 'whole' | null
  readonly rest: string
}

/** Takes the words about leaves off a size: PR, pair, (2), SGL, overall, each. */
function leafWords(text: string): LeafWord {
  let rest = ` ${tidy(text)
    .toLowerCase()
    .replace(/×|✕|\*/g, 'x')} `
  let leaves: 1 | 2 | null = null
  let width: 'each' | 'whole' | null = null
  const take = (pattern: RegExp, then: () => void): void => {
    const without = rest.replace(pattern, ' ')
    if (without !== rest) {
      rest = without
      then()
    }
  }
  take(/(?<![a-z])(?:overall|o\/a|whole|doorway)(?![a-z])/, () => (width = 'whole'))
  take(/(?<![a-z])(?:each|ea\.?)(?![a-z])/, () => (width = 'each'))
  take(/^ *(?:\(2\)|2 ?@|2 ?leaves(?: of)?|2 x(?= ?\d+[^x]*x))/, () => {
    leaves = 2
    width ??= 'each'
  })
  take(/(?<![a-z])\(?(?:pair of|pair|prs?\.?|dbl\.?|double)\)?(?![a-z])[: ]?/, () => (leaves = 2))
  take(/(?<![a-z])\(?(?:single|sgl\.?)\)?(?![a-z])|^ *\(1\)/, () => (leaves = 1))
  return { leaves, width, rest: rest.trim() }
}

/** 3070, 21068, 30100: every way to cut it into plausible feet and inches; only one cut counts. */
function fromCode(digits: string): { width: number; height: number } | null {
  const ways: { width: number; height: number }[] = []
  for (const widthInches of [1, 2])
    for (const heightFeet of [1, 2]) {
      const cut = new RegExp(`^(\\d)(\\d{${widthInches}})(\\d{${heightFeet}})(\\d{1,2})$`).exec(digits)
      if (cut === null) continue
      const [, feet = '', inches = '', highFeet = '', highInches = ''] = cut
      if (Number(inches) > 11 || Number(highInches) > 11) continue
      if ([inches, highFeet, highInches].some((part) => part.length === 2 && part.startsWith('0'))) continue
      const width = Number(feet) * 12 + Number(inches)
      const height = Number(highFeet) * 12 + Number(highInches)
      if (width < 16 || height < 72 || height > 144) continue
      ways.push({ width: width * micrometresPerInch, height: height * micrometresPerInch })
    }
  return ways.length === 1 ? (ways[0] ?? null) : null
}

/** A doorway's leaves and whole width, from a width that may be one leaf's. */
export interface Doorway {
  readonly leaves: 1 | 2
  readonly widthMicrometres: number
  readonly question: string | null
}

/** Judges whether a width is one leaf's or the doorway's, as `readSize` does, and what to ask when in doubt. */
export function judgeDoorway(
  widthMicrometres: number,
  leaves: 1 | 2 | null,
  said: 'each' | 'whole' | null,
  units: Units,
): Doorway {
  const inWords = writeLength(widthMicrometres, units)
  if (leaves === 2) {
    const each = said === 'each' || (said === null && widthMicrometres <= widestLeafMicrometres)
    const doubtful = said === null && widthMicrometres > doubtfulLeafFrom && widthMicrometres < surelyPairFrom
    return {
      leaves,
      widthMicrometres: each ? widthMicrometres * 2 : widthMicrometres,
      question: doubtful
        ? `Is ${inWords} one leaf of the pair or the whole doorway? It was taken as ${each ? 'one leaf' : 'the whole'}.`
        : null,
    }
  }
  const judged = leaves ?? (widthMicrometres >= surelyPairFrom ? 2 : 1)
  const wide = leaves === null && widthMicrometres > widestLeafMicrometres
  return {
    leaves: judged,
    widthMicrometres,
    question: wide
      ? `${inWords} is wide for one leaf; it was taken as ${judged === 2 ? 'a pair' : 'one leaf'}.`
      : null,
  }
}

/**
 * Reads a doorway size. `PR 3-0 x 7-0` gives each leaf and `PR 6-0 x 8-0` the doorway: a width up to 4-0 after PR is one
 * leaf's, more is the whole, and between 3-6 and 5-0 a person is asked. `(2)` and `each` always mean each leaf, `overall`
 * always the whole. Without a word, 5-0 and wider is taken as a pair, and asked. Common practice, no source.
 */
export function readSize(text: string, units: Units): Reading<Size> {
  const words = leafWords(text)
  const parts = words.rest
    .split(/ ?(?:x|(?<![a-z])by(?![a-z])) ?/)
    .map((part) => part.replace(/(?<=[\d"']) ?[wht]\.?$/, '').trim())
    .filter((part) => part !== '')
  // 1680 x 2100 is millimetres though 1680 alone could be 1-6 x 8-0: a code is followed by a thickness or nothing.
  const second = parts[1] === undefined ? null : readLength(parts[1], { units, as: 'thickness' })
  const mayBeCode = parts.length < 2 || (parts.length === 2 && second?.known && second.value <= 100_000)
  const code = mayBeCode && /^\d{4,6}$/.test(parts[0] ?? '') ? fromCode(parts[0] ?? '') : null
  const notes: string[] = []
  const questions: string[] = []
  const read = (part: string | undefined, as: LengthField): number | null => {
    const reading = readLength(part ?? '', { units, as })
    if (!reading.known) return null
    if (reading.how !== undefined && !notes.includes(reading.how)) notes.push(reading.how)
    if (reading.question !== undefined) questions.push(reading.question)
    return reading.value
  }
  let width: number | null
  let height: number | null
  let thicknessPart: string | undefined
  if (code !== null) {
    ;({ width, height } = code)
    thicknessPart = parts[1]
    notes.push('read as feet and inches, width first')
  } else {
    if (parts.length < 2 || parts.length > 3) return notKnown(text, isNot, expected)
    width = read(parts[0], 'doorWidth')
    height = read(parts[1], 'doorHeight')
    thicknessPart = parts[2]
  }
  const thickness = thicknessPart === undefined ? null : read(thicknessPart, 'thickness')
  if (width === null || height === null || (thicknessPart !== undefined && thickness === null))
    return notKnown(text, isNot, expected)
  if (notes.length > 1) questions.push(`The numbers were ${notes.join(' and ')}; are they one unit?`)

  const doorway = judgeDoorway(width, words.leaves, words.width, units)
  if (doorway.question !== null) questions.push(doorway.question)
  const { leaves } = doorway
  width = doorway.widthMicrometres
  for (const doubt of doubtsAboutSize(width, height, units)) questions.push(doubt.sentence)
  return knownAs(
    {
      leaves,
      widthMicrometres: width,
      heightMicrometres: height,
      thicknessMicrometres: thickness,
    },
    notes.join('; '),
    questions.join(' '),
  )
}

/** Writes a doorway size that reads back the same: 3-0 × 7-0, PR 6-0 × 8-0. An unknown side shows as ?. */
export function writeSize(
  size: {
    readonly leaves: 1 | 2
    readonly widthMicrometres: number | null
    readonly heightMicrometres: number | null
    readonly thicknessMicrometres?: number | null
  },
  units: Units,
): string {
  const { leaves, widthMicrometres: width, heightMicrometres: height, thicknessMicrometres: thickness } = size
  const side = (value: number | null, as: LengthField): string =>
    value === null ? '?' : writeLength(value, units, { as })
  const before = leaves === 2 ? 'PR ' : width !== null && width >= surelyPairFrom ? 'SGL ' : ''
  const overall = leaves === 2 && width !== null && width <= widestLeafMicrometres ? ' overall' : ''
  const high = side(height, 'doorHeight')
  let wide = side(width, 'doorWidth')
  // A bare width beside a height with its unit would read as a code such as 5860.
  if (high.endsWith(' mm') && /^[\d.]+$/.test(wide)) wide = `${wide} mm`
  const across = `${before}${wide}${overall} × ${high}`
  if (thickness === null || thickness === undefined) return across
  return `${across} × ${writeLength(thickness, units, { as: 'thickness', style: 'inches' })}`
}
