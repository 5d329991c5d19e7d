import { isArranged } from '../arrangement.ts'
import { within } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { nfpa101Sections } from '../sections.ts'

export const delayedForce: Rule = {
  key: 'delayed-force',
  sentence: 'Not more than 15 lbf starts the release.',
  severity: 'breaks a rule',
  citations: [nfpa101Sections.delayedEgress],
  content: readIn('S43', 'S44'),
  leftToReader: ['The base text of the IBC gives no such force (from memory).', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [
    within(
      facts,
      'delay-effort-force',
      { atMost: 15 },
      (force) => `Starting the release takes ${force} lbf; at most 15 lbf expected.`,
    ),
  ],
}
