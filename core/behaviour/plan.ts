// A doorway made ready to be judged many times: looked-up things, and what reaches each element.
import { canonical } from './canonical.ts'
import type {
  Contact,
  ContactOf,
  Controller,
  ControllerOutput,
  Device,
  Doorway,
  Feed,
  Hardware,
  HoldingElement,
  Leaf,
  Path,
  Supply,
  Thing,
} from './model.ts'

/** What can change whether an element is engaged, by wire or through a controller. */
export interface Reach {
  /** Devices with a contact in the feed, in what feeds that, or at the lock's own terminals. */
  readonly byWire: ReadonlySet<string>
  /** Devices that a controller hears, with the controllers whose relay reaches the element. */
  readonly byAsking: ReadonlyMap<string, ReadonlySet<string>>
  readonly alarm: boolean
  readonly openHours: boolean
  readonly controllers: ReadonlySet<string>
}

export interface Plan {
  readonly doorway: Doorway
  readonly leaves: ReadonlyMap<string, Leaf>
  readonly hardware: ReadonlyMap<string, Hardware>
  readonly elements: ReadonlyMap<string, HoldingElement>
  readonly devices: ReadonlyMap<string, Device>
  readonly contacts: ReadonlyMap<string, ReadonlyMap<string, Contact>>
  readonly controllers: ReadonlyMap<string, Controller>
  readonly supplies: ReadonlyMap<string, Supply>
  readonly reach: ReadonlyMap<string, Reach>
  readonly elementsOn: ReadonlyMap<string, readonly HoldingElement[]>
  /** Hardware whose motion works a switch: the only motions that change a circuit. */
  readonly switchedHardware: ReadonlySet<string>
  /** Whether an open leaf changes a circuit or an automatic bolt. */
  readonly opensMatter: boolean
}

/** Looks up what a doorway refers to. Throws where it refers to nothing: whoever built the doorway made a mistake. */
export function find<T>(things: ReadonlyMap<string, T>, id: string): T {
  const found = things.get(id)
  if (found === undefined) throw new Error(`the doorway refers to ${id}, which it does not have`)
  return found
}

export const contactOf = (plan: Plan, { device, contact }: ContactOf): Contact =>
  find(find(plan.contacts, device), contact)

export const outputOf = (plan: Plan, controller: string, output: string): ControllerOutput => {
  const found = find(plan.controllers, controller).outputs.find(({ id }) => id === output)
  if (found === undefined) throw new Error(`controller ${controller} has no output ${output}`)
  return found
}

const mapById = <T extends Thing>(list: readonly T[]): Map<string, T> => {
  const map = new Map(list.map((each) => [each.id, each]))
  if (map.size !== list.length) throw new Error('two things of one doorway have the same key')
  return map
}

/** Makes a doorway ready. Throws where it refers to something that it does not have. */
export function planOf(given: Doorway): Plan {
  const doorway = canonical(given)
  const devices = mapById(doorway.devices)
  const plan = {
    doorway,
    leaves: mapById(doorway.leaves),
    hardware: mapById(doorway.hardware),
    elements: mapById(doorway.elements),
    devices,
    contacts: new Map(
      doorway.devices.map((device) => [
        device.id,
        new Map<string, Contact>(device.contacts.map((contact) => [contact.name, contact])),
      ]),
    ),
    controllers: mapById(doorway.controllers),
    supplies: mapById(doorway.supplies),
    reach: new Map<string, Reach>(),
    elementsOn: new Map(
      doorway.leaves.map((leaf) => [leaf.id, doorway.elements.filter((element) => element.leaf === leaf.id)]),
    ),
    switchedHardware: new Set(
      doorway.devices.flatMap(({ workedWith }) => (workedWith === null ? [] : [workedWith])),
    ),
    opensMatter:
      doorway.elements.some(({ engaged }) => engaged.when === 'while a leaf is shut') ||
      doorway.devices.some(({ contacts }) =>
        contacts.some(({ changes }) => changes.some(({ cause }) => cause.on === 'leaf open')),
      ),
  }
  for (const element of doorway.elements) {
    if (element.leaf !== '') find(plan.leaves, element.leaf)
    plan.reach.set(element.id, reachOf(plan, element))
  }
  return plan
}

function reachOf(plan: Plan, element: HoldingElement): Reach {
  const byWire = new Set<string>()
  const byAsking = new Map<string, Set<string>>()
  const controllers = new Set<string>()
  const seen = new Set<object>()
  let alarm = false
  let openHours = false

  const walkFeed = (feed: Feed): void => {
    walkPath(feed.through)
    if (!feed.from.known) return
    for (const { of } of find(plan.supplies, feed.from.value).cutBy) walkPath(of)
  }
  const walkPath = (path: Path): void => {
    if (seen.has(path)) return
    seen.add(path)
    if (path.form === 'contact') walkContact(path)
    else if (path.form !== 'not told') for (const each of path.of) walkPath(each)
  }
  const walkContact = (of: ContactOf): void => {
    const device = find(plan.devices, of.device)
    byWire.add(device.id)
    if (device.needsPower) walkFeed(device.feed)
    for (const { cause } of contactOf(plan, of).changes) {
      if (cause.on === 'fire alarm') alarm = true
      if (cause.on === 'coil fed') walkFeed(cause.feed)
      if (cause.on === 'ordered') walkOutput(cause.controller, outputOf(plan, cause.controller, cause.output))
    }
  }
  const walkOutput = (controller: string, output: ControllerOutput): void => {
    if (seen.has(output)) return
    seen.add(output)
    controllers.add(controller)
    for (const order of output.orders) {
      if (order.on === 'open hours') openHours = true
      else {
        const heardBy = byAsking.get(order.device) ?? new Set<string>()
        byAsking.set(order.device, heardBy.add(controller))
      }
    }
  }

  if (element.engaged.when === 'by its feed') {
    walkFeed(element.engaged.feed)
    for (const { of } of element.engaged.releasedBy) walkPath(of)
  }
  return { byWire, byAsking, alarm, openHours, controllers }
}
