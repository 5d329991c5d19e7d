// Standby batteries against published datasheets and worked examples. Sources are numbered as in the standards sheet.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  batterySizingSentences,
  hoursAt,
  hoursOfBattery,
  known,
  peukertHours,
  questionSentence,
  recharge,
  sizeBattery,
  temperatureShare,
  unknown,
  usualRateExponent,
  type BatteryNeed,
  type BatterySizing,
} from '../../../core/power/index.ts'

const need = (change: Partial<BatteryNeed> = {}): BatteryNeed => ({
  name: 'PS1',
  standbyAmps: known(0.42),
  alarmAmps: known(3.8),
  standbyHours: known(24),
  alarmMinutes: known(5),
  celsius: known(25),
  ageingFactor: 1.25,
  rateExponent: 1,
  ...change,
})

function sized(change: Partial<BatteryNeed> = {}): BatterySizing {
  const sizing = sizeBattery(need(change))
  if (!sizing.known) throw new Error(JSON.stringify(sizing.questions))
  return sizing.sizing
}

describe('the worked example: 0.42 A for 24 h, then 3.8 A for 5 min', () => {
  test.each([
    [1, 10.397, 12, 'S72: 10.397 Ah'],
    [1.2, 12.48, 18, 'S72: 12.48 Ah, for which a 12 Ah set is short'],
    [1.25, 13.0, 18, 'computed: 13.00 Ah'],
  ])('times %f is %f Ah, next size %i Ah (%s)', (ageingFactor, ampHours, stock) => {
    const sizing = sized({ ageingFactor })
    expect(sizing.standbyAmpHours).toBeCloseTo(10.08, 9)
    expect(sizing.alarmAmpHours).toBeCloseTo(0.317, 3)
    expect(sizing.requiredAmpHours).toBeCloseTo(ampHours, 2)
    expect(sizing.stockAmpHours).toBe(stock)
  })

  test('its working, line by line', () => {
    expect(batterySizingSentences(need(), sized())).toEqual([
      'Standby: 0.420 A x 24 h = 10.080 Ah.',
      'Alarm: 3.800 A x 5 min = 0.317 Ah.',
      'Together 10.397 Ah.',
      'Ageing x 1.25: 13.00 Ah required.',
      'Next size sold: 18 Ah.',
    ])
  })

  test('with rate and cold it asks for more, never for less', () => {
    const rated = sized({ rateExponent: usualRateExponent })
    const cold = sized({ rateExponent: usualRateExponent, celsius: known(0) })
    expect(rated.requiredAmpHours).toBeGreaterThan(13)
    expect(cold.requiredAmpHours).toBeCloseTo(rated.requiredAmpHours / 0.85, 6)
    expect(sized({ celsius: known(40) }).requiredAmpHours).toBeCloseTo(13, 2)
  })
})

describe('discharge rate', () => {
  test('120 Ah at the 20 h rate, 120 A, exponent 1.4: 0.30 h (S119)', () => {
    expect(peukertHours(120, 20, 120, 1.4)).toBeCloseTo(0.3, 2)
  })

  // Hours by the datasheet; ours may be shorter, by a tenth at most, and longer by no more than the datasheet's rounding.
  test.each([
    [14, 0.7, 20, 'S117'],
    [14, 1.28, 10, 'S117'],
    [14, 2.4, 5, 'S117'],
    [14, 8.4, 1, 'S117'],
    [40, 2, 20, 'S118'],
    [40, 3.72, 10, 'S118'],
    [40, 6.8, 5, 'S118'],
    [40, 24, 1, 'S118'],
  ])('%i Ah gives %f A for %i h (%s)', (ampHours, amps, hours) => {
    const ours = hoursAt(ampHours, amps, usualRateExponent)
    expect(ours / hours).toBeGreaterThan(0.9)
    expect(ours / hours).toBeLessThan(1.001)
  })

  test('slower than the 20 h rate it gives its rating and no more', () => {
    expect(hoursAt(14, 0.07, usualRateExponent)).toBeCloseTo(200, 9)
    expect(hoursAt(14, 0, usualRateExponent)).toBe(Infinity)
  })

  test.each([
    [40, 1.02],
    [25, 1],
    [0, 0.85],
    [-15, 0.65],
  ])('at %i °C the share is %f (S117)', (celsius, share) => {
    expect(temperatureShare(celsius)).toBeCloseTo(share, 12)
  })

  test.each([-15.1, 40.1, Number.NaN])('at %f °C the datasheet says nothing', (celsius) => {
    expect(temperatureShare(celsius)).toBeNull()
  })
})

