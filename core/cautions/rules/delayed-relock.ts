import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const delayedRelock: Rule = {
  key: 'delayed-relock',
  sentence: 'After a release the door is locked again only by hand, at the door.',
  severity: 'breaks a rule',
  citations: [ibcSections.delayedEgress, nfpa101Sections.delayedEgress],
  content: readIn('S5', 'S43'),
  leftToReader: ['Who does it, and whether the setting sheet shows it.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [
    says(facts, 'delay-relock-by-hand', 'The delay is set again otherwise than by hand at the door.'),
  ],
}
