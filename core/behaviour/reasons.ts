// Why a passage is as it is: the chain from what happens, over contacts and feeds, to what holds or lets go.
import type { Electrics } from './electrics.ts'
import type {
  Contact,
  ContactOf,
  Device,
  Direction,
  Fact,
  Feed,
  Hardware,
  HoldingElement,
  Lasting,
  Leaf,
  Path,
  Thing,
} from './model.ts'
import { askAboutElement, Questions } from './missing.ts'
import { contactOf, find, outputOf, type Plan, type Reach } from './plan.ts'
import type { Because, HowLong, OrderedBy, Reason, Standing, UsedHardware } from './results.ts'
import {
  blockersOf,
  hardwareFor,
  holdersOn,
  holdsAgainst,
  inView,
  keeperOf,
  someOf,
  type Moment,
  type Way,
} from './ways.ts'
import type { Condition } from './conditions.ts'

export const thingOf = ({ id, name }: Thing): Thing => ({ id, name })

/** Reasons in order, each once. */
export class Steps {
  readonly #found: Reason[] = []

  add(reason: Reason): void {
    const alike = this.#found.filter(({ step }) => step === reason.step)
    // Most steps come once; only those that do not are worth comparing in full.
    if (alike.length > 0) {
      const text = JSON.stringify(reason)
      if (alike.some((each) => JSON.stringify(each) === text)) return
    }
    this.#found.push(reason)
  }

  get list(): readonly Reason[] {
    return this.#found
  }
}

interface Scene {
  readonly plan: Plan
  readonly moment: Moment
  readonly condition: Condition
  readonly leaf: Leaf
  readonly direction: Direction
}

/** The reasons for one passage through a leaf that stands shut, given its easiest way at best and at worst. */
export function passageReasons(scene: Scene, best: Way, worst: Way): readonly Reason[] {
  const steps = new Steps()
  if (best.hindrance !== worst.hindrance) explainDoubt(scene, steps)
  else if (worst.hindrance === Infinity) explainHeld(scene, steps)
  else explainLetThrough(scene, worst, steps)
  explainBystanders(scene, steps)
  return steps.list
}

function explainLetThrough(scene: Scene, way: Way, steps: Steps): void {
  const { plan, moment, leaf, direction } = scene
  const holders = holdersOn(plan, leaf)
  if (way.hindrance > 1) explainArmed(scene, steps)
  if (holders.length === 0) steps.add({ step: 'nothing holds', leaf: thingOf(leaf), direction })
  for (const element of holders) {
    const drawing = way.hardware.find(({ id }) => element.drawnBy.includes(id))
    const holdsNow = holdsAgainst(plan, element, direction, way.electrics) !== 'no'
    // The motion itself may make an element engage that it draws; then it is drawn all the same.
    const isDrawn = holdsNow || holdsAgainst(plan, element, direction, moment.rest) !== 'no'
    if (drawing !== undefined && isDrawn)
      steps.add({ step: 'drawn', thing: thingOf(element), hardware: used(drawing) })
    else if (holdsNow) addDelay(element, way.hardware, steps)
    else explainLetGo(scene, element, way.electrics, steps)
  }
  for (const hardware of way.hardware) {
    for (const blocker of blockersOf(plan, hardware)) {
      if (moment.rest.isEngaged(blocker) === 'no') explainRelease(scene, blocker, moment.rest, steps)
      else addDelay(blocker, [hardware], steps)
    }
  }
  if (way.hardware.length > 1) steps.add({ step: 'motions', count: way.hardware.length })
}

/** Why a delay is armed: what feeds it, and what happens without taking it off. */
function explainArmed(scene: Scene, steps: Steps): void {
  for (const element of relevantElements(scene)) {
    if (element.delay !== null && scene.moment.rest.isEngaged(element) === 'yes')
      explainEngaged(scene, element, steps)
  }
}

function addDelay(element: HoldingElement, hardware: readonly Hardware[], steps: Steps): void {
  const starting = hardware.find(({ id }) => element.delay?.startedBy.includes(id))
  if (starting === undefined || element.delay === null || !element.delay.seconds.known) return
  steps.add({
    step: 'waits',
    thing: thingOf(element),
    hardware: used(starting),
    seconds: element.delay.seconds.value,
  })
}

