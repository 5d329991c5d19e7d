// What a conductor's length costs in ohms, from its geometry, as a span from the least to the most it can be.
import { figure, type SettingQuestion, type Step } from './words.ts'

/** Gauge 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0. */
export type ConductorSize =
  | { readonly form: 'awg'; readonly gauge: number }
  | { readonly form: 'area'; readonly squareMillimetres: number }

/** Copper at 20 °C, 100 % IACS, in ohm metres. IEC 60028. */
export const copperOhmMetres = 1.7241e-8
/** Per kelvin, from 20 °C. IEC 60028; note 2 of NEC chapter 9 table 8 says the same from 75 °C (0.00323). */
export const copperPerKelvin = 0.00393
/** Lay of the strands makes each longer than the cable: table 8 has 1.018 to 1.026 between 7-strand and solid. */
export const strandingFactor = 1.02
/** A metric conductor may resist this much more than its area says: maxima of IEC 60228, from memory. */
export const metricFactor = 1.075

const referenceCelsius = 20
const namedGauges: Readonly<Record<string, number>> = {
  '1/0': 0,
  '2/0': -1,
  '3/0': -2,
  '4/0': -3,
  '0': 0,
  '00': -1,
  '000': -2,
  '0000': -3,
}

/** Reads "18 AWG", "AWG 2/0" or "1.5 mm2"; null for anything else. A bare number is neither. */
export function readConductorSize(text: string): ConductorSize | null {
  const plain = text.trim().toLowerCase().replace(',', '.').replace('²', '2').replace(/^#/, '')
  const gauge = /^(?:(\d{1,4}|[1-4]\/0) ?awg|awg ?(\d{1,4}|[1-4]\/0))$/.exec(plain)
  const named = gauge?.[1] ?? gauge?.[2]
  if (named !== undefined) {
    const number = namedGauges[named] ?? (named.length < 3 ? Number(named) : null)
    return number === null || number > 40 ? null : { form: 'awg', gauge: number }
  }
  const area = /^(\d+(?:\.\d+)?) ?(?:mm2|sq\.? ?mm)$/.exec(plain)?.[1]
  if (area === undefined) return null
  const squareMillimetres = Number(area)
  return squareMillimetres > 0 && squareMillimetres <= 1000 ? { form: 'area', squareMillimetres } : null
}

/** Diameter of a round wire of this gauge, in millimetres. ASTM B258. */
export const awgDiameterMillimetres = (gauge: number): number => 0.127 * 92 ** ((36 - gauge) / 39)

/** Metal of one conductor, in square millimetres. */
export const conductorArea = (size: ConductorSize): number =>
  size.form === 'area' ? size.squareMillimetres : (Math.PI / 4) * awgDiameterMillimetres(size.gauge) ** 2

/** Ohms of one metre of plain copper of this area. */
export const solidOhmsPerMetre = (size: ConductorSize, celsius: number): number =>
  (copperOhmMetres / (conductorArea(size) * 1e-6)) * (1 + copperPerKelvin * (celsius - referenceCelsius))

/** Least and most over plain copper: strands lengthen an AWG wire, a metric size is a name with a maximum. */
export function factorsOf(size: ConductorSize, stranded: boolean | null): readonly [number, number] {
  if (size.form === 'area') return [1, metricFactor]
  if (stranded === null) return [1, strandingFactor]
  return stranded ? [strandingFactor, strandingFactor] : [1, 1]
}

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
  const size = of.size === null ? null : readConductorSize(of.size)
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
  size: ConductorSize,
  length: number,
  celsius: CableCelsius,
  low: number,
  high: number,
): Step[] {
  const area = conductorArea(size)
  const factor = (warmth: number): string => figure(1 + copperPerKelvin * (warmth - referenceCelsius))
  const made: Step[] = []
  if (size.form === 'awg')
    made.push({
      what: `Metal of ${of.size ?? ''}`,
      working: `pi / 4 x (0.127 mm x 92 ^ ((36 - ${size.gauge}) / 39)) ^ 2`,
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
    working: `${copperOhmMetres} ohm m x ${figure(length)} m / ${figure(area)} mm2 x ${warmth}${lay}`,
    result: low === high ? `${figure(low)} ohm` : `${figure(low)} to ${figure(high)} ohm`,
    source:
      size.form === 'awg'
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
