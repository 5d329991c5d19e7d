// Every rule over every opening.
import type { Facts } from './answers.ts'
import { recogniseArrangement, type Recognition } from './arrangement.ts'
import { all, lacks, no, unknown, yes, type Check, type Missing } from './checks.ts'
import type { FactKey, FactValue } from './facts.ts'
import type { LocalRule } from './local-rule.ts'
import { rules } from './register.ts'
import { severities, type Decision, type Rule, type RuleText, type Severity, type Verdict } from './rule.ts'
import { conditionsByName, type OpeningToJudge, type OpeningView } from './view.ts'

/** A rule's answer for one opening. */
export interface Caution {
  /** The rule, or the job's own rule. */
  readonly rule: RuleText | LocalRule
  readonly isLocal: boolean
  readonly severity: Severity
  readonly verdict: Verdict
  readonly sentences: readonly string[]
  /** What to answer; only where the verdict is not known. */
  readonly missing: readonly Missing[]
}

export const wordsOfCaution =
  'These cautions support a review; they do not replace it. Local codes and the authority having jurisdiction decide. ' +
  'Where licensed practice is required, a licensed person decides.'

/** Judges one opening by every rule: what can trap someone first, what is met or does not apply last. */
export function judgeOpening(
  opening: OpeningToJudge,
  localRules: readonly LocalRule[] = [],
): readonly Caution[] {
  return judgeView(viewOf(opening), localRules)
}

export const viewOf = (opening: OpeningToJudge): OpeningView => ({
  ...opening,
  conditions: conditionsByName(opening.behaviour),
  arrangement: recogniseArrangement(opening),
})

export function judgeView(view: OpeningView, localRules: readonly LocalRule[] = []): readonly Caution[] {
  const byRank: Caution[][] = [[], [], [], [], [], [], [], []]
  for (const rule of rules) add(byRank, cautionOf(rule, decide(rule, view)))
  for (const rule of localRules)
    add(byRank, { rule, isLocal: true, severity: rule.severity, ...decideLocal(rule, view) })
  return byRank.flat()
}

const severityRank = new Map(severities.map((severity, index) => [severity, index * 2]))
const add = (byRank: readonly Caution[][], caution: Caution): void => {
  byRank[rankOf(caution)]?.push(caution)
}

/** Lower is read first. What is not settled stands beside what is wrong, by what can follow from it. */
export function rankOf({ verdict, severity }: Pick<Caution, 'verdict' | 'severity'>): number {
  switch (verdict) {
    case 'caution':
      return severityRank.get(severity) ?? 0
    case 'not known':
      return (severityRank.get(severity) ?? 0) + 1
    case 'met':
      return 6
    case 'does not apply':
      return 7
  }
}

// Most answers are the same few words; one value each is kept, so that a large job does not make half a million.
const kept = new WeakMap<Rule, Map<string, Caution>>()
const noMissing: readonly Missing[] = []

function cautionOf(rule: Rule, decision: Decision): Caution {
  const isCommon = decision.verdict === 'does not apply' || decision.verdict === 'met'
  if (!isCommon) return { rule, isLocal: false, severity: rule.severity, ...decision }
  const [words = ''] = decision.sentences
  const same = kept.get(rule) ?? new Map<string, Caution>()
  kept.set(rule, same)
  const found = same.get(words)
  if (found !== undefined) return found
  const caution = { rule, isLocal: false, severity: rule.severity, ...decision }
  same.set(words, caution)
  return caution
}

const doesNotApply = (words: string): Decision => ({
  verdict: 'does not apply',
  sentences: [words],
  missing: noMissing,
})
const met: Decision = { verdict: 'met', sentences: [], missing: noMissing }

