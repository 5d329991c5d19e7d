// Volts and currents of one branch. Exact for constant currents and resistances; Newton's method for constant powers.
//
// Why a collapse is certain and no failure of the method (two-wire trees). With place volts V, the balance of currents is
// h(V) = Y V + amps + watts / V - Y V0, with Y the conductances of wires and resistive loads. h is convex, and its slope
// has no positive entry beside the diagonal. At V = V0 (no drop at all) h is nowhere negative, and every true answer lies
// below. From there Newton's steps go down only, and never below an answer (monotone Newton theorem, Ortega and
// Rheinboldt, Iterative Solution of Nonlinear Equations in Several Variables, 13.3). As long as an answer lies below, every
// pivot of the elimination is positive. So a pivot or a voltage that is not positive proves that no answer exists.
import type { Circuit, Side } from './network.ts'
import { add, at, placeAt } from './numbers.ts'

/** What each load draws in one moment, by its form: amps whatever the volts, siemens, watts. Zero where it is of another. */
export interface Drawn {
  readonly amps: Float64Array
  readonly siemens: Float64Array
  readonly watts: Float64Array
}

export const nothingDrawn = (loads: number): Drawn => ({
  amps: new Float64Array(loads),
  siemens: new Float64Array(loads),
  watts: new Float64Array(loads),
})

/** All figures of a solved branch. Arrays by place of the circuit, or by load where they say so. */
export interface Solution {
  readonly sourceVolts: number
  /** What the ohms at 20 °C were multiplied by. */
  readonly factor: number
  /** Volts of the positive and of the negative conductor at each place, from the negative terminal of the output. */
  readonly outVolts: Float64Array
  readonly backVolts: Float64Array
  /** Current in the leg between each place and its parent. */
  readonly outAmps: Float64Array
  readonly backAmps: Float64Array
  readonly loadVolts: Float64Array
  readonly loadAmps: Float64Array
  readonly sourceAmps: number
  readonly usedWatts: number
  readonly lostWatts: number
}

/**
 * `cannot be fed`: no volts satisfy the loads (two-wire trees: proved; separate returns: none was found on the way up
 * from no load). `failed its check`: the figures do not conserve current or power, so they are no result.
 */
export type Failure = 'cannot be fed' | 'failed its check'
export type Solved =
  | { readonly ok: true; readonly solution: Solution }
  | { readonly ok: false; readonly fails: Failure }

/** Amps and volts: each balance holds to this much, and to this share of the whole. */
export const tolerance = 1e-9
const mostSteps = 100

/**
 * A solver with its own working space. What `solve` gives is overwritten by its next call: copy what is to be kept.
 * `solve` works for any circuit with as many places and loads as the one it was made for, which it takes if none is given.
 */
export function solverFor(shape: Circuit): {
  solve: (volts: number, factor: number, drawn: Drawn, circuit?: Circuit) => Solved
} {
  const places = shape.places.length
  const loads = shape.loadPlace.length
  const space = {
    slopeAmps: new Float64Array(places),
    slope: new Float64Array(places),
    placeVolts: new Float64Array(places),
    balance: new Float64Array(places),
  }
  const solution = {
    sourceVolts: 0,
    factor: 1,
    outVolts: new Float64Array(places),
    backVolts: new Float64Array(places),
    outAmps: new Float64Array(places),
    backAmps: new Float64Array(places),
    loadVolts: new Float64Array(loads),
    loadAmps: new Float64Array(loads),
    sourceAmps: 0,
    usedWatts: 0,
    lostWatts: 0,
  }
  const good: Solved = { ok: true, solution }
  const collapsed: Solved = { ok: false, fails: 'cannot be fed' }
  const unsound: Solved = { ok: false, fails: 'failed its check' }
  return {
    solve(volts, factor, drawn, circuit = shape) {
      const { loadVolts } = solution
      const found = circuit.twoWire
        ? solveTree(circuit, volts, factor, drawn, space, loadVolts)
        : solveSeparate(circuit, volts, factor, drawn, loadVolts)
      if (!found) return collapsed
      fillIn(circuit, volts, factor, drawn, solution)
      return conserves(circuit, drawn, solution, space.balance) ? good : unsound
    },
  }
}

const solvers = new Map<string, ReturnType<typeof solverFor>>()

