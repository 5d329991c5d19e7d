// One opening as the rules see it: facts, computed behaviour, and what its fittings declare.
import { alarmInOpenHours, asEasyAs, conditionKey, hindranceOf } from '../behaviour/index.ts'
import type { ConditionName, ConditionResult, Ease, Passage, Reason } from '../behaviour/index.ts'
import type { Facts } from './answers.ts'
import { all, no, unknown, yes, type Check } from './checks.ts'
import type { Recognition } from './arrangement.ts'
import type { FittingTraits, Hold } from './traits.ts'

export interface OpeningToJudge {
  readonly facts: Facts
  /** The results of every condition; empty where behaviour was not worked out. */
  readonly behaviour: readonly ConditionResult[]
  /** Null where the fittings are not known; empty where there are known to be none. */
  readonly fittings: readonly FittingTraits[] | null
}

export type Conditions = ReadonlyMap<ConditionName, readonly ConditionResult[]>

export interface OpeningView extends OpeningToJudge {
  readonly conditions: Conditions
  readonly arrangement: Recognition
}

export function conditionsByName(results: readonly ConditionResult[]): Conditions {
  const found = new Map<ConditionName, ConditionResult[]>()
  for (const result of results) {
    const same = found.get(result.condition.name)
    if (same === undefined) found.set(result.condition.name, [result])
    else same.push(result)
  }
  return found
}

/**
 * The way out as if every leaf stood shut: somebody may shut a leaf that a magnet holds open. As open as the freer
 * leaf; where leaves are not known, the freer at best and the freer at worst.
 */
export function wayOut(result: ConditionResult): Passage {
  if (result.leaves.every((leaf) => leaf.standing === 'shut')) return result.out
  const outs = result.leaves.map((leaf) => leaf.whenShut.out)
  const [first, ...rest] = outs
  if (first === undefined) return result.out
  const freest = rest.reduce((one, other) => (isFreer(worst(other), worst(one)) ? other : one), first)
  const hope = rest.reduce((one, other) => (isFreer(best(other), best(one)) ? other : one), first)
  if (!isFreer(best(hope), best(freest))) return freest
  return {
    form: 'not known',
    atBest: best(hope),
    atWorst: worst(freest),
    missing: outs.flatMap((out) => (out.form === 'not known' ? out.missing : [])),
    reasons: freest.reasons,
  }
}

const isFreer = (one: Ease, other: Ease): boolean => hindranceOf(one) < hindranceOf(other)
const worst = (passage: Passage): Ease => (passage.form === 'not known' ? passage.atWorst : passage)
const best = (passage: Passage): Ease => (passage.form === 'not known' ? passage.atBest : passage)
const isOpen = (ease: Ease): boolean => ease.form === 'free' || ease.form === 'free by hardware'

/** Whether a person can go through at once, by push, pull or hardware. A delay is not at once. */
export function opensAtOnce(passage: Passage, words: string): Check {
  if (isOpen(worst(passage))) return yes
  if (!isOpen(best(passage))) return no(words)
  return unknownPassage(passage)
}

/** Whether the passage is held outright; a delay is not. */
export function isHeld(passage: Passage, words: string): Check {
  if (best(passage).form === 'held') return yes
  if (worst(passage).form !== 'held') return no(words)
  return unknownPassage(passage)
}

/** Whether the passage waits, whatever the seconds. */
export function waits(passage: Passage, words: string): Check {
  const forms = [best(passage).form, worst(passage).form]
  if (forms.every((form) => form === 'waits')) return yes
  return forms.includes('waits') || !asEasyAs(best(passage), worst(passage))
    ? unknownPassage(passage)
    : no(words)
}

export function unknownPassage(passage: Passage): Check {
  const questions = passage.form === 'not known' ? passage.missing : []
  return unknown(...questions.map((question) => ({ about: 'behaviour' as const, question })))
}

