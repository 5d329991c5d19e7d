import { describe, expect, test } from 'vitest'
import type { Fact } from '../../../core/behaviour/index.ts'
import type { JobData } from '../../../core/job/index.ts'
import {
  effectDifferences,
  effectNames,
  effectsOf,
  settingEffects,
  settingsOf,
  type AppliedEffect,
  type DeclaredEffect,
  type EffectStage,
  type FittingSettings,
} from '../../../core/settings/index.ts'
import { partSettingId } from '../../../fixtures/parts-library/index.ts'
import { demoData, note } from './demo-settings.ts'

const fitting = (data: JobData, mark: string, tag: string): FittingSettings => {
  const found = settingsOf(data, { openingId: `opening-${mark}` }).find((each) => each.tag === tag)
  if (found === undefined) throw new Error(`no ${tag}`)
  return found
}
const effects = (data: JobData, mark: string, tag: string, stage: EffectStage): AppliedEffect[] =>
  settingEffects(data, fitting(data, mark, tag), stage)
const said = (list: readonly AppliedEffect[]): string[] =>
  list.map(
    ({ changes, targetName, fact }) =>
      `${targetName} ${changes}: ${fact.known ? `${fact.value} (${fact.origin})` : `? ${fact.question.setting}`}`,
  )
const holdTime = partSettingId('exit-sensor', 'Hold time')
const sensor = { fittingId: 'fitting-118-s1' }

describe('what settings change', () => {
  test.each<[string, string, EffectStage, string[]]>([
    [
      '118',
      'S1',
      'designed',
      [
        'Feed lasts seconds: 2 (Hold time at ‘2 s’)',
        'Signal lasts seconds: 2 (Hold time at ‘2 s’)',
        'Feed turned round: false (Contact at ‘opens on motion’)',
        'Feed without power: open (Power lost at ‘opens the feed’)',
      ],
    ],
    [
      '118',
      'S1',
      'found',
      [
        'Feed lasts seconds: 5 (Hold time at ‘5 s’)',
        'Signal lasts seconds: 5 (Hold time at ‘5 s’)',
        'Feed turned round: ? Contact',
        'Feed without power: ? Power lost',
      ],
    ],
    ['203', 'X1', 'designed', ['pad lock delay seconds: 15 (Release delay at ‘lets go after 15 s’)']],
    ['203', 'X1', 'found', ['pad lock delay seconds: ? Release delay']],
    [
      '203',
      'X1',
      'standing or designed',
      ['pad lock delay seconds: 15 (Release delay at ‘lets go after 15 s’)'],
    ],
    ['118', 'R1', 'designed', []],
  ])('%s %s as %s', (mark, tag, stage, expected) => {
    expect(said(effects(demoData(), mark, tag, stage)).toSorted()).toEqual(expected.toSorted())
  })

  test('a number between the marks of a dial is that many seconds', () => {
    const data = demoData()
    note(data, sensor, holdTime, 'set', '7 s', { at: '2027-01-01T00:00:00Z' })
    expect(said(effects(data, '118', 'S1', 'set'))).toContain('Feed lasts seconds: 7 (Hold time at ‘7 s’)')
  })

  test.each([
    ['a value that is none', 'soon'],
    ['a number past the last mark', '90 s'],
  ])('%s changes nothing that is known', (_what, value) => {
    const data = demoData()
    note(data, sensor, holdTime, 'set', value, { at: '2027-01-01T00:00:00Z' })
    expect(said(effects(data, '118', 'S1', 'set'))).toContain('Feed lasts seconds: ? Hold time')
  })

  test('a bank row that declares nothing is not known, never none', () => {
    const data = demoData()
    const second = partSettingId('exit-device-delayed', 'Switch 2')
    note(data, { fittingId: 'fitting-203-x1' }, second, 'set', 'on', { at: '2027-01-01T00:00:00Z' })
    expect(said(effects(data, '203', 'X1', 'set'))).toEqual(['pad lock delay seconds: ? Release delay'])
  })

  test.each<[string, string, string, string]>([
    ['Contact', 'closes on motion', 'designed', 'Feed is turned round, not as marked (Contact).'],
    ['Power lost', 'keeps the feed', 'designed', 'Feed is without power closed, not open (Power lost).'],
  ])('%s at %s: %s otherwise', (setting, value, _stage, words) => {
    const data = demoData()
    note(data, sensor, partSettingId('exit-sensor', setting), 'found', value, { at: '2027-01-01T00:00:00Z' })
    expect(
      effectDifferences(effects(data, '118', 'S1', 'designed'), effects(data, '118', 'S1', 'found')),
    ).toContain(words)
  })

  test('what differs in effect between two stages, in words', () => {
    const data = demoData()
    expect(
      effectDifferences(
        effects(data, '118', 'S1', 'designed'),
        effects(data, '118', 'S1', 'found'),
      ).toSorted(),
    ).toEqual([
      'Feed stays changed for 5 s, not 2 s (Hold time).',
      'Signal stays changed for 5 s, not 2 s (Hold time).',
    ])
    expect(
      effectDifferences(effects(data, '118', 'S1', 'set'), effects(data, '118', 'S1', 'designed')),
    ).toEqual([])
  })
})

