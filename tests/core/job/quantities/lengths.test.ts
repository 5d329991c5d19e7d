import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  readLength,
  writeLength,
  type LengthField,
  type Units,
} from '../../../../core/job/quantities/index.ts'

const inch = 25_400
const foot = 12 * inch
const mm = 1_000

// Trade notation 3-0 and 3/0: standards.md 11 [S138]. The rest: arithmetic, 1 in = 25.4 mm exactly.
const readings: readonly [string, Units, LengthField | undefined, number | null, string?][] = [
  ['3-0', 'imperial', 'doorWidth', 3 * foot],
  ['3\'-0"', 'imperial', 'doorWidth', 3 * foot],
  ['3\' 0"', 'imperial', 'doorWidth', 3 * foot],
  ['3′-0″', 'imperial', 'doorWidth', 3 * foot],
  ['3’–0”', 'imperial', 'doorWidth', 3 * foot],
  ["3'-0''", 'imperial', 'doorWidth', 3 * foot],
  ['3\' 0 1/2"', 'imperial', 'doorWidth', 3 * foot + inch / 2],
  ['3\'-0½"', 'imperial', 'doorWidth', 3 * foot + inch / 2],
  ['3ft 0in', 'imperial', 'doorWidth', 3 * foot],
  ['3 ft. 6 in.', 'imperial', 'doorWidth', 3.5 * foot],
  ["3'", 'metric', 'doorWidth', 3 * foot],
  ['3 - 0', 'imperial', 'doorWidth', 3 * foot],
  ['3/0', 'imperial', 'doorWidth', 3 * foot],
  ['2/8', 'imperial', 'doorWidth', 32 * inch, 'read as feet and inches'],
  ['6/8', 'imperial', 'doorHeight', 80 * inch, 'read as feet and inches'],
  ['3/8', 'imperial', 'thickness', (3 * inch) / 8],
  ['2-10 1/2', 'imperial', 'doorWidth', 34.5 * inch],
  ['2-10-1/2', 'imperial', 'doorWidth', 34.5 * inch],
  ['2-10.5', 'imperial', 'doorWidth', 34.5 * inch],
  ['36"', 'imperial', 'doorWidth', 36 * inch],
  ['36 in', 'metric', 'doorWidth', 36 * inch],
  ['36 inches', 'metric', 'doorWidth', 36 * inch],
  ['36', 'imperial', 'doorWidth', 36 * inch, 'read as inches'],
  ['36.5', 'imperial', 'doorWidth', 36.5 * inch, 'read as inches'],
  ['35 3/4', 'imperial', 'doorWidth', 35.75 * inch],
  ['3', 'imperial', 'doorWidth', 3 * foot, 'read as feet'],
  ['7', 'imperial', 'doorHeight', 7 * foot, 'read as feet'],
  ['84', 'imperial', 'doorHeight', 84 * inch, 'read as inches'],
  ['914', 'imperial', 'doorWidth', 914 * mm, 'read as millimetres'],
  ['914', 'metric', 'doorWidth', 914 * mm, 'read as millimetres'],
  ['914.4', 'metric', 'doorWidth', 914_400],
  ['914 mm', 'imperial', 'doorWidth', 914 * mm],
  ['2,134', 'metric', 'doorHeight', 2134 * mm],
  ['0.914 m', 'imperial', 'doorWidth', 914 * mm],
  ['0,914 m', 'metric', 'doorWidth', 914 * mm],
  ['0.914', 'metric', 'doorWidth', 914 * mm, 'read as metres'],
  ['91.4cm', 'imperial', 'doorWidth', 914 * mm],
  ['91,4 cm', 'metric', 'doorWidth', 914 * mm],
  ['94', 'metric', 'doorWidth', 940 * mm, 'read as centimetres'],
  ['36', 'metric', 'doorWidth', 36 * inch, 'read as inches'],
  ['1-3/4', 'imperial', 'thickness', 1.75 * inch],
  ['1 3/4"', 'imperial', 'thickness', 1.75 * inch],
  ['1¾"', 'metric', 'thickness', 1.75 * inch],
  ['1.75', 'imperial', 'thickness', 1.75 * inch],
  ['45', 'metric', 'thickness', 45 * mm],
  ['45', 'imperial', 'thickness', 45 * mm, 'read as millimetres'],
  ['36', 'imperial', undefined, 36 * inch],
  ['36', 'metric', undefined, 36 * mm],
  ['3/4', 'imperial', undefined, 0.75 * inch],
  // 1/16 in. is 1587.5 micrometres, which no whole number holds: the nearest is kept.
  ['1/16', 'imperial', 'thickness', 1588],
  ['3-x', 'imperial', 'doorWidth', null],
  ['3-14', 'imperial', 'doorWidth', null],
  ['1 5/7"', 'imperial', 'doorWidth', null],
  ['-36', 'imperial', 'doorWidth', null],
  ['0', 'imperial', 'doorWidth', null],
  ['300', 'imperial', 'doorWidth', null],
  ['wide', 'metric', 'doorWidth', null],
  ['3 0', 'imperial', 'doorWidth', null],
]

