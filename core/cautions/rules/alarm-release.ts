import { mustLetGo } from '../arrangement.ts'
import { all, says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'
import { outOpensIn } from '../view.ts'

export const alarmRelease: Rule = {
  key: 'alarm-release',
  sentence: 'When the fire alarm goes off, people get out at once.',
  severity: 'can trap someone',
  citations: [
    ibcSections.sensorRelease,
    ibcSections.delayedEgress,
    ibcSections.controlledEgress,
    ibcSections.elevatorLobby,
    nfpa101Sections.sensorRelease,
    nfpa101Sections.delayedEgress,
    nfpa101Sections.elevatorLobby,
  ],
  content: readIn('S5', 'S2', 'S4', 'S43', 'S49'),
  leftToReader: [
    'Release through the door hardware needs no fire alarm under the model codes; a local amendment may ask for it.',
    localAmendments,
  ],
  gives: allVerdicts,
  whateverCode: true,
  applies: (view) =>
    all(
      says(view.facts, 'fire-alarm', 'The building has no fire alarm.'),
      mustLetGo(view, 'sensor release', 'delayed', 'elevator lobby'),
    ),
  asks: (view) => [outOpensIn(view, 'fire alarm', 'On fire alarm the way out is still held or delayed.')],
}
