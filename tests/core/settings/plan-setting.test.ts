import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { invert, stages, type JobData } from '../../../core/job/index.ts'
import {
  planSetting,
  settingsOf,
  type SetSettings,
  type SettingTarget,
} from '../../../core/settings/index.ts'
import { partSettingId, typicalFittingId } from '../../../fixtures/parts-library/index.ts'
import { brokenReferences, counter, everything } from '../support/small-job.ts'
import { demoData } from './demo-settings.ts'

const holdTime = partSettingId('exit-sensor', 'Hold time')
const sensorOf = (mark: string): SettingTarget => ({
  openingId: `opening-${mark}`,
  fittingId: `fitting-${mark}-s1`,
})
const slot: SettingTarget = { typicalFittingId: typicalFittingId('magnet-sensor', 'S1') }
const asked = (more: Partial<SetSettings>): SetSettings => ({
  stage: 'set',
  values: [{ settingId: holdTime, value: '5 s' }],
  targets: [sensorOf('118')],
  who: 'Bench 2',
  at: '2026-12-01T09:00:00Z',
  visitId: null,
  ...more,
})
const carryOut = (data: JobData, more: Partial<SetSettings>): string => {
  const made = planSetting(data, asked(more), counter())
  if (!made.ok) throw new Error(made.problems.map(({ sentence }) => sentence).join(' '))
  data.apply(made.change.edits)
  return made.change.name
}
const hold = (data: JobData, mark: string) =>
  settingsOf(data, { openingId: `opening-${mark}` })
    .find(({ tag }) => tag === 'S1')
    ?.settings.find(({ setting }) => setting.id === holdTime)
const seen = (data: JobData, mark = '118'): string =>
  stages
    .map((stage) => {
      const value = hold(data, mark)?.[stage]
      return value?.known === true ? value.value : '-'
    })
    .join(' | ')
/** Another opening with the same sensor. */
const other = '122'