/**
 * A solver for circuits of this size, shared by all of them: making the working space costs more than a solve. The trap: what
 * it gives is overwritten by the next solve of any circuit of the size, so read it at once.
 */
export function sharedSolver(circuit: Circuit): ReturnType<typeof solverFor> {
  const size = `${circuit.places.length} ${circuit.loadPlace.length}`
  let solver = solvers.get(size)
  if (solver === undefined) solvers.set(size, (solver = solverFor(circuit)))
  return solver
}

interface Space {
  readonly slopeAmps: Float64Array
  readonly slope: Float64Array
  readonly placeVolts: Float64Array
}

/** Newton's steps, each an exact elimination from the leaves of the tree to the source and back. */
function solveTree(
  circuit: Circuit,
  volts: number,
  factor: number,
  drawn: Drawn,
  { slopeAmps, slope, placeVolts }: Space,
  loadVolts: Float64Array,
): boolean {
  const { out, back, loadPlace } = circuit
  const { order, parent } = out
  const loads = loadPlace.length
  const curved = drawn.watts.some((watts) => watts > 0)
  loadVolts.fill(volts)
  for (let step = 0; step < mostSteps; step += 1) {
    slopeAmps.fill(0)
    slope.fill(0)
    for (let load = 0; load < loads; load += 1) {
      const place = placeAt(loadPlace, load)
      const watts = at(drawn.watts, load)
      const across = at(loadVolts, load)
      // The tangent of watts / volts at these volts.
      add(slopeAmps, place, at(drawn.amps, load) + (watts > 0 ? (2 * watts) / across : 0))
      add(slope, place, at(drawn.siemens, load) - (watts > 0 ? watts / (across * across) : 0))
    }
    for (let next = order.length - 1; next >= 0; next -= 1) {
      const place = placeAt(order, next)
      const above = placeAt(parent, place)
      const pivot = 1 + at(slope, place) * (at(out.ohms, place) + at(back.ohms, place)) * factor
      if (!(pivot > 0)) return false
      add(slopeAmps, above, at(slopeAmps, place) / pivot)
      add(slope, above, at(slope, place) / pivot)
    }
    placeVolts[0] = volts
    for (let next = 0; next < order.length; next += 1) {
      const place = placeAt(order, next)
      const ohms = (at(out.ohms, place) + at(back.ohms, place)) * factor
      const above = at(placeVolts, placeAt(parent, place))
      placeVolts[place] = (above - at(slopeAmps, place) * ohms) / (1 + at(slope, place) * ohms)
    }
    let change = 0
    for (let load = 0; load < loads; load += 1) {
      const now = at(placeVolts, placeAt(loadPlace, load))
      if (!(now > 0) && draws(drawn, load)) return false
      change = Math.max(change, Math.abs(now - at(loadVolts, load)))
      loadVolts[load] = now
    }
    if (!curved || change <= 1e-12 * volts) return true
  }
  return false
}

const draws = ({ amps, siemens, watts }: Drawn, load: number): boolean =>
  at(amps, load) > 0 || at(siemens, load) > 0 || at(watts, load) > 0

/** The places between this one and the source, itself first. */
function wayHome(side: Side, place: number): readonly number[] {
  const way: number[] = []
  for (let here = place; here > 0; here = placeAt(side.parent, here)) way.push(here)
  return way
}

/** A table of loads by loads: each ampere of one lowers the volts of the other by the ohms that both ways share. */
function sharedOhms({ out, back, loadPlace }: Circuit, factor: number): Float64Array {
  const loads = loadPlace.length
  const shared = new Float64Array(loads * loads)
  for (const side of [out, back]) {
    const ways = Array.from(loadPlace, (place) => wayHome(side, place))
    for (const [one, way] of ways.entries()) {
      const mine = new Set(way)
      for (const [other, otherWay] of ways.entries())
        for (const place of otherWay)
          if (mine.has(place)) add(shared, one * loads + other, at(side.ohms, place) * factor)
    }
  }
  return shared
}

