import { isArranged, mustLetGo } from '../arrangement.ts'
import { all, within } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const controlledOneDoor: Rule = {
  key: 'controlled-one-door',
  sentence: 'A person passes not more than one staff-controlled door before an exit.',
  severity: 'can trap someone',
  citations: [ibcSections.controlledEgress],
  content: readIn('S5', 'S32'),
  leftToReader: ['How the ways out run on the plan.', localAmendments],
  gives: allVerdicts,
  applies: (view) => all(isArranged(view.arrangement, 'staff-controlled'), mustLetGo(view)),
  asks: ({ facts }) => [
    within(
      facts,
      'controlled-doors-in-path',
      { atMost: 1 },
      (doors) => `A person passes ${doors} staff-controlled doors; at most 1 expected.`,
    ),
  ],
}
