// What would put a branch right: each remedy is carried out and judged again by itself.
import { describe, expect, test } from 'vitest'
import {
  awg,
  known,
  planBranch,
  branchesOf,
  remediesFor,
  remedySentence,
  studyOutput,
  unknown,
  usualScenarios,
  withChange,
  writeWireSize,
  type FedNetwork,
  type NearerOutput,
  type Remedy,
} from '../../../core/power/index.ts'
import { chanceFrom, fed, load, randomNetwork, run, volts24 } from './networks.ts'

const remediesOf = (network: FedNetwork, nearer: readonly NearerOutput[] = []) => {
  const [first] = branchesOf(network)
  return remediesFor(planBranch(first!), network.volts, usualScenarios, nearer)
}
const name = (id: string): string => id
const deeds = (list: readonly Remedy[]): readonly string[] =>
  list.map((each) => remedySentence(each, name).split(':')[0]!)

/** The least margin of any device in any scenario; minus infinity where one cannot be fed. */
function leastMargin(network: FedNetwork): number {
  let least = Infinity
  for (const { devices } of studyOutput(network, usualScenarios).results)
    for (const { marginVolts } of devices) least = Math.min(least, marginVolts ?? -Infinity)
  return least
}

// One long thin run and a short one behind it.
const long = fed(
  [
    run({ to: 'a', metres: 60, size: awg(20), spare: 2 }),
    run({ from: 'a', to: 'b', metres: 10, size: awg(20) }),
  ],
  [load({ at: 'a', amps: 0.1, window: [19.7, 27.6] }), load({ at: 'b', amps: 0.2, window: [19.7, 27.6] })],
)

describe('a long thin run', () => {
  const { remedies } = remediesOf(long)

  test('is put right in several ways, the least work first', () => {
    expect(deeds(remedies)).toEqual([
      'Double source-a with its spare conductors',
      'Pull source-a in 18 AWG, 60.0 m',
      'Take a-b off the chain and feed its far end by its own run from the output, 70.0 m',
      'Pull source-a in 18 AWG and a-b in 18 AWG, 70.0 m in all',
    ])
    expect(remedies.every(({ works }) => works)).toBe(true)
  })

  test('says what each would give', () => {
    expect(remedySentence(remedies[1]!, name)).toMatch(
      /^Pull source-a in 18 AWG, 60\.0 m: the lowest is then (19\.[7-9]|20\.)\d* V at b, 0\.\d\d V to spare\.$/,
    )
    expect(remedies[0]!.gives.map(({ load: id }) => id)).toContain('b')
  })
})

describe('every remedy, carried out, gives the figures it promised', () => {
  test.each([1, 2, 3, 4, 5])('seed %i', (seed) => {
    const chance = chanceFrom(seed)
    let tried = 0
    for (let round = 0; round < 60; round += 1) {
      const network = { ...randomNetwork(chance, { loads: 1 + Math.floor(chance() * 6) }) }
      for (const branch of branchesOf(network)) {
        const part = { ...network, runs: branch.runs, loads: branch.loads }
        const broken = leastMargin(part) < 0
        const { remedies } = remediesFor(planBranch(branch), network.volts, usualScenarios)
        if (!broken) expect(remedies).toEqual([])
        for (const remedy of remedies) {
          const changed = { ...part, ...withChange(part, remedy.change) }
          const least = leastMargin(changed)
          expect(remedy.works).toBe(least >= 0)
          expect(remedy.marginVolts ?? -Infinity).toBeCloseTo(least, 9)
          tried += 1
        }
      }
    }
    expect(tried).toBeGreaterThan(50)
  })

  test('a thicker wire is the thinnest that does', () => {
    const found = remediesOf(long).remedies.find(
      ({ change }) => change.change === 'thicker' && change.sizes.length === 1,
    )!
    const sizes =
      found.change.change === 'thicker' ? found.change.sizes.map(({ size }) => writeWireSize(size)) : []
    expect(sizes).toEqual(['18 AWG'])
    expect(leastMargin(long)).toBeLessThan(0)
  })
})

describe('moving to another output', () => {
  const nearer = (change: Partial<NearerOutput> = {}): NearerOutput => ({
    id: 'near',
    name: 'PS2 output 3',
    volts: volts24,
    spareAmps: known(1),
    lengthMetres: known(10),
    ...change,
  })

  test('is offered where it is near and has room', () => {
    const [first] = remediesOf(long, [nearer()]).remedies.filter(({ change }) => change.change === 'move')
    expect(first).toMatchObject({ works: true, newCableMetres: 10 })
    expect(remedySentence(first!, name)).toMatch(
      /^Move the feed to PS2 output 3, 10\.0 m away: the lowest is then 20\.\d\d V/,
    )
  })

  test('is not where it has no room, and asks where nobody knows', () => {
    const moves = (each: NearerOutput) =>
      remediesOf(long, [each]).remedies.filter(({ change }) => change.change === 'move')
    expect(moves(nearer({ spareAmps: known(0.2) }))).toEqual([])
    expect(moves(nearer({ spareAmps: unknown('rated current', 'PS2 output 3') }))).toEqual([])
    expect(remediesOf(long, [nearer({ lengthMetres: unknown('length', 'PS2 output 3') })]).questions).toEqual(
      [{ about: 'length', thing: 'PS2 output 3' }],
    )
  })

  test('the other output is judged at its own volts', () => {
    const low = nearer({
      volts: { ...volts24, nominal: known(12), lowest: known(11), endOfDischarge: known(10.5) },
    })
    expect(remediesOf(long, [low]).remedies.filter(({ change }) => change.change === 'move')).toEqual([])
  })
})

describe('where nothing helps alone', () => {
  test('the three that come nearest are given as not enough', () => {
    const hopeless = fed(
      [run({ to: 'a', metres: 900, size: awg(22) })],
      [load({ at: 'a', amps: 3, form: 'power' })],
    )
    const { remedies } = remediesOf(hopeless)
    expect(remedies.length).toBeGreaterThan(0)
    expect(remedies.length).toBeLessThanOrEqual(3)
    expect(remedies.every(({ works }) => !works)).toBe(true)
    expect(remedySentence(remedies.at(-1)!, name)).toMatch(/it still cannot be fed \(not enough alone\)\.$/)
  })

  test('a branch that cannot be fed at all can still be put right', () => {
    const collapsed = fed(
      [run({ to: 'a', metres: 60, size: awg(22) })],
      [load({ at: 'a', amps: 1.3, form: 'power', window: [17, 28] })],
    )
    expect(leastMargin(collapsed)).toBe(-Infinity)
    expect(remediesOf(collapsed).remedies[0]).toMatchObject({ works: true })
  })

  test('too many volts are nothing that wire mends', () => {
    const high = fed([run({ to: 'a', metres: 1 })], [load({ at: 'a', amps: 0.1, window: [15, 20] })])
    expect(remediesOf(high).remedies.every(({ works }) => !works)).toBe(true)
  })

  test('what is not known has no remedy but its question', () => {
    const [first, second] = long.runs
    const open = fed([{ ...first!, lengthMetres: unknown('length', 'source-a') }, second!], long.loads)
    expect(remediesOf(open)).toEqual({ remedies: [], questions: [{ about: 'length', thing: 'source-a' }] })
  })
})
