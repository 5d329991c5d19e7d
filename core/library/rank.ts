// How well an entry answers what was asked, and which of its texts say so.
import type { RecordKind } from '../job/index.ts'
import type { Entry, EntryText } from './entries.ts'
import { labels, type TextLabel } from './labels.ts'
import { plainWords, runTogether, type AskedWord, type Reading } from './words.ts'

export interface Scored extends Pick<Entry, 'kind' | 'id' | 'openingId' | 'title' | 'place' | 'texts'> {
  readonly ofJob: readonly EntryText[]
}

export interface Score {
  readonly score: number
  /** The text that fits best of all, and the others that each fit a word best. */
  readonly best: EntryText | null
  readonly others: readonly EntryText[]
  /** Words asked for that are nowhere in it. */
  readonly without: readonly string[]
}

interface Forms {
  readonly joined: string
  readonly spaced: string
}

/** Rooms, levels and parts come again and again: their forms are worked out once. */
const formsByText = new Map<string, Forms>()
const mostForms = 50_000

function formsOf(text: string): Forms {
  let forms = formsByText.get(text)
  if (forms !== undefined) return forms
  if (formsByText.size >= mostForms) formsByText.clear()
  forms = { joined: runTogether(text), spaced: ` ${plainWords(text).join(' ')} ` }
  formsByText.set(text, forms)
  return forms
}

/** A small number on its own is a level far sooner than a room, and that sooner than an end of anything else. */
const ofSmallNumber = (label: TextLabel): number =>
  label === 'level' ? 6 : labels[label].column === 'room' ? 4 : label === 'mark' ? 2 : 1
const isSmallNumber = (word: string): boolean => /^\d{1,2}$/.test(word)
const wholeWord = (word: string, label: TextLabel, worth: number): number =>
  isSmallNumber(word) ? ofSmallNumber(label) : worth

/** How well one word fits one text: the whole, a word, its beginning, somewhere inside, or nearly. */
function fit({ joined, spaced }: Forms, label: TextLabel, word: AskedWord, near: readonly string[]): number {
  const { said, figure } = word
  if (joined === said) return 8
  // Written in the same pieces: "2611-04" is the end of "ST-2611-04" sooner than the beginning of "2611-0482".
  if (word.pieces.length > 0 && spaced.includes(` ${word.pieces.join(' ')} `)) return 5
  if (spaced.includes(` ${said} `)) return wholeWord(said, label, 4)
  if (said.length > 2 && joined.startsWith(said)) return 4
  if (figure !== null && joined === figure) return 4
  if (figure !== null && spaced.includes(` ${figure} `)) return ofSmallNumber(label)
  if (word.alike.some((each) => spaced.includes(` ${each} `))) return 3
  if (spaced.includes(` ${said}`)) return said.length > 2 ? 3 : 1
  if (word.pieces.length > 0 && word.pieces.every((each) => spaced.includes(` ${each} `))) return 2
  const meant = near.find((each) => spaced.includes(` ${each} `))
  if (meant !== undefined) return wholeWord(meant, label, 4) / 2
  return said.length > 2 && joined.includes(said) ? 1 : 0
}

const fillersCount = 0.25

/** `near` are the words of the shelf that each asked word may have been meant to be. */
export function scoreOf(
  entry: Scored,
  { words, whole, spans }: Reading,
  near: ReadonlyMap<string, readonly string[]>,
): Score {
  const chosen: (Choice | null)[] = words.map(() => null)
  let extra = 0
  let exactText: EntryText | null = null
  for (const text of [...entry.texts, ...entry.ofJob]) {
    const { weight } = labels[text[0]]
    // Who names a job and nothing else means the job, not everything in it.
    const exact = labels[text[0]].column === 'job' && entry.kind !== 'job' ? 0 : labels[text[0]].exact
    const forms = formsOf(text[1])
    const fits = words.map((word) => fit(forms, text[0], word, near.get(word.said) ?? []))
    const ofText = weight * fits.reduce((sum, each) => sum + each, 0)
    if (ofText === 0) continue
    for (const [index, each] of fits.entries()) {
      const choice = { text, worth: weight * each, ofText, named: each === 8 && exact >= surelyNamed }
      if (each > 0 && isBetter(choice, chosen[index] ?? null)) chosen[index] = choice
    }
    const more = together(forms, weight, exact, whole, spans)
    if (more <= extra) continue
    extra = more
    if (forms.joined === whole && exact > 0) exactText = text
  }
  return summed(words, chosen, extra, exactText)
}

