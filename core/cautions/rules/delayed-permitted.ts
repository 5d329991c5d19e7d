import type { Facts } from '../answers.ts'
import { isArranged } from '../arrangement.ts'
import { all, anyOf, not, says, servesOnly, within, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const delayedPermitted: Rule = {
  key: 'delayed-permitted',
  sentence: 'Delayed egress is for groups B, F, I, M, R, S and U, and for some classrooms and courtrooms.',
  severity: 'breaks a rule',
  citations: [ibcSections.delayedEgress],
  content: readIn('S4', 'S8'),
  leftToReader: [
    'Which rooms count as classroom or courtroom, and which door as the main exit.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [isPermitted(facts)],
}

const groups = ['B', 'F', 'I-1', 'I-2', 'I-3', 'I-4', 'M', 'R', 'S', 'U']

function isPermitted(facts: Facts): Check {
  return anyOf(
    'Delayed egress is not permitted for the groups this door serves.',
    servesOnly(facts, groups, () => 'no'),
    all(
      servesOnly(facts, [...groups, 'E'], () => 'no'),
      says(facts, 'classroom', 'no'),
      within(facts, 'occupant-load', { below: 50 }, () => 'no'),
    ),
    all(
      servesOnly(facts, [...groups, 'A-3'], () => 'no'),
      says(facts, 'courtroom', 'no'),
      not(says(facts, 'main-entrance', 'no'), 'no'),
      says(facts, 'sprinklered', 'no'),
    ),
  )
}
