import { hasPanicHardware, panicRequiredByNec } from '../panic.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { standardSections } from '../sections.ts'

export const electricalRoomNec: Rule = {
  key: 'electrical-room-nec',
  sentence:
    'Doors within 25 ft of the working space at equipment of 800 A or 600 V or more, and of battery rooms, have panic hardware.',
  severity: 'can trap someone',
  citations: [standardSections.necEgress],
  content: readIn('S26'),
  leftToReader: ['Which edition of the NEC holds, and how it words the rating.', localAmendments],
  gives: allVerdicts,
  applies: (view) => panicRequiredByNec(view),
  asks: (view) => [hasPanicHardware(view)],
}