/** Why an element that could hold this way does not: where it may be engaged, it is its keeper that lets go. */
function explainLetGo(scene: Scene, element: HoldingElement, electrics: Electrics, steps: Steps): void {
  const keeper = keeperOf(scene.plan, element)
  if (electrics.isEngaged(element) !== 'no' && keeper !== null) {
    explainRelease(scene, keeper, electrics, steps)
    steps.add({ step: 'keeper lets pass', thing: thingOf(element), keeper: thingOf(keeper) })
    return
  }
  explainRelease(scene, element, electrics, steps)
  const asked = scene.condition.happenings.some(({ what }) => what === 'worked' || what === 'open hours')
  const byAsking = asked && electrics === scene.moment.rest
  if (element.grip.form === 'holds the leaf' && byAsking)
    steps.add({ step: 'lets both go', thing: thingOf(element) })
}

function explainRelease(scene: Scene, element: HoldingElement, electrics: Electrics, steps: Steps): void {
  const { engaged } = element
  const thing = thingOf(element)
  switch (engaged.when) {
    case 'always':
      return
    case 'by hand':
    case 'while a leaf is shut':
      steps.add({ step: 'withdrawn', thing, how: engaged.when })
      return
    case 'by its feed': {
      const acting = engaged.releasedBy.filter((input) => electrics.acts(input) === 'yes')
      const fed = electrics.feeds(engaged.feed)
      if (fed === 'no') {
        explainNoFeed(scene, engaged.feed, thing, electrics, steps)
        steps.add({ step: 'not fed and lets go', thing, grip: element.grip.form })
        return
      }
      for (const input of acting) {
        explainPath(scene, input.of, thing, electrics, steps, null)
        steps.add({ step: 'released at its terminals', thing, input: input.name })
      }
      if (acting.length > 0) return
      const supply = supplyOf(scene.plan, engaged.feed)
      explainPath(scene, engaged.feed.through, thing, electrics, steps, 'closed')
      explainBattery(scene, engaged.feed, electrics, steps)
      if (supply !== null) steps.add({ step: 'fed and lets go', thing, supply, grip: element.grip.form })
    }
  }
}

function explainHeld(scene: Scene, steps: Steps): void {
  const { plan, moment, leaf, direction } = scene
  const usable = hardwareFor(plan, leaf, direction).filter((hardware) =>
    blockersOf(plan, hardware).every((each) => moment.rest.isEngaged(each) === 'no'),
  )
  const electrics = moment.whileWorked(usable)
  for (const element of holdersOn(plan, leaf)) {
    if (usable.some(({ id }) => element.drawnBy.includes(id))) continue
    if (holdsAgainst(plan, element, direction, electrics) !== 'yes') continue
    explainHold(scene, element, steps)
  }
}

/** Why an element holds: its own grip, the keeper that catches it, and what keeps its hardware from working. */
function explainHold(scene: Scene, element: HoldingElement, steps: Steps): void {
  const { plan, moment, leaf, direction } = scene
  explainEngaged(scene, element, steps)
  const keeper = direction === 'in' ? keeperOf(plan, element) : null
  if (keeper !== null) {
    explainEngaged(scene, keeper, steps)
    steps.add({ step: 'caught', thing: thingOf(element), keeper: thingOf(keeper) })
  }
  if (direction === 'out') {
    const otherKeeper = keeperOf(plan, element)
    if (otherKeeper !== null && moment.rest.isEngaged(otherKeeper) === 'no')
      steps.add({ step: 'keeper lets in only', keeper: thingOf(otherKeeper) })
  }
  const drawing = hardwareFor(plan, leaf, direction).filter(({ id }) => element.drawnBy.includes(id))
  for (const hardware of drawing)
    for (const blocker of blockersOf(plan, hardware))
      if (moment.rest.isEngaged(blocker) !== 'no') explainEngaged(scene, blocker, steps)
  const keyed = plan.doorway.hardware.some(
    ({ id, motion, side }) =>
      motion === 'key' && element.drawnBy.includes(id) && side === (direction === 'in' ? 'keyed' : 'egress'),
  )
  if (drawing.length === 0 && keyed) steps.add({ step: 'key only', thing: thingOf(element) })
}

