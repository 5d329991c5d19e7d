// The least change that puts a branch right: thicker wire, a doubled pair, a split run, a nearer output. Ranked by work.
import { questionsOf, type Fact, type Question } from './facts.ts'
import {
  branchesOf,
  runSideOhms,
  source,
  withRunOhms,
  type Circuit,
  type ConductorFacts,
  type Network,
  type Run,
  type Side,
} from './network.ts'
import { at, placeAt } from './numbers.ts'
import {
  marginIn,
  sourceVoltsIn,
  type BranchPlan,
  type OutputVolts,
  type ScenarioSettings,
  type Scenario,
} from './scenarios.ts'
import { sharedSolver, type Drawn, type Solved } from './solve.ts'
import { areaSquareMillimetres, temperatureFactor, thickerThan, type WireSize } from './wire.ts'

export type Change =
  | {
      readonly change: 'thicker'
      readonly sizes: readonly { readonly run: string; readonly size: WireSize }[]
    }
  | { readonly change: 'double'; readonly run: string; readonly usesSpare: boolean }
  /** The run is taken off its near end and its far end is fed by a run of its own from the output. */
  | {
      readonly change: 'split'
      readonly run: string
      readonly newRun: string
      readonly lengthMetres: number
    }
  /** The first runs of the branch start at another output. */
  | {
      readonly change: 'move'
      readonly runs: readonly string[]
      readonly toOutput: string
      readonly toName: string
      readonly lengthMetres: number
    }

/** An output that a branch could move to, and how far from it the branch begins. */
export interface NearerOutput {
  readonly id: string
  readonly name: string
  readonly volts: OutputVolts
  /** What it may still carry within its loading limit. */
  readonly spareAmps: Fact<number>
  readonly lengthMetres: Fact<number>
}

/** The figures a change would give, in the scenario that is worst with it. */
export interface Remedy {
  readonly change: Change
  /** Every device is inside its window in every scenario. */
  readonly works: boolean
  /** The least margin of any device then; null where the branch still cannot be fed. */
  readonly marginVolts: number | null
  /** The device with that margin, and its volts. */
  readonly load: string
  readonly volts: number | null
  readonly scenario: Scenario
  /** What each device that was outside its window would have at its worst. */
  readonly gives: readonly { readonly load: string; readonly volts: number; readonly marginVolts: number }[]
  /** Cable to pull; 0 where spare conductors do it. */
  readonly newCableMetres: number
  /** Copper in it: square millimetres times metres is cubic centimetres. */
  readonly newCopperCubicCentimetres: number
}

export interface RemedyStudy {
  /** Working ones first, the least work first. Those that do not work are given only where none does. */
  readonly remedies: readonly Remedy[]
  /** Missing facts that could change the ranking or the answer. */
  readonly questions: readonly Question[]
}

interface Circumstance {
  readonly scenario: Scenario
  readonly volts: number
  readonly factor: number
  readonly drawn: Drawn
}

/** Every circumstance in which a branch is judged. */
function circumstancesOf(
  plan: BranchPlan,
  volts: OutputVolts,
  settings: ScenarioSettings,
): readonly Circumstance[] {
  const { holding, firings } = plan
  if (holding === null) return []
  return settings.conditions.flatMap((condition) => {
    const given = sourceVoltsIn(volts, condition)
    if (!given.known || given.value === null) return []
    const sourceVolts = given.value
    return settings.cableCelsius.flatMap((celsius) => {
      const factor = temperatureFactor(celsius)
      const inMoment = (moment: Scenario['moment'], drawn: Drawn): Circumstance => ({
        scenario: { condition, moment, celsius },
        volts: sourceVolts,
        factor,
        drawn,
      })
      return [inMoment('holding', holding), ...firings.map(({ drawn }) => inMoment('worst moment', drawn))]
    })
  })
}

interface Lowest {
  /** Minus infinity where the branch cannot be fed. */
  readonly margin: number
  readonly load: number
  readonly volts: number
}

