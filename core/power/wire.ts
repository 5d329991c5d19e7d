// Conductors side by side, out and back. What one of them resists is the quantities' to say.
import { ohmsPerMetre, type WireSize } from '../job/index.ts'

export {
  allowanceFor,
  areaSquareMillimetres,
  awg,
  copperOhmMetres20,
  copperPerKelvin20,
  diameterMillimetres,
  metric,
  metricAllowance,
  ohmsPerMetre,
  ohmsPerMetre20,
  readWireSize,
  stockAwg,
  stockMetric,
  strandingAllowance,
  table8Celsius,
  temperatureFactor,
  thickerThan,
  writeWireSize,
  type WireSize,
} from '../job/index.ts'

/** The conductors of one side of a run, in parallel. */
export interface Conductor {
  readonly size: WireSize
  readonly stranded: boolean
}

/** Ohms of conductors in parallel over one length, one way. Infinity where there is none. */
export function sideOhms(conductors: readonly Conductor[], lengthMetres: number, celsius: number): number {
  let siemens = 0
  for (const { size, stranded } of conductors) siemens += 1 / ohmsPerMetre(size, stranded, celsius)
  return lengthMetres / siemens
}

/** Ohms out and back over one length. */
export const loopOhms = (
  out: readonly Conductor[],
  back: readonly Conductor[],
  lengthMetres: number,
  celsius: number,
): number => sideOhms(out, lengthMetres, celsius) + sideOhms(back, lengthMetres, celsius)
