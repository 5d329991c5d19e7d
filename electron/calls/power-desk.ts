// The power of the job in hand: kept in memory, so that an edit costs the outputs it touches.
import type { FeedRows } from '../../core/contract/index.ts'
import type { Edit, JobData, Opening } from '../../core/job/index.ts'
import {
  feedRow,
  feedsOfSupply,
  keptPower,
  notFedAt,
  type DeviceFeed,
  type FeedRow,
  type JobPower,
  type KeptPower,
  type OpeningFeed,
  type SupplyPower,
} from '../../core/power/index.ts'

export interface PowerDesk {
  readonly read: (data: JobData) => JobPower
  readonly feedOf: (data: JobData, opening: Opening) => OpeningFeed
  readonly feeds: (data: JobData, after: number | null) => FeedRows
  /** Tells what was changed, after the data took it, with the openings whose rows or behaviour it may reach. */
  readonly changed: (data: JobData, edits: readonly Edit[], openings: Iterable<string> | 'all') => void
  readonly forget: () => void
}

interface InHand {
  readonly data: JobData
  readonly kept: KeptPower
  readonly notFed: Map<string, readonly string[]>
  readonly rows: Map<
    string,
    { readonly row: FeedRow | null; readonly text: string; readonly version: number }
  >
  version: number
}

const feedsBySupply = new WeakMap<SupplyPower, ReadonlyMap<string, readonly DeviceFeed[]>>()

function devicesOf(data: JobData, power: SupplyPower): ReadonlyMap<string, readonly DeviceFeed[]> {
  let found = feedsBySupply.get(power)
  if (found === undefined) feedsBySupply.set(power, (found = feedsOfSupply(data, power)))
  return found
}

/** Kinds that say whether something draws, or is joined to anything. */
const saysWhatIsFed = /^(?:part|run|networkPort|fitting|typical|opening|firingGroup)/

export function powerDesk(): PowerDesk {
  let inHand: InHand | null = null
  // A version never comes twice, so that a window that knew another job is told all.
  let lastVersion = 0
  const of = (data: JobData): InHand => {
    if (inHand?.data !== data)
      inHand = {
        data,
        kept: keptPower(data),
        notFed: new Map(),
        rows: new Map(),
        version: (lastVersion += 1),
      }
    return inHand
  }
  const feedOf = (data: JobData, opening: Opening): OpeningFeed => {
    const job = of(data)
    const devices = job.kept.read().supplies.flatMap((each) => devicesOf(data, each).get(opening.id) ?? [])
    let notFed = job.notFed.get(opening.id)
    if (notFed === undefined) {
      notFed = notFedAt(data, opening, new Set(devices.map(({ load }) => load)))
      job.notFed.set(opening.id, notFed)
    }
    return { devices, notFed }
  }
  return {
    read: (data) => of(data).kept.read(),
    feedOf,
    feeds: (data, after) => {
      const job = of(data)
      const { units } = data.job
      const oldest = job.version
      const version = (lastVersion += 1)
      const seen = new Set<string>()
      for (const opening of data.all('opening')) {
        const row = feedRow(feedOf(data, opening), units)
        const text = JSON.stringify(row)
        seen.add(opening.id)
        if (job.rows.get(opening.id)?.text !== text) job.rows.set(opening.id, { row, text, version })
      }
      for (const id of job.rows.keys()) if (!seen.has(id)) job.rows.delete(id)
      const all = after === null || after < oldest
      const told = [...job.rows].filter(([, each]) => all || each.version > after)
      return { version, all, rows: Object.fromEntries(told.map(([id, { row }]) => [id, row])) }
    },
    changed: (data, edits, openings) => {
      const job = of(data)
      job.kept.changed(edits, openings)
      if (edits.some(({ kind }) => saysWhatIsFed.test(kind))) job.notFed.clear()
    },
    forget: () => {
      inHand = null
    },
  }
}
