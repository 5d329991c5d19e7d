import { isArranged } from '../arrangement.ts'
import { all, isOne } from '../checks.ts'
import { hasManualRelease } from '../held.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const manualReleaseSign: Rule = {
  key: 'manual-release-sign',
  sentence: 'The sign at the manual release says PUSH TO EXIT.',
  severity: 'breaks a rule',
  citations: [ibcSections.sensorRelease, nfpa101Sections.sensorRelease],
  content: readIn('S5', 'S2', 'S3'),
  leftToReader: ['Size and contrast of the letters; words in other languages beside it.', localAmendments],
  gives: allVerdicts,
  applies: (view) => all(isArranged(view.arrangement, 'sensor release'), hasManualRelease(view)),
  asks: ({ facts }) => [
    isOne(facts, 'manual-release-sign', ['PUSH TO EXIT'], 'The sign does not say PUSH TO EXIT.'),
  ],
}
