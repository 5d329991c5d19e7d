import { within } from '../checks.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import { latchedIn } from '../view.ts'

export const fireDoorLatches: Rule = {
  key: 'fire-door-latches',
  sentence: 'Every leaf of a fire door latches when the alarm goes off and when power is lost.',
  severity: 'breaks a rule',
  citations: [standardSections.activeLatch],
  content: readIn('S28', 'S53'),
  leftToReader: [
    'Whether the leaf in fact shuts and latches from any position: seen on site.',
    listingDocuments,
  ],
  gives: allVerdicts,
  applies: ({ facts }) => within(facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
  asks: (view) => [
    latchedIn(view, 'fire alarm', (leaf) => `On fire alarm ${leaf} does not latch.`),
    latchedIn(view, 'no power', (leaf) => `Without power ${leaf} does not latch.`),
  ],
}
