// What is judged when, what is not known, and what the working says.
import { describe, expect, test } from 'vitest'
import {
  branchInFull,
  endOfDischargeVolts,
  faultSentence,
  known,
  marginsBySetting,
  outcomeSentence,
  questionSentence,
  scenarioKey,
  scenarioWords,
  source,
  stepSentence,
  studyOutput,
  unknown,
  usualScenarios,
  workingOf,
  type FedNetwork,
  type Load,
  type OutputStudy,
  type Scenario,
} from '../../../core/power/index.ts'
import { chanceFrom, fed, load, nobodyKnows, randomNetwork, run, volts24 } from './networks.ts'

const cool = {
  conditions: ['nominal', 'lowest output', 'end of discharge', 'highest output'],
  cableCelsius: [20],
} as const
const deviceIn = (study: OutputStudy, scenario: Partial<Scenario>, id: string) =>
  study.results
    .find(({ scenario: each }) =>
      Object.entries(scenario).every(([key, value]) => each[key as keyof Scenario] === value),
    )!
    .devices.find(({ load: name }) => name === id)!

describe('scenarios', () => {
  const rush = { amps: 2, seconds: 0.3 }
  const runs = [
    run({ to: 'a', metres: 30 }),
    run({ from: 'a', to: 'b', metres: 30 }),
    run({ from: 'b', to: 'c', metres: 30 }),
  ]
  const loads = (groups: readonly (string | null)[]): readonly Load[] => [
    load({ at: 'a', amps: 0.2, inrush: rush, firesWith: groups[0]! }),
    load({ at: 'b', amps: 0.2, inrush: rush, firesWith: groups[1]! }),
    load({ at: 'c', amps: 0.2 }),
  ]
  const alone = studyOutput(fed(runs, loads([null, null])), cool)
  const both = studyOutput(fed(runs, loads(['stair', 'stair'])), cool)

  test('every condition is judged in both moments at each cable temperature', () => {
    expect(
      studyOutput(fed(runs, loads([null, null])), usualScenarios).results.map(({ scenario }) =>
        scenarioKey(scenario),
      ),
    ).toEqual(
      ['nominal', 'lowest output', 'end of discharge'].flatMap((condition) =>
        [20, 50].flatMap((celsius) =>
          ['holding', 'worst moment'].map((moment) => `${condition}, ${moment}, ${celsius} °C`),
        ),
      ),
    )
  })

  test('one fires alone; a group fires together, and takes more', () => {
    const one = deviceIn(alone, { moment: 'worst moment' }, 'c')
    const two = deviceIn(both, { moment: 'worst moment' }, 'c')
    expect(one).toMatchObject({ firing: 'b' })
    expect(two).toMatchObject({ firing: 'stair' })
    expect(two.volts!).toBeLessThan(one.volts!)
    expect(one.volts!).toBeLessThan(deviceIn(alone, { moment: 'holding' }, 'c').volts!)
  })

  test('at the worst moment an output gives its holding and the in-rush of the greatest group', () => {
    const amps = (study: OutputStudy, moment: string) =>
      study.results.find(({ scenario }) => scenario.moment === moment)!.sourceAmps
    expect(amps(alone, 'holding')).toBeCloseTo(0.6, 9)
    expect(amps(alone, 'worst moment')).toBeCloseTo(0.6 + 1.8, 9)
    expect(amps(both, 'worst moment')).toBeCloseTo(0.6 + 3.6, 9)
  })

  test('a group that is fed by two home runs fires on both', () => {
    const star = fed(
      [run({ to: 'a', metres: 5 }), run({ to: 'b', metres: 5 })],
      [
        load({ at: 'a', amps: 0.2, inrush: rush, firesWith: 'pair' }),
        load({ at: 'b', amps: 0.2, inrush: rush, firesWith: 'pair' }),
      ],
    )
    const worst = studyOutput(star, cool).results.find(({ scenario }) => scenario.moment === 'worst moment')
    expect(worst!.sourceAmps).toBeCloseTo(4, 9)
  })

  test('the end of discharge is 10.5 V for each 12 V (standards sheet 9, S124)', () => {
    expect(endOfDischargeVolts(24)).toBe(21)
    expect(endOfDischargeVolts(12)).toBe(10.5)
    expect(deviceIn(alone, { condition: 'end of discharge', moment: 'holding' }, 'a').volts!).toBeLessThan(21)
  })

  test('without a battery the end of discharge does not apply', () => {
    const study = studyOutput(
      { ...fed(runs, loads([null, null])), volts: { ...volts24, endOfDischarge: known(null) } },
      cool,
    )
    expect(deviceIn(study, { condition: 'end of discharge' }, 'a')).toMatchObject({
      outcome: 'does not apply',
      verdict: 'does not apply',
    })
  })

  test('too many volts are outside the window as well', () => {
    const study = studyOutput(
      fed([run({ to: 'a', metres: 1 })], [load({ at: 'a', amps: 0.1, window: [20, 26] })]),
      cool,
    )
    expect(deviceIn(study, { condition: 'highest output' }, 'a')).toMatchObject({ verdict: 'not met' })
    expect(deviceIn(study, { condition: 'highest output' }, 'a').marginVolts).toBeCloseTo(26 - 27.4, 1)
    expect(study.worst.get('a')).toMatchObject({ scenario: { condition: 'highest output' } })
    expect(study.verdict).toBe('not met')
  })
})

