// A held way out with no accepted arrangement behind it is a person who cannot get out.
import type { ConditionName } from './conditions.ts'
import type { ConditionResult, Passage } from './results.ts'
import type { Truth } from './truth.ts'

/** What the cautions recognised: an arrangement, and the conditions in which it may hold the way out. */
export interface AcceptedArrangement {
  readonly name: string
  readonly mayHoldOutIn: readonly ConditionName[]
}

export interface Trapped {
  readonly result: ConditionResult
  /** `unknown`: the missing facts decide. */
  readonly trapped: Truth
}

/**
 * Marks each condition in which a person cannot get out. A leaf that a magnet holds open counts as shut: somebody may
 * shut it. A delay is no trap here; whether it is allowed is a caution's question.
 */
export function trappedWithout(
  accepted: AcceptedArrangement | null,
  results: readonly ConditionResult[],
): readonly Trapped[] {
  return results.map((result) => ({ result, trapped: isTrapped(accepted, result) }))
}

function isTrapped(accepted: AcceptedArrangement | null, result: ConditionResult): Truth {
  if (accepted?.mayHoldOutIn.includes(result.condition.name) === true) return 'no'
  const out = result.leaves.map((leaf) => isHeld(leaf.whenShut.out))
  if (out.includes('no')) return 'no'
  return out.includes('unknown') ? 'unknown' : 'yes'
}

function isHeld(passage: Passage): Truth {
  if (passage.form !== 'not known') return passage.form === 'held' ? 'yes' : 'no'
  return passage.atWorst.form === 'held' ? 'unknown' : 'no'
}