/** Newton's steps on the loads' volts; powers and currents are raised from nothing where they do not answer at once. */
function solveSeparate(
  circuit: Circuit,
  volts: number,
  factor: number,
  drawn: Drawn,
  loadVolts: Float64Array,
): boolean {
  const shared = sharedOhms(circuit, factor)
  loadVolts.fill(volts)
  if (!newton(shared, volts, drawn, 0, loadVolts)) return false
  const kept = loadVolts.slice()
  if (newton(shared, volts, drawn, 1, loadVolts)) return true
  let step = 0.25
  for (let part = 0; part < 1;) {
    const next = Math.min(1, part + step)
    loadVolts.set(kept)
    if (newton(shared, volts, drawn, next, loadVolts)) {
      part = next
      kept.set(loadVolts)
    } else {
      step /= 2
      if (step < 1e-9) return false
    }
  }
  return true
}

/** True when it settled on positive volts, on the side of the collapse where no load at all would be. */
function newton(
  shared: Float64Array,
  volts: number,
  drawn: Drawn,
  part: number,
  loadVolts: Float64Array,
): boolean {
  const loads = loadVolts.length
  const width = loads + 1
  const table = new Float64Array(loads * width)
  for (let step = 0; step < mostSteps; step += 1) {
    table.fill(0)
    for (let one = 0; one < loads; one += 1) {
      add(table, one * width + one, 1)
      add(table, one * width + loads, volts)
      for (let other = 0; other < loads; other += 1) {
        const across = at(loadVolts, other)
        const watts = at(drawn.watts, other) * part
        const ohms = at(shared, one * loads + other)
        add(table, one * width + other, ohms * (at(drawn.siemens, other) - watts / (across * across)))
        add(table, one * width + loads, -ohms * (at(drawn.amps, other) * part + (2 * watts) / across))
      }
    }
    if (!eliminate(table, loads)) return false
    let change = 0
    for (let load = 0; load < loads; load += 1) {
      const now = at(table, load * width + loads)
      if (!(now > 0) && draws(drawn, load)) return false
      change = Math.max(change, Math.abs(now - at(loadVolts, load)))
      loadVolts[load] = now
    }
    if (change <= 1e-12 * volts) return true
  }
  return false
}

/** Gauss and Jordan with the greatest pivot: the last column becomes the answer. False where the determinant is not above 0. */
function eliminate(table: Float64Array, size: number): boolean {
  const width = size + 1
  let positive = true
  for (let column = 0; column < size; column += 1) {
    let best = column
    for (let row = column + 1; row < size; row += 1)
      if (Math.abs(at(table, row * width + column)) > Math.abs(at(table, best * width + column))) best = row
    if (best !== column) {
      positive = !positive
      for (let cell = column; cell < width; cell += 1) {
        const moved = at(table, column * width + cell)
        table[column * width + cell] = at(table, best * width + cell)
        table[best * width + cell] = moved
      }
    }
    const pivot = at(table, column * width + column)
    if (!(Math.abs(pivot) > 0)) return false
    if (pivot < 0) positive = !positive
    for (let cell = column; cell < width; cell += 1)
      table[column * width + cell] = at(table, column * width + cell) / pivot
    for (let row = 0; row < size; row += 1) {
      const times = row === column ? 0 : at(table, row * width + column)
      if (times === 0) continue
      for (let cell = column; cell < width; cell += 1)
        add(table, row * width + cell, -times * at(table, column * width + cell))
    }
  }
  return positive
}

type Filled = { -readonly [K in keyof Solution]: Solution[K] }

/** Currents of loads from their volts, of legs from their loads, volts of places from the legs, and where the power goes. */
function fillIn(circuit: Circuit, volts: number, factor: number, drawn: Drawn, solution: Filled): void {
  const { loadPlace, out, back } = circuit
  const { outAmps, backAmps, outVolts, backVolts, loadVolts, loadAmps } = solution
  outAmps.fill(0)
  backAmps.fill(0)
  let usedWatts = 0
  for (let load = 0; load < loadPlace.length; load += 1) {
    const across = at(loadVolts, load)
    const watts = at(drawn.watts, load)
    const amps = at(drawn.amps, load) + at(drawn.siemens, load) * across + (watts > 0 ? watts / across : 0)
    loadAmps[load] = amps
    usedWatts += amps * across
    add(outAmps, placeAt(loadPlace, load), amps)
    add(backAmps, placeAt(loadPlace, load), amps)
  }
  let lostWatts = gather(out, outAmps, factor)
  lostWatts += gather(back, backAmps, factor)
  outVolts.fill(volts)
  backVolts.fill(0)
  for (const place of out.order)
    outVolts[place] =
      at(outVolts, placeAt(out.parent, place)) - at(outAmps, place) * at(out.ohms, place) * factor
  for (const place of back.order)
    backVolts[place] =
      at(backVolts, placeAt(back.parent, place)) + at(backAmps, place) * at(back.ohms, place) * factor
  solution.sourceVolts = volts
  solution.factor = factor
  solution.sourceAmps = at(outAmps, 0)
  solution.usedWatts = usedWatts
  solution.lostWatts = lostWatts
}

