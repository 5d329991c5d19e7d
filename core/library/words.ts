// What is said and what is written, as words that can be compared: without case, accents, blanks, dashes and dots.
// The three forms of a text are those of core/schedule/find-in-job.ts, so that one job and all jobs answer alike.
import { isNear } from './nearness.ts'

export const simple = (text: string): string => text.normalize('NFKD').replaceAll(/\p{M}/gu, '').toLowerCase()

/** "ST-04 b" and "st04B" are the same: "st04b". */
export const runTogether = (text: string): string => simple(text).replaceAll(/[^\p{L}\p{N}]+/gu, '')

/** The separate words of a text: "ST-04 b" is "st", "04", "b". */
export const plainWords = (text: string): string[] =>
  simple(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '')

export const isLetters = (word: string): boolean => /^\p{L}+$/u.test(word)
const isDigits = (word: string): boolean => /^\d+$/.test(word)

const mostTogether = 40

/** The words of a text for the index: each word, its parts where letters meet digits, and neighbours run together. */
export function indexWords(text: string, together: boolean): string[] {
  const words = plainWords(text)
  const all = [...words]
  for (const word of words) {
    const parts = word.match(/\d+|[^\d]+/g) ?? []
    if (parts.length > 1) all.push(...parts)
  }
  if (together)
    for (let first = 0; first < words.length; first++)
      for (const length of [2, 3]) {
        const joined = words.slice(first, first + length).join('')
        if (first + length <= words.length && joined.length <= mostTogether) all.push(joined)
      }
  return all
}

const units = [
  ['zero', 'oh', 'nought'],
  ['one', 'first', '1st'],
  ['two', 'second', '2nd'],
  ['three', 'third', '3rd'],
  ['four', 'fourth', '4th'],
  ['five', 'fifth', '5th'],
  ['six', 'sixth', '6th'],
  ['seven', 'seventh', '7th'],
  ['eight', 'eighth', '8th'],
  ['nine', 'ninth', '9th'],
  ['ten', 'tenth', '10th'],
  ['eleven', 'eleventh', '11th'],
  ['twelve', 'twelfth', '12th'],
  ['thirteen', 'thirteenth', '13th'],
  ['fourteen', 'fourteenth', '14th'],
  ['fifteen', 'fifteenth', '15th'],
  ['sixteen', 'sixteenth', '16th'],
  ['seventeen', 'seventeenth', '17th'],
  ['eighteen', 'eighteenth', '18th'],
  ['nineteen', 'nineteenth', '19th'],
  ['twenty', 'twentieth', '20th'],
] as const
const figures: ReadonlyMap<string, string> = new Map(
  units.flatMap((names, value) => names.map((name): [string, string] => [name, String(value)])),
)
const tens: ReadonlyMap<string, string> = new Map(
  ['twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'].map((name, index) => [
    name,
    String(index + 2),
  ]),
)

/** The figures that a mistyped word may have meant: "thre" is "3". */
export const figuresNear = (said: string): string[] =>
  said.length < 4 ? [] : [...figures].filter(([name]) => isNear(said, name)).map(([, figure]) => figure)

/** Words a sentence is made of, and words for what is wrong: they count where they fit, and are never asked for. */
const fillers: ReadonlySet<string> = new Set(
  `a an the this that these our my your on in at of to by for from with near next beside off into up and or it its is
  are was were be been has have had do does did will would can cant cannot wont wouldnt doesnt dont isnt not no any
  again now still today keep keeps please number called call about hi hello there we i you they
  door doors doorway opening lock locks locked locking relock relocks unlock unlocks unlocked open opens opened close
  closes closed shut shuts latch latches release releases released stuck broken fault faulty`
    .split(/\s+/)
    .filter((word) => word !== ''),
)

/** Other words for the same. Common practice, no source. */
const alike: ReadonlyMap<string, readonly string[]> = new Map([
  ['floor', ['level']],
  ['storey', ['level']],
  ['story', ['level']],
  ['lvl', ['level']],
  ['level', ['floor']],
  ['stairs', ['stair']],
  ['stairwell', ['stair']],
  ['staircase', ['stair']],
])

