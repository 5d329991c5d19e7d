// Lengths as the trade types and reads them, kept as whole micrometres.
import { knownAs, notKnown, tidy, type Reading } from './reading.ts'

export type Units = 'imperial' | 'metric'
/** What a bare number is judged as. */
export type LengthField = 'doorWidth' | 'doorHeight' | 'thickness'

/** Exact by definition of the inch (25.4 mm, the international yard and pound agreement of 1959). */
export const micrometresPerInch = 25_400
export const micrometresPerFoot = 12 * micrometresPerInch
export const micrometresPerMillimetre = 1_000
const greatestMicrometres = 1_000_000_000

type Unit = 'mm' | 'cm' | 'm' | 'in' | 'ft'
const micrometresPer: Readonly<Record<Unit, number>> = {
  mm: micrometresPerMillimetre,
  cm: 10_000,
  m: 1_000_000,
  in: micrometresPerInch,
  ft: micrometresPerFoot,
}
const unitNames: Readonly<Record<Unit, string>> = {
  mm: 'millimetres',
  cm: 'centimetres',
  m: 'metres',
  in: 'inches',
  ft: 'feet',
}

interface Judgement {
  readonly unit: Unit
  readonly from: number
  readonly to: number
  /** True where the number could well mean something else, so a person is asked. */
  readonly asks?: true
}

// Which unit a bare number is taken in, first match wins. Common practice, no source.
const judgements: Readonly<Record<LengthField, Readonly<Record<Units, readonly Judgement[]>>>> = {
  doorWidth: {
    imperial: [
      { unit: 'ft', from: 1.5, to: 9 },
      { unit: 'in', from: 12, to: 240 },
      { unit: 'mm', from: 400, to: 7000 },
    ],
    metric: [
      { unit: 'mm', from: 400, to: 7000 },
      { unit: 'm', from: 0.4, to: 7 },
      { unit: 'in', from: 18, to: 59, asks: true },
      { unit: 'cm', from: 60, to: 350, asks: true },
    ],
  },
  doorHeight: {
    imperial: [
      { unit: 'ft', from: 5, to: 16 },
      { unit: 'in', from: 54, to: 240 },
      { unit: 'mm', from: 1000, to: 7000 },
    ],
    metric: [
      { unit: 'mm', from: 1000, to: 7000 },
      { unit: 'm', from: 1, to: 7 },
      { unit: 'in', from: 72, to: 144, asks: true },
      { unit: 'cm', from: 150, to: 700, asks: true },
    ],
  },
  thickness: {
    imperial: [
      { unit: 'in', from: 0.25, to: 6 },
      { unit: 'mm', from: 15, to: 200 },
    ],
    metric: [
      { unit: 'mm', from: 10, to: 200 },
      { unit: 'm', from: 0.01, to: 0.2 },
      { unit: 'in', from: 1, to: 3, asks: true },
      { unit: 'cm', from: 3.1, to: 9.9, asks: true },
    ],
  },
}

const names: Readonly<Record<LengthField | 'any', string>> = {
  doorWidth: 'a width',
  doorHeight: 'a height',
  thickness: 'a thickness',
  any: 'a length',
}
const expectations: Readonly<Record<LengthField | 'any', string>> = {
  doorWidth: 'feet-inches such as 3-0, inches such as 36, or millimetres such as 914',
  doorHeight: 'feet-inches such as 7-0, inches such as 84, or millimetres such as 2134',
  thickness: 'inches such as 1 3/4 or millimetres such as 45',
  any: 'feet-inches such as 3-0, inches such as 36", or millimetres such as 914 mm',
}

/** The unit a bare number is taken in, or null when none makes a plausible length of this kind. */
function judge(amount: number, units: Units, as: LengthField | undefined): Judgement | null {
  if (as === undefined) return { unit: units === 'imperial' ? 'in' : 'mm', from: 0, to: Infinity }
  return judgements[as][units].find((each) => amount >= each.from && amount <= each.to) ?? null
}

