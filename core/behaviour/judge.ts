// One doorway in one condition: each leaf, then the doorway, which is as open as its freer leaf.
import { conditionsOf, type Condition } from './conditions.ts'
import { withLeafOpen, worldOf, type Electrics } from './electrics.ts'
import { askAboutElement, Questions } from './missing.ts'
import {
  directions,
  type Direction,
  type Doorway,
  type HoldingElement,
  type Leaf,
  type Question,
} from './model.ts'
import { find, planOf, type Plan } from './plan.ts'
import { explainHoldOpen, missingFor, passageReasons, Steps, thingOf } from './reasons.ts'
import type {
  ConditionResult,
  Ease,
  Latched,
  LeafResult,
  OperatorResult,
  Passage,
  Passages,
  Reason,
  Standing,
} from './results.ts'
import { isTruth, not, both, either, type Truth } from './truth.ts'
import { asEasyAs, easeOf, easiestWay, hindranceOf, keeperOf, momentOf, type Moment } from './ways.ts'

/** Judges a doorway in one condition. Pure; the order of the doorway's lists means nothing. */
export const judge = (doorway: Doorway, condition: Condition): ConditionResult =>
  judgePlanned(planOf(doorway), condition)

/** Judges a doorway in every condition that makes sense for it. */
export function judgeAll(doorway: Doorway): readonly ConditionResult[] {
  const plan = planOf(doorway)
  return conditionsOf(plan.doorway).map((condition) => judgePlanned(plan, condition))
}

/** As `judge`, for a doorway made ready before. */
export function judgePlanned(plan: Plan, condition: Condition): ConditionResult {
  const moment = momentOf(plan, worldOf(condition))
  const leaves = plan.doorway.leaves.map((leaf) => judgeLeaf(plan, moment, condition, leaf))
  return {
    condition,
    in: ofFreerLeaf(leaves, 'in'),
    out: ofFreerLeaf(leaves, 'out'),
    leaves,
    operators: plan.doorway.operators.map((operator) =>
      judgeOperator(plan, moment.rest, operator.id, leaves),
    ),
  }
}

const free: Ease = { form: 'free' }

/** The range of an answer; both ends are the same where it is certain. */
export const rangeOf = (passage: Passage): { readonly atBest: Ease; readonly atWorst: Ease } =>
  passage.form === 'not known' ? passage : { atBest: passage, atWorst: passage }

export const missingIn = (passage: Passage): readonly Question[] =>
  passage.form === 'not known' ? passage.missing : []

function plainEase(ease: Ease): Ease {
  switch (ease.form) {
    case 'free':
    case 'held':
      return { form: ease.form }
    case 'free by hardware':
      return { form: ease.form, by: ease.by }
    case 'waits':
      return { form: ease.form, seconds: ease.seconds, by: ease.by }
  }
}

function passageOf(
  atBest: Ease,
  atWorst: Ease,
  missing: readonly Question[],
  reasons: readonly Reason[],
): Passage {
  if (asEasyAs(atBest, atWorst)) return { ...plainEase(atWorst), reasons }
  return { form: 'not known', atBest: plainEase(atBest), atWorst: plainEase(atWorst), missing, reasons }
}

function judgeLeaf(plan: Plan, moment: Moment, condition: Condition, leaf: Leaf): LeafResult {
  const whenShut = shutPassages(plan, moment, condition, leaf)
  const standing = standingOf(plan, moment.rest, leaf)
  const steps = new Steps()
  explainHoldOpen(plan, moment.rest, leaf, standing, steps)
  const passages =
    standing === 'shut'
      ? { in: withReasons(steps.list, whenShut.in), out: withReasons(steps.list, whenShut.out) }
      : {
          in: standingOpen(plan, moment, leaf, standing, whenShut.in, steps.list),
          out: standingOpen(plan, moment, leaf, standing, whenShut.out, steps.list),
        }
  return {
    leaf: thingOf(leaf),
    standing,
    ...passages,
    whenShut,
    latched: latchedOf(plan, moment.rest, leaf, standing, steps.list),
  }
}

