import fc from 'fast-check'
import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { readTwin, twinJsonSchema, twinVersion, writeTwin, type Twin } from '../../../core/exchange/index.ts'
import { JobData, recordKinds, records, references, type RecordKind } from '../../../core/job/index.ts'
import { oneOfEach } from '../../../fixtures/shipped-schemas/one-of-each.ts'

function twinOf(lists: ReturnType<typeof oneOfEach>, more: Partial<Twin> = {}): Twin {
  const data = new JobData()
  for (const kind of recordKinds) for (const record of lists[kind]) data.put(kind, record as never)
  return { data, attachments: {}, history: [], ...more }
}

const hash = 'ab'.repeat(32)
const entry = {
  seq: 1,
  name: 'Set mark',
  who: 'Ada',
  at: '2026-03-05T12:00:00Z',
  state: 'done' as const,
  turnedBy: null,
  turnedAt: null,
  revision: 1,
  edits: [
    {
      does: 'set' as const,
      kind: 'opening' as const,
      id: 'opening-1',
      from: { mark: '1' },
      to: { mark: '2' },
    },
    {
      does: 'add' as const,
      kind: 'opening' as const,
      record: { id: 'x', source: { cells: { A: 'b' }, file: 'f' } },
    },
  ],
}
const text = writeTwin(twinOf(oneOfEach(), { attachments: { [hash]: 'YQ==' }, history: [entry] }))

type Json = Record<string, never> & { records: Record<string, Record<string, unknown>[]>; history: never[] }
const changed = (change: (twin: Json) => void): string => {
  const twin = JSON.parse(text) as Json
  change(twin)
  return JSON.stringify(twin)
}
const first = (twin: Json, kind: RecordKind): Record<string, unknown> => twin.records[kind]?.[0] ?? {}

describe('a twin', () => {
  test('goes out and comes back to the byte', () => {
    const read = readTwin(text)
    if (!read.ok) throw new Error(read.problem.sentence)
    expect(writeTwin(read.twin)).toBe(text)
  })

  test('has one record a line, LF only, kinds and keys in the order of the shapes', () => {
    expect(text).not.toContain('\r')
    expect(text.endsWith('}\n')).toBe(true)
    const lines = text.split('\n').filter((line) => line.startsWith('{"id":'))
    expect(lines).toHaveLength(recordKinds.length * 2 - 1)
    const twin = JSON.parse(text) as Json
    expect(Object.keys(twin.records)).toEqual(recordKinds)
    for (const kind of recordKinds)
      for (const record of twin.records[kind] ?? [])
        expect(Object.keys(record)).toEqual(Object.keys(records[kind].shape))
  })

  test('comes back the same whatever the order of its keys, with or without blanks and a byte order mark', () => {
    const loose = `\uFEFF${JSON.stringify(JSON.parse(text), null, 3)}`
    const read = readTwin(loose)
    expect(read.ok && writeTwin(read.twin)).toBe(text)
    const turned = changed((twin) => {
      const record = first(twin, 'opening')
      twin.records['opening']![0] = Object.fromEntries(Object.entries(record).toReversed())
    })
    const again = readTwin(turned)
    expect(again.ok && writeTwin(again.twin)).toBe(text)
  })

  test('keeps any text, number and nested value', () => {
    const anyText = fc.string({ unit: 'grapheme', maxLength: 40 })
    fc.assert(
      fc.property(
        anyText,
        fc.dictionary(
          anyText.filter((key) => key !== '__proto__'),
          anyText,
        ),
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        (words, cells, amount) => {
          const lists = oneOfEach()
          const opening = {
            ...lists.opening[0]!,
            notes: words,
            source: { file: words, place: words, cells, understood: {} },
          }
          const supply = { ...lists.supply[0]!, ratedVolts: amount }
          const out = writeTwin(
            twinOf({ ...lists, opening: [opening, lists.opening[1]!], supply: [supply, lists.supply[1]!] }),
          )
          const read = readTwin(out)
          if (!read.ok) throw new Error(read.problem.sentence)
          expect(writeTwin(read.twin)).toBe(out)
          expect(read.twin.data.get('opening', 'opening-1')?.source?.cells).toEqual({ ...cells })
        },
      ),
      { numRuns: 100, seed: 3 },
    )
  })
})

