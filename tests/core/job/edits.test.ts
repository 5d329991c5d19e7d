import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  addRecord,
  invert,
  JobData,
  recordKinds,
  references,
  removeRecords,
  setFields,
  type Edit,
  type RecordKind,
} from '../../../core/job/index.ts'
import { brokenReferences, everything, openingOf, smallJob } from '../support/small-job.ts'

const fieldsOf = (data: JobData, kind: RecordKind, id: string): Record<string, unknown> =>
  data.get(kind, id) as unknown as Record<string, unknown>

describe('kinds and references', () => {
  test('the small job is whole', () => {
    expect(brokenReferences(smallJob())).toEqual([])
  })
  test.each(references.map((each) => [each.from, each.field, each.to] as const))(
    '%s.%s refers to the earlier kind %s',
    (from, _field, to) => {
      expect(recordKinds.indexOf(to)).toBeLessThan(recordKinds.indexOf(from))
    },
  )
  test('a required reference is never one that is cleared', () => {
    expect(references.filter((each) => !each.optional && each.whenGone === 'cleared')).toEqual([])
  })
  test('every field that reads like an id of a record is a reference', () => {
    const found = new Set(references.map((each) => `${each.from}.${each.field}`))
    const data = smallJob()
    const missed = recordKinds.flatMap((kind) =>
      [...(data.all(kind) as Iterable<object>)]
        .slice(0, 1)
        .flatMap((record) =>
          Object.keys(record).filter(
            (field) => field.endsWith('Id') && field !== 'sourceId' && !found.has(`${kind}.${field}`),
          ),
        ),
    )
    expect(missed).toEqual([])
  })
})

describe('setting fields', () => {
  const opening = openingOf(smallJob(), 'j')
  test.each([
    ['a value that differs', { notes: 'x' }, { from: { notes: null }, to: { notes: 'x' } }],
    ['the value it has', { hand: null }, null],
    ['an equal object', { source: structuredClone(opening.source) }, null],
    ['undefined says nothing', { notes: undefined }, null],
    [
      'only what differs of several',
      { notes: 'x', mark: '102' },
      { from: { notes: null }, to: { notes: 'x' } },
    ],
  ])('%s', (_what, to, expected) => {
    const edit = setFields('opening', opening, to as never)
    if (expected === null) expect(edit).toBeNull()
    else expect(edit).toEqual({ does: 'set', kind: 'opening', id: 'j', ...expected })
  })
})

describe('taking back', () => {
  const forms: readonly (readonly [string, (data: JobData) => readonly Edit[]])[] = [
    ['add', (data) => [addRecord('opening', { ...openingOf(data, 'a'), id: 'new' as never, mark: '999' })]],
    ['set', (data) => [setFields('opening', openingOf(data, 'a'), { hand: null, notes: 'x' }) as Edit]],
    ['remove', (data) => removeRecords(data, 'opening', ['a', 'c']).edits],
    [
      'all three on one record',
      (data) => {
        const made = { ...openingOf(data, 'a'), id: 'new' as never }
        const named = { ...made, mark: '777' }
        return [
          addRecord('opening', made),
          setFields('opening', made, { mark: '777' }) as Edit,
          { does: 'remove', kind: 'opening', record: named },
        ]
      },
    ],
  ]
  test.each(forms)('%s', (_form, editsOf) => {
    const data = smallJob()
    const before = everything(data)
    const edits = editsOf(data)
    data.apply(edits)
    const after = everything(data)
    data.apply(invert(edits))
    expect(everything(data)).toEqual(before)
    data.apply(invert(invert(edits)))
    expect(everything(data)).toEqual(after)
  })
  test('an edit that does not fit is a bug and throws', () => {
    const data = smallJob()
    const there = addRecord('opening', openingOf(data, 'a'))
    const record = { ...openingOf(data, 'a'), id: 'nowhere' }
    expect(() => data.apply([there])).toThrow('opening a is there already')
    expect(() => data.apply([{ does: 'remove', kind: 'opening', record }])).toThrow('no opening nowhere')
    expect(() =>
      data.apply([{ does: 'set', kind: 'opening', id: 'nowhere', from: {}, to: { mark: '1' } }]),
    ).toThrow('no opening nowhere to set')
    expect(() => removeRecords(data, 'opening', ['nowhere'])).toThrow('no opening nowhere to remove')
  })
})

