import { all, says, within } from '../checks.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import { anyHold, latchedIn } from '../view.ts'

export const fireDoorMagnet: Rule = {
  key: 'fire-door-magnet',
  sentence: 'A magnet on a fire door is itself labelled, and the door latches without it.',
  severity: 'breaks a rule',
  citations: [standardSections.labelledHardware],
  content: readIn('S54', 'S24', 'S55'),
  leftToReader: [
    listingDocuments,
    'Grade 1, 2 or 3 of a magnet says how long it lasts, not how hard it holds.',
  ],
  gives: allVerdicts,
  applies: (view) =>
    all(
      within(view.facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
      anyHold(view, ({ grip }) => grip === 'holds the leaf', 'No magnet holds the leaf shut.'),
    ),
  asks: (view) => [
    says(view.facts, 'magnet-labelled', 'The magnet is not labelled for fire doors.'),
    latchedIn(view, 'fire alarm', (leaf) => `On fire alarm ${leaf} has no latch to hold it shut.`),
  ],
}
