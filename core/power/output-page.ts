// One output in full: its tree of cable and devices, its volts, and what would put it right, as plain values.
import type { JobData, Units } from '../job/index.ts'
import type { RecordsChange } from './changing.ts'
import type { Verdict } from './facts.ts'
import type { JobPower } from './kept.ts'
import { nearerOutputs } from './nearer.ts'
import { ratingOf, source, type Load } from './network.ts'
import { outputLine, askedQuestions, type AskedQuestion, type OutputLine } from './pages.ts'
import type { FedOutput, OutputPower, SupplyPower } from './power.ts'
import { remedyCommand } from './putting-right.ts'
import { remediesFor, type Remedy } from './remedies.ts'
import {
  branchInFull,
  type BranchInFull,
  type BranchPlan,
  type DeviceResult,
  type OutputStudy,
  type Scenario,
} from './scenarios.ts'
import {
  cableWords,
  faultSentence,
  remedyDeed,
  remedyGives,
  scenarioWords,
  stepSentence,
} from './sentences.ts'
import { treeOf, type TreePlace } from './tree.ts'
import type { VoltsCase, VoltsFigureInput } from './volts-figure.ts'
import { workingOf } from './working.ts'
import { writeWireSize } from './wire.ts'

/** A device in one circumstance. */
export interface DeviceFigure {
  readonly scenario: Scenario
  readonly verdict: Verdict
  readonly volts: number | null
  readonly marginVolts: number | null
}

export interface DevicePage {
  readonly load: string
  readonly name: string
  readonly openingId: string | null
  readonly minimumVolts: number | null
  readonly maximumVolts: number | null
  readonly metres: number | null
  /** Holding at nominal volts, on mains at worst, and on battery at worst; null where it does not apply. */
  readonly nominal: DeviceFigure | null
  readonly worst: DeviceFigure | null
  readonly battery: DeviceFigure | null
}

/** A line of the tree: a run and the place it ends at. */
export interface TreeLine {
  readonly key: string
  readonly depth: number
  readonly placeName: string
  readonly loads: readonly string[]
  readonly runId: string | null
  /** "210 feed", or several side by side. */
  readonly runName: string | null
  /** "18 AWG stranded"; null where not known. */
  readonly wire: string | null
  readonly lengthMetres: number | null
  /** Along the cable from the output. */
  readonly metres: number | null
  readonly amps: number | null
  readonly dropVolts: number | null
  readonly volts: number | null
  readonly verdict: Verdict | null
  /** Not joined to the output by any run. */
  readonly loose: boolean
}

export interface RemedyPage {
  readonly deed: string
  readonly gives: string
  readonly works: boolean
  readonly volts: number | null
  readonly marginVolts: number | null
  readonly newCableMetres: number
  readonly command: RecordsChange | null
}

/** A usual route length that would let another output be offered. */
export interface RouteAsked {
  readonly supplyId: string
  readonly supplyMark: string
  readonly levelId: string
  readonly levelName: string
}

export interface OutputPage {
  readonly units: Units
  readonly line: OutputLine
  readonly treeScenario: string | null
  readonly tree: readonly TreeLine[]
  readonly devices: readonly DevicePage[]
  readonly figure: VoltsFigureInput | null
  readonly remedies: readonly RemedyPage[]
  readonly routesAsked: readonly RouteAsked[]
  readonly faults: readonly string[]
  readonly questions: readonly AskedQuestion[]
}

const onMains = ({ condition }: Scenario): boolean => condition === 'nominal' || condition === 'lowest output'

/** The result of a load that is worst among some circumstances. */
function worstAmong(
  study: OutputStudy,
  load: string,
  counts: (scenario: Scenario) => boolean,
): { readonly scenario: Scenario; readonly device: DeviceResult } | null {
  let found: { readonly scenario: Scenario; readonly device: DeviceResult } | null = null
  const rank = ({ verdict, marginVolts }: DeviceResult): number =>
    verdict === 'not met'
      ? (marginVolts ?? -1e6)
      : verdict === 'not known'
        ? 1e6
        : verdict === 'met'
          ? 2e6 + (marginVolts ?? 0)
          : Infinity
  for (const { scenario, devices } of study.results) {
    if (!counts(scenario)) continue
    const device = devices.find((each) => each.load === load)
    if (device === undefined || device.verdict === 'does not apply') continue
    if (found === null || rank(device) < rank(found.device)) found = { scenario, device }
  }
  return found
}

