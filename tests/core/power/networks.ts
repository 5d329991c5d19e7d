// Networks for tests: made by hand in few words, or by seeded chance.
import {
  awg,
  known,
  metric,
  source,
  type ConductorFacts,
  type Fact,
  type FedNetwork,
  type FedOutput,
  type Inrush,
  type Load,
  type LoadForm,
  type Run,
  type Supply,
  type WireSize,
} from '../../../core/power/index.ts'

export const conductor = (size: WireSize, stranded = true): ConductorFacts => ({
  size: known(size),
  stranded: known(stranded),
})

export interface RunForm {
  readonly id?: string
  readonly from?: string
  readonly to: string
  readonly metres: number
  readonly size?: WireSize
  readonly stranded?: boolean
  readonly count?: number
  readonly carries?: 'both' | 'out' | 'back'
  readonly spare?: number
}

/** A run; its name is its id. 18 AWG stranded, out and back, unless it says otherwise. */
export function run({
  id,
  from = source,
  to,
  metres,
  size = awg(18),
  stranded = true,
  ...rest
}: RunForm): Run {
  const { count = 1, carries = 'both', spare = 0 } = rest
  const conductors = Array.from({ length: count }, () => conductor(size, stranded))
  const name = id ?? `${from}-${to}`
  return {
    id: name,
    name,
    from,
    to,
    lengthMetres: known(metres),
    out: carries === 'back' ? [] : conductors,
    back: carries === 'out' ? [] : conductors,
    spareConductors: spare,
  }
}

export interface LoadWords {
  readonly id?: string
  readonly at: string
  readonly amps: number
  readonly form?: LoadForm
  readonly volts?: number
  readonly inrush?: Inrush | null
  readonly window?: readonly [number, number]
  readonly firesWith?: string | null
  readonly atRest?: boolean
  readonly onAlarm?: boolean
}

/** A load; its name is its id, which is its place unless it says otherwise. */
export function load({
  id,
  at,
  amps,
  form = 'current',
  volts = 24,
  window = [20.4, 27.6],
  ...rest
}: LoadWords): Load {
  const { inrush = null, firesWith = null, atRest = true, onAlarm = false } = rest
  return {
    id: id ?? at,
    name: id ?? at,
    at,
    form: known(form),
    ratings: [
      {
        setting: null,
        statedVolts: known(volts),
        holdingAmps: known(amps),
        inrush: known(inrush),
        window: known({ minimumVolts: window[0], maximumVolts: window[1] }),
      },
    ],
    setTo: known(''),
    firesWith,
    drawsAtRest: known(atRest),
    drawsOnAlarm: known(onAlarm),
  }
}

export const volts24 = {
  nominal: known(24),
  lowest: known(23.2),
  highest: known(27.4),
  endOfDischarge: known<number | null>(21),
}

export const fed = (runs: readonly Run[], loads: readonly Load[], id = 'output'): FedNetwork => ({
  id,
  name: id,
  runs,
  loads,
  volts: volts24,
})

export const fedOutput = (network: FedNetwork): FedOutput => ({
  ...network,
  ratedAmps: known(4),
  fuseAmps: known<number | null>(3.5),
  classTwo: known<null>(null),
  nearer: [],
})

export const supplyOf = (outputs: readonly FedOutput[], change: Partial<Supply> = {}): Supply => ({
  id: 'supply',
  name: 'PS1',
  ratedVolts: known(24),
  ratedAmps: known(10),
  ownAmps: known(0.1),
  efficiency: known(0.85),
  batteryAmpHours: known<number | null>(18),
  batteryCelsius: known(20),
  standbyHours: known(4),
  alarmMinutes: known(5),
  chargingAmps: known(1.5),
  outputs,
  ...change,
})

export type Chance = () => number

/** Numbers from 0 up to 1 by mulberry32, the same for the same seed. */
export function chanceFrom(seed: number): Chance {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}

const pick = <T>(chance: Chance, list: readonly T[]): T => list[Math.floor(chance() * list.length)]!
const sizes = [
  awg(22),
  awg(20),
  awg(18),
  awg(16),
  awg(14),
  awg(12),
  metric(0.75),
  metric(1),
  metric(1.5),
  metric(2.5),
]
export const allForms: readonly LoadForm[] = ['current', 'power', 'resistance']

export interface RandomForm {
  readonly loads?: number
  readonly forms?: readonly LoadForm[]
  /** Whether some returns go another way than their feeds. */
  readonly separate?: boolean
  readonly inrush?: boolean
}

/** A tree of home runs, chains and tees with doubled conductors; fed by some volts, mostly without a collapse. */
export function randomNetwork(
  chance: Chance,
  { loads, forms = allForms, separate = false, inrush = true }: RandomForm = {},
): FedNetwork {
  const count = loads ?? 1 + Math.floor(chance() * 10)
  const runs: Run[] = []
  const devices: Load[] = []
  for (let index = 0; index < count; index += 1) {
    const place = `p${index}`
    const from = index === 0 || chance() < 0.25 ? source : `p${Math.floor(chance() * index)}`
    const metres = 1 + chance() * 40
    const form = {
      id: `r${index}`,
      metres,
      size: pick(chance, sizes),
      stranded: chance() < 0.7,
      count: chance() < 0.2 ? 2 : 1,
    }
    const turned = chance() < 0.3
    const ends = turned ? { from: place, to: from } : { from, to: place }
    if (separate && chance() < 0.4) {
      // The return goes home, or to another place that has one.
      const home = chance() < 0.5 || index === 0 ? source : `p${Math.floor(chance() * index)}`
      runs.push(run({ ...form, ...ends, carries: 'out' }))
      runs.push(
        run({ ...form, id: `b${index}`, from: place, to: home, metres: metres * 1.3, carries: 'back' }),
      )
    } else runs.push(run({ ...form, ...ends }))
    const amps = 0.02 + chance() * 0.35
    devices.push(
      load({
        id: `d${index}`,
        at: place,
        amps,
        form: pick(chance, forms),
        inrush: inrush && chance() < 0.3 ? { amps: amps * (1.5 + chance()), seconds: 0.5 } : null,
        firesWith: chance() < 0.5 ? 'group' : null,
      }),
    )
  }
  return fed(runs, devices, `random-${Math.floor(chance() * 1e9)}`)
}

/** A fact of which nothing is known, whatever it would be. */
export const nobodyKnows = (
  thing: string,
  about: 'length' | 'wire size' | 'holding current',
): Fact<never> => ({
  known: false,
  question: { about, thing },
})