describe('voltage settings', () => {
  const dual = (setTo: Load['setTo']): Load => {
    const base = load({ at: 'a', amps: 0.25, form: 'resistance', window: [21.6, 26.4] })
    const [high] = base.ratings
    return {
      ...base,
      setTo,
      ratings: [
        { ...high!, setting: '24 V' },
        {
          ...high!,
          setting: '12 V',
          statedVolts: known(12),
          holdingAmps: known(0.5),
          window: known({ minimumVolts: 10.8, maximumVolts: 13.2 }),
        },
      ],
    }
  }
  const study = (setTo: Load['setTo']) =>
    studyOutput(fed([run({ to: 'a', metres: 10 })], [dual(setTo)]), cool)

  test('the position as set decides current and window', () => {
    const right = deviceIn(study(known('24 V')), { condition: 'nominal' }, 'a')
    const wrong = deviceIn(study(known('12 V')), { condition: 'nominal' }, 'a')
    expect(right.verdict).toBe('met')
    expect(wrong.verdict).toBe('not met')
    expect(wrong.amps! / right.amps!).toBeGreaterThan(3.5)
    expect(
      marginsBySetting(dual(known('12 V')), 23.9).map(({ setting, isSet, marginVolts }) => [
        setting,
        isSet,
        marginVolts! > 0,
      ]),
    ).toEqual([
      ['12 V', true, false],
      ['24 V', false, true],
    ])
  })

  test('where nobody knows how it is set, that is the question', () => {
    const open = study(unknown('voltage setting', 'a'))
    expect(deviceIn(open, { condition: 'nominal' }, 'a')).toMatchObject({ outcome: 'not known', volts: null })
    expect(open.questions.map(questionSentence)).toContain('To what voltage is a set?')
  })
})

