// The order of the list is common practice of the trade (looks before readings, what is known to differ first), no
// source; figures are those that core/power and core/settings work out and check against ngspice and by hand.
import { describe, expect, test } from 'vitest'
import {
  symptomCautions,
  symptoms,
  symptomsOf,
  whatToCheck,
  type Check,
  type Symptom,
} from '../../../core/service/index.ts'
import { demoJob, openingOf, scenesOf } from './demo-scene.ts'

const data = demoJob()
const sceneAt = scenesOf(data)
const listOf = (mark: string, symptom: Symptom): readonly Check[] =>
  whatToCheck(sceneAt(openingOf(data, mark)), symptom)

describe('the first thing to check', () => {
  // Each from what stands in the demo job about that opening.
  test.each<[string, Symptom, string, string]>([
    ['118', 'will not lock', 'S1, dial Hold time', 'found at 5 s'],
    ['118', 'relocks late', 'S1, dial Hold time', 'found at 5 s'],
    ['118', 'dead', '107, on PS2 output 1', 'halves'],
    ['210', 'weak hold', 'M1, terminals + and -', 'failed when it was proved: 18.7 V'],
    ['210', 'will not release', 'the door', 'On fire alarm it lets nobody out as it stands'],
    ['324', 'will not lock', 'L1', 'holds by no feed'],
    ['102', 'will not release', 'K1', 'presses on K1'],
    ['118', 'alarm when opened', 'AC3, input 118 exit', 'somebody leaves'],
    ['118', 'forced alarm', 'AC3, input 118 contact', 'whether the leaf is shut'],
  ])('at %s that %s', (mark, symptom, at, because) => {
    const [first] = listOf(mark, symptom)
    expect(first?.at).toBe(at)
    expect(first?.because).toContain(because)
  })

  test('is another one as soon as the setting is put back', () => {
    const changed = demoJob()
    for (const value of changed.all('settingValue'))
      if (value.visitId === 'visit-118-sensor') changed.put('settingValue', { ...value, value: '2 s' })
    const [first] = whatToCheck(scenesOf(changed)(openingOf(changed, '118')), 'will not lock')
    expect(first?.form).not.toBe('setting')
  })
})

describe('what stands between', () => {
  test('is each contact of the chain at its own terminals, with the state it has at rest', () => {
    const contacts = listOf('118', 'will not lock').filter(({ form }) => form === 'contact')
    expect(Object.fromEntries(contacts.map(({ at, expected }) => [at, expected]))).toEqual({
      'S1, terminals C1 and NC1 (Feed)': 'it sees nobody; closed: next to 0 V across it while the feed is on',
      'B1, terminals 1 and 2 (Feed)':
        'not pressed, its time run out; closed: next to 0 V across it while the feed is on',
      'F2, terminals C and NC (Feed)': 'reset; closed: next to 0 V across it while the feed is on',
      'AC3, relay of output 118 lock':
        'not released; relay closed: next to 0 V across it while the feed is on',
    })
  })

  test('must open for what holds while it is fed, and close for what holds while it is not', () => {
    const relay = (mark: string): string | null | undefined =>
      listOf(mark, 'will not release').find(({ at }) => at.includes('relay'))?.expected
    expect(relay('118')).toBe('open: about 24 V across it')
    expect(relay('102')).toBe('closed: next to 0 V across it while the feed is on')
  })

  test('has volts where it holds by them, none where it lets go by them, and the other way round when asked', () => {
    const volts = (mark: string, symptom: Symptom): string | null | undefined =>
      listOf(mark, symptom).find(({ form }) => form === 'volts')?.expected
    expect(volts('118', 'will not lock')).toBe('23.62 V; it works from 19.2 to 28.8 V')
    expect(volts('118', 'will not release')).toBe('0 V while it is asked')
    expect(volts('102', 'will not lock')).toBe('0 V while nobody asks')
    expect(volts('102', 'will not release')).toMatch(/^23\.\d\d V; it works from 18 to 28.8 V$/)
  })
})

describe('what is not there is not listed', () => {
  test('a mechanical lock has no feed, no fuse and no supply to look at, and cannot be dead', () => {
    const scene = sceneAt(openingOf(data, '324'))
    expect(symptomsOf(scene)).not.toContain('dead')
    for (const symptom of symptomsOf(scene))
      for (const { form } of whatToCheck(scene, symptom)) expect(form).toBe('look')
  })

  test('an opening without fittings has no symptom at all', () => {
    expect(symptomsOf(sceneAt(openingOf(data, '138')))).toEqual([])
  })
})

test('a battery past its age brings its output forward, and says how old it is', () => {
  const place = (today: string): number =>
    whatToCheck(scenesOf(data, today)(openingOf(data, '118')), 'dead').findIndex(({ key }) =>
      key.startsWith('output '),
    )
  expect(place('2030-06-01')).toBeLessThan(place('2026-11-25'))
  const list = whatToCheck(scenesOf(data, '2030-06-01')(openingOf(data, '118')), 'dead')
  expect(list.find(({ key }) => key.startsWith('output '))?.because).toContain('51 months old')
})

test('a change after it was proved is a thing to check, one before it is not', () => {
  const change = (at: string) => [{ name: 'Set the part of M1 on 118', who: 'Ada', at }]
  const keys = (at: string): readonly string[] =>
    whatToCheck(scenesOf(data, '2026-11-25', change(at))(openingOf(data, '118')), 'will not lock').map(
      ({ key }) => key,
    )
  expect(keys('2026-06-01T10:00:00Z')).toContain('changed since it was proved')
  expect(keys('2026-02-01T10:00:00Z')).not.toContain('changed since it was proved')
})

describe('every list of the demo job', () => {
  const lists = [...data.all('opening')].flatMap((opening) => {
    const scene = sceneAt(opening)
    return symptomsOf(scene).map((symptom) => ({
      name: `${opening.mark} ${symptom}`,
      symptom,
      scene,
      list: whatToCheck(scene, symptom),
    }))
  })

  test('says what is right or asks what is missing, with a reason and what it means if it is otherwise', () => {
    expect(lists.length).toBeGreaterThan(500)
    for (const { name, list } of lists)
      for (const check of list) {
        if (check.form !== 'finding' && check.form !== 'past')
          expect([name, check.key, check.expected ?? check.question]).not.toContain(null)
        expect(check.because, `${name} ${check.key}`).toMatch(/\.$|\?$/)
        expect(check.otherwise, `${name} ${check.key}`).toMatch(/\.$/)
        expect(check.because + check.look, `${name} ${check.key}`).not.toMatch(/undefined|null|NaN/)
      }
  })

  test('has each thing once', () => {
    for (const { name, list } of lists)
      expect([name, new Set(list.map(({ key }) => key)).size]).toEqual([name, list.length])
  })

  test('names supplies only where a run leads to one', () => {
    expect(lists.some(({ list }) => list.some(({ form }) => form === 'supply'))).toBe(true)
    for (const { name, list, scene } of lists)
      if (list.some(({ form }) => form === 'supply'))
        expect([name, scene.fed.some(({ from }) => from !== null)]).toEqual([name, true])
  })

  test('warns before a way out is touched: contacts that let people out are never bridged', () => {
    for (const { name, list } of lists)
      for (const check of list)
        if (
          check.form === 'contact' &&
          check.key.startsWith('contact') &&
          /alarm|Stand clear/.test(check.look)
        )
          expect([name, check.key, check.caution]).not.toContain(null)
    expect(symptomCautions['will not release']).toContain('may not be able to get out')
    expect(symptoms.every((each) => each in symptomCautions)).toBe(true)
  })
})