const withReasons = (before: readonly Reason[], passage: Passage): Passage =>
  before.length === 0 ? passage : { ...passage, reasons: [...before, ...passage.reasons] }

function standingOpen(
  plan: Plan,
  moment: Moment,
  leaf: Leaf,
  standing: Standing,
  whenShut: Passage,
  reasons: readonly Reason[],
): Passage {
  if (standing !== 'not known') return { form: 'free', reasons }
  const { atWorst } = rangeOf(whenShut)
  if (asEasyAs(free, atWorst)) return passageOf(free, atWorst, [], [...reasons, ...whenShut.reasons])
  const questions = standingQuestions(plan, moment.rest, leaf)
  const asked = questions.map((question): Reason => ({ step: 'not known', question }))
  return passageOf(
    free,
    atWorst,
    unique([...questions, ...missingIn(whenShut)]),
    unique([...reasons, ...asked, ...whenShut.reasons]),
  )
}

function shutPassages(plan: Plan, moment: Moment, condition: Condition, leaf: Leaf): Passages {
  const passage = (direction: Direction): Passage => {
    const own = ownPassage(plan, moment, condition, leaf, direction)
    if (leaf.role !== 'inactive') return own
    if (leaf.opensAfter.known && leaf.opensAfter.value === null) return own
    return afterAnother(plan, moment, condition, leaf, leaf.opensAfter, direction, own)
  }
  return { in: passage('in'), out: passage('out') }
}

function ownPassage(
  plan: Plan,
  moment: Moment,
  condition: Condition,
  leaf: Leaf,
  direction: Direction,
): Passage {
  const best = easiestWay(moment, leaf, direction, 'best')
  const worst = easiestWay(moment, leaf, direction, 'worst')
  const scene = { plan, moment, condition, leaf, direction }
  const atBest = easeOf(best)
  const atWorst = easeOf(worst)
  const missing = asEasyAs(atBest, atWorst) ? [] : missingFor(scene)
  return passageOf(atBest, atWorst, missing, passageReasons(scene, best, worst))
}

/** A leaf under the edge of another opens only once that one is open: the harder of the two decides. */
function afterAnother(
  plan: Plan,
  moment: Moment,
  condition: Condition,
  leaf: Leaf,
  opensAfter: (Leaf & { role: 'inactive' })['opensAfter'],
  direction: Direction,
  own: Passage,
): Passage {
  const firstLeaves = opensAfter.known
    ? [find(plan.leaves, opensAfter.value ?? '')]
    : plan.doorway.leaves.filter(({ role }) => role === 'active')
  let { atBest, atWorst } = rangeOf(own)
  const missing = [...missingIn(own)]
  const reasons: Reason[] = []
  if (!opensAfter.known) {
    missing.push(opensAfter.question)
    reasons.push({ step: 'not known', question: opensAfter.question })
  }
  for (const first of firstLeaves) {
    const before = ownPassage(plan, moment, condition, first, direction)
    const opened = plan.opensMatter ? momentOf(plan, withLeafOpen(moment.rest.world, first.id)) : moment
    const then = plan.opensMatter ? ownPassage(plan, opened, condition, leaf, direction) : own
    const bestOfBoth = harder(rangeOf(before).atBest, rangeOf(then).atBest)
    const worstOfBoth = harder(rangeOf(before).atWorst, rangeOf(then).atWorst)
    reasons.push({ step: 'opens after', leaf: thingOf(leaf), first: thingOf(first) })
    missing.push(...missingIn(before), ...missingIn(then))
    if (opensAfter.known) {
      atBest = bestOfBoth
      atWorst = worstOfBoth
      reasons.push(...before.reasons, ...then.reasons)
    } else {
      atBest = easier(atBest, bestOfBoth)
      atWorst = harder(atWorst, worstOfBoth)
      reasons.push(...before.reasons, ...own.reasons)
    }
  }
  return passageOf(atBest, atWorst, unique(missing), unique(reasons))
}

