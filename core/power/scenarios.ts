// Each circumstance in which the volts are judged, and what every device has then.
import { distinct, questionsOf, type Fact, type Question, type Verdict } from './facts.ts'
import {
  branchesOf,
  ratingOf,
  type Branch,
  type Circuit,
  type Fault,
  type Load,
  type Network,
  type Window,
} from './network.ts'
import { at } from './numbers.ts'
import { nothingDrawn, sharedSolver, type Drawn, type Failure } from './solve.ts'
import { temperatureFactor } from './wire.ts'

/** What the output gives. */
export type Condition = 'nominal' | 'lowest output' | 'end of discharge' | 'highest output'
/** Everything holds at once; or, beside that, the group whose in-rush is worst fires. */
export type Moment = 'holding' | 'worst moment'

export interface Scenario {
  readonly condition: Condition
  readonly moment: Moment
  readonly celsius: number
}

export const scenarioKey = ({ condition, moment, celsius }: Scenario): string =>
  `${condition}, ${moment}, ${celsius} °C`

export interface OutputVolts {
  readonly nominal: Fact<number>
  /** The lowest and the highest that the output is rated to give on mains. */
  readonly lowest: Fact<number>
  readonly highest: Fact<number>
  /** Known to be null where the output has no battery behind it. */
  readonly endOfDischarge: Fact<number | null>
}

export interface FedNetwork extends Network {
  readonly id: string
  readonly name: string
  readonly volts: OutputVolts
}

export interface ScenarioSettings {
  readonly conditions: readonly Condition[]
  readonly cableCelsius: readonly number[]
}

/** A cool cable and a warm one: above a ceiling or on a roof it is seldom warmer. Common practice, no source. */
export const usualScenarios: ScenarioSettings = {
  conditions: ['nominal', 'lowest output', 'end of discharge'],
  cableCelsius: [20, 50],
}

/** 1.75 V in each cell, so 10.5 V in each 12 V block. Source: standards.md 9, S124. */
export const endOfDischargeVolts = (batteryVolts: number): number => (batteryVolts * 10.5) / 12

/** Why there is no figure. `wrong network`: the runs are joined in a way that the faults tell. */
export type Outcome = 'solved' | Failure | 'not known' | 'wrong network' | 'does not apply'

/** What a device has in one scenario. Figures are null unless it is solved: never zero. */
export interface DeviceResult {
  readonly load: string
  readonly outcome: Outcome
  readonly verdict: Verdict
  readonly volts: number | null
  readonly amps: number | null
  /** To the nearer end of its window; below zero is outside. Null where the window is not known. */
  readonly marginVolts: number | null
  /** The group whose in-rush this is about; null where none fires. */
  readonly firing: string | null
}

export interface ScenarioResult {
  readonly scenario: Scenario
  readonly sourceVolts: number | null
  readonly devices: readonly DeviceResult[]
  /** What the output gives in all; null where any part of it has no figure. */
  readonly sourceAmps: number | null
  readonly lostWatts: number | null
  readonly questions: readonly Question[]
}

export interface OutputStudy {
  readonly output: FedNetwork
  readonly plans: readonly BranchPlan[]
  readonly results: readonly ScenarioResult[]
  /** The least margin of each load over all scenarios, by its id. */
  readonly worst: ReadonlyMap<string, WorstResult>
  readonly questions: readonly Question[]
  readonly faults: readonly Fault[]
  readonly verdict: Verdict
}

export interface WorstResult {
  readonly scenario: Scenario
  readonly device: DeviceResult
}

/** A branch with what its loads draw in each moment. */
export interface BranchPlan {
  readonly branch: Branch
  readonly faults: readonly Fault[]
  /** Asked in every scenario. */
  readonly questions: readonly Question[]
  /** Asked only where in-rush counts. */
  readonly inrushQuestions: readonly Question[]
  readonly windows: readonly Fact<Window>[]
  readonly holding: Drawn | null
  readonly firings: readonly Firing[]
  /** Null while a question or a fault stands. */
  readonly circuit: Circuit | null
}