describe('unknown in, unknown out', () => {
  const runs = [
    run({ to: 'a', metres: 30 }),
    run({ from: 'a', to: 'b', metres: 30 }),
    run({ to: 'c', metres: 30 }),
  ]
  const loads = [
    load({ at: 'a', amps: 0.2 }),
    load({ at: 'b', amps: 0.2, form: 'power' }),
    load({ at: 'c', amps: 0.2 }),
  ]
  const rating = loads[1]!.ratings[0]!
  const withRun = (change: object): FedNetwork =>
    fed(
      runs.map((each, index) => (index === 1 ? { ...each, ...change } : each)),
      loads,
    )
  const withLoad = (change: object): FedNetwork =>
    fed(
      runs,
      loads.map((each, index) => (index === 1 ? { ...each, ...change } : each)),
    )
  const size = [{ ...runs[1]!.out[0]!, size: nobodyKnows('a-b', 'wire size') }]

  test.each<[string, FedNetwork, string]>([
    ['length', withRun({ lengthMetres: nobodyKnows('a-b', 'length') }), 'How long is a-b?'],
    ['size out', withRun({ out: size }), 'What size are the conductors of a-b?'],
    ['size back', withRun({ back: size }), 'What size are the conductors of a-b?'],
    ['no return', withRun({ back: [] }), 'Which conductor brings the current of b back to its output?'],
    [
      'current',
      withLoad({ ratings: [{ ...rating, holdingAmps: nobodyKnows('b', 'holding current') }] }),
      'What current does b draw while it works?',
    ],
    [
      'form',
      withLoad({ form: unknown('load form', 'b') }),
      'Does b draw the same current, the same power, or a current in proportion to its volts?',
    ],
    [
      'stated volts',
      withLoad({ ratings: [{ ...rating, statedVolts: unknown('stated volts', 'b') }] }),
      'At what volts is the current of b stated?',
    ],
    ['feed', withLoad({ at: 'elsewhere' }), 'What feeds b?'],
  ])('%s', (what, network, question) => {
    const study = studyOutput(network, cool)
    for (const { scenario, devices, sourceAmps } of study.results) {
      const b = devices.find(({ load: id }) => id === 'b')!
      expect(b, scenarioKey(scenario)).toMatchObject({
        outcome: 'not known',
        verdict: 'not known',
        volts: null,
        amps: null,
        marginVolts: null,
      })
      expect(sourceAmps).toBeNull()
      // A home run of its own shares no conductor with what is not known.
      expect(devices.find(({ load: id }) => id === 'c')!.outcome).toBe('solved')
      if (what !== 'feed') expect(devices.find(({ load: id }) => id === 'a')!.outcome).toBe('not known')
    }
    expect(study.questions.map(questionSentence)).toContain(question)
    expect(study.verdict).toBe('not known')
  })

  test('an unknown in-rush leaves the holding known', () => {
    const study = studyOutput(
      withLoad({ ratings: [{ ...rating, inrush: unknown('in-rush current', 'b') }] }),
      cool,
    )
    expect(deviceIn(study, { moment: 'holding' }, 'b').outcome).toBe('solved')
    expect(deviceIn(study, { moment: 'worst moment' }, 'b')).toMatchObject({
      outcome: 'not known',
      volts: null,
    })
  })

  test('an unknown window leaves the volts known and the verdict not', () => {
    const study = studyOutput(
      withLoad({ ratings: [{ ...rating, window: unknown('working window', 'b') }] }),
      cool,
    )
    expect(deviceIn(study, { moment: 'holding' }, 'b')).toMatchObject({
      outcome: 'solved',
      verdict: 'not known',
      marginVolts: null,
    })
    expect(deviceIn(study, { moment: 'holding' }, 'b').volts).toBeGreaterThan(20)
    expect(study.questions.map(questionSentence)).toContain('Between what volts does b work?')
  })

  test('unknown volts of the output leave that condition not known, and no other', () => {
    const study = studyOutput(
      { ...fed(runs, loads), volts: { ...volts24, lowest: unknown('lowest volts', 'PS1 output 1') } },
      { ...cool, conditions: ['nominal', 'lowest output'] },
    )
    expect(deviceIn(study, { condition: 'lowest output' }, 'a').outcome).toBe('not known')
    expect(deviceIn(study, { condition: 'nominal' }, 'a').outcome).toBe('solved')
    expect(study.verdict).toBe('not known')
  })
})

describe('networks that are no tree', () => {
  const a = [load({ at: 'a', amps: 0.2 })]
  const ring = [
    run({ to: 'a', metres: 9 }),
    run({ from: 'a', to: 'b', metres: 9 }),
    run({ from: 'b', to: source, metres: 9 }),
  ]
  test.each<[string, FedNetwork, RegExp]>([
    ['a ring', fed(ring, a), /closes a ring/],
    [
      'a run to itself',
      fed([run({ to: 'a', metres: 9 }), run({ from: 'a', to: 'a', metres: 9 })], a),
      /ends where it starts/,
    ],
    ['a length below zero', fed([run({ to: 'a', metres: -1 })], a), /length is below zero/],
    ['a length that is no number', fed([run({ to: 'a', metres: Number.NaN })], a), /length is below zero/],
    [
      'a current below zero',
      fed([run({ to: 'a', metres: 9 })], [load({ at: 'a', amps: -0.2 })]),
      /current is below zero/,
    ],
    [
      'a window upside down',
      fed([run({ to: 'a', metres: 9 })], [load({ at: 'a', amps: 0.2, window: [26, 20] })]),
      /out of order/,
    ],
    [
      'stated at no volts',
      fed([run({ to: 'a', metres: 9 })], [load({ at: 'a', amps: 0.2, form: 'power', volts: 0 })]),
      /out of order/,
    ],
  ])('%s is named and gets no figure', (_, network, sentence) => {
    const study = studyOutput(network, cool)
    expect(study.faults.length).toBeGreaterThan(0)
    expect(faultSentence(study.faults[0]!, (id) => id)).toMatch(sentence)
    expect(study.results[0]!.devices[0]).toMatchObject({ outcome: 'wrong network', volts: null })
    expect(study.verdict).toBe('not known')
  })
})

