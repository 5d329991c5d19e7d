import fs from 'node:fs'
import path from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { writeTwin } from '../../../core/exchange/index.ts'
import {
  recordKinds,
  records,
  references,
  removeRecords,
  type Change,
  type Edit,
  type RecordKind,
} from '../../../core/job/index.ts'
import { makeJobFile, openJobFile, type JobFile } from '../../../electron/store/index.ts'
import { same } from '../../../electron/store/check-change.ts'
import { oneOfEach } from '../../../fixtures/shipped-schemas/one-of-each.ts'
import { fileOf, opening, optionsAt, record, smallJob, temporaryFolder } from './support.ts'

const recordsAsText = (file: JobFile): string => writeTwin({ data: file.data, attachments: {}, history: [] })

const setHand = (from: string | null, to: string | null, id = 'opening-1'): Change => ({
  name: `Set hand of ${id}`,
  edits: [{ does: 'set', kind: 'opening', id, from: { hand: from }, to: { hand: to } }],
})

function reopened(file: JobFile): JobFile {
  file.close()
  return fileOf(openJobFile(file.path, optionsAt()))
}

describe('commit, undo and redo', () => {
  test('go across a restart, with their names', () => {
    let file = smallJob()
    expect(file.commit(setHand('LH', 'RH'))).toMatchObject({ ok: true, revision: 1 })
    expect(
      file.commit({ name: 'Add 104', edits: [{ does: 'add', kind: 'opening', record: { ...opening(4) } }] })
        .ok,
    ).toBe(true)
    file = reopened(file)
    expect([file.undoName, file.redoName, file.revision]).toEqual(['Add 104', null, 2])
    expect(file.undo()).toMatchObject({ ok: true, name: 'Add 104', revision: 3 })
    expect(file.data.get('opening', 'opening-4')).toBeUndefined()
    file = reopened(file)
    expect([file.undoName, file.redoName, file.revision]).toEqual(['Set hand of opening-1', 'Add 104', 3])
    expect(file.undo().ok).toBe(true)
    expect(file.data.get('opening', 'opening-1')?.hand).toBe('LH')
    file = reopened(file)
    expect(file.redo()).toMatchObject({ ok: true, name: 'Set hand of opening-1' })
    expect(file.redo()).toMatchObject({ ok: true, name: 'Add 104' })
    expect(file.redo()).toMatchObject({ ok: false, problem: { code: 'nothing-to-redo' } })
    expect(file.data.get('opening', 'opening-4')?.mark).toBe('104')
    expect(file.data.get('opening', 'opening-1')?.hand).toBe('RH')
    expect(file.check()).toEqual({ sound: true, findings: [] })
  })

  test('a new change drops what was taken back, and keeps it in the history', () => {
    const file = smallJob()
    file.commit(setHand('LH', 'RH'))
    file.undo()
    file.commit({ ...setHand('LH', 'RHR'), name: 'Something else' })
    expect(file.redoName).toBeNull()
    expect(file.history(10).map(({ name, state, who }) => [name, state, who])).toEqual([
      ['Something else', 'done', 'Ada Fitter'],
      ['Set hand of opening-1', 'dropped', 'Ada Fitter'],
    ])
    expect(file.undo().ok).toBe(true)
    expect(file.undo()).toMatchObject({ ok: false, problem: { code: 'nothing-to-undo' } })
  })

  test('nothing to do is no change and leaves redo alone', () => {
    const file = smallJob()
    file.commit(setHand('LH', 'RH'))
    file.undo()
    expect(file.commit({ name: 'Nothing', edits: [] })).toMatchObject({ ok: true, revision: 2 })
    expect(file.redoName).toBe('Set hand of opening-1')
  })

  test('the history of one record', () => {
    const file = smallJob()
    file.commit(setHand('LH', 'RH'))
    file.commit(setHand(null, 'RH', 'opening-2'))
    expect(file.historyOf('opening-1', 10).map((entry) => entry.name)).toEqual(['Set hand of opening-1'])
    expect(file.historyOf('opening-', 10)).toEqual([])
  })

  test('a child may be removed with its parent in either order', () => {
    const file = smallJob()
    const removal = removeRecords(file.data, 'opening', ['opening-1'])
    expect(file.commit({ name: 'Delete 101', edits: removal.edits.toReversed() }).ok).toBe(true)
    expect(file.data.count('leaf')).toBe(0)
    expect(file.undo().ok).toBe(true)
    expect(file.data.get('leaf', 'leaf-1')?.openingId).toBe('opening-1')
    expect(file.check().findings).toEqual([])
  })
})

