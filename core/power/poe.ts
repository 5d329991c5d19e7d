// Power over Ethernet: what reaches the device after the cable, and what ports and switches have left.
import { distinct, questionsOf, together, type Fact, type Question, type Verdict } from './facts.ts'
import { isWithin, total } from './supply.ts'
import { ohmsPerMetre, type WireSize } from './wire.ts'

export type PoeType = 1 | 2 | 3 | 4
export type PoeClass = 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8

export interface PoeTypeLimits {
  /** What the port gives, and the least volts at which it does. Source: standards.md 7, S108 to S110. */
  readonly portWatts: number
  readonly portVolts: number
  /** From memory; proved by the arithmetic of what is left at the device. */
  readonly channelOhms: number
  readonly deviceWatts: number
}

/** Source: IEEE 802.3, standards.md 7. */
export const poeTypes: Readonly<Record<PoeType, PoeTypeLimits>> = {
  1: { portWatts: 15.4, portVolts: 44, channelOhms: 20, deviceWatts: 12.95 },
  2: { portWatts: 30, portVolts: 50, channelOhms: 12.5, deviceWatts: 25.5 },
  3: { portWatts: 60, portVolts: 50, channelOhms: 6.25, deviceWatts: 51 },
  4: { portWatts: 90, portVolts: 52, channelOhms: 6.25, deviceWatts: 71.3 },
}

export interface PoeClassLimits {
  readonly deviceWatts: number
  readonly portWatts: number
  /** The least type whose ports give it. */
  readonly type: PoeType
  readonly pairs: 2 | 4
}

/** Source: standards.md 7, S111. */
export const poeClasses: Readonly<Record<PoeClass, PoeClassLimits>> = {
  0: { deviceWatts: 12.95, portWatts: 15.4, type: 1, pairs: 2 },
  1: { deviceWatts: 3.84, portWatts: 4, type: 1, pairs: 2 },
  2: { deviceWatts: 6.49, portWatts: 7, type: 1, pairs: 2 },
  3: { deviceWatts: 12.95, portWatts: 15.4, type: 1, pairs: 2 },
  4: { deviceWatts: 25.5, portWatts: 30, type: 2, pairs: 2 },
  5: { deviceWatts: 40, portWatts: 45, type: 3, pairs: 4 },
  6: { deviceWatts: 51, portWatts: 60, type: 3, pairs: 4 },
  7: { deviceWatts: 62, portWatts: 75, type: 4, pairs: 4 },
  8: { deviceWatts: 71.3, portWatts: 90, type: 4, pairs: 4 },
}

/** What is left at the device when a port gives all it may: P - (P / V)^2 R. */
export const wattsAtDevice = (portWatts: number, portVolts: number, ohms: number): number =>
  portWatts - (portWatts / portVolts) ** 2 * ohms

/** From the patch panel to the device. From memory: 100 m is the longest channel of the cabling standards. */
export const longestChannelMetres = 100

/** Ohms of a channel out and back: two conductors in parallel each way on two pairs, four on four pairs. */
export const channelOhms = (
  size: WireSize,
  stranded: boolean,
  lengthMetres: number,
  pairs: 2 | 4,
  celsius: number,
): number => (ohmsPerMetre(size, stranded, celsius) * lengthMetres * 2) / pairs

export interface PoeDevice {
  readonly id: string
  readonly name: string
  readonly class: Fact<PoeClass>
  /** What it draws at most; what its class lets it draw is the limit, never the figure. */
  readonly watts: Fact<number>
  readonly size: Fact<WireSize>
  readonly stranded: Fact<boolean>
  readonly lengthMetres: Fact<number>
}

export interface PoeResult {
  readonly device: string
  readonly name: string
  readonly verdict: Verdict
  readonly ohms: number | null
  readonly amps: number | null
  readonly volts: number | null
  /** What the port gives for what the device draws. */
  readonly portWatts: number | null
  readonly lostWatts: number | null
  /** What the device could have after this cable when the port gives all that its class may. */
  readonly availableWatts: number | null
  readonly findings: readonly PoeFinding[]
  readonly questions: readonly Question[]
}

export type PoeFinding =
  | { readonly code: 'cannot be fed'; readonly watts: number }
  | { readonly code: 'draws more than its class'; readonly watts: number; readonly limitWatts: number }
  | { readonly code: 'port gives more than its class'; readonly watts: number; readonly limitWatts: number }
  | { readonly code: 'channel too long'; readonly lengthMetres: number }
  | { readonly code: 'more ohms than the standard allows'; readonly ohms: number; readonly limitOhms: number }
  | { readonly code: 'port of a lesser type'; readonly needs: PoeType; readonly has: PoeType }

