// The sequence of operation, made from the results and from nothing else.
import { behaviourOf, type Behaviour } from './behaviour.ts'
import { conditionKey } from './conditions.ts'
import { isSameAnswer } from './judge.ts'
import type { Doorway } from './model.ts'
import type { ConditionResult, LeafResult, OperatorResult, Reason } from './results.ts'
import { conditionWords, latchedWords, passageWords, questionSentence, reasonSentence } from './sentences.ts'

export interface SequenceLine {
  readonly result: ConditionResult
  readonly sentences: readonly string[]
}

/** What a doorway does, one line per condition: first what happens, then in, out and latch. */
export function sequenceOfOperation(doorway: Doorway): readonly SequenceLine[] {
  return sequenceOf(behaviourOf(doorway))
}

/** As `sequenceOfOperation`, from what was worked out before. A release is told again where a silent controller undoes it. */
export function sequenceOf({ results, whileSilent }: Behaviour): readonly SequenceLine[] {
  const [secured] = results
  if (secured === undefined) return []
  const undone = whileSilent.filter((result) => {
    const parts = result.condition.parts.map(conditionKey)
    const usual = results.find(
      ({ condition }) => condition.name !== 'controller silent' && parts.includes(conditionKey(condition)),
    )
    return usual !== undefined && !isSameAnswer(usual.out, result.out)
  })
  return [...results, ...undone].map((result) => ({ result, sentences: lineOf(result, secured) }))
}

function lineOf(result: ConditionResult, secured: ConditionResult): readonly string[] {
  const opening = conditionWords(result.condition)
  const causes = causesOf(result).map(reasonSentence)
  if (result !== secured && doesSame(result, secured)) return [`${opening} nothing changes.`, ...causes]
  const answers =
    isSameAnswer(result.in, result.out) && result.in.form !== 'free by hardware' && result.in.form !== 'waits'
      ? `in and out are ${passageWords(result.in)}`
      : `in is ${passageWords(result.in)}; out is ${passageWords(result.out)}`
  return [
    `${opening}, ${answers}.`,
    ...causes,
    ...result.leaves.map(leafSentence),
    ...result.operators.flatMap(operatorSentence),
    ...missingSentences(result),
  ]
}

const doesSame = (one: ConditionResult, other: ConditionResult): boolean =>
  isSameAnswer(one.in, other.in) &&
  isSameAnswer(one.out, other.out) &&
  one.leaves.every((leaf, place) => {
    const same = other.leaves[place]
    return same !== undefined && leaf.latched.form === same.latched.form && leaf.standing === same.standing
  }) &&
  one.operators.every((operator, place) => operator.does === other.operators[place]?.does)

/** The steps that say what happens, not what merely is. */
const happens: readonly Reason['step'][] = [
  'contact',
  'supply off',
  'on battery',
  'released at its terminals',
  'lets both go',
  'bypassed',
  'no alarm contact',
  'only asks',
  'not asked',
  'order does not reach',
  'only shunts',
  'only watched',
  'only asks an operator',
  'reaches nothing',
  'shuts',
  'nothing shuts it',
]

function causesOf(result: ConditionResult): readonly Reason[] {
  const found = new Map<string, Reason>()
  const leaves = result.leaves.flatMap((leaf) => [leaf.in, leaf.out])
  for (const { reasons } of [result.in, result.out, ...leaves])
    for (const reason of reasons)
      if (happens.includes(reason.step) && !isMotion(reason)) found.set(JSON.stringify(reason), reason)
  return [...found.values()]
}

/** A motion that would let out is said with the way out, not as something that happened. */
const isMotion = (reason: Reason): boolean => reason.step === 'contact' && reason.because.why === 'motion'

function leafSentence({ leaf, standing, latched }: LeafResult): string {
  if (standing === 'held open') return `The ${leaf.name} stands open.`
  if (standing === 'left open') return `The ${leaf.name} stays open and does not latch.`
  return `The ${leaf.name} is ${latchedWords(latched)}.`
}

function operatorSentence({ operator, does }: OperatorResult): readonly string[] {
  const name = operator.name.charAt(0).toUpperCase() + operator.name.slice(1)
  switch (does) {
    case 'rests':
      return []
    case 'opens the leaf':
      return [`${name} opens the leaf.`]
    case 'pushes against a lock':
      return [`${name} is asked to open a leaf that is still held.`]
    case 'not known':
      return [`Whether ${operator.name} opens the leaf is not known.`]
  }
}

function missingSentences(result: ConditionResult): readonly string[] {
  const found = new Set<string>()
  for (const passage of [result.in, result.out])
    if (passage.form === 'not known')
      for (const question of passage.missing) found.add(questionSentence(question))
  return [...found]
}
