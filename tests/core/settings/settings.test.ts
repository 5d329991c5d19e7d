import { describe, expect, test } from 'vitest'
import {
  settingFindings,
  settingSheet,
  settingsOf,
  type FittingSettings,
  type SettingState,
} from '../../../core/settings/index.ts'
import { partSettingId, typicalFittingId } from '../../../fixtures/parts-library/index.ts'
import { demoData, note, turnedRound } from './demo-settings.ts'

const fittingOf = (all: readonly FittingSettings[], tag: string): FittingSettings => {
  const found = all.find((each) => each.tag === tag)
  if (found === undefined) throw new Error(`no ${tag} in ${all.map((each) => each.tag).join(' ')}`)
  return found
}
const stateOf = (of: FittingSettings, name: string): SettingState => {
  const found = of.settings.find(({ setting }) => setting.name === name)
  if (found === undefined) throw new Error(`no ${name}`)
  return found
}
const at = (mark: string, tag: string, data = demoData()) =>
  fittingOf(settingsOf(data, { openingId: `opening-${mark}` }), tag)

const holdTime = partSettingId('exit-sensor', 'Hold time')
const sensor118 = { fittingId: 'fitting-118-s1' }
const valued = (of: SettingState, stage: 'designed' | 'set' | 'found' | 'standing'): string => {
  const value = of[stage]
  return value.known ? value.value : 'not known'
}

describe('the three stages', () => {
  test('118 S1: designed by the typical, set on the bench, found on a visit', () => {
    const hold = stateOf(at('118', 'S1'), 'Hold time')
    expect(hold.designed).toMatchObject({ known: true, value: '2 s', from: 'typical', isFactory: false })
    expect(hold.set).toMatchObject({ value: '2 s', who: 'Bench 2', at: '2026-01-20T15:00:00Z' })
    expect(hold.found).toMatchObject({ value: '5 s', who: 'Wen Okafor', visitId: 'visit-118-sensor' })
    expect(hold.setting.factory).toBe('0.5 s')
    expect(valued(hold, 'standing')).toBe('5 s')
  })

  test('its difference says what, since when and who can settle it', () => {
    expect(stateOf(at('118', 'S1'), 'Hold time').differences).toEqual([
      {
        between: ['set', 'found'],
        values: ['2 s', '5 s'],
        since: { notBefore: '2026-01-20T15:00:00Z', notAfter: '2026-11-14T13:15:00Z' },
        words:
          'Hold time of S1: set to 2 s on 2026-01-20 by Bench 2, found at 5 s on 2026-11-14 by Wen Okafor.',
        whoCanSettle: 'the owner: keep it as found, or put it back',
      },
    ])
  })

  test('203 X1: its own design, and the bench set it otherwise', () => {
    const sounder = stateOf(at('203', 'X1'), 'Sounder')
    expect(sounder.designed).toMatchObject({ value: 'soft', from: 'own' })
    expect(sounder.differences.map(({ words }) => words)).toEqual([
      'Sounder of X1: designed at soft, set to loud on 2026-01-20 by Bench 2.',
    ])
  })

  test('the factory position is never taken for a design', () => {
    const data = demoData()
    for (const value of data.all('settingValue'))
      data.apply([{ does: 'remove', kind: 'settingValue', record: value }])
    for (const { settings } of settingsOf(data, { openingId: 'opening-118' }))
      for (const each of settings) {
        expect(each.setting.factory).not.toBeNull()
        for (const stage of ['designed', 'set', 'found', 'standing'] as const)
          expect(each[stage].known).toBe(false)
        expect(each.differences).toEqual([])
      }
  })

  test('what was not noted has a question, but nobody need have looked', () => {
    const { set, found } = stateOf(at('331', 'M1'), 'Voltage')
    expect(set).toMatchObject({ question: { words: 'How was Voltage of M1 set?' } })
    expect(found).toMatchObject({ question: null })
  })

  test('a left-out fitting is not there, a part chosen here has its own settings', () => {
    const tags = settingsOf(demoData(), { openingId: 'opening-210' }).map(({ tag }) => tag)
    expect(tags).not.toContain('B1')
    const magnet = at('134', 'M1')
    expect(magnet.partName).toContain('1200')
    expect(stateOf(magnet, 'Lamp').designed).toMatchObject({ value: 'off', from: 'own' })
    // The typical's switches are those of another part.
    expect(stateOf(magnet, 'Switch 1').designed.known).toBe(false)
  })

  test('a fitting of a typical has designs and nothing else', () => {
    const [slot] = settingsOf(demoData(), { typicalFittingId: typicalFittingId('magnet-sensor', 'M1') })
    if (slot === undefined) throw new Error('no slot')
    expect(valued(stateOf(slot, 'Voltage'), 'designed')).toBe('24 V')
    expect(stateOf(slot, 'Voltage').set.known).toBe(false)
    expect(slot.banks[0]?.readings.designed).toMatchObject({ state: 'chosen', meaning: 'relocks after 2 s' })
  })

  test.each([{ openingId: 'nowhere' }, { typicalFittingId: 'nowhere' }])('%o is empty', (owner) => {
    expect(settingsOf(demoData(), owner)).toEqual([])
  })
})

