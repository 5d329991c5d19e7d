import { isArranged } from '../arrangement.ts'
import { not, servesAny } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections } from '../sections.ts'

export const sensorReleasePermitted: Rule = {
  key: 'sensor-release-permitted',
  sentence: 'Release by a sensor is not for group H.',
  severity: 'breaks a rule',
  citations: [ibcSections.sensorRelease],
  content: readIn('S2', 'S5'),
  leftToReader: [
    'NFPA 101 permits it chapter by chapter; older editions name fewer groups.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: ({ arrangement }) => isArranged(arrangement, 'sensor release'),
  asks: ({ facts }) => [
    not(servesAny(facts, ['H'], 'no'), 'It serves group H, where release by a sensor is not permitted.'),
  ],
}
