import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const delayedRemote: Rule = {
  key: 'delayed-remote',
  sentence: 'The delay can be taken off from the fire command centre and other approved places.',
  severity: 'breaks a rule',
  citations: [ibcSections.delayedEgress],
  content: readIn('S5'),
  leftToReader: ['Which places are approved.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [
    says(facts, 'delay-remote-off', 'The delay cannot be taken off from an approved place.'),
  ],
}
