import { isArranged } from '../arrangement.ts'
import { says, servesOnly } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const controlledPermitted: Rule = {
  key: 'controlled-permitted',
  sentence: 'Staff-controlled egress is only for groups I-1 and I-2, where clinical needs require it.',
  severity: 'can trap someone',
  citations: [ibcSections.controlledEgress],
  content: readIn('S1', 'S5', 'S32'),
  leftToReader: [
    'Whether the need is clinical is for the people who give care.',
    'NFPA 101 has paragraphs of its own for care; they were not read.',
    localAmendments,
  ],
  gives: allVerdicts,
  whateverCode: true,
  applies: ({ arrangement }) => isArranged(arrangement, 'staff-controlled'),
  asks: ({ facts }) => [
    servesOnly(facts, ['I-1', 'I-2'], (others) => `It serves ${others}; only I-1 and I-2 are permitted.`),
    says(facts, 'clinical-need', 'No clinical need requires that people be kept in.'),
  ],
}
