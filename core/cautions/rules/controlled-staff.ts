import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const controlledStaff: Rule = {
  key: 'controlled-staff',
  sentence: 'The emergency plan says how the doors are freed, and all clinical staff carry the means.',
  severity: 'can trap someone',
  citations: [ibcSections.controlledEgress],
  content: readIn('S5', 'S32', 'S33'),
  leftToReader: ['Drills, and people who are new or from outside.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'staff-controlled'),
  asks: ({ facts }) => [
    says(facts, 'release-in-emergency-plan', 'The emergency plan does not say how the doors are freed.'),
    says(facts, 'staff-carry-release', 'Not all clinical staff carry the means to free the doors.'),
  ],
}
