import { isArranged } from '../arrangement.ts'
import { eachSensor } from '../held.ts'
import { allVerdicts, localAmendments, readIn, type Rule } from '../rule.ts'
import { ibcSections, nfpa101Sections } from '../sections.ts'

export const sensorUnlocks: Rule = {
  key: 'sensor-unlocks',
  sentence: 'A sensor on the egress side frees the door for whoever comes.',
  severity: 'can trap someone',
  citations: [ibcSections.sensorRelease, nfpa101Sections.sensorRelease],
  content: readIn('S5', 'S2'),
  leftToReader: ['Where the sensor looks, and how it is set, is seen only on site.', localAmendments],
  gives: allVerdicts,
  whateverCode: true,
  applies: ({ arrangement }) => isArranged(arrangement, 'sensor release'),
  asks: (view) => eachSensor(view, 'exit asked', (sensor) => `${sensor} does not free the way out.`),
}