/** Adds the currents up to the source; gives the watts lost on the way. */
function gather({ order, parent, ohms }: Side, amps: Float64Array, factor: number): number {
  let lost = 0
  for (let next = order.length - 1; next >= 0; next -= 1) {
    const place = placeAt(order, next)
    const here = at(amps, place)
    add(amps, placeAt(parent, place), here)
    lost += here * here * at(ohms, place) * factor
  }
  return lost
}

/**
 * Whether a solution keeps the laws, worked out again from its figures alone: each load draws by its form at the volts
 * between its two conductors; the currents into every place sum to zero, each worked out from the volts along its leg; what
 * leaves the source comes back; power in is power used and lost. Within `tolerance` of an ampere, a volt or a watt, and of the
 * whole; a leg's current is known from its volts only as closely as these can be written.
 */
export function conserves(
  circuit: Circuit,
  drawn: Drawn,
  solution: Solution,
  balance = new Float64Array(circuit.places.length),
): boolean {
  const { loadPlace } = circuit
  const { sourceVolts, outVolts, backVolts, loadVolts, loadAmps, sourceAmps, usedWatts, lostWatts } = solution
  const slackAmps = tolerance * (1 + Math.abs(sourceAmps))
  const slackVolts = tolerance * (1 + Math.abs(sourceVolts))
  for (let load = 0; load < loadPlace.length; load += 1) {
    const place = placeAt(loadPlace, load)
    const across = at(loadVolts, load)
    const between = at(outVolts, place) - at(backVolts, place)
    if (!(Math.abs(between - across) <= slackVolts)) return false
    const watts = at(drawn.watts, load)
    const lawful = at(drawn.amps, load) + at(drawn.siemens, load) * across + (watts > 0 ? watts / across : 0)
    if (!(Math.abs(lawful - at(loadAmps, load)) <= slackAmps)) return false
  }
  const used = sum(loadVolts, loadAmps)
  if (!(Math.abs(used - usedWatts) <= tolerance * (1 + Math.abs(used)))) return false
  const powerIn = sourceVolts * sourceAmps
  if (!(Math.abs(powerIn - used - lostWatts) <= tolerance * (1 + Math.abs(powerIn)))) return false
  return (
    sideConserves(circuit.out, outVolts, solution.outAmps, 1, circuit, solution, slackAmps, balance) &&
    sideConserves(circuit.back, backVolts, solution.backAmps, -1, circuit, solution, slackAmps, balance)
  )
}

function sum(volts: Float64Array, amps: Float64Array): number {
  let total = 0
  for (let index = 0; index < volts.length; index += 1) total += at(volts, index) * at(amps, index)
  return total
}

function sideConserves(
  { order, parent, ohms }: Side,
  volts: Float64Array,
  amps: Float64Array,
  direction: 1 | -1,
  { loadPlace, places }: Circuit,
  { loadAmps, sourceVolts, sourceAmps, factor }: Solution,
  slackAmps: number,
  balance: Float64Array,
): boolean {
  balance.fill(0)
  for (let load = 0; load < loadPlace.length; load += 1)
    add(balance, placeAt(loadPlace, load), -at(loadAmps, load))
  for (const place of order) {
    const above = placeAt(parent, place)
    const legOhms = at(ohms, place) * factor
    const drop = direction * (at(volts, above) - at(volts, place))
    const current = at(amps, place)
    if (!(Math.abs(drop - current * legOhms) <= tolerance * (1 + sourceVolts))) return false
    // From the volts, unless the leg is so short that their last digits would decide.
    const legAmps = legOhms > 1e-4 ? drop / legOhms : current
    add(balance, place, legAmps)
    add(balance, above, -legAmps)
  }
  add(balance, 0, sourceAmps)
  for (let place = 0; place < places.length; place += 1)
    if (!(Math.abs(at(balance, place)) <= slackAmps)) return false
  return true
}
