// Volts over wire: worked examples, exact answers by hand, collapse, conservation and what must hold for any network.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  awg,
  branchesOf,
  conserves,
  known,
  nothingDrawn,
  ohmsPerMetre,
  planBranch,
  solverFor,
  source,
  studyOutput,
  usualScenarios,
  type FedNetwork,
  type Run,
} from '../../../core/power/index.ts'
import { allForms, chanceFrom, fed, load, randomNetwork, run } from './networks.ts'

const feet = (length: number): number => length * 0.3048
const at = (celsius: number) => ({ conditions: ['nominal'] as const, cableCelsius: [celsius] })

/** Volts of every device by its id, everything holding at nominal volts. */
function voltsOf(network: FedNetwork, celsius = 20): Record<string, number | null> {
  const [holding] = studyOutput(network, at(celsius)).results
  return Object.fromEntries(holding!.devices.map(({ load: id, volts }) => [id, volts]))
}

describe('worked examples', () => {
  // S105 uses table 8 itself; ours comes from geometry, so 0.5 % apart.
  test('24 V, 100 ft of 16 AWG stranded, 4 A, 75 °C: 4.0 V lost, 16.7 % (S105)', () => {
    const volts = voltsOf(
      fed([run({ to: 'lock', metres: feet(100), size: awg(16) })], [load({ at: 'lock', amps: 4 })]),
      75,
    )
    expect(24 - volts['lock']!).toBeCloseTo(3.99, 1)
    expect((24 - volts['lock']!) / 24).toBeCloseTo(0.167, 2)
  })

  test.each([
    [0.45, 300, 75, 2.147, 'standards sheet 6.4, computed from table 8'],
    [0.45, 300, 20, 1.765, 'standards sheet 6.4, computed from table 8'],
    [0.5, 200, 75, 1.59, 'standards sheet 6.4, computed from table 8'],
  ])('24 V, %f A, %i ft of 18 AWG stranded at %i °C: %f V lost (%s)', (amps, length, celsius, lost) => {
    const volts = voltsOf(
      fed([run({ to: 'lock', metres: feet(length) })], [load({ at: 'lock', amps })]),
      celsius,
    )
    expect(24 - volts['lock']!).toBeGreaterThan(lost * 0.99)
    expect(24 - volts['lock']!).toBeLessThan(lost * 1.01)
  })
})

describe('exact answers, by hand', () => {
  const ohms = 2 * 30 * ohmsPerMetre(awg(18), true, 20)
  const one = [run({ to: 'a', metres: 30 })]

  test('a resistance divides the volts', () => {
    const volts = voltsOf(fed(one, [load({ at: 'a', amps: 0.5, form: 'resistance' })]))
    expect(volts['a']).toBeCloseTo((24 * 48) / (48 + ohms), 10)
  })

  test('a power draws what solves a quadratic', () => {
    const volts = voltsOf(fed(one, [load({ at: 'a', amps: 1, form: 'power' })]))
    expect(volts['a']).toBeCloseTo((24 + Math.sqrt(24 ** 2 - 4 * 24 * ohms)) / 2, 9)
  })

  test('a chain: the first run carries both', () => {
    const chain = [run({ to: 'a', metres: 30 }), run({ from: 'a', to: 'b', metres: 30 })]
    const volts = voltsOf(fed(chain, [load({ at: 'a', amps: 0.5 }), load({ at: 'b', amps: 0.25 })]))
    expect(volts['a']).toBeCloseTo(24 - 0.75 * ohms, 10)
    expect(volts['b']).toBeCloseTo(24 - 0.75 * ohms - 0.25 * ohms, 10)
  })

  test('a chain whose return goes home by itself: out shared, back not', () => {
    const runs = [
      run({ to: 'a', metres: 30 }),
      run({ id: 'on', from: 'a', to: 'b', metres: 30, carries: 'out' }),
      run({ id: 'home', from: 'b', to: source, metres: 60, carries: 'back' }),
    ]
    const volts = voltsOf(fed(runs, [load({ at: 'a', amps: 0.5 }), load({ at: 'b', amps: 0.25 })]))
    const half = ohms / 2
    expect(volts['a']).toBeCloseTo(24 - 0.75 * half - 0.5 * half, 9)
    expect(volts['b']).toBeCloseTo(24 - 0.75 * half - 0.25 * half - 0.25 * 2 * half, 9)
  })

  test('doubled conductors and a second run beside the first are the same', () => {
    const loads = [load({ at: 'a', amps: 0.5 })]
    const doubled = voltsOf(fed([run({ to: 'a', metres: 30, count: 2 })], loads))
    const beside = voltsOf(
      fed(
        [run({ id: '1', to: 'a', metres: 30 }), run({ id: '2', from: 'a', to: source, metres: 30 })],
        loads,
      ),
    )
    expect(doubled['a']).toBeCloseTo(24 - 0.25 * ohms, 10)
    expect(beside['a']).toBeCloseTo(doubled['a']!, 10)
  })

  test('a load on the terminals and a run of no length lose nothing', () => {
    const loads = [load({ id: 'here', at: source, amps: 2 }), load({ at: 'a', amps: 1, form: 'power' })]
    expect(voltsOf(fed([run({ to: 'a', metres: 0 })], loads))).toEqual({ here: 24, a: 24 })
  })
})

