// Outputs of other supplies that a branch could move to. Those of its own supply stand beside each other: a move gains no volts.
import type { JobData } from '../job/index.ts'
import { factOf, known, unknown } from './facts.ts'
import type { Load } from './network.ts'
import type { SupplyPower } from './power.ts'
import type { NearerOutput } from './remedies.ts'

/** The level on which the first of these loads stands. */
function levelOf(data: JobData, loads: readonly Load[]) {
  for (const { at } of loads) {
    const opening = data.get('opening', data.get('fitting', at)?.openingId ?? '')
    const level = opening === undefined ? undefined : data.get('level', opening.levelId)
    if (level !== undefined) return level
  }
  return null
}

/** Of each other supply the output with most to spare; its distance is known where a usual route length says so. */
export function nearerOutputs(
  data: JobData,
  supplies: readonly SupplyPower[],
  ownSupplyId: string,
  loads: readonly Load[],
): readonly NearerOutput[] {
  const level = levelOf(data, loads)
  if (level === null) return []
  const routes = data.referring('routeLength', 'levelId', level.id)
  return supplies.flatMap(({ supply, outputs }) => {
    if (supply.id === ownSupplyId) return []
    const [most] = outputs
      .map(({ study, loading }) => ({
        output: study.output,
        spare:
          loading.limitAmps === null || loading.holdingAmps === null
            ? null
            : loading.limitAmps - loading.holdingAmps,
      }))
      .toSorted((one, other) => (other.spare ?? -1) - (one.spare ?? -1))
    if (most === undefined) return []
    const route =
      routes.find(({ supplyId }) => supplyId === supply.id) ??
      routes.find(({ supplyId, controllerId }) => supplyId === null && controllerId === null)
    return [
      {
        id: most.output.id,
        name: most.output.name,
        volts: most.output.volts,
        spareAmps: factOf(most.spare, 'rated current', most.output.name),
        lengthMetres:
          route === undefined
            ? unknown('length', `a run from ${supply.name} to ${level.name}`)
            : known(route.metres, 'the usual route length'),
      },
    ]
  })
}
