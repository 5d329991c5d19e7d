// The cautions of a whole job, told once however many openings share them: lines, sets of lines, and what to ask.
import { localFact, type Facts } from './answers.ts'
import { missingKey, type Missing } from './checks.ts'
import { askableNow, priorOf } from './follow-ups.ts'
import { answerers, type Answerer, type FactForm, type FactPlace } from './facts.ts'
import type { Caution } from './judge.ts'
import { openQuestions, type OpenQuestion } from './questions.ts'
import { severities, type Severity } from './rule.ts'
import { ruleWords, type RuleWords } from './rule-words.ts'

/** How an opening stands: how many cautions of each consequence, and how many facts are missing. */
export interface CautionCount {
  readonly canTrap: number
  readonly breaks: number
  /** Cautions that only ask. */
  readonly asks: number
  readonly missing: number
}

const counted = new WeakMap<readonly Caution[], CautionCount>()

/** The same value for the same list. */
export function countCautions(cautions: readonly Caution[]): CautionCount {
  const known = counted.get(cautions)
  if (known !== undefined) return known
  const of = (severity: Severity): number =>
    cautions.filter((each) => each.verdict === 'caution' && each.severity === severity).length
  const count: CautionCount = {
    canTrap: of('can trap someone'),
    breaks: of('breaks a rule'),
    asks: of('ask'),
    missing: askableNow(cautions.flatMap(({ missing }) => missing)).size,
  }
  counted.set(cautions, count)
  return count
}

/** The worst of an opening in a few words: "1 can trap", "2 break a rule", "4 to ask", "none". */
export function worstWords({ canTrap, breaks, asks, missing }: CautionCount): string {
  if (canTrap > 0) return `${canTrap} can trap`
  if (breaks > 0) return `${breaks} ${breaks === 1 ? 'breaks' : 'break'} a rule`
  return asks + missing > 0 ? `${asks + missing} to ask` : 'none'
}

/** Everything of an opening's count in one sentence. */
export function countWords({ canTrap, breaks, asks, missing }: CautionCount): string {
  const parts = [
    ...(canTrap > 0 ? [`${canTrap} can trap someone`] : []),
    ...(breaks > 0 ? [`${breaks} ${breaks === 1 ? 'breaks' : 'break'} a rule`] : []),
    ...(asks > 0 ? [`${asks} to ask about`] : []),
    ...(missing > 0 ? [`${missing} ${missing === 1 ? 'fact is' : 'facts are'} missing`] : []),
  ]
  return parts.length === 0 ? 'No caution, and no fact is missing.' : `${parts.join(', ')}.`
}

/** A verdict that wants attention: a caution, or what is not known. */
export interface CautionLine {
  /** Key of a rule. */
  readonly rule: string
  readonly verdict: 'caution' | 'not known'
  readonly severity: Severity
  readonly sentences: readonly string[]
  /** Keys of questions. */
  readonly missing: readonly string[]
}

/** One question, whoever and however many wait for its answer. */
export interface QuestionAsked {
  readonly key: string
  readonly sentence: string
  readonly answeredBy: Answerer
  /** The name under which its answer is kept, and the form it takes; null where the drawing or the catalogue answers it. */
  readonly fact: string | null
  readonly answer: FactForm | null
  readonly belongsTo: FactPlace
  /** How many openings wait for it. */
  readonly openings: number
  /** Keys of the rules that wait for it. */
  readonly rules: readonly string[]
  /** The gravest of what can hang on it. */
  readonly severity: Severity
  /** The key of the question that is asked before it, where there is one. */
  readonly after: string | null
  /** What will be asked once it is answered, for what its answer makes of it. */
  readonly leadsTo: readonly string[]
}

export interface CautionsOverview {
  readonly rules: readonly RuleWords[]
  readonly lines: readonly CautionLine[]
  /** Places in `lines`: all that wants attention at an opening. */
  readonly sets: readonly (readonly number[])[]
  /** Opening to its place in `sets`. */
  readonly of: Readonly<Record<string, number>>
  /** By who can answer, the gravest consequence and then the most openings first. */
  readonly questions: readonly QuestionAsked[]
}

/** The name under which the answer to what is missing is kept; null where no words answer it. */
export const factOf = (missing: Missing): string | null =>
  missing.about === 'fact' ? missing.fact : missing.about === 'local' ? localFact(missing.rule) : null

/** Gathers what was judged. The openings of a job mostly share their lists, and each list is looked at once. */
export function cautionsOverview(
  judged: Iterable<readonly [openingId: string, cautions: readonly Caution[]]>,
  jobFacts: Facts,
): CautionsOverview {
  const places = new Map<readonly Caution[], number>()
  const lists: (readonly Caution[])[] = []
  const openings: number[] = []
  const of: Record<string, number> = {}
  for (const [openingId, cautions] of judged) {
    let place = places.get(cautions)
    if (place === undefined) {
      place = lists.push(cautions) - 1
      places.set(cautions, place)
      openings.push(0)
    }
    of[openingId] = place
    openings[place] = (openings[place] ?? 0) + 1
  }
  const rules = new Map<string, RuleWords>()
  const lines = new Map<string, number>()
  const told: CautionLine[] = []
  const sets = lists.map((cautions) => {
    const set: number[] = []
    for (const caution of cautions) {
      const line = lineOf(caution)
      if (line === null) continue
      const { key } = caution.rule
      if (!rules.has(key)) rules.set(key, ruleWords(caution, jobFacts))
      const lineKey = JSON.stringify(line)
      let at = lines.get(lineKey)
      if (at === undefined) {
        at = told.push(line) - 1
        lines.set(lineKey, at)
      }
      set.push(at)
    }
    return set
  })
  return { rules: [...rules.values()], lines: told, sets, of, questions: questionsOf(lists, openings) }
}