/** One word that was asked for. */
export interface AskedWord {
  /** Run together: "2611-04" is "261104". */
  readonly said: string
  /** Where it was written in pieces, the pieces. */
  readonly pieces: readonly string[]
  /** A number said in words, as its figure. */
  readonly figure: string | null
  /** Other words that will do as well. */
  readonly alike: readonly string[]
  readonly filler: boolean
}

/** One way to understand what was asked. */
export interface Reading {
  readonly words: readonly AskedWord[]
  /** Everything but the fillers, run together. */
  readonly whole: string
  /** Neighbours run together: they may be one mark or one name. */
  readonly spans: readonly string[]
}

const mostLetters = 400
const mostWords = 12

/** The ways to understand what was asked: as it was said, and with numbers said in words as one number. */
export function readingsOf(asked: string): readonly Reading[] {
  const said = asked
    .slice(0, mostLetters)
    // "won't" is one word to a caller, not two.
    .replaceAll(/(?<=\p{L})['’](?=\p{L})/gu, '')
    .split(/\s+/u)
    .filter((each) => runTogether(each) !== '')
    .slice(0, mostWords)
  if (said.length === 0) return []
  const joined = joinNumbers(said)
  return joined === null ? [readingOf(said)] : [readingOf(said), readingOf(joined)]
}

function readingOf(said: readonly string[]): Reading {
  const asked = said.map(wordOf)
  const onlyFillers = asked.every((word) => word.filler)
  const words = onlyFillers ? asked.map((word) => ({ ...word, filler: false })) : asked
  const named = words.filter((word) => !word.filler).map((word) => word.said)
  return { words, whole: named.join(''), spans: spansOf(words) }
}

function wordOf(text: string): AskedWord {
  const said = runTogether(text)
  const pieces = plainWords(text)
  const one = said.length > 4 && isLetters(said) && said.endsWith('s') && !said.endsWith('ss')
  return {
    said,
    pieces: pieces.length > 1 ? pieces : [],
    figure: figures.get(said) ?? null,
    alike: [...(alike.get(said) ?? []), ...(one ? [said.slice(0, -1)] : [])],
    filler: fillers.has(said),
  }
}

function spansOf(words: readonly AskedWord[]): string[] {
  const spans: string[] = []
  for (let first = 0; first < words.length; first++)
    for (const length of [2, 3, 4]) {
      const span = words.slice(first, first + length)
      if (span.length < length || span.every((word) => word.filler)) continue
      spans.push(span.map((word) => word.said).join(''))
      if (span.some((word) => word.figure !== null))
        spans.push(span.map((word) => word.figure ?? word.said).join(''))
    }
  return [...new Set(spans)].filter((span) => span.length <= mostTogether)
}

/** "two oh four a" is "204a", "twenty six eleven oh four" is "261104"; null when no number was said in words. */
function joinNumbers(said: readonly string[]): string[] | null {
  const result: string[] = []
  let changed = false
  for (let at = 0; at < said.length;) {
    const { text, next, numbers } = numberFrom(said, at)
    if (numbers > 1) {
      changed = true
      result.push(text)
      at = next
    } else {
      result.push(said[at] as string)
      at += 1
    }
  }
  return changed ? result : null
}

/** As many words from here on as make one number, and how many pieces it has; a single letter may end it. */
function numberFrom(said: readonly string[], first: number) {
  let text = ''
  let numbers = 0
  let next = first
  for (; next < said.length; next++) {
    const word = runTogether(said[next] as string)
    const ten = tens.get(word)
    const unit = figures.get(runTogether(said[next + 1] ?? ''))
    if (ten !== undefined && unit !== undefined && unit.length === 1 && unit !== '0') {
      text += ten + unit
      next += 1
      numbers += 2
    } else if (ten !== undefined || figures.has(word)) {
      text += ten === undefined ? figures.get(word) : `${ten}0`
      numbers += 1
    } else if (isDigits(word) && word.length <= 2) {
      text += word
      numbers += 1
    } else {
      if (numbers > 0 && word.length === 1 && isLetters(word)) {
        text += word
        numbers += 1
        next += 1
      }
      break
    }
  }
  return { text, next, numbers }
}
