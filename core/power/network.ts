// What one output of a supply feeds: runs of cable in a tree, and loads on its places. Plain data, then arranged for solving.
import { ask, distinct, known, type Fact, type Question } from './facts.ts'
import { ohmsPerMetre20, type WireSize } from './wire.ts'

/** The place that every network starts from: the terminals of the output. */
export const source = 'source'

export interface ConductorFacts {
  readonly size: Fact<WireSize>
  readonly stranded: Fact<boolean>
}

/** A length of cable between two places, in either order. Two runs between the same two places are doubled conductors. */
export interface Run {
  readonly id: string
  readonly name: string
  readonly from: string
  readonly to: string
  readonly lengthMetres: Fact<number>
  /** Conductors in parallel from the positive terminal; none where this run carries a return alone. */
  readonly out: readonly ConductorFacts[]
  /** Conductors in parallel to the negative terminal; none where the return goes another way. */
  readonly back: readonly ConductorFacts[]
  /** Conductors in the cable that nothing uses yet, of the size of the others. */
  readonly spareConductors: number
}

/** How the current follows the volts: not at all, inversely (a converter inside), or in proportion. */
export type LoadForm = 'current' | 'power' | 'resistance'

export interface Inrush {
  readonly amps: number
  /** Null is not known; only a fuse asks. */
  readonly seconds: number | null
}

export interface Window {
  readonly minimumVolts: number
  readonly maximumVolts: number
}

/** What a device draws and needs in one position of its voltage setting. */
export interface Rating {
  /** Null where the device has no voltage setting. */
  readonly setting: string | null
  /** The volts at which the amps are stated; a constant current does not need them. */
  readonly statedVolts: Fact<number>
  readonly holdingAmps: Fact<number>
  /** Known to be null where there is no in-rush. */
  readonly inrush: Fact<Inrush | null>
  readonly window: Fact<Window>
}

export interface Load {
  readonly id: string
  readonly name: string
  readonly at: string
  readonly form: Fact<LoadForm>
  /** One for each position of the voltage setting; one alone where there is none. */
  readonly ratings: readonly Rating[]
  /** The position as set; asked for only where there is more than one rating. */
  readonly setTo: Fact<string>
  /** Loads of the same group take their in-rush together; null fires alone. */
  readonly firesWith: string | null
  /** Whether it draws its holding current while its door is secured, and while the alarm lasts. Batteries ask. */
  readonly drawsAtRest: Fact<boolean>
  readonly drawsOnAlarm: Fact<boolean>
}

export interface Network {
  readonly runs: readonly Run[]
  readonly loads: readonly Load[]
}

/** The rating of the position as set. */
export function ratingOf(load: Load): Fact<Rating> {
  const [only] = load.ratings
  if (only !== undefined && load.ratings.length === 1) return known(only)
  if (!load.setTo.known) return load.setTo
  const { value } = load.setTo
  const found = load.ratings.find(({ setting }) => setting === value)
  return found === undefined
    ? { known: false, question: { about: 'voltage setting', thing: load.name } }
    : known(found)
}

/** What is wrong with how the runs are joined. */
export type Fault =
  /** Two ways around to the same place; the currents would depend on both. */
  | { readonly code: 'fed two ways'; readonly run: string; readonly side: 'out' | 'back' }
  | { readonly code: 'ends where it starts'; readonly run: string }
  | { readonly code: 'negative length'; readonly run: string }
  | { readonly code: 'negative current'; readonly load: string }
  | { readonly code: 'volts out of order'; readonly load: string }

/** One side of a circuit as a tree: place 0 is the source. Ohms at 20 °C of the leg between a place and its parent. */
export interface Side {
  /** The parent of each place, -1 at the source and where this side does not reach. */
  readonly parent: Int32Array
  /** Places that this side reaches without the source, parents before children. */
  readonly order: Int32Array
  readonly ohms: Float64Array
  /** The runs of each place's leg, in parallel. */
  readonly runs: readonly (readonly number[])[]
}

