// Where parts are used: through typicals, on openings by themselves, at supplies and controllers, on the spares' shelf.
import { counted, compareMarks, type JobData, type JobRecord } from '../job/index.ts'

export interface PartUse {
  readonly typicals: readonly {
    readonly id: string
    readonly name: string
    readonly tags: readonly string[]
    readonly openings: number
  }[]
  /** Every opening that has it, in the order of the marks. */
  readonly openings: readonly {
    readonly id: string
    readonly mark: string
    readonly tags: readonly string[]
  }[]
  readonly supplies: readonly { readonly id: string; readonly mark: string }[]
  readonly controllers: readonly { readonly id: string; readonly mark: string }[]
  readonly spares: number
}

/** Where one part is used. An opening that left the fitting out or took another part does not count. */
export function partUse(data: JobData, partId: string): PartUse {
  const slots = data.referring('typicalFitting', 'partId', partId)
  const tagsByOpening = new Map<string, string[]>()
  const add = (openingId: string, tag: string): void => {
    const tags = tagsByOpening.get(openingId)
    if (tags === undefined) tagsByOpening.set(openingId, [tag])
    else tags.push(tag)
  }
  for (const slot of slots)
    for (const opening of data.referring('opening', 'typicalId', slot.typicalId)) add(opening.id, slot.tag)
  const drop = (openingId: string, tag: string): void => {
    const tags = tagsByOpening.get(openingId)
    const at = tags?.indexOf(tag) ?? -1
    if (tags === undefined || at < 0) return
    tags.splice(at, 1)
    if (tags.length === 0) tagsByOpening.delete(openingId)
  }
  for (const slot of slots)
    for (const fitting of data.referring('fitting', 'typicalFittingId', slot.id))
      if (follows(data, fitting, slot) && (fitting.leftOut || fitting.partId !== null))
        drop(fitting.openingId, slot.tag)
  for (const fitting of data.referring('fitting', 'partId', partId))
    if (!fitting.leftOut) add(fitting.openingId, fitting.tag ?? slotTag(data, fitting) ?? '?')

  const openings = [...tagsByOpening].flatMap(([id, tags]) => {
    const opening = data.get('opening', id)
    return opening === undefined ? [] : [{ id, mark: opening.mark, tags }]
  })
  const byTypical = Map.groupBy(slots, ({ typicalId }) => typicalId)
  return {
    typicals: [...byTypical].flatMap(([id, each]) => {
      const typical = data.get('typical', id)
      return typical === undefined
        ? []
        : [
            {
              id,
              name: typical.name,
              tags: each.toSorted((one, other) => one.position - other.position).map(({ tag }) => tag),
              openings: data.countReferring('opening', 'typicalId', id),
            },
          ]
    }),
    openings: openings.toSorted((one, other) => compareMarks(one.mark, other.mark)),
    supplies: data.referring('supply', 'partId', partId).map(({ id, mark }) => ({ id, mark })),
    controllers: data.referring('controller', 'partId', partId).map(({ id, mark }) => ({ id, mark })),
    spares: data.referring('spare', 'partId', partId).reduce((sum, { count }) => sum + count, 0),
  }
}

const follows = (
  data: JobData,
  { openingId }: JobRecord<'fitting'>,
  { typicalId }: JobRecord<'typicalFitting'>,
): boolean => data.get('opening', openingId)?.typicalId === typicalId

const slotTag = (data: JobData, { typicalFittingId }: JobRecord<'fitting'>): string | undefined =>
  data.get('typicalFitting', typicalFittingId ?? '')?.tag

const shown = (names: readonly string[]): string => {
  const rest = names.length - 4
  return rest > 0 ? `${names.slice(0, 4).join(', ')} and ${rest} more` : names.join(', ')
}

/** Why a part cannot be removed, with where it is used; null where nothing needs it. */
export function stillUsed(name: string, use: PartUse): string | null {
  const where = [
    ...(use.typicals.length > 0 ? [`typical ${shown(use.typicals.map((each) => each.name))}`] : []),
    ...(use.openings.length > 0 ? [`opening ${shown(use.openings.map(({ mark }) => mark))}`] : []),
    ...(use.supplies.length > 0 ? [`supply ${shown(use.supplies.map(({ mark }) => mark))}`] : []),
    ...(use.controllers.length > 0 ? [`controller ${shown(use.controllers.map(({ mark }) => mark))}`] : []),
  ]
  return where.length === 0 ? null : `${name} is used by ${where.join('; ')}. Take it out there first.`
}

/** "2 supplies and 9 controllers"; null where it is used at none. */
export function elsewhereWords({ supplies, controllers }: PartUse): string | null {
  const words = [
    ...(supplies.length > 0 ? [`${supplies.length} ${supplies.length === 1 ? 'supply' : 'supplies'}`] : []),
    ...(controllers.length > 0
      ? [`${controllers.length} ${controllers.length === 1 ? 'controller' : 'controllers'}`]
      : []),
  ]
  return words.length === 0 ? null : words.join(' and ')
}

/** How far a change of the part goes. */
export function reachWords(use: PartUse): string {
  const { typicals, openings } = use
  const elsewhere = elsewhereWords(use)
  const reached = [
    ...(openings.length > 0 ? [counted(openings.length, 'opening')] : []),
    ...(typicals.length > 0 ? [counted(typicals.length, 'typical')] : []),
    ...(elsewhere === null ? [] : [elsewhere]),
  ]
  return reached.length === 0
    ? 'Nothing uses it: a change here reaches no opening'
    : `A change here reaches ${reached.join(', ')}${openings.length === 0 ? ' and no opening' : ''}`
}
