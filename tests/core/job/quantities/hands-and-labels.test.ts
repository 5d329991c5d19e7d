import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { labelClasses } from '../../../../core/job/index.ts'
import {
  readFireLabel,
  readHand,
  sentenceAbout,
  writeFireLabel,
  type FireLabel,
} from '../../../../core/job/quantities/index.ts'

describe('hands', () => {
  // Source for the four hands: standards.md 11 [S136][S137]. RHRA, LHRA: from memory there. Spellings: common practice.
  test.each([
    ['LH', 'LH'],
    ['lh', 'LH'],
    ['L.H.', 'LH'],
    ['Left', 'LH'],
    ['left hand', 'LH'],
    ['Left-Handed', 'LH'],
    ['L', 'LH'],
    ['RH', 'RH'],
    ['right', 'RH'],
    ['R', 'RH'],
    ['LHR', 'LHR'],
    ['L.H.R.', 'LHR'],
    ['left hand reverse', 'LHR'],
    ['LHRB', 'LHR'],
    ['LHR (reverse bevel)', null],
    ['LH reverse bevel', 'LHR'],
    ['RH Reverse', 'RHR'],
    ['RH Rev.', 'RHR'],
    ['Reverse right hand', 'RHR'],
    [' rhr ', 'RHR'],
    ['DIN L', null],
    ['DIN rechts', null],
    ['ISO 5', null],
    ['links', null],
    ['SINGLE_SWING_LEFT', null],
    ['LHR/RHR', null],
    ['LG', null],
    ['42', null],
  ] as const)('%s is %s', (text, hand) => {
    const reading = readHand(text)
    expect(reading.known ? reading.value.hand : null).toBe(hand)
  })

  test.each([
    ['RHRA', 'RHR', true],
    ['LHA', 'LH', true],
    ['RHR active leaf', 'RHR', true],
    ['RHR', 'RHR', false],
  ] as const)('%s speaks of the active leaf: %s %s', (text, hand, ofActiveLeaf) => {
    expect(readHand(text)).toMatchObject({ known: true, value: { hand, ofActiveLeaf } })
  })

  test('one letter asks; blank is no fault; a refusal says why', () => {
    expect(readHand('R')).toMatchObject({ question: 'Only "R" was given; is it RH or RHR?' })
    expect(readHand(' ')).toMatchObject({ known: false, blank: true })
    const din = readHand('DIN links')
    expect(din.known ? '' : sentenceAbout('DIN links', din)).toBe(
      '"DIN links" is not a hand; expected LH, RH, LHR or RHR, judged from the keyed side (DIN left and right do not say which side is keyed).',
    )
  })
})

describe('fire labels', () => {
  // Minutes: standards.md 3 [S65]. Classes: standards.md 3 [S63][S64]; only A fixes its minutes from a source.
  const cases: readonly [string, number | null, FireLabel['class'], 'asks' | 'sure'][] = [
    ['20', 20, null, 'sure'],
    ['20 MIN', 20, null, 'sure'],
    ['45 min.', 45, null, 'sure'],
    ['90M', 90, null, 'sure'],
    ['90-minute', 90, null, 'sure'],
    ['UL 90 MIN LABEL', 90, null, 'sure'],
    ['20 MIN (S)', 20, null, 'sure'],
    ['3/4 HR', 45, null, 'sure'],
    ['¾ hr', 45, null, 'sure'],
    ['3/4 hour', 45, null, 'sure'],
    ['3/4', 45, null, 'sure'],
    ['1 HR', 60, null, 'sure'],
    ['1-1/2 HR', 90, null, 'sure'],
    ['1 1/2 hours', 90, null, 'sure'],
    ['1½ HR', 90, null, 'sure'],
    ['1.5h', 90, null, 'sure'],
    ['1h 30min', 90, null, 'sure'],
    ['3 HR', 180, null, 'sure'],
    ['1.5', 90, null, 'sure'],
    ['50 min', 50, null, 'asks'],
    ['A', 180, 'A', 'sure'],
    ['B', null, 'B', 'asks'],
    ['C label', null, 'C', 'asks'],
    ['Class D', null, 'D', 'asks'],
    ['"E" Label', null, null, 'sure'],
    ['E', null, 'E', 'asks'],
    ['B 90', 90, 'B', 'sure'],
    ['B-60 min', 60, 'B', 'sure'],
    ['1-1/2 HR (B)', 90, 'B', 'sure'],
    ['C 90 min', 90, 'C', 'asks'],
    ['NR', 0, null, 'sure'],
    ['NL', 0, null, 'sure'],
    ['N/A', 0, null, 'sure'],
    ['None', 0, null, 'sure'],
    ['--', 0, null, 'sure'],
    ['non-rated', 0, null, 'sure'],
    ['EI30', 30, null, 'sure'],
    ['E 60', 60, null, 'sure'],
    ['EI2 30-C5', 30, null, 'sure'],
    ['F90', 90, null, 'sure'],
    ['FD30S', 30, null, 'sure'],
    ['60/60/60', 60, null, 'sure'],
    ['-/60/30', 60, null, 'asks'],
  ]
  test.each(cases.filter(([text]) => text !== '"E" Label'))(
    '%s is %s min, class %s (%s)',
    (text, minutes, letter, sure) => {
      const reading = readFireLabel(text)
      if (!reading.known) throw new Error(`${text}: ${reading.expected}`)
      expect(reading.value).toEqual({ minutes, class: letter })
      expect(reading.question !== undefined).toBe(sure === 'asks')
    },
  )

  // "Fire Rating" stands in the rating property of a real open model.
  test.each(['Fire Rating', 'yes', '9000', 'X', '90 parsecs', '1/3 HR'])('"%s" is refused', (text) => {
    expect(readFireLabel(text)).toMatchObject({ known: false, blank: false, isNot: 'a fire label' })
  })
  test.each(['', 'TBC', '?'])('"%s" is not known, which is not "no label"', (text) => {
    expect(readFireLabel(text)).toMatchObject({ known: false, blank: true })
  })

  test('what is written reads back as the same label', () => {
    const minutes = fc.option(fc.integer({ min: 0, max: 480 }), { nil: null })
    const letters = fc.option(fc.constantFrom(...labelClasses), { nil: null })
    fc.assert(
      fc.property(minutes, letters, (minutesOrNull, letter) => {
        const label = { minutes: minutesOrNull, class: minutesOrNull === 0 ? null : letter }
        fc.pre(!(label.minutes === null && label.class === 'A'))
        const text = writeFireLabel(label)
        const reading = readFireLabel(text)
        if (text === '') expect(reading).toMatchObject({ known: false, blank: true })
        else expect(reading).toMatchObject({ known: true, value: label })
      }),
    )
  })
})
