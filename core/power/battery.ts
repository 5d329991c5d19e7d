// How large a standby battery must be, how long one lasts, and how it is charged again. Lead-acid, sealed.
import { questionsOf, together, type Fact, type Question, type Verdict } from './facts.ts'

/** Rated ampere hours are those of this discharge. Source: the datasheets of standards.md 9, S117 and S118. */
export const ratedHours = 20
/** Implied by both datasheets between the 20 h and the 1 h rate. Source: standards.md 9, S117 and S118. */
export const usualRateExponent = 1.206
/** A battery is replaced at 80 % of its rating, so a new one is 1/0.8 of the need. Source: standards.md 9, S125. */
export const usualAgeingFactor = 1.25
/** Ampere hours as sold. Source: standards.md 9, S71. */
export const stockAmpHours: readonly number[] = [4, 7, 12, 18, 26, 40, 55]

/** Share of the rating at the 20 h rate by degrees Celsius. Source: one datasheet, standards.md 9, S117. */
const byTemperature: readonly (readonly [celsius: number, share: number])[] = [
  [-15, 0.65],
  [0, 0.85],
  [25, 1],
  [40, 1.02],
]

/** The share of its rating that a battery gives at a temperature; null where the datasheet does not go. */
export function temperatureShare(celsius: number): number | null {
  for (const [index, [to, upper]] of byTemperature.entries()) {
    const before = byTemperature[index - 1]
    if (before === undefined) {
      if (celsius === to) return upper
      if (celsius < to) return null
      continue
    }
    const [from, lower] = before
    if (celsius <= to) return lower + ((upper - lower) * (celsius - from)) / (to - from)
  }
  return null
}

/**
 * Hours that a battery gives a current: t = H (C / (I H))^k, Peukert's first form (standards.md 9, S119). Ampere hours at the
 * H hour rate; amps above zero.
 */
export const peukertHours = (ampHours: number, hours: number, amps: number, exponent: number): number =>
  hours * (ampHours / (amps * hours)) ** exponent

/** As Peukert, but a slower discharge than the rated one never gives more than the rating. Infinity at no current. */
export function hoursAt(ampHours: number, amps: number, exponent: number): number {
  if (amps === 0) return Infinity
  return amps * ratedHours <= ampHours ? ampHours / amps : peukertHours(ampHours, ratedHours, amps, exponent)
}

/** The share of a battery that a current uses in some hours. */
const shareUsed = (ampHours: number, amps: number, hours: number, exponent: number): number =>
  hours === 0 || amps === 0 ? 0 : hours / hoursAt(ampHours, amps, exponent)

export interface BatteryNeed {
  readonly name: string
  /** While doors are secured and the mains are lost: the supply's own current too. */
  readonly standbyAmps: Fact<number>
  readonly alarmAmps: Fact<number>
  readonly standbyHours: Fact<number>
  readonly alarmMinutes: Fact<number>
  readonly celsius: Fact<number>
  readonly ageingFactor: number
  /** 1 leaves the discharge rate out, as fire alarm worksheets do. */
  readonly rateExponent: number
}

export interface BatterySizing {
  readonly standbyAmpHours: number
  readonly alarmAmpHours: number
  /** The two together: amps times hours. */
  readonly plainAmpHours: number
  /** What the discharge needs of a battery rated at 20 h, by Peukert. */
  readonly atRateAmpHours: number
  readonly temperatureShare: number
  readonly ageingFactor: number
  /** What must stand on the battery: at rate, divided by the temperature's share, times ageing. */
  readonly requiredAmpHours: number
  /** The next size sold; null where it is more than the largest. */
  readonly stockAmpHours: number | null
  /** How many of the largest size in parallel, where one does not do; 1 elsewhere. */
  readonly inParallel: number
}

export type Sizing =
  | { readonly known: true; readonly sizing: BatterySizing }
  | { readonly known: false; readonly questions: readonly Question[] }

