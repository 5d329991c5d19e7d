import { electricallyHeld } from '../held.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'
import { outOpensIn } from '../view.ts'

export const alarmConnection: Rule = {
  key: 'alarm-connection',
  sentence:
    'A lock that holds a required way out by electricity is connected to the fire alarm and lets go with it.',
  severity: 'can trap someone',
  citations: [standardSections.doorUnlocking],
  content: readIn('S67'),
  leftToReader: [
    'It does not ask that every door with a reader unlock. Release through the hardware is left to the building code.',
    localAmendments,
  ],
  gives: allVerdicts,
  whateverCode: true,
  applies: (view) => electricallyHeld(view),
  asks: (view) => [outOpensIn(view, 'fire alarm', 'On fire alarm the way out is still held or delayed.')],
}
