// Whether an input can tell the states of its loop apart, and by how much.
import type { ContactState, LoopPoint, LoopReading, Resistors } from './loop.ts'
import { figure, ohmsText, type SettingQuestion } from './words.ts'

export type Answer = 'yes' | 'no' | 'not known'
export type Meaning = 'normal' | 'active' | 'cut' | 'short'

export interface PairAnswer {
  readonly one: Meaning
  readonly other: Meaning
  readonly answer: Answer
  readonly words: string
  /** Between the nearest readings; null where one is an open circuit, or not known. Negative: they overlap. */
  readonly gapOhms: number | null
}

export interface ToldApart {
  /** Whether normal and active are told apart, and a cut and a short from both. */
  readonly answer: Answer
  /** Normal from active first, then what a supervised loop is for. */
  readonly pairs: readonly PairAnswer[]
  /** Tolerances of the input that tell all resistances of the loop apart: at least the first, and below the second. */
  readonly worksFromPercent: number | null
  readonly worksBelowPercent: number | null
  /** How many points of percent the input's tolerance is inside of these; negative is outside. */
  readonly marginPercent: number | null
  readonly questions: readonly SettingQuestion[]
}

interface Readings {
  readonly whenClosed: LoopReading
  readonly whenOpen: LoopReading
  readonly shorted: LoopReading
}

/** One electrical state: its marked resistance and where it may really lie. Infinity is an open circuit. */
interface Spot {
  /** Null is not known. */
  readonly marked: number | null
  readonly low: number | null
  readonly high: number | null
}

const open: Spot = { marked: Infinity, low: Infinity, high: Infinity }

const pairsAsked: readonly (readonly [Meaning, Meaning])[] = [
  ['normal', 'active'],
  ['normal', 'cut'],
  ['normal', 'short'],
  ['active', 'cut'],
  ['active', 'short'],
  ['cut', 'short'],
]

/**
 * Judges every pair of states. Two that come to the same circuit are never told apart, whatever the input. For others
 * the input's windows decide: marked resistance ± tolerance, a short below the lowest, an open circuit above the highest.
 */
export function tellApart(
  point: LoopPoint,
  resistors: Resistors,
  readings: Readings,
  normal: ContactState | null,
): ToldApart {
  const closed = spotOf(resistors.inLine, readings.whenClosed)
  const opened =
    readings.whenOpen.form === 'open circuit'
      ? open
      : spotOf(
          resistors.inLine === null || resistors.across === null ? null : resistors.inLine + resistors.across,
          readings.whenOpen,
        )
  const short = spotOf(0, readings.shorted)
  const range = toleranceRange([closed, opened, open, short])
  const judge = (one: Spot, other: Spot): Judged => judgePair(point, one, other)
  const asWired = (state: ContactState) => (meaning: Meaning) => {
    if (meaning === 'cut') return open
    if (meaning === 'short') return short
    return (meaning === 'normal') === (state === 'closed') ? closed : opened
  }

  const questions: SettingQuestion[] = []
  const pairs = pairsAsked.map(([one, other]): PairAnswer => {
    const tried = (normal === null ? (['closed', 'open'] as const) : [normal]).map((state) =>
      judge(asWired(state)(one), asWired(state)(other)),
    )
    const [first] = tried
    if (first === undefined) throw new Error('a pair that nobody judged')
    // Not knowing which state is normal does no harm where both come to the same.
    const isSure = tried.every(({ answer }) => answer === first.answer)
    const judged = isSure
      ? first
      : {
          ...first,
          answer: 'not known' as const,
          why: 'which state of the contact is normal is not known',
          gapOhms: null,
        }
    for (const each of tried) questions.push(...each.questions)
    return { one, other, answer: judged.answer, gapOhms: judged.gapOhms, words: sentence(one, other, judged) }
  })
  const answers = pairs.map(({ answer }) => answer)
  const tolerance = point.tolerancePercent
  return {
    answer: answers.includes('no') ? 'no' : answers.includes('not known') ? 'not known' : 'yes',
    pairs,
    worksFromPercent: range?.from ?? null,
    worksBelowPercent: range?.below ?? null,
    marginPercent:
      range === null || tolerance === null || point.resistorTolerancePercent === null
        ? null
        : Math.min(tolerance - range.from, range.below - tolerance),
    questions,
  }
}

interface Judged {
  readonly answer: Answer
  readonly why: string
  readonly gapOhms: number | null
  readonly questions: readonly SettingQuestion[]
}

const spotOf = (marked: number | null, reading: LoopReading): Spot =>
  reading.form === 'ohms'
    ? { marked, low: reading.lowOhms, high: reading.highOhms }
    : { marked, low: null, high: null }

interface ToleranceRange {
  readonly from: number
  readonly below: number
}

