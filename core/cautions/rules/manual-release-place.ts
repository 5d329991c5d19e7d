import { isArranged } from '../arrangement.ts'
import { all, says, within } from '../checks.ts'
import { hasManualRelease } from '../held.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const manualReleasePlace: Rule = {
  key: 'manual-release-place',
  sentence: 'A manual release stands 40 to 48 in. above the floor, within 5 ft of the door, ready to reach.',
  severity: 'breaks a rule',
  citations: [ibcSections.sensorRelease, nfpa101Sections.sensorRelease],
  content: readIn('S5', 'S2', 'S3'),
  leftToReader: ['Metric adoptions round to 1000 to 1200 mm and 1500 mm.', localAmendments],
  gives: allVerdicts,
  applies: (view) => all(isArranged(view.arrangement, 'sensor release'), hasManualRelease(view)),
  asks: ({ facts }) => [
    within(
      facts,
      'manual-release-height',
      { atLeast: 40, atMost: 48 },
      (inches) => `The manual release is ${inches} in. above the floor; 40 to 48 in. expected.`,
    ),
    within(
      facts,
      'manual-release-distance',
      { atMost: 5 },
      (feet) => `The manual release is ${feet} ft from the door; at most 5 ft expected.`,
    ),
    says(facts, 'manual-release-ready', 'The manual release cannot be reached at once.'),
  ],
}
