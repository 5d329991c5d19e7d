// All of one supply: volts at every device, loads, battery and what would put each right.
import {
  hoursOfBattery,
  recharge,
  sizeBattery,
  stockAmpHours,
  usualAgeingFactor,
  usualRateExponent,
  type BatteryNeed,
  type Lasting,
  type Recharge,
  type Sizing,
} from './battery.ts'
import { distinct, known, questionsOf, unknown, type Fact, type Question, type Verdict } from './facts.ts'
import type { Load } from './network.ts'
import { remediesFor, type NearerOutput, type RemedyStudy } from './remedies.ts'
import { studyOutput, usualScenarios, type OutputStudy, type ScenarioSettings } from './scenarios.ts'
import {
  neededAmps,
  outputLoading,
  supplyLoading,
  usualLoadingLimitPercent,
  type Output,
  type OutputLoading,
  type SupplyFacts,
  type SupplyLoading,
} from './supply.ts'

export interface PowerSettings {
  readonly scenarios: ScenarioSettings
  readonly loadingLimitPercent: number
  readonly ageingFactor: number
  readonly rateExponent: number
  /** In which a battery should be charged again. */
  readonly rechargeHours: number
}

/** 48 h to charge again is from memory of NFPA 72; the rest as its own files say. */
export const usualPowerSettings: PowerSettings = {
  scenarios: usualScenarios,
  loadingLimitPercent: usualLoadingLimitPercent,
  ageingFactor: usualAgeingFactor,
  rateExponent: usualRateExponent,
  rechargeHours: 48,
}

export interface FedOutput extends Output {
  /** Outputs its branches could move to. */
  readonly nearer: readonly NearerOutput[]
}

export interface Supply extends SupplyFacts {
  readonly id: string
  /** Ampere hours of its battery set; known to be null where it has none. */
  readonly batteryAmpHours: Fact<number | null>
  readonly batteryCelsius: Fact<number>
  readonly standbyHours: Fact<number>
  readonly alarmMinutes: Fact<number>
  readonly chargingAmps: Fact<number>
  readonly outputs: readonly FedOutput[]
}

export interface OutputPower {
  readonly study: OutputStudy
  readonly loading: OutputLoading
  /** One for each branch where a device is outside its window. */
  readonly remedies: readonly RemedyStudy[]
}

export interface BatteryStudy {
  readonly need: BatteryNeed
  readonly sizing: Sizing
  readonly lasting: Lasting
  readonly recharge: Recharge | null
}

/** What would put the supply itself right. */
export type SupplyRemedy =
  | { readonly change: 'bigger supply'; readonly neededAmps: number; readonly holdingAmps: number }
  | {
      readonly change: 'bigger battery'
      readonly ampHours: number
      readonly inParallel: number
      /** What it would last. */
      readonly standbyHours: number
    }

export interface SupplyPower {
  readonly supply: Supply
  readonly outputs: readonly OutputPower[]
  readonly loading: SupplyLoading
  /** Null where the supply has no battery and none is asked of it. */
  readonly battery: BatteryStudy | null
  readonly remedies: readonly SupplyRemedy[]
  /** Of the volts, the loads and the battery together. */
  readonly verdict: Verdict
  readonly questions: readonly Question[]
}

/** All figures of one output. */
export function outputPower(output: FedOutput, settings: PowerSettings): OutputPower {
  const study = studyOutput(output, settings.scenarios)
  const loading = outputLoading(output, study, settings.loadingLimitPercent)
  const remedies = study.plans
    .filter(({ branch }) => branch.loads.some(({ id }) => study.worst.get(id)?.device.verdict === 'not met'))
    .map((plan) => remediesFor(plan, output.volts, settings.scenarios, output.nearer))
  return { study, loading, remedies }
}

/** All figures of one supply. `outputs` may be given where they are worked out already. */
export function supplyPower(
  supply: Supply,
  settings: PowerSettings,
  outputOf: (output: FedOutput) => OutputPower = (output) => outputPower(output, settings),
): SupplyPower {
  const outputs = supply.outputs.map(outputOf)
  const loading = supplyLoading(
    supply,
    outputs.map((each) => each.loading),
    outputs.map((each) => each.study),
    settings.loadingLimitPercent,
  )
  const battery = batteryStudy(supply, outputs, settings)
  return {
    supply,
    outputs,
    loading,
    battery,
    remedies: [...biggerSupply(loading, settings), ...biggerBattery(battery)],
    verdict: worstVerdict([
      ...outputs.flatMap(({ study, loading: each }) => [
        study.verdict,
        each.withinLimit,
        each.withinRating,
        each.fuse.verdict,
        each.classTwo.verdict,
      ]),
      loading.withinLimit,
      loading.withinRating,
      batteryVerdict(battery),
    ]),
    questions: distinct([
      ...loading.questions,
      ...questionsOf(supply.batteryAmpHours),
      ...(battery === null ? [] : batteryQuestions(battery)),
    ]),
  }
}

/** Not met outweighs not known, which outweighs met. */
export function worstVerdict(verdicts: readonly Verdict[]): Verdict {
  for (const verdict of ['not met', 'not known', 'met'] as const)
    if (verdicts.includes(verdict)) return verdict
  return 'does not apply'
}