interface Noted {
  readonly stage: 'designed' | 'set' | 'found'
  readonly value: string
  readonly at?: string
  readonly visitId?: string
}
const designed = (value: string): Noted => ({ stage: 'designed', value })
const set = (value: string, day?: string): Noted => ({
  stage: 'set',
  value,
  ...(day === undefined ? {} : { at: `${day}T10:00:00Z` }),
})
const found = (value: string, day?: string): Noted => ({ ...set(value, day), stage: 'found' })

describe('which differences stand', () => {
  test.each<[string, readonly Noted[], readonly string[], readonly (string | null)[]]>([
    ['nothing noted', [], [], []],
    ['all three agree', [designed('2 s'), set('2 s', '2026-01-01'), found('2 s', '2026-02-01')], [], []],
    ['written otherwise, but the same', [designed('2 s'), set('2.0', '2026-01-01')], [], []],
    [
      'set otherwise',
      [designed('2 s'), set('5 s', '2026-01-01')],
      ['designed set 2 s 5 s'],
      [null, '2026-01-01T10:00:00Z'],
    ],
    [
      'set and found otherwise',
      [designed('2 s'), set('5 s', '2026-01-01'), found('10 s', '2026-02-01')],
      ['designed set 2 s 5 s', 'set found 5 s 10 s'],
      ['2026-01-01T10:00:00Z', '2026-02-01T10:00:00Z'],
    ],
    [
      'found twice: since the first',
      [set('2 s', '2026-01-01'), found('5 s', '2026-02-01'), found('5 s', '2026-03-01')],
      ['set found 2 s 5 s'],
      ['2026-01-01T10:00:00Z', '2026-02-01T10:00:00Z'],
    ],
    [
      'found right, then wrong: since after it was right',
      [set('2 s', '2026-01-01'), found('2 s', '2026-02-01'), found('5 s', '2026-03-01')],
      ['set found 2 s 5 s'],
      ['2026-02-01T10:00:00Z', '2026-03-01T10:00:00Z'],
    ],
    [
      'put right since',
      [designed('2 s'), set('2 s', '2026-01-01'), found('5 s', '2026-02-01'), set('2 s', '2026-02-02')],
      [],
      [],
    ],
    [
      'put right at the same visit',
      [designed('2 s'), found('5 s', '2026-02-01'), set('2 s', '2026-02-01')],
      [],
      [],
    ],
    [
      'set wrong, later found as designed',
      [designed('2 s'), set('5 s', '2026-01-01'), found('2 s', '2026-02-01')],
      ['set found 5 s 2 s'],
      ['2026-01-01T10:00:00Z', '2026-02-01T10:00:00Z'],
    ],
    [
      'found, never set',
      [designed('2 s'), found('5 s', '2026-02-01')],
      ['designed found 2 s 5 s'],
      [null, '2026-02-01T10:00:00Z'],
    ],
    [
      'without times nobody can say that it was put right',
      [designed('2 s'), set('2 s'), found('5 s')],
      ['set found 2 s 5 s'],
      [null, null],
    ],
  ])('%s', (_what, notes, expected, since) => {
    const data = demoData()
    for (const value of data.all('settingValue'))
      if (value.partSettingId === holdTime)
        data.apply([{ does: 'remove', kind: 'settingValue', record: value }])
    for (const { stage, value, ...more } of notes) note(data, sensor118, holdTime, stage, value, more)
    const { differences } = stateOf(at('118', 'S1', data), 'Hold time')
    expect(differences.map(({ between, values }) => [...between, ...values].join(' '))).toEqual(expected)
    const last = differences.at(-1)?.since
    expect(last === undefined ? [] : [last.notBefore, last.notAfter]).toEqual(since)
  })
})