const leaf = (id: string, openingId: string) => ({
  ...record('leaf', { id, openingId, position: 0, role: 'only' } as never),
})
const edit = (one: unknown): Edit => one as Edit

// What is refused, why, and where the sentence points.
const refusals: readonly [string, Edit[], string, string, string | null][] = [
  ['set from a stale value', [...setHand('RH', 'LHR').edits], 'conflict', 'opening-1', 'hand'],
  ['set what is not there', [...setHand(null, 'LH', 'opening-9').edits], 'conflict', 'opening-9', null],
  [
    'add an id that is taken',
    [{ does: 'add', kind: 'opening', record: { ...opening(1) } }],
    'conflict',
    'opening-1',
    null,
  ],
  [
    'remove with old values',
    [{ does: 'remove', kind: 'opening', record: { ...opening(2, { mark: 'old' }) } }],
    'conflict',
    'opening-2',
    null,
  ],
  [
    'remove what is still needed',
    [
      {
        does: 'remove',
        kind: 'opening',
        record: { ...opening(1, { toSpaceId: 'space-1', typicalId: 'typical-1', hand: 'LH' }) },
      },
    ],
    'conflict',
    'opening-1',
    null,
  ],
  [
    'refer to nothing',
    [{ does: 'add', kind: 'leaf', record: leaf('leaf-9', 'opening-9') }],
    'conflict',
    'leaf-9',
    'openingId',
  ],
  ['an unknown kind', [edit({ does: 'add', kind: 'constructor', record: {} })], 'bad-record', '', null],
  [
    'an unknown field',
    [edit({ does: 'add', kind: 'opening', record: { ...opening(9), colour: 'red' } })],
    'bad-record',
    'opening-9',
    'colour',
  ],
  [
    'a missing field',
    [edit({ does: 'add', kind: 'leaf', record: { id: 'leaf-9', openingId: 'opening-1' } })],
    'bad-record',
    'leaf-9',
    'position',
  ],
  ['a wrong value', [...setHand('LH', 'left').edits], 'bad-record', 'opening-1', 'hand'],
  [
    'a wrong type',
    [
      {
        does: 'set',
        kind: 'opening',
        id: 'opening-1',
        from: { widthMicrometres: null },
        to: { widthMicrometres: 0.5 },
      },
    ],
    'bad-record',
    'opening-1',
    'widthMicrometres',
  ],
  [
    'the id itself',
    [{ does: 'set', kind: 'opening', id: 'opening-1', from: { id: 'opening-1' }, to: { id: 'x' } }],
    'bad-record',
    'opening-1',
    'id',
  ],
  [
    'from and to that differ in fields',
    [
      edit({
        does: 'set',
        kind: 'opening',
        id: 'opening-1',
        from: { hand: 'LH', notes: null },
        to: { hand: 'RH' },
      }),
    ],
    'bad-record',
    'opening-1',
    'notes',
  ],
  [
    'a prototype name as a field',
    [
      edit({
        does: 'set',
        kind: 'opening',
        id: 'opening-1',
        from: {},
        to: JSON.parse('{"__proto__":{"x":1}}') as object,
      }),
    ],
    'bad-record',
    'opening-1',
    '__proto__',
  ],
  [
    'a second job',
    [edit({ does: 'add', kind: 'job', record: { ...oneOfEach().job[0], id: 'job-2' } })],
    'bad-record',
    'job-1',
    null,
  ],
]

