// All of a doorway's behaviour, worked out once for every doorway that is arranged alike.
import { canonical } from './canonical.ts'
import { alarmInOpenHours, conditionsOf, releasesWhileSilent } from './conditions.ts'
import { judgePlanned } from './judge.ts'
import type { Doorway } from './model.ts'
import { planOf } from './plan.ts'
import type { ConditionResult } from './results.ts'

export interface Behaviour {
  readonly doorway: Doorway
  readonly results: readonly ConditionResult[]
  /** Each exit device and manual release worked while the controller is silent. */
  readonly whileSilent: readonly ConditionResult[]
  /** What the cautions judge: the results, and the alarm in open hours. */
  readonly forCautions: readonly ConditionResult[]
}

/** A key that two doorways share exactly when they are the same but for the order of their lists. */
export const structuralKey = (doorway: Doorway): string => JSON.stringify(canonical(doorway))

export function behaviourOf(doorway: Doorway): Behaviour {
  const plan = planOf(doorway)
  const results = conditionsOf(plan.doorway).map((condition) => judgePlanned(plan, condition))
  return {
    doorway: plan.doorway,
    results,
    forCautions: [...results, judgePlanned(plan, alarmInOpenHours)],
    whileSilent: releasesWhileSilent(plan.doorway).map((condition) => judgePlanned(plan, condition)),
  }
}

/**
 * Keeps what was worked out. The same doorway value is found at once; another value that is arranged alike is found by
 * its structural key. Results are plain data: they may be shared, never changed.
 */
export function behaviourMemo(): (doorway: Doorway) => Behaviour {
  const byValue = new WeakMap<Doorway, Behaviour>()
  const byKey = new Map<string, Behaviour>()
  return (doorway) => {
    const same = byValue.get(doorway)
    if (same !== undefined) return same
    const key = structuralKey(doorway)
    const behaviour = byKey.get(key) ?? behaviourOf(doorway)
    byKey.set(key, behaviour)
    byValue.set(doorway, behaviour)
    return behaviour
  }
}
