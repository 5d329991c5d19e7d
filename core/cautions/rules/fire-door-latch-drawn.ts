import { all, within, type Check } from '../checks.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import type { Hold } from '../traits.ts'
import {
  allLatched,
  anyHold,
  isElectric,
  notWorkedOut,
  resultOfAlarmInOpenHours,
  type OpeningView,
} from '../view.ts'

export const fireDoorLatchDrawn: Rule = {
  key: 'fire-door-latch-drawn',
  sentence:
    'A latch or strike that is held drawn on a fire door lets the door latch when the alarm goes off.',
  severity: 'breaks a rule',
  citations: [standardSections.activeLatch],
  content: readIn('S53', 'S28'),
  leftToReader: ['Which detector or alarm starts it: an automatic fire detector is meant.', listingDocuments],
  gives: allVerdicts,
  applies: (view) =>
    all(
      within(view.facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
      anyHold(view, isDrawnByPower, 'No latch or strike is drawn by power.'),
    ),
  asks: (view) => [latchesAgain(view)],
}

const isDrawnByPower = (hold: Hold): boolean | 'not known' =>
  hold.grip === 'latches' || hold.grip === 'keeps a latch' ? isElectric(hold) : false

/** The alarm while the controller holds the opening released: the moment when the latch is drawn. */
function latchesAgain(view: OpeningView): Check {
  const result = resultOfAlarmInOpenHours(view)
  if (result === null) return notWorkedOut('together')
  return allLatched(result, (leaf) => `Released in open hours, ${leaf} does not latch on fire alarm.`)
}
