import { no, says, within, yes, type Check } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, standardSections } from '../sections.ts'
import { noFittings, type OpeningView } from '../view.ts'

export const hardwareHeight: Rule = {
  key: 'hardware-height',
  sentence:
    'Hardware that opens a door is 34 to 48 in. above the floor, and works with one hand without tight grip.',
  severity: 'breaks a rule',
  citations: [ibcSections.hardwareHeight, standardSections.adaHardware],
  content: readIn('S18', 'S7', 'S127'),
  leftToReader: [
    'Pool and spa barriers up to 54 in.; metric adoptions round to 850 to 1200 mm.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: (view) => hasHardware(view),
  asks: ({ facts }) => [
    within(
      facts,
      'hardware-height',
      { atLeast: 34, atMost: 48 },
      (inches) => `The hardware is ${inches} in. above the floor; 34 to 48 in. expected.`,
    ),
    says(facts, 'hardware-one-hand', 'The hardware does not work with one hand.'),
  ],
}

function hasHardware({ fittings }: OpeningView): Check {
  if (fittings === null) return noFittings
  return fittings.some(({ hardware }) => hardware !== null && hardware.motion !== 'key')
    ? yes
    : no('No hardware opens this door.')
}