/** The device with the least margin in what was solved; null where no window is known. */
function lowestIn(plan: BranchPlan, solved: Solved): Lowest | null {
  if (!solved.ok) return { margin: -Infinity, load: 0, volts: Number.NaN }
  let found = -1
  let least = Infinity
  for (let load = 0; load < plan.windows.length; load += 1) {
    const window = plan.windows[load]
    if (window?.known !== true) continue
    const margin = marginIn(window.value, at(solved.solution.loadVolts, load))
    if (margin < least) [found, least] = [load, margin]
  }
  return found < 0 ? null : { margin: least, load: found, volts: at(solved.solution.loadVolts, found) }
}

/** A circuit of the plan's loads in one circumstance; overwritten by the next. */
const solveIn = (circuit: Circuit, { volts, factor, drawn }: Circumstance): Solved =>
  sharedSolver(circuit).solve(volts, factor, drawn, circuit)

/** Runs between the source and these loads. */
function runsOnTheWay({ out, back, loadPlace }: Circuit, loads: ReadonlySet<number>): readonly number[] {
  const found = new Set<number>()
  for (const side of [out, back])
    for (const load of loads)
      for (let place = placeAt(loadPlace, load); place > 0; place = placeAt(side.parent, place))
        for (const run of side.runs[place] ?? []) found.add(run)
  return [...found].toSorted((one, other) => one - other)
}

/** How a branch stands before anything is changed: loads outside their window, and its circumstances, the worst first. */
function troubleOf(plan: BranchPlan, circuit: Circuit, circumstances: readonly Circumstance[]) {
  const troubled = new Set<number>()
  const ranked: { readonly circumstance: Circumstance; readonly margin: number }[] = []
  for (const circumstance of circumstances) {
    const solved = solveIn(circuit, circumstance)
    let least = solved.ok ? Infinity : -Infinity
    for (const [load, window] of plan.windows.entries()) {
      if (solved.ok && !window.known) continue
      const margin =
        solved.ok && window.known ? marginIn(window.value, at(solved.solution.loadVolts, load)) : -Infinity
      if (margin < 0) troubled.add(load)
      least = Math.min(least, margin)
    }
    ranked.push({ circumstance, margin: least })
  }
  const worstFirst = ranked.toSorted((one, other) =>
    one.margin === other.margin ? 0 : one.margin - other.margin,
  )
  return { troubled, worstFirst: worstFirst.map(({ circumstance }) => circumstance) }
}

/** A change with the circuit it would make. Places and loads stay those of the branch. */
interface Candidate {
  readonly change: Change
  readonly circuit: Circuit
  readonly circumstances: readonly Circumstance[]
  /** Square millimetres times metres, and metres, of each cable to pull. */
  readonly cable: readonly { readonly metres: number; readonly copper: number }[]
}

interface Trial {
  readonly plan: BranchPlan
  readonly circuit: Circuit
  readonly worstFirst: readonly Circumstance[]
  readonly troubled: ReadonlySet<number>
}

/** Ways to put a branch right, or none where nothing is wrong or where its figures are not known. */
export function remediesFor(
  plan: BranchPlan,
  volts: OutputVolts,
  settings: ScenarioSettings,
  nearer: readonly NearerOutput[] = [],
): RemedyStudy {
  const { circuit, inrushQuestions } = plan
  if (circuit === null) return { remedies: [], questions: plan.questions }
  const trial: Trial = {
    plan,
    circuit,
    ...troubleOf(plan, circuit, circumstancesOf(plan, volts, settings)),
  }
  if (trial.troubled.size === 0) return { remedies: [], questions: [] }
  const way = runsOnTheWay(circuit, trial.troubled)
  // Each list is one kind of change from the least on: the first of it that works is offered.
  const ladders: readonly (readonly (() => Candidate)[])[] = [
    ...way.map((run) => thicker(trial, [run])),
    ...(way.length > 1 ? [thicker(trial, way)] : []),
    ...way.map((run) => [() => doubled(trial, run)]),
    ...way.map((run) => split(trial, run)),
    ...nearer.map((output) => moved(trial, output, settings)),
  ]
  const working: Remedy[] = []
  const others: Candidate[] = []
  for (const ladder of ladders) {
    const found = firstThatWorks(trial, ladder)
    if (found === null) continue
    if (found.works) working.push(remedy(trial, found.candidate))
    else others.push(found.candidate)
  }
  return {
    remedies:
      working.length > 0
        ? working.toSorted(byWork)
        : others
            .map((candidate) => remedy(trial, candidate))
            .toSorted(byMargin)
            .slice(0, 3),
    questions: [
      ...inrushQuestions,
      ...nearer.flatMap(({ spareAmps, lengthMetres }) => questionsOf(spareAmps, lengthMetres)),
    ],
  }
}

