// The circumstances in which a doorway is judged, alone or together.
import type { Device, Doorway, Thing, WorkedAs } from './model.ts'
import { compareText } from './compare-text.ts'

/** One thing that is so. A condition is any number of them; none is the secured doorway at rest. */
export type Happening =
  | { readonly what: 'open hours' }
  | { readonly what: 'worked'; readonly device: string }
  | { readonly what: 'fire alarm' }
  | { readonly what: 'mains lost' }
  | { readonly what: 'no power' }
  /** A device has lost its own power, whatever feeds the lock. */
  | { readonly what: 'own power lost'; readonly device: string }
  | { readonly what: 'controller silent' }
  | { readonly what: 'other opening open'; readonly opening: string }

export type ConditionName =
  | 'secured'
  | 'open hours'
  | 'credential shown'
  | 'exit asked'
  | 'manual release'
  | 'key turned'
  | 'staff release'
  | 'other opening open'
  | 'fire alarm'
  | 'mains lost'
  | 'no power'
  | 'sensor lost'
  | 'controller silent'
  | 'together'

export interface Condition {
  readonly name: ConditionName
  /** The device that is worked or lost, or the other opening; null where the condition has none. */
  readonly of: Thing | null
  readonly happenings: readonly Happening[]
  /** The conditions that were put together; none where it is one condition alone. */
  readonly parts: readonly Condition[]
}

const plain = (
  name: ConditionName &
    Happening['what'] &
    ('open hours' | 'fire alarm' | 'mains lost' | 'no power' | 'controller silent'),
): Condition => ({ name, of: null, happenings: [{ what: name }], parts: [] })

export const secured: Condition = { name: 'secured', of: null, happenings: [], parts: [] }
export const openHours = plain('open hours')
export const fireAlarm = plain('fire alarm')
export const mainsLost = plain('mains lost')
export const noPower = plain('no power')
export const controllerSilent = plain('controller silent')

const nameWhenWorked: Readonly<Record<WorkedAs, ConditionName>> = {
  exit: 'exit asked',
  'manual release': 'manual release',
  credential: 'credential shown',
  key: 'key turned',
  staff: 'staff release',
}

const thingOf = ({ id, name }: Thing): Thing => ({ id, name })

export const worked = (device: Thing & { readonly workedAs: WorkedAs }): Condition => ({
  name: nameWhenWorked[device.workedAs],
  of: thingOf(device),
  happenings: [{ what: 'worked', device: device.id }],
  parts: [],
})

export const sensorLost = (device: Thing): Condition => ({
  name: 'sensor lost',
  of: thingOf(device),
  happenings: [{ what: 'own power lost', device: device.id }],
  parts: [],
})

export const otherOpeningOpen = (opening: string): Condition => ({
  name: 'other opening open',
  of: { id: opening, name: opening },
  happenings: [{ what: 'other opening open', opening }],
  parts: [],
})

/** Text that is the same for the same happening. */
export function happeningKey(happening: Happening): string {
  switch (happening.what) {
    case 'worked':
    case 'own power lost':
      return `${happening.what}: ${happening.device}`
    case 'other opening open':
      return `${happening.what}: ${happening.opening}`
    case 'open hours':
    case 'fire alarm':
    case 'mains lost':
    case 'no power':
    case 'controller silent':
      return happening.what
  }
}

export const conditionKey = (condition: Condition): string =>
  condition.happenings.length === 0 ? 'secured' : condition.happenings.map(happeningKey).join(' + ')

/**
 * Several conditions at once. The order and repeats mean nothing, and the secured doorway adds nothing. Where two
 * contradict, the poorer wins: no power over mains lost, a silent controller over what it would have been asked.
 */
export function together(...conditions: readonly Condition[]): Condition {
  const parts = new Map<string, Condition>()
  for (const condition of conditions)
    for (const part of condition.name === 'together' ? condition.parts : [condition])
      if (part.happenings.length > 0) parts.set(conditionKey(part), part)
  const inOrder = [...parts].toSorted(([one], [other]) => compareText(one, other)).map(([, part]) => part)
  const [only] = inOrder
  if (only === undefined) return secured
  if (inOrder.length === 1) return only
  return {
    name: 'together',
    of: null,
    happenings: inOrder.flatMap((part) => part.happenings),
    parts: inOrder,
  }
}

/**
 * The alarm while the controller holds the opening released, when latches are drawn and operators are asked. Cautions
 * need it beyond a doorway's own conditions.
 */
export const alarmInOpenHours: Condition = together(openHours, fireAlarm)

type WorkedDevice = Device & { readonly workedAs: WorkedAs }
const isWorked = (device: Device): device is WorkedDevice => device.workedAs !== null

const workedOrder: readonly WorkedAs[] = ['credential', 'exit', 'manual release', 'key', 'staff']

/** The conditions that make sense for this doorway, each device in turn, in the order in which people read them. */
export function conditionsOf(doorway: Doorway): readonly Condition[] {
  const devices = doorway.devices.toSorted((one, other) => compareText(one.id, other.id))
  const workedDevices = devices.filter(isWorked)
  const lost = devices.filter((device) => device.workedAs === 'exit' && device.needsPower)
  return [
    secured,
    openHours,
    ...workedOrder.flatMap((as) => workedDevices.filter((device) => device.workedAs === as).map(worked)),
    ...otherOpenings(doorway).map(otherOpeningOpen),
    fireAlarm,
    mainsLost,
    noPower,
    ...lost.map(sensorLost),
    controllerSilent,
  ]
}

/** Each exit device and manual release worked while the controller is silent: does it let out by itself? */
export const releasesWhileSilent = (doorway: Doorway): readonly Condition[] =>
  doorway.devices
    .toSorted((one, other) => compareText(one.id, other.id))
    .filter(isWorked)
    .filter(({ workedAs }) => workedAs === 'exit' || workedAs === 'manual release')
    .map((device) => together(worked(device), controllerSilent))

function otherOpenings(doorway: Doorway): readonly string[] {
  const found = new Set<string>()
  for (const device of doorway.devices)
    for (const contact of device.contacts)
      for (const { cause } of contact.changes) if (cause.on === 'other opening open') found.add(cause.opening)
  return [...found].toSorted(compareText)
}
