import { isArranged } from '../arrangement.ts'
import { all, not, says, servesAny } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { nfpa101Sections } from '../sections.ts'

export const delayedChapter: Rule = {
  key: 'delayed-chapter',
  sentence:
    'NFPA 101 permits delayed egress only where the occupancy chapter says so; not at the main entrance of an assembly use.',
  severity: 'breaks a rule',
  citations: [nfpa101Sections.delayedEgress],
  content: readIn('S43', 'S44', 'S46'),
  leftToReader: ['The occupancy chapter, new or existing, and the class of hazard.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [
    says(facts, 'delay-chapter-permits', 'The occupancy chapter does not permit delayed egress here.'),
    not(
      all(servesAny(facts, ['A'], 'no'), says(facts, 'main-entrance', 'no')),
      'It is the main entrance of an assembly use.',
    ),
  ],
}