/** How large the battery must be. Volts do not enter: blocks in series add volts, never ampere hours. */
export function sizeBattery(need: BatteryNeed): Sizing {
  const facts = together(need.standbyAmps, need.alarmAmps, need.standbyHours, need.alarmMinutes, need.celsius)
  if (!facts.known) return facts
  const [standbyAmps, alarmAmps, standbyHours, alarmMinutes, celsius] = facts.values
  const share = temperatureShare(celsius)
  if (share === null) return { known: false, questions: [{ about: 'battery temperature', thing: need.name }] }
  const { rateExponent, ageingFactor } = need
  const standbyAmpHours = standbyAmps * standbyHours
  const alarmAmpHours = (alarmAmps * alarmMinutes) / 60
  const uses = (ampHours: number): number =>
    shareUsed(ampHours, standbyAmps, standbyHours, rateExponent) +
    shareUsed(ampHours, alarmAmps, alarmMinutes / 60, rateExponent)
  const plainAmpHours = standbyAmpHours + alarmAmpHours
  const atRateAmpHours = smallestThatLasts(plainAmpHours, uses)
  // More than the rating is never counted on, so warmth above 25 °C gives nothing.
  const temperature = Math.min(1, share)
  const requiredAmpHours = (atRateAmpHours / temperature) * ageingFactor
  const largest = stockAmpHours.at(-1) ?? 0
  const stock = stockAmpHours.find((size) => size >= requiredAmpHours - 1e-9) ?? null
  return {
    known: true,
    sizing: {
      standbyAmpHours,
      alarmAmpHours,
      plainAmpHours,
      atRateAmpHours,
      temperatureShare: temperature,
      ageingFactor,
      requiredAmpHours,
      stockAmpHours: stock,
      inParallel: stock === null ? Math.ceil(requiredAmpHours / largest) : 1,
    },
  }
}

/** The least ampere hours of which no more than all is used; `uses` falls as they grow. By halving. */
function smallestThatLasts(plain: number, uses: (ampHours: number) => number): number {
  if (plain === 0) return 0
  let [short, long] = [plain * (1 - 1e-12), plain]
  while (uses(long) > 1) [short, long] = [long, long * 2]
  if (long === plain) return plain
  for (let halving = 0; halving < 100 && long - short > 1e-12 * long; halving += 1) {
    const middle = (short + long) / 2
    if (uses(middle) > 1) short = middle
    else long = middle
  }
  return long
}

export interface BatteryLasts {
  /** The ampere hours that can be counted on: rating, temperature, age. */
  readonly countedAmpHours: number
  /** Standby hours after which the alarm minutes can still follow. Infinity where nothing is drawn. */
  readonly standbyHours: number
  /** Standby hours when no alarm follows. */
  readonly withoutAlarmHours: number
  readonly enough: Verdict
}

export type Lasting =
  | { readonly known: true; readonly lasts: BatteryLasts }
  | { readonly known: false; readonly questions: readonly Question[] }

/** How long a battery of known ampere hours lasts at the end of its life; a battery that is not there lasts 0 hours. */
export function hoursOfBattery(need: BatteryNeed, ampHours: Fact<number>): Lasting {
  const facts = together(ampHours, need.standbyAmps, need.alarmAmps, need.alarmMinutes, need.celsius)
  if (!facts.known) return facts
  const [rated, standbyAmps, alarmAmps, alarmMinutes, celsius] = facts.values
  const share = temperatureShare(celsius)
  if (share === null) return { known: false, questions: [{ about: 'battery temperature', thing: need.name }] }
  const counted = (rated * Math.min(1, share)) / need.ageingFactor
  const alarm = counted > 0 ? shareUsed(counted, alarmAmps, alarmMinutes / 60, need.rateExponent) : 1
  const all = counted > 0 ? hoursAt(counted, standbyAmps, need.rateExponent) : 0
  const standbyHours = alarm >= 1 ? 0 : all * (1 - alarm)
  const enough: Verdict = !need.standbyHours.known
    ? 'not known'
    : standbyHours >= need.standbyHours.value - 1e-9 && alarm <= 1 + 1e-9
      ? 'met'
      : 'not met'
  return {
    known: true,
    lasts: { countedAmpHours: counted, standbyHours, withoutAlarmHours: all, enough },
  }
}

/** Charge put in over charge taken out. Common practice for sealed lead-acid, no source. */
export const chargeFactor = 1.2
/** A charger is kept under this share of the ampere hours, in amps. Common practice, no source: the datasheet decides. */
export const greatestChargeShare = 0.25

export interface Recharge {
  /** Hours for a whole discharge; null where the charging current is not known. */
  readonly hours: number | null
  /** The current that would do it in the wanted hours. */
  readonly neededAmps: number
  /** Whether the charger stays under the usual greatest current of this battery. */
  readonly gentle: Verdict
  readonly inTime: Verdict
  readonly questions: readonly Question[]
}

/** Time and current to charge a battery again after it was used up. */
export function recharge(ampHours: number, chargingAmps: Fact<number>, wantedHours: number): Recharge {
  const neededAmps = (ampHours * chargeFactor) / wantedHours
  const questions = questionsOf(chargingAmps)
  if (!chargingAmps.known)
    return { hours: null, neededAmps, gentle: 'not known', inTime: 'not known', questions }
  const amps = chargingAmps.value
  const hours = amps > 0 ? (ampHours * chargeFactor) / amps : Infinity
  return {
    hours,
    neededAmps,
    gentle: amps <= greatestChargeShare * ampHours + 1e-9 ? 'met' : 'not met',
    inTime: hours <= wantedHours + 1e-9 ? 'met' : 'not met',
    questions,
  }
}
