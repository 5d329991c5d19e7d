// The condition fixes the contacts, the contacts fix the feeds, the feeds fix the elements.
import type { Condition } from './conditions.ts'
import type {
  Cause,
  Contact,
  ContactOf,
  Controller,
  ControllerOutput,
  Device,
  Feed,
  HoldingElement,
  Input,
  Operator,
  Order,
  Path,
  Supply,
} from './model.ts'
import { contactOf, find, outputOf, type Plan } from './plan.ts'
import { both, choose, either, isClosed, isTruth, not, truthOf, whichever, type Truth } from './truth.ts'

/** What is so at one moment: a condition, the hardware in somebody's hand, and the leaves that stand open. */
export interface World {
  readonly openHours: boolean
  readonly alarm: boolean
  readonly mains: 'on' | 'lost' | 'none'
  readonly silent: boolean
  readonly worked: ReadonlySet<string>
  readonly withoutOwnPower: ReadonlySet<string>
  readonly othersOpen: ReadonlySet<string>
  readonly motions: ReadonlySet<string>
  readonly openLeaves: ReadonlySet<string>
}

const none: ReadonlySet<string> = new Set()

export function worldOf(condition: Condition): World {
  const worked = new Set<string>()
  const withoutOwnPower = new Set<string>()
  const othersOpen = new Set<string>()
  let openHours = false
  let alarm = false
  let silent = false
  let mains: World['mains'] = 'on'
  for (const happening of condition.happenings)
    switch (happening.what) {
      case 'open hours':
        openHours = true
        break
      case 'worked':
        worked.add(happening.device)
        break
      case 'fire alarm':
        alarm = true
        break
      case 'mains lost':
        if (mains === 'on') mains = 'lost'
        break
      case 'no power':
        mains = 'none'
        break
      case 'own power lost':
        withoutOwnPower.add(happening.device)
        break
      case 'controller silent':
        silent = true
        break
      case 'other opening open':
        othersOpen.add(happening.opening)
        break
    }
  return {
    openHours,
    alarm,
    mains,
    silent,
    worked,
    withoutOwnPower,
    othersOpen,
    motions: none,
    openLeaves: none,
  }
}

export const withMotions = (world: World, motions: readonly string[]): World => ({
  ...world,
  motions: new Set(motions),
})
export const withLeafOpen = (world: World, leaf: string): World => ({ ...world, openLeaves: new Set([leaf]) })

/** The state of every circuit of a doorway in one world. */
export interface Electrics {
  readonly world: World
  readonly isWorked: (device: Device) => boolean
  readonly hasPower: (device: Device) => Truth
  readonly isClosed: (of: ContactOf) => Truth
  readonly holdsCause: (device: Device, cause: Cause) => Truth
  readonly conducts: (path: Path) => Truth
  readonly isLive: (supply: Supply) => Truth
  readonly feeds: (feed: Feed) => Truth
  readonly acts: (input: Input) => Truth
  readonly isAlive: (controller: Controller) => Truth
  readonly isAsked: (order: Order) => Truth
  readonly isEngaged: (element: HoldingElement) => Truth
  readonly isOpening: (operator: Operator) => Truth
}

/**
 * Solves the circuits. A circuit that feeds back on itself is solved in rounds from "not known" upwards, which is the
 * least that follows from the facts whatever the order; what stays open stays not known.
 */
