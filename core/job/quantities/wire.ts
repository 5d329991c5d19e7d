// Resistance of copper wire from first principles. NEC chapter 9 table 8 is the check, never the source.
import { knownAs, notKnown, tidy, type Reading } from './reading.ts'

/** AWG numbers go on below zero: 1/0 is 0, 2/0 is -1, 4/0 is -3. */
export type WireSize =
  | { readonly system: 'awg'; readonly number: number }
  | { readonly system: 'metric'; readonly squareMillimetres: number }

/** Ohm metre at 20 °C, 100 % IACS. Source: IEC 60028. */
export const copperOhmMetres20 = 1.7241e-8
/** Per kelvin, at 20 °C. Source: IEC 60028, annealed copper. */
export const copperPerKelvin20 = 0.00393
/** A strand runs longer than its wire: 2 % for concentric lay. Source: ASTM B8; check: table 8 strand over solid. */
export const strandingAllowance = 1.02
/**
 * A metric conductor is named by its area and held to a greatest resistance. This much over the area's own figure is
 * never below the maxima of IEC 60228 class 1 and 2 from 0.5 to 16 mm², and at most 3.5 % above them.
 */
export const metricAllowance = 1.075
/** The temperature at which the figures of table 8 are given. */
export const table8Celsius = 75

export const awg = (number: number): WireSize => ({ system: 'awg', number })
export const metric = (squareMillimetres: number): WireSize => ({ system: 'metric', squareMillimetres })

/** d = 0.127 mm x 92^((36 - n) / 39). Source: ASTM B258. */
export const diameterMillimetres = (number: number): number => 0.127 * 92 ** ((36 - number) / 39)

/** Copper's area: AWG by its diameter (ASTM B258), metric by its name (IEC 60228). */
export const areaSquareMillimetres = (size: WireSize): number =>
  size.system === 'metric' ? size.squareMillimetres : (Math.PI / 4) * diameterMillimetres(size.number) ** 2

/** How much the resistance of copper grows from 20 °C to this temperature; 1 at 20 °C. */
export const temperatureFactor = (celsius: number): number => 1 + copperPerKelvin20 * (celsius - 20)

/** What is added to the area's own figure: a factor, at least 1. Metric wires have theirs from the standard's maxima. */
export const allowanceFor = (size: WireSize, stranded: boolean): number =>
  size.system === 'metric' ? metricAllowance : stranded ? strandingAllowance : 1

/** Ohms of one metre of one conductor at 20 °C. */
export const ohmsPerMetre20 = (size: WireSize, stranded: boolean): number =>
  (copperOhmMetres20 / (areaSquareMillimetres(size) * 1e-6)) * allowanceFor(size, stranded)

/** Ohms of one metre of one conductor at a temperature. */
export const ohmsPerMetre = (size: WireSize, stranded: boolean, celsius: number): number =>
  ohmsPerMetre20(size, stranded) * temperatureFactor(celsius)

/** Sizes that are stocked for this work, thin to thick. Common practice, no source. */
export const stockAwg: readonly number[] = [24, 22, 20, 18, 16, 14, 12, 10, 8]
/** Nominal areas in mm². Source: IEC 60228. */
export const stockMetric: readonly number[] = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16]

/** The stocked sizes of the same system that hold more copper, thin to thick. */
export function thickerThan(size: WireSize): readonly WireSize[] {
  const area = areaSquareMillimetres(size)
  const stock = size.system === 'awg' ? stockAwg.map(awg) : stockMetric.map(metric)
  return stock.filter((each) => areaSquareMillimetres(each) > area * 1.000_001)
}

/** Writes a size as people read it: 18 AWG, 1/0 AWG, 1.5 mm². */
export function writeWireSize(size: WireSize): string {
  if (size.system === 'metric') return `${size.squareMillimetres} mm²`
  return size.number > 0 ? `${size.number} AWG` : `${1 - size.number}/0 AWG`
}

const isNot = 'a wire size'
const expected = 'a size such as 18 AWG, #18, 1/0 AWG or 1.5 mm²'

/** Bare numbers that are sizes in both systems, so that a person is asked. */
const inBothSystems = new Set([1, 2, 4, 6, 10, 16])

/**
 * Reads a wire size: 18 AWG, #18, 18 ga, 18/2 (18 AWG, two conductors), 1/0, 1.5 mm², 1,5 mm2. A bare even number from
 * 8 to 30 is AWG; a bare fraction such as 1.5 is metric; one that could be either is refused with a sentence.
 */
export function readWireSize(text: string): Reading<WireSize> {
  const plain = tidy(text).toLowerCase().replace(/,/g, '.').replace(/\s+/g, '')
  const area = /^(\d+(?:\.\d+)?|\.\d+)(?:mm²|mm2|mm\^2|sqmm|qmm|sq\.?mm)$/.exec(plain)
  if (area !== null) {
    const squareMillimetres = Number(area[1])
    return squareMillimetres >= 0.05 && squareMillimetres <= 400
      ? knownAs(metric(squareMillimetres))
      : notKnown(text, isNot, expected)
  }
  const aught = /^#?([1-4])\/0(?:awg|ga\.?|gauge)?$/.exec(plain)
  if (aught !== null) return knownAs(awg(1 - Number(aught[1])))
  const gauge = /^(#?)(?:awg)?(\d{1,2})(awg|ga\.?|gauge)?(?:\/(\d{1,2})c?)?$/.exec(plain)
  if (gauge !== null) {
    const number = Number(gauge[2])
    const named = gauge[1] === '#' || gauge[3] !== undefined || /awg/.test(plain) || gauge[4] !== undefined
    if (number < 1 || number > 40) return notKnown(text, isNot, expected)
    if (named) return knownAs(awg(number))
    if (inBothSystems.has(number)) return notKnown(text, isNot, `${number} AWG or ${number} mm²`)
    return number % 2 === 0 && number >= 8 && number <= 30
      ? knownAs(awg(number), `read as ${number} AWG`)
      : notKnown(text, isNot, expected)
  }
  const bare = /^(\d*\.\d+)$/.exec(plain)
  if (bare !== null && stockMetric.includes(Number(bare[1])))
    return knownAs(metric(Number(bare[1])), `read as ${Number(bare[1])} mm²`)
  return notKnown(text, isNot, expected)
}