describe('removing with all that goes with it', () => {
  // What goes too, what forgets, who refuses: as the record shapes say.
  test.each([
    ['opening', ['b'], ['settingValue b-relock', 'fitting b-lock', 'leaf b leaf 1', 'opening b'], []],
    [
      'opening',
      ['a'],
      [
        'finding finding',
        'proof proof',
        'settingValue a-relock-found',
        'fitting a-lock',
        'leaf a leaf 1',
        'opening a',
      ],
      ['visit visit openingId', 'run run toFittingId'],
    ],
    [
      'opening',
      ['c'],
      [
        'link c-link',
        'link c-mixed',
        'fitting c-lock',
        'fitting c-reader',
        'fitting c-extra',
        'leaf c leaf 1',
        'leaf c leaf 2',
        'opening c',
      ],
      [],
    ],
    ['leaf', ['c leaf 2'], ['leaf c leaf 2'], ['fitting c-lock leafId']],
    [
      'space',
      ['r102'],
      ['space r102'],
      ['opening a fromSpaceId', 'opening b toSpaceId', 'supply psu spaceId'],
    ],
    ['visit', ['visit'], ['visit visit'], ['settingValue a-relock-found visitId', 'finding finding visitId']],
    ['fitting', ['c-lock'], ['link c-link', 'fitting c-lock'], []],
  ] as const)('%s %s', (kind, ids, removed, cleared) => {
    const data = smallJob()
    const before = everything(data)
    const { edits, refusedBy } = removeRecords(data, kind, ids)
    expect(refusedBy).toBeNull()
    const gone = edits.flatMap((edit) =>
      edit.does === 'remove' ? [`${edit.kind} ${String(edit.record['id'])}`] : [],
    )
    const forgetting = edits.flatMap((edit) =>
      edit.does === 'set' ? [`${edit.kind} ${edit.id} ${Object.keys(edit.to).join(' ')}`] : [],
    )
    expect(gone.toSorted()).toEqual([...removed].toSorted())
    expect(forgetting.toSorted()).toEqual([...cleared].toSorted())
    // A store that checks each row at once must never see a reference to nothing.
    for (const edit of edits) {
      data.apply([edit])
      expect(brokenReferences(data)).toEqual([])
    }
    for (const edit of invert(edits)) {
      data.apply([edit])
      expect(brokenReferences(data)).toEqual([])
    }
    expect(everything(data)).toEqual(before)
  })
  test.each([
    ['building', 'main', 'level'],
    ['level', 'ground', 'opening'],
    ['part', 'reader', 'typicalFitting'],
    ['part', 'magnet', 'fitting'],
  ] as const)('%s %s is still needed by a %s', (kind, id, by) => {
    const { edits, refusedBy } = removeRecords(smallJob(), kind, [id])
    expect(edits).toEqual([])
    expect(refusedBy?.kind).toBe(by)
  })
  test('a record that refuses does not when it goes too', () => {
    const data = smallJob()
    data.apply(removeRecords(data, 'opening', ['i', 'j']).edits)
    data.apply(removeRecords(data, 'level', ['yard']).edits)
    expect(removeRecords(data, 'building', ['annexe'])).toMatchObject({ refusedBy: null })
  })
})

describe('what refers to a record', () => {
  const ids = ['x', 'y', 'z']
  const oneOf = fc.constantFrom(...ids)
  const step = fc.oneof(
    fc.record({ does: fc.constant('put' as const), id: oneOf, to: fc.option(oneOf), from: fc.option(oneOf) }),
    fc.record({ does: fc.constant('set' as const), id: oneOf, to: fc.option(oneOf), from: fc.option(oneOf) }),
    fc.record({ does: fc.constant('remove' as const), id: oneOf }),
  )
  test('stays right after every put, set and remove', () => {
    const blank = openingOf(smallJob(), 'e')
    fc.assert(
      fc.property(fc.array(step, { maxLength: 30 }), (steps) => {
        const data = new JobData()
        for (const each of steps) {
          const before = data.get('opening', each.id)
          if (each.does === 'put') {
            const toSpaceId = each.to as never
            data.put('opening', {
              ...blank,
              id: each.id as never,
              toSpaceId,
              fromSpaceId: each.from as never,
            })
          } else if (before === undefined) continue
          else if (each.does === 'remove')
            data.apply([{ does: 'remove', kind: 'opening', record: fieldsOf(data, 'opening', each.id) }])
          else {
            const to = { toSpaceId: each.to, fromSpaceId: each.from }
            data.apply([{ does: 'set', kind: 'opening', id: each.id, from: {}, to }])
          }
          for (const field of ['toSpaceId', 'fromSpaceId'] as const)
            for (const id of ids) {
              const naive = [...data.all('opening')].filter((row) => row[field] === id)
              const found = data.referring('opening', field, id)
              expect(new Set(found)).toEqual(new Set(naive))
              expect(found).toHaveLength(naive.length)
              expect(data.countReferring('opening', field, id)).toBe(naive.length)
            }
        }
      }),
      { numRuns: 300 },
    )
  })
})
