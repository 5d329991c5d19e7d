import { isArranged } from '../arrangement.ts'
import { anyOf, says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const controlledBuilding: Rule = {
  key: 'controlled-building',
  sentence: 'Staff-controlled egress needs sprinklers throughout or automatic smoke or heat detection.',
  severity: 'breaks a rule',
  citations: [ibcSections.controlledEgress],
  content: readIn('S1'),
  leftToReader: ['Whether the sprinklers and the detection are of the approved kind.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'staff-controlled'),
  asks: ({ facts }) => [
    anyOf(
      'The building has neither sprinklers throughout nor automatic fire detection.',
      says(facts, 'sprinklered', 'no'),
      says(facts, 'fire-detection', 'no'),
    ),
  ],
}
