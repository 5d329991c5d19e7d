// Loading, fuses, Class 2, heat, and a supply as a whole. Sources are numbered as in the standards sheet.
import { describe, expect, test } from 'vitest'
import {
  checkClassTwo,
  classTwoLimits,
  classTwoSentence,
  fuseSentence,
  known,
  outputPower,
  powerMemo,
  questionSentence,
  source,
  supplyPower,
  supplyRemedySentence,
  unknown,
  usualPowerSettings,
  type FedOutput,
  type Limiting,
} from '../../../core/power/index.ts'
import { fed, fedOutput, load, run, supplyOf } from './networks.ts'

describe('Class 2, NEC chapter 9 table 11(B) (S95)', () => {
  test.each([
    [12, 'inherent', 8, 60, 5],
    [20, 'inherent', 8, 100, 5],
    [24, 'inherent', 8, 100, 4.1667],
    [27.4, 'inherent', 8, 100, 3.6496],
    [48, 'inherent', 3.125, 100, 2.0833],
  ] as const)('%f V, %s: at most %f A, nameplate %f VA and %f A', (volts, limiting, most, voltAmps, amps) => {
    const limits = classTwoLimits(volts, limiting)!
    expect(limits.greatestAmps).toBeCloseTo(most, 3)
    expect(limits.nameplateVoltAmps).toBeCloseTo(voltAmps, 3)
    expect(limits.nameplateAmps).toBeCloseTo(amps, 3)
  })

  test.each([
    [12, 1000 / 12, 5],
    [24, 1000 / 24, 100 / 24],
    [48, 1000 / 48, 100 / 48],
  ])('%f V with an overcurrent device: at most %f A, device of %f A', (volts, most, device) => {
    const limits = classTwoLimits(volts, 'by overcurrent device')!
    expect(limits).toMatchObject({ greatestVoltAmps: 250 })
    expect(limits.greatestAmps).toBeCloseTo(most, 9)
    expect(limits.overcurrentAmps).toBeCloseTo(device, 9)
  })

  const output = (limiting: Limiting, volts: number, amps: number, fuse: number | null) =>
    checkClassTwo({
      name: '1',
      limiting,
      highestVolts: known(volts),
      ratedAmps: known(amps),
      fuseAmps: known(fuse),
    })

  test.each<[Limiting, number, number, number | null, string, RegExp | null]>([
    ['inherent', 27.4, 2.5, null, 'met', null],
    ['inherent', 27.4, 4, null, 'not met', /Rated 4.00 A at 27.40 V; Class 2 is at most 3.65 A/],
    ['by overcurrent device', 27.4, 10, 3.5, 'met', null],
    ['by overcurrent device', 27.4, 10, 5, 'not met', /fuse is 5 A/],
    ['by overcurrent device', 27.4, 10, null, 'not met', /has no fuse/],
    ['inherent', 72, 1, null, 'not met', /above the 60 V/],
  ])('%s, %f V, %f A, fuse %s: %s', (limiting, volts, amps, fuse, verdict, sentence) => {
    const check = output(limiting, volts, amps, fuse)
    expect(check.verdict).toBe(verdict)
    if (sentence !== null) expect(check.findings.map(classTwoSentence).join(' ')).toMatch(sentence)
  })

  test('greatest volts that nobody told are a question', () => {
    const check = checkClassTwo({
      name: '1',
      limiting: 'inherent',
      highestVolts: unknown('highest volts', '1'),
      ratedAmps: known(2),
      fuseAmps: known(null),
    })
    expect(check).toMatchObject({ verdict: 'not known', questions: [{ about: 'highest volts', thing: '1' }] })
  })
})

const settings = usualPowerSettings
const output = (amps: number, change: Partial<FedOutput> = {}, inrush: number | null = null): FedOutput => ({
  ...fedOutput(
    fed(
      [run({ to: 'a', metres: 5 })],
      [load({ at: 'a', amps, inrush: inrush === null ? null : { amps: inrush, seconds: 0.5 } })],
    ),
  ),
  ...change,
})