const unique = <T>(list: readonly T[]): T[] => [
  ...new Map(list.map((each) => [JSON.stringify(each), each])).values(),
]

/** The harder of two that must both be passed, with the hardware of both. */
function harder(one: Ease, other: Ease): Ease {
  const worse = hindranceOf(other) > hindranceOf(one) ? other : one
  if (worse.form === 'free' || worse.form === 'held') return worse
  const by = [one, other].flatMap((ease) => (ease.form === 'free' || ease.form === 'held' ? [] : ease.by))
  return { ...worse, by: unique(by) }
}

const easier = (one: Ease, other: Ease): Ease => (hindranceOf(other) < hindranceOf(one) ? other : one)

function ofFreerLeaf(leaves: readonly LeafResult[], direction: Direction): Passage {
  const [first] = leaves
  if (first === undefined) throw new Error('a doorway without a leaf')
  if (leaves.length === 1) return first[direction]
  const ranges = leaves.map((each) => rangeOf(each[direction]))
  const atBest = ranges.map((each) => each.atBest).reduce(easier)
  const atWorst = ranges.map((each) => each.atWorst).reduce(easier)
  if (asEasyAs(atBest, atWorst)) {
    const freer = leaves.find((each) => asEasyAs(rangeOf(each[direction]).atWorst, atWorst)) ?? first
    const step: Reason = { step: 'freer leaf', leaf: freer.leaf }
    // Where neither leaf lets through, both say why.
    const reasons =
      atWorst.form === 'held'
        ? unique(leaves.flatMap((each) => each[direction].reasons))
        : [step, ...freer[direction].reasons]
    return passageOf(atWorst, atWorst, [], reasons)
  }
  const missing = unique(leaves.flatMap((each) => missingIn(each[direction])))
  return passageOf(atBest, atWorst, missing, unique(leaves.flatMap((each) => each[direction].reasons)))
}

const holdOpens = (plan: Plan, leaf: Leaf): readonly HoldingElement[] =>
  (plan.elementsOn.get(leaf.id) ?? []).filter(({ grip }) => grip.form === 'holds the leaf open')

const anyEngaged = (elements: readonly HoldingElement[], electrics: Electrics): Truth =>
  elements.reduce<Truth>((truth, element) => either(truth, electrics.isEngaged(element)), 'no')

function standingOf(plan: Plan, electrics: Electrics, leaf: Leaf): Standing {
  const holding = holdOpens(plan, leaf)
  if (holding.length === 0) return 'shut'
  const heldOpen = anyEngaged(holding, electrics)
  if (heldOpen === 'yes') return 'held open'
  if (heldOpen === 'unknown' || !leaf.shutsItself.known) return 'not known'
  return leaf.shutsItself.value ? 'shut' : 'left open'
}

function standingQuestions(plan: Plan, electrics: Electrics, leaf: Leaf): readonly Question[] {
  const questions = new Questions()
  for (const element of holdOpens(plan, leaf)) askAboutElement(plan, electrics, element, questions)
  questions.askOf(leaf.shutsItself)
  return questions.list
}

