import { isArranged } from '../arrangement.ts'
import { all, no } from '../checks.ts'
import { ibc, inferred, noSection } from '../citations.ts'
import { panicRequiredByIbc } from '../panic.ts'
import { localAmendments, readIn, type Rule } from '../rule.ts'

export const sensorReleasePanic: Rule = {
  key: 'sensor-release-panic',
  sentence:
    'From 2024 release by a sensor is not for doors that must have panic hardware; the hardware itself must release them.',
  severity: 'breaks a rule',
  citations: [ibc('sensor release', noSection('S5'), noSection('S10'), inferred('1010.2.11'))],
  content: readIn('S14'),
  leftToReader: ['The 2018 text allowed either release on such doors of groups A and E.', localAmendments],
  gives: ['caution', 'does not apply', 'not known'],
  applies: (view) => all(isArranged(view.arrangement, 'sensor release'), panicRequiredByIbc(view)),
  asks: () => [
    no('This door must have panic hardware: the 2024 code does not permit release by a sensor here.'),
  ],
}
