// What the figure "volts along the run" is drawn from.
import type { Units } from '../job/index.ts'
import { cableWords, figure } from './sentences.ts'

export interface VoltsPoint {
  readonly metres: number
  readonly volts: number
}

/** One circumstance: its line from place to place, and what each device has in it. */
export interface VoltsCase {
  readonly key: 'worst' | 'battery'
  /** "Worst moment on mains: at the lowest rated output, cable at 50 °C". */
  readonly words: string
  readonly legs: readonly { readonly from: VoltsPoint; readonly to: VoltsPoint }[]
}

export interface VoltsDevice {
  readonly load: string
  readonly name: string
  readonly metres: number
  readonly minimumVolts: number | null
  readonly worstVolts: number | null
  readonly batteryVolts: number | null
  /** Outside its window in one of the two. */
  readonly broken: boolean
}

export interface VoltsFigureInput {
  readonly name: string
  readonly units: Units
  readonly cases: readonly VoltsCase[]
  readonly devices: readonly VoltsDevice[]
  /** Devices without a place or a figure yet. */
  readonly notShown: readonly string[]
}

/** The figure in words, for those who cannot see it. */
export function voltsFigureWords({ name, devices, units, notShown }: VoltsFigureInput): string {
  const said = devices.map(({ name: device, metres, worstVolts, batteryVolts, minimumVolts, broken }) => {
    const volts = [
      worstVolts === null ? '' : `${figure(worstVolts, 2)} V at worst`,
      batteryVolts === null ? '' : `${figure(batteryVolts, 2)} V at the end of the battery`,
      minimumVolts === null ? '' : `at least ${figure(minimumVolts, 1)} V needed`,
    ].filter((each) => each !== '')
    return `${device} at ${cableWords(metres, units)}: ${volts.join(', ')}${broken ? ', not met' : ''}.`
  })
  const missing = notShown.length === 0 ? '' : ` Not known yet: ${notShown.join(', ')}.`
  return `Volts along ${name}. ${said.join(' ')}${missing}`
}