describe('loading of an output: 80 % is a design practice (standards sheet 6.1)', () => {
  test.each([
    [3.2, 'met'],
    [3.21, 'not met'],
  ])('%f A of 4 A: %s', (amps, verdict) => {
    expect(outputPower(output(amps, { fuseAmps: known(null) }), settings).loading).toMatchObject({
      withinLimit: verdict,
      withinRating: 'met',
      limitAmps: 3.2,
    })
  })

  test('in-rush is held against the whole rating, not the limit', () => {
    const loading = (amps: number) =>
      outputPower(output(1, { fuseAmps: known(null) }, amps), settings).loading
    expect(loading(3.9)).toMatchObject({ withinLimit: 'met', withinRating: 'met' })
    expect(loading(4.1)).toMatchObject({ withinLimit: 'met', withinRating: 'not met' })
  })

  test('a rating or a current that nobody told is not known', () => {
    const rating = outputPower(output(1, { ratedAmps: unknown('rated current', 'output') }), settings).loading
    expect(rating).toMatchObject({ withinLimit: 'not known', limitAmps: null, holdingAmps: 1 })
    const blank = output(1)
    const current = outputPower(
      { ...blank, loads: blank.loads.map((each) => ({ ...each, form: unknown('load form', 'a') })) },
      settings,
    ).loading
    expect(current).toMatchObject({ withinLimit: 'not known', holdingAmps: null, worstAmps: null })
  })

  test('an output that feeds nothing carries nothing', () => {
    expect(outputPower(fedOutput(fed([], [])), settings).loading).toMatchObject({
      holdingAmps: 0,
      withinLimit: 'met',
    })
  })
})