export interface Firing {
  readonly group: string
  readonly drawn: Drawn
}

const groupOf = ({ firesWith, name }: Load): string => firesWith ?? name

/** Works out once what every load of a branch draws, holding and firing. */
export function planBranch(branch: Branch): BranchPlan {
  const { loads } = branch
  const faults: Fault[] = [...branch.faults]
  const questions: Question[] = [...branch.questions]
  const inrushQuestions: Question[] = []
  const holding = nothingDrawn(loads.length)
  const firing = new Map<string, Drawn>()
  const windows: Fact<Window>[] = []
  for (const [index, load] of loads.entries()) {
    const rating = ratingOf(load)
    windows.push(rating.known ? rating.value.window : rating)
    questions.push(...questionsOf(rating, load.form))
    if (!rating.known) continue
    const { statedVolts, holdingAmps, inrush, window } = rating.value
    questions.push(...questionsOf(holdingAmps))
    inrushQuestions.push(...questionsOf(inrush))
    const needsVolts = load.form.known && load.form.value !== 'current'
    if (needsVolts) questions.push(...questionsOf(statedVolts))
    if (holdingAmps.known && !(holdingAmps.value >= 0))
      faults.push({ code: 'negative current', load: load.id })
    if (inrush.known && inrush.value !== null && !(inrush.value.amps >= 0))
      faults.push({ code: 'negative current', load: load.id })
    const wrongWindow = window.known && !(window.value.minimumVolts <= window.value.maximumVolts)
    const wrongVolts = needsVolts && statedVolts.known && !(statedVolts.value > 0)
    if (wrongWindow || wrongVolts) faults.push({ code: 'volts out of order', load: load.id })
    if (holdingAmps.known) draw(holding, index, load, statedVolts, holdingAmps.value)
  }
  for (const [index, load] of loads.entries()) {
    const rating = ratingOf(load)
    if (!rating.known) continue
    const { statedVolts, holdingAmps, inrush } = rating.value
    if (!inrush.known || inrush.value === null || !holdingAmps.known) continue
    if (inrush.value.amps <= holdingAmps.value) continue
    const group = groupOf(load)
    let drawn = firing.get(group)
    if (drawn === undefined) {
      drawn = {
        amps: holding.amps.slice(),
        siemens: holding.siemens.slice(),
        watts: holding.watts.slice(),
      }
      firing.set(group, drawn)
    }
    draw(drawn, index, load, statedVolts, inrush.value.amps)
  }
  const sound = faults.length === 0 && questions.length === 0 && branch.circuit !== null
  return {
    branch,
    faults,
    questions: distinct(questions),
    inrushQuestions: distinct(inrushQuestions),
    windows,
    holding: sound ? holding : null,
    firings: [...firing].map(([group, drawn]) => ({ group, drawn })),
    circuit: sound ? branch.circuit : null,
  }
}

function draw(drawn: Drawn, index: number, load: Load, statedVolts: Fact<number>, amps: number): void {
  if (!load.form.known) return
  switch (load.form.value) {
    case 'current':
      drawn.amps[index] = amps
      return
    case 'power':
      if (statedVolts.known) drawn.watts[index] = amps * statedVolts.value
      return
    case 'resistance':
      if (statedVolts.known) drawn.siemens[index] = amps / statedVolts.value
  }
}

/** The volts of an output in a condition; known to be null where the condition cannot be. */
export function sourceVoltsIn(volts: OutputVolts, condition: Condition): Fact<number | null> {
  switch (condition) {
    case 'nominal':
      return volts.nominal
    case 'lowest output':
      return volts.lowest
    case 'highest output':
      return volts.highest
    case 'end of discharge':
      return volts.endOfDischarge
  }
}

/** The least distance to an end of the window; below zero outside it. */
export const marginIn = ({ minimumVolts, maximumVolts }: Window, volts: number): number =>
  Math.min(volts - minimumVolts, maximumVolts - volts)