/** Micrometres of whole inches and a fraction; null when it is no fraction of a tape measure. */
function inches(whole: number, upper: string | undefined, lower: string | undefined): number | null {
  if (upper === undefined || lower === undefined) return Math.round(whole * micrometresPerInch)
  const [above, below] = [Number(upper), Number(lower)]
  if (![2, 4, 8, 16, 32, 64].includes(below) || above >= below || !Number.isInteger(whole)) return null
  return whole * micrometresPerInch + Math.round((above * micrometresPerInch) / below)
}

/** A decimal number with a point or a comma; 2,134 is two thousand, 0,914 and 91,4 are decimals. */
function decimals(text: string): string {
  if (/^[1-9]\d{0,2}(,\d{3})+(\.\d+)?(?!\d)/.test(text)) return text.replaceAll(',', '')
  return text.replace(/^(\d+),(\d+)/, '$1.$2')
}

const number = String.raw`(\d+(?:\.\d+)?|\.\d+)`
const inchMark = String.raw`(?:"|in\.?|inch|inches)`
const shapes = {
  metric: new RegExp(`^${number} ?(mm|cm|m|millimet(?:er|re)s?|centimet(?:er|re)s?|met(?:er|re)s?)\\.?$`),
  feet: new RegExp(`^${number} ?(?:'|ft\\.?|feet|foot)$`),
  feetFraction: new RegExp(`^(\\d+) ?(?:'|ft\\.?|feet|foot) ?-? ?(\\d+)/(\\d+) ?${inchMark}?$`),
  feetInches: new RegExp(
    `^(\\d+) ?(?:'|ft\\.?|feet|foot) ?-? ?${number}(?:[ -]+(\\d+)/(\\d+))? ?${inchMark}?$`,
  ),
  dash: new RegExp(`^(\\d+)-${number}(?:[ -]+(\\d+)/(\\d+))? ?"?$`),
  slash: /^(\d+)\/(\d+)(?: (\d+)\/(\d+))?$/,
  inches: new RegExp(`^${number}(?:[ -]+(\\d+)/(\\d+))? ?${inchMark}$`),
  fraction: new RegExp(`^(\\d+)/(\\d+) ?${inchMark}?$`),
  mixed: /^(\d+)[ -]+(\d+)\/(\d+)$/,
  bare: new RegExp(`^${number}$`),
}

/** Feet and inches together; null when the inches make a foot or more. */
function feetAndInches(feet: string, whole: string, upper?: string, lower?: string): number | null {
  const rest = inches(Number(whole), upper, lower)
  if (rest === null || rest >= micrometresPerFoot) return null
  return Number(feet) * micrometresPerFoot + rest
}

interface Parsed {
  readonly micrometres: number
  readonly how?: string
  readonly question?: string
}

function parse(text: string, units: Units, as: LengthField | undefined): Parsed | null {
  const plain = decimals(tidy(text).toLowerCase().replace(/ ?- ?/g, '-'))
  let found = shapes.metric.exec(plain)
  if (found !== null) {
    const word = found[2] ?? ''
    const unit = word === 'mm' || word.startsWith('mil') ? 'mm' : word.startsWith('c') ? 'cm' : 'm'
    return { micrometres: Math.round(Number(found[1]) * micrometresPer[unit]) }
  }
  const whenExact = (micrometres: number | null, how?: string): Parsed | null =>
    micrometres === null ? null : { micrometres, ...(how === undefined ? {} : { how }) }
  if ((found = shapes.feet.exec(plain)) !== null)
    return { micrometres: Math.round(Number(found[1]) * micrometresPerFoot) }
  if ((found = shapes.feetFraction.exec(plain)) !== null)
    return whenExact(feetAndInches(found[1] ?? '', '0', found[2], found[3]))
  if ((found = shapes.feetInches.exec(plain)) !== null)
    return whenExact(feetAndInches(found[1] ?? '', found[2] ?? '', found[3], found[4]))
  if ((found = shapes.dash.exec(plain)) !== null)
    return whenExact(feetAndInches(found[1] ?? '', found[2] ?? '', found[3], found[4]))
  if ((found = shapes.slash.exec(plain)) !== null) {
    // 2/8 on a door is 2'-8"; on a thickness or a bare length it is a fraction. The trade uses both.
    const aDoor = as === 'doorWidth' || as === 'doorHeight'
    if (Number(found[1]) > 0 && (aDoor || Number(found[2]) === 0))
      return whenExact(
        feetAndInches(found[1] ?? '', found[2] ?? '', found[3], found[4]),
        'read as feet and inches',
      )
  }
  if ((found = shapes.fraction.exec(plain)) !== null) return whenExact(inches(0, found[1], found[2]))
  if ((found = shapes.inches.exec(plain)) !== null)
    return whenExact(inches(Number(found[1]), found[2], found[3]))
  if ((found = shapes.mixed.exec(plain)) !== null)
    return whenExact(inches(Number(found[1]), found[2], found[3]), 'read as inches')
  if ((found = shapes.bare.exec(plain)) === null) return null
  const amount = Number(found[1])
  const judged = judge(amount, units, as)
  if (judged === null) return null
  const how = `read as ${unitNames[judged.unit]}`
  const micrometres = Math.round(amount * micrometresPer[judged.unit])
  if (judged.asks === undefined) return { micrometres, how }
  return {
    micrometres,
    how,
    question: `${found[1] ?? ''} was read as ${unitNames[judged.unit]} (${millimetres(micrometres)} mm); is that what was meant?`,
  }
}