describe('hours that a battery lasts', () => {
  test('the size it asks for lasts as long as it was asked for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.05, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0.5, max: 72, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.double({ min: -15, max: 40, noNaN: true }),
        (standby, alarm, hours, minutes, celsius) => {
          const asked = need({
            standbyAmps: known(standby),
            alarmAmps: known(alarm),
            standbyHours: known(hours),
            alarmMinutes: known(minutes),
            celsius: known(celsius),
            rateExponent: usualRateExponent,
          })
          const sizing = sizeBattery(asked)
          if (!sizing.known) throw new Error('not known')
          const lasting = hoursOfBattery(asked, known(sizing.sizing.requiredAmpHours))
          if (!lasting.known) throw new Error('not known')
          expect(lasting.lasts.standbyHours / hours).toBeCloseTo(1, 6)
          const short = hoursOfBattery(asked, known(sizing.sizing.requiredAmpHours * 0.95))
          expect(short.known && short.lasts.enough).toBe('not met')
          const long = hoursOfBattery(asked, known(sizing.sizing.requiredAmpHours * 1.05))
          expect(long.known && long.lasts.enough).toBe('met')
        },
      ),
      { numRuns: 300, seed: 1 },
    )
  })

  test('no battery lasts no hours; nothing drawn lasts without end', () => {
    expect(hoursOfBattery(need(), known(0))).toMatchObject({
      known: true,
      lasts: { standbyHours: 0, enough: 'not met' },
    })
    const idle = hoursOfBattery(need({ standbyAmps: known(0), alarmAmps: known(0) }), known(7))
    expect(idle).toMatchObject({ known: true, lasts: { standbyHours: Infinity, enough: 'met' } })
  })

  test('more than 55 Ah goes in parallel', () => {
    expect(sized({ standbyAmps: known(4) })).toMatchObject({ stockAmpHours: null, inParallel: 3 })
  })
})

describe('unknown in, unknown out', () => {
  test.each([
    ['standbyAmps', 'holding current'],
    ['alarmAmps', 'drawing on alarm'],
    ['standbyHours', 'standby hours'],
    ['alarmMinutes', 'alarm minutes'],
    ['celsius', 'battery temperature'],
  ] as const)('%s', (field, about) => {
    const sizing = sizeBattery(need({ [field]: unknown(about, 'PS1') }))
    expect(sizing).toEqual({ known: false, questions: [{ about, thing: 'PS1' }] })
    const lasting = hoursOfBattery(need({ [field]: unknown(about, 'PS1') }), known(7))
    if (field === 'standbyHours')
      expect(lasting).toMatchObject({ known: true, lasts: { enough: 'not known' } })
    else expect(lasting.known).toBe(false)
  })

  test('a temperature off the datasheet is a question', () => {
    const sizing = sizeBattery(need({ celsius: known(-30) }))
    expect(sizing.known).toBe(false)
    expect(sizing.known ? [] : sizing.questions.map(questionSentence)).toEqual([
      'How cold does the battery of PS1 get? (-15 to 40 °C)',
    ])
  })
})

// Common practice, no source: charge put in is 1.2 times charge taken out; at most a quarter of the ampere hours in amps.
describe('recharge', () => {
  test.each([
    [7, 0.5, 16.8, 'met', 'met'],
    [18, 0.5, 43.2, 'met', 'met'],
    [26, 0.5, 62.4, 'met', 'not met'],
    [7, 2, 4.2, 'not met', 'met'],
    [7, 0, Infinity, 'met', 'not met'],
  ] as const)(
    '%i Ah at %f A takes %f h; gentle: %s, within 48 h: %s',
    (ampHours, amps, hours, gentle, inTime) => {
      const found = recharge(ampHours, known(amps), 48)
      expect(found.hours).toBeCloseTo(hours, 9)
      expect(found).toMatchObject({ gentle, inTime })
      expect(found.neededAmps).toBeCloseTo((ampHours * 1.2) / 48, 12)
    },
  )

  test('a charging current that nobody told is a question', () => {
    expect(recharge(7, unknown('charging current', 'PS1'), 48)).toMatchObject({
      hours: null,
      inTime: 'not known',
    })
  })
})