const byWork = (one: Remedy, other: Remedy): number =>
  one.newCableMetres - other.newCableMetres ||
  one.newCopperCubicCentimetres - other.newCopperCubicCentimetres ||
  byMargin(one, other)
const byMargin = (one: Remedy, other: Remedy): number => {
  const [left, right] = [one.marginVolts ?? -Infinity, other.marginVolts ?? -Infinity]
  return left === right ? 0 : right - left
}

/** The first step of a ladder that works, else its last; null where there is no step. */
function firstThatWorks(
  trial: Trial,
  ladder: readonly (() => Candidate)[],
): { readonly candidate: Candidate; readonly works: boolean } | null {
  const last = ladder.at(-1)?.()
  if (last === undefined) return null
  // With volts too low at the most of a kind, the steps before it are not tried: less copper gives less.
  if (ladder.length > 1 && staysTooLow(trial, last)) return { candidate: last, works: false }
  for (const step of ladder.slice(0, -1)) {
    const candidate = step()
    if (worksEverywhere(trial, candidate)) return { candidate, works: true }
  }
  return { candidate: last, works: worksEverywhere(trial, last) }
}

/** Whether in the circumstance that was worst some device still has less than its least volts. */
function staysTooLow({ plan }: Trial, { circuit, circumstances }: Candidate): boolean {
  const [worst] = circumstances
  if (worst === undefined) return false
  const solved = solveIn(circuit, worst)
  if (!solved.ok) return true
  const lowest = lowestIn(plan, solved)
  const window = lowest === null ? undefined : plan.windows[lowest.load]
  return lowest !== null && window?.known === true && lowest.volts < window.value.minimumVolts
}

/** Ends at the first circumstance that fails, and most fail in the first. */
const worksEverywhere = ({ plan }: Trial, { circuit, circumstances }: Candidate): boolean =>
  circumstances.every((circumstance) => {
    const lowest = lowestIn(plan, solveIn(circuit, circumstance))
    return lowest === null || lowest.margin >= 0
  })

const runAt = ({ plan }: Trial, index: number): Run => {
  const run = plan.branch.runs[index]
  if (run === undefined) throw new Error(`no run ${index} in the branch`)
  return run
}

const allOf = (run: Run): readonly ConductorFacts[] => [...run.out, ...run.back]
const lengthOf = ({ lengthMetres }: Run): number => (lengthMetres.known ? lengthMetres.value : 0)
const areaOf = (run: Run): number =>
  allOf(run).reduce((sum, { size }) => sum + (size.known ? areaSquareMillimetres(size.value) : 0), 0)
/** A cable like that of this run, of some length. */
const cableLike = (run: Run, metres: number) => ({ metres, copper: areaOf(run) * metres })

const bothOhms = (run: Run) => ({ out: runSideOhms(run, 'out'), back: runSideOhms(run, 'back') })

