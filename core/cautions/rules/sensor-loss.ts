import { isArranged } from '../arrangement.ts'
import { eachSensor } from '../held.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const sensorLoss: Rule = {
  key: 'sensor-loss',
  sentence: 'When a sensor loses its own power, the door is free.',
  severity: 'can trap someone',
  citations: [ibcSections.sensorRelease, nfpa101Sections.sensorRelease],
  content: readIn('S5', 'S2'),
  leftToReader: [
    "Whether the sensor as fitted opens its contact without power: the maker's instructions.",
    localAmendments,
  ],
  gives: allVerdicts,
  whateverCode: true,
  applies: ({ arrangement }) => isArranged(arrangement, 'sensor release'),
  asks: (view) =>
    eachSensor(
      view,
      'sensor lost',
      (sensor) => `Without power of its own, ${sensor} leaves the way out held.`,
    ),
}
