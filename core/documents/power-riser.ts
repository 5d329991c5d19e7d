// What a riser diagram is drawn from: the supplies of a building, and on each level what they feed over how much cable.
import type { JobData } from '../job/index.ts'
import {
  buildingOf,
  cableWords,
  source,
  treeOf,
  whereOf,
  type JobPower,
  type TreePlace,
} from '../power/index.ts'

export interface RiserSupply {
  readonly mark: string
  readonly where: string
  /** "24 V, 10 A". */
  readonly rating: string
  /** The level it stands on; null where it is not said. */
  readonly levelId: string | null
  readonly feeds: readonly {
    readonly levelId: string
    /** One for each output, its chains in their order: "2: 205 (110 ft), 207 (140 ft) to 216 (70 ft) to 210 (95 ft)". */
    readonly lines: readonly string[]
  }[]
}

export interface RiserFigureInput {
  readonly building: string
  /** From the top down. */
  readonly levels: readonly { readonly id: string; readonly name: string }[]
  readonly supplies: readonly RiserSupply[]
}

/** One for each building that has a supply, or openings that one feeds. */
export function riserInputs(data: JobData, { supplies }: JobPower): readonly RiserFigureInput[] {
  const byBuilding = Map.groupBy(supplies, (power) => buildingOf(data, power))
  return [...byBuilding].flatMap(([buildingId, powers]) => {
    const building = data.get('building', buildingId ?? '')
    const drawn = powers.map(({ supply }): RiserSupply => {
      const record = data.get('supply', supply.id)
      return {
        mark: supply.name,
        where: whereOf(data, supply.id),
        rating: [
          supply.ratedVolts.known ? `${supply.ratedVolts.value} V` : 'volts not known',
          supply.ratedAmps.known ? `${supply.ratedAmps.value} A` : 'amps not known',
        ].join(', '),
        levelId: data.get('space', record?.spaceId ?? '')?.levelId ?? null,
        feeds: feedsOf(data, supply.outputs, supply.name),
      }
    })
    const named = new Set(
      drawn.flatMap(({ levelId, feeds }) => [levelId, ...feeds.map((each) => each.levelId)]),
    )
    const levels = [...data.all('level')]
      .filter(({ id, buildingId: own }) => own === buildingId || named.has(id))
      .toSorted((one, other) => other.position - one.position)
    return [
      {
        building: building?.name ?? 'No building yet',
        levels: levels.map(({ id, name }) => ({ id, name })),
        supplies: drawn,
      },
    ]
  })
}

/** Lines by the level of the first opening on each run from an output. */
function feedsOf(
  data: JobData,
  outputs: JobPower['supplies'][number]['supply']['outputs'],
  supplyName: string,
): RiserSupply['feeds'] {
  const byLevel = new Map<string, string[]>()
  for (const output of outputs) {
    const name = output.name.slice(`${supplyName} output `.length)
    const tree = treeOf(output)
    const homes = new Map<string, { levelId: string; stops: string[] }>()
    for (const each of tree) {
      if (each.parent === null) continue
      const opening = data.get('opening', data.get('fitting', each.place)?.openingId ?? '')
      if (opening === undefined) continue
      const parent = data.get('fitting', each.parent)
      // Inside one opening the cable is that opening's own.
      if (parent?.openingId === opening.id) continue
      const home = homeOf(tree, each)
      const chain = homes.get(home) ?? { levelId: opening.levelId, stops: [] }
      homes.set(home, chain)
      const length = each.runs[0]?.lengthMetres
      const words = length?.known === true ? cableWords(length.value, data.job.units) : '?'
      const stop = `${opening.mark} (${words})`
      if (!chain.stops.includes(stop)) chain.stops.push(stop)
    }
    const chains = new Map<string, string[]>()
    for (const { levelId, stops } of homes.values()) {
      const there = chains.get(levelId) ?? []
      const chain = stops.join(' to ')
      // Two cables of one length to one opening read as one.
      if (!there.includes(chain)) there.push(chain)
      chains.set(levelId, there)
    }
    for (const [levelId, there] of chains) {
      const lines = byLevel.get(levelId) ?? []
      lines.push(`${name}: ${there.join(', ')}`)
      byLevel.set(levelId, lines)
    }
  }
  return [...byLevel].map(([levelId, lines]) => ({ levelId, lines }))
}

/** The first place after the output on the way to this one. */
function homeOf(tree: readonly TreePlace[], place: TreePlace): string {
  const byPlace = new Map(tree.map((each) => [each.place, each]))
  let here = place
  while (here.parent !== null && here.parent !== source) {
    const next = byPlace.get(here.parent)
    if (next === undefined) break
    here = next
  }
  return here.place
}