export interface Circuit {
  readonly places: readonly string[]
  readonly out: Side
  readonly back: Side
  /** Out and back go the same way to every place. */
  readonly twoWire: boolean
  readonly loadPlace: Int32Array
  /** Ohms of each run at 20 °C, out and back; infinite where it has no such conductor. */
  readonly runOutOhms: Float64Array
  readonly runBackOhms: Float64Array
}

/** A part of a network that shares no conductor with the rest, so that it is solved alone. */
export interface Branch {
  readonly runs: readonly Run[]
  readonly loads: readonly Load[]
  readonly questions: readonly Question[]
  readonly faults: readonly Fault[]
  /** Null while a question or a fault stands. */
  readonly circuit: Circuit | null
}

/** Parts a network into branches and arranges each for solving. Nothing depends on the order of runs or loads. */
export function branchesOf(network: Network): readonly Branch[] {
  const runs = network.runs.filter(({ out, back }) => out.length + back.length > 0)
  const groups = new Groups()
  for (const { from, to } of runs) groups.join(from, to)
  for (const { at } of network.loads) groups.join(at, at)
  const parted = new Map<string, { runs: Run[]; loads: Load[] }>()
  const partOf = (key: string): { runs: Run[]; loads: Load[] } => {
    let part = parted.get(key)
    if (part === undefined) parted.set(key, (part = { runs: [], loads: [] }))
    return part
  }
  for (const run of runs) partOf(groups.of(run.from === source ? run.to : run.from)).runs.push(run)
  for (const load of network.loads) partOf(groups.of(load.at)).loads.push(load)
  return [...parted.values()].map((part) => branch(part.runs, part.loads))
}

/** Joins places that share a conductor. The source joins nothing: it is where branches part. */
class Groups {
  readonly #above = new Map<string, string>()

