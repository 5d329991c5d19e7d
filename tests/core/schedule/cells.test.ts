import { describe, expect, test } from 'vitest'
import type { JobData } from '../../../core/job/index.ts'
import {
  plan,
  scheduleColumns,
  scheduleFrame,
  scheduleRow,
  type CellText,
  type ColumnKey,
  type Planned,
} from '../../../core/schedule/index.ts'
import { counter, everything, openingOf, smallJob } from '../support/small-job.ts'

const inch = 25_400

function setCells(data: JobData, cells: readonly CellText[], unreadable: 'refuse' | 'leave out'): Planned {
  const made = plan({ does: 'set cells', how: 'paste', cells: [...cells], unreadable }, data, counter())
  if (made.ok) data.apply(made.change.edits)
  return made
}
const type = (data: JobData, openingId: string, column: ColumnKey, text: string): Planned =>
  setCells(data, [{ openingId, column, text }], 'refuse')
const leavesOf = (data: JobData, id: string): string[] =>
  data
    .referring('leaf', 'openingId', id)
    .toSorted((a, b) => a.position - b.position)
    .map((leaf) => `${leaf.role} ${leaf.material ?? 'not known'}`)

describe('what text means', () => {
  // Opening e knows nothing but its mark; the widths and heights are those of tests/core/job/quantities.
  test.each<[ColumnKey, string, object]>([
    ['mark', ' 104B ', { mark: '104B' }],
    ['where', ' Store ', { whereText: 'Store' }],
    ['where', '  ', { whereText: null }],
    ['size', '3-0 x 7-0', { widthMicrometres: 36 * inch, heightMicrometres: 84 * inch }],
    ['size', '3070', { widthMicrometres: 36 * inch, heightMicrometres: 84 * inch }],
    ['size', '914 x 2134', { widthMicrometres: 914_000, heightMicrometres: 2_134_000 }],
    ['size', 'PR 3-0 x 7-0', { widthMicrometres: 72 * inch, heightMicrometres: 84 * inch }],
    ['size', 'PR 6-0 x 8-0', { widthMicrometres: 72 * inch, heightMicrometres: 96 * inch }],
    ['size', '3-0 x 7-0 x 1 3/4', { widthMicrometres: 36 * inch, thicknessMicrometres: 1.75 * inch }],
    ['thickness', '1 3/4"', { thicknessMicrometres: 1.75 * inch }],
    ['thickness', '45 mm', { thicknessMicrometres: 45_000 }],
    ['hand', 'left hand reverse', { hand: 'LHR' }],
    ['hand', 'rh', { hand: 'RH' }],
    ['frame', 'HM', { frameMaterial: 'HM' }],
    ['label', 'none', { fireLabelMinutes: 0, fireLabelClass: null }],
    ['label', 'N/A', { fireLabelMinutes: 0, fireLabelClass: null }],
    ['label', '1-1/2 HR', { fireLabelMinutes: 90, fireLabelClass: null }],
    ['label', '90 min B', { fireLabelMinutes: 90, fireLabelClass: 'B' }],
    ['label', 'class B', { fireLabelMinutes: null, fireLabelClass: 'B' }],
    ['typical', 'store ROOM', { typicalId: 'store' }],
    ['furnished', 'Owner', { furnishedBy: 'Owner' }],
    ['fitted', 'Owner', { fittedBy: 'Owner' }],
    ['wired', 'Owner', { wiredBy: 'Owner' }],
    ['terminated', 'Owner', { terminatedBy: 'Owner' }],
    ['doorType', 'F', { doorType: 'F' }],
    ['hardwareSet', '07', { hardwareSet: '07' }],
    ['serial', '000123', { serial: '000123' }],
    ['assetTag', 'T-9', { assetTag: 'T-9' }],
    ['installed', '2026-3-4', { installedOn: '2026-03-04' }],
    ['notes', 'First line\nsecond', { notes: 'First line\nsecond' }],
  ])('%s "%s"', (column, text, fields) => {
    const data = smallJob()
    expect(type(data, 'e', column, text)).toMatchObject({ ok: true, leftOut: [] })
    expect(openingOf(data, 'e')).toMatchObject(fields)
  })

  test.each<[ColumnKey, string, object]>([
    ['size', '', { widthMicrometres: null, heightMicrometres: null }],
    ['thickness', 'TBC', { thicknessMicrometres: null }],
    ['hand', '?', { hand: null }],
    ['hand', 'TBC', { hand: null }],
    ['label', 'tbd', { fireLabelMinutes: null, fireLabelClass: null }],
    ['label', ' ', { fireLabelMinutes: null, fireLabelClass: null }],
    ['typical', '-', { typicalId: null }],
    ['frame', '', { frameMaterial: null }],
    ['installed', 'not known', { installedOn: null }],
  ])('%s "%s" says that nobody knows', (column, text, fields) => {
    const data = smallJob()
    type(data, 'c', 'installed', '2026-01-01')
    expect(type(data, 'c', column, text)).toMatchObject({ ok: true })
    expect(openingOf(data, 'c')).toMatchObject(fields)
  })

  test.each([
    ['a', 'size', 'PR 3-0 x 7-0', ['active WD', 'inactive WD']],
    ['c', 'size', '3-0 x 7-0', ['only HM']],
    ['c', 'size', '5-0 x 7-0', ['active HM', 'inactive HM']],
    ['c', 'size', '', ['active HM', 'inactive HM']],
    ['c', 'material', 'GL', ['active GL', 'inactive GL']],
    ['a', 'material', '', ['only not known']],
    ['e', 'material', ' AL ', ['only AL']],
  ] as const)('leaves of %s after %s "%s"', (id, column, text, leaves) => {
    const data = smallJob()
    expect(type(data, id, column, text)).toMatchObject({ ok: true })
    expect(leavesOf(data, id)).toEqual(leaves)
  })
  test('size and material of one opening go together', () => {
    const data = smallJob()
    const cells: CellText[] = [
      { openingId: 'e', column: 'size', text: 'PR 3-0 x 7-0' },
      { openingId: 'e', column: 'material', text: 'WD' },
    ]
    expect(setCells(data, cells, 'refuse')).toMatchObject({ change: { name: 'Paste 2 cells of 2' } })
    expect(leavesOf(data, 'e')).toEqual(['active WD', 'inactive WD'])
  })
  test('the leaf that remains of a pair forgets its share of the width, its fittings the leaf that went', () => {
    const data = smallJob()
    data.apply([{ does: 'set', kind: 'leaf', id: 'c leaf 1', from: {}, to: { widthMicrometres: 48 * inch } }])
    type(data, 'c', 'size', '3-0 x 7-0')
    expect(data.get('leaf', 'c leaf 1')).toMatchObject({ role: 'only', widthMicrometres: null })
    expect(data.get('fitting', 'c-lock')).toMatchObject({ leafId: null })
  })
})