/** Tolerances in percent that tell these apart; null where something is not known or there is no resistor to be near to. */
function toleranceRange(spots: readonly Spot[]): ToleranceRange | null {
  const marks: number[] = []
  let nearNothing: number | null = null
  let from = 0
  for (const { marked, low, high } of spots) {
    if (marked === null || low === null || high === null) return null
    if (marked === Infinity) continue
    if (marked === 0) {
      nearNothing = Math.max(nearNothing ?? 0, high)
      continue
    }
    marks.push(marked)
    from = Math.max(from, (high - marked) / marked, (marked - low) / marked)
  }
  const sorted = [...new Set(marks)].toSorted((a, b) => a - b)
  const [lowest] = sorted
  if (lowest === undefined) return null
  // What reads near nothing must stay under the window of the lowest resistor, and windows must not meet.
  let below = nearNothing === null ? Infinity : 1 - nearNothing / lowest
  for (const [at, mark] of sorted.entries()) {
    const lower = sorted[at - 1]
    if (lower !== undefined) below = Math.min(below, (mark - lower) / (mark + lower))
  }
  return { from: from * 100, below: below * 100 }
}

function judgePair(point: LoopPoint, one: Spot, other: Spot): Judged {
  const nothing = { gapOhms: null, questions: [] }
  if (one.marked !== null && one.marked === other.marked)
    return {
      ...nothing,
      answer: 'no',
      why: one.marked === Infinity ? 'both are an open circuit' : 'both are a closed loop without a resistor',
    }
  if (one.marked === null || other.marked === null)
    return { ...nothing, answer: 'not known', why: 'the resistors are not known' }
  const isPlain = [one, other].every(({ marked }) => marked === 0 || marked === Infinity)
  const gapOhms = gapBetween(one, other)
  if (isPlain) return judgePlain(point, one, other)
  const range = toleranceRange([one, other])
  if (range === null) return { ...nothing, answer: 'not known', why: 'the cable is not known' }
  const { tolerancePercent: tolerance, resistorTolerancePercent: ofResistors, name } = point
  const span = `${figure(range.from, 2)} %${range.below === Infinity ? ' on' : ` up to ${figure(range.below, 3)} %`}`
  if (range.from >= range.below)
    return {
      gapOhms,
      questions: [],
      answer: 'no',
      why: 'the cable and the resistors’ own tolerance leave no room between the resistances',
    }
  const questions: SettingQuestion[] = []
  if (tolerance === null)
    questions.push({
      words: `How many percent may a reading of ${name} differ from its resistor?`,
      whoCanSay: 'the controller’s instructions',
    })
  if (ofResistors === null)
    questions.push({
      words: `Which tolerance have the resistors of ${name}?`,
      whoCanSay: 'the last ring on the resistor, or its packet',
    })
  if (tolerance !== null && tolerance >= range.below)
    return {
      gapOhms,
      questions: [],
      answer: 'no',
      why: `± ${figure(tolerance)} % is too wide; it must stay below ${figure(range.below, 3)} %`,
    }
  if (tolerance !== null && tolerance < range.from)
    return {
      gapOhms,
      questions: [],
      answer: 'no',
      why: `± ${figure(tolerance)} % is too narrow for the cable and the resistors; it must be at least ${figure(range.from, 2)} %`,
    }
  if (questions.length > 0)
    return { gapOhms, questions, answer: 'not known', why: `a tolerance from ${span} would tell them apart` }
  return { gapOhms, questions: [], answer: 'yes', why: `± ${figure(tolerance ?? 0)} % lies within ${span}` }
}

/** A closed loop without a resistor against an open circuit. With resistors elsewhere, their window is the threshold. */
function judgePlain(point: LoopPoint, one: Spot, other: Spot): Judged {
  const closed = one.marked === 0 ? one : other
  const none = { gapOhms: null, questions: [] }
  if (closed.high === null) return { ...none, answer: 'not known', why: 'the cable is not known' }
  // Where the input looks for a resistor, nothing and everything lie on either side of it.
  if (point.loop !== 'plain') {
    const marks = [point.seriesOhms, point.parallelOhms].flatMap((ohms) => ohms ?? [])
    if (point.loop === null || marks.length === 0)
      return { ...none, answer: 'not known', why: 'the resistors are not known' }
    const isBelow = closed.high < Math.min(...marks)
    return {
      ...none,
      answer: isBelow ? 'yes' : 'no',
      why: isBelow ? 'a resistor lies between them' : 'the cable has as much as the resistor',
    }
  }
  const limit = point.closedBelowOhms
  if (limit === null)
    return {
      gapOhms: null,
      questions: [
        {
          words: `Up to how many ohms does ${point.name} take a plain loop as closed?`,
          whoCanSay: 'the controller’s instructions',
        },
      ],
      answer: 'not known',
      why: `the loop has up to ${ohmsText(closed.high)}, and the input’s limit is not known`,
    }
  return closed.high < limit
    ? { ...none, answer: 'yes', why: `up to ${ohmsText(closed.high)} is below ${ohmsText(limit)}` }
    : { ...none, answer: 'no', why: `up to ${ohmsText(closed.high)} is not below ${ohmsText(limit)}` }
}

function gapBetween(one: Spot, other: Spot): number | null {
  if (one.low === null || one.high === null || other.low === null || other.high === null) return null
  const gap = Math.max(one.low - other.high, other.low - one.high)
  return Number.isFinite(gap) ? gap : null
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

function sentence(one: Meaning, other: Meaning, { answer, why }: Judged): string {
  const verb =
    answer === 'yes' ? 'are told apart' : answer === 'no' ? 'cannot be told apart' : 'may not be told apart'
  return `${capital(one)} and ${other} ${verb}: ${why}.`
}