describe('the working', () => {
  const network = fed(
    [run({ to: 'a', metres: 30 }), run({ from: 'a', to: 'b', metres: 20, count: 2 })],
    [
      load({ at: 'a', amps: 0.5 }),
      load({ at: 'b', amps: 0.25, form: 'power', inrush: { amps: 1, seconds: 1 } }),
    ],
  )
  const study = studyOutput(network, usualScenarios)

  test('drops add up to what is lost between output and device, in every scenario', () => {
    for (const { scenario, devices } of study.results)
      for (const { load: id, volts } of devices) {
        const steps = workingOf(study, id, scenario)
        const [first] = steps
        const drops = steps.flatMap((step) => (step.step === 'drop' ? [step.volts] : []))
        expect(first!.step).toBe('source')
        const given = first!.step === 'source' ? first!.volts : 0
        expect(given - drops.reduce((sum, each) => sum + each, 0)).toBeCloseTo(volts!, 9)
      }
  })

  test('of random networks with separate returns too', () => {
    const chance = chanceFrom(21)
    for (let round = 0; round < 100; round += 1) {
      const random = studyOutput(randomNetwork(chance, { separate: true }), cool)
      const { scenario, devices } = random.results[1]!
      for (const { load: id, volts, outcome } of devices) {
        if (outcome !== 'solved') continue
        const steps = workingOf(random, id, scenario)
        const drops = steps.reduce((sum, step) => sum + (step.step === 'drop' ? step.volts : 0), 0)
        expect(24 - drops).toBeCloseTo(volts!, 8)
      }
    }
  })

  test('reads as sentences that a person can check', () => {
    const worst = { condition: 'nominal', moment: 'worst moment', celsius: 20 } as const
    expect(workingOf(study, 'b', worst).map((each) => stepSentence(each))).toEqual([
      'output gives 24.00 V at nominal volts.',
      'a draws 0.500 A: 0.500 A at 24.00 V, the same current at any volts.',
      expect.stringMatching(
        /^b draws 1\.1\d\d A as b fires: 1\.000 A at 24\.00 V, the same power at any volts\.$/,
      ),
      'source-a, out: 30.0 m of 18 AWG stranded, 0.6410 ohm at 20 °C.',
      expect.stringMatching(/^source-a, out: 1\.6\d\d A x 0\.6410 ohm = 1\.0\d V lost\.$/),
      'a-b, out: 20.0 m of 18 AWG stranded beside 18 AWG stranded, 0.2137 ohm at 20 °C.',
      expect.stringMatching(/^a-b, out: 1\.1\d\d A x 0\.2137 ohm = 0\.2\d V lost\.$/),
      expect.stringMatching(/^source-a, back: /),
      expect.stringMatching(/^source-a, back: /),
      expect.stringMatching(/^a-b, back: /),
      expect.stringMatching(/^a-b, back: /),
      expect.stringMatching(/^b has 21\.\d\d V: 2\.\d\d V are lost on the way\.$/),
      expect.stringMatching(/^b works from 20\.40 V to 27\.60 V: 1\.0\d V to spare\.$/),
      expect.stringMatching(/^Check: \d+\.\d+ W given = \d+\.\d+ W used \+ \d+\.\d+ W lost in the cable\.$/),
    ])
    expect(scenarioWords(worst)).toBe('worst moment at nominal volts, cable at 20 °C')
  })

  test('what cannot be fed has no working, and says so', () => {
    const dead = studyOutput(
      fed([run({ to: 'a', metres: 900 })], [load({ at: 'a', amps: 2, form: 'power' })]),
      cool,
    )
    expect(workingOf(dead, 'a', dead.results[0]!.scenario)).toEqual([])
    expect(outcomeSentence('cannot be fed')).toMatch(/^Cannot be fed/)
  })

  test('a branch in full: losses of its runs are those of the branch', () => {
    for (const { scenario } of study.results) {
      const full = branchInFull(study.plans[0]!, network.volts, scenario, null)!
      expect(full.runs.reduce((sum, { lostWatts }) => sum + lostWatts, 0)).toBeCloseTo(full.lostWatts, 9)
      expect(full.usedWatts + full.lostWatts).toBeCloseTo(full.sourceVolts * full.sourceAmps, 9)
    }
  })
})