const figureOf = (worst: ReturnType<typeof worstAmong>): DeviceFigure | null =>
  worst === null
    ? null
    : {
        scenario: worst.scenario,
        verdict: worst.device.verdict,
        volts: worst.device.volts,
        marginVolts: worst.device.marginVolts,
      }

function devicePages(data: JobData, { study }: OutputPower, tree: readonly TreePlace[]): DevicePage[] {
  const metres = new Map(tree.map((each) => [each.place, each.metres]))
  return study.output.loads
    .map((load): DevicePage => {
      const rating = ratingOf(load)
      const window = rating.known && rating.value.window.known ? rating.value.window.value : null
      return {
        load: load.id,
        name: load.name,
        openingId: data.get('fitting', load.at)?.openingId ?? null,
        minimumVolts: window?.minimumVolts ?? null,
        maximumVolts: window?.maximumVolts ?? null,
        metres: metres.get(load.at) ?? null,
        nominal: figureOf(
          worstAmong(study, load.id, (each) => each.condition === 'nominal' && each.moment === 'holding'),
        ),
        worst: figureOf(worstAmong(study, load.id, onMains)),
        battery: figureOf(worstAmong(study, load.id, (each) => each.condition === 'end of discharge')),
      }
    })
    .toSorted((one, other) => (one.metres ?? Infinity) - (other.metres ?? Infinity))
}

/** The circumstance in which some device of the output is worst off; null where none has a figure. */
function worstScenario(study: OutputStudy, counts: (scenario: Scenario) => boolean): Scenario | null {
  let found: { scenario: Scenario; margin: number } | null = null
  for (const { scenario, devices } of study.results) {
    if (!counts(scenario)) continue
    for (const { outcome, marginVolts } of devices) {
      if (outcome !== 'solved' || marginVolts === null) continue
      if (found === null || marginVolts < found.margin) found = { scenario, margin: marginVolts }
    }
  }
  return found?.scenario ?? null
}

/** A branch in one circumstance, with the group fired that its worst device suffers from. */
function inFull(study: OutputStudy, plan: BranchPlan, scenario: Scenario): BranchInFull | null {
  const result = study.results.find(
    (each) =>
      each.scenario.condition === scenario.condition &&
      each.scenario.moment === scenario.moment &&
      each.scenario.celsius === scenario.celsius,
  )
  const own = new Set(plan.branch.loads.map(({ id }) => id))
  let worst: DeviceResult | null = null
  for (const device of result?.devices ?? []) {
    if (!own.has(device.load) || device.outcome !== 'solved') continue
    if (worst === null || (device.marginVolts ?? Infinity) < (worst.marginVolts ?? Infinity)) worst = device
  }
  return worst === null ? null : branchInFull(plan, study.output.volts, scenario, worst.firing)
}

interface Places {
  readonly full: readonly BranchInFull[]
  readonly voltsAt: ReadonlyMap<string, number>
}

function placesIn(study: OutputStudy, scenario: Scenario): Places {
  const full = study.plans.flatMap((plan) => inFull(study, plan, scenario) ?? [])
  const voltsAt = new Map<string, number>()
  for (const { placeVolts } of full)
    for (const [place, { out, back }] of placeVolts) voltsAt.set(place, out - back)
  return { full, voltsAt }
}

function treeLines(
  data: JobData,
  output: FedOutput,
  study: OutputStudy,
  tree: readonly TreePlace[],
  scenario: Scenario | null,
): TreeLine[] {
  const at = scenario === null ? null : placesIn(study, scenario)
  const runs = new Map(at?.full.flatMap((each) => each.runs.map((run) => [run.run, run])) ?? [])
  const nameAt = placeNames(data, output)
  return tree.map((each): TreeLine => {
    const [first] = each.runs
    const figures = each.runs.flatMap(({ id }) => runs.get(id) ?? [])
    const verdicts = each.loads.flatMap(({ id }) => study.worst.get(id)?.device.verdict ?? [])
    return {
      key: each.place,
      depth: each.depth,
      placeName: nameAt(each.place),
      loads: each.loads.map(({ id }) => id),
      runId: first?.id ?? null,
      runName: first === undefined ? null : each.runs.map(({ name }) => name).join(' beside '),
      wire: first === undefined ? null : wireWords(first),
      lengthMetres: first?.lengthMetres.known === true ? first.lengthMetres.value : null,
      metres: each.metres,
      amps: figures.length === 0 ? null : figures.reduce((sum, { outAmps }) => sum + outAmps, 0),
      dropVolts: figures[0]?.dropVolts ?? null,
      volts: at?.voltsAt.get(each.place) ?? null,
      verdict: verdicts.includes('not met')
        ? 'not met'
        : verdicts.includes('not known')
          ? 'not known'
          : (verdicts[0] ?? null),
      loose: each.parent === null && each.place !== source,
    }
  })
}

