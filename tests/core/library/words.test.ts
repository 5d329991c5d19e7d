import { describe, expect, test } from 'vitest'
import { editsBetween, indexWords, isNear, readingsOf } from '../../../core/library/index.ts'

// Common practice, no source: how people say marks, levels and places on a telephone.
const said: readonly [asked: string, words: readonly string[], why: string][] = [
  ['2611-04', ['261104'], 'dashes'],
  ['ST 04 b', ['st', '04', 'b'], 'blanks and case'],
  ['Café', ['cafe'], 'accents'],
  ['two oh four', ['204'], 'digits one by one'],
  ['twenty six eleven oh four', ['261104'], 'a serial in pairs'],
  ['one oh four a', ['104a'], 'a letter at the end'],
  ['level three ten', ['level', '310'], 'a level and a number may be one mark'],
  ['thirty one', ['31'], 'tens'],
  ['store room three', ['store', 'room', 'three'], 'one number alone stays a word'],
  ["won't lock", ['wont', 'lock'], 'an apostrophe'],
]

describe('what was asked', () => {
  test.each(said)('%s: %j, %s', (asked, words) => {
    expect(readingsOf(asked).map((reading) => reading.words.map((word) => word.said))).toContainEqual(words)
  })

  test.each([
    ['three', '3'],
    ['third', '3'],
    ['3rd', '3'],
    ['twentieth', '20'],
    ['twenty', '20'],
    ['stair', null],
  ])('%s is the figure %s', (asked, figure) => {
    expect(readingsOf(asked)[0]?.words[0]?.figure).toBe(figure)
  })

  test('words for what is wrong are not asked for, unless nothing else is', () => {
    const [reading] = readingsOf('the store room door on three will not lock again')
    expect(reading?.words.filter((word) => !word.filler).map((word) => word.said)).toEqual([
      'store',
      'room',
      'three',
    ])
    expect(readingsOf('will not lock')[0]?.words.some((word) => word.filler)).toBe(false)
  })

  test('nothing, signs, and far too much', () => {
    for (const asked of ['', '  ', '- / .', '\0', '"*()']) expect(readingsOf(asked)).toEqual([])
    expect(readingsOf('x '.repeat(4000))[0]?.words).toHaveLength(12)
  })
})

test.each([
  ['ST-2611-04', ['st', '2611', '04', 'st2611', '261104', 'st261104']],
  ['PS1', ['ps1', 'ps', '1']],
  ['Store Room', ['store', 'room', 'storeroom']],
])('%s is kept as %j', (text, words) => {
  expect(new Set(indexWords(text, true))).toEqual(new Set(words))
})

// Worked by hand: letters left out, put in, exchanged, swapped.
const apart: readonly [string, string, number][] = [
  ['magnet', 'magnet', 0],
  ['magent', 'magnet', 1],
  ['labratory', 'laboratory', 1],
  ['stiar', 'stair', 1],
  ['store', 'stair', 3],
  ['', 'ab', 2],
]

describe('how far words are apart', () => {
  test.each(apart)('%s and %s: %d', (one, other, edits) => {
    expect(editsBetween(one, other, 4)).toBe(edits)
    expect(editsBetween(other, one, 4)).toBe(edits)
  })

  test.each([
    ['magent', 'magnet', true],
    ['rom', 'room', true],
    ['rom', 'rob', false],
    ['ward', 'card', true],
    ['stair', 'store', false],
    ['ab', 'abc', false],
  ])('%s may be meant to be %s: %s', (asked, word, near) => {
    expect(isNear(asked, word)).toBe(near)
  })
})
