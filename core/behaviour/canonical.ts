// One order for every list, so that no result depends on how rows came.
import { compareText } from './compare-text.ts'
import type { Cause, Contact, Device, Doorway, Feed, HoldingElement, Input, Leaf, Path } from './model.ts'

const byId = <T extends { readonly id: string }>(list: readonly T[]): T[] =>
  list.toSorted((one, other) => compareText(one.id, other.id))

const byKey = <T>(list: readonly T[], key: (each: T) => string): T[] =>
  list.length < 2
    ? [...list]
    : list
        .map((each) => ({ each, text: key(each) }))
        .toSorted((one, other) => compareText(one.text, other.text))
        .map(({ each }) => each)

const byText = <T>(list: readonly T[]): T[] => byKey(list, (each) => JSON.stringify(each))

function path(of: Path): Path {
  if (of.form !== 'series' && of.form !== 'parallel') return of
  return { form: of.form, of: byText(of.of.map(path)) }
}

const feed = (of: Feed): Feed => ({ from: of.from, through: path(of.through) })
const input = (of: Input): Input => ({ ...of, of: path(of.of) })
const inputs = (of: readonly Input[]): Input[] => byText(of.map(input))
const cause = (of: Cause): Cause => (of.on === 'coil fed' ? { on: 'coil fed', feed: feed(of.feed) } : of)

function contact<C extends Contact>(of: C): C {
  return { ...of, changes: byText(of.changes.map((each) => ({ ...each, cause: cause(each.cause) }))) }
}

const contacts = <C extends Contact>(of: readonly C[]): C[] => byKey(of.map(contact), (each) => each.name)

const device = (of: Device): Device =>
  of.needsPower
    ? { ...of, feed: feed(of.feed), contacts: contacts(of.contacts) }
    : { ...of, contacts: contacts(of.contacts) }

const element = (of: HoldingElement): HoldingElement => ({
  ...of,
  grip:
    of.grip.form === 'blocks hardware'
      ? { ...of.grip, hardware: of.grip.hardware.toSorted(compareText) }
      : of.grip,
  drawnBy: of.drawnBy.toSorted(compareText),
  delay: of.delay === null ? null : { ...of.delay, startedBy: of.delay.startedBy.toSorted(compareText) },
  engaged:
    of.engaged.when === 'by its feed'
      ? { ...of.engaged, feed: feed(of.engaged.feed), releasedBy: inputs(of.engaged.releasedBy) }
      : of.engaged,
})

/** The same doorway with every list in one order: leaves with the active one first, the rest by key or text. */
export function canonical(doorway: Doorway): Doorway {
  const rank = (leaf: Leaf) => (leaf.role === 'inactive' ? `2 ${leaf.id}` : `1 ${leaf.id}`)
  return {
    leaves: doorway.leaves.toSorted((one, other) => compareText(rank(one), rank(other))),
    hardware: byId(doorway.hardware),
    elements: byId(doorway.elements).map(element),
    devices: byId(doorway.devices).map(device),
    controllers: byId(doorway.controllers).map((of) => ({
      ...of,
      feed: feed(of.feed),
      outputs: byId(of.outputs).map((output) => ({ ...output, orders: byText(output.orders) })),
    })),
    supplies: byId(doorway.supplies).map((of) => ({ ...of, cutBy: inputs(of.cutBy) })),
    operators: byId(doorway.operators).map((of) => ({
      ...of,
      feed: feed(of.feed),
      orders: byText(of.orders),
      stoppedBy: inputs(of.stoppedBy),
    })),
    watches: byText(doorway.watches),
  }
}