/** "18 AWG stranded", "2 x 18 AWG solid"; null where a size is not known. */
export function wireWords({ out, back }: FedOutput['runs'][number]): string | null {
  const conductors = out.length > 0 ? out : back
  const sizes = new Set<string>()
  for (const { size, stranded } of conductors) {
    if (!size.known) return null
    sizes.add(
      `${writeWireSize(size.value)}${stranded.known ? (stranded.value ? ' stranded' : ' solid') : ''}`,
    )
  }
  if (sizes.size === 0) return null
  return `${conductors.length > 1 ? `${conductors.length} x ` : ''}${[...sizes].join(' and ')}`
}

/** The name of each place: the output, or the opening and tag of a fitting. */
function placeNames(data: JobData, output: FedOutput): (place: string) => string {
  const byPlace = new Map(output.loads.map(({ at, name }) => [at, name]))
  return (place) => {
    if (place === source) return output.name
    const named = byPlace.get(place)
    if (named !== undefined) return named
    const fitting = data.get('fitting', place)
    const opening = fitting === undefined ? undefined : data.get('opening', fitting.openingId)
    if (opening === undefined) return 'a place not known yet'
    const slot = data.get('typicalFitting', fitting?.typicalFittingId ?? '')
    return `${opening.mark} ${fitting?.tag ?? slot?.tag ?? ''}`.trim()
  }
}

/** Null where no device has both a place along the cable and a figure. */
export function voltsFigure(
  power: OutputPower,
  devices: readonly DevicePage[],
  units: Units,
): VoltsFigureInput | null {
  const { study } = power
  const tree = treeOf(study.output)
  const worst = worstScenario(study, onMains)
  const battery = worstScenario(study, ({ condition }) => condition === 'end of discharge')
  const cases: VoltsCase[] = []
  const voltsIn: Partial<Record<VoltsCase['key'], ReadonlyMap<string, number>>> = {}
  for (const [key, scenario] of [
    ['worst', worst],
    ['battery', battery],
  ] as const) {
    if (scenario === null) continue
    const { voltsAt } = placesIn(study, scenario)
    voltsIn[key] = voltsAt
    const metresAt = new Map(tree.map((each) => [each.place, each.metres]))
    const point = (place: string) => {
      const [metres, volts] = [metresAt.get(place), voltsAt.get(place)]
      return metres == null || volts === undefined ? null : { metres, volts }
    }
    cases.push({
      key,
      words: `${key === 'worst' ? 'On mains' : 'On battery'}: ${scenarioWords(scenario)}`,
      legs: tree.flatMap((each) => {
        const from = each.parent === null ? null : point(each.parent)
        const to = point(each.place)
        return from === null || to === null ? [] : [{ from, to }]
      }),
    })
  }
  const placeOf = new Map(study.output.loads.map(({ id, at }) => [id, at]))
  const notShown: string[] = []
  const shown = devices.flatMap((device) => {
    // What it has in the circumstance of the line, so that its dot stands on it.
    const place = placeOf.get(device.load) ?? ''
    const worstVolts = voltsIn.worst?.get(place) ?? null
    const batteryVolts = voltsIn.battery?.get(place) ?? null
    if (device.metres === null || (worstVolts === null && batteryVolts === null)) {
      notShown.push(device.name)
      return []
    }
    return [
      {
        load: device.load,
        name: device.name,
        metres: device.metres,
        minimumVolts: device.minimumVolts,
        worstVolts,
        batteryVolts,
        broken: device.worst?.verdict === 'not met' || device.battery?.verdict === 'not met',
      },
    ]
  })
  return shown.length === 0 ? null : { name: study.output.name, units, cases, devices: shown, notShown }
}

