import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { doubtsAboutSize, readSize, writeSize, type Units } from '../../../../core/job/quantities/index.ts'

const foot = 304_800
const inch = 25_400
const mm = 1_000
const thick = 1.75 * inch

// Width first, 3070 = 3'-0" x 7'-0": standards.md 11 [S138]. Pairs: common practice, no source.
const readings: readonly [string, Units, 1 | 2, number, number, number | null][] = [
  ['3070', 'imperial', 1, 3 * foot, 7 * foot, null],
  ['3070', 'metric', 1, 3 * foot, 7 * foot, null],
  ['2868', 'imperial', 1, 32 * inch, 80 * inch, null],
  ['21068', 'imperial', 1, 34 * inch, 80 * inch, null],
  ['3070 x 1-3/4', 'imperial', 1, 3 * foot, 7 * foot, thick],
  ['3-0 x 7-0', 'imperial', 1, 3 * foot, 7 * foot, null],
  ['3/0 X 6/8', 'imperial', 1, 3 * foot, 80 * inch, null],
  ['3\'-0" × 7\'-0" x 1 3/4"', 'imperial', 1, 3 * foot, 7 * foot, thick],
  ['3\'-0"W x 7\'-0"H', 'imperial', 1, 3 * foot, 7 * foot, null],
  ['36x84', 'imperial', 1, 36 * inch, 84 * inch, null],
  ['36" by 84"', 'metric', 1, 36 * inch, 84 * inch, null],
  ['PR 3-0 x 7-0', 'imperial', 2, 6 * foot, 7 * foot, null],
  ['PR. 3070', 'imperial', 2, 6 * foot, 7 * foot, null],
  ['PR 6-0 x 8-0', 'imperial', 2, 6 * foot, 8 * foot, null],
  ['Pair of 3-0 x 7-0', 'imperial', 2, 6 * foot, 7 * foot, null],
  ['(2) 3-0 x 7-0', 'imperial', 2, 6 * foot, 7 * foot, null],
  ['2 x 3-0 x 7-0', 'imperial', 2, 6 * foot, 7 * foot, null],
  ['(2) 4-6 x 7-0', 'imperial', 2, 9 * foot, 7 * foot, null],
  ['6070 PR', 'imperial', 2, 6 * foot, 7 * foot, null],
  ['3070 (PAIR)', 'imperial', 2, 6 * foot, 7 * foot, null],
  ['PR 4-0 overall × 7-0', 'imperial', 2, 4 * foot, 7 * foot, null],
  ['914 x 2134', 'metric', 1, 914 * mm, 2134 * mm, null],
  ['914 mm x 2134 mm', 'imperial', 1, 914 * mm, 2134 * mm, null],
  ['900 X 2100 X 45', 'metric', 1, 900 * mm, 2100 * mm, 45 * mm],
  ['pair 915 x 2135', 'metric', 2, 1830 * mm, 2135 * mm, null],
  ['1680 x 2100', 'metric', 2, 1680 * mm, 2100 * mm, null],
  ['3070 x 45', 'metric', 1, 3 * foot, 7 * foot, 45 * mm],
  ['6070', 'imperial', 2, 6 * foot, 7 * foot, null],
]

describe('reading doorway sizes', () => {
  test.each(readings)('%s (%s)', (text, units, leaves, width, height, thickness) => {
    expect(readSize(text, units)).toMatchObject({
      known: true,
      value: {
        leaves,
        widthMicrometres: width,
        heightMicrometres: height,
        thicknessMicrometres: thickness,
      },
    })
  })

  test.each(['3-0', '3-x x 7-0', 'big', '914', '1299', '3-0 x 7-0 x y', '3-0 x 7-0 x 2 x 4', ''])(
    '"%s" is refused',
    (text) => {
      expect(readSize(text, 'imperial')).toMatchObject({ known: false, isNot: 'a size' })
    },
  )

  test.each([
    ['PR 3-0 x 7-0', undefined],
    ['PR 6-0 x 8-0', undefined],
    ['3-0 x 7-0', undefined],
    ['PR 4-0 x 7-0', 'Is 4-0 one leaf of the pair or the whole doorway? It was taken as one leaf.'],
    ['PR 4-6 x 7-0', 'Is 4-6 one leaf of the pair or the whole doorway? It was taken as the whole.'],
    ['6-0 x 7-0', '6-0 is wide for one leaf; it was taken as a pair.'],
    ['4-6 x 7-0', '4-6 is wide for one leaf; it was taken as one leaf.'],
    ['7-0 x 3-0', /swapped/],
    ['36 x 2134', /one unit/],
  ] as const)('%s asks: %s', (text, question) => {
    const reading = readSize(text, 'imperial')
    if (!reading.known) throw new Error(reading.expected)
    if (question === undefined) expect(reading.question).toBeUndefined()
    else expect(reading.question).toMatch(question)
  })
})

