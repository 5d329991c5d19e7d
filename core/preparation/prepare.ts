// Every fitting of one opening that has something to drill: placed, checked, with its steps.
import { checksOf } from './checks.ts'
import type { DoorToPrepare, Preparations } from './model.ts'
import { placePattern } from './place.ts'
import { stepsOf } from './steps.ts'

/** Lengths in micrometres. Never throws for missing facts: they come back as checks that are not known. */
export function prepareDoor(door: DoorToPrepare): Preparations {
  const all = door.fittings.map((fitting) => placePattern(door, fitting))
  const keepsPattern = new Set(
    door.fittings.filter(({ patterns }) => patterns.length > 0).map(({ key }) => key),
  )
  return {
    mark: door.mark,
    preparations: all
      .filter(({ key }) => keepsPattern.has(key))
      .map((placed) => {
        const checks = checksOf(door, placed, all)
        const mayDrill =
          placed.holes.length > 0 &&
          checks.every(({ verdict }) => verdict === 'met' || verdict === 'does not apply')
        return { ...placed, mark: door.mark, checks, mayDrill, steps: stepsOf(door, placed) }
      }),
    withoutPattern: door.fittings.filter(({ key }) => !keepsPattern.has(key)).map(({ tag }) => tag),
  }
}
