// The elements fix the passages: the easiest way through one leaf, at best and at worst of what is not known.
import { electricsOf, withMotions, type Electrics, type World } from './electrics.ts'
import type { Direction, Fact, Hardware, HoldingElement, Leaf } from './model.ts'
import { find, type Plan } from './plan.ts'
import type { Ease, UsedHardware } from './results.ts'
import { both, type Truth } from './truth.ts'

/** How to take what is not known: as if it let go, or as if it held. */
export type View = 'best' | 'worst'

/** Lower is freer. The seconds of a delay count on from `waits`. */
const hindrance = { free: 0, hardware: 1, waits: 2, held: Infinity } as const

export interface Way {
  readonly hindrance: number
  readonly hardware: readonly Hardware[]
  /** The circuits while that hardware is worked. */
  readonly electrics: Electrics
}

/** All the circuits of one condition that a leaf can need: at rest, and with hardware worked. */
export interface Moment {
  readonly plan: Plan
  readonly rest: Electrics
  readonly whileWorked: (hardware: readonly Hardware[]) => Electrics
}

export function momentOf(plan: Plan, world: World): Moment {
  const rest = electricsOf(plan, world)
  const kept = new Map<string, Electrics>()
  const whileWorked = (hardware: readonly Hardware[]): Electrics => {
    // Only a switch in the hardware makes its motion matter to a circuit.
    const switched = hardware.filter(({ id }) => plan.switchedHardware.has(id)).map(({ id }) => id)
    if (switched.length === 0) return rest
    const key = switched.join('\n')
    const done = kept.get(key) ?? electricsOf(plan, withMotions(world, switched))
    kept.set(key, done)
    return done
  }
  return { plan, rest, whileWorked }
}

const sideOf: Readonly<Record<Direction, Hardware['side']>> = { in: 'keyed', out: 'egress' }

/** What a hand can work on this side. A key is told apart: it is no ordinary motion. */
export const hardwareFor = (plan: Plan, leaf: Leaf, direction: Direction): readonly Hardware[] =>
  plan.doorway.hardware.filter(
    (each) => each.leaf === leaf.id && each.side === sideOf[direction] && each.motion !== 'key',
  )

/** Elements that hold this leaf shut by themselves when engaged. */
export const holdersOn = (plan: Plan, leaf: Leaf): readonly HoldingElement[] =>
  (plan.elementsOn.get(leaf.id) ?? []).filter(
    ({ grip }) => grip.form === 'holds the leaf' || grip.form === 'latches',
  )

export const keeperOf = (plan: Plan, element: HoldingElement): HoldingElement | null =>
  element.grip.form === 'latches' && element.grip.keeper !== null
    ? find(plan.elements, element.grip.keeper)
    : null

export const blockersOf = (plan: Plan, hardware: Hardware): readonly HoldingElement[] =>
  (plan.elementsOn.get(hardware.leaf) ?? []).filter(
    ({ grip }) => grip.form === 'blocks hardware' && grip.hardware.includes(hardware.id),
  )

/** Whether an element holds its leaf against this direction. A strike that lets go lets in only. */
export function holdsAgainst(
  plan: Plan,
  element: HoldingElement,
  direction: Direction,
  electrics: Electrics,
): Truth {
  const engaged = electrics.isEngaged(element)
  const keeper = direction === 'in' ? keeperOf(plan, element) : null
  return keeper === null ? engaged : both(engaged, electrics.isEngaged(keeper))
}

export const inView = (truth: Truth, view: View): boolean =>
  truth === 'yes' || (truth === 'unknown' && view === 'worst')

const secondsInView = (seconds: Fact<number>, view: View): number =>
  seconds.known ? seconds.value : view === 'best' ? 0 : Infinity

/** How long an element keeps this hardware waiting; never, where the hardware starts no delay of it. */
const delayBy = (element: HoldingElement, hardware: readonly Hardware[], view: View): number =>
  element.delay !== null && hardware.some(({ id }) => element.delay?.startedBy.includes(id) === true)
    ? secondsInView(element.delay.seconds, view)
    : Infinity

/** The wait before this hardware works. Judged before it moves: a lever that is blocked works no switch. */
const waitFor = (moment: Moment, hardware: Hardware, view: View): number =>
  blockersOf(moment.plan, hardware)
    .filter((element) => inView(moment.rest.isEngaged(element), view))
    .reduce((wait, element) => Math.max(wait, delayBy(element, [hardware], view)), 0)

function wayWith(
  moment: Moment,
  leaf: Leaf,
  direction: Direction,
  view: View,
  hardware: readonly Hardware[],
): Way {
  const electrics = moment.whileWorked(hardware)
  let wait = hardware.reduce((most, each) => Math.max(most, waitFor(moment, each, view)), 0)
  for (const element of holdersOn(moment.plan, leaf)) {
    if (hardware.some(({ id }) => element.drawnBy.includes(id))) continue
    if (inView(holdsAgainst(moment.plan, element, direction, electrics), view))
      wait = Math.max(wait, delayBy(element, hardware, view))
  }
  const least = hardware.length === 0 ? hindrance.free : hindrance.hardware
  return { hindrance: wait === 0 ? least : hindrance.waits + wait, hardware, electrics }
}

/** The easiest way: nothing, then one motion, then as few as will do. Two motions at once come before a wait. */
export function easiestWay(moment: Moment, leaf: Leaf, direction: Direction, view: View): Way {
  let best = wayWith(moment, leaf, direction, view, [])
  if (best.hindrance === hindrance.free) return best
  for (const hardware of someOf(hardwareFor(moment.plan, leaf, direction))) {
    const way = wayWith(moment, leaf, direction, view, hardware)
    if (way.hindrance < best.hindrance) best = way
    if (best.hindrance === hindrance.hardware) return best
  }
  return best
}

/** Every choice of at least one, the smaller first. A side of a leaf has one, two, rarely three. */
export function someOf<T>(things: readonly T[]): readonly (readonly T[])[] {
  if (things.length < 2) return things.length === 0 ? [] : [things]
  const choices = things.reduce<readonly (readonly T[])[]>(
    (found, each) => [...found, ...found.map((chosen) => [...chosen, each])],
    [[]],
  )
  return choices.filter(({ length }) => length > 0).toSorted((one, other) => one.length - other.length)
}

const usedHardware = (hardware: readonly Hardware[]): UsedHardware[] =>
  hardware.flatMap(({ id, name, motion }) => (motion === 'key' ? [] : [{ id, name, motion }]))

export function easeOf({ hindrance: found, hardware }: Way): Ease {
  if (found === hindrance.free) return { form: 'free' }
  if (found === hindrance.held) return { form: 'held' }
  if (found === hindrance.hardware) return { form: 'free by hardware', by: usedHardware(hardware) }
  return { form: 'waits', seconds: found - hindrance.waits, by: usedHardware(hardware) }
}

/** The number behind an answer, for comparing two: lower is freer. */
export function hindranceOf(ease: Ease): number {
  switch (ease.form) {
    case 'free':
      return hindrance.free
    case 'free by hardware':
      return hindrance.hardware
    case 'waits':
      return hindrance.waits + ease.seconds
    case 'held':
      return hindrance.held
  }
}

export const asEasyAs = (one: Ease, other: Ease): boolean => hindranceOf(one) === hindranceOf(other)