describe('writing doorway sizes', () => {
  test.each([
    [{ leaves: 1, widthMicrometres: 3 * foot, heightMicrometres: 7 * foot }, 'imperial', '3-0 × 7-0'],
    [{ leaves: 2, widthMicrometres: 6 * foot, heightMicrometres: 8 * foot }, 'imperial', 'PR 6-0 × 8-0'],
    [
      { leaves: 2, widthMicrometres: 4 * foot, heightMicrometres: 7 * foot },
      'imperial',
      'PR 4-0 overall × 7-0',
    ],
    [{ leaves: 1, widthMicrometres: 6 * foot, heightMicrometres: 7 * foot }, 'imperial', 'SGL 6-0 × 7-0'],
    [{ leaves: 1, widthMicrometres: 914 * mm, heightMicrometres: 2134 * mm }, 'metric', '914 × 2134'],
    [{ leaves: 1, widthMicrometres: null, heightMicrometres: 7 * foot }, 'imperial', '? × 7-0'],
    [
      {
        leaves: 1,
        widthMicrometres: 3 * foot,
        heightMicrometres: 7 * foot,
        thicknessMicrometres: thick,
      },
      'imperial',
      '3-0 × 7-0 × 1 3/4"',
    ],
  ] as const)('%j in %s', (size, units, text) => {
    expect(writeSize(size, units)).toBe(text)
  })

  test('what is written reads back as the same size', () => {
    const length = (least: number, most: number): fc.Arbitrary<number> =>
      fc.oneof(
        fc.integer({ min: least, max: most }),
        fc
          .integer({ min: Math.ceil(least / inch), max: Math.floor(most / inch) })
          .map((whole) => whole * inch),
        fc.integer({ min: Math.ceil(least / mm), max: Math.floor(most / mm) }).map((whole) => whole * mm),
      )
    const sizes = fc.record({
      leaves: fc.constantFrom<1 | 2>(1, 2),
      widthMicrometres: length(50_000, 6_000_000),
      heightMicrometres: length(50_000, 4_000_000),
      thicknessMicrometres: fc.option(length(5_000, 90_000), { nil: null }),
    })
    fc.assert(
      fc.property(sizes, fc.constantFrom<Units>('imperial', 'metric'), (size, units) => {
        expect(readSize(writeSize(size, units), units)).toMatchObject({ known: true, value: size })
      }),
      { numRuns: 1000 },
    )
  })
})

// A doorway of 0.6 to 6 m: common practice, no source. 94 for 940 occurs in real files.
test.each([
  [914, 2134, []],
  [615, 2050, []],
  [94, 2134, ['94 mm is very narrow for a door. Was 940 mm meant?']],
  [9140, 2134, ['9140 mm is very wide for a door. Was 914 mm meant?']],
  [914, 213, ['213 mm is very low for a door. Was 2130 mm meant?']],
  [914, 21340, ['21340 mm is very high for a door. Was 2134 mm meant?']],
  [0.915, 2.135, [/915 mm meant/, /2135 mm meant/]],
  [2134, 914, [/swapped/]],
  [null, null, []],
] as const)('doubts about %s x %s mm', (width, height, sentences) => {
  const micrometres = (value: number | null): number | null =>
    value === null ? null : Math.round(value * mm)
  const doubts = doubtsAboutSize(micrometres(width), micrometres(height)).map((each) => each.sentence)
  expect(doubts).toHaveLength(sentences.length)
  for (const [index, sentence] of sentences.entries()) expect(doubts[index]).toMatch(sentence)
})
