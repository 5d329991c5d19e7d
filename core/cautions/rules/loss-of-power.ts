import { mustLetGo } from '../arrangement.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { outOpensIn } from '../view.ts'

export const lossOfPower: Rule = {
  key: 'loss-of-power',
  sentence: 'When the lock loses its power, people get out at once.',
  severity: 'can trap someone',
  citations: [
    ibcSections.sensorRelease,
    ibcSections.hardwareRelease,
    ibcSections.delayedEgress,
    ibcSections.controlledEgress,
    ibcSections.elevatorLobby,
    nfpa101Sections.sensorRelease,
    nfpa101Sections.hardwareRelease,
    nfpa101Sections.delayedEgress,
    nfpa101Sections.elevatorLobby,
  ],
  content: readIn('S5', 'S6', 'S15', 'S32', 'S49'),
  leftToReader: [
    'While a battery still feeds the lock it may hold; how long is a matter of the power figures.',
    localAmendments,
  ],
  gives: allVerdicts,
  whateverCode: true,
  applies: (view) => mustLetGo(view, 'sensor release', 'release by hardware', 'delayed', 'elevator lobby'),
  asks: (view) => [outOpensIn(view, 'no power', 'Without power the way out is still held or delayed.')],
}
