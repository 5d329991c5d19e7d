// How a device's volts came about, step by step, as data. sentences.ts says them; paper and tests use the same steps.
import { ratingOf, runSideOhms, type LoadForm, type Run } from './network.ts'
import { placeAt } from './numbers.ts'
import {
  branchInFull,
  marginIn,
  type BranchInFull,
  type Condition,
  type OutputStudy,
  type Scenario,
} from './scenarios.ts'
import { writeWireSize } from './wire.ts'

export type Step =
  | {
      readonly step: 'source'
      readonly output: string
      readonly condition: Condition
      readonly volts: number
    }
  | {
      readonly step: 'wire'
      readonly run: string
      readonly side: 'out' | 'back'
      readonly conductors: readonly string[]
      readonly lengthMetres: number
      readonly celsius: number
      readonly ohms20: number
      readonly ohms: number
    }
  | {
      readonly step: 'drop'
      readonly run: string
      readonly side: 'out' | 'back'
      readonly amps: number
      readonly ohms: number
      readonly volts: number
    }
  | {
      readonly step: 'draw'
      readonly load: string
      readonly form: LoadForm
      readonly statedAmps: number
      readonly statedVolts: number | null
      readonly firing: string | null
      readonly amps: number
    }
  | { readonly step: 'device'; readonly load: string; readonly volts: number; readonly dropVolts: number }
  | {
      readonly step: 'window'
      readonly load: string
      readonly setting: string | null
      readonly minimumVolts: number
      readonly maximumVolts: number
      readonly marginVolts: number
    }
  | {
      readonly step: 'checked'
      readonly powerInWatts: number
      readonly usedWatts: number
      readonly lostWatts: number
    }

/** The steps from the output to one load in one scenario; empty where there is no figure. Drops add up to the volts lost. */
export function workingOf(study: OutputStudy, loadId: string, scenario: Scenario): readonly Step[] {
  const { output, plans, results } = study
  const plan = plans.find(({ branch }) => branch.loads.some(({ id }) => id === loadId))
  const result = results.find(
    ({ scenario: { condition, moment, celsius } }) =>
      condition === scenario.condition && moment === scenario.moment && celsius === scenario.celsius,
  )
  const device = result?.devices.find(({ load }) => load === loadId)
  if (plan === undefined || device?.outcome !== 'solved') return []
  const full = branchInFull(plan, output.volts, scenario, device.firing)
  if (full === null) return []
  const index = plan.branch.loads.findIndex(({ id }) => id === loadId)
  return [
    { step: 'source', output: output.name, condition: scenario.condition, volts: full.sourceVolts },
    ...full.plan.branch.loads.flatMap((_, load) => drawStep(full, load)),
    ...sideSteps(full, index, 'out'),
    ...sideSteps(full, index, 'back'),
    ...deviceSteps(full, index),
    {
      step: 'checked',
      powerInWatts: full.sourceVolts * full.sourceAmps,
      usedWatts: full.usedWatts,
      lostWatts: full.lostWatts,
    },
  ]
}

function drawStep(full: BranchInFull, index: number): readonly Step[] {
  const load = full.plan.branch.loads[index]
  if (load === undefined) return []
  const rating = ratingOf(load)
  if (!rating.known || !load.form.known || !rating.value.holdingAmps.known) return []
  const { statedVolts, inrush, holdingAmps } = rating.value
  const fires = full.firing !== null && (load.firesWith ?? load.name) === full.firing
  const rush = fires && inrush.known ? inrush.value : null
  return [
    {
      step: 'draw',
      load: load.name,
      form: load.form.value,
      statedAmps: rush !== null && rush.amps > holdingAmps.value ? rush.amps : holdingAmps.value,
      statedVolts: statedVolts.known ? statedVolts.value : null,
      firing: rush === null ? null : full.firing,
      amps: full.loadAmps[index] ?? Number.NaN,
    },
  ]
}

function sideSteps(full: BranchInFull, load: number, side: 'out' | 'back'): readonly Step[] {
  const { circuit, plan, scenario } = full
  const legs: number[] = []
  for (let place = placeAt(circuit.loadPlace, load); place > 0; place = placeAt(circuit[side].parent, place))
    legs.unshift(place)
  return legs.flatMap((place) =>
    (circuit[side].runs[place] ?? []).flatMap((index, nth): readonly Step[] => {
      const run = plan.branch.runs[index]
      const found = full.runs[index]
      if (run === undefined || found === undefined) return []
      const ohms = side === 'out' ? found.outOhms : found.backOhms
      const amps = side === 'out' ? found.outAmps : found.backAmps
      const wire = wireStep(run, side, scenario.celsius, ohms)
      // Runs side by side share one drop, which counts once.
      return nth > 0 ? [wire] : [wire, { step: 'drop', run: run.name, side, amps, ohms, volts: amps * ohms }]
    }),
  )
}

function wireStep(run: Run, side: 'out' | 'back', celsius: number, ohms: number): Step {
  const conductors = run[side].map(({ size, stranded }) =>
    size.known && stranded.known
      ? `${writeWireSize(size.value)} ${stranded.value ? 'stranded' : 'solid'}`
      : 'not known',
  )
  const lengthMetres = run.lengthMetres.known ? run.lengthMetres.value : Number.NaN
  const ohms20 = runSideOhms(run, side)
  return { step: 'wire', run: run.name, side, conductors, lengthMetres, celsius, ohms20, ohms }
}

function deviceSteps(full: BranchInFull, index: number): readonly Step[] {
  const load = full.plan.branch.loads[index]
  const volts = full.loadVolts[index]
  if (load === undefined || volts === undefined) return []
  const device: Step = { step: 'device', load: load.name, volts, dropVolts: full.sourceVolts - volts }
  const rating = ratingOf(load)
  if (!rating.known || !rating.value.window.known) return [device]
  const { minimumVolts, maximumVolts } = rating.value.window.value
  const marginVolts = marginIn(rating.value.window.value, volts)
  const { setting } = rating.value
  return [device, { step: 'window', load: load.name, setting, minimumVolts, maximumVolts, marginVolts }]
}