/** All scenarios of one output. */
export function studyOutput(output: FedNetwork, settings: ScenarioSettings): OutputStudy {
  const plans = branchesOf(output).map(planBranch)
  const results = settings.conditions.flatMap((condition) =>
    settings.cableCelsius.flatMap((celsius) => studyAt(output, plans, condition, celsius)),
  )
  const worst = worstOf(results)
  const faults = plans.flatMap((plan) => plan.faults)
  const questions = distinct(results.flatMap((result) => result.questions))
  return { output, plans, results, worst, questions, faults, verdict: verdictOf(results) }
}

/** One not met outweighs what is not known; not known is never met. */
function verdictOf(results: readonly ScenarioResult[]): Verdict {
  let verdict: Verdict = 'does not apply'
  for (const { devices } of results)
    for (const device of devices) {
      if (device.verdict === 'not met') return 'not met'
      if (device.verdict === 'not known') verdict = 'not known'
      else if (device.verdict === 'met' && verdict === 'does not apply') verdict = 'met'
    }
  return verdict
}

const rank = ({ verdict, marginVolts }: DeviceResult): number => {
  switch (verdict) {
    case 'not met':
      return marginVolts ?? -Infinity
    case 'not known':
      return 1e6
    case 'met':
      return 1e6 + 1 + (marginVolts ?? 0)
    case 'does not apply':
      return Infinity
  }
}

function worstOf(results: readonly ScenarioResult[]): ReadonlyMap<string, WorstResult> {
  const worst = new Map<string, WorstResult>()
  for (const { scenario, devices } of results)
    for (const device of devices) {
      const before = worst.get(device.load)
      if (before === undefined || rank(device) < rank(before.device))
        worst.set(device.load, { scenario, device })
    }
  return worst
}

/** Both moments of one condition at one temperature. */
function studyAt(
  output: FedNetwork,
  plans: readonly BranchPlan[],
  condition: Condition,
  celsius: number,
): readonly ScenarioResult[] {
  const volts = sourceVoltsIn(output.volts, condition)
  const holding = tallyFor({ condition, moment: 'holding', celsius }, volts)
  const worst = tallyFor({ condition, moment: 'worst moment', celsius }, volts)
  const factor = temperatureFactor(celsius)
  for (const plan of plans) {
    const blocked = blockedBy(plan, volts)
    if (blocked !== null) {
      stop(holding, plan, blocked)
      stop(worst, plan, blocked)
    } else if (volts.known && volts.value !== null) solveBranch(plan, volts.value, factor, holding, worst)
  }
  return [finished(holding), finished(worst)]
}

interface Tally {
  readonly scenario: Scenario
  readonly volts: Fact<number | null>
  readonly devices: DeviceResult[]
  readonly questions: Question[]
  amps: number
  lost: number
  /** What a group that fires draws over its holding, in amps and lost watts, over all branches. */
  readonly over: Map<string, { amps: number; lost: number }>
  whole: boolean
}

const tallyFor = (scenario: Scenario, volts: Fact<number | null>): Tally => ({
  scenario,
  volts,
  devices: [],
  questions: [...questionsOf(volts)],
  amps: 0,
  lost: 0,
  over: new Map(),
  whole: volts.known && volts.value !== null,
})

function finished(tally: Tally): ScenarioResult {
  let most = { amps: 0, lost: 0 }
  for (const each of tally.over.values()) if (each.amps > most.amps) most = each
  return {
    scenario: tally.scenario,
    sourceVolts: tally.volts.known ? tally.volts.value : null,
    devices: tally.devices,
    sourceAmps: tally.whole ? tally.amps + most.amps : null,
    lostWatts: tally.whole ? tally.lost + most.lost : null,
    questions: distinct(tally.questions),
  }
}

function blockedBy(plan: BranchPlan, volts: Fact<number | null>): Exclude<Outcome, 'solved'> | null {
  if (plan.faults.length > 0) return 'wrong network'
  if (volts.known && volts.value === null) return 'does not apply'
  if (plan.circuit === null || !volts.known) return 'not known'
  return null
}