describe('reading lengths', () => {
  test.each(readings)('%s (%s, %s)', (text, units, as, micrometres, how) => {
    const reading = readLength(text, { units, ...(as === undefined ? {} : { as }) })
    expect(reading.known ? reading.value : null).toBe(micrometres)
    if (how !== undefined) expect(reading).toMatchObject({ how })
  })

  test('a number that could mean two things asks', () => {
    expect(readLength('94', { units: 'metric', as: 'doorWidth' })).toMatchObject({
      question: '94 was read as centimetres (940 mm); is that what was meant?',
    })
    expect(readLength('914', { units: 'metric', as: 'doorWidth' })).not.toHaveProperty('question')
  })

  test.each(['', '  ', 'TBC', 'n/a', '-', '?'])('"%s" says nothing, which is no fault', (text) => {
    expect(readLength(text, { units: 'metric', as: 'doorWidth' })).toMatchObject({
      known: false,
      blank: true,
    })
  })

  test('what cannot be read names what was expected', () => {
    expect(readLength('3-x', { units: 'imperial', as: 'doorWidth' })).toEqual({
      known: false,
      blank: false,
      isNot: 'a width',
      expected: 'feet-inches such as 3-0, inches such as 36, or millimetres such as 914',
    })
  })
})

describe('writing lengths', () => {
  test.each([
    [3 * foot, 'imperial', {}, '3-0'],
    [34.5 * inch, 'imperial', {}, '2-10 1/2'],
    [3 * foot, 'imperial', { style: 'feetInches' }, '3\'-0"'],
    [34.5 * inch, 'imperial', { style: 'feetInches' }, '2\'-10 1/2"'],
    [3 * foot, 'imperial', { style: 'inches' }, '36"'],
    [1.75 * inch, 'imperial', { style: 'inches' }, '1 3/4"'],
    [1588, 'imperial', {}, '1/16"'],
    [914 * mm, 'imperial', {}, '914 mm'],
    [914 * mm, 'imperial', { nearest: true }, '3-0'],
    [3 * foot, 'metric', {}, '914.4'],
    [3 * foot, 'metric', { nearest: true }, '914'],
    [914 * mm, 'metric', { as: 'doorWidth' }, '914'],
    [94 * mm, 'metric', { as: 'doorWidth' }, '94 mm'],
  ] as const)('%i in %s %j is %s', (micrometres, units, form, text) => {
    expect(writeLength(micrometres, units, form)).toBe(text)
  })

  const fields = fc.constantFrom<LengthField | undefined>('doorWidth', 'doorHeight', 'thickness', undefined)
  const unitsOf = fc.constantFrom<Units>('imperial', 'metric')
  const styles = fc.constantFrom('trade', 'feetInches', 'inches') as fc.Arbitrary<'trade'>
  const lengths = fc.oneof(
    fc.integer({ min: 1, max: 7_000_000 }),
    fc.integer({ min: 1, max: 20_000 }).map((steps) => Math.round((steps * inch) / 64)),
    fc.integer({ min: 1, max: 7_000 }).map((whole) => whole * mm),
  )
  test('what is written reads back as the same length', () => {
    fc.assert(
      fc.property(lengths, unitsOf, styles, fields, (micrometres, units, style, as) => {
        const field = as === undefined ? {} : { as }
        const text = writeLength(micrometres, units, { style, ...field })
        expect(readLength(text, { units, ...field })).toMatchObject({ known: true, value: micrometres })
      }),
      { numRuns: 2000 },
    )
  })
})