function lineOf({ rule, verdict, severity, sentences, missing }: Caution): CautionLine | null {
  if (verdict !== 'caution' && verdict !== 'not known') return null
  return { rule: rule.key, verdict, severity, sentences, missing: missing.map(missingKey) }
}

interface Collected {
  readonly answeredBy: Answerer
  readonly question: OpenQuestion
  readonly lists: Set<number>
  readonly rules: Set<string>
  readonly leadsTo: Set<string>
  rank: number
}

/** Asks each list once, then joins what is the same question of several lists. */
function questionsOf(
  lists: readonly (readonly Caution[])[],
  openings: readonly number[],
): readonly QuestionAsked[] {
  const found = new Map<string, Collected>()
  const numbered = lists.map((cautions, place) => [String(place), cautions] as const)
  for (const { answeredBy, questions } of openQuestions(numbered))
    for (const question of questions) {
      const key = missingKey(question.missing)
      const same = found.get(key) ?? {
        answeredBy,
        question,
        lists: new Set<number>(),
        rules: new Set<string>(),
        leadsTo: new Set<string>(),
        rank: question.rank,
      }
      found.set(key, same)
      for (const list of question.openings) same.lists.add(Number(list))
      for (const rule of question.rules) same.rules.add(rule)
      same.rank = Math.min(same.rank, question.rank)
    }
  putOffFollowUps(found)
  const asked = [...found]
    .filter(([, { lists: waiting }]) => waiting.size > 0)
    .map(([key, each]) => ({ rank: each.rank, asked: askedOf(key, each, openings) }))
  return answerers.flatMap((answeredBy) =>
    asked
      .filter((each) => each.asked.answeredBy === answeredBy)
      .toSorted(
        (one, other) =>
          one.rank - other.rank ||
          other.asked.openings - one.asked.openings ||
          (one.asked.key < other.asked.key ? -1 : 1),
      )
      .map((each) => each.asked),
  )
}

/** A follow-up waits wherever the question before it is open too, which tells of it. */
function putOffFollowUps(found: ReadonlyMap<string, Collected>): void {
  for (const { question, lists } of found.values()) {
    const prior = found.get(priorOf(question.missing) ?? '')
    if (prior === undefined) continue
    for (const list of lists)
      if (prior.lists.has(list)) {
        lists.delete(list)
        prior.leadsTo.add(question.sentence)
      }
  }
}

const askedOf = (
  key: string,
  { answeredBy, question, lists, rules, leadsTo, rank }: Collected,
  openings: readonly number[],
): QuestionAsked => ({
  key,
  sentence: question.sentence,
  answeredBy,
  fact: factOf(question.missing),
  answer: question.answer,
  belongsTo: question.belongsTo,
  openings: [...lists].reduce((sum, list) => sum + (openings[list] ?? 0), 0),
  rules: [...rules],
  // Two ranks a severity: what is wrong, and what is not settled.
  severity: severities[Math.floor(rank / 2)] ?? 'ask',
  after: priorOf(question.missing),
  leadsTo: [...leadsTo],
})

/** The openings that wait for a question, in the overview's order. */
export function openingsWaiting(
  { lines, sets, of }: Pick<CautionsOverview, 'lines' | 'sets' | 'of'>,
  { key, after }: Pick<QuestionAsked, 'key' | 'after'>,
): string[] {
  const lacks = (set: readonly number[], wanted: string): boolean =>
    set.some((at) => lines[at]?.missing.includes(wanted) === true)
  const waits = sets.map((set) => lacks(set, key) && !(after !== null && lacks(set, after)))
  return Object.keys(of).filter((openingId) => waits[of[openingId] ?? -1] === true)
}

/** A rule's answer for one opening, with all it says. */
export interface CautionInFull extends Pick<Caution, 'verdict' | 'severity' | 'sentences'> {
  readonly rule: RuleWords
  /** Keys of questions. */
  readonly missing: readonly string[]
}

export interface CautionsInFull {
  /** What can trap someone first, what is met or does not apply last. */
  readonly lines: readonly CautionInFull[]
  readonly questions: readonly QuestionAsked[]
}

/** One opening's cautions with every rule that was judged. */
export function cautionsInFull(cautions: readonly Caution[], facts: Facts): CautionsInFull {
  return {
    lines: cautions.map((caution) => ({
      rule: ruleWords(caution, facts),
      verdict: caution.verdict,
      severity: caution.severity,
      sentences: caution.sentences,
      missing: caution.missing.map(missingKey),
    })),
    questions: questionsOf([cautions], [1]),
  }
}