const nested = (levels: number): string => `${'['.repeat(levels)}${']'.repeat(levels)}`

// What is done to a good twin, the code, and words of the sentence, which names kind, record and field.
const spoilings: readonly [string, () => string, string, string][] = [
  ['nothing', () => '', 'not-text', 'not whole JSON'],
  ['half of it', () => text.slice(0, text.length / 2), 'not-text', 'not whole JSON'],
  ['another JSON', () => '{"openings":[]}', 'not-a-twin', 'expected "format": "lintelbook job"'],
  ['a list', () => '[]', 'not-a-twin', 'not a twin'],
  ['null', () => 'null', 'not-a-twin', 'not a twin'],
  [
    'a newer version',
    () => changed((twin) => Object.assign(twin, { version: twinVersion + 1 })),
    'newer',
    `has version ${twinVersion + 1}`,
  ],
  [
    'no version',
    () => changed((twin) => Object.assign(twin, { version: null })),
    'not-a-twin',
    'does not say its version',
  ],
  [
    'version 0',
    () => changed((twin) => Object.assign(twin, { version: 0 })),
    'not-a-twin',
    'does not say its version',
  ],
  [
    'an unknown field on top',
    () => changed((twin) => Object.assign(twin, { script: 'x' })),
    'not-a-twin',
    'unknown field script',
  ],
  [
    'nesting 100,000 deep',
    () => `{"format":"lintelbook job","version":1,"records":${nested(100_000)}}`,
    'too-deep',
    'more than 12 levels',
  ],
  [
    'nesting in a record',
    () => text.replace('"preparedBy":', `"preparedBy":${nested(20)},"x":`),
    'too-deep',
    'more than 12 levels',
  ],
  [
    'an unknown kind',
    () => changed((twin) => Object.assign(twin.records, { door: [] })),
    'bad-record',
    'no kind of record called door',
  ],
  [
    'a kind with a prototype name',
    () => text.replace('"records":{', '"records":{"__proto__":[],'),
    'bad-record',
    'called __proto__',
  ],
  ['a kind missing', () => changed((twin) => delete twin.records['leaf']), 'bad-record', 'no list of leaf'],
  [
    'a kind that is no list',
    () => changed((twin) => Object.assign(twin.records, { leaf: {} })),
    'bad-record',
    'no list of leaf',
  ],
  [
    'a record that is a number',
    () => changed((twin) => twin.records['leaf']?.unshift(7 as never)),
    'bad-record',
    'The leaf number 1: expected an object with named fields, found a number.',
  ],
  [
    'an unknown field',
    () => changed((twin) => Object.assign(first(twin, 'leaf'), { colour: 'red' })),
    'bad-record',
    'The leaf leaf-1, field colour: there is no such field.',
  ],
  [
    'a prototype name in a record',
    () => text.replace('{"id":"leaf-1"', '{"__proto__":{"a":1},"id":"leaf-1"'),
    'bad-record',
    'The leaf leaf-1, field __proto__',
  ],
  [
    'a prototype name in the cells',
    () => text.replace('"cells":{', '"cells":{"__proto__":"a",'),
    'bad-record',
    'field __proto__',
  ],
  [
    'a field named constructor',
    () => changed((twin) => Object.assign(first(twin, 'leaf'), { constructor: 'x' })),
    'bad-record',
    'The leaf leaf-1, field constructor: there is no such field.',
  ],
  [
    'a missing field',
    () => changed((twin) => delete first(twin, 'leaf')['material']),
    'bad-record',
    'The leaf leaf-1, field material: expected text, found nothing.',
  ],
  [
    'a number for text',
    () => changed((twin) => Object.assign(first(twin, 'opening'), { mark: 101 })),
    'bad-record',
    'The opening opening-1, field mark: expected text, found a number.',
  ],
  [
    'text for a number',
    () => changed((twin) => Object.assign(first(twin, 'opening'), { widthMicrometres: '3-0' })),
    'bad-record',
    'The opening opening-1, field widthMicrometres: expected a number, found text.',
  ],
  [
    'a broken number',
    () => changed((twin) => Object.assign(first(twin, 'opening'), { widthMicrometres: 0.5 })),
    'bad-record',
    'field widthMicrometres: expected a whole number',
  ],
  [
    'text for yes or no',
    () => changed((twin) => Object.assign(first(twin, 'fitting'), { leftOut: 'no' })),
    'bad-record',
    'The fitting fitting-1, field leftOut: expected true or false, found text.',
  ],
  [
    'a hand nobody knows',
    () => changed((twin) => Object.assign(first(twin, 'opening'), { hand: 'left' })),
    'bad-record',
    'field hand: expected one of LH, RH, LHR, RHR, found "left".',
  ],
  [
    'a day that is none',
    () => changed((twin) => Object.assign(first(twin, 'opening'), { installedOn: '3/5/26' })),
    'bad-record',
    'field installedOn: expected a day such as 2026-01-31, found "3/5/26".',
  ],
  [
    'a time that is none',
    () => changed((twin) => Object.assign(first(twin, 'visit'), { at: 'noon' })),
    'bad-record',
    'field at: expected a time such as 2026-01-31T08:30:00Z, found "noon".',
  ],
  [
    'a text too long',
    () => changed((twin) => Object.assign(first(twin, 'opening'), { mark: 'm'.repeat(401) })),
    'bad-record',
    'field mark: longer than 400 characters.',
  ],
  [
    'an empty id',
    () => changed((twin) => Object.assign(first(twin, 'opening'), { id: '' })),
    'bad-record',
    'field id: expected at least 1 character',
  ],
  [
    'half a character',
    () => text.replace('"name of leaf', '"').replace('"mark":"', '"mark":"\\ud83d'),
    'bad-record',
    'half a character',
  ],
  [
    'an id twice',
    () => changed((twin) => twin.records['leaf']?.push(first(twin, 'leaf'))),
    'bad-record',
    'The leaf leaf-1 is there twice.',
  ],
  [
    'two jobs',
    () => changed((twin) => twin.records['job']?.push({ ...first(twin, 'job'), id: 'job-2' })),
    'bad-record',
    'exactly one job, this one holds 2',
  ],
  [
    'no job',
    () => changed((twin) => (twin.records['job'] = [])),
    'bad-record',
    'exactly one job, this one holds 0',
  ],
  [
    'a reference to nothing',
    () => changed((twin) => Object.assign(first(twin, 'leaf'), { openingId: 'opening-9' })),
    'bad-reference',
    'The leaf leaf-1, field openingId: there is no opening opening-9.',
  ],
  [
    'an attachment with a path for a name',
    () => changed((twin) => Object.assign(twin, { attachments: { '../../evil': 'YQ==' } })),
    'bad-attachment',
    'expected the 64 digits',
  ],
  [
    'an attachment that is not base64',
    () => changed((twin) => Object.assign(twin, { attachments: { [hash]: 'a b!' } })),
    'bad-attachment',
    'not base64',
  ],
  [
    'an attachment that is a number',
    () => changed((twin) => Object.assign(twin, { attachments: { [hash]: 1 } })),
    'bad-attachment',
    'not base64',
  ],
  [
    'no attachments',
    () => changed((twin) => delete twin['attachments']),
    'not-a-twin',
    'has no "attachments"',
  ],
  [
    'no history',
    () => changed((twin) => Object.assign(twin, { history: null })),
    'not-a-twin',
    'has no "history"',
  ],
  [
    'history out of order',
    () => changed((twin) => Object.assign(twin, { history: [{ ...entry, seq: 2 }, entry] })),
    'bad-history',
    'History entry 2: expected a seq above 2.',
  ],
  [
    'done after undone',
    () =>
      changed((twin) =>
        Object.assign(twin, {
          history: [
            { ...entry, state: 'undone' },
            { ...entry, seq: 2 },
          ],
        }),
      ),
    'bad-history',
    'done after one that is undone',
  ],
  [
    'history with a strange edit',
    () =>
      changed((twin) =>
        Object.assign(twin, { history: [{ ...entry, edits: [{ does: 'run', code: 'x' }] }] }),
      ),
    'bad-history',
    'History entry 1, field edits.0.does',
  ],
  [
    'history with a prototype name',
    () => text.replace('"from":{', '"from":{"__proto__":"x",'),
    'bad-history',
    '__proto__',
  ],
]