export const notWorkedOut = (condition: ConditionName): Check => unknown({ about: 'condition', condition })

/** Whether people get out at once in every result of a condition; not known where it was not worked out. */
export function outOpensIn(
  { conditions }: { readonly conditions: Conditions },
  name: ConditionName,
  words: string,
): Check {
  const results = conditions.get(name)
  if (results === undefined) return notWorkedOut(name)
  let open: Check | null = null
  for (const result of results) {
    const check = opensAtOnce(wayOut(result), words)
    if (check.is === 'no') return check
    if (check.is === 'unknown') open = check
  }
  return open ?? yes
}

/** Whether every leaf is latched in a condition. */
export function latchedIn(view: OpeningView, name: ConditionName, words: (leaf: string) => string): Check {
  const results = view.conditions.get(name)
  if (results === undefined) return notWorkedOut(name)
  return all(...results.map((result) => allLatched(result, words)))
}

type ContactStep = Extract<Reason, { readonly step: 'contact' }>

export const contactSteps = (passage: Passage): readonly ContactStep[] =>
  passage.reasons.filter((reason) => reason.step === 'contact')

/** Whether this device frees the lock by its own contact, not by asking a controller. */
export function breaksItself(result: ConditionResult, deviceId: string, words: string): Check {
  const out = wayOut(result)
  const opens = opensAtOnce(out, words)
  if (opens.is !== 'yes') return opens
  const own = contactSteps(out).find(({ device }) => device.id === deviceId)
  if (own !== undefined && (own.because.why === 'worked' || own.because.why === 'motion')) return yes
  return no(words)
}

/** Whether any fitting declares a hold like this. Not known without fittings, or where one may. */
export function anyHold(
  view: OpeningToJudge,
  is: (hold: Hold) => boolean | 'not known',
  words: string,
): Check {
  if (view.fittings === null) return noFittings
  let open: Check | null = null
  for (const fitting of view.fittings)
    for (const hold of fitting.holds) {
      const found = is(hold)
      if (found === true) return yes
      if (found === 'not known')
        open = unknown({ about: 'trait', fitting: fitting.name, trait: 'when it holds' })
    }
  return open ?? no(words)
}

export const noFittings = unknown({ about: 'fittings' })

/** Whether power is what makes a hold engage or let go. */
export const isElectric = ({ holdsWhile }: Hold): boolean | 'not known' =>
  holdsWhile === 'not known' ? 'not known' : holdsWhile === 'fed' || holdsWhile === 'not fed'

const alarmInOpenHoursKey = conditionKey(alarmInOpenHours)

export function resultOfAlarmInOpenHours(view: OpeningToJudge): ConditionResult | null {
  return (
    view.behaviour.find(
      ({ condition }) => condition.name === 'together' && conditionKey(condition) === alarmInOpenHoursKey,
    ) ?? null
  )
}

/** Whether every leaf of one result is latched. */
export function allLatched({ leaves }: ConditionResult, words: (leaf: string) => string): Check {
  let open: Check | null = null
  for (const { leaf, latched } of leaves) {
    if (latched.form === 'not latched') return no(words(leaf.name))
    if (latched.form === 'not known')
      open = unknown(...latched.missing.map((question) => ({ about: 'behaviour' as const, question })))
  }
  return open ?? yes
}

/** Whether people get in at once in every result of a condition. */
export function inOpensIn(view: OpeningView, name: ConditionName, words: string): Check {
  const results = view.conditions.get(name)
  if (results === undefined) return notWorkedOut(name)
  return all(...results.map((result) => opensAtOnce(result.in, words)))
}

/** How long the way out waits at most; 0 where it does not, null where that is not known or it is held. */
export function secondsOf(result: ConditionResult): number | null {
  const out = wayOut(result)
  if (out.form === 'waits') return out.seconds
  if (out.form !== 'not known') return out.form === 'held' ? null : 0
  return null
}
