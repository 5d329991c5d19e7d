import { isArranged } from '../arrangement.ts'
import { says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const hardwareReleaseMotion: Rule = {
  key: 'hardware-release-motion',
  sentence:
    'The hardware that releases the lock is on the leaf, obvious in all lighting, and works with one hand.',
  severity: 'breaks a rule',
  citations: [ibcSections.hardwareRelease, nfpa101Sections.hardwareRelease],
  content: readIn('S6', 'S15', 'S48'),
  leftToReader: ['Whether people see at once how to leave.', localAmendments],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'release by hardware'),
  asks: ({ facts }) => [
    says(facts, 'hardware-obvious', 'It is not obvious how to work the hardware.'),
    says(facts, 'hardware-one-hand', 'The hardware does not work with one hand.'),
  ],
}
