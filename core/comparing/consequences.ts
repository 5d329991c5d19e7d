// What follows from a difference: other passages, other verdicts, other volts.
import { latchedWords, type ConditionResult } from '../behaviour/index.ts'
import type { Caution } from '../cautions/index.ts'
import type { WorkedOut } from './compare-jobs.ts'
import { conditionName, passagesOf } from './words.ts'

export const consequencesOf = (before: WorkedOut, after: WorkedOut): readonly string[] => [
  ...behaviourConsequences(before.results, after.results),
  ...cautionConsequences(before.cautions, after.cautions),
  ...voltConsequences(before.lowDevices, after.lowDevices),
]

const conditionKey = ({ condition }: ConditionResult): string => `${condition.name} ${condition.of?.id ?? ''}`

/** "Fire alarm: was in free, out free; is in held, out held." */
function behaviourConsequences(
  before: readonly ConditionResult[],
  after: readonly ConditionResult[],
): string[] {
  if (before === after) return []
  const was = new Map(before.map((each) => [conditionKey(each), each]))
  return after.flatMap((now) => {
    const earlier = was.get(conditionKey(now))
    if (earlier === undefined || earlier === now) return []
    const [one, other] = [wordsOf(earlier), wordsOf(now)]
    return one === other ? [] : [`${conditionName(now.condition)}: was ${one}; is ${other}.`]
  })
}

const wordsOf = (result: ConditionResult): string =>
  `${passagesOf(result)}, ${result.leaves.map(({ latched }) => latchedWords(latched)).join(' and ')}`

function cautionConsequences(before: readonly Caution[], after: readonly Caution[]): string[] {
  if (before === after) return []
  const keyOf = ({ rule }: Caution): string => rule.key
  const was = new Map(before.map((each) => [keyOf(each), each.verdict]))
  return after.flatMap(({ rule, verdict }) => {
    const earlier = was.get(rule.key) ?? 'does not apply'
    return earlier === verdict ? [] : [`${rule.sentence} Was ${earlier}; is ${verdict}.`]
  })
}

function voltConsequences(before: readonly string[], after: readonly string[]): string[] {
  const [was, is] = [new Set(before), new Set(after)]
  return [
    ...after.filter((name) => !was.has(name)).map((name) => `${name} no longer has the volts it works with.`),
    ...before.filter((name) => !is.has(name)).map((name) => `${name} has the volts it works with now.`),
  ]
}