describe('collapse', () => {
  // The most that a resistance R lets through to a constant power is V^2 / 4 R, at half the volts.
  const ohms = 2 * 100 * ohmsPerMetre(awg(22), true, 20)
  const mostWatts = 24 ** 2 / (4 * ohms)
  const network = (watts: number): FedNetwork =>
    fed([run({ to: 'a', metres: 100, size: awg(22) })], [load({ at: 'a', amps: watts / 24, form: 'power' })])

  test.each([0.5, 0.9, 0.999, 0.999_999])('%f of the most that can be fed has volts above half', (share) => {
    const [holding] = studyOutput(network(mostWatts * share), at(20)).results
    expect(holding!.devices[0]!.outcome).toBe('solved')
    expect(holding!.devices[0]!.volts).toBeCloseTo(12 * (1 + Math.sqrt(1 - share)), 4)
  })

  test.each([1.000_001, 1.01, 2, 100])('%f of the most cannot be fed, and has no figure', (share) => {
    const study = studyOutput(network(mostWatts * share), at(20))
    const [holding] = study.results
    expect(holding!.devices[0]).toMatchObject({
      outcome: 'cannot be fed',
      verdict: 'not met',
      volts: null,
      amps: null,
    })
    expect(holding!.sourceAmps).toBeNull()
    expect(study.verdict).toBe('not met')
  })

  test('a constant current that would need more volts than there are cannot be fed either', () => {
    const [holding] = studyOutput(
      fed([run({ to: 'a', metres: 500, size: awg(22) })], [load({ at: 'a', amps: 4 })]),
      at(20),
    ).results
    expect(holding!.devices[0]!.outcome).toBe('cannot be fed')
  })

  test('with separate returns as well', () => {
    const runs = (metres: number): readonly Run[] => [
      run({ id: 'out', to: 'a', metres, size: awg(22), carries: 'out' }),
      run({ id: 'via', to: 'b', metres: metres / 2, size: awg(22), carries: 'back' }),
      run({ id: 'back', from: 'b', to: 'a', metres: metres / 2, size: awg(22), carries: 'back' }),
    ]
    const loads = (watts: number) => [load({ at: 'a', amps: watts / 24, form: 'power' })]
    const solved = studyOutput(fed(runs(100), loads(mostWatts * 0.999)), at(20)).results[0]!.devices[0]!
    expect(solved.volts).toBeCloseTo(12 * (1 + Math.sqrt(0.001)), 4)
    expect(
      studyOutput(fed(runs(100), loads(mostWatts * 1.001)), at(20)).results[0]!.devices[0]!.outcome,
    ).toBe('cannot be fed')
  })

  // The answer without a collapse is found from above; a scan of all volts shows that none was missed.
  test('says so exactly where no volts satisfy two loads on a chain (2,000 seeded, by a scan)', () => {
    const chance = chanceFrom(11)
    let collapsed = 0
    for (let round = 0; round < 2000; round += 1) {
      const lengths = [20 + chance() * 180, 20 + chance() * 180] as const
      const watts = [chance() * 12, chance() * 12] as const
      const per = 2 * ohmsPerMetre(awg(22), true, 20)
      const chain = fed(
        [
          run({ to: 'a', metres: lengths[0], size: awg(22) }),
          run({ from: 'a', to: 'b', metres: lengths[1], size: awg(22) }),
        ],
        [
          load({ at: 'a', amps: watts[0] / 24, form: 'power' }),
          load({ at: 'b', amps: watts[1] / 24, form: 'power' }),
        ],
      )
      const { outcome } = studyOutput(chain, at(20)).results[0]!.devices[0]!
      // Volts at the far end decide all others: how many more than 24 V would the output have to give, at least?
      let least = Infinity
      for (let far = 0.01; far <= 24; far += 0.01) {
        const near = far + (watts[1] / far) * per * lengths[1]
        least = Math.min(least, near + (watts[1] / far + watts[0] / near) * per * lengths[0] - 24)
      }
      if (Math.abs(least) < 0.01) continue
      expect(outcome).toBe(least < 0 ? 'solved' : 'cannot be fed')
      if (least > 0) collapsed += 1
    }
    expect(collapsed).toBeGreaterThan(200)
  })
})