function latchedOf(
  plan: Plan,
  electrics: Electrics,
  leaf: Leaf,
  standing: Standing,
  before: readonly Reason[],
): Latched {
  if (standing === 'held open' || standing === 'left open') return { form: 'not latched', reasons: before }
  const steps = new Steps()
  for (const reason of before) steps.add(reason)
  const latches = (plan.elementsOn.get(leaf.id) ?? []).filter(({ grip }) => grip.form === 'latches')
  const fellShut = holdOpens(plan, leaf).length > 0
  const truths = latches.map((element) => latchTruth(plan, electrics, element, fellShut))
  const caught = truths.reduce<Truth>(either, 'no')
  const shut: Truth = standing === 'shut' ? 'yes' : 'unknown'
  const latched = both(shut, caught)
  for (const [place, element] of latches.entries()) {
    if (truths[place] === 'yes') steps.add({ step: 'latched by', thing: thingOf(element) })
    if (truths[place] === 'no' && caught !== 'yes') explainUnlatched(plan, electrics, element, steps)
  }
  if (latches.length === 0) steps.add({ step: 'no positive latch', leaf: thingOf(leaf) })
  if (latched === 'yes') return { form: 'latched', reasons: steps.list }
  if (latched === 'no') return { form: 'not latched', reasons: steps.list }
  const questions = new Questions()
  if (shut === 'unknown')
    for (const question of standingQuestions(plan, electrics, leaf)) questions.ask(question)
  for (const element of latches) {
    askAboutElement(plan, electrics, element, questions)
    const keeper = keeperOf(plan, element)
    if (keeper !== null) askAboutElement(plan, electrics, keeper, questions)
    if (fellShut && element.grip.form === 'latches') questions.askOf(element.grip.relatches)
  }
  for (const question of questions.list) steps.add({ step: 'not known', question })
  return { form: 'not known', missing: questions.list, reasons: steps.list }
}

function latchTruth(plan: Plan, electrics: Electrics, element: HoldingElement, fellShut: boolean): Truth {
  if (element.grip.form !== 'latches') return 'no'
  const keeper = keeperOf(plan, element)
  const caught = keeper === null ? 'yes' : electrics.isEngaged(keeper)
  const relatched = fellShut ? isTruth(element.grip.relatches, true) : 'yes'
  return both(both(electrics.isEngaged(element), caught), relatched)
}

function explainUnlatched(plan: Plan, electrics: Electrics, element: HoldingElement, steps: Steps): void {
  const keeper = keeperOf(plan, element)
  const thing = thingOf(element)
  if (electrics.isEngaged(element) === 'no') steps.add({ step: 'not latched', thing })
  else if (keeper !== null && electrics.isEngaged(keeper) === 'no')
    steps.add({ step: 'keeper lets pass', thing, keeper: thingOf(keeper) })
  else steps.add({ step: 'does not relatch', thing })
}

function judgeOperator(
  plan: Plan,
  electrics: Electrics,
  id: string,
  leaves: readonly LeafResult[],
): OperatorResult {
  const operator = plan.doorway.operators.find((each) => each.id === id)
  if (operator === undefined) throw new Error(`no operator ${id}`)
  const thing = thingOf(operator)
  const opening = electrics.isOpening(operator)
  if (opening === 'no') return { operator: thing, does: 'rests' }
  const leaf = leaves.find((each) => each.leaf.id === operator.leaf)
  if (leaf === undefined) throw new Error(`${operator.name} opens leaf ${operator.leaf}, which is not there`)
  // Either way in or out will do: a leaf that nothing holds is free both ways but for a strike, which lets in only.
  const stillHeld = directions.reduce<Truth>(
    (truth, direction) => both(truth, not(isFree(leaf[direction]))),
    'yes',
  )
  if (opening === 'unknown' || stillHeld === 'unknown') return { operator: thing, does: 'not known' }
  return { operator: thing, does: stillHeld === 'yes' ? 'pushes against a lock' : 'opens the leaf' }
}

const isFree = (passage: Passage): Truth =>
  passage.form === 'free'
    ? 'yes'
    : passage.form === 'not known' && passage.atBest.form === 'free'
      ? 'unknown'
      : 'no'

/** The same answer, reasons aside. */
export const isSameAnswer = (one: Passage, other: Passage): boolean =>
  one.form === other.form &&
  asEasyAs(rangeOf(one).atBest, rangeOf(other).atBest) &&
  asEasyAs(rangeOf(one).atWorst, rangeOf(other).atWorst)
