// How long behaviour may count on a battery: what power worked out, where it could.
import { known, unknown, type Fact } from '../behaviour/index.ts'
import type { JobData, JobRecord } from '../job/index.ts'
import { powerOfSupply, type JobPower } from './kept.ts'

/**
 * Seconds from mains lost until a supply's battery is used up, standing by with the alarm still to come; for `batterySeconds` of
 * behaviour. No battery is 0; what power does not know is its question.
 */
export function batterySecondsByPower(
  readPower: () => JobPower,
): (supply: JobRecord<'supply'>) => Fact<number> {
  return (supply) => {
    const power = powerOfSupply(readPower(), supply.id)
    const ask = unknown({ about: 'battery', thing: supply.mark })
    if (power === null) return ask
    const { batteryAmpHours } = power.supply
    if (batteryAmpHours.known && batteryAmpHours.value === null) return known(0)
    const { battery } = power
    if (battery === null || !battery.lasting.known) return ask
    // Whole minutes, never more than it lasts; a battery that nothing draws on lasts a year here.
    return known(Math.floor(Math.min(battery.lasting.lasts.standbyHours, 24 * 365) * 60) * 60)
  }
}

/** The same of the fire alarm system, which nobody works out here: as the job says. */
export function fireAlarmBatterySeconds(data: JobData): Fact<number> {
  for (const { fireAlarmStandbyHours } of data.all('jobTerms'))
    if (fireAlarmStandbyHours !== null) return known(fireAlarmStandbyHours * 3600)
  return unknown({ about: 'battery', thing: 'the fire alarm system' })
}