function explainEngaged(scene: Scene, element: HoldingElement, steps: Steps): void {
  const { engaged } = element
  const { rest } = scene.moment
  const thing = thingOf(element)
  if (engaged.when !== 'by its feed') {
    steps.add({ step: 'thrown', thing, how: engaged.when })
    return
  }
  explainHelpless(scene, element, steps)
  if (rest.feeds(engaged.feed) !== 'yes') {
    steps.add({ step: 'not fed and holds', thing })
    return
  }
  const supply = supplyOf(scene.plan, engaged.feed)
  explainBypassed(scene, engaged.feed.through, thing, steps)
  explainPath(scene, engaged.feed.through, thing, rest, steps, 'closed')
  explainBattery(scene, engaged.feed, rest, steps)
  if (supply !== null) steps.add({ step: 'fed and holds', thing, supply, grip: element.grip.form })
}

/** Contacts that something has opened in a feed that stays made all the same. */
function explainBypassed({ plan, moment }: Scene, path: Path, thing: Thing, steps: Steps): void {
  for (const of of contactsIn(path)) {
    if (moment.rest.isClosed(of) !== 'no' || becauseOf(plan, of, moment.rest).why === 'at rest') continue
    steps.add({ step: 'bypassed', thing, device: thingOf(find(plan.devices, of.device)) })
  }
}

/** What happens in the condition and yet does not make this element let go. */
function explainHelpless(scene: Scene, element: HoldingElement, steps: Steps): void {
  const { plan, condition, moment } = scene
  const thing = thingOf(element)
  const reach = find(plan.reach, element.id)
  let tried = false
  for (const happening of condition.happenings) {
    switch (happening.what) {
      case 'fire alarm':
        tried = true
        if (!reach.alarm) explainNoAlarm(scene, thing, reach, steps)
        break
      case 'worked':
        tried = true
        explainWorkedInVain(scene, element, reach, happening.device, steps)
        break
      case 'open hours':
        tried = true
        if (!reach.openHours) steps.add({ step: 'order does not reach', device: null, thing })
        break
      case 'own power lost':
        explainContactsOf(scene, element, happening.device, steps)
        break
      case 'mains lost':
      case 'no power':
      case 'controller silent':
      case 'other opening open':
        break
    }
  }
  if (!tried && condition.happenings.length === 0 && moment.rest.isEngaged(element) === 'yes')
    steps.add({ step: 'nothing asks', thing })
}

/** An alarm relay may ask a controller instead of opening the feed; else nothing of the alarm gets here. */
function explainNoAlarm({ plan, moment }: Scene, thing: Thing, reach: Reach, steps: Steps): void {
  let asks = false
  for (const [id, controllers] of reach.byAsking) {
    const device = find(plan.devices, id)
    if (!device.contacts.some(({ changes }) => changes.some(({ cause }) => cause.on === 'fire alarm')))
      continue
    asks = true
    for (const each of controllers) {
      const controller = find(plan.controllers, each)
      if (moment.rest.isAlive(controller) === 'no')
        steps.add({ step: 'only asks', device: thingOf(device), controller: thingOf(controller) })
    }
  }
  if (!asks) steps.add({ step: 'no alarm contact', thing })
}

function explainWorkedInVain(
  scene: Scene,
  element: HoldingElement,
  reach: Reach,
  id: string,
  steps: Steps,
): void {
  const { plan, moment } = scene
  const device = find(plan.devices, id)
  if (reach.byWire.has(id)) explainContactsOf(scene, element, id, steps)
  const controllers = [...(reach.byAsking.get(id) ?? [])].map((each) => find(plan.controllers, each))
  for (const controller of controllers) {
    const alive = moment.rest.isAlive(controller)
    if (alive === 'no')
      steps.add({ step: 'only asks', device: thingOf(device), controller: thingOf(controller) })
    else if (!ordersFrom(plan, moment.rest, id))
      steps.add({ step: 'not asked', device: thingOf(device), controller: thingOf(controller) })
  }
  const asksSomewhere = plan.doorway.controllers.some(({ outputs }) =>
    outputs.some(({ orders }) => orders.some((order) => order.on !== 'open hours' && order.device === id)),
  )
  if (controllers.length === 0 && asksSomewhere)
    steps.add({ step: 'order does not reach', device: thingOf(device), thing: thingOf(element) })
}