/** These runs together in steps up, each to the next sizes of its own. */
function thicker(trial: Trial, indexes: readonly number[]): readonly (() => Candidate)[] {
  const ladders = indexes.map((index) => {
    const run = runAt(trial, index)
    const sizes = allOf(run).flatMap(({ size }) => (size.known ? [size.value] : []))
    const [thinnest] = sizes.toSorted(
      (one, other) => areaSquareMillimetres(one) - areaSquareMillimetres(other),
    )
    return { run, index, steps: thinnest === undefined ? [] : thickerThan(thinnest) }
  })
  const most = Math.max(0, ...ladders.map(({ steps }) => steps.length))
  return Array.from({ length: most }, (_, step) => () => {
    const sizes = ladders.flatMap(({ run, index, steps }) => {
      const size = steps[Math.min(step, steps.length - 1)]
      return size === undefined ? [] : [{ run: withSize(run, size), index, size }]
    })
    return {
      change: { change: 'thicker', sizes: sizes.map(({ run, size }) => ({ run: run.id, size })) },
      circuit: withRunOhms(trial.circuit, new Map(sizes.map(({ run, index }) => [index, bothOhms(run)]))),
      circumstances: trial.worstFirst,
      cable: sizes.map(({ run }) => cableLike(run, lengthOf(run))),
    }
  })
}

const withSize = (run: Run, size: WireSize): Run => {
  const resized = (conductors: readonly ConductorFacts[]): readonly ConductorFacts[] =>
    conductors.map(({ stranded }) => ({ size: { known: true, value: size, origin: null }, stranded }))
  return { ...run, out: resized(run.out), back: resized(run.back) }
}

const twice = (run: Run): Run => ({ ...run, out: [...run.out, ...run.out], back: [...run.back, ...run.back] })

function doubled(trial: Trial, index: number): Candidate {
  const run = runAt(trial, index)
  const usesSpare = run.spareConductors >= allOf(run).length
  return {
    change: { change: 'double', run: run.id, usesSpare },
    circuit: withRunOhms(trial.circuit, new Map([[index, bothOhms(twice(run))]])),
    circumstances: trial.worstFirst,
    cable: usesSpare ? [] : [cableLike(run, lengthOf(run))],
  }
}

/** Only where out and back go the same way, and never at a run that starts at the output already. */
function split(trial: Trial, index: number): readonly (() => Candidate)[] {
  const { circuit } = trial
  const place = circuit.out.runs.findIndex((runs) => runs.includes(index))
  if (!circuit.twoWire || place < 1 || placeAt(circuit.out.parent, place) === 0) return []
  if ((circuit.out.runs[place] ?? []).length > 1 || (circuit.back.runs[place] ?? []).length > 1) return []
  const run = runAt(trial, index)
  if (run.out.length === 0 || run.back.length === 0) return []
  let lengthMetres = 0
  for (let here = place; here > 0; here = placeAt(circuit.out.parent, here)) {
    const [first] = circuit.out.runs[here] ?? []
    if (first !== undefined) lengthMetres += lengthOf(runAt(trial, first))
  }
  const home: Run = { ...run, lengthMetres: { known: true, value: lengthMetres, origin: null } }
  return [
    () => ({
      change: { change: 'split', run: run.id, newRun: `${run.id}-home`, lengthMetres },
      circuit: fedFromSource(withRunOhms(circuit, new Map([[index, bothOhms(home)]])), place),
      circumstances: trial.worstFirst,
      cable: [cableLike(run, lengthMetres)],
    }),
  ]
}

/** The same circuit with the leg of one place coming from the source. Parents still stand before children. */
function fedFromSource(circuit: Circuit, place: number): Circuit {
  const fromSource = (side: Side): Side => {
    const parent = side.parent.slice()
    parent[place] = 0
    return { ...side, parent }
  }
  return { ...circuit, out: fromSource(circuit.out), back: fromSource(circuit.back) }
}

/** The runs that start at the output start at another one: their new length, its volts. */
function moved(trial: Trial, output: NearerOutput, settings: ScenarioSettings): readonly (() => Candidate)[] {
  const { plan, circuit } = trial
  if (!output.spareAmps.known || !output.lengthMetres.known) return []
  const lengthMetres = output.lengthMetres.value
  const first = plan.branch.runs.flatMap((run, index) =>
    run.from === source || run.to === source
      ? [{ index, run: { ...run, lengthMetres: output.lengthMetres } }]
      : [],
  )
  const circumstances = circumstancesOf(plan, output.volts, settings)
  const changed = withRunOhms(circuit, new Map(first.map(({ index, run }) => [index, bothOhms(run)])))
  const [calm] = circumstances
  const held = calm === undefined ? null : solveIn(changed, calm)
  const hasRoom = held?.ok === true && held.solution.sourceAmps <= output.spareAmps.value
  if (first.length === 0 || !hasRoom) return []
  return [
    () => ({
      change: {
        change: 'move',
        runs: first.map(({ run }) => run.id),
        toOutput: output.id,
        toName: output.name,
        lengthMetres,
      },
      circuit: changed,
      circumstances,
      cable: first.map(({ run }) => cableLike(run, lengthMetres)),
    }),
  ]
}