describe('fuses', () => {
  test.each<[number, number | null, number, string, RegExp | null]>([
    [1, null, 2, 'met', null],
    [1.7, null, 2, 'not met', /over the loading limit of its fuse of 2 A/],
    [2.5, null, 2, 'not met', /more than its fuse of 2 A/],
    [1, 3, 2, 'not met', /gives 3.000 A for 0.5 s through a fuse of 2 A; the curve/],
    [1, null, 5, 'not met', /more than the output's rating of 4 A/],
  ])('%f A, in-rush %s, fuse %f A: %s', (amps, inrush, fuse, verdict, sentence) => {
    const { fuse: check } = outputPower(output(amps, { fuseAmps: known(fuse) }, inrush), settings).loading
    expect(check.verdict).toBe(verdict)
    if (sentence !== null) expect(check.findings.map(fuseSentence).join(' ')).toMatch(sentence)
  })

  test('the fuse that would carry it', () => {
    expect(outputPower(output(1.7), settings).loading.fuse.wouldCarryAmps).toBe(2.5)
  })

  test('no fuse is not the same as one that nobody told', () => {
    expect(outputPower(output(1, { fuseAmps: known(null) }), settings).loading.fuse.verdict).toBe(
      'does not apply',
    )
    expect(
      outputPower(output(1, { fuseAmps: unknown('fuse', 'output') }), settings).loading.fuse.verdict,
    ).toBe('not known')
  })
})

describe('a supply', () => {
  const two = [output(1), { ...output(2), id: 'second', name: 'second' }]

  test('adds its outputs and its own current', () => {
    const { loading } = supplyPower(supplyOf(two), settings)
    expect(loading).toMatchObject({ withinLimit: 'met', limitAmps: 8 })
    expect(loading.holdingAmps).toBeCloseTo(3.1, 9)
    // 3.1 A at 24 V through a supply that gives 85 %: 74.4 W out, 13.13 W inside; 3.412 BTU/h each.
    expect(loading.heat.outputWatts).toBeCloseTo(74.4, 9)
    expect(loading.heat.supplyWatts).toBeCloseTo(74.4 / 0.85 - 74.4, 9)
    expect(loading.heat.supplyBtuPerHour).toBeCloseTo(13.129 * 3.412, 1)
    expect(loading.heat.cableWatts!).toBeGreaterThan(0)
  })

  test('a bigger one is offered where it holds too much', () => {
    const power = supplyPower(supplyOf(two, { ratedAmps: known(3.5) }), settings)
    expect(power.remedies.map(supplyRemedySentence)).toContain(
      'Fit a supply rated for 3.88 A or more: it holds 3.100 A.',
    )
    expect(power.verdict).toBe('not met')
  })

  test.each([
    ['ownAmps', 'own current'],
    ['ratedAmps', 'rated current'],
  ] as const)('unknown %s is not known', (field, about) => {
    const power = supplyPower(supplyOf(two, { [field]: unknown(about, 'PS1') }), settings)
    expect(power.loading.withinLimit).toBe('not known')
    expect(power.questions.map(({ about: asked }) => asked)).toContain(about)
  })

  test('its battery carries what draws at rest, then what draws on alarm', () => {
    const outputs = [
      fedOutput(
        fed(
          [run({ to: 'a', metres: 5 }), run({ to: 'b', metres: 5 })],
          [
            load({ at: 'a', amps: 0.4, atRest: true, onAlarm: false }),
            load({ at: 'b', amps: 0.3, atRest: false, onAlarm: true }),
          ],
        ),
      ),
    ]
    const { battery } = supplyPower(supplyOf(outputs), settings)
    expect(battery!.need.standbyAmps).toMatchObject({ known: true, value: expect.closeTo(0.5, 9) })
    expect(battery!.need.alarmAmps).toMatchObject({ known: true, value: expect.closeTo(0.4, 9) })
    expect(battery!.lasting).toMatchObject({ known: true, lasts: { enough: 'met' } })
  })

  test('a constant power counts at the volts of an empty battery, where it draws most', () => {
    const outputs = [
      fedOutput(fed([run({ to: 'a', metres: 0 })], [load({ at: 'a', amps: 0.42, form: 'power' })])),
    ]
    const { battery } = supplyPower(supplyOf(outputs, { ownAmps: known(0) }), settings)
    expect(battery!.need.standbyAmps).toMatchObject({
      known: true,
      value: expect.closeTo((0.42 * 24) / 21, 9),
    })
  })

  test('a short battery is found, with the size that would do', () => {
    const power = supplyPower(supplyOf(two, { batteryAmpHours: known(7) }), settings)
    expect(power.battery!.lasting).toMatchObject({ known: true, lasts: { enough: 'not met' } })
    expect(power.remedies).toMatchObject([{ change: 'bigger battery', ampHours: 26, inParallel: 1 }])
    expect(power.remedies.map(supplyRemedySentence)[0]).toMatch(
      /^Fit a battery of 26 Ah: it lasts \d+\.\d h before the alarm\.$/,
    )
    expect(power.verdict).toBe('not met')
  })

  test('whether a lock draws at rest is asked, never taken', () => {
    const [first] = two
    const open = {
      ...first!,
      loads: first!.loads.map((each) => ({ ...each, drawsAtRest: unknown('drawing at rest', 'a') })),
    }
    const power = supplyPower(supplyOf([open]), settings)
    expect(power.battery!.lasting.known).toBe(false)
    expect(power.questions.map(questionSentence)).toContain('Does a draw current while its door is secured?')
  })

  test('no battery: short of what is asked, and nothing where no hours are asked', () => {
    expect(
      supplyPower(supplyOf(two, { batteryAmpHours: known(null) }), settings).battery!.lasting,
    ).toMatchObject({ known: true, lasts: { standbyHours: 0, enough: 'not met' } })
    expect(
      supplyPower(supplyOf(two, { batteryAmpHours: known(null), standbyHours: known(0) }), settings).battery,
    ).toBeNull()
  })

  test('a battery and hours that nobody told stay a question', () => {
    const power = supplyPower(supplyOf(two, { batteryAmpHours: unknown('battery', 'PS1') }), settings)
    expect(power.battery!.lasting.known).toBe(false)
    expect(power.battery!.sizing.known).toBe(true)
    expect(power.questions.map(questionSentence)).toContain('What battery does PS1 have, if any?')
  })

  test('with its hours not told and no battery, the battery is a question and no pass', () => {
    const power = supplyPower(
      supplyOf(two, { batteryAmpHours: known(null), standbyHours: unknown('standby hours', 'PS1') }),
      settings,
    )
    expect(power.battery).not.toBeNull()
    expect(power.questions.map(questionSentence)).toContain(
      'For how many hours must the battery of PS1 hold?',
    )
  })

  test('the memo works only what changed, and gives the same', () => {
    const memo = powerMemo(settings)
    const before = memo(supplyOf(two))
    const changed = [two[0]!, { ...two[1]!, loads: [load({ id: 'a', at: source, amps: 1 })] }]
    const after = memo(supplyOf(changed))
    expect(after.outputs[0]).toBe(before.outputs[0])
    expect(after.outputs[1]).not.toBe(before.outputs[1])
    expect(after).toEqual(supplyPower(supplyOf(changed), settings))
  })
})
