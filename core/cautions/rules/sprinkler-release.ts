import { mustLetGo } from '../arrangement.ts'
import { all, anyOf, says } from '../checks.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const sprinklerRelease: Rule = {
  key: 'sprinkler-release',
  sentence: 'When sprinklers flow or fire is detected automatically, people get out at once.',
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
  content: readIn('S5', 'S2', 'S4', 'S43'),
  leftToReader: [
    'Which detectors free which doors: NFPA 101 speaks of any heat detector or not more than two smoke detectors.',
    localAmendments,
  ],
  gives: allVerdicts,
  applies: (view) =>
    all(
      anyOf(
        'The building has neither sprinklers nor automatic fire detection.',
        says(view.facts, 'sprinklered', 'no'),
        says(view.facts, 'fire-detection', 'no'),
      ),
      mustLetGo(view, 'sensor release', 'delayed', 'elevator lobby'),
    ),
  asks: ({ facts }) => [
    says(facts, 'sprinkler-unlocks', 'Sprinkler flow or fire detection does not free the locks.'),
  ],
}