const noFigures = {
  ohms: null,
  amps: null,
  volts: null,
  portWatts: null,
  lostWatts: null,
  availableWatts: null,
}

/**
 * One device at the far end of its cable, at the least volts its port may give. The current is exact: watts of the device are
 * what is left of volts times amps after the cable; two answers or none, and the smaller current is the true one.
 */
export function poeAtDevice(device: PoeDevice, portType: Fact<PoeType>, celsius: number): PoeResult {
  const facts = together(
    device.class,
    device.watts,
    device.size,
    device.stranded,
    device.lengthMetres,
    portType,
  )
  const named = { device: device.id, name: device.name }
  if (!facts.known)
    return { ...named, ...noFigures, verdict: 'not known', findings: [], questions: facts.questions }
  const [classNumber, watts, size, stranded, lengthMetres, type] = facts.values
  const limits = poeClasses[classNumber]
  const { portVolts } = poeTypes[limits.type]
  const ohms = channelOhms(size, stranded, lengthMetres, limits.pairs, celsius)
  const allowedOhms = poeTypes[limits.type].channelOhms
  const findings: PoeFinding[] = []
  if (type < limits.type) findings.push({ code: 'port of a lesser type', needs: limits.type, has: type })
  if (lengthMetres > longestChannelMetres) findings.push({ code: 'channel too long', lengthMetres })
  if (ohms > allowedOhms)
    findings.push({ code: 'more ohms than the standard allows', ohms, limitOhms: allowedOhms })
  if (watts > limits.deviceWatts + 1e-9)
    findings.push({ code: 'draws more than its class', watts, limitWatts: limits.deviceWatts })
  const availableWatts = wattsAtDevice(limits.portWatts, portVolts, ohms)
  const room = portVolts ** 2 - 4 * ohms * watts
  if (room < 0)
    return {
      ...named,
      ...noFigures,
      ohms,
      availableWatts,
      verdict: 'not met',
      findings: [...findings, { code: 'cannot be fed', watts }],
      questions: [],
    }
  // (V - sqrt(V^2 - 4 R P)) / 2 R without the loss of digits at small R.
  const amps = (2 * watts) / (portVolts + Math.sqrt(room))
  const portWatts = portVolts * amps
  if (portWatts > limits.portWatts + 1e-9)
    findings.push({ code: 'port gives more than its class', watts: portWatts, limitWatts: limits.portWatts })
  return {
    ...named,
    verdict: findings.length > 0 ? 'not met' : 'met',
    ohms,
    amps,
    volts: portVolts - amps * ohms,
    portWatts,
    lostWatts: amps ** 2 * ohms,
    availableWatts,
    findings,
    questions: [],
  }
}

export interface PoeSwitch {
  readonly name: string
  readonly ports: Fact<number>
  readonly portType: Fact<PoeType>
  /** What all its ports together may give. */
  readonly budgetWatts: Fact<number>
  readonly devices: readonly PoeDevice[]
}

export interface PoeBudget {
  readonly devices: readonly PoeResult[]
  readonly portsUsed: number
  readonly portsEnough: Verdict
  /** What a switch sets aside when it goes by class. */
  readonly byClassWatts: number | null
  /** What the ports give for what the devices draw. */
  readonly drawnWatts: number | null
  readonly budgetWatts: number | null
  /** Within the budget by class, the safer of the two: a switch may refuse a device before its power is drawn. */
  readonly withinByClass: Verdict
  readonly withinDrawn: Verdict
  readonly questions: readonly Question[]
}

/** A switch with its devices: each after its cable, ports and budget. */
export function poeBudget(networkSwitch: PoeSwitch, celsius: number): PoeBudget {
  const devices = networkSwitch.devices.map((device) => poeAtDevice(device, networkSwitch.portType, celsius))
  const byClassWatts = total(
    networkSwitch.devices.map((device) =>
      device.class.known ? poeClasses[device.class.value].portWatts : null,
    ),
  )
  const drawnWatts = total(devices.map(({ portWatts }) => portWatts))
  const budgetWatts = networkSwitch.budgetWatts.known ? networkSwitch.budgetWatts.value : null
  const ports = networkSwitch.ports.known ? networkSwitch.ports.value : null
  return {
    devices,
    portsUsed: networkSwitch.devices.length,
    portsEnough: isWithin(networkSwitch.devices.length, ports),
    byClassWatts,
    drawnWatts,
    budgetWatts,
    withinByClass: isWithin(byClassWatts, budgetWatts),
    withinDrawn: isWithin(drawnWatts, budgetWatts),
    questions: distinct([
      ...questionsOf(networkSwitch.ports, networkSwitch.budgetWatts),
      ...networkSwitch.devices.flatMap((device) => questionsOf(device.class)),
      ...devices.flatMap(({ questions }) => questions),
    ]),
  }
}
