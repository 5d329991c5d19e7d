// Power at the size of a large site: 1,200 outputs with 10 loads each, beside ngspice on the same networks as one deck.
import {
  known,
  powerMemo,
  studyOutput,
  supplyPower,
  usualPowerSettings,
  usualScenarios,
  type FedOutput,
  type Supply,
  type SupplyPower,
} from '../../core/power/index.ts'
import { chanceFrom, fedOutput, randomNetwork, supplyOf } from '../core/power/networks.ts'
import { deckOf, lacksNgspice, loadVolts, runDeck } from '../core/power/ngspice.ts'
import { share, tableOf, type BenchLine } from './lines.ts'

const outputsEach = 8
const oneScenario = { conditions: ['nominal'], cableCelsius: [50] } as const

/** Outputs of random trees; the seed is fixed, so that two runs measure the same. */
function benchOutputs(count: number): readonly FedOutput[] {
  const chance = chanceFrom(1)
  const outputs: FedOutput[] = []
  while (outputs.length < count) {
    const network = { ...randomNetwork(chance, { loads: 10 }), id: `output-${outputs.length}` }
    // ngspice has no word for what cannot be fed, so such networks are left out on both sides.
    const [holding] = studyOutput(network, oneScenario).results
    if (holding?.sourceAmps != null) outputs.push(fedOutput(network))
  }
  return outputs
}

function benchSupplies(outputs: readonly FedOutput[]): readonly Supply[] {
  const supplies: Supply[] = []
  for (let first = 0; first < outputs.length; first += outputsEach)
    supplies.push(
      supplyOf(outputs.slice(first, first + outputsEach), { id: `supply-${first}`, name: `PS${first}` }),
    )
  return supplies
}

function timed<T>(work: () => T): { readonly milliseconds: number; readonly result: T } {
  const start = performance.now()
  const result = work()
  return { milliseconds: performance.now() - start, result }
}

/** The middle of some runs, after one that is not counted. */
function middleOf(runs: number, work: () => unknown): number {
  work()
  return share(
    Array.from({ length: runs }, () => timed(work).milliseconds),
    0.5,
  )
}

const holdingOnly = (outputs: readonly FedOutput[]) =>
  outputs.map((output) => studyOutput(output, oneScenario))

/** Measures and gives the lines. Heavy only by ngspice, which takes most of a minute over its one deck. */
export function measurePower(count = 1200): readonly BenchLine[] {
  const outputs = benchOutputs(count)
  const supplies = benchSupplies(outputs)
  const solved = middleOf(7, () => holdingOnly(outputs))
  const size = `${count.toLocaleString('en')} outputs x 10 loads`
  const cold = timed(() => supplies.map((supply) => supplyPower(supply, usualPowerSettings)))
  const all = middleOf(5, () => supplies.map((supply) => supplyPower(supply, usualPowerSettings)))
  const offered = remediesIn(cold.result)
  const scenarios = usualScenarios.conditions.length * usualScenarios.cableCelsius.length * 2
  return [
    ...besideNgspice(outputs, solved, size),
    {
      what: 'power: all scenarios, remedies, batteries',
      measured: all / 1000,
      unit: 's',
      goal: { atMost: 0.5 },
      how: `${scenarios} scenarios; ${offered.outputs.toLocaleString('en')} outputs need one of ${offered.ways.toLocaleString('en')} remedies; first time ${(cold.milliseconds / 1000).toFixed(2)} s`,
    },
    {
      what: 'power: one edit',
      measured: oneEdit(supplies),
      unit: 'ms',
      goal: { atMost: 5 },
      how: 'nearly all of 200',
    },
  ]
}

function remediesIn(powers: readonly SupplyPower[]): { readonly outputs: number; readonly ways: number } {
  const outputs = powers.flatMap((power) => power.outputs).filter(({ remedies }) => remedies.length > 0)
  const ways = outputs.flatMap(({ remedies }) => remedies.flatMap((each) => each.remedies))
  return { outputs: outputs.length, ways: ways.length }
}

/** Networks in each of several decks: ngspice takes far longer over one large deck than over the same in pieces. */
const perDeck = 60

/** The goal: ten times faster than ngspice on one deck. Beside it the same in many decks, where ngspice does best. */
function besideNgspice(outputs: readonly FedOutput[], ours: number, size: string): readonly BenchLine[] {
  const what = 'power: one condition, both moments'
  const line = { what, measured: ours, unit: 'ms' } as const
  const lack = lacksNgspice()
  if (lack !== null)
    return [
      { ...line, how: `${size}, every solve checked` },
      { what: 'power: beside ngspice', because: lack },
    ]
  const entries = outputs.map((network) => ({ network, volts: 24, celsius: 50, firing: null }))
  const one = runDeck(deckOf(entries))
  let furthest = 0
  for (const [entry, { results }] of holdingOnly(outputs).entries()) {
    const theirs = loadVolts(entry, entries[entry]!, one.values)
    for (const { load, volts } of results[0]?.devices ?? [])
      furthest = Math.max(furthest, Math.abs((theirs.get(load) ?? Number.NaN) - (volts ?? Number.NaN)))
  }
  // Written so that a figure that is no number is no agreement.
  if (!(furthest < 1e-4))
    return [{ what: 'power: beside ngspice', because: `the two disagree by ${furthest} V` }]
  let inPieces = 0
  for (let first = 0; first < entries.length; first += perDeck)
    inPieces += runDeck(deckOf(entries.slice(first, first + perDeck))).milliseconds
  const times = (theirs: number): string => `${Math.round(theirs / ours)} times`
  return [
    {
      ...line,
      goal: { atMost: one.milliseconds / 10 },
      how: `${size}, every solve checked; ${times(one.milliseconds)} faster than one deck of ngspice, ${times(inPieces)} than many`,
    },
    {
      what: 'power: everything holding, one deck of ngspice',
      measured: one.milliseconds / 1000,
      unit: 's',
      how: `its start and printing included; furthest apart ${(furthest * 1e6).toFixed(4)} µV`,
    },
    {
      what: `power: the same in decks of ${perDeck}`,
      measured: inPieces / 1000,
      unit: 's',
      how: 'where ngspice does best',
    },
  ]
}

/** A length changed in one output: its supply is worked out again, with what the others keep. */
function oneEdit(supplies: readonly Supply[]): number {
  const memo = powerMemo(usualPowerSettings)
  for (const supply of supplies) memo(supply)
  const chance = chanceFrom(2)
  const times = Array.from({ length: 200 }, (_, edit) => {
    const supply = supplies[Math.floor(chance() * supplies.length)]!
    const index = edit % supply.outputs.length
    return timed(() =>
      memo({
        ...supply,
        outputs: supply.outputs.map((output, place) =>
          place !== index
            ? output
            : {
                ...output,
                runs: output.runs.map((run, nth) =>
                  nth === 0 ? { ...run, lengthMetres: known(20 + edit / 10) } : run,
                ),
              },
        ),
      }),
    ).milliseconds
  })
  return share(times, 0.95)
}

/** The lines as a table, for whoever wants to print them by themselves. */
export const powerTable = (): string => tableOf(measurePower())