/** All figures of a candidate: its worst, and what each troubled device would have. */
function remedy({ plan, troubled }: Trial, { change, circuit, circumstances, cable }: Candidate): Remedy {
  const { loads } = plan.branch
  const least = new Map<number, { volts: number; marginVolts: number }>()
  let worst: (Lowest & { readonly scenario: Scenario }) | null = null
  for (const circumstance of circumstances) {
    const solved = solveIn(circuit, circumstance)
    const lowest = lowestIn(plan, solved)
    if (lowest === null) continue
    if (worst === null || lowest.margin < worst.margin) worst = { ...lowest, scenario: circumstance.scenario }
    if (lowest.margin === -Infinity) break
    if (solved?.ok !== true) continue
    for (const load of troubled) {
      const window = plan.windows[load]
      if (window?.known !== true) continue
      const volts = at(solved.solution.loadVolts, load)
      const marginVolts = marginIn(window.value, volts)
      const before = least.get(load)
      if (before === undefined || marginVolts < before.marginVolts) least.set(load, { volts, marginVolts })
    }
  }
  if (worst === null) throw new Error('a branch in trouble has a circumstance and a window')
  const fed = worst.margin > -Infinity
  return {
    change,
    works: worst.margin >= 0,
    marginVolts: fed ? worst.margin : null,
    load: loads[worst.load]?.id ?? '',
    volts: fed ? worst.volts : null,
    scenario: worst.scenario,
    gives: fed ? [...least].map(([load, figures]) => ({ load: loads[load]?.id ?? '', ...figures })) : [],
    newCableMetres: cable.reduce((sum, { metres }) => sum + metres, 0),
    newCopperCubicCentimetres: cable.reduce((sum, { copper }) => sum + copper, 0),
  }
}

/**
 * The network with a change carried out. A move leaves the runs where they are and gives them their new length: which
 * output they hang on is for whoever keeps the job.
 */
export function withChange(network: Network, change: Change): Network {
  const { runs, loads } = network
  switch (change.change) {
    case 'thicker': {
      const sizes = new Map(change.sizes.map(({ run, size }) => [run, size]))
      return {
        loads,
        runs: runs.map((run) => {
          const size = sizes.get(run.id)
          return size === undefined ? run : withSize(run, size)
        }),
      }
    }
    case 'double':
      return {
        loads,
        runs: runs.map((run) =>
          run.id !== change.run
            ? run
            : {
                ...twice(run),
                spareConductors: change.usesSpare
                  ? run.spareConductors - allOf(run).length
                  : run.spareConductors,
              },
        ),
      }
    case 'split':
      return {
        loads,
        runs: runs.map((run) =>
          run.id !== change.run
            ? run
            : {
                ...run,
                id: change.newRun,
                from: source,
                to: farEnd(network, run),
                lengthMetres: { known: true, value: change.lengthMetres, origin: 'the way it took before' },
              },
        ),
      }
    case 'move': {
      const moving = new Set(change.runs)
      return {
        loads,
        runs: runs.map((run) =>
          moving.has(run.id)
            ? { ...run, lengthMetres: { known: true, value: change.lengthMetres, origin: change.toName } }
            : run,
        ),
      }
    }
  }
}

/** The end of a run that is farther from the output. */
function farEnd(network: Network, run: Run): string {
  for (const { circuit, runs } of branchesOf(network)) {
    const index = runs.findIndex(({ id }) => id === run.id)
    if (circuit === null || index < 0) continue
    const place = circuit.out.runs.findIndex((legs) => legs.includes(index))
    return circuit.places[place] ?? run.to
  }
  return run.to
}
