// Copper by its geometry. Source numbers in brackets are those of the project's standards sheet.
import { describe, expect, test } from 'vitest'
import { conductorOhms, factorsOf, inSeries, solidOhmsPerMetre } from '../../../core/settings/cable.ts'
import { awg } from '../../../core/job/index.ts'

const metresPerThousandFeet = 304.8
const at = (celsius: number) => ({ lowest: celsius, highest: celsius })

describe('20 °C, within 0.5 % of published AWG figures', () => {
  test.each([
    // gauge, ohm per 1000 ft, ohm per km, source
    [24, 25.67, 84.21, 'ASTM B258 geometry [S101], figures [S103]'],
    [22, 16.14, 52.96, 'ASTM B258 geometry [S101], figures [S103]'],
    [20, 10.15, 33.31, 'ASTM B258 geometry [S101], figures [S103]'],
    [18, 6.385, 20.95, 'ASTM B258 geometry [S101], figures [S103]'],
    [16, 4.015, 13.17, 'ASTM B258 geometry [S101], figures [S103]'],
    [14, 2.525, 8.285, 'ASTM B258 geometry [S101], figures [S103]'],
    [12, 1.588, 5.211, 'ASTM B258 geometry [S101], figures [S103]'],
    [10, 0.999, 3.277, 'ASTM B258 geometry [S101], figures [S103]'],
    [8, 0.628, 2.061, 'ASTM B258 geometry [S101], figures [S103]'],
  ])('%i AWG', (gauge, perThousandFeet, perKilometre) => {
    const ohms = solidOhmsPerMetre(awg(gauge), 20)
    expect(Math.abs((ohms * metresPerThousandFeet) / perThousandFeet - 1)).toBeLessThan(0.005)
    expect(Math.abs((ohms * 1000) / perKilometre - 1)).toBeLessThan(0.005)
  })
})

describe('75 °C, within 0.6 % of NEC chapter 9 table 8', () => {
  test.each([
    // gauge, solid and 7-strand ohm per 1000 ft, source
    [18, 7.77, 7.95, '[S95][S98]'],
    [16, 4.89, 4.99, '[S95][S98]'],
    [14, 3.07, 3.14, '[S95][S98]'],
    [12, 1.93, 1.98, '[S95][S98]'],
    [10, 1.21, 1.24, '[S95][S98]'],
    [8, 0.764, 0.778, '[S95][S98]'],
  ])('%i AWG', (gauge, solid, strand) => {
    const ohms = solidOhmsPerMetre(awg(gauge), 75) * metresPerThousandFeet
    const [, most] = factorsOf(awg(gauge), true)
    expect(Math.abs(ohms / solid - 1)).toBeLessThan(0.006)
    expect(Math.abs((ohms * most) / strand - 1)).toBeLessThan(0.006)
  })
})

test.each([
  ['12 AWG, 50 m, one way, 0.26 ohm', '12 AWG', 50, 20, 0.26, '[S106]'],
  ['16 AWG stranded, 100 ft, at 4 A 4.0 V out and back', '16 AWG', 30.48, 75, 4.0 / 4 / 2, '[S105]'],
])('%s', (_what, size, lengthMetres, celsius, expected) => {
  const found = conductorOhms({ name: 'x', size, stranded: size === '16 AWG', lengthMetres }, at(celsius))
  if (!found.known) throw new Error('not known')
  expect(found.lowOhms).toBeCloseTo(expected, 2)
  expect(found.highOhms).toBe(found.lowOhms)
})

describe('what is not known', () => {
  test.each([
    ['no size', { size: null, lengthMetres: 10 }, ['Which size are the conductors of W1?']],
    ['no length', { size: '18 AWG', lengthMetres: null }, ['How long is W1?']],
    ['a length below nothing', { size: '18 AWG', lengthMetres: -1 }, ['How long is W1?']],
    [
      'neither',
      { size: 'thick', lengthMetres: null },
      ['“thick” is no size of a conductor; which size, such as 22 AWG or 0.5 mm2, is W1?', 'How long is W1?'],
    ],
  ])('%s', (_what, of, questions) => {
    const found = conductorOhms({ name: 'W1', stranded: true, ...of }, at(20))
    expect(found.known ? [] : found.questions.map(({ words }) => words)).toEqual(questions)
  })

  test('one missing length makes the whole loop not known', () => {
    const known = conductorOhms({ name: 'a', size: '18 AWG', stranded: true, lengthMetres: 5 }, at(20))
    const missing = conductorOhms({ name: 'b', size: '18 AWG', stranded: true, lengthMetres: null }, at(20))
    expect(inSeries([known, missing]).known).toBe(false)
  })

  test('whether it is stranded widens the span instead of being guessed', () => {
    const found = conductorOhms({ name: 'a', size: '18 AWG', stranded: null, lengthMetres: 100 }, at(20))
    if (!found.known) throw new Error('not known')
    expect(found.lowOhms).toBeCloseTo(2.095, 2)
    expect(found.highOhms / found.lowOhms).toBeCloseTo(1.02, 6)
  })
})
