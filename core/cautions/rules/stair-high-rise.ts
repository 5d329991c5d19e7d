import { all, not, says } from '../checks.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'
import { inOpensIn } from '../view.ts'

export const stairHighRise: Rule = {
  key: 'stair-high-rise',
  sentence:
    'In a high-rise, locked stair doors unlock together from the fire command centre, and people in the stair can call for help.',
  severity: 'can trap someone',
  citations: [ibcSections.highRiseStairs],
  content: readBut('A communication point at every fifth floor is from memory.', 'S5', 'S36'),
  leftToReader: ['Where the communication points are, and who answers.', localAmendments],
  gives: allVerdicts,
  applies: (view) =>
    all(
      says(view.facts, 'high-rise', 'The building is no high-rise.'),
      says(view.facts, 'stair-door', 'It is no stair door.'),
      not(inOpensIn(view, 'secured', 'no'), 'The stair side is not locked.'),
    ),
  asks: ({ facts }) => [
    says(facts, 'stair-remote-unlock', 'No signal unlocks all doors of the stair at once.'),
    says(
      facts,
      'stair-telephones',
      'The stair has no communication point at every fifth floor (from memory).',
    ),
  ],
}