describe('banks', () => {
  test('203 X1: both switches off let go after 15 s, at every stage where both are noted', () => {
    const [bank] = at('203', 'X1').banks
    expect(bank?.readings.designed).toMatchObject({ state: 'chosen', meaning: 'lets go after 15 s' })
    expect(bank?.readings.set).toMatchObject({ state: 'chosen', meaning: 'lets go after 15 s' })
    // The visit noted no switch: it borrows none from the bench.
    expect(bank?.readings.found).toMatchObject({ state: 'not known', missing: ['Switch 1', 'Switch 2'] })
    expect(bank?.differs).toBeNull()
  })

  test('one switch found otherwise changes what the bank comes to', () => {
    const data = demoData()
    const first = partSettingId('exit-device-delayed', 'Switch 1')
    note(data, { fittingId: 'fitting-203-x1' }, first, 'found', 'on', { at: '2026-10-02T10:20:00Z' })
    expect(at('203', 'X1', data).banks[0]?.differs).toBe(
      'Release delay: designed lets go after 15 s, stands at lets go after 30 s, only where approved.',
    )
    const finding = settingFindings(data).find(({ settingId }) => settingId === first)
    expect(finding?.consequences).toEqual([at('203', 'X1', data).banks[0]?.differs])
  })
})

describe('the sheet for the bench', () => {
  const sheet = settingSheet(demoData(), 'opening-118')
  if (sheet === null) throw new Error('no sheet')

  test('every setting with every position, the one to choose and the factory mark', () => {
    const sensor = sheet.fittings.find(({ tag }) => tag === 'S1')
    expect(
      sensor?.lines.map(
        ({ setting, positions }) =>
          `${setting}: ${positions.map(({ name, choose, factory }) => `${choose ? '>' : ''}${name}${factory ? '*' : ''}`).join(', ')}`,
      ),
    ).toEqual([
      'Hold time: 0.5 s*, >2 s, 5 s, 10 s, 30 s',
      'Contact: >opens on motion*, closes on motion',
      'Power lost: >opens the feed*, keeps the feed',
      'Sounder: >off*, on',
    ])
    expect(sensor?.lines[0]).toMatchObject({
      asSet: '2 s on 2026-01-20 by Bench 2',
      asFound: '5 s on 2026-11-14 by Wen Okafor',
    })
  })

  test('the table of a bank shows the row that is wanted', () => {
    const [bank] = sheet.fittings.find(({ tag }) => tag === 'M1')?.banks ?? []
    expect(bank?.comesTo).toBe('relocks after 2 s')
    expect(bank?.rows.map(({ when, choose }) => `${choose ? '>' : ''}${when}`)).toEqual([
      'Switch 1 off, Switch 2 off',
      '>Switch 1 on, Switch 2 off',
      'Switch 1 off, Switch 2 on',
      'Switch 1 on, Switch 2 on',
    ])
  })

  test('what is not designed has nothing to choose and a question', () => {
    const { fittings, questions } = settingSheet(demoData(), 'opening-134') ?? { fittings: [], questions: [] }
    const line = fittings.find(({ tag }) => tag === 'M1')?.lines.find(({ setting }) => setting === 'Switch 1')
    expect(line?.choose).toBeNull()
    expect(line?.positions.some(({ choose }) => choose)).toBe(false)
    expect(questions.map(({ words }) => words)).toContain('Where should Switch 1 of M1 be set?')
  })

  test.each([
    ['7 s', '7 s', 'Set to 7 s, which has no mark.'],
    [
      'soon',
      null,
      '“soon” is not a value of Hold time; expected 0.5 s, 2 s, 5 s, 10 s or 30 s, or a number of s between them.',
    ],
  ])('a design of “%s” marks no position', (value, choose, remark) => {
    const data = demoData()
    note(data, sensor118, holdTime, 'designed', value)
    const line = settingSheet(data, 'opening-118')?.fittings.find(({ tag }) => tag === 'S1')?.lines[0]
    expect(line).toMatchObject({ choose, remark })
    expect(line?.positions.some((each) => each.choose)).toBe(false)
  })

  test('nothing is left of an opening that is gone', () => {
    expect(settingSheet(demoData(), 'nowhere')).toBeNull()
  })
})

