import { describe, expect, test } from 'vitest'
import {
  isSameValue,
  readBank,
  readSettingValue,
  type BankOfPart,
  type SettingOfPart,
} from '../../../core/settings/index.ts'

const setting = (
  form: SettingOfPart['form'],
  unit: string | null,
  ...names: readonly string[]
): SettingOfPart => ({
  id: 's',
  name: 'Hold time',
  form,
  unit,
  notes: null,
  factory: null,
  positions: names.map((name, at) => ({ id: `p${at}`, name, meaning: null, factory: false })),
})

const dial = setting('dial', 's', '0.5 s', '2 s', '5 s', '30 s')
const time = setting('parameter', 's', '5 s', '8 s')
const jumper = setting('jumper', null, 'red when locked', 'off')
const tries = setting('switch', null, '3', 'no limit')
const words = setting('parameter', null)
const bare = setting('dial', 's')

describe('a value is a position by name, or a number with the unit', () => {
  test.each<[SettingOfPart, string, string]>([
    [dial, '2 s', '2 s'],
    [dial, ' 2  S ', '2 s'],
    [dial, '2', '2 s'],
    [dial, '2.0s', '2 s'],
    [dial, '0,5', '0.5 s'],
    [dial, '7 s', '7 s'],
    [dial, '30', '30 s'],
    [time, '45', '45 s'],
    [jumper, 'OFF', 'off'],
    [tries, '3', '3'],
    [words, ' 26 bit ', '26 bit'],
    [bare, '9 s', '9 s'],
  ])('%o “%s” is kept as “%s”', (of, text, kept) => {
    const found = readSettingValue(of, text)
    expect(found.ok ? found.value : found.sentence).toBe(kept)
  })

  test.each<[SettingOfPart, string, string]>([
    [
      dial,
      '31 s',
      '“31 s” is not a value of Hold time; expected 0.5 s, 2 s, 5 s or 30 s, or a number of s between them.',
    ],
    [
      dial,
      '0',
      '“0” is not a value of Hold time; expected 0.5 s, 2 s, 5 s or 30 s, or a number of s between them.',
    ],
    [
      dial,
      '-2 s',
      '“-2 s” is not a value of Hold time; expected 0.5 s, 2 s, 5 s or 30 s, or a number of s between them.',
    ],
    [time, '1 min', '“1 min” is not a value of Hold time; expected 5 s or 8 s, or a number of s.'],
    [jumper, 'green', '“green” is not a value of Hold time; expected red when locked or off.'],
    [jumper, '', 'No value of Hold time was given; expected red when locked or off.'],
    [tries, '4', '“4” is not a value of Hold time; expected 3 or no limit.'],
    [words, ' ', 'No value of Hold time was given; expected a few words.'],
    [bare, 'long', '“long” is not a value of Hold time; expected a number of s.'],
    [
      setting('jumper', null),
      'on',
      '“on” is not a value of Hold time; expected positions, which the part does not have yet.',
    ],
  ])('%o refuses “%s”', (of, text, sentence) => {
    expect(readSettingValue(of, text)).toEqual({ ok: false, sentence })
  })

  test.each<[string, string, boolean]>([
    ['5 s', '5s', true],
    ['5 s', '5.0', true],
    ['7', '7 s', true],
    ['5 s', '2 s', false],
    ['lost', 'Lost', true],
    ['lost', '5 s', false],
  ])('“%s” and “%s” are the same: %s', (one, other, same) => {
    expect(isSameValue(dial, one, other)).toBe(same)
    expect(isSameValue(dial, other, one)).toBe(same)
  })
})

describe('a bank', () => {
  const bank = (
    rows: readonly [Record<string, string>, string][],
    more: Partial<BankOfPart> = {},
  ): BankOfPart => ({
    id: 'b',
    name: 'Release delay',
    settings: ['Switch 1', 'Switch 2'],
    strangers: [],
    rows: rows.map(([when, meaning], at) => ({ id: `r${at}`, when, meaning })),
    ...more,
  })
  const delays = bank([
    [{ 'Switch 1': 'off', 'Switch 2': 'off' }, '15 s'],
    [{ 'Switch 1': 'on', 'Switch 2': 'off' }, '30 s'],
    [{ 'Switch 1': 'off', 'Switch 2': 'on' }, 'at once'],
  ])
  const known = (one: string | null, two: string | null) => (name: string) =>
    name === 'Switch 1' ? one : two

  test.each<[string | null, string | null, object]>([
    ['off', 'off', { state: 'chosen', meaning: '15 s', rowId: 'r0' }],
    ['on', 'off', { state: 'chosen', meaning: '30 s', rowId: 'r1' }],
    [
      'on',
      'on',
      {
        state: 'no such combination',
        words: 'The table of Release delay has no row for Switch 1 on and Switch 2 on.',
      },
    ],
    ['off', null, { state: 'not known', missing: ['Switch 2'], possible: ['15 s', 'at once'] }],
    ['on', null, { state: 'not known', missing: ['Switch 2'], possible: ['30 s'] }],
    [
      null,
      null,
      { state: 'not known', missing: ['Switch 1', 'Switch 2'], possible: ['15 s', '30 s', 'at once'] },
    ],
  ])('%s and %s', (one, two, expected) => {
    expect(readBank(delays, known(one, two))).toEqual(expected)
  })

  test('rows that contradict each other', () => {
    const twice = bank([
      [{ 'Switch 1': 'on' }, '15 s'],
      [{ 'Switch 2': 'on' }, '30 s'],
    ])
    expect(readBank(twice, known('on', 'on'))).toEqual({
      state: 'two meanings',
      words: 'The table of Release delay says both 15 s and 30 s for Switch 1 on and Switch 2 on.',
    })
    expect(readBank(twice, known('on', null)).state).toBe('not known')
  })

  test('a switch that a row leaves out does not matter to it', () => {
    const short = bank([
      [{ 'Switch 1': 'on' }, 'off for good'],
      [{ 'Switch 1': 'off', 'Switch 2': 'on' }, '15 s'],
    ])
    expect(readBank(short, known('on', null))).toMatchObject({ state: 'chosen', meaning: 'off for good' })
  })

  test('a row that names a switch the part does not have is never chosen', () => {
    const strange = bank([[{ 'Switch 9': 'on' }, '15 s']], { settings: [], strangers: ['Switch 9'] })
    expect(readBank(strange, () => 'on')).toEqual({
      state: 'not known',
      missing: ['Switch 9'],
      possible: ['15 s'],
    })
  })
})
