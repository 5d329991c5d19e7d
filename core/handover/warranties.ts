// Until when each fitted part is under warranty.
import { effectiveFittings, type Id, type JobData, type Part } from '../job/index.ts'
import { addMonths } from './calendar-months.ts'
import { byPosition, openingsInOrder } from './in-order.ts'

/** The warranty of one fitted part. */
export interface Warranty {
  /** The fitting's, the supply's or the controller's key; the same each time. */
  readonly key: string
  readonly openingId: Id<'opening'> | null
  /** The mark of the opening, or of the supply or controller itself. */
  readonly mark: string
  readonly tag: string | null
  readonly partId: Id<'part'>
  readonly partName: string
  readonly serial: string | null
  /** Null is not known; 0 is known to have none. */
  readonly months: number | null
  readonly startedOn: string | null
  /** Null when not known, and when there is none. */
  readonly endsOn: string | null
  /** What to answer to know the end; null when it is known. */
  readonly question: string | null
}

interface Fitted {
  readonly key: string
  readonly openingId: Id<'opening'> | null
  readonly mark: string
  readonly tag: string | null
  readonly part: Part
  readonly serial: string | null
  readonly startedOn: string | null
}

function warrantyOf(each: Fitted): Warranty {
  const { key, openingId, mark, tag, part, serial, startedOn } = each
  const months = part.warrantyMonths
  const called = tag === null ? mark : `${tag} of ${mark}`
  const question =
    months === null
      ? `How many months of warranty has ${part.name}?`
      : startedOn === null && months > 0
        ? `When was ${called} installed?`
        : null
  const endsOn = months === null || months === 0 || startedOn === null ? null : addMonths(startedOn, months)
  return {
    key,
    openingId,
    mark,
    tag,
    partId: part.id,
    partName: part.name,
    serial,
    months,
    startedOn,
    endsOn,
    question,
  }
}

/**
 * The warranty of every fitted part, in the order of the schedule; supplies and controllers last. It starts on the day the
 * fitting was installed, else the opening, and ends so many calendar months later (common practice, no source: the contract
 * may say substantial completion). Supplies and controllers keep no day of installation, so theirs is a question.
 */
export function warranties(data: JobData): Warranty[] {
  const fitted: Fitted[] = []
  for (const opening of openingsInOrder(data))
    for (const each of effectiveFittings(data, opening)) {
      if (each.leftOut || each.part === null) continue
      fitted.push({
        key: each.key,
        openingId: opening.id,
        mark: opening.mark,
        tag: each.tag,
        part: each.part,
        serial: each.serial,
        startedOn: each.fitting?.installedOn ?? opening.installedOn,
      })
    }
  for (const kind of ['supply', 'controller'] as const)
    for (const { id, mark, partId } of byPosition(data.all(kind))) {
      const part = partId === null ? undefined : data.get('part', partId)
      if (part === undefined) continue
      fitted.push({
        key: id,
        openingId: null,
        mark,
        tag: null,
        part,
        serial: null,
        startedOn: null,
      })
    }
  return fitted.map(warrantyOf)
}

/** Warranties of one part that start and end together, or that are not known. */
export interface WarrantyGroup {
  readonly partId: Id<'part'>
  readonly partName: string
  readonly months: number | null
  /** Null where the end is. */
  readonly startedOn: string | null
  readonly endsOn: string | null
  readonly count: number
  /** Each mark once, in order. */
  readonly marks: readonly string[]
  /** Each question once. */
  readonly questions: readonly string[]
}

/** Warranties put together by part and end, the earliest end first, those not known last. */
export function warrantyGroups(list: readonly Warranty[]): WarrantyGroup[] {
  const groups = [
    ...Map.groupBy(list, (each) =>
      JSON.stringify([each.partId, each.endsOn === null ? null : each.startedOn]),
    ).values(),
  ]
  return groups
    .flatMap((same) => {
      const [first] = same
      if (first === undefined) return []
      const { partId, partName, months, endsOn } = first
      const startedOn = endsOn === null ? null : first.startedOn
      return [
        {
          partId,
          partName,
          months,
          startedOn,
          endsOn,
          count: same.length,
          marks: [...new Set(same.map((each) => each.mark))],
          questions: [...new Set(same.flatMap((each) => each.question ?? []))],
        },
      ]
    })
    .toSorted((a, b) => {
      const [one, other] = [a.endsOn ?? '9999', b.endsOn ?? '9999']
      return one < other
        ? -1
        : one > other
          ? 1
          : a.partName < b.partName
            ? -1
            : a.partName > b.partName
              ? 1
              : 0
    })
}