const verdicts: Readonly<Record<Exclude<Outcome, 'solved'>, Verdict>> = {
  'cannot be fed': 'not met',
  'failed its check': 'not known',
  'not known': 'not known',
  'wrong network': 'not known',
  'does not apply': 'does not apply',
}

function stop(
  tally: Tally,
  { branch, questions }: BranchPlan,
  outcome: Exclude<Outcome, 'solved'>,
  firing: string | null = null,
): void {
  tally.whole = false
  if (outcome === 'not known') tally.questions.push(...questions)
  for (const { id } of branch.loads)
    tally.devices.push({
      load: id,
      outcome,
      verdict: verdicts[outcome],
      volts: null,
      amps: null,
      marginVolts: null,
      firing,
    })
}

function solveBranch(plan: BranchPlan, volts: number, factor: number, holding: Tally, worst: Tally): void {
  const { circuit, windows, firings } = plan
  if (circuit === null || plan.holding === null) return
  const solver = sharedSolver(circuit)
  const held = solver.solve(volts, factor, plan.holding, circuit)
  if (!held.ok) {
    stop(holding, plan, held.fails)
    stop(worst, plan, held.fails)
    return
  }
  const { sourceAmps, lostWatts, loadVolts, loadAmps } = held.solution
  for (const tally of [holding, worst]) {
    tally.amps += sourceAmps
    tally.lost += lostWatts
    for (const window of windows) tally.questions.push(...questionsOf(window))
  }
  const calm = plan.branch.loads.map(({ id }, load) =>
    deviceResult(id, windows[load], at(loadVolts, load), at(loadAmps, load), null),
  )
  holding.devices.push(...calm)
  if (plan.inrushQuestions.length > 0) {
    worst.questions.push(...plan.inrushQuestions)
    stop(worst, plan, 'not known')
    return
  }
  for (const { group, drawn } of firings) {
    const fired = solver.solve(volts, factor, drawn, circuit)
    if (!fired.ok) {
      stop(worst, plan, fired.fails, group)
      return
    }
    const { solution } = fired
    const over = worst.over.get(group) ?? { amps: 0, lost: 0 }
    over.amps += solution.sourceAmps - sourceAmps
    over.lost += solution.lostWatts - lostWatts
    worst.over.set(group, over)
    for (const [load, { id }] of plan.branch.loads.entries()) {
      const before = calm[load]
      const now = at(solution.loadVolts, load)
      const window = windows[load]
      const margin = window?.known ? marginIn(window.value, now) : -now
      const least = before === undefined ? Infinity : (before.marginVolts ?? -(before.volts ?? 0))
      const lower = window?.known ? margin < least : now < (before?.volts ?? Infinity)
      if (lower) calm[load] = deviceResult(id, window, now, at(solution.loadAmps, load), group)
    }
  }
  worst.devices.push(...calm)
}

function deviceResult(
  load: string,
  window: Fact<Window> | undefined,
  volts: number,
  amps: number,
  firing: string | null,
): DeviceResult {
  const marginVolts = window?.known ? marginIn(window.value, volts) : null
  const verdict = marginVolts === null ? 'not known' : marginVolts >= 0 ? 'met' : 'not met'
  return { load, outcome: 'solved', verdict, volts, amps, marginVolts, firing }
}

/** How the volts of a device stand to the window of each position of its voltage setting, the one it is set to first. */
export function marginsBySetting(
  load: Load,
  volts: number,
): readonly {
  readonly setting: string | null
  readonly isSet: boolean
  readonly marginVolts: number | null
}[] {
  const chosen = ratingOf(load)
  return load.ratings
    .map((rating) => ({
      setting: rating.setting,
      isSet: chosen.known && chosen.value === rating,
      marginVolts: rating.window.known ? marginIn(rating.window.value, volts) : null,
    }))
    .toSorted((one, other) => Number(other.isSet) - Number(one.isSet))
}