describe('a change that does not fit', () => {
  test.each(refusals)('%s is refused, and nothing else of it is kept', (_what, edits, code, id, field) => {
    const file = smallJob()
    const before = recordsAsText(file)
    const result = file.commit({ name: 'Bad', edits: [...setHand(null, 'RH', 'opening-3').edits, ...edits] })
    expect(result).toMatchObject({ ok: false, problem: { code, id, field } })
    expect(recordsAsText(file)).toBe(before)
    expect([file.revision, file.history(9)]).toEqual([0, []])
    const again = reopened(file)
    expect(recordsAsText(again)).toBe(before)
  })

  test('half a character is kept as the replacement character, in memory as on disk', () => {
    const file = smallJob()
    file.commit({
      name: 'Half \uD83D',
      edits: [
        { does: 'set', kind: 'opening', id: 'opening-1', from: { notes: null }, to: { notes: 'a\uDE00' } },
      ],
    })
    expect(file.data.get('opening', 'opening-1')?.notes).toBe('a\uFFFD')
    const before = recordsAsText(file)
    expect(recordsAsText(reopened(file))).toBe(before)
  })

  test('equal is equal in any order of keys', () => {
    expect(same({ a: 1, b: { c: null } }, { b: { c: null }, a: 1 })).toBe(true)
    expect(same({ a: 1 }, { a: 1, b: undefined })).toBe(false)
    expect(same({ toString: 1 }, {})).toBe(false)
  })
})

test('what somebody wrote past the lock is not written over: the job is read again', () => {
  const file = smallJob()
  fs.rmSync(`${file.path}-lock`)
  const other = fileOf(openJobFile(file.path, optionsAt()))
  expect(other.readOnly).toBe(false)
  expect(other.commit(setHand('LH', 'RH')).ok).toBe(true)
  expect(file.commit(setHand(null, 'RH', 'opening-2'))).toMatchObject({
    ok: false,
    problem: { code: 'overtaken' },
  })
  expect([file.data.get('opening', 'opening-1')?.hand, file.revision]).toEqual(['RH', 1])
  expect(file.commit(setHand(null, 'RH', 'opening-2')).ok).toBe(true)
  expect(other.undo()).toMatchObject({ ok: false, problem: { code: 'overtaken' } })
  expect(other.undo()).toMatchObject({ ok: true, name: 'Set hand of opening-2' })
})

describe('a file that is moved, deleted or replaced while it is open', () => {
  const gone = { ok: false, problem: { code: 'gone' } }

  test('takes no change until it is back', () => {
    const file = smallJob()
    fs.renameSync(file.path, `${file.path}.elsewhere`)
    expect(file.commit(setHand('LH', 'RH'))).toMatchObject(gone)
    expect(file.attach(Buffer.from('x'))).toMatchObject(gone)
    expect([file.revision, file.data.get('opening', 'opening-1')?.hand]).toEqual([0, 'LH'])
    fs.copyFileSync(
      path.resolve(import.meta.dirname, '../../../fixtures/shipped-schemas/0001.lintelbook'),
      file.path,
    )
    expect(file.commit(setHand('LH', 'RH')), 'another file in its place').toMatchObject(gone)
    fs.renameSync(`${file.path}.elsewhere`, file.path)
    expect(file.commit(setHand('LH', 'RH')).ok).toBe(true)
    expect(reopened(file).data.get('opening', 'opening-1')?.hand).toBe('RH')
  })

  test('is closed without a word when its folder is gone', () => {
    const file = smallJob()
    fs.rmSync(path.dirname(file.path), { recursive: true })
    expect(file.commit(setHand('LH', 'RH'))).toMatchObject(gone)
    file.close()
    expect(file.isOpen).toBe(false)
  })
})

test('a full disk refuses the change and keeps everything before it', async () => {
  const file = smallJob()
  const { default: Database } = await import('better-sqlite3')
  expect(file.commit(setHand('LH', 'RH')).ok).toBe(true)
  const before = recordsAsText(file)
  // The limit on pages is the connection's own, and the connection is the file's secret: caught as it is used.
  const original = Reflect.get(Database.prototype, 'pragma') as (this: unknown, ...all: unknown[]) => unknown
  const limited: unknown[] = []
  Reflect.set(Database.prototype, 'pragma', function (this: unknown, ...all: unknown[]) {
    if (all[0] === 'defer_foreign_keys = ON') {
      original.call(this, 'max_page_count = 1')
      limited.push(this)
    }
    return original.apply(this, all)
  })
  try {
    const large = { notes: 'n'.repeat(20_000) }
    const result = file.commit({
      name: 'Too much',
      edits: [{ does: 'set', kind: 'opening', id: 'opening-1', from: { notes: null }, to: large }],
    })
    expect(result).toMatchObject({ ok: false, problem: { code: 'disk-full' } })
    expect(limited).toHaveLength(1)
  } finally {
    Reflect.set(Database.prototype, 'pragma', original)
  }
  for (const db of limited) original.call(db, 'max_page_count = 1000000')
  expect(recordsAsText(file)).toBe(before)
  expect([file.revision, file.undoName]).toEqual([1, 'Set hand of opening-1'])
  expect(file.commit(setHand('RH', 'LHR')).ok).toBe(true)
  expect(file.check().findings).toEqual([])
  const after = recordsAsText(file)
  expect(recordsAsText(reopened(file))).toBe(after)
})