  of(place: string): string {
    let at = place
    for (let above = this.#above.get(at); above !== undefined && above !== at; above = this.#above.get(at))
      at = above
    return at
  }

  join(one: string, other: string): void {
    if (!this.#above.has(one)) this.#above.set(one, one)
    if (!this.#above.has(other)) this.#above.set(other, other)
    if (one === source || other === source) return
    this.#above.set(this.of(one), this.of(other))
  }
}

function branch(runs: readonly Run[], loads: readonly Load[]): Branch {
  const faults: Fault[] = []
  const questions: Question[] = []
  for (const { id, from, to, lengthMetres, out, back } of runs) {
    if (from === to) faults.push({ code: 'ends where it starts', run: id })
    if (lengthMetres.known && !(lengthMetres.value >= 0)) faults.push({ code: 'negative length', run: id })
    ask(questions, lengthMetres)
    for (const side of [out, back])
      for (const { size, stranded } of side) {
        ask(questions, size)
        ask(questions, stranded)
      }
  }
  const places = new Map<string, number>([[source, 0]])
  for (const { from, to } of runs) {
    if (!places.has(from)) places.set(from, places.size)
    if (!places.has(to)) places.set(to, places.size)
  }
  for (const { at } of loads) if (!places.has(at)) places.set(at, places.size)
  const out = sideOf('out', runs, places, faults)
  // Where every run carries both, out and back have one shape; only their ohms differ.
  const alike = runs.every((run) => run.out.length > 0 && run.back.length > 0)
  const back = alike ? { ...out, ohms: new Float64Array(places.size) } : sideOf('back', runs, places, faults)
  const reaches = (side: Side, at: string): boolean =>
    at === source || side.parent[places.get(at) ?? 0] !== -1
  for (const { at, name } of loads) {
    if (!reaches(out, at)) questions.push({ about: 'feed', thing: name })
    else if (!reaches(back, at)) questions.push({ about: 'return', thing: name })
  }
  const arranged = { runs, loads, questions: distinct(questions), faults }
  if (faults.length > 0 || questions.length > 0) return { ...arranged, circuit: null }
  const twoWire = alike || out.parent.every((parent, place) => parent === back.parent[place])
  const circuit: Circuit = {
    places: [...places.keys()],
    out,
    back,
    twoWire,
    loadPlace: Int32Array.from(loads, ({ at }) => places.get(at) ?? 0),
    runOutOhms: Float64Array.from(runs, (run) => runSideOhms(run, 'out')),
    runBackOhms: Float64Array.from(runs, (run) => runSideOhms(run, 'back')),
  }
  fillOhms(circuit)
  return { ...arranged, circuit }
}

/** Ohms at 20 °C of one side of a run whose facts are known. */
export function runSideOhms(run: Run, side: 'out' | 'back'): number {
  if (!run.lengthMetres.known) throw new Error('a run with questions has no ohms')
  let siemens = 0
  for (const { size, stranded } of run[side]) {
    if (!size.known || !stranded.known) throw new Error('a run with questions has no ohms')
    siemens += 1 / ohmsPerMetre20(size.value, stranded.value)
  }
  return siemens === 0 ? Infinity : run.lengthMetres.value / siemens
}

/** Works the legs out from the ohms of their runs. */
function fillOhms({ out, back, runOutOhms, runBackOhms }: Circuit): void {
  for (const place of out.order) out.ohms[place] = inParallel(out.runs[place] ?? [], runOutOhms)
  for (const place of back.order) back.ohms[place] = inParallel(back.runs[place] ?? [], runBackOhms)
}

/** Works only the leg out that holds this run. */
function fillLeg({ order, runs, ohms }: Side, run: number, runOhms: Float64Array): void {
  for (const place of order) {
    const leg = runs[place] ?? []
    if (!leg.includes(run)) continue
    ohms[place] = inParallel(leg, runOhms)
    return
  }
}

function inParallel(runs: readonly number[], runOhms: Float64Array): number {
  if (runs.length === 1) return runOhms[runs[0] ?? 0] ?? Infinity
  let siemens = 0
  for (const run of runs) siemens += 1 / (runOhms[run] ?? Infinity)
  return 1 / siemens
}

/** The same circuit with some runs of other ohms (at 20 °C). */
export function withRunOhms(
  circuit: Circuit,
  changes: ReadonlyMap<number, { readonly out: number; readonly back: number }>,
): Circuit {
  const changed: Circuit = {
    ...circuit,
    out: { ...circuit.out, ohms: circuit.out.ohms.slice() },
    back: { ...circuit.back, ohms: circuit.back.ohms.slice() },
    runOutOhms: circuit.runOutOhms.slice(),
    runBackOhms: circuit.runBackOhms.slice(),
  }
  for (const [run, { out, back }] of changes) {
    changed.runOutOhms[run] = out
    changed.runBackOhms[run] = back
    fillLeg(changed.out, run, changed.runOutOhms)
    fillLeg(changed.back, run, changed.runBackOhms)
  }
  return changed
}

/** One side as a tree from the source, whichever way round its runs were drawn. */
function sideOf(
  which: 'out' | 'back',
  runs: readonly Run[],
  places: ReadonlyMap<string, number>,
  faults: Fault[],
): Side {
  const legs = places.size
  const near: number[][] = Array.from({ length: legs }, () => [])
  const ends: [number, number][] = runs.map(({ from, to }) => [places.get(from) ?? 0, places.get(to) ?? 0])
  for (const [index, run] of runs.entries()) {
    if (run[which].length === 0 || run.from === run.to) continue
    const [one, other] = ends[index] ?? [0, 0]
    near[one]?.push(index)
    near[other]?.push(index)
  }
  const parent = new Int32Array(legs).fill(-1)
  const legRuns: number[][] = Array.from({ length: legs }, () => [])
  const order: number[] = []
  const waiting = [0]
  for (let next = 0; next < waiting.length; next += 1) {
    const at = waiting[next] ?? 0
    for (const index of near[at] ?? []) {
      const [one, other] = ends[index] ?? [0, 0]
      const far = one === at ? other : one
      if (far === parent[at]) continue
      if (far !== 0 && parent[far] === -1) {
        parent[far] = at
        order.push(far)
        waiting.push(far)
      } else if (parent[far] !== at) {
        const run = runs[index]?.id ?? ''
        // Met once from each end.
        if (!faults.some((each) => each.code === 'fed two ways' && each.run === run && each.side === which))
          faults.push({ code: 'fed two ways', run, side: which })
        continue
      }
      legRuns[far]?.push(index)
    }
  }
  return {
    parent,
    order: Int32Array.from(order),
    ohms: new Float64Array(legs),
    runs: legRuns,
  }
}