/**
 * Reads a length in any common notation to whole micrometres (sixteenths and finer round to the nearest).
 * A bare number is judged by `as` and `units`; without `as` it is inches or millimetres.
 */
export function readLength(
  text: string,
  options: { readonly units: Units; readonly as?: LengthField },
): Reading<number> {
  const parsed = parse(text, options.units, options.as)
  const kind = options.as ?? 'any'
  if (parsed === null || parsed.micrometres <= 0 || parsed.micrometres > greatestMicrometres)
    return notKnown(text, names[kind], expectations[kind])
  return knownAs(parsed.micrometres, parsed.how, parsed.question)
}

function millimetres(micrometres: number): string {
  const whole = Math.floor(micrometres / 1000)
  const rest = micrometres % 1000
  return rest === 0 ? `${whole}` : `${whole}.${String(rest).padStart(3, '0').replace(/0+$/, '')}`
}

/** `trade` 3-0, `feetInches` 3'-0", `inches` 36". Metric lengths are millimetres in every style. */
export type LengthStyle = 'trade' | 'feetInches' | 'inches'

export interface LengthForm {
  readonly style?: LengthStyle
  /** The field it stands in: a bare number its reader would misjudge then carries its unit. */
  readonly as?: LengthField
  /** Rounds to 1/16 in. or 1 mm, for drawings. Without it nothing is rounded away. */
  readonly nearest?: boolean
}

/**
 * Writes micrometres as people read them. What is written reads back as the same length: a metric length that is
 * no sixty-fourth of an inch keeps its millimetres in an imperial job, unless `nearest` is asked.
 */
export function writeLength(micrometres: number, units: Units, form: LengthForm = {}): string {
  if (units === 'metric') {
    const value = form.nearest ? Math.round(micrometres / 1000) * 1000 : micrometres
    const bare = millimetres(value)
    const judged = judge(value / 1000, 'metric', form.as)
    return judged?.unit === 'mm' ? bare : `${bare} mm`
  }
  const step = form.nearest ? 16 : 64
  const steps = Math.round((micrometres * step) / micrometresPerInch)
  const exact = Math.round((steps * micrometresPerInch) / step) === micrometres
  if (!exact && form.nearest !== true) return `${millimetres(micrometres)} mm`
  const allInches = Math.floor(steps / step)
  const fraction = fractionOf(steps % step, step)
  const style = form.style ?? 'trade'
  const feet = Math.floor(allInches / 12)
  if (style === 'inches' || feet === 0) return `${withFraction(allInches, fraction, true)}"`
  const rest = withFraction(allInches % 12, fraction, false)
  return style === 'trade' ? `${feet}-${rest}` : `${feet}'-${rest}"`
}

function fractionOf(steps: number, outOf: number): string {
  if (steps === 0) return ''
  let [upper, lower] = [steps, outOf]
  while (upper % 2 === 0) [upper, lower] = [upper / 2, lower / 2]
  return `${upper}/${lower}`
}

const withFraction = (whole: number, fraction: string, dropZero: boolean): string =>
  fraction === '' ? `${whole}` : dropZero && whole === 0 ? fraction : `${whole} ${fraction}`