describe('text that cannot be read', () => {
  test.each<[ColumnKey, string, string]>([
    ['mark', '', '2, mark: Nothing was given; expected a door number such as 104A.'],
    ['mark', 'TBC', ''],
    ['mark', 'x'.repeat(200), `2, mark: "${'x'.repeat(40)}…" is not a mark; expected at most 60 characters.`],
    ['mark', '101', '2, mark: Ground already has an opening 101; expected a mark of its own.'],
    ['mark', '104a', '2, mark: Ground already has an opening 104a; expected a mark of its own.'],
    [
      'size',
      '3-x',
      '2, size: "3-x" is not a size; expected a width and a height such as 3-0 x 7-0, 36 x 84, 914 x 2134 or 3070, with PR before it for a pair.',
    ],
    [
      'thickness',
      'thick',
      '2, thickness: "thick" is not a thickness; expected inches such as 1 3/4 or millimetres such as 45.',
    ],
    [
      'hand',
      'middle',
      '2, hand: "middle" is not a hand; expected LH, RH, LHR or RHR, judged from the keyed side.',
    ],
    [
      'label',
      'some',
      '2, label: "some" is not a fire label; expected minutes such as 90, hours such as 1-1/2 HR, a class A to E, or none.',
    ],
    [
      'typical',
      'Stores',
      '2, typical: "Stores" is not a typical of this job; expected one of Store room, Office.',
    ],
    [
      'installed',
      '2026-02-30',
      '2, installed: "2026-02-30" is not a day; expected year-month-day such as 2026-03-14.',
    ],
    [
      'building',
      'Annexe',
      '2, building: this is worked out; nothing can be put here. The building the opening is in. Move openings to put them elsewhere.',
    ],
    [
      'level',
      'First',
      '2, level: this is worked out; nothing can be put here. The level the opening is on. Move openings to put them elsewhere.',
    ],
    [
      'source',
      'x',
      '2, taken from: this is worked out; nothing can be put here. The file and row this opening was taken in from.',
    ],
  ])('%s "%s"', (column, text, sentence) => {
    const data = smallJob()
    const before = everything(data)
    const made = type(data, 'e', column, text)
    if (sentence === '') {
      // A mark may well be a word; only a blank is none.
      expect(made.ok).toBe(true)
      return
    }
    expect(made).toEqual({ ok: false, problems: [{ openingId: 'e', column, sentence }] })
    expect(everything(data)).toEqual(before)
  })
  test('a job without typicals says so', () => {
    const data = smallJob()
    for (const { id } of data.all('opening')) type(data, id, 'typical', '')
    for (const id of ['store', 'office'])
      data.apply(
        (plan({ does: 'remove typical', typicalId: id }, data, counter()) as never)['change']['edits'],
      )
    expect(type(data, 'e', 'typical', 'Store room')).toMatchObject({
      problems: [
        {
          sentence:
            '2, typical: "Store room" is not a typical of this job; expected the name of a typical; this job has none yet.',
        },
      ],
    })
  })
  test('an opening that is gone stops the whole', () => {
    expect(type(smallJob(), 'gone', 'notes', 'x')).toMatchObject({
      ok: false,
      problems: [{ sentence: 'An opening in this change is no longer there.' }],
    })
  })
})

