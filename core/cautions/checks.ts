// Three answers, with words for a no and the missing facts for a not known. What is not known never becomes a yes.
import type { ConditionName, Question } from '../behaviour/index.ts'
import type { Facts } from './answers.ts'
import { factKeys, type Answerer, type FactKey, type OccupancyGroup, type ValueOf } from './facts.ts'

/** What is missing before a rule can decide. */
export type Missing =
  | { readonly about: 'fact'; readonly fact: FactKey }
  | { readonly about: 'behaviour'; readonly question: Question }
  | { readonly about: 'condition'; readonly condition: ConditionName }
  | { readonly about: 'fittings' }
  | {
      readonly about: 'trait'
      readonly fitting: string
      readonly trait: 'how it is worked' | 'when it holds'
    }
  | {
      readonly about: 'local'
      readonly rule: string
      readonly question: string
      readonly answeredBy: Answerer
    }

/** The same text for the same missing thing. */
export function missingKey(missing: Missing): string {
  switch (missing.about) {
    case 'fact':
      return missing.fact
    case 'behaviour':
      return JSON.stringify(missing.question)
    case 'condition':
      return `condition: ${missing.condition}`
    case 'fittings':
      return 'fittings'
    case 'trait':
      return `${missing.trait}: ${missing.fitting}`
    case 'local':
      return `local:${missing.rule}`
  }
}

export type Check =
  | { readonly is: 'yes' }
  | { readonly is: 'no'; readonly words: string }
  | { readonly is: 'unknown'; readonly missing: readonly Missing[] }

export const yes: Check = { is: 'yes' }
export const no = (words: string): Check => ({ is: 'no', words })
export const unknown = (...missing: readonly Missing[]): Check => ({ is: 'unknown', missing })

const factMissing = new Map(factKeys.map((fact) => [fact, unknown({ about: 'fact', fact })]))
/** Not known until this fact is answered. */
export const lacks = (fact: FactKey): Check => factMissing.get(fact) ?? unknown({ about: 'fact', fact })

const missingOf = (checks: readonly Check[]): Missing[] => {
  const found = new Map<string, Missing>()
  for (const check of checks)
    if (check.is === 'unknown') for (const each of check.missing) found.set(missingKey(each), each)
  return [...found.values()]
}

/** Yes when all are; no, with the first no's words, when any is. */
export function all(...checks: readonly Check[]): Check {
  let open: Check | null = null
  for (const check of checks) {
    if (check.is === 'no') return check
    if (check.is === 'unknown') open = open === null ? check : unknown(...missingOf([open, check]))
  }
  return open ?? yes
}

/** Yes when any is; no, in these words, when none is. */
export function anyOf(words: string, ...checks: readonly Check[]): Check {
  let open: Check | null = null
  for (const check of checks) {
    if (check.is === 'yes') return yes
    if (check.is === 'unknown') open = open === null ? check : unknown(...missingOf([open, check]))
  }
  return open ?? no(words)
}

export const not = (check: Check, words: string): Check =>
  check.is === 'yes' ? no(words) : check.is === 'no' ? yes : check

type YesOrNo = { [K in FactKey]: ValueOf<K> extends boolean ? K : never }[FactKey]
type Amount = { [K in FactKey]: ValueOf<K> extends number ? K : never }[FactKey]

/** Whether a yes-or-no fact is answered yes. */
export function says(facts: Facts, key: YesOrNo, words: string): Check {
  const answer = facts.answer(key)
  return !answer.known ? lacks(key) : answer.value ? yes : no(words)
}

/** Whether a fact has one of these values. */
export function isOne<K extends FactKey>(
  facts: Facts,
  key: K,
  values: readonly ValueOf<K>[],
  words: string,
): Check {
  const answer = facts.answer(key)
  return !answer.known ? lacks(key) : values.includes(answer.value) ? yes : no(words)
}

/** Whether a figure lies within limits, both included, in the fact's own unit. */
export function within(
  facts: Facts,
  key: Amount,
  limits: {
    readonly atLeast?: number
    readonly atMost?: number
    readonly below?: number
    readonly above?: number
  },
  words: (value: number) => string,
): Check {
  const answer = facts.answer(key)
  if (!answer.known) return lacks(key)
  const { value } = answer
  const isWithin =
    value >= (limits.atLeast ?? -Infinity) &&
    value <= (limits.atMost ?? Infinity) &&
    value < (limits.below ?? Infinity) &&
    value > (limits.above ?? -Infinity)
  return isWithin ? yes : no(words(value))
}

const isInGroup = (group: OccupancyGroup, of: readonly string[]): boolean =>
  of.includes(group) || of.includes(group.slice(0, 1))

/** Whether any group served is one of these; `H` counts for H-1 to H-5. */
export function servesAny(facts: Facts, groups: readonly string[], words: string): Check {
  const answer = facts.answer('occupancy-groups')
  if (!answer.known) return lacks('occupancy-groups')
  return answer.value.some((group) => isInGroup(group, groups)) ? yes : no(words)
}

/** Whether every group served is one of these. */
export function servesOnly(
  facts: Facts,
  groups: readonly string[],
  words: (others: string) => string,
): Check {
  const answer = facts.answer('occupancy-groups')
  if (!answer.known) return lacks('occupancy-groups')
  const others = answer.value.filter((group) => !isInGroup(group, groups))
  return others.length === 0 ? yes : no(words(others.join(', ')))
}
