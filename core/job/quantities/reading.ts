// What every reader of typed text gives back: a value, or what was expected in its place.

/** A value read from text. `how` says what was judged; `question` is a doubt a person should settle. */
export interface Known<T> {
  readonly known: true
  readonly value: T
  readonly how?: string
  readonly question?: string
}

/**
 * No value. `blank` when nothing was said (empty, or a placeholder such as TBC), which is no fault.
 * `isNot` and `expected` finish the sentence: "3-x" is not a size; expected feet-inches such as 3-0 ...
 */
export interface NotKnown {
  readonly known: false
  readonly blank: boolean
  readonly isNot: string
  readonly expected: string
}

export type Reading<T> = Known<T> | NotKnown

/** Makes a known reading, leaving out what was not said. */
export const knownAs = <T>(value: T, how?: string | null, question?: string | null): Known<T> => ({
  known: true,
  value,
  ...(how ? { how } : {}),
  ...(question ? { question } : {}),
})

export const notKnown = (text: string, isNot: string, expected: string): NotKnown => ({
  known: false,
  blank: saysNothing(text),
  isNot,
  expected,
})

/** The rest of a message after its row and field: "3-x" is not a size; expected ... */
export const sentenceAbout = (found: string, reading: NotKnown): string =>
  reading.blank
    ? `Nothing was given; expected ${reading.expected}.`
    : `"${found.trim()}" is not ${reading.isNot}; expected ${reading.expected}.`

const placeholders = new Set(
  'n/a na n.a. n.a - -- --- tbc tbd t.b.c. t.b.d. ? ?? ??? unknown none null nil #n/a tba .'.split(' '),
)

/** Whether a cell says nothing: empty, or one of the words people put where nothing is known yet. */
export function saysNothing(text: string): boolean {
  const word = tidy(text).toLowerCase()
  return word === '' || placeholders.has(word) || word === 'not known' || word === 'to be confirmed'
}

const fractions: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
}

/** Brings typographic quotes, dashes, fractions and blanks to the plain characters the readers know. */
export function tidy(text: string): string {
  return text
    .replace(/[½¼¾⅛⅜⅝⅞]/g, (sign) => ` ${fractions[sign] ?? ''}`)
    .replace(/[′‘’´`]/g, "'")
    .replace(/[″“”„]/g, '"')
    .replace(/''/g, '"')
    .replace(/[–—−‐‑]/g, '-')
    .replace(/⁄/g, '/')
    .replace(/\s+/g, ' ')
    .trim()
}