export function electricsOf(plan: Plan, world: World): Electrics {
  let found = new Map<object, Truth>()
  let before: ReadonlyMap<object, Truth> = new Map()
  const inWork = new Set<object>()
  let looped = false

  const solve = (node: object, work: () => Truth): Truth => {
    const done = found.get(node)
    if (done !== undefined) return done
    if (inWork.has(node)) {
      looped = true
      return before.get(node) ?? 'unknown'
    }
    inWork.add(node)
    const truth = work()
    inWork.delete(node)
    found.set(node, truth)
    return truth
  }

  const isWorked = (device: Device): boolean =>
    world.worked.has(device.id) || (device.workedWith !== null && world.motions.has(device.workedWith))

  const hasPower = (device: Device): Truth => {
    if (!device.needsPower) return 'yes'
    if (world.withoutOwnPower.has(device.id)) return 'no'
    return feeds(device.feed)
  }

  const holdsCause = (device: Device, cause: Cause): Truth => {
    switch (cause.on) {
      case 'worked':
        return truthOf(isWorked(device))
      case 'fire alarm':
        return truthOf(world.alarm)
      case 'mains lost':
        return truthOf(world.mains !== 'on')
      case 'leaf open':
        return truthOf(world.openLeaves.has(cause.leaf))
      case 'other opening open':
        return truthOf(world.othersOpen.has(cause.opening))
      case 'coil fed':
        return feeds(cause.feed)
      case 'ordered':
        return isEnergised(
          find(plan.controllers, cause.controller),
          outputOf(plan, cause.controller, cause.output),
        )
    }
  }

  const closedAsWired = (device: Device, contact: Contact): Truth => {
    let truth: Truth | null = null
    let perhaps: Truth | null = null
    for (const { cause, to } of contact.changes) {
      const holds = holdsCause(device, cause)
      if (holds === 'yes') truth = truth === null ? isClosed(to) : whichever(truth, isClosed(to))
      if (holds === 'unknown') perhaps = perhaps === null ? isClosed(to) : whichever(perhaps, isClosed(to))
    }
    const certain = truth ?? isClosed(contact.atRest)
    const closed = perhaps === null ? certain : whichever(certain, perhaps)
    return choose(isTruth(contact.turnedRound, true), not(closed), closed)
  }

  const isClosedContact = (of: ContactOf): Truth => {
    const contact = contactOf(plan, of)
    return solve(contact, () => {
      const device = find(plan.devices, of.device)
      if (!device.needsPower) return closedAsWired(device, contact)
      const without = device.contacts.find(({ name }) => name === contact.name)?.withoutPower
      const closedWithout = without === undefined ? 'unknown' : isClosed(without)
      return choose(hasPower(device), closedAsWired(device, contact), closedWithout)
    })
  }

  const conducts = (path: Path): Truth => {
    switch (path.form) {
      case 'contact':
        return isClosedContact(path)
      case 'series':
        return path.of.reduce<Truth>((truth, each) => both(truth, conducts(each)), 'yes')
      case 'parallel':
        return path.of.reduce<Truth>((truth, each) => either(truth, conducts(each)), 'no')
      case 'not told':
        return 'unknown'
    }
  }

  const anyActs = (inputs: readonly Input[]): Truth =>
    inputs.reduce<Truth>((truth, each) => either(truth, acts(each)), 'no')

  const acts = ({ of, actsWhen }: Input): Truth => {
    if (!actsWhen.known) return 'unknown'
    if (actsWhen.value === 'never') return 'no'
    return actsWhen.value === 'closed' ? conducts(of) : not(conducts(of))
  }

  const isLive = (supply: Supply): Truth =>
    solve(supply, () => both(hasSource(supply), not(anyActs(supply.cutBy))))

  const hasSource = ({ batterySeconds }: Supply): Truth => {
    if (world.mains === 'on') return 'yes'
    if (world.mains === 'none') return 'no'
    return batterySeconds.known ? truthOf(batterySeconds.value > 0) : 'unknown'
  }

  const feeds = (feed: Feed): Truth =>
    solve(feed, () => {
      const source = feed.from.known
        ? isLive(find(plan.supplies, feed.from.value))
        : world.mains === 'none'
          ? 'no'
          : 'unknown'
      return both(source, conducts(feed.through))
    })

  const isAlive = (controller: Controller): Truth => (world.silent ? 'no' : feeds(controller.feed))

  const isAsked = (order: Order): Truth => {
    switch (order.on) {
      case 'open hours':
        return truthOf(world.openHours)
      case 'worked': {
        const device = find(plan.devices, order.device)
        return both(truthOf(isWorked(device)), hasPower(device))
      }
      case 'input': {
        const closed = isClosedContact(order)
        return choose(isTruth(order.asksWhen, 'closed'), closed, not(closed))
      }
    }
  }

  const isEnergised = (controller: Controller, output: ControllerOutput): Truth =>
    solve(output, () => {
      const releasing = output.orders.reduce<Truth>((truth, each) => either(truth, isAsked(each)), 'no')
      const wanted = choose(isTruth(output.energised, 'to release'), releasing, not(releasing))
      return both(isAlive(controller), wanted)
    })

  const isEngaged = (element: HoldingElement): Truth => {
    const { engaged } = element
    switch (engaged.when) {
      case 'always':
        return 'yes'
      case 'by hand':
        return isTruth(engaged.thrown, true)
      case 'while a leaf is shut':
        return truthOf(!world.openLeaves.has(engaged.leaf))
      case 'by its feed': {
        const fed = feeds(engaged.feed)
        const asked = anyActs(engaged.releasedBy)
        const drawn = both(fed, engaged.releasedBy.length === 0 ? 'yes' : asked)
        return choose(isTruth(engaged.holdsWhile, 'fed'), both(fed, not(asked)), not(drawn))
      }
    }
  }

  const isOpening = (operator: Operator): Truth => {
    const asked = operator.orders.reduce<Truth>((truth, order) => {
      if (order.on !== 'output') return either(truth, isAsked(order))
      const controller = find(plan.controllers, order.controller)
      return either(truth, isEnergised(controller, outputOf(plan, order.controller, order.output)))
    }, 'no')
    return both(both(asked, feeds(operator.feed)), not(anyActs(operator.stoppedBy)))
  }

  const solveAll = (): void => {
    for (const element of plan.doorway.elements) isEngaged(element)
    for (const device of plan.doorway.devices) {
      hasPower(device)
      for (const { name } of device.contacts) isClosedContact({ device: device.id, contact: name })
    }
    for (const operator of plan.doorway.operators) isOpening(operator)
  }

  // Each round settles at least one more thing for good, so there are never more rounds than things.
  for (let round = 0; ; round += 1) {
    solveAll()
    if (!looped || sameTruths(found, before)) break
    if (round > found.size) throw new Error('the circuits of a doorway do not settle')
    before = found
    found = new Map()
    looped = false
  }

  return {
    world,
    isWorked,
    hasPower,
    isClosed: isClosedContact,
    holdsCause,
    conducts,
    isLive,
    feeds,
    acts,
    isAlive,
    isAsked,
    isEngaged,
    isOpening,
  }
}

function sameTruths(one: ReadonlyMap<object, Truth>, other: ReadonlyMap<object, Truth>): boolean {
  for (const [node, truth] of one) if (other.get(node) !== truth) return false
  return true
}