describe('the check of every solution', () => {
  function solvedChain(seed: number, separate: boolean) {
    const [first] = branchesOf(randomNetwork(chanceFrom(seed), { loads: 6, separate }))
    const plan = planBranch(first!)
    const solved = solverFor(plan.circuit!).solve(24, 1, plan.holding!)
    return { circuit: plan.circuit!, drawn: plan.holding!, solution: solved.ok ? solved.solution : null }
  }

  test.each([
    ['loadVolts', 1e-7],
    ['loadAmps', 1e-7],
    ['outAmps', 1e-7],
    ['backAmps', 1e-7],
    ['outVolts', 1e-6],
    ['backVolts', 1e-6],
  ] as const)('a solution whose %s is off by %f is no result', (field, off) => {
    for (const separate of [false, true]) {
      const { circuit, drawn, solution } = solvedChain(3, separate)
      expect(conserves(circuit, drawn, solution!)).toBe(true)
      // The last place that is not the source, or the last load.
      const list = solution![field].slice()
      list[list.length - 1]! += off
      expect(conserves(circuit, drawn, { ...solution!, [field]: list })).toBe(false)
    }
  })

  test.each(['sourceAmps', 'usedWatts', 'lostWatts'] as const)(
    'a solution whose %s is off is no result',
    (field) => {
      const { circuit, drawn, solution } = solvedChain(3, false)
      expect(conserves(circuit, drawn, { ...solution!, [field]: solution![field] + 1e-6 })).toBe(false)
      expect(conserves(circuit, drawn, { ...solution!, [field]: Number.NaN })).toBe(false)
    },
  )

  test('nothing drawn is nothing lost', () => {
    const [first] = branchesOf(fed([run({ to: 'a', metres: 30 })], [load({ at: 'a', amps: 1 })]))
    const solved = solverFor(first!.circuit!).solve(24, 1, nothingDrawn(1))
    expect(solved).toMatchObject({ ok: true, solution: { sourceAmps: 0, lostWatts: 0 } })
  })

  test('no solution of 3,000 seeded networks fails it, in any scenario', () => {
    const chance = chanceFrom(5)
    const counted: Record<string, number> = {}
    for (let round = 0; round < 3000; round += 1) {
      const study = studyOutput(randomNetwork(chance, { separate: round % 3 === 0 }), usualScenarios)
      for (const { devices } of study.results)
        for (const { outcome } of devices) counted[outcome] = (counted[outcome] ?? 0) + 1
    }
    expect(counted['failed its check'] ?? 0).toBe(0)
    expect(counted['solved']).toBeGreaterThan(50_000)
    expect(counted['wrong network'] ?? 0).toBe(0)
  })
})