describe('a spoilt twin', () => {
  test.each(spoilings)('with %s is refused with a sentence', (_what, spoilt, code, words) => {
    const read = readTwin(spoilt())
    expect(read).toMatchObject({ ok: false, problem: { code } })
    expect(read.ok ? '' : read.problem.sentence).toContain(words)
  })

  // Of these exactly one is there; naming the other as well would be another fault.
  const insteadOf: Readonly<Record<string, readonly string[]>> = {
    'settingValue.fittingId': ['typicalFittingId'],
    'settingEffect.partSettingTableRowId': ['partPositionId'],
    'settingEffect.partElementId': ['partContactId'],
    'placement.typicalFittingId': ['partId'],
    'placement.fittingId': ['partId'],
  }

  test('every reference is checked', () => {
    for (const { from, field } of references) {
      const instead = Object.fromEntries((insteadOf[`${from}.${field}`] ?? []).map((each) => [each, null]))
      const read = readTwin(
        changed((twin) => Object.assign(first(twin, from), instead, { [field]: 'nobody' })),
      )
      expect(read, `${from}.${field}`).toMatchObject({ ok: false, problem: { code: 'bad-reference' } })
    }
  })

  test('any JSON at all is refused or read, never a crash, and no prototype is touched', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), fc.nat(), (value, where) => {
        const twin = JSON.parse(text) as Record<string, unknown>
        const kind = recordKinds[where % recordKinds.length] as RecordKind
        const fields = Object.keys(records[kind].shape)
        const record = (twin['records'] as Record<string, Record<string, unknown>[]>)[kind]?.[0] ?? {}
        record[fields[where % fields.length] as string] = value
        expect(typeof readTwin(JSON.stringify(twin)).ok).toBe('boolean')
        expect(typeof readTwin(JSON.stringify(value)).ok).toBe('boolean')
      }),
      { numRuns: 150, seed: 7 },
    )
    expect(({} as Record<string, unknown>)['a']).toBeUndefined()
  })
})

describe('the published schema', () => {
  const schemaPath = path.resolve(import.meta.dirname, '../../../core/exchange/text-twin.schema.json')
  const published = JSON.parse(fs.readFileSync(schemaPath, 'utf8')) as object

  test('is the one the shapes give (node fixtures/shipped-schemas/make.ts writes it)', () => {
    expect(published).toEqual(JSON.parse(JSON.stringify(twinJsonSchema())))
  })

  test('accepts the twin, says which kind an id refers to, and allows nothing else', () => {
    expect(JSON.stringify(published)).toContain('"refersTo":"opening"')
    const shape = z.fromJSONSchema(published as never)
    expect(shape.safeParse(JSON.parse(text)).success).toBe(true)
    expect(
      shape.safeParse(JSON.parse(changed((twin) => Object.assign(first(twin, 'leaf'), { colour: 'red' }))))
        .success,
    ).toBe(false)
  })
})