describe('what is asked, under which name, and what it does', () => {
  test.each<[string, Partial<SetSettings>, string, string]>([
    [
      'designed here',
      { stage: 'designed', who: null, at: null },
      'Design Hold time of S1 on 118: 5 s',
      '5 s | 2 s | 5 s',
    ],
    [
      'set',
      { values: [{ settingId: holdTime, value: '10' }] },
      'Note as set Hold time of S1 on 118: 10 s',
      '2 s | 10 s | 5 s',
    ],
    [
      'found on its visit',
      { stage: 'found', visitId: 'visit-118-sensor', values: [{ settingId: holdTime, value: ' 30 S' }] },
      'Note as found Hold time of S1 on 118: 30 s',
      '2 s | 2 s | 30 s',
    ],
    [
      'designed for the typical',
      { stage: 'designed', targets: [slot] },
      'Design Hold time of S1 of Magnet + sensor: 5 s',
      '5 s | 2 s | 5 s',
    ],
    [
      'two fittings',
      { targets: [sensorOf('118'), sensorOf(other), sensorOf('118')] },
      'Note as set Hold time of 2 fittings: 5 s',
      '2 s | 5 s | 5 s',
    ],
    [
      'two settings at once',
      {
        values: [
          { settingId: holdTime, value: '5' },
          { settingId: partSettingId('exit-sensor', 'Sounder'), value: 'ON' },
        ],
      },
      'Note as set 2 settings of S1 on 118',
      '2 s | 5 s | 5 s',
    ],
    [
      'taken back',
      { stage: 'found', values: [{ settingId: holdTime, value: null }] },
      'Take back Hold time of S1 on 118 as found',
      '2 s | 2 s | -',
    ],
  ])('%s', (_what, more, name, says) => {
    const data = demoData()
    const before = everything(data)
    const made = planSetting(data, asked(more), counter())
    if (!made.ok) throw new Error(made.problems.map(({ sentence }) => sentence).join(' '))
    expect(everything(data)).toEqual(before)
    data.apply(made.change.edits)
    expect(made.change.name).toBe(name)
    expect(seen(data)).toBe(says)
    expect(brokenReferences(data)).toEqual([])
    data.apply(invert(made.change.edits))
    expect(everything(data)).toEqual(before)
  })

  test('who and when are kept, and a bench note is history, not a correction', () => {
    const data = demoData()
    carryOut(data, { values: [{ settingId: holdTime, value: '10 s' }] })
    expect(hold(data, '118')?.set).toMatchObject({ who: 'Bench 2', at: '2026-12-01T09:00:00Z' })
    expect(hold(data, '118')?.history.map(({ stage, value }) => `${stage} ${value}`)).toEqual([
      'set 2 s',
      'found 5 s',
      'set 10 s',
    ])
  })

  test('a note of the same moment is corrected, and the same note twice is nothing', () => {
    const data = demoData()
    const count = data.count('settingValue')
    carryOut(data, { values: [{ settingId: holdTime, value: '10 s' }] })
    carryOut(data, { values: [{ settingId: holdTime, value: '30 s' }] })
    expect(data.count('settingValue')).toBe(count + 1)
    const again = planSetting(data, asked({ values: [{ settingId: holdTime, value: '30' }] }), counter())
    expect(again.ok && again.change.edits).toEqual([])
  })

  test('a design taken back is the typical’s again', () => {
    const data = demoData()
    carryOut(data, { stage: 'designed' })
    carryOut(data, { stage: 'designed', values: [{ settingId: holdTime, value: null }] })
    expect(hold(data, '118')?.designed).toMatchObject({ value: '2 s', from: 'typical' })
  })

  test('a fitting that only follows its typical is given a record, in the same change', () => {
    const data = demoData()
    for (const kind of ['settingValue', 'point', 'run', 'proof', 'finding'] as const)
      for (const record of data.all(kind))
        if (JSON.stringify(record).includes('fitting-331-s1')) data.apply([{ does: 'remove', kind, record }])
    data.apply([{ does: 'remove', kind: 'fitting', record: { id: 'fitting-331-s1' } }])
    const before = everything(data)
    const made = planSetting(
      data,
      asked({
        targets: [
          { openingId: 'opening-331', followsTypicalFittingId: typicalFittingId('magnet-sensor', 'S1') },
        ],
      }),
      counter(),
    )
    if (!made.ok) throw new Error('refused')
    data.apply(made.change.edits)
    expect(seen(data, '331')).toBe('2 s | 5 s | -')
    expect(brokenReferences(data)).toEqual([])
    data.apply(invert(made.change.edits))
    expect(everything(data)).toEqual(before)
  })
})

