// Switches that feed over the network cable, their ports and budgets, as plain values; and adding them.
import { effectiveFittings, type JobData, type JobRecord, type Units } from '../job/index.ts'
import { changeOf, nextOf, type RecordsChange } from './changing.ts'
import { distinct, factOf, known, unknown, type Fact, type Verdict } from './facts.ts'
import type { JobPower } from './kept.ts'
import { askedQuestions, type AskedQuestion } from './pages.ts'
import { worstVerdict } from './power.ts'
import { poeAtDevice, poeBudget, type PoeClass, type PoeDevice, type PoeType, type PoeSwitch } from './poe.ts'
import { poeSentence } from './sentences.ts'
import { readWireSize } from './wire.ts'

export interface PortPage {
  readonly record: JobRecord<'networkPort'>
  /** What it feeds: "101 R1", "AC1"; null while nothing is chosen. */
  readonly feeds: string | null
  readonly feedClass: number | null
  readonly drawnWatts: number | null
  readonly portWatts: number | null
  readonly availableWatts: number | null
  readonly volts: number | null
  readonly verdict: Verdict
  readonly findings: readonly string[]
}

export interface SwitchPage {
  readonly record: JobRecord<'networkSwitch'>
  readonly ports: readonly PortPage[]
  readonly budgetWatts: number | null
  readonly byClassWatts: number | null
  readonly drawnWatts: number | null
  readonly withinByClass: Verdict
  readonly withinDrawn: Verdict
  readonly verdict: Verdict
  readonly questions: readonly AskedQuestion[]
}

/** Something a port may feed. */
export interface PortTarget {
  readonly fittingId: string | null
  readonly controllerId: string | null
  readonly name: string
}

export interface NetworkFeeds {
  readonly units: Units
  readonly switches: readonly SwitchPage[]
  /** Devices whose part says that it is fed over the network cable. */
  readonly targets: readonly PortTarget[]
}

const byPosition = (one: { readonly position: number }, other: { readonly position: number }): number =>
  one.position - other.position

export function networkFeeds(data: JobData, { settings }: JobPower): NetworkFeeds {
  const celsius = Math.max(...settings.scenarios.cableCelsius)
  return {
    units: data.job.units,
    switches: [...data.all('networkSwitch')]
      .toSorted(byPosition)
      .map((each) => switchPage(data, each, celsius)),
    targets: portTargets(data),
  }
}

function switchPage(data: JobData, record: JobRecord<'networkSwitch'>, celsius: number): SwitchPage {
  const ports = data.referring('networkPort', 'networkSwitchId', record.id).toSorted(byPosition)
  const used = ports.flatMap((port) => {
    const device = deviceAt(data, port)
    return device === null ? [] : [{ port, device }]
  })
  // Ports differ in type, so each device is judged at its own; the budget is the switch's.
  const results = new Map(
    used.map(({ port, device }) => [
      port.id as string,
      { device, result: poeAtDevice(device, portType(port), celsius) },
    ]),
  )
  const asSwitch: PoeSwitch = {
    name: record.mark,
    ports: known(ports.length),
    portType: unknown('type and class', record.mark),
    budgetWatts: factOf(record.budgetWatts, 'budget', record.mark),
    devices: used.map(({ device }) => device),
  }
  const budget = poeBudget(asSwitch, celsius)
  const drawn = [...results.values()].map(({ result }) => result.portWatts)
  const drawnWatts = drawn.includes(null) ? null : drawn.reduce<number>((sum, each) => sum + (each ?? 0), 0)
  const withinDrawn: Verdict =
    drawnWatts === null || budget.budgetWatts === null
      ? 'not known'
      : drawnWatts <= budget.budgetWatts + 1e-9
        ? 'met'
        : 'not met'
  const pages = ports.map((port): PortPage => {
    const found = results.get(port.id)
    return {
      record: port,
      feeds: found?.device.name ?? null,
      feedClass: found?.device.class.known === true ? found.device.class.value : null,
      drawnWatts: found?.device.watts.known === true ? found.device.watts.value : null,
      portWatts: found?.result.portWatts ?? null,
      availableWatts: found?.result.availableWatts ?? null,
      volts: found?.result.volts ?? null,
      verdict: found?.result.verdict ?? 'does not apply',
      findings: found?.result.findings.map((each) => poeSentence(each, data.job.units)) ?? [],
    }
  })
  return {
    record,
    ports: pages,
    budgetWatts: budget.budgetWatts,
    byClassWatts: budget.byClassWatts,
    drawnWatts,
    withinByClass: used.length === 0 ? 'does not apply' : budget.withinByClass,
    withinDrawn: used.length === 0 ? 'does not apply' : withinDrawn,
    verdict:
      used.length === 0
        ? 'does not apply'
        : worstVerdict([budget.withinByClass, withinDrawn, ...pages.map(({ verdict }) => verdict)]),
    questions: askedQuestions(
      distinct([
        ...(asSwitch.budgetWatts.known ? [] : [asSwitch.budgetWatts.question]),
        ...[...results.values()].flatMap(({ result }) => result.questions),
      ]),
    ),
  }
}

