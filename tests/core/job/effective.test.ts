import { describe, expect, test } from 'vitest'
import {
  effectiveFittings,
  fittingsThatDiffer,
  setFields,
  type Edit,
  type JobData,
} from '../../../core/job/index.ts'
import { plan, type Command } from '../../../core/schedule/index.ts'
import { blankFitting, counter, openingOf, smallJob } from '../support/small-job.ts'

const seen = (data: JobData, id: string): string[] =>
  effectiveFittings(data, openingOf(data, id)).map((each) =>
    [each.tag, each.part?.name ?? 'no part', each.serial, ...each.differences].filter(Boolean).join(' | '),
  )
const differing = (data: JobData, id: string): number => fittingsThatDiffer(data, openingOf(data, id))

function carryOut(data: JobData, command: Command): void {
  const made = plan(command, data, counter())
  if (!made.ok) throw new Error(made.problems.map((each) => each.sentence).join(' '))
  data.apply(made.change.edits)
}

describe('the fittings of an opening', () => {
  test.each([
    ['follows its typical', 'f', ['L1 | Electrified lock', 'R1 | Card reader'], 0],
    ['a serial only is no difference', 'a', ['L1 | Electrified lock | L-1001', 'R1 | Card reader'], 0],
    [
      'a tag and a setting of its own',
      'b',
      ['L9 | Electrified lock | tag L9, not L1 | Relock time at 9', 'R1 | Card reader'],
      1,
    ],
    [
      'another part, one left out, one added',
      'c',
      [
        'L1 | Door magnet | another part, not Electrified lock',
        'R1 | Card reader | left out here',
        'M1 | Door magnet | added here',
      ],
      3,
    ],
    ['a trade of its own', 'i', ['L1 | Electrified lock | fitted by Owner', 'R1 | Card reader'], 1],
    ['no typical', 'e', [], 0],
  ] as const)('%s', (_what, id, expected, count) => {
    const data = smallJob()
    expect(seen(data, id)).toEqual(expected)
    expect(differing(data, id)).toBe(count)
  })

  test.each([
    ['its own tag again', 'b-lock', { tag: 'L1' }, 'b', 1],
    ['the trade the typical gives', 'i-lock', { fittedBy: 'Integrator' }, 'i', 0],
    ['the trade the typical fitting gives', 'i-lock', { fittedBy: null, wiredBy: 'Electrician' }, 'i', 0],
  ] as const)('what equals the typical is no difference: %s', (_what, id, fields, openingId, count) => {
    const data = smallJob()
    const fitting = data.get('fitting', id)
    data.apply([setFields('fitting', fitting as never, fields as never) as Edit])
    expect(differing(data, openingId)).toBe(count)
  })
  test('a setting equal to the typical’s is no difference', () => {
    const data = smallJob()
    data.apply([
      { does: 'set', kind: 'settingValue', id: 'b-relock', from: { value: '9' }, to: { value: '5' } },
    ])
    expect(seen(data, 'b')[0]).toBe('L9 | Electrified lock | tag L9, not L1')
  })

  test('each opening counts as many differences as its fittings show', () => {
    const data = smallJob()
    const following = [...data.all('opening')].filter((opening) => opening.typicalId !== null)
    const shown = following.map(
      (opening) => effectiveFittings(data, opening).filter((each) => each.differences.length > 0).length,
    )
    expect(following.map((opening) => fittingsThatDiffer(data, opening))).toEqual(shown)
  })
})

describe('who does what: the nearest word counts', () => {
  // fitting, typical fitting, opening, typical; null says nothing.
  test.each([
    ['F', 'S', 'O', 'T', 'F', 'own'],
    [null, 'S', 'O', 'T', 'S', 'typical'],
    [null, null, 'O', 'T', 'O', 'own'],
    [null, null, null, 'T', 'T', 'typical'],
    [null, null, null, null, null, 'nobody'],
    ['F', null, null, null, 'F', 'own'],
    [null, 'S', null, null, 'S', 'typical'],
  ])('%s, %s, %s, %s: %s', (fitting, slot, opening, typical, value, from) => {
    const data = smallJob()
    const set = (kind: 'fitting' | 'typicalFitting' | 'opening' | 'typical', id: string, to: string | null) =>
      data.apply([{ does: 'set', kind, id, from: {}, to: { furnishedBy: to } }])
    set('fitting', 'a-lock', fitting)
    set('typicalFitting', 'store-lock', slot)
    set('opening', 'a', opening)
    set('typical', 'store', typical)
    const [lock] = effectiveFittings(data, openingOf(data, 'a'))
    expect(lock?.trades.furnishedBy).toEqual({ value, from })
  })
})

