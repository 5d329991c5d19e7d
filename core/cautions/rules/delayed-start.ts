import { isArranged } from '../arrangement.ts'
import { says, within } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const delayedStart: Rule = {
  key: 'delayed-start',
  sentence: 'Effort for at most 3 seconds starts a release that cannot be stopped.',
  severity: 'can trap someone',
  citations: [ibcSections.delayedEgress, nfpa101Sections.delayedEgress],
  content: readIn('S7', 'S4', 'S43', 'S44'),
  leftToReader: ['One state adoption says 1 second.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [
    within(
      facts,
      'delay-effort-seconds',
      { atMost: 3 },
      (seconds) => `A person must push for ${seconds} s; at most 3 s expected.`,
    ),
    says(facts, 'delay-irreversible', 'The release can be stopped once started.'),
  ],
}
