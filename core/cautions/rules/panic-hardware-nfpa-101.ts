import { hasPanicHardware, panicRequiredByNfpa101 } from '../panic.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { nfpa101Sections } from '../sections.ts'

export const panicHardwareNfpa101: Rule = {
  key: 'panic-hardware-nfpa-101',
  sentence:
    'Doors that latch or lock have panic hardware where they serve 100 people or more of assembly, educational or day care use, or more than 5 in high-hazard contents.',
  severity: 'can trap someone',
  citations: [nfpa101Sections.panicHardware],
  content: readIn('S25', 'S26'),
  leftToReader: ['Which occupancy chapter holds; group I-4 is taken here as day care.', localAmendments],
  gives: allVerdicts,
  applies: (view) => panicRequiredByNfpa101(view),
  asks: (view) => [hasPanicHardware(view)],
}
