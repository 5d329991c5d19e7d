import { isArranged } from '../arrangement.ts'
import { no, yes } from '../checks.ts'
import { localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const unknownArrangement: Rule = {
  key: 'unknown-arrangement',
  sentence: 'A way out is free, or one of the accepted arrangements stands behind whatever holds it.',
  severity: 'can trap someone',
  citations: [ibcSections.doorOperations],
  content: readIn('S8', 'S16', 'S17'),
  leftToReader: [
    'A key lock on the main door, detention, and other exceptions that this program does not recognise.',
    localAmendments,
  ],
  gives: ['met', 'caution', 'not known'],
  whateverCode: true,
  applies: () => yes,
  asks: ({ arrangement }) => [
    arrangement.wayOut === 'not recognised'
      ? no(arrangement.reasons.join(' '))
      : isArranged(
          arrangement,
          'free hardware',
          'sensor release',
          'release by hardware',
          'delayed',
          'staff-controlled',
          'elevator lobby',
        ),
  ],
}