describe('pasting a block', () => {
  const block: CellText[] = [
    { openingId: 'a', column: 'hand', text: 'RH' },
    { openingId: 'b', column: 'hand', text: 'sideways' },
    { openingId: 'b', column: 'notes', text: 'New' },
    { openingId: 'd', column: 'mark', text: '101' },
  ]
  test('refuse: one bad cell and nothing is written, every bad cell is named', () => {
    const data = smallJob()
    const before = everything(data)
    const made = setCells(data, block, 'refuse')
    expect(made).toMatchObject({ ok: false })
    expect(made.ok ? [] : made.problems.map((each) => `${each.openingId} ${each.column}`)).toEqual([
      'b hand',
      'd mark',
    ])
    expect(everything(data)).toEqual(before)
  })
  test('leave out: the rest is written, and what was left out is named', () => {
    const data = smallJob()
    const made = setCells(data, block, 'leave out')
    expect(made).toMatchObject({ ok: true, change: { name: 'Paste 2 cells of 2 openings' } })
    expect(made.ok ? made.leftOut.map((each) => each.openingId) : []).toEqual(['b', 'd'])
    expect(openingOf(data, 'a').hand).toBe('RH')
    expect(openingOf(data, 'b')).toMatchObject({ hand: 'RHR', notes: 'New' })
    expect(openingOf(data, 'd').mark).toBe('10')
  })
})

