// Copper by geometry against published tables. Sources are numbered as in the project's standards sheet.
import { describe, expect, test } from 'vitest'
import {
  areaSquareMillimetres,
  awg,
  diameterMillimetres,
  loopOhms,
  metric,
  ohmsPerMetre,
  readWireSize,
  sideOhms,
  stockMetric,
  temperatureFactor,
  thickerThan,
  writeWireSize,
  type WireSize,
} from '../../../core/power/index.ts'

const metresPerThousandFeet = 304.8
const share = (value: number, of: number): number => Math.abs(value / of - 1)

// NEC chapter 9 table 8, uncoated copper, 75 °C, ohm per 1000 ft: S95, S98, S99.
const table8 = [
  [18, 7.77, 7.95],
  [16, 4.89, 4.99],
  [14, 3.07, 3.14],
  [12, 1.93, 1.98],
  [10, 1.21, 1.24],
  [8, 0.764, 0.778],
] as const

describe('NEC chapter 9 table 8 (S95, S98, S99)', () => {
  test.each(table8)('%i AWG: solid %f, stranded %f ohm per 1000 ft at 75 °C', (number, solid, stranded) => {
    expect(share(ohmsPerMetre(awg(number), false, 75) * metresPerThousandFeet, solid)).toBeLessThan(0.006)
    expect(share(ohmsPerMetre(awg(number), true, 75) * metresPerThousandFeet, stranded)).toBeLessThan(0.015)
  })

  test.each([
    [20, 0.82235],
    [25, 0.8385],
    [30, 0.85465],
    [50, 0.91925],
  ])('note 2 (S95, S100): from 75 to %i °C times %f', (celsius, factor) => {
    expect(share(temperatureFactor(celsius) / temperatureFactor(75), factor)).toBeLessThan(0.001)
  })
})

// Computed with ASTM B258 geometry, agreeing with S103.
describe('AWG geometry and ohms at 20 °C (ASTM B258; S101, S103)', () => {
  test.each([
    [24, 0.0201, 0.2047, 84.21, 31.21],
    [22, 0.02535, 0.3255, 52.96, 19.63],
    [20, 0.03196, 0.5176, 33.31, 12.35],
    [18, 0.0403, 0.823, 20.95, 7.764],
    [16, 0.05082, 1.3087, 13.17, 4.883],
    [14, 0.06408, 2.0809, 8.285, 3.071],
    [12, 0.08081, 3.3088, 5.211, 1.931],
    [10, 0.1019, 5.2612, 3.277, 1.215],
    [8, 0.12849, 8.3656, 2.061, 0.764],
  ])(
    '%i AWG: %f in, %f mm², %f ohm/km at 20 °C, %f ohm per 1000 ft at 75 °C',
    (number, inches, area, ohms, hot) => {
      expect(share(diameterMillimetres(number) / 25.4, inches)).toBeLessThan(0.0005)
      expect(share(areaSquareMillimetres(awg(number)), area)).toBeLessThan(0.0005)
      expect(share(ohmsPerMetre(awg(number), false, 20) * 1000, ohms)).toBeLessThan(0.0005)
      expect(share(ohmsPerMetre(awg(number), false, 75) * metresPerThousandFeet, hot)).toBeLessThan(0.001)
    },
  )

  test('4/0 AWG is 0.46 in (ASTM B258 fixes this end of the scale)', () => {
    expect(diameterMillimetres(-3)).toBeCloseTo(0.46 * 25.4, 3)
  })
})

// IEC 60228 class 1 and 2, plain copper, greatest ohm/km at 20 °C:
// https://mycableengineering.com/knowledge-base/iec-60228-dc-resistance, and a second table that agrees at
// https://storage.electrika.com/flips/8940-cembre-16/files/assets/basic-html/page-211.html
describe('metric sizes: never below the maxima of IEC 60228, and not 3.5 % above', () => {
  test.each([
    [0.5, 36],
    [0.75, 24.5],
    [1, 18.1],
    [1.5, 12.1],
    [2.5, 7.41],
    [4, 4.61],
    [6, 3.08],
    [10, 1.83],
    [16, 1.15],
  ])('%f mm²: %f ohm/km', (area, maximum) => {
    const ours = ohmsPerMetre(metric(area), true, 20) * 1000
    expect(ours).toBeGreaterThanOrEqual(maximum)
    expect(ours / maximum).toBeLessThan(1.035)
    expect(stockMetric).toContain(area)
  })
})

describe('worked values', () => {
  test('12 AWG, 50 m: 0.26 ohm one way, 0.52 ohm loop, 5.21 ohm/km (S106)', () => {
    const wire = [{ size: awg(12), stranded: false }]
    expect(sideOhms(wire, 50, 20)).toBeCloseTo(0.26, 2)
    expect(loopOhms(wire, wire, 50, 20)).toBeCloseTo(0.52, 2)
    expect(ohmsPerMetre(awg(12), false, 20) * 1000).toBeCloseTo(5.21, 2)
  })

  test('18 AWG, 400 ft: 2.602 ohm, with the stranding allowance (S104)', () => {
    expect(share(sideOhms([{ size: awg(18), stranded: true }], 400 * 0.3048, 20), 2.602)).toBeLessThan(0.002)
  })

  test('two conductors in parallel have half the ohms; no conductor has no end of them', () => {
    const one = [{ size: awg(18), stranded: true }]
    expect(sideOhms([...one, ...one], 30, 20)).toBeCloseTo(sideOhms(one, 30, 20) / 2, 12)
    expect(sideOhms([], 30, 20)).toBe(Infinity)
  })
})

describe('sizes in words', () => {
  test.each<[string, WireSize]>([
    ['18 AWG', awg(18)],
    ['18awg', awg(18)],
    ['AWG 18', awg(18)],
    ['#18', awg(18)],
    ['18 ga', awg(18)],
    ['18/2', awg(18)],
    ['18', awg(18)],
    ['#4', awg(4)],
    ['1/0', awg(0)],
    ['4/0 AWG', awg(-3)],
    ['1.5 mm²', metric(1.5)],
    ['1,5 mm2', metric(1.5)],
    ['0.75', metric(0.75)],
    ['16 mm²', metric(16)],
  ])('%s', (text, size) => {
    expect(readWireSize(text)).toMatchObject({ known: true, value: size })
  })

  test.each(['', 'tbc', '16', '6', '0', '99', '2.2', 'thick', '-18 AWG', '0 mm²'])(
    '"%s" is refused',
    (text) => {
      expect(readWireSize(text).known).toBe(false)
    },
  )

  test.each([awg(18), awg(0), awg(-3), metric(1.5)])('%o is read as it is written', (size) => {
    expect(readWireSize(writeWireSize(size))).toMatchObject({ known: true, value: size })
  })

  test('thicker sizes hold more copper, thin to thick, in the same system', () => {
    expect(thickerThan(awg(18)).map(writeWireSize)).toEqual(['16 AWG', '14 AWG', '12 AWG', '10 AWG', '8 AWG'])
    expect(thickerThan(metric(4)).map(writeWireSize)).toEqual(['6 mm²', '10 mm²', '16 mm²'])
    expect(thickerThan(awg(8))).toEqual([])
  })
})