const batteryVerdict = (battery: BatteryStudy | null): Verdict =>
  battery === null ? 'does not apply' : battery.lasting.known ? battery.lasting.lasts.enough : 'not known'

const batteryQuestions = ({ sizing, lasting, recharge: again }: BatteryStudy): readonly Question[] => [
  ...(sizing.known ? [] : sizing.questions),
  ...(lasting.known ? [] : lasting.questions),
  ...(again === null ? [] : again.questions),
]

/** Standby hours known to be 0 with no battery: nothing is asked. */
function batteryStudy(
  supply: Supply,
  outputs: readonly OutputPower[],
  settings: PowerSettings,
): BatteryStudy | null {
  const { batteryAmpHours, standbyHours } = supply
  const hasNone = batteryAmpHours.known && batteryAmpHours.value === null
  if (hasNone && standbyHours.known && standbyHours.value === 0) return null
  const need: BatteryNeed = {
    name: supply.name,
    standbyAmps: ampsOf(supply, outputs, ({ drawsAtRest }) => drawsAtRest),
    alarmAmps: ampsOf(supply, outputs, ({ drawsOnAlarm }) => drawsOnAlarm),
    standbyHours,
    alarmMinutes: supply.alarmMinutes,
    celsius: supply.batteryCelsius,
    ageingFactor: settings.ageingFactor,
    rateExponent: settings.rateExponent,
  }
  const ampHours: Fact<number> = !batteryAmpHours.known
    ? batteryAmpHours
    : known(
        batteryAmpHours.value ?? 0,
        batteryAmpHours.value === null ? 'no battery' : batteryAmpHours.origin,
      )
  const again =
    ampHours.known && ampHours.value > 0
      ? recharge(ampHours.value, supply.chargingAmps, settings.rechargeHours)
      : null
  return { need, sizing: sizeBattery(need), lasting: hoursOfBattery(need, ampHours), recharge: again }
}

/**
 * The supply's own current and that of every load that draws then. Each load counts at the greatest of what it draws at
 * nominal volts and at the end of discharge, since a constant power draws more as the battery falls.
 */
function ampsOf(
  supply: Supply,
  outputs: readonly OutputPower[],
  draws: (load: Load) => Fact<boolean>,
): Fact<number> {
  if (!supply.ownAmps.known) return supply.ownAmps
  let amps = supply.ownAmps.value
  for (const { study } of outputs) {
    const most = greatestHolding(study)
    for (const load of study.output.loads) {
      const drawing = draws(load)
      if (!drawing.known) return drawing
      if (!drawing.value) continue
      const own = most.get(load.id)
      if (own === undefined) return unknown('holding current', load.name)
      amps += own
    }
  }
  return known(amps, 'the loads that draw then, and the supply itself')
}

function greatestHolding({ results }: OutputStudy): ReadonlyMap<string, number> {
  const most = new Map<string, number>()
  for (const { scenario, devices } of results) {
    const counts = scenario.condition === 'nominal' || scenario.condition === 'end of discharge'
    if (scenario.moment !== 'holding' || !counts) continue
    for (const { load, amps } of devices)
      if (amps !== null) most.set(load, Math.max(most.get(load) ?? 0, amps))
  }
  return most
}

function biggerSupply(
  loading: SupplyLoading,
  { loadingLimitPercent }: PowerSettings,
): readonly SupplyRemedy[] {
  const { withinLimit, withinRating, holdingAmps, worstAmps } = loading
  if (withinLimit !== 'not met' && withinRating !== 'not met') return []
  const needed = neededAmps(holdingAmps, loadingLimitPercent)
  if (needed === null || holdingAmps === null) return []
  return [{ change: 'bigger supply', neededAmps: Math.max(needed, worstAmps ?? 0), holdingAmps }]
}

function biggerBattery(battery: BatteryStudy | null): readonly SupplyRemedy[] {
  if (battery === null || batteryVerdict(battery) !== 'not met' || !battery.sizing.known) return []
  const { sizing } = battery.sizing
  const ampHours = sizing.stockAmpHours ?? stockAmpHours.at(-1) ?? 0
  const lasting = hoursOfBattery(battery.need, known(ampHours * sizing.inParallel))
  if (!lasting.known) return []
  return [
    {
      change: 'bigger battery',
      ampHours,
      inParallel: sizing.inParallel,
      standbyHours: lasting.lasts.standbyHours,
    },
  ]
}

/**
 * Keeps what was worked out for each output value, so that an edit costs one output. Results are plain data: they may be
 * shared, never changed. Outputs are told apart by identity: make a new one where anything of it changed.
 */
export function powerMemo(settings: PowerSettings): (supply: Supply) => SupplyPower {
  const outputs = new WeakMap<FedOutput, OutputPower>()
  const supplies = new WeakMap<Supply, SupplyPower>()
  const outputOf = (output: FedOutput): OutputPower => {
    let found = outputs.get(output)
    if (found === undefined) outputs.set(output, (found = outputPower(output, settings)))
    return found
  }
  return (supply) => {
    let found = supplies.get(supply)
    if (found === undefined) supplies.set(supply, (found = supplyPower(supply, settings, outputOf)))
    return found
  }
}