function remedyPages(
  data: JobData,
  job: JobPower,
  supply: SupplyPower,
  { study }: OutputPower,
  nameOf: (id: string) => string,
): { readonly remedies: readonly RemedyPage[]; readonly routesAsked: readonly RouteAsked[] } {
  const { units } = data.job
  const remedies: RemedyPage[] = []
  const routes = new Map<string, RouteAsked>()
  for (const plan of study.plans) {
    const { loads } = plan.branch
    if (!loads.some(({ id }) => study.worst.get(id)?.device.verdict === 'not met')) continue
    const nearer = nearerOutputs(data, job.supplies, supply.supply.id, loads)
    const found = remediesFor(plan, study.output.volts, job.settings.scenarios, nearer)
    remedies.push(...found.remedies.map((each) => remedyPage(data, each, nameOf, units)))
    for (const each of routesMissing(data, job, nearer, loads))
      routes.set(`${each.supplyId} ${each.levelId}`, each)
  }
  return { remedies, routesAsked: [...routes.values()] }
}

function routesMissing(
  data: JobData,
  job: JobPower,
  nearer: ReturnType<typeof nearerOutputs>,
  loads: readonly Load[],
): readonly RouteAsked[] {
  const opening = data.get('opening', data.get('fitting', loads[0]?.at ?? '')?.openingId ?? '')
  const level = data.get('level', opening?.levelId ?? '')
  if (level === undefined) return []
  return nearer.flatMap(({ id, lengthMetres }) => {
    if (lengthMetres.known) return []
    const owner = job.supplies.find(({ supply }) => supply.outputs.some((each) => each.id === id))
    return owner === undefined
      ? []
      : [
          {
            supplyId: owner.supply.id,
            supplyMark: owner.supply.name,
            levelId: level.id,
            levelName: level.name,
          },
        ]
  })
}

function remedyPage(data: JobData, remedy: Remedy, nameOf: (id: string) => string, units: Units): RemedyPage {
  const deed = remedyDeed(remedy, nameOf, units)
  const { works, volts, marginVolts, newCableMetres } = remedy
  return {
    deed,
    gives: remedyGives(remedy, nameOf),
    works,
    volts,
    marginVolts,
    newCableMetres,
    command: remedyCommand(data, remedy.change, deed),
  }
}

/** All of one output; null where it is not there. */
export function outputPage(data: JobData, job: JobPower, outputId: string): OutputPage | null {
  for (const supply of job.supplies)
    for (const [index, power] of supply.outputs.entries()) {
      const output = supply.supply.outputs[index]
      if (output === undefined || output.id !== outputId) continue
      const tree = treeOf(output)
      const scenario = worstScenario(power.study, () => true)
      const devices = devicePages(data, power, tree)
      const names = new Map([
        ...output.runs.map(({ id, name }) => [id, name] as const),
        ...output.loads.map(({ id, name }) => [id, name] as const),
      ])
      const nameOf = (id: string): string => names.get(id) ?? id
      return {
        units: data.job.units,
        line: outputLine(power, supply.supply.name),
        treeScenario: scenario === null ? null : scenarioWords(scenario),
        tree: treeLines(data, output, power.study, tree, scenario),
        devices,
        figure: voltsFigure(power, devices, data.job.units),
        ...remedyPages(data, job, supply, power, nameOf),
        faults: power.study.faults.map((each) => faultSentence(each, nameOf)),
        questions: askedQuestions(power.loading.questions),
      }
    }
  return null
}

/** The sum of one device's volts, line by line. */
export function workingLines(
  job: JobPower,
  outputId: string,
  load: string,
  scenario: Scenario,
  units: Units,
): readonly string[] {
  for (const { outputs } of job.supplies)
    for (const { study } of outputs)
      if (study.output.id === outputId)
        return workingOf(study, load, scenario).map((step) => stepSentence(step, units))
  return []
}

/** "305 ft along PS3 output 2": where a device stands on its output. */
export const alongWords = (metres: number | null, units: Units): string =>
  metres === null ? 'a length on the way is not known' : cableWords(metres, units)
