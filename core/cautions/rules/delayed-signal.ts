import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const delayedSignal: Rule = {
  key: 'delayed-signal',
  sentence: 'A signal near the door sounds when the release starts.',
  severity: 'breaks a rule',
  citations: [ibcSections.delayedEgress, nfpa101Sections.delayedEgress],
  content: readIn('S5', 'S45'),
  leftToReader: ['Whether it is loud enough at the door.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [says(facts, 'delay-audible', 'No signal sounds near the door.')],
}
