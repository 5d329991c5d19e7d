// What feeds each opening, from which output, over how much cable, and what its devices have at worst.
import { effectiveFittings, type JobData, type Opening, type Part, type Units } from '../job/index.ts'
import type { Verdict } from './facts.ts'
import { drawsNothing } from './from-job.ts'
import type { SupplyPower } from './power.ts'
import type { Scenario } from './scenarios.ts'
import { cableWords } from './sentences.ts'
import { treeOf } from './tree.ts'

/** One device of an opening at the end of its cable. */
export interface DeviceFeed {
  readonly load: string
  /** "M1". */
  readonly tag: string
  readonly supplyId: string
  readonly supplyMark: string
  readonly outputId: string
  readonly outputName: string
  /** Along the cable from the output; null while a length is not known. */
  readonly metres: number | null
  readonly verdict: Verdict
  /** At its worst; null while it is not known. */
  readonly volts: number | null
  readonly marginVolts: number | null
  readonly scenario: Scenario
}

/** What a row of the schedule says: the first feed and the lowest device. */
export interface OpeningFeed {
  readonly devices: readonly DeviceFeed[]
  /** Tags of devices that need a feed and have none. */
  readonly notFed: readonly string[]
}

/** The devices on a supply's outputs, by opening. */
export function feedsOfSupply(
  data: JobData,
  { supply, outputs }: SupplyPower,
): ReadonlyMap<string, readonly DeviceFeed[]> {
  const found = new Map<string, DeviceFeed[]>()
  for (const [index, { study }] of outputs.entries()) {
    const output = supply.outputs[index]
    if (output === undefined || output.loads.length === 0) continue
    const metres = new Map(treeOf(output).map((each) => [each.place, each.metres]))
    for (const load of output.loads) {
      const worst = study.worst.get(load.id)
      const openingId = data.get('fitting', load.at)?.openingId
      if (worst === undefined || openingId === undefined) continue
      const feed: DeviceFeed = {
        load: load.id,
        tag: load.name.slice(load.name.lastIndexOf(' ') + 1),
        supplyId: supply.id,
        supplyMark: supply.name,
        outputId: output.id,
        outputName: output.name.slice(`${supply.name} output `.length),
        metres: metres.get(load.at) ?? null,
        verdict: worst.device.verdict,
        volts: worst.device.volts,
        marginVolts: worst.device.marginVolts,
        scenario: worst.scenario,
      }
      const there = found.get(openingId)
      if (there === undefined) found.set(openingId, [feed])
      else there.push(feed)
    }
  }
  return found
}

/** Tags of fittings that draw from a supply, with no run and no port to any of them. */
export function notFedAt(data: JobData, opening: Opening, fed: ReadonlySet<string>): readonly string[] {
  return effectiveFittings(data, opening).flatMap(({ fitting, tag, part, leftOut }) => {
    if (leftOut || part === null || !drawsCurrent(data, part)) return []
    if (fitting === null) return [tag]
    const joined =
      fed.has(fitting.id) ||
      data.countReferring('run', 'toFittingId', fitting.id) > 0 ||
      data.countReferring('run', 'fromFittingId', fitting.id) > 0 ||
      data.countReferring('networkPort', 'fittingId', fitting.id) > 0
    return joined ? [] : [tag]
  })
}

/** Only where a current was declared, and not where mains or the fire alarm system give it: silence asks nothing here. */
function drawsCurrent(data: JobData, part: Part): boolean {
  const [declared] = data.referring('partBehaviour', 'partId', part.id)
  if (declared?.power === 'from the mains' || declared?.power === 'from the fire alarm') return false
  const loads = data.referring('partLoad', 'partId', part.id)
  const hasCurrent = part.holdingAmps !== null || loads.some(({ holdingAmps }) => holdingAmps !== null)
  return hasCurrent && !drawsNothing(data, part)
}

/** The device that is worst off; not met before not known before the least margin. */
export function worstOfDevices(devices: readonly DeviceFeed[]): DeviceFeed | null {
  const rank = ({ verdict, marginVolts }: DeviceFeed): number =>
    verdict === 'not met' ? -1e6 + (marginVolts ?? -1e3) : verdict === 'not known' ? -1e3 : (marginVolts ?? 0)
  let worst: DeviceFeed | null = null
  for (const each of devices) if (worst === null || rank(each) < rank(worst)) worst = each
  return worst
}

/** What a row of the schedule says of an opening's feed. */
export interface FeedRow {
  readonly supplyId: string | null
  /** "PS3 / 2"; empty where nothing feeds it. */
  readonly feed: string
  /** "PS3 output 2, 305 ft", one for each output. */
  readonly feedInFull: readonly string[]
  readonly device: string | null
  readonly volts: number | null
  readonly marginVolts: number | null
  readonly verdict: Verdict
  readonly notFed: readonly string[]
}

/** The row of an opening; null where nothing of it draws current. */
export function feedRow({ devices, notFed }: OpeningFeed, units: Units): FeedRow | null {
  if (devices.length === 0 && notFed.length === 0) return null
  const worst = worstOfDevices(devices)
  const outputs = [...Map.groupBy(devices, ({ outputId }) => outputId).values()].map((there) => {
    const [{ supplyMark, outputName }] = there as [DeviceFeed]
    const lengths = there.map(({ metres }) => metres)
    const far = lengths.includes(null) ? null : Math.max(...lengths.map((each) => each ?? 0))
    return {
      short: `${supplyMark} / ${outputName}`,
      full: `${supplyMark} output ${outputName}, ${far === null ? 'length not known' : cableWords(far, units)}`,
    }
  })
  return {
    supplyId: devices[0]?.supplyId ?? null,
    feed: outputs.map(({ short }) => short).join(', '),
    feedInFull: outputs.map(({ full }) => full),
    device: worst?.tag ?? null,
    volts: worst?.volts ?? null,
    marginVolts: worst?.marginVolts ?? null,
    verdict:
      notFed.length > 0 && worst?.verdict !== 'not met' ? 'not known' : (worst?.verdict ?? 'not known'),
    notFed,
  }
}