/** One rule's verdict. A rule whose code is not chosen yet is not known; one of another edition does not apply. */
export function decide(rule: Rule, view: OpeningView): Decision {
  const applies = rule.applies(view)
  if (applies.is === 'no') return doesNotApply(applies.words)
  const inForce = rule.whateverCode === true ? yes : isInForce(rule, view.facts)
  if (inForce.is === 'no') return doesNotApply(inForce.words)
  const may = all(inForce, applies)
  if (may.is === 'unknown') return { verdict: 'not known', sentences: [], missing: may.missing }
  const asks = rule.asks(view)
  const sentences = asks.flatMap((check) => (check.is === 'no' ? [check.words] : []))
  if (sentences.length > 0) return { verdict: 'caution', sentences, missing: noMissing }
  const whole = all(...asks)
  return whole.is === 'unknown' ? { verdict: 'not known', sentences: [], missing: whole.missing } : met
}

const otherEdition = no('The chosen code and edition has no such section.')

/** Whether one of the codes that the rule cites is chosen, in an edition that has the section. */
export function isInForce(rule: Pick<RuleText, 'citations'>, facts: Facts): Check {
  let open: Check | null = null
  for (const { code, sections } of rule.citations) {
    if (code !== 'IBC' && code !== 'NFPA 101') return yes
    const key = code === 'IBC' ? 'ibc-edition' : 'nfpa-101-edition'
    const edition = facts.answer(key)
    if (edition.known) {
      if (sections.some((each) => each.edition === edition.value && each.section !== null)) return yes
    } else open = open === null ? lacks(key) : all(open, lacks(key))
  }
  return open ?? otherEdition
}

function decideLocal(rule: LocalRule, view: OpeningView): Decision {
  const applies = localScope(rule, view)
  if (applies.is === 'no') return doesNotApply(applies.words)
  if (applies.is === 'unknown') return { verdict: 'not known', sentences: [], missing: applies.missing }
  const answer = view.facts.local(rule.key)
  if (!answer.known) {
    const { key, question, answeredBy } = rule
    return {
      verdict: 'not known',
      sentences: [],
      missing: [{ about: 'local', rule: key, question, answeredBy }],
    }
  }
  if (answer.value === (rule.wanted === 'yes')) return met
  return {
    verdict: 'caution',
    sentences: [`Answered ${answer.value ? 'yes' : 'no'}: ${rule.question}`],
    missing: noMissing,
  }
}

function localScope({ appliesTo }: LocalRule, view: OpeningView): Check {
  switch (appliesTo.to) {
    case 'every opening':
      return yes
    case 'openings where':
      return factIs(view.facts, appliesTo.fact, appliesTo.is)
    case 'ways out': {
      const { wayOut, missing } = view.arrangement
      if (wayOut === 'not known') return unknown(...missing)
      return wayOut === appliesTo.arrangement ? yes : no(`The way out is not ${appliesTo.arrangement}.`)
    }
  }
}

function factIs(facts: Facts, key: FactKey, value: FactValue): Check {
  const answer = facts.answer(key)
  if (!answer.known) return lacks(key)
  const known: FactValue = answer.value
  const wanted = typeof value === 'object' ? value : [String(value)]
  const has = typeof known === 'object' ? known : [String(known)]
  return wanted.some((each) => has.includes(each)) ? yes : no('The rule is for other openings.')
}

/**
 * Judges many openings and keeps what was judged: openings with the same behaviour and fittings values and the same
 * answers share one list. Values are told apart by identity, so share them (behaviour memo, one list per typical).
 */
export function createJudge(localRules: readonly LocalRule[] = []): (opening: OpeningToJudge) => Judged {
  const none: readonly never[] = []
  const judged = new WeakMap<object, WeakMap<object, Map<string, Judged>>>()
  return (opening) => {
    const { behaviour, fittings, facts } = opening
    const ofBehaviour = judged.get(behaviour) ?? new WeakMap<object, Map<string, Judged>>()
    judged.set(behaviour, ofBehaviour)
    const ofFittings = ofBehaviour.get(fittings ?? none) ?? new Map<string, Judged>()
    ofBehaviour.set(fittings ?? none, ofFittings)
    const found = ofFittings.get(facts.key)
    if (found !== undefined) return found
    const view = viewOf(opening)
    const fresh: Judged = { arrangement: view.arrangement, cautions: judgeView(view, localRules) }
    ofFittings.set(facts.key, fresh)
    return fresh
  }
}

export interface Judged {
  readonly arrangement: Recognition
  readonly cautions: readonly Caution[]
}
