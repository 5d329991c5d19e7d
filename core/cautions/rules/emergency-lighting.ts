import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const emergencyLighting: Rule = {
  key: 'emergency-lighting',
  sentence: 'The egress side of a delayed or staff-controlled door has emergency lighting.',
  severity: 'breaks a rule',
  citations: [ibcSections.delayedEgress, ibcSections.controlledEgress, nfpa101Sections.delayedEgress],
  content: readIn('S5', 'S43', 'S44'),
  leftToReader: ['How bright and for how long: the lighting section of the code.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed', 'staff-controlled'),
  asks: ({ facts }) => [
    says(facts, 'emergency-lighting', 'There is no emergency lighting on the egress side.'),
  ],
}