describe('a typical is changed once', () => {
  test('a fitting added to it reaches every opening that follows', () => {
    const data = smallJob()
    carryOut(data, { does: 'add typical fitting', typicalId: 'store', partId: 'magnet', tag: 'M7' })
    for (const id of ['a', 'b', 'c', 'f', 'i']) expect(seen(data, id)).toContain('M7 | Door magnet')
    for (const id of ['d', 'e', 'g', 'h', 'j']) expect(seen(data, id)).not.toContain('M7 | Door magnet')
  })
  test('a fitting taken out of it stays only where something is known of it', () => {
    const data = smallJob()
    carryOut(data, { does: 'remove typical fitting', typicalFittingId: 'store-lock' })
    expect(seen(data, 'a')).toEqual(['R1 | Card reader', 'L1 | Electrified lock | L-1001 | added here'])
    expect(seen(data, 'b')).toEqual(['R1 | Card reader', 'L9 | Electrified lock | added here'])
    expect(seen(data, 'f')).toEqual(['R1 | Card reader'])
    expect(data.get('fitting', 'a-lock')).toMatchObject({ wiredBy: 'Electrician', typicalFittingId: null })
    expect(data.get('run', 'run')).toMatchObject({ toFittingId: 'a-lock' })
    expect(data.get('link', 'store-link')).toBeUndefined()
  })
  test('one left out does not come back when it is taken out', () => {
    const data = smallJob()
    carryOut(data, { does: 'remove typical fitting', typicalFittingId: 'store-reader' })
    expect(seen(data, 'c')).toEqual([
      'L1 | Door magnet | another part, not Electrified lock',
      'M1 | Door magnet | added here',
    ])
  })
  test.each([
    ['a proof', 'proof'],
    ['a document', 'document'],
  ] as const)('%s is knowledge of a fitting', (_what, kind) => {
    const data = smallJob()
    data.put('fitting', {
      ...blankFitting,
      id: 'f-lock',
      openingId: 'f',
      typicalFittingId: 'store-lock',
    } as never)
    data.put(kind, { id: 'of it', openingId: 'f', fittingId: 'f-lock' } as never)
    carryOut(data, { does: 'remove typical fitting', typicalFittingId: 'store-lock' })
    expect(data.get('fitting', 'f-lock')).toMatchObject({ tag: 'L1', partId: 'lock' })
  })
  test('an opening given another typical keeps what is known of its fittings', () => {
    const data = smallJob()
    const text = 'Office'
    const cells = ['a', 'c', 'f'].map((openingId) => ({ openingId, column: 'typical' as const, text }))
    carryOut(data, { does: 'set cells', how: 'type', cells, unreadable: 'refuse' })
    expect(seen(data, 'a')).toEqual(['L1 | Electrified lock', 'L1 | Electrified lock | L-1001 | added here'])
    expect(differing(data, 'a')).toBe(1)
    // What was left out of the store room's arrangement is not something of the office's.
    expect(seen(data, 'c')).toEqual([
      'L1 | Electrified lock',
      'L1 | Door magnet | added here',
      'M1 | Door magnet | added here',
    ])
    expect(differing(data, 'c')).toBe(2)
    expect(seen(data, 'f')).toEqual(['L1 | Electrified lock'])
  })
  test('a typical nobody follows goes, and what is known of fittings from it stays', () => {
    const data = smallJob()
    const cells = ['a', 'b', 'c', 'f', 'i'].map((openingId) => ({
      openingId,
      column: 'typical' as const,
      text: 'Office',
    }))
    carryOut(data, { does: 'set cells', how: 'type', cells, unreadable: 'refuse' })
    carryOut(data, { does: 'remove typical', typicalId: 'store' })
    expect(data.get('typical', 'store')).toBeUndefined()
    expect(seen(data, 'a')).toContain('L1 | Electrified lock | L-1001 | added here')
    expect(data.get('fitting', 'c-reader')).toBeUndefined()
    expect(data.get('factAnswer', 'fact')).toBeUndefined()
  })
})
