// What several rules ask about a doorway: its sensors, its manual release, whether electricity holds a required way out.
import type { ConditionName, ConditionResult } from '../behaviour/index.ts'
import { isArranged, mustLetGo } from './arrangement.ts'
import { all, anyOf, no, says, yes, type Check } from './checks.ts'
import { anyHold, isElectric, notWorkedOut, opensAtOnce, wayOut, type OpeningView } from './view.ts'

/** The results of this condition for each device that senses people; one check each, so that a missing one shows. */
export function eachSensor(
  view: OpeningView,
  name: ConditionName,
  words: (sensor: string) => string,
): readonly Check[] {
  const sensors = (view.fittings ?? []).filter(({ worked }) => worked === 'approach')
  return sensors.map((sensor) => {
    const results = (view.conditions.get(name) ?? []).filter(
      ({ condition }) => condition.of?.id === sensor.id,
    )
    if (results.length === 0) return notWorkedOut(name)
    return all(...results.map((result: ConditionResult) => opensAtOnce(wayOut(result), words(sensor.name))))
  })
}

export function hasManualRelease({ behaviour, conditions }: OpeningView): Check {
  if (behaviour.length === 0) return notWorkedOut('manual release')
  return conditions.has('manual release') ? yes : no('No manual release is fitted.')
}

/** A required way out that a lock holds by electricity, in a building with a fire alarm. */
export const electricallyHeld = (view: OpeningView): Check =>
  all(
    says(view.facts, 'required-way-out', 'It is in no required way out.'),
    says(view.facts, 'fire-alarm', 'The building has no fire alarm.'),
    anyOf(
      'Nothing holds the way out by electricity, or the hardware releases it.',
      mustLetGo(view, 'sensor release', 'delayed', 'elevator lobby'),
      isArranged(view.arrangement, 'not recognised'),
    ),
    anyHold(view, isElectric, 'Nothing electric holds this door.'),
  )
