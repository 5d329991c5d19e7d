// What has to be done after handover, and by when: fire doors, batteries, and the tasks people wrote down.
import type { Id, JobData, LabelClass } from '../job/index.ts'
import { addMonths, wholeMonthsBetween } from './calendar-months.ts'
import { byPosition, openingsInOrder } from './in-order.ts'
import { warranties, warrantyGroups } from './warranties.ts'

/** NFPA 80: fire doors are inspected at installation and each year; confirmed by secondary pages only, [S52][S60][S61]. */
export const fireDoorInspectionMonths = 12
/**
 * NFPA 72, 2022: a battery's label says a replacement date of at most 4 years from its installation; one secondary page, [S75].
 * It is written for fire alarm batteries; for the batteries of lock supplies it is taken as practice.
 */
export const batteryReplacementMonths = 48

const fireDoorSource = 'NFPA 80, each year; local codes and the authority having jurisdiction decide'
const batterySource =
  'NFPA 72 (2022), at most 4 years from installation, written for fire alarm batteries; the maker may say less'

/** The next yearly inspection of one door with a fire label. */
export interface FireDoorInspection {
  readonly openingId: Id<'opening'>
  readonly mark: string
  readonly labelMinutes: number | null
  readonly labelClass: LabelClass | null
  /** Twelve months after installation: the job keeps no record of inspections. Null is not known. */
  readonly dueOn: string | null
  readonly question: string | null
}

/** Openings with a fire label, and those whose label is a question. An opening known to bear none is not there. */
export function fireDoorInspections(data: JobData): FireDoorInspection[] {
  return openingsInOrder(data).flatMap((opening): FireDoorInspection[] => {
    const { id, mark, fireLabelMinutes: labelMinutes, fireLabelClass: labelClass, installedOn } = opening
    if (labelMinutes === 0) return []
    const row = { openingId: id, mark, labelMinutes, labelClass }
    if (labelMinutes === null && labelClass === null)
      return [{ ...row, dueOn: null, question: `Does ${mark} bear a fire label?` }]
    if (installedOn === null) return [{ ...row, dueOn: null, question: `When was ${mark} installed?` }]
    return [{ ...row, dueOn: addMonths(installedOn, fireDoorInspectionMonths), question: null }]
  })
}

/** How old the battery of a supply is and when it is to be replaced. */
export interface BatteryAge {
  readonly supplyId: Id<'supply'>
  readonly mark: string
  readonly installedOn: string | null
  /** Whole months; null is not known. */
  readonly ageMonths: number | null
  readonly replaceBy: string | null
  readonly question: string | null
}

/** Supplies with a battery, and those of which nobody said whether they have one. */
export function batteryAges(data: JobData, today: string): BatteryAge[] {
  return byPosition(data.all('supply')).flatMap((supply): BatteryAge[] => {
    const { id: supplyId, mark, batteryInstalledOn: installedOn } = supply
    const [terms] = data.referring('supplyTerms', 'supplyId', supplyId)
    if (terms?.hasBattery === false) return []
    const row = { supplyId, mark, installedOn, ageMonths: null, replaceBy: null }
    const said = terms?.hasBattery === true || supply.batteryAmpHours !== null || installedOn !== null
    if (!said) return [{ ...row, question: `Has ${mark} a battery?` }]
    if (installedOn === null) return [{ ...row, question: `When was the battery of ${mark} installed?` }]
    return [
      {
        ...row,
        ageMonths: wholeMonthsBetween(installedOn, today),
        replaceBy: addMonths(installedOn, batteryReplacementMonths),
        question: null,
      },
    ]
  })
}

export type DueForm = 'fire door inspection' | 'battery' | 'task' | 'warranty'

/** One thing of the calendar. */
export interface DueItem {
  /** The same each time it is worked out, as long as what it stands for is the same. */
  readonly key: string
  readonly form: DueForm
  readonly title: string
  readonly details: string
  /** yyyy-mm-dd; null is not known. */
  readonly dueOn: string | null
  readonly state: 'overdue' | 'to come' | 'not known'
  /** Null comes once, or nobody said how often. */
  readonly everyMonths: number | null
  readonly openingIds: readonly Id<'opening'>[]
  readonly supplyId: Id<'supply'> | null
  readonly partId: Id<'part'> | null
  readonly questions: readonly string[]
  /** Where the interval comes from; null where a person or a part said it. */
  readonly source: string | null
}

const stateOf = (dueOn: string | null, today: string): DueItem['state'] =>
  dueOn === null ? 'not known' : dueOn < today ? 'overdue' : 'to come'