describe('marks set together', () => {
  // Ground has 101, 102, 104A, 10 and 2 (openings a to e).
  const rename = (pairs: Readonly<Record<string, string>>): { left: string[]; marks: string } => {
    const data = smallJob()
    const cells = Object.entries(pairs).map(([openingId, text]) => ({
      openingId,
      column: 'mark' as const,
      text,
    }))
    const made = setCells(data, cells, 'leave out')
    const marks = [...'abcde'].map((id) => openingOf(data, id).mark).join(' ')
    return { left: made.ok ? made.leftOut.map((each) => each.openingId ?? '') : ['refused'], marks }
  }
  test.each([
    ['trade places', { a: '102', b: '101' }, [], '102 101 104A 10 2'],
    ['go round', { a: '102', b: '104A', c: '101' }, [], '102 104A 101 10 2'],
    ['the first of two has it', { a: '5', b: '5' }, ['b'], '5 102 104A 10 2'],
    ['one that stays has it', { a: '102' }, ['a'], '101 102 104A 10 2'],
    ['case is no difference', { c: '104a' }, [], '101 102 104a 10 2'],
    [
      'one refused keeps the place another counted on',
      { b: '101', a: '10' },
      ['a', 'b'],
      '101 102 104A 10 2',
    ],
    [
      'down a whole chain',
      { e: '101', a: '102', b: '104A', c: '10' },
      ['c', 'b', 'a', 'e'],
      '101 102 104A 10 2',
    ],
    ['a chain with room at its end', { e: '101', a: '102', b: '104A', c: '11' }, [], '102 104A 11 10 101'],
  ])('%s', (_what, pairs, left, marks) => {
    expect(rename(pairs)).toEqual({ left, marks })
  })
})

test('what is shown, put back unchanged, sets nothing', () => {
  const data = smallJob()
  for (const units of ['imperial', 'metric'] as const) {
    data.apply([{ does: 'set', kind: 'job', id: 'job', from: {}, to: { units } }])
    const context = { units, frame: scheduleFrame(data) }
    const cells = [...data.all('opening')].flatMap((opening) =>
      scheduleColumns.map((column) => ({
        openingId: opening.id,
        column: column.key,
        text: column.text(scheduleRow(data, opening), context),
      })),
    )
    expect(setCells(data, cells, 'refuse')).toMatchObject({ ok: true, change: { edits: [] }, leftOut: [] })
  }
})

test('what is shown reads as what it shows, on an opening that knows nothing', () => {
  const data = smallJob()
  const context = { units: 'imperial' as const, frame: scheduleFrame(data) }
  for (const id of ['a', 'b', 'c', 'd', 'f', 'i']) {
    const row = scheduleRow(data, openingOf(data, id))
    for (const column of scheduleColumns) {
      if (column.read === undefined || column.key === 'mark') continue
      const fresh = smallJob()
      type(fresh, 'e', column.key, column.text(row, context))
      expect(column.text(scheduleRow(fresh, openingOf(fresh, 'e')), context)).toBe(column.text(row, context))
    }
  }
})

test.each([
  ['type', [['a', 'hand']], 'Set hand of 101'],
  [
    'clear',
    [
      ['a', 'hand'],
      ['b', 'hand'],
    ],
    'Clear hand of 2 openings',
  ],
  [
    'fill',
    [
      ['a', 'frame'],
      ['b', 'frame'],
      ['c', 'frame'],
    ],
    'Fill frame material of 3 openings',
  ],
  [
    'paste',
    [
      ['a', 'hand'],
      ['a', 'frame'],
    ],
    'Paste 2 cells of 101',
  ],
] as const)('the name of a change: %s', (how, places, name) => {
  const cells = places.map(([openingId, column]) => ({ openingId, column, text: '' }))
  const made = plan({ does: 'set cells', how, cells, unreadable: 'refuse' }, smallJob(), counter())
  expect(made).toMatchObject({ ok: true, change: { name } })
})
