// What settings that are not as designed change in what a doorway does.
import type { ConditionResult } from '../behaviour/index.ts'
import { conditionWords } from './condition-words.ts'
import { gateOf, gateWords } from './gate.ts'

/** A sentence for each condition that comes out otherwise as it stands than as it was designed. */
export function settingConsequences(
  designed: readonly ConditionResult[],
  standing: readonly ConditionResult[],
): string[] {
  const keyOf = ({ condition }: ConditionResult): string => `${condition.name} ${condition.of?.id ?? ''}`
  const before = new Map(designed.map((each) => [keyOf(each), each]))
  return standing.flatMap((now) => {
    const was = before.get(keyOf(now))
    if (was === undefined) return []
    const [one, other] = [gateWords(gateOf(was, 'no')), gateWords(gateOf(now, 'no'))]
    if (one === other) return []
    const of = now.condition.of === null ? '' : `, ${now.condition.of.name}`
    return [`${conditionWords[now.condition.name]}${of}: designed ${one}; as it stands ${other}.`]
  })
}
