import { describe, expect, test } from 'vitest'
import { JobData, records, type RecordKind } from '../../../core/job/index.ts'
import { findInJob } from '../../../core/schedule/index.ts'

function job(lists: readonly (readonly [RecordKind, Record<string, unknown>])[]): JobData {
  const data = new JobData()
  for (const [kind, fields] of lists) {
    const blank = Object.fromEntries(Object.keys(records[kind].shape).map((field) => [field, null]))
    data.put(kind, { ...blank, ...fields } as never)
  }
  return data
}

const data = job([
  ['building', { id: 'b', name: 'Clinic' }],
  ['level', { id: 'l1', buildingId: 'b', name: 'Level 1' }],
  ['level', { id: 'l3', buildingId: 'b', name: 'Level 3' }],
  ['space', { id: 's1', levelId: 'l1', number: '110', name: 'Store room' }],
  ['space', { id: 's3', levelId: 'l3', number: '310', name: 'Store Room' }],
  ['space', { id: 's4', levelId: 'l3', number: '320', name: 'North stair' }],
  ['part', { id: 'p', name: 'Electric strike, fail secure', model: 'ES-40' }],
  ['typical', { id: 't', name: 'Store room strike' }],
  ['typicalFitting', { id: 'tf', typicalId: 't', tag: 'ES1', partId: 'p' }],
  ['opening', { id: 'o110', levelId: 'l1', mark: '110', toSpaceId: 's1', notes: 'see 310' }],
  ['opening', { id: 'o310', levelId: 'l3', mark: '310', toSpaceId: 's3', typicalId: 't' }],
  ['opening', { id: 'o310A', levelId: 'l3', mark: '310A', whereText: 'Café, garden side' }],
  ['opening', { id: 'o2611', levelId: 'l3', mark: 'ST-2611-04', toSpaceId: 's4', assetTag: 'AT 77/3' }],
  ['fitting', { id: 'f1', openingId: 'o310', typicalFittingId: 'tf', serial: 'SN-0042-B', leftOut: false }],
  ['fitting', { id: 'f2', openingId: 'o2611', partId: 'p', tag: 'ES2', serial: 'SN-0043', leftOut: false }],
  ['supply', { id: 'ps1', mark: 'PS-1', whereText: 'Electrical closet 3' }],
  ['run', { id: 'r1', name: 'W-17', cable: '18/2 shielded' }],
  ['visit', { id: 'v1', openingId: 'o2611', symptom: 'will not lock again' }],
  ['finding', { id: 'fd', openingId: 'o110', words: 'keeper loose' }],
])

const ids = (asked: string, limit = 10): string[] => findInJob(data, asked, limit).map((found) => found.id)

// What a caller says, and the best answer. Common practice, no source: how people say marks and places.
const answers: readonly [asked: string, best: string, why: string][] = [
  ['310', 'o310', 'the exact mark before marks and rooms that hold it'],
  ['310a', 'o310A', 'case'],
  ['st2611 04', 'o2611', 'dashes and blanks'],
  ['2611-04', 'o2611', 'the end of a mark'],
  ['STORE-ROOM three', 'o310', 'a room and a level said in words'],
  ['storeroom 3rd', 'o310', 'run together'],
  ['north stair', 'o2611', 'the room behind it'],
  ['cafe', 'o310A', 'accents'],
  ['sn 0042 b', 'f1', 'a serial'],
  ['0043', 'f2', 'the end of a serial'],
  ['strike north', 'f2', 'a part of an opening, by both'],
  ['ps1', 'ps1', 'a supply'],
  ['w17', 'r1', 'a run'],
  ['will not lock', 'v1', 'a visit answers with its opening'],
  ['keeper', 'fd', 'a finding'],
  ['AT77/3', 'o2611', 'an asset tag'],
  ['level 3', 'l3', 'a level'],
]

describe('find', () => {
  test.each(answers)('%s: %s, for %s', (asked, best) => {
    expect(ids(asked)[0]).toBe(best)
  })

  test('gives a title, a place, what matched and the opening to show', () => {
    expect(findInJob(data, '0042', 1)).toEqual([
      {
        kind: 'fitting',
        id: 'f1',
        openingId: 'o310',
        title: '310 ES1 Electric strike, fail secure',
        detail: '310 Store Room, Level 3',
        matched: 'serial',
      },
    ])
    expect(findInJob(data, 'loose', 1)).toMatchObject([
      { openingId: 'o110', title: '110 keeper loose', matched: 'finding' },
    ])
  })

  test('wants every word', () => {
    expect(ids('store zebra')).toEqual([])
    expect(ids('310 cafe')).toEqual(['o310A'])
  })

  test('nothing asked finds nothing; marks alone do not count as words', () => {
    for (const asked of ['', '   ', '- / .', '\0']) expect(ids(asked)).toEqual([])
  })

  test('no more than asked for, the best of them', () => {
    expect(ids('3', 2)).toHaveLength(2)
    expect(ids('3', 0)).toEqual([])
    expect(ids('310', 1)).toEqual(['o310'])
  })

  test('follows what changed', () => {
    const opening = data.get('opening', 'o110')!
    data.apply([{ does: 'set', kind: 'opening', id: 'o110', from: { mark: '110' }, to: { mark: 'ZZ9' } }])
    expect(ids('zz9')[0]).toBe('o110')
    data.apply([
      { does: 'set', kind: 'opening', id: 'o110', from: { mark: 'ZZ9' }, to: { mark: opening.mark } },
    ])
    expect(ids('zz9')).toEqual([])
  })

  test('odd words are harmless', () => {
    for (const asked of ['__proto__', 'constructor', 'a'.repeat(5000), '((((', '🚪', 'ß', 'x '.repeat(400)])
      expect(Array.isArray(ids(asked))).toBe(true)
  })
})
