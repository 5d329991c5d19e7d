// How many of each part are fitted and kept as spares.
import { effectiveFittings, type Id, type JobData } from '../job/index.ts'
import { byPosition, openingsInOrder } from './in-order.ts'

export interface KeptSpare {
  readonly count: number
  readonly whereKept: string | null
  readonly notes: string | null
}

/** One part across the job. */
export interface PartQuantity {
  /** Null counts the fittings whose part nobody said. */
  readonly partId: Id<'part'> | null
  readonly partName: string | null
  readonly kind: string | null
  readonly model: string | null
  /** On openings; what is left out is not counted. */
  readonly onOpenings: number
  /** How many openings have at least one. */
  readonly openings: number
  /** Supplies and controllers of this part. */
  readonly elsewhere: number
  readonly fitted: number
  /** Null where nobody said anything about spares. */
  readonly spares: number | null
  readonly kept: readonly KeptSpare[]
}

/** Quantities by part, by kind and name; parts neither fitted nor kept are not there, fittings of no known part come last. */
export function partQuantities(data: JobData): PartQuantity[] {
  const onOpenings = new Map<string | null, { fittings: number; openings: Set<string> }>()
  for (const opening of openingsInOrder(data))
    for (const { leftOut, part } of effectiveFittings(data, opening)) {
      if (leftOut) continue
      const key = part?.id ?? null
      const count = onOpenings.get(key) ?? { fittings: 0, openings: new Set<string>() }
      count.fittings += 1
      count.openings.add(opening.id)
      onOpenings.set(key, count)
    }
  const elsewhere = new Map<string, number>()
  for (const kind of ['supply', 'controller'] as const)
    for (const { partId } of byPosition(data.all(kind)))
      if (partId !== null) elsewhere.set(partId, (elsewhere.get(partId) ?? 0) + 1)

  const rows = [...data.all('part')].flatMap((part): PartQuantity[] => {
    const count = onOpenings.get(part.id)
    const other = elsewhere.get(part.id) ?? 0
    const spares = data.referring('spare', 'partId', part.id)
    if (count === undefined && other === 0 && spares.length === 0) return []
    return [
      {
        partId: part.id,
        partName: part.name,
        kind: part.kind,
        model: part.model,
        onOpenings: count?.fittings ?? 0,
        openings: count?.openings.size ?? 0,
        elsewhere: other,
        fitted: (count?.fittings ?? 0) + other,
        spares: spares.length === 0 ? null : spares.reduce((sum, each) => sum + each.count, 0),
        kept: spares.map(({ count: kept, whereKept, notes }) => ({ count: kept, whereKept, notes })),
      },
    ]
  })
  const unknown = onOpenings.get(null)
  const sorted = rows.toSorted((a, b) => {
    const [one, other] = [`${a.kind ?? ''} ${a.partName ?? ''}`, `${b.kind ?? ''} ${b.partName ?? ''}`]
    return one < other ? -1 : one > other ? 1 : 0
  })
  if (unknown === undefined) return sorted
  const last: PartQuantity = {
    partId: null,
    partName: null,
    kind: null,
    model: null,
    onOpenings: unknown.fittings,
    openings: unknown.openings.size,
    elsewhere: 0,
    fitted: unknown.fittings,
    spares: null,
    kept: [],
  }
  return [...sorted, last]
}