/** The text that fits one word best. */
interface Choice {
  readonly text: EntryText
  readonly worth: number
  /** What the text is worth for all words: of two that fit alike, the one that fits more of them says more. */
  readonly ofText: number
  /** The word is a mark or a serial. */
  readonly named: boolean
}

/** The least that `exact` is for marks and serials. */
const surelyNamed = 900

const isBetter = (one: Choice, other: Choice | null): boolean =>
  other === null || one.worth > other.worth || (one.worth === other.worth && one.ofText > other.ofText)

/** What is added when neighbours stand together in one text, and when the text is all that was asked. */
function together(
  forms: Forms,
  weight: number,
  exact: number,
  whole: string,
  spans: readonly string[],
): number {
  if (exact > 0 && forms.joined === whole) return exact
  let best = 0
  for (const span of spans)
    if (forms.joined === span) best = Math.max(best, weight * 5)
    else if (span.length > 3 && forms.joined.includes(span)) best = Math.max(best, weight * 3)
  return best
}

function summed(
  words: readonly AskedWord[],
  chosen: readonly (Choice | null)[],
  extra: number,
  exactText: EntryText | null,
): Score {
  let sum = 0
  let asked = 0
  const without: string[] = []
  const choices: Choice[] = []
  for (const [index, word] of words.entries()) {
    const choice = chosen[index] ?? null
    sum += (choice?.worth ?? 0) * (word.filler ? fillersCount : 1)
    if (word.filler) continue
    asked += 1
    if (choice === null) without.push(word.said)
    else choices.push(choice)
  }
  choices.sort((one, other) => other.worth - one.worth || other.ofText - one.ofText)
  const texts = [...new Set([...(exactText === null ? [] : [exactText]), ...choices.map(({ text }) => text)])]
  // Half of the words is far less than half of an answer, unless one of them is the mark.
  const found = asked === 0 ? 1 : choices.length / asked
  const share = choices.some(({ named }) => named) ? found : found ** 2
  return { score: (sum + extra) * share, best: texts[0] ?? null, others: texts.slice(1), without }
}

export interface Shown {
  readonly kind: RecordKind
  readonly id: string
  readonly title: string
  readonly detail: string
  readonly matched: string
}

const saidByPlace: ReadonlySet<TextLabel> = new Set([
  'mark',
  'place',
  'room',
  'level',
  'job',
  'supply',
  'controller',
])
const shortened = (text: string): string => (text.length > 120 ? `${text.slice(0, 117)}...` : text)

/** What a person reads of an entry that answers, and which record of it: the opening, or what was found on it. */
export function shown(entry: Scored, { best, others }: Score): Shown {
  const [label, text, kind, id, called] = best ?? (['notes', ''] as const)
  const inside = kind !== undefined && id !== undefined
  const own = inside && kind !== entry.kind ? shortened(called ?? text) : ''
  const because = [...(best === null ? [] : [best]), ...others]
    .filter(([each, words]) => !saidByPlace.has(each) && !own.includes(words))
    .slice(0, 2)
    .map(([each, words]) => `${each} ${shortened(words)}`)
  return {
    kind: inside ? kind : entry.kind,
    id: inside ? id : entry.id,
    title: titleOf(entry, own),
    detail: [entry.place, ...because].filter((each) => each !== '').join('; '),
    matched: label,
  }
}

/** The mark first, then what was found there; many runs and points have the mark in their own name. */
const titleOf = ({ title, openingId }: Scored, own: string): string =>
  own === '' ? title : openingId === null || own.startsWith(`${title} `) ? own : `${title} ${own}`
