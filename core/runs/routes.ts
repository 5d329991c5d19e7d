// The usual length of a run by level and source, and filling empty lengths from it.
import { counted } from '../job/index.ts'
import type { JobData, JobRecord } from '../job/index.ts'
import { endOf, openingAt } from './ends.ts'
import { levelNames } from './level-names.ts'
import { changeBuilder, type RecordsChange } from './records-change.ts'
import { runsInOrder, sourceAtEnd, type Source } from './rows.ts'

export interface RouteCell {
  readonly levelId: string
  /** Null is any source that has no length of its own. */
  readonly source: Source | null
  readonly routeId: string | null
  readonly metres: number | null
}

export interface RouteTable {
  readonly sources: readonly Source[]
  readonly levels: readonly {
    readonly levelId: string
    readonly name: string
    readonly cells: readonly RouteCell[]
  }[]
}

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : 1)

function routeAt(
  data: JobData,
  levelId: string,
  source: Source | null,
): JobRecord<'routeLength'> | undefined {
  return data
    .referring('routeLength', 'levelId', levelId)
    .toSorted((one, other) => (one.id < other.id ? -1 : 1))
    .find(
      ({ supplyId, controllerId }) =>
        supplyId === (source?.form === 'supply' ? source.id : null) &&
        controllerId === (source?.form === 'controller' ? source.id : null),
    )
}

/** Metres of the route from this source to a level; the level's own length for any source where it has none. */
export const routeMetres = (data: JobData, levelId: string, source: Source): number | null =>
  (routeAt(data, levelId, source) ?? routeAt(data, levelId, null))?.metres ?? null

export const sourcesOf = (data: JobData): Source[] => [
  ...[...data.all('supply')]
    .toSorted(byPosition)
    .map(({ id, mark }): Source => ({ form: 'supply', id, mark })),
  ...[...data.all('controller')]
    .toSorted(byPosition)
    .map(({ id, mark }): Source => ({ form: 'controller', id, mark })),
]

/** Every level with a cell for each source that has runs or a length there, and one for any source. */
export function routeTable(data: JobData): RouteTable {
  const sources = sourcesOf(data)
  return {
    sources,
    levels: [...levelNames(data)].map(([id, name]) => ({
      levelId: id,
      name,
      cells: [null, ...sources].map((source): RouteCell => {
        const route = routeAt(data, id, source)
        return { levelId: id, source, routeId: route?.id ?? null, metres: route?.metres ?? null }
      }),
    })),
  }
}

export interface RouteFill {
  /** Null where no empty length has a route. */
  readonly command: RecordsChange | null
  readonly fillable: number
  /** Runs without a length for which no route says one. */
  readonly without: number
}

/** Fills the empty lengths of runs between a source and an opening. Others, such as chains, stay not known. */
export function fillLengths(data: JobData): RouteFill {
  const change = changeBuilder()
  let [fillable, without] = [0, 0]
  for (const run of runsInOrder(data)) {
    if (run.lengthMetres !== null) continue
    const source = sourceAtEnd(data, run)
    const opening = openingAt(data, endOf(run, 'to')) ?? openingAt(data, endOf(run, 'from'))
    const metres = source === null || opening === null ? null : routeMetres(data, opening.levelId, source)
    if (metres === null) {
      without += 1
      continue
    }
    change.set('run', run.id, { lengthMetres: metres })
    fillable += 1
  }
  return { command: change.done(`Fill ${counted(fillable, 'length')} from the routes`), fillable, without }
}
