// Openings of the demo job as somebody who is called sees them.
import { readFileSync } from 'node:fs'
import path from 'node:path'
import { behaviourOf, declaredInJob, doorwayOf, unknown } from '../../../core/behaviour/index.ts'
import { readTwin } from '../../../core/exchange/index.ts'
import type { JobData, Opening } from '../../../core/job/index.ts'
import { keptPower } from '../../../core/power/index.ts'
import { sceneOf, type Scene, type SceneSources } from '../../../core/service/index.ts'

const text = readFileSync(
  path.join(import.meta.dirname, '../../../fixtures/demo/harrow-street-clinic.json'),
  'utf8',
)

/** A demo job of one's own. */
export function demoJob(): JobData {
  const read = readTwin(text)
  if (!read.ok) throw new Error(read.problem.sentence)
  return read.twin.data
}

export function openingOf(data: JobData, mark: string): Opening {
  const found = [...data.all('opening')].find((each) => each.mark === mark)
  if (found === undefined) throw new Error(`no opening ${mark}`)
  return found
}

/** Gives scenes of a job that does not change meanwhile. */
export function scenesOf(data: JobData, today = '2026-11-25', changes: SceneSources['changes'] = []) {
  const declared = declaredInJob(data)
  const { supplies } = keptPower(data).read()
  return (opening: Opening): Scene => {
    const answer = doorwayOf(data, opening, {
      declared,
      stage: 'found',
      batterySeconds: ({ mark }) => unknown({ about: 'battery', thing: mark }),
      fireAlarmBatterySeconds: unknown({ about: 'battery', thing: 'the fire alarm system' }),
    })
    return sceneOf(data, opening, {
      today,
      behaviour: answer.ok ? behaviourOf(answer.doorway) : null,
      powerOf: (id) => supplies.find(({ supply }) => supply.id === id) ?? null,
      changes,
    })
  }
}
