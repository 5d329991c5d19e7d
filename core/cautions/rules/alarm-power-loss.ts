import { anyOf, says } from '../checks.ts'
import { electricallyHeld } from '../held.ts'
import { allVerdicts, localAmendments, readBut, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'

export const alarmPowerLoss: Rule = {
  key: 'alarm-power-loss',
  sentence:
    'Lock supplies are independent and used for locks only, or the fire alarm frees the locks within 10 minutes of losing its primary power.',
  severity: 'can trap someone',
  citations: [standardSections.doorUnlockingPower],
  content: readBut('Read for 2007; the paragraphs of later editions are from memory.', 'S69', 'S70'),
  leftToReader: [
    'The loss meant is that of the fire alarm control unit, not of the lock supply.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: (view) => electricallyHeld(view),
  asks: ({ facts }) => [
    anyOf(
      'The locks can stay held on the battery of the fire alarm or of a shared supply.',
      says(facts, 'lock-supply-independent', 'no'),
      says(facts, 'unlocks-within-10-minutes', 'no'),
    ),
  ],
}