const ordersFrom = (plan: Plan, electrics: Electrics, device: string): boolean =>
  plan.doorway.controllers.some(({ outputs }) =>
    outputs.some(({ orders }) =>
      orders.some(
        (order) => order.on !== 'open hours' && order.device === device && electrics.isAsked(order) === 'yes',
      ),
    ),
  )

/** The contacts of one device that lie in an element's feed, as they stand. */
function explainContactsOf(scene: Scene, element: HoldingElement, id: string, steps: Steps): void {
  const { engaged } = element
  if (engaged.when !== 'by its feed') return
  for (const of of contactsIn(engaged.feed.through))
    if (of.device === id && scene.moment.rest.isClosed(of) !== 'no')
      addContact(scene, of, thingOf(element), scene.moment.rest, steps)
}

export function contactsIn(path: Path): readonly ContactOf[] {
  if (path.form === 'contact') return [path]
  return path.form === 'not told' ? [] : path.of.flatMap(contactsIn)
}

/** What is worked but reaches nothing that holds: it tells, shunts or watches, and changes no passage. */
function explainBystanders(scene: Scene, steps: Steps): void {
  const { plan, condition } = scene
  for (const happening of condition.happenings) {
    if (happening.what !== 'worked') continue
    const device = find(plan.devices, happening.device)
    const reaches = [...plan.reach.values()].some(
      ({ byWire, byAsking }) => byWire.has(device.id) || byAsking.has(device.id),
    )
    if (reaches) continue
    if (steps.list.some((each) => each.step === 'order does not reach' && each.device?.id === device.id))
      continue
    const asksOperator = plan.doorway.operators.some(({ orders }) =>
      orders.some((order) => 'device' in order && order.device === device.id),
    )
    const watch = plan.doorway.watches.filter((each) => each.device === device.id)
    if (asksOperator) steps.add({ step: 'only asks an operator', device: thingOf(device) })
    else if (watch.some(({ does }) => does === 'shunts the forced-door alarm'))
      steps.add({ step: 'only shunts', device: thingOf(device) })
    else if (watch.length > 0) steps.add({ step: 'only watched', device: thingOf(device) })
    else steps.add({ step: 'reaches nothing', device: thingOf(device) })
  }
}

function explainDoubt(scene: Scene, steps: Steps): void {
  for (const element of relevantElements(scene)) {
    if (scene.moment.rest.isEngaged(element) !== 'yes' || element.engaged.when === 'always') continue
    if (element.grip.form !== 'blocks hardware') explainEngaged(scene, element, steps)
  }
  for (const question of missingFor(scene)) steps.add({ step: 'not known', question })
}

/** Every element that can matter to this passage: holders, their keepers, and what blocks the hardware of this side. */
function relevantElements({ plan, leaf, direction }: Scene): readonly HoldingElement[] {
  const holders = holdersOn(plan, leaf)
  const keepers = direction === 'in' ? holders.flatMap((each) => keeperOf(plan, each) ?? []) : []
  const blockers = hardwareFor(plan, leaf, direction).flatMap((each) => blockersOf(plan, each))
  return [...new Set([...holders, ...keepers, ...blockers])]
}

/** The facts that would settle this passage. */
export function missingFor(scene: Scene) {
  const questions = new Questions()
  const { plan, moment, leaf, direction } = scene
  const choices = someOf(hardwareFor(plan, leaf, direction))
  const moments = new Set([moment.rest, ...choices.map((hardware) => moment.whileWorked(hardware))])
  for (const element of relevantElements(scene)) {
    for (const electrics of moments) {
      askAboutElement(plan, electrics, element, questions)
      if (element.delay !== null && inView(electrics.isEngaged(element), 'worst'))
        questions.askOf(element.delay.seconds)
    }
  }
  return questions.list
}

