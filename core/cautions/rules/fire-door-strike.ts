import { all, not, says, within } from '../checks.ts'
import { allVerdicts, listingDocuments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import type { Hold } from '../traits.ts'
import { anyHold } from '../view.ts'

export const fireDoorStrike: Rule = {
  key: 'fire-door-strike',
  sentence: 'An electric strike on a fire door is fail secure and listed for fire doors.',
  severity: 'breaks a rule',
  citations: [standardSections.labelledHardware],
  content: readIn('S27', 'S29'),
  leftToReader: [
    listingDocuments,
    'A stair door that must let people back in needs a fail-safe lock that stays latched, not a strike.',
  ],
  gives: allVerdicts,
  applies: (view) =>
    all(
      within(view.facts, 'fire-label-minutes', { above: 0 }, () => 'It bears no fire label.'),
      anyHold(view, ({ grip }) => grip === 'keeps a latch', 'No electric strike is fitted.'),
    ),
  asks: (view) => [
    not(
      anyHold(view, isFailSafeStrike, 'no'),
      'The electric strike is fail safe; on a fire door only fail secure is listed.',
    ),
    says(view.facts, 'strike-labelled', 'The electric strike is not listed for fire doors.'),
  ],
}

const isFailSafeStrike = ({ grip, holdsWhile }: Hold): boolean | 'not known' =>
  grip !== 'keeps a latch' ? false : holdsWhile === 'not known' ? 'not known' : holdsWhile === 'fed'
