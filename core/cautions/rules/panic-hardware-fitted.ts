import { says, within } from '../checks.ts'
import { hasPanicHardware } from '../panic.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const panicHardwareFitted: Rule = {
  key: 'panic-hardware-fitted',
  sentence: 'Panic hardware is listed, acts over at least half the leaf, and unlatches with at most 15 lbf.',
  severity: 'breaks a rule',
  citations: [ibcSections.panicHardware],
  content: readIn('S5', 'S30'),
  leftToReader: [listingDocuments, 'On a fire door it must be fire exit hardware, with no dogging.'],
  gives: allVerdicts,
  applies: (view) => hasPanicHardware(view),
  asks: ({ facts }) => [
    says(facts, 'panic-hardware-listed', 'The panic hardware is not listed for this door.'),
    says(facts, 'panic-half-width', 'The pushing part is less than half the leaf wide.'),
    within(
      facts,
      'panic-unlatching-force',
      { atMost: 15 },
      (force) => `Unlatching takes ${force} lbf; at most 15 lbf expected.`,
    ),
  ],
}