export function supplyOf(plan: Plan, feed: Feed): Thing | null {
  return feed.from.known ? thingOf(find(plan.supplies, feed.from.value)) : null
}

export function explainNoFeed(
  scene: Pick<Scene, 'plan'>,
  feed: Feed,
  thing: Thing,
  electrics: Electrics,
  steps: Steps,
): void {
  const { plan } = scene
  if (electrics.conducts(feed.through) === 'no')
    explainPath(scene, feed.through, thing, electrics, steps, 'open')
  if (!feed.from.known) return
  const supply = find(plan.supplies, feed.from.value)
  if (electrics.isLive(supply) !== 'no') return
  const cut = supply.cutBy.filter((input) => electrics.acts(input) === 'yes')
  for (const input of cut) explainPath(scene, input.of, thing, electrics, steps, null)
  const noSource = electrics.world.mains === 'none' ? 'no power' : 'mains lost, no battery'
  steps.add({
    step: 'supply off',
    thing,
    supply: thingOf(supply),
    because: cut.length > 0 ? 'taken off at its terminals' : noSource,
  })
}

function explainBattery(scene: Pick<Scene, 'plan'>, feed: Feed, electrics: Electrics, steps: Steps): void {
  if (electrics.world.mains !== 'lost' || !feed.from.known) return
  const supply = find(scene.plan.supplies, feed.from.value)
  if (supply.batterySeconds.known && supply.batterySeconds.value > 0)
    steps.add({ step: 'on battery', supply: thingOf(supply), seconds: supply.batterySeconds.value })
}

/** The contacts that decide a path: those open in a broken one, and those that have changed in a whole one. */
function explainPath(
  scene: Pick<Scene, 'plan'>,
  path: Path,
  thing: Thing,
  electrics: Electrics,
  steps: Steps,
  state: 'open' | 'closed' | null,
): void {
  if (path.form === 'parallel' && path.of.length === 0) steps.add({ step: 'path has a gap', thing })
  for (const of of contactsIn(path)) {
    const closed = electrics.isClosed(of)
    const isChanged = becauseOf(scene.plan, of, electrics).why !== 'at rest'
    const decides = state === 'open' ? closed === 'no' : isChanged && (state === null || closed === 'yes')
    if (decides) addContact(scene, of, thing, electrics, steps)
  }
}

function addContact(
  { plan }: Pick<Scene, 'plan'>,
  of: ContactOf,
  thing: Thing,
  electrics: Electrics,
  steps: Steps,
): void {
  const closed = electrics.isClosed(of)
  if (closed === 'unknown') return
  steps.add({
    step: 'contact',
    thing,
    device: thingOf(find(plan.devices, of.device)),
    contact: of.contact,
    state: closed === 'yes' ? 'closed' : 'open',
    because: becauseOf(plan, of, electrics),
    howLong: howLongOf(plan, of, electrics),
  })
}

/** Why a leaf stands open, or that it shut. Says nothing where nothing holds it open. */
export function explainHoldOpen(
  plan: Plan,
  electrics: Electrics,
  leaf: Leaf,
  standing: Standing,
  steps: Steps,
): void {
  const elements = (plan.elementsOn.get(leaf.id) ?? []).filter(
    ({ grip }) => grip.form === 'holds the leaf open',
  )
  for (const element of elements) {
    const { engaged } = element
    const truth = electrics.isEngaged(element)
    if (truth === 'no' && engaged.when === 'by its feed' && electrics.feeds(engaged.feed) === 'no') {
      explainNoFeed({ plan }, engaged.feed, thingOf(element), electrics, steps)
      steps.add({ step: 'not fed and lets go', thing: thingOf(element), grip: element.grip.form })
    }
    if (truth !== 'yes') continue
    if (engaged.when === 'by its feed') explainBattery({ plan }, engaged.feed, electrics, steps)
    if (electrics.world.alarm && !find(plan.reach, element.id).alarm)
      steps.add({ step: 'no alarm contact', thing: thingOf(element) })
    steps.add({ step: 'held open', leaf: thingOf(leaf), thing: thingOf(element) })
  }
  if (elements.length > 0 && standing === 'shut') steps.add({ step: 'shuts', leaf: thingOf(leaf) })
  if (standing === 'left open') steps.add({ step: 'nothing shuts it', leaf: thingOf(leaf) })
}

