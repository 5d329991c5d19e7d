import { isArranged } from '../arrangement.ts'
import { within } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { nfpa101Sections } from '../sections.ts'

export const delayedSignLetters: Rule = {
  key: 'delayed-sign-letters',
  sentence: 'The letters of the sign are at least 1 in. high.',
  severity: 'breaks a rule',
  citations: [nfpa101Sections.delayedEgress],
  content: readIn('S43', 'S44'),
  leftToReader: ['Stroke at least 1/8 in. and contrast with the ground.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [
    within(
      facts,
      'delay-sign-letters',
      { atLeast: 1 },
      (inches) => `The letters are ${inches} in. high; at least 1 in. expected.`,
    ),
  ],
}