const listed = (marks: readonly string[]): string => marks.join(', ')

const nowhere = { openingIds: [], supplyId: null, partId: null } as const

/** Fire doors of one building that are due on one day are one item; those not known are one item with their questions. */
function fireDoorItems(data: JobData, today: string): DueItem[] {
  const buildingOf = (id: string): string => {
    const level = data.get('level', data.get('opening', id)?.levelId ?? '')
    return level?.buildingId ?? ''
  }
  const groups = Map.groupBy(fireDoorInspections(data), (each) =>
    JSON.stringify([buildingOf(each.openingId), each.dueOn]),
  )
  return [...groups.values()].map((same) => {
    const building = data.get('building', buildingOf(same[0]?.openingId ?? ''))
    const dueOn = same[0]?.dueOn ?? null
    const marks = same.map((each) => each.mark)
    const what = same.length === 1 ? `fire door ${marks[0] ?? ''}` : `${same.length} fire doors`
    const maybe = dueOn === null ? 'Doors that may need the yearly inspection' : `Inspect ${what}`
    const several = data.count('building') > 1 && building !== undefined
    return {
      ...nowhere,
      key: `fire-doors ${building?.id ?? ''} ${dueOn ?? 'not known'}`,
      form: 'fire door inspection',
      title: several ? `${maybe}, ${building.name}` : maybe,
      details: `Openings ${listed(marks)}. From both sides, with a written record.`,
      dueOn,
      state: stateOf(dueOn, today),
      everyMonths: fireDoorInspectionMonths,
      openingIds: same.map((each) => each.openingId),
      questions: same.flatMap((each) => each.question ?? []),
      source: fireDoorSource,
    }
  })
}

const batteryItems = (data: JobData, today: string): DueItem[] =>
  batteryAges(data, today).map((each) => ({
    ...nowhere,
    key: `battery ${each.supplyId}`,
    form: 'battery',
    title: `Replace the battery of ${each.mark}`,
    details: each.installedOn === null ? '' : `Installed on ${each.installedOn}.`,
    dueOn: each.replaceBy,
    state: stateOf(each.replaceBy, today),
    everyMonths: batteryReplacementMonths,
    supplyId: each.supplyId,
    questions: each.question === null ? [] : [each.question],
    source: batterySource,
  }))

function taskItems(data: JobData, today: string): DueItem[] {
  return byPosition(data.all('maintenanceTask')).map((task) => {
    const about = [
      task.openingId === null ? '' : `Opening ${data.get('opening', task.openingId)?.mark ?? ''}.`,
      task.supplyId === null ? '' : `Supply ${data.get('supply', task.supplyId)?.mark ?? ''}.`,
      task.partId === null ? '' : `${data.get('part', task.partId)?.name ?? ''}.`,
      task.notes ?? '',
    ]
    return {
      key: `task ${task.id}`,
      form: 'task',
      title: task.name,
      details: about.filter((each) => each !== '').join(' '),
      dueOn: task.nextOn,
      state: stateOf(task.nextOn, today),
      everyMonths: task.everyMonths,
      openingIds: task.openingId === null ? [] : [task.openingId],
      supplyId: task.supplyId,
      partId: task.partId,
      questions: task.nextOn === null ? [`When is "${task.name}" next due?`] : [],
      source: null,
    }
  })
}

const warrantyItems = (data: JobData, today: string): DueItem[] =>
  warrantyGroups(warranties(data))
    .filter((group) => group.months !== 0)
    .map((group) => ({
      ...nowhere,
      key: `warranty ${group.partId} ${group.startedOn ?? 'not known'}`,
      form: 'warranty',
      title: `Warranty ends: ${group.count} x ${group.partName}`,
      details: `On ${listed(group.marks)}.`,
      dueOn: group.endsOn,
      state: stateOf(group.endsOn, today),
      everyMonths: null,
      partId: group.partId,
      questions: group.questions,
      source: null,
    }))

/**
 * The maintenance calendar of the job: yearly fire door inspections, batteries, tasks that people wrote down and ends of
 * warranties; the earliest first, what has no date last with its questions. Today is yyyy-mm-dd.
 */
export function dueItems(data: JobData, today: string): DueItem[] {
  const all = [
    ...fireDoorItems(data, today),
    ...batteryItems(data, today),
    ...taskItems(data, today),
    ...warrantyItems(data, today),
  ]
  // Sorting keeps the order of equals, so forms stay as listed above.
  return all.toSorted((a, b) => {
    const [one, other] = [a.dueOn ?? '9999', b.dueOn ?? '9999']
    return one < other ? -1 : one > other ? 1 : 0
  })
}