describe('whatever the network', () => {
  const seeds = fc.integer({ min: 0, max: 2 ** 31 })
  const least = (volts: number | null | undefined): number => volts ?? -Infinity

  test('a longer run gives no device more volts, while loads are currents and powers', () => {
    fc.assert(
      fc.property(seeds, fc.nat(), fc.double({ min: 1, max: 4, noNaN: true }), (seed, nth, times) => {
        const network = randomNetwork(chanceFrom(seed), {
          forms: ['current', 'power'],
          separate: seed % 2 === 0,
        })
        const index = nth % network.runs.length
        const longer = network.runs.map((each, place) =>
          place === index && each.lengthMetres.known
            ? { ...each, lengthMetres: known(each.lengthMetres.value * times) }
            : each,
        )
        const [before, after] = [voltsOf(network), voltsOf({ ...network, runs: longer })]
        for (const id of Object.keys(before))
          expect(least(after[id])).toBeLessThanOrEqual(least(before[id]) + 1e-9)
      }),
      { numRuns: 300, seed: 1 },
    )
  })

  test('a longer run gives a device at its far end no more volts, whatever its loads', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 1, max: 4, noNaN: true }), (seed, times) => {
        const network = randomNetwork(chanceFrom(seed))
        const index = seed % network.runs.length
        const longer = network.runs.map((each, place) =>
          place === index && each.lengthMetres.known
            ? { ...each, lengthMetres: known(each.lengthMetres.value * times) }
            : each,
        )
        const id = `d${index}`
        expect(least(voltsOf({ ...network, runs: longer })[id])).toBeLessThanOrEqual(
          least(voltsOf(network)[id]) + 1e-9,
        )
      }),
      { numRuns: 300, seed: 1 },
    )
  })

  test('a warmer cable gives no device more volts, while loads are currents and powers', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const network = randomNetwork(chanceFrom(seed), { forms: ['current', 'power'] })
        const [cool, warm] = [voltsOf(network, 20), voltsOf(network, 60)]
        for (const id of Object.keys(cool))
          expect(least(warm[id])).toBeLessThanOrEqual(least(cool[id]) + 1e-9)
      }),
      { numRuns: 200, seed: 1 },
    )
  })

  test('one more load raises the volts of no other', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const chance = chanceFrom(seed)
        const network = randomNetwork(chance)
        const form = allForms[seed % 3]!
        const place = network.loads[seed % network.loads.length]!.at
        const more = {
          ...network,
          loads: [...network.loads, load({ id: 'more', at: place, amps: chance() * 0.5, form })],
        }
        const [before, after] = [voltsOf(network), voltsOf(more)]
        for (const id of Object.keys(before))
          expect(least(after[id])).toBeLessThanOrEqual(least(before[id]) + 1e-9)
      }),
      { numRuns: 300, seed: 1 },
    )
  })

  test('the order of runs and loads changes nothing', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const network = randomNetwork(chanceFrom(seed), { separate: seed % 2 === 0 })
        const turned = { ...network, runs: network.runs.toReversed(), loads: network.loads.toReversed() }
        const [one, other] = [voltsOf(network), voltsOf(turned)]
        for (const id of Object.keys(one))
          if (one[id] === null) expect(other[id]).toBeNull()
          else expect(other[id]).toBeCloseTo(one[id]!, 9)
      }),
      { numRuns: 300, seed: 1 },
    )
  })

  test('separate returns that go the same way are solved as the tree they are', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const network = randomNetwork(chanceFrom(seed))
        const parted = network.runs.flatMap((each) => [
          { ...each, id: `${each.id}-out`, back: [] },
          { ...each, id: `${each.id}-back`, out: [] },
        ])
        // A stub of an outgoing conductor that feeds nothing makes the two sides differ, and the other method is used.
        const stub = network.loads.map(({ at: place }, index) =>
          run({ id: `stub-${index}`, from: place, to: `nowhere-${index}`, metres: 1, carries: 'out' }),
        )
        const [one, other] = [voltsOf(network), voltsOf({ ...network, runs: [...parted, ...stub] })]
        for (const id of Object.keys(one))
          if (one[id] === null) expect(other[id]).toBeNull()
          else expect(other[id]).toBeCloseTo(one[id]!, 8)
      }),
      { numRuns: 200, seed: 1 },
    )
  })
})
