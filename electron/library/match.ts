// What is asked of the index: from what is exactly so to what is nearly so, as expressions of FTS5. Words hold letters
// and digits only (core/library/words.ts), so nothing a person types can be a part of the expression.
import type { AskedWord, Reading } from '../../core/library/index.ts'

const quoted = (word: string): string => `"${word}"`
const anyOf = (each: readonly string[]): string => `(${each.join(' OR ')})`
const allOf = (each: readonly string[]): string => `(${each.join(' AND ')})`

/** A small number on its own is a level or a room; in parts and notes it is anything. */
const names = '{mark whole key room place job}'
const isSmallNumber = (word: string): boolean => /^\d{1,2}$/.test(word)
const form = (word: string): string => (isSmallNumber(word) ? `(${names} : ${quoted(word)})` : quoted(word))

/** A word as it was said, or another form of it. */
function exactly(word: AskedWord): string {
  const forms = [word.said, ...(word.figure === null ? [] : [word.figure]), ...word.alike].map(form)
  return anyOf(word.pieces.length === 0 ? forms : [...forms, allOf(word.pieces.map(quoted))])
}

/** A word, its beginning, or one of the words of the shelf that it may have been meant to be. */
const nearly = (word: AskedWord, near: readonly string[]): string =>
  anyOf([exactly(word), `${quoted(word.said)}*`, ...near.map(form)])

const required = ({ words }: Reading): readonly AskedWord[] => words.filter((word) => !word.filler)

/** From the narrowest on; each holds only what its words allow. `isWhole` says whether anything is called just so. */
export function exactMatches(reading: Reading, isWhole: (word: string) => boolean): string[] {
  const { whole } = reading
  const spans = reading.spans.filter(isWhole)
  const asked = required(reading)
  const all = asked.map(exactly)
  const singles = asked
    .flatMap((word) => [word.said, ...(word.figure === null ? [] : [word.figure])])
    .filter(isWhole)
  const marks = singles.filter((word) => /\d/.test(word))
  const fillers = reading.words.length > asked.length
  return [
    `{mark} : ${quoted(whole)}`,
    `{whole} : ${quoted(whole)}`,
    ...(fillers ? [allOf(reading.words.map(exactly))] : []),
    ...(spans.length > 0 ? [allOf([`{mark whole} : ${anyOf(spans.map(quoted))}`, ...all])] : []),
    ...(asked.length > 1 && singles.length > 0
      ? [allOf([`{mark whole} : ${anyOf(singles.map(quoted))}`, ...all])]
      : []),
    ...(asked.length > 2 && marks.length > 0
      ? [allOf([`{mark} : ${anyOf(marks.map(quoted))}`, anyOf(othersOf(asked, marks))])]
      : []),
    `{key room place} : ${allOf(all)}`,
    allOf(all),
  ]
}

/** A mark with any other of the words: what else was said of it may not be on it. */
const othersOf = (asked: readonly AskedWord[], marks: readonly string[]): readonly string[] =>
  asked
    .filter(({ said, figure }) => !marks.includes(said) && (figure === null || !marks.includes(figure)))
    .map(exactly)

export type Near = ReadonlyMap<string, readonly string[]>
const nearOf = (near: Near, word: AskedWord): readonly string[] => near.get(word.said) ?? []

/** Every word, exactly or nearly. */
export const nearMatch = (reading: Reading, near: Near): string =>
  allOf(required(reading).map((word) => nearly(word, nearOf(near, word))))

/** All of the words that name something; then all but one of them. */
export function looserMatches(naming: readonly AskedWord[], near: Near): string[] {
  const each = naming.map((word) => nearly(word, nearOf(near, word)))
  if (each.length === 0) return []
  const allButOne = each.map((_, left) => allOf(each.filter((_word, index) => index !== left)))
  return each.length < 3 ? [allOf(each)] : [allOf(each), anyOf(allButOne)]
}

/** Whether a word is worth looking for under other spellings: a number that is one off is another door. */
export const mayBeMistyped = (word: AskedWord): boolean => /^\p{L}{3,}$/u.test(word.said)
