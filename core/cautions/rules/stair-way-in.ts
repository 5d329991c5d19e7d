import { all, anyOf, not, says, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'
import { inOpensIn, latchedIn, type OpeningView } from '../view.ts'

export const stairWayIn: Rule = {
  key: 'stair-way-in',
  sentence:
    'From the stair people can come back onto the floor, or one signal unlocks all its doors at once and they stay latched.',
  severity: 'can trap someone',
  citations: [ibcSections.stairDoors],
  content: readIn('S5', 'S22', 'S35', 'S8', 'S37'),
  leftToReader: [
    'Exceptions for single exits of tenant spaces and dwellings; 2024 says more about when the stair side must unlock, which was not read.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: ({ facts }) =>
    all(
      says(facts, 'stair-door', 'It is no stair door.'),
      not(says(facts, 'stair-discharge', 'no'), 'It is the door through which the stair lets people out.'),
    ),
  asks: (view) => [canComeBack(view)],
}

function canComeBack(view: OpeningView): Check {
  return anyOf(
    'The stair side is locked, and no signal unlocks all doors of the stair at once while they stay latched.',
    inOpensIn(view, 'secured', 'no'),
    all(
      says(view.facts, 'stair-remote-unlock', 'no'),
      inOpensIn(view, 'no power', 'no'),
      latchedIn(view, 'no power', () => 'no'),
    ),
  )
}