describe('what is refused, in one sentence', () => {
  test.each<[Partial<SetSettings>, string, string]>([
    [
      { targets: [] },
      'nothing asked',
      'No setting was named; expected at least one fitting and one setting.',
    ],
    [{ values: [] }, 'nothing asked', 'No setting was named; expected at least one fitting and one setting.'],
    [{ values: [{ settingId: 'gone', value: '1' }] }, 'gone', 'That setting is no longer there.'],
    [
      { targets: [{ openingId: 'opening-118', fittingId: 'gone' }] },
      'gone',
      'That fitting is no longer there.',
    ],
    [
      { targets: [{ openingId: 'gone', fittingId: 'fitting-118-s1' }] },
      'gone',
      'That opening is no longer there.',
    ],
    [
      { targets: [{ openingId: 'opening-122', fittingId: 'fitting-118-s1' }] },
      'gone',
      'That fitting is no longer there.',
    ],
    [{ targets: [{ typicalFittingId: 'gone' }] }, 'gone', 'That fitting is no longer there.'],
    [
      {
        targets: [
          { openingId: 'opening-118', followsTypicalFittingId: typicalFittingId('strike-secure', 'K1') },
        ],
      },
      'gone',
      'That fitting is no longer there.',
    ],
    [
      { values: [{ settingId: holdTime, value: '1 h' }] },
      'not a value',
      '“1 h” is not a value of Hold time; expected 0.5 s, 2 s, 5 s, 10 s or 30 s, or a number of s between them.',
    ],
    [
      { targets: [slot] },
      'only designed',
      'S1 of Magnet + sensor is a typical’s; only an opening’s fitting can be set.',
    ],
    [
      { targets: [{ openingId: 'opening-118', fittingId: 'fitting-118-m1' }] },
      'not of this part',
      'The part of M1 on 118 does not have this Hold time.',
    ],
    [
      { targets: [{ openingId: 'opening-210', fittingId: 'fitting-210-b1' }] },
      'left out',
      'B1 on 210 is left out there.',
    ],
    [{ at: 'yesterday' }, 'time', '“yesterday” is not a time; expected one such as 2026-01-20T15:00:00Z.'],
    [{ visitId: 'gone' }, 'visit', 'That visit is no longer there.'],
    [{ visitId: 'visit-203-delay' }, 'visit', 'S1 on 118 is not on the opening of that visit.'],
    [
      { stage: 'designed', visitId: 'visit-118-sensor' },
      'visit',
      'A visit changes no design; note the value as set or as found.',
    ],
  ])('%o', (more, code, sentence) => {
    const made = planSetting(demoData(), asked(more), counter())
    expect(made.ok ? [] : made.problems.map((each) => [each.code, each.sentence])).toEqual([[code, sentence]])
  })

  test('one wrong fitting refuses all of them', () => {
    const made = planSetting(
      demoData(),
      asked({ targets: [sensorOf('118'), { openingId: 'opening-118', fittingId: 'fitting-118-m1' }] }),
      counter(),
    )
    expect(made.ok).toBe(false)
  })
})

test('any run of plans, taken back in turn, leaves no trace', () => {
  const data = demoData()
  const before = everything(data)
  const sounder = partSettingId('exit-sensor', 'Sounder')
  const values = fc.oneof(
    {
      weight: 3,
      arbitrary: fc.record({
        settingId: fc.constant(holdTime),
        value: fc.constantFrom('2 s', '5', '7 s', null),
      }),
    },
    {
      weight: 3,
      arbitrary: fc.record({ settingId: fc.constant(sounder), value: fc.constantFrom('on', 'off', null) }),
    },
    { weight: 1, arbitrary: fc.constant({ settingId: holdTime, value: 'nonsense' }) },
  )
  const targets = fc.oneof(
    { weight: 5, arbitrary: fc.constantFrom(sensorOf('118'), sensorOf('122'), sensorOf('331')) },
    { weight: 1, arbitrary: fc.constant(slot) },
  )
  const plans = fc.record({
    stage: fc.constantFrom(...stages),
    values: fc.array(values, { minLength: 1, maxLength: 2 }),
    targets: fc.array(targets, { minLength: 1, maxLength: 3 }),
    who: fc.constantFrom(null, 'Bench 2'),
    at: fc.constantFrom(null, '2026-12-01T09:00:00Z', '2025-12-01T09:00:00.5Z'),
    visitId: fc.oneof(
      { weight: 5, arbitrary: fc.constant(null) },
      { weight: 1, arbitrary: fc.constant('visit-118-sensor') },
    ),
  })
  let carried = 0
  fc.assert(
    fc.property(fc.array(plans, { maxLength: 5 }), (list) => {
      const newId = counter()
      const done = list.flatMap((each) => {
        const made = planSetting(data, each, newId)
        if (!made.ok) return []
        carried += made.change.edits.length
        data.apply(made.change.edits)
        return [made.change.edits]
      })
      expect(brokenReferences(data)).toEqual([])
      for (const edits of done.toReversed()) data.apply(invert(edits))
    }),
    { numRuns: 100 },
  )
  expect(carried).toBeGreaterThan(60)
  expect(everything(data)).toEqual(before)
})
