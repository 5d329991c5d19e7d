import type { Facts } from '../answers.ts'
import { isArranged } from '../arrangement.ts'
import { all, anyOf, lacks, no, says, servesOnly, within, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const delayedOneInPath: Rule = {
  key: 'delayed-one-in-path',
  sentence:
    'A person passes one delayed door on the way out; in group I two, with at most 30 seconds together.',
  severity: 'can trap someone',
  citations: [ibcSections.delayedEgress],
  content: readIn('S5', 'S31'),
  leftToReader: ['Groups I-1 and I-4 only where sprinklered.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'delayed'),
  asks: ({ facts }) => [passesFew(facts)],
}

function passesFew(facts: Facts): Check {
  const doors = facts.answer('delayed-doors-in-path')
  if (!doors.known) return lacks('delayed-doors-in-path')
  if (doors.value <= 1) return yes
  const words = `A person passes ${doors.value} delayed doors on the way out.`
  if (doors.value > 2) return no(words)
  return all(
    anyOf(
      words,
      servesOnly(facts, ['I-2', 'I-3'], () => 'no'),
      all(
        servesOnly(facts, ['I-1', 'I-2', 'I-3', 'I-4'], () => 'no'),
        says(facts, 'sprinklered', 'no'),
      ),
    ),
    within(
      facts,
      'delay-seconds-in-path',
      { atMost: 30 },
      (seconds) => `Two delayed doors take ${seconds} s together; at most 30 s expected.`,
    ),
  )
}
