import { hasPanicHardware, panicRequiredByIbc } from '../panic.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const panicHardwareIbc: Rule = {
  key: 'panic-hardware-ibc',
  sentence:
    'Swinging doors that latch or lock have panic hardware where they serve 50 people or more of group A or E, or any of group H.',
  severity: 'can trap someone',
  citations: [ibcSections.panicHardware],
  content: readIn('S25', 'S26', 'S5', 'S10'),
  leftToReader: [
    'The main exit of group A under the key lock exception, and electrically locked doors where the edition permits; from 2021 also occupied exterior areas.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: (view) => panicRequiredByIbc(view),
  asks: (view) => [hasPanicHardware(view)],
}