const portType = (port: JobRecord<'networkPort'>): Fact<PoeType> =>
  factOf(port.feedType as PoeType | null, 'type and class', `port ${port.name}`)

function deviceAt(data: JobData, port: JobRecord<'networkPort'>): PoeDevice | null {
  const target = targetOf(data, port)
  if (target === null) return null
  const { name, partId } = target
  const [feed] = partId === null ? [] : data.referring('partNetworkFeed', 'partId', partId)
  const size = port.cableSize === null ? null : readWireSize(port.cableSize)
  return {
    id: port.id,
    name,
    class: factOf(feed?.feedClass as PoeClass | null | undefined, 'type and class', name),
    watts: factOf(feed?.watts, 'power at device', name),
    size: size?.known === true ? known(size.value) : unknown('wire size', `the cable to ${name}`),
    stranded: factOf(port.stranded, 'stranding', `the cable to ${name}`),
    lengthMetres: factOf(port.lengthMetres, 'length', `the cable to ${name}`),
  }
}

function targetOf(
  data: JobData,
  { fittingId, controllerId }: JobRecord<'networkPort'>,
): { readonly name: string; readonly partId: string | null } | null {
  if (controllerId !== null) {
    const controller = data.get('controller', controllerId)
    return controller === undefined ? null : { name: controller.mark, partId: controller.partId }
  }
  const fitting = data.get('fitting', fittingId ?? '')
  const opening = data.get('opening', fitting?.openingId ?? '')
  if (fitting === undefined || opening === undefined) return null
  const found = effectiveFittings(data, opening).find((each) => each.fitting?.id === fitting.id)
  return found === undefined ? null : { name: `${opening.mark} ${found.tag}`, partId: found.part?.id ?? null }
}

/** Fittings with a record of their own, and controllers, whose part says what it asks of a port. */
function portTargets(data: JobData): readonly PortTarget[] {
  const parts = new Set(Array.from(data.all('partNetworkFeed'), ({ partId }) => partId as string))
  if (parts.size === 0) return []
  const fittings = [...data.all('fitting')].flatMap((fitting): PortTarget[] => {
    const slot = data.get('typicalFitting', fitting.typicalFittingId ?? '')
    const partId = fitting.partId ?? slot?.partId ?? ''
    const mark = data.get('opening', fitting.openingId)?.mark
    if (mark === undefined || fitting.leftOut || !parts.has(partId)) return []
    return [{ fittingId: fitting.id, controllerId: null, name: `${mark} ${fitting.tag ?? slot?.tag ?? ''}` }]
  })
  const controllers = [...data.all('controller')].flatMap((each): PortTarget[] =>
    each.partId !== null && parts.has(each.partId)
      ? [{ fittingId: null, controllerId: each.id, name: each.mark }]
      : [],
  )
  return [...controllers, ...fittings]
}

export interface NewSwitch {
  readonly ports: number
  readonly feedType: number | null
  readonly budgetWatts: number | null
}

/** A switch with so many ports of one type; null type is not known yet. */
export function addSwitch(
  taken: readonly string[],
  { ports, feedType, budgetWatts }: NewSwitch,
): RecordsChange {
  const mark = nextOf('SW', taken)
  return changeOf(`Add ${mark}`, {
    add: [
      {
        kind: 'networkSwitch',
        record: {
          id: 'new:switch',
          mark,
          position: taken.length,
          spaceId: null,
          whereText: null,
          budgetWatts,
          notes: null,
        },
      },
      ...Array.from({ length: ports }, (_, index) => ({
        kind: 'networkPort' as const,
        record: {
          id: `new:port${index}`,
          networkSwitchId: 'new:switch',
          position: index,
          name: String(index + 1),
          feedType,
          fittingId: null,
          controllerId: null,
          cableSize: null,
          stranded: null,
          lengthMetres: null,
        },
      })),
    ],
  })
}