describe('from plain declarations', () => {
  const declared = (changes: string, setting: string, position: string, value: string): DeclaredEffect => ({
    changes,
    targetId: null,
    targetName: null,
    of: { setting, position },
    value,
  })
  const of = fitting(demoData(), '118', 'S1')

  test.each<[string, string, unknown]>([
    ['turned round', 'yes', true],
    ['turned round', 'no', false],
    ['without power', 'open', 'open'],
    ['engaged', 'while fed', 'fed'],
    ['engaged', 'while not fed', 'not fed'],
    ['delay seconds', '15', 15],
    ['lasts seconds', '0', 0],
    ['relock seconds', '2.5', 2.5],
    ['release seconds', '8', 8],
    ['exit switch', 'disabled', 'disabled'],
    ['input acts when', 'never', 'never'],
    ['lamp', 'red when locked', 'red when locked'],
    ['volts', '24', 24],
  ])('%s “%s”', (changes, value, expected) => {
    const [effect] = effectsOf(of, [declared(changes, 'Hold time', '2 s', value)], 'designed')
    expect(effect?.fact).toEqual({ known: true, value: expected, origin: 'Hold time at ‘2 s’' })
  })

  test('every name of the vocabulary refuses what it cannot read, and a strange name is no effect', () => {
    for (const changes of effectNames) {
      const [effect] = effectsOf(of, [declared(changes, 'Hold time', '2 s', '')], 'designed')
      expect([changes, effect?.fact.known]).toEqual([changes, false])
    }
    expect(effectsOf(of, [declared('colour', 'Hold time', '2 s', 'red')], 'designed')).toEqual([])
  })

  test.each(['-1', 'x', 'Infinity', ' '])('“%s” is no number of seconds', (value) => {
    const [effect] = effectsOf(of, [declared('lasts seconds', 'Hold time', '2 s', value)], 'designed')
    expect(effect?.fact.known).toBe(false)
  })

  test('a mark that declares nothing is not known, though its name is a number of seconds', () => {
    const only = [declared('lasts seconds', 'Hold time', '30 s', '30')]
    expect(effectsOf(of, only, 'designed')[0]?.fact).toEqual({
      known: false,
      question: { about: 'setting', thing: 'S1', setting: 'Hold time' },
    })
  })

  test('two settings that decide one thing otherwise leave it not known', () => {
    const both = (value: string) => [
      declared('engaged', 'Contact', 'opens on motion', 'while fed'),
      declared('engaged', 'Power lost', 'opens the feed', value),
    ]
    expect(effectsOf(of, both('while not fed'), 'designed')[0]?.fact.known).toBe(false)
    expect(effectsOf(of, both('while fed'), 'designed')[0]?.fact).toMatchObject({ known: true, value: 'fed' })
    expect(effectsOf(of, both('while fed').toReversed(), 'designed')).toEqual(
      effectsOf(of, both('while fed'), 'designed'),
    )
  })

  test('the behaviour engine takes the facts as they are', () => {
    const list = effects(demoData(), '118', 'S1', 'designed')
    const round = list.find((each) => each.changes === 'turned round')
    const seconds = list.find((each) => each.changes === 'lasts seconds')
    // The compiler checks these two lines.
    const asRound: Fact<boolean> | undefined = round?.changes === 'turned round' ? round.fact : undefined
    const asSeconds: Fact<number> | undefined =
      seconds?.changes === 'lasts seconds' ? seconds.fact : undefined
    expect([asRound?.known, asSeconds?.known]).toEqual([true, true])
  })
})
