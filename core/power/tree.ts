// The places of a network in the order a hand would follow the cable, each with how far it is from the output.
import { source, type Load, type Network, type Run } from './network.ts'

export interface TreePlace {
  readonly place: string
  /** The place it is fed from; null at the output, and where nothing joins it to the output. */
  readonly parent: string | null
  /** The runs from its parent, side by side; none at the output. */
  readonly runs: readonly Run[]
  readonly depth: number
  /** Along the cable from the output; null while a length on the way is not known. */
  readonly metres: number | null
  readonly loads: readonly Load[]
}

/** Depth first from the output; places that nothing joins to it come last, with depth 0 and no parent. */
export function treeOf({ runs, loads }: Network): readonly TreePlace[] {
  const byPlace = new Map<string, Run[]>()
  for (const run of runs)
    for (const end of new Set([run.from, run.to])) {
      const there = byPlace.get(end)
      if (there === undefined) byPlace.set(end, [run])
      else there.push(run)
    }
  const loadsAt = Map.groupBy(loads, ({ at }) => at)
  const found = new Map<string, TreePlace>()
  const visit = (place: string, parent: TreePlace | null, by: readonly Run[]): void => {
    const [first] = by
    const here: TreePlace = {
      place,
      parent: parent?.place ?? null,
      runs: by,
      depth: parent === null ? 0 : parent.depth + 1,
      metres: place === source ? 0 : first === undefined || parent === null ? null : farther(parent, first),
      loads: loadsAt.get(place) ?? [],
    }
    found.set(place, here)
    const onward = Map.groupBy(byPlace.get(place) ?? [], (run) => (run.from === place ? run.to : run.from))
    for (const [next, joining] of onward) if (!found.has(next)) visit(next, here, joining)
  }
  visit(source, null, [])
  for (const place of [...byPlace.keys(), ...loadsAt.keys()]) if (!found.has(place)) visit(place, null, [])
  return [...found.values()]
}

const farther = ({ metres }: TreePlace, { lengthMetres }: Run): number | null =>
  metres === null || !lengthMetres.known ? null : metres + lengthMetres.value