const originOf = <T>(fact: Fact<T>): string | null => (fact.known ? fact.origin : null)

function changesNow(device: Device, contact: Contact, electrics: Electrics) {
  return contact.changes.filter(({ cause }) => electrics.holdsCause(device, cause) === 'yes')
}

function becauseOf(plan: Plan, of: ContactOf, electrics: Electrics): Because {
  const device = find(plan.devices, of.device)
  const contact = contactOf(plan, of)
  if (device.needsPower && electrics.hasPower(device) === 'no') {
    const found = device.contacts.find(({ name }) => name === of.contact)
    return { why: 'no power of its own', setting: found === undefined ? null : originOf(found.withoutPower) }
  }
  const now = changesNow(device, contact, electrics)[0]
  if (now === undefined) return silenceOf(plan, contact, electrics)
  const { cause } = now
  switch (cause.on) {
    case 'worked': {
      const hardware = device.workedWith === null ? undefined : plan.hardware.get(device.workedWith)
      if (hardware !== undefined && electrics.world.motions.has(hardware.id))
        return { why: 'motion', hardware: thingOf(hardware) }
      return { why: 'worked', as: device.workedAs }
    }
    case 'other opening open':
      return { why: 'other opening open', opening: cause.opening }
    case 'ordered':
      return { why: 'ordered', by: ordersNow(plan, cause.controller, cause.output, electrics) }
    case 'fire alarm':
    case 'mains lost':
    case 'leaf open':
    case 'coil fed':
      return { why: cause.on }
  }
}

/** A relay that rests because its controller is silent is worth saying; one that rests anyway is not. */
function silenceOf(plan: Plan, contact: Contact, electrics: Electrics): Because {
  for (const { cause } of contact.changes) {
    if (cause.on !== 'ordered') continue
    const controller = find(plan.controllers, cause.controller)
    const { energised } = outputOf(plan, cause.controller, cause.output)
    const heldIn = energised.known && energised.value === 'while secured'
    if (heldIn && electrics.isAlive(controller) === 'no')
      return { why: 'controller silent', controller: thingOf(controller) }
    if (heldIn) return { why: 'ordered', by: ordersNow(plan, cause.controller, cause.output, electrics) }
  }
  return { why: 'at rest' }
}

function ordersNow(
  plan: Plan,
  controller: string,
  output: string,
  electrics: Electrics,
): readonly OrderedBy[] {
  const found: OrderedBy[] = []
  for (const order of outputOf(plan, controller, output).orders) {
    if (electrics.isAsked(order) !== 'yes') continue
    if (order.on === 'open hours') found.push({ order: 'open hours' })
    else {
      const device = find(plan.devices, order.device)
      found.push({ order: 'device', device: thingOf(device), as: device.workedAs })
    }
  }
  return found
}

function howLongOf(plan: Plan, of: ContactOf, electrics: Electrics): HowLong {
  const device = find(plan.devices, of.device)
  if (device.needsPower && electrics.hasPower(device) === 'no') return null
  const now = changesNow(device, contactOf(plan, of), electrics)[0]
  if (now === undefined) return null
  if (now.cause.on === 'ordered') {
    const { releaseSeconds, orders } = outputOf(plan, now.cause.controller, now.cause.output)
    const heldByHours = orders.some(
      (order) => order.on === 'open hours' && electrics.isAsked(order) === 'yes',
    )
    return heldByHours || !releaseSeconds.known ? null : { seconds: releaseSeconds.value }
  }
  return howLong(now.lasting)
}

function howLong(lasting: Lasting): HowLong {
  switch (lasting.form) {
    case 'as long as its cause':
      return null
    case 'until reset':
      return 'until reset'
    case 'seconds':
      return lasting.seconds.known ? { seconds: lasting.seconds.value } : null
  }
}

function used({ id, name, motion }: Hardware): UsedHardware {
  if (motion === 'key') throw new Error(`${name} is worked by key, which is no ordinary motion`)
  return { id, name, motion }
}
