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

/** "Fire alarm: was in free, out free; is in held, out held." Conditions come and go with the devices that bring them about. */
function behaviourConsequences(
  before: readonly ConditionResult[],
  after: readonly ConditionResult[],
): string[] {
  if (before === after || before.length + after.length === 0) return []
  if (before.length === 0) return ['What the doorway does could not be worked out before; now it is.']
  if (after.length === 0) return ['What the doorway does can no longer be worked out.']
  const was = new Map(before.map((each) => [conditionKey(each), each]))
  const is = new Set(after.map(conditionKey))
  return [
    ...after.flatMap((now) => {
      const earlier = was.get(conditionKey(now))
      if (earlier === now) return []
      if (earlier === undefined) return [`${conditionName(now.condition)}: new; is ${wordsOf(now)}.`]
      const [one, other] = [wordsOf(earlier), wordsOf(now)]
      return one === other ? [] : [`${conditionName(now.condition)}: was ${one}; is ${other}.`]
    }),
    ...before
      .filter((each) => !is.has(conditionKey(each)))
      .map((each) => `${conditionName(each.condition)}: no longer there; was ${wordsOf(each)}.`),
  ]
}

const wordsOf = (result: ConditionResult): string =>
  `${passagesOf(result)}, ${result.leaves.map(({ latched }) => latchedWords(latched)).join(' and ')}`

/** Each rule that is broken now or no longer; those that only wait for facts, or no longer do, are counted. */
function cautionConsequences(before: readonly Caution[], after: readonly Caution[]): string[] {
  if (before === after) return []
  const was = new Map(before.map(({ rule, verdict }) => [rule.key, verdict]))
  let waiting = 0
  let settled = 0
  const told = after.flatMap(({ rule, verdict }) => {
    const earlier = was.get(rule.key) ?? 'does not apply'
    if (earlier === verdict) return []
    if (verdict === 'caution' || earlier === 'caution')
      return [`${rule.sentence} Was ${verdictWords[earlier]}; is ${verdictWords[verdict]}.`]
    if (verdict === 'not known') waiting += 1
    if (earlier === 'not known') settled += 1
    return []
  })
  return [
    ...told,
    ...(waiting > 0 ? [`${waiting} more ${waiting === 1 ? 'rule waits' : 'rules wait'} for facts.`] : []),
    ...(settled > 0
      ? [`${settled} ${settled === 1 ? 'rule no longer waits' : 'rules no longer wait'} for facts.`]
      : []),
  ]
}

const verdictWords: Readonly<Record<Caution['verdict'], string>> = {
  met: 'met',
  caution: 'not met',
  'does not apply': 'without weight here',
  'not known': 'not known',
}

function voltConsequences(before: readonly string[], after: readonly string[]): string[] {
  const [was, is] = [new Set(before), new Set(after)]
  return [
    ...after.filter((name) => !was.has(name)).map((name) => `${name} no longer has the volts it works with.`),
    ...before.filter((name) => !is.has(name)).map((name) => `${name} has the volts it works with now.`),
  ]
}
