// What the worst moment leaves each fed device, by opening.
import type { JobData } from '../job/index.ts'
import { scenarioWords, type OutputStudy, type SupplyPower } from '../power/index.ts'

export interface DeviceVolts {
  readonly fittingId: string
  readonly name: string
  readonly verdict: string
  /** Null is not known. */
  readonly volts: number | null
  readonly amps: number | null
  readonly marginVolts: number | null
  /** The circumstance in which it stands worst. */
  readonly when: string | null
}

/** Every device of an output in its worst case. */
export const devicesOf = (study: OutputStudy): readonly DeviceVolts[] =>
  study.output.loads.map(({ id, name }) => {
    const worst = study.worst.get(id)
    return {
      fittingId: id,
      name,
      verdict: worst?.device.verdict ?? 'not known',
      volts: worst?.device.volts ?? null,
      amps: worst?.device.amps ?? null,
      marginVolts: worst?.device.marginVolts ?? null,
      when: worst === undefined ? null : scenarioWords(worst.scenario),
    }
  })

/** Every fed device by the opening it is on; devices on none stand under ''. */
export function voltsByOpening(
  data: JobData,
  supplies: readonly SupplyPower[],
): ReadonlyMap<string, readonly DeviceVolts[]> {
  const all = supplies.flatMap(({ outputs }) => outputs.flatMap(({ study }) => devicesOf(study)))
  return Map.groupBy(all, ({ fittingId }) => data.get('fitting', fittingId)?.openingId ?? '')
}

/** Names of those outside the volts they work with. */
export const lowNames = (devices: readonly DeviceVolts[]): readonly string[] =>
  devices.filter(({ verdict }) => verdict === 'not met').map(({ name }) => name)