describe('findings over the whole job', () => {
  const said = (data = demoData()): string[] =>
    settingFindings(data).map(({ form, mark, words }) => `${mark ?? 'typical'} ${form}: ${words}`)

  test('the demo job', () => {
    expect(said()).toEqual([
      '118 differs: Hold time of S1: set to 2 s on 2026-01-20 by Bench 2, found at 5 s on 2026-11-14 by Wen Okafor.',
      '203 differs: Sounder of X1: designed at soft, set to loud on 2026-01-20 by Bench 2.',
    ])
  })

  test('a value that is none is said once, where it stands', () => {
    const data = demoData()
    note(
      data,
      { typicalFittingId: typicalFittingId('strike-secure', 'K1') },
      partSettingId('strike-fail-secure', 'Lip'),
      'designed',
      'long',
      { at: '2026-06-01T10:00:00Z' },
    )
    const added = said(data).filter((each) => each.includes('“long”'))
    expect(added).toEqual([
      'typical no such value: Lip of K1: “long” is not a value of Lip; expected standard or extended.',
    ])
  })

  test('a left-out fitting has none, whatever was noted of it before', () => {
    const data = demoData()
    const time = partSettingId('manual-release', 'Release time')
    note(data, { fittingId: 'fitting-210-b1' }, time, 'designed', '30 s')
    note(data, { fittingId: 'fitting-210-b1' }, time, 'set', '60 s', { at: '2026-01-20T15:00:00Z' })
    expect(said(data)).toEqual(said())
  })

  test('values of a part that was exchanged', () => {
    const data = demoData()
    note(data, { fittingId: 'fitting-134-m1' }, partSettingId('surface-magnet-600', 'Lamp'), 'set', 'off')
    expect(said(data)).toContainEqual(
      expect.stringMatching(
        /^134 another part: M1: Lamp is noted at off for .*600.*; the part here is .*1200/,
      ),
    )
  })

  test('a combination that the table does not have', () => {
    const data = demoData()
    data.apply([
      {
        does: 'remove',
        kind: 'partSettingTableRow',
        record: { id: 'table-exit-device-delayed-release-delay-1' },
      },
    ])
    const added = said(data).filter((each) => each.includes('has no row'))
    expect(added).toContain(
      'typical no such combination: X1: The table of Release delay has no row for Switch 1 off and Switch 2 off.',
    )
    expect(added.every((each) => each.includes('no such combination'))).toBe(true)
  })

  test('do not depend on the order of the records', () => {
    const data = demoData()
    note(data, sensor118, holdTime, 'found', '10 s', { at: '2026-11-14T13:15:00Z' })
    note(data, sensor118, holdTime, 'found', '30 s')
    const turned = turnedRound(data)
    expect(settingFindings(turned)).toEqual(settingFindings(data))
    for (const mark of ['118', '203', '134', '210'])
      expect(settingsOf(turned, { openingId: `opening-${mark}` })).toEqual(
        settingsOf(data, { openingId: `opening-${mark}` }),
      )
  })
})