/** What one run carries, drops and loses. */
export interface RunResult {
  readonly run: string
  readonly outAmps: number
  readonly backAmps: number
  readonly outOhms: number
  readonly backOhms: number
  readonly dropVolts: number
  readonly lostWatts: number
}

/** One branch in one scenario, in full; the group that fires is named, or null while everything holds. */
export interface BranchInFull {
  readonly plan: BranchPlan
  readonly circuit: Circuit
  readonly scenario: Scenario
  readonly sourceVolts: number
  readonly drawn: Drawn
  readonly firing: string | null
  readonly placeVolts: ReadonlyMap<string, { readonly out: number; readonly back: number }>
  readonly loadVolts: readonly number[]
  readonly loadAmps: readonly number[]
  readonly runs: readonly RunResult[]
  readonly sourceAmps: number
  readonly usedWatts: number
  readonly lostWatts: number
}

/** Solves one branch again and gives all its figures; null where it has none. */
export function branchInFull(
  plan: BranchPlan,
  volts: OutputVolts,
  scenario: Scenario,
  firing: string | null,
): BranchInFull | null {
  const { circuit, branch } = plan
  const sourceVolts = sourceVoltsIn(volts, scenario.condition)
  const drawn =
    firing === null ? plan.holding : (plan.firings.find(({ group }) => group === firing)?.drawn ?? null)
  if (circuit === null || drawn === null || !sourceVolts.known || sourceVolts.value === null) return null
  const solved = sharedSolver(circuit).solve(
    sourceVolts.value,
    temperatureFactor(scenario.celsius),
    drawn,
    circuit,
  )
  if (!solved.ok) return null
  const { solution } = solved
  const runs = branch.runs.map((run): RunResult => {
    const index = branch.runs.indexOf(run)
    const [from, to] = [circuit.places.indexOf(run.from), circuit.places.indexOf(run.to)]
    const outOhms = at(circuit.runOutOhms, index) * solution.factor
    const backOhms = at(circuit.runBackOhms, index) * solution.factor
    const outDrop = Math.abs(at(solution.outVolts, from) - at(solution.outVolts, to))
    const backDrop = Math.abs(at(solution.backVolts, from) - at(solution.backVolts, to))
    const outAmps = legAmps(circuit, 'out', index, outOhms, outDrop, solution.outAmps)
    const backAmps = legAmps(circuit, 'back', index, backOhms, backDrop, solution.backAmps)
    const carriesOut = run.out.length > 0
    const carriesBack = run.back.length > 0
    return {
      run: run.id,
      outAmps,
      backAmps,
      outOhms,
      backOhms,
      dropVolts: (carriesOut ? outDrop : 0) + (carriesBack ? backDrop : 0),
      lostWatts: (carriesOut ? outDrop * outAmps : 0) + (carriesBack ? backDrop * backAmps : 0),
    }
  })
  const placeVolts = new Map(
    circuit.places.map((place, index) => [
      place,
      { out: at(solution.outVolts, index), back: at(solution.backVolts, index) },
    ]),
  )
  return {
    plan,
    circuit,
    scenario,
    sourceVolts: solution.sourceVolts,
    drawn,
    firing,
    placeVolts,
    loadVolts: [...solution.loadVolts],
    loadAmps: [...solution.loadAmps],
    runs,
    sourceAmps: solution.sourceAmps,
    usedWatts: solution.usedWatts,
    lostWatts: solution.lostWatts,
  }
}

/** The current of one run: all of its leg's where it is alone there, else its share. */
function legAmps(
  circuit: Circuit,
  which: 'out' | 'back',
  run: number,
  ohms: number,
  drop: number,
  amps: Float64Array,
): number {
  const place = circuit[which].runs.findIndex((runs) => runs.includes(run))
  if (place < 0) return 0
  const sharing = circuit[which].runs[place]?.length ?? 1
  if (sharing === 1) return at(amps, place)
  return ohms > 0 ? drop / ohms : at(amps, place) / sharing
}