/** One random edit step: numbers that choose what to do among what is there. */
const step = fc.record({
  does: fc.nat(9),
  kind: fc.nat(),
  which: fc.nat(),
  field: fc.nat(),
  text: fc.string({ unit: 'grapheme', maxLength: 12 }),
  number: fc.nat(1000),
})
type Step = { does: number; kind: number; which: number; field: number; text: string; number: number }

let added = 0
function changeFrom(
  file: JobFile,
  { does, kind: kindNumber, which, field, text, number }: Step,
): Change | null {
  const kind = recordKinds[kindNumber % recordKinds.length] as RecordKind
  const there = [...file.data.all(kind)] as unknown as Record<string, unknown>[]
  if (kind !== 'job' && (does < 3 || there.length === 0)) {
    const row: Record<string, unknown> = { ...oneOfEach()[kind][number % 2], id: `${kind}-new-${added++}` }
    for (const { field: refers, to } of references.filter((each) => each.from === kind)) {
      const targets = [...file.data.all(to)] as unknown as { id: string }[]
      if (targets.length > 0) row[refers] = targets[which % targets.length]?.id
      else if (records[kind].shape[refers as never] !== undefined) return null
    }
    return { name: `Add ${kind}`, edits: [{ does: 'add', kind, record: row }] }
  }
  const chosen = there[which % there.length]
  if (chosen === undefined) return null
  if (does < 5 && kind !== 'job') {
    const removal = removeRecords(file.data, kind, [chosen['id'] as string])
    return removal.refusedBy === null ? { name: `Remove ${kind}`, edits: removal.edits } : null
  }
  const fields = Object.keys(records[kind].shape).filter((each) => each !== 'id')
  const name = fields[field % fields.length] as string
  const value = [text, number, number / 8, null, true, false][number % 6]
  return {
    name: `Set ${name}`,
    edits: [
      {
        does: 'set',
        kind,
        id: chosen['id'] as string,
        from: { [name]: chosen[name] },
        to: { [name]: value },
      },
    ],
  }
}

test('random changes, taken back all the way, give the same text to the byte; done again, the other', () => {
  const folder = temporaryFolder()
  let run = 0
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 25 }), (steps) => {
      const jobPath = `${folder}/${run++}.lintelbook`
      let file = fileOf(makeJobFile(jobPath, oneOfEach(), optionsAt()))
      const start = recordsAsText(file)
      let done = 0
      for (const each of steps) {
        const change = changeFrom(file, each)
        if (change === null) continue
        const before = recordsAsText(file)
        const result = file.commit(change)
        if (result.ok && result.edits.length > 0) done++
        if (!result.ok) {
          expect(['bad-record', 'conflict']).toContain(result.problem.code)
          expect(recordsAsText(file)).toBe(before)
        }
      }
      const end = recordsAsText(file)
      file = reopened(file)
      expect(recordsAsText(file)).toBe(end)
      for (let index = 0; index < done; index++) expect(file.undo().ok).toBe(true)
      expect(file.undoName).toBeNull()
      expect(recordsAsText(file)).toBe(start)
      file = reopened(file)
      expect(recordsAsText(file)).toBe(start)
      for (let index = 0; index < done; index++) expect(file.redo().ok).toBe(true)
      expect(recordsAsText(file)).toBe(end)
      expect(file.check().findings.filter((finding) => !finding.includes('not in the file'))).toEqual([])
      file.close()
      fs.rmSync(jobPath)
    }),
    { numRuns: 30, seed: 20260305 },
  )
}, 60_000)
