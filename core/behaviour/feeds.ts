// Which things of a doorway have current in a condition: what a battery must carry, and when.
import type { Condition } from './conditions.ts'
import { electricsOf, worldOf } from './electrics.ts'
import type { Doorway, Feed } from './model.ts'
import { planOf } from './plan.ts'
import type { Truth } from './truth.ts'

/** By the key of each element, powered device and operator that is fed: whether it is, with nobody at the door. */
export function feedsIn(doorway: Doorway, condition: Condition): ReadonlyMap<string, Truth> {
  const plan = planOf(doorway)
  const electrics = electricsOf(plan, worldOf(condition))
  const found = new Map<string, Truth>()
  const add = (id: string, feed: Feed): void => void found.set(id, electrics.feeds(feed))
  for (const { id, engaged } of plan.doorway.elements)
    if (engaged.when === 'by its feed') add(id, engaged.feed)
  for (const device of plan.doorway.devices) if (device.needsPower) add(device.id, device.feed)
  for (const { id, feed } of plan.doorway.operators) add(id, feed)
  return found
}
