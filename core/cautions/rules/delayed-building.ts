import { isArranged } from '../arrangement.ts'
import { anyOf, says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const delayedBuilding: Rule = {
  key: 'delayed-building',
  sentence:
    'Delayed egress needs a building that is sprinklered throughout or has approved automatic smoke or heat detection.',
  severity: 'breaks a rule',
  citations: [ibcSections.delayedEgress, nfpa101Sections.delayedEgress],
  content: readIn('S4', 'S43', 'S44'),
  leftToReader: ['Whether the sprinklers and the detection are of the approved kind.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [
    anyOf(
      'The building has neither sprinklers throughout nor automatic fire detection.',
      says(facts, 'sprinklered', 'no'),
      says(facts, 'fire-detection', 'no'),
    ),
  ],
}
