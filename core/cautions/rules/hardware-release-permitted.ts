import { isArranged } from '../arrangement.ts'
import { not, servesAny } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const hardwareReleasePermitted: Rule = {
  key: 'hardware-release-permitted',
  sentence: 'Release through the hardware is not for group H.',
  severity: 'breaks a rule',
  citations: [ibcSections.hardwareRelease],
  content: readIn('S6', 'S5', 'S15'),
  leftToReader: ['NFPA 101 sets no limit by occupancy.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'release by hardware'),
  asks: ({ facts }) => [
    not(servesAny(facts, ['H'], 'no'), 'It serves group H, where this release is not permitted.'),
  ],
}
