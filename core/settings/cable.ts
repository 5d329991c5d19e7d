// What a conductor's length costs in ohms, from its geometry, as a span from the least to the most it can be.
import {
  areaSquareMillimetres,
  copperOhmMetres20,
  metricAllowance,
  readWireSize,
  strandingAllowance,
  temperatureFactor,
  type WireSize,
} from '../job/index.ts'
import { figure, type SettingQuestion, type Step } from './words.ts'

/** Least and most over plain copper: strands lengthen an AWG wire, a metric size is a name with a maximum. */
export function factorsOf(size: WireSize, stranded: boolean | null): readonly [number, number] {
  if (size.system === 'metric') return [1, metricAllowance]
  if (stranded === null) return [1, strandingAllowance]
  return stranded ? [strandingAllowance, strandingAllowance] : [1, 1]
}

/** Ohms of one metre of plain copper of this area. */
export const solidOhmsPerMetre = (size: WireSize, celsius: number): number =>
  (copperOhmMetres20 / (areaSquareMillimetres(size) * 1e-6)) * temperatureFactor(celsius)

/** How cold and how warm the cable may be. */
export interface CableCelsius {
  readonly lowest: number
  readonly highest: number
}

export interface Conductor {
  /** As written: "18 AWG", "1.5 mm2". */
  readonly size: string | null
  readonly stranded: boolean | null
}

export interface ConductorLength extends Conductor {
  /** How people name it, for the question and the working: "118 contact, out". */
  readonly name: string
  /** One way. */
  readonly lengthMetres: number | null
}

/** Ohms from coldest to warmest, and from solid to stranded where nobody said which. */
export type CableOhms =
  | {
      readonly known: true
      readonly lowOhms: number
      readonly highOhms: number
      readonly steps: readonly Step[]
    }
  | { readonly known: false; readonly questions: readonly SettingQuestion[] }

/** Resistance of one conductor end to end. Lengths in metres, temperatures in °C. Unknown in, question out. */
export function conductorOhms(of: ConductorLength, celsius: CableCelsius): CableOhms {
  const questions: SettingQuestion[] = []
  const reading = of.size === null ? null : readWireSize(of.size)
  const size = reading?.known === true ? reading.value : null
  if (size === null)
    questions.push({
      words:
        of.size === null
          ? `Which size are the conductors of ${of.name}?`
          : `“${of.size}” is no size of a conductor; which size, such as 22 AWG or 0.5 mm2, is ${of.name}?`,
      whoCanSay: 'the print on the jacket, or the cable schedule',
    })
  const length = of.lengthMetres
  if (length === null || !(length >= 0))
    questions.push({ words: `How long is ${of.name}?`, whoCanSay: 'whoever pulled it, or the plan' })
  if (size === null || length === null || questions.length > 0) return { known: false, questions }

  const [least, most] = factorsOf(size, of.stranded)
  const lowOhms = solidOhmsPerMetre(size, celsius.lowest) * least * length
  const highOhms = solidOhmsPerMetre(size, celsius.highest) * most * length
  return { known: true, lowOhms, highOhms, steps: steps(of, size, length, celsius, lowOhms, highOhms) }
}

function steps(
  of: ConductorLength,
  size: WireSize,
  length: number,
  celsius: CableCelsius,
  low: number,
  high: number,
): Step[] {
  const area = areaSquareMillimetres(size)
  const factor = (warmth: number): string => figure(temperatureFactor(warmth))
  const made: Step[] = []
  if (size.system === 'awg')
    made.push({
      what: `Metal of ${of.size ?? ''}`,
      working: `pi / 4 x (0.127 mm x 92 ^ ((36 - ${size.number}) / 39)) ^ 2`,
      result: `${figure(area)} mm2`,
      source: 'ASTM B258',
    })
  const [least, most] = factorsOf(size, of.stranded)
  const lay = least === most ? (least === 1 ? '' : ` x ${least}`) : ` x ${least} to ${most}`
  const warmth =
    celsius.lowest === celsius.highest
      ? factor(celsius.lowest)
      : `${factor(celsius.lowest)} to ${factor(celsius.highest)}`
  made.push({
    what: `${of.name}, ${figure(length)} m, ${celsius.lowest} to ${celsius.highest} °C`,
    working: `${copperOhmMetres20} ohm m x ${figure(length)} m / ${figure(area)} mm2 x ${warmth}${lay}`,
    result: low === high ? `${figure(low)} ohm` : `${figure(low)} to ${figure(high)} ohm`,
    source:
      size.system === 'awg'
        ? 'IEC 60028; strands by NEC chapter 9 table 8'
        : 'IEC 60028; maxima of IEC 60228, from memory',
  })
  return made
}

/** Adds conductors that current passes one after the other. All of their questions when any is not known. */
export function inSeries(parts: readonly CableOhms[]): CableOhms {
  const questions = parts.flatMap((part) => (part.known ? [] : part.questions))
  if (questions.length > 0) return { known: false, questions: onceEach(questions) }
  let [lowOhms, highOhms] = [0, 0]
  const all: Step[] = []
  for (const part of parts) {
    if (!part.known) continue
    lowOhms += part.lowOhms
    highOhms += part.highOhms
    all.push(...part.steps)
  }
  return { known: true, lowOhms, highOhms, steps: all }
}

export const onceEach = (questions: readonly SettingQuestion[]): SettingQuestion[] => [
  ...new Map(questions.map((each) => [each.words, each])).values(),
]
