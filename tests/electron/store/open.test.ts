import Database from 'better-sqlite3'
import { spawnSync } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { makeJobFile, openJobFile } from '../../../electron/store/index.ts'
import { fileOf, optionsAt, smallJob, smallRecords, temporaryFolder } from './support.ts'

/** A closed job file, spoilt. */
function spoilt(spoil: (jobPath: string) => void): string {
  const file = smallJob()
  file.close()
  spoil(file.path)
  return file.path
}

const inside =
  (sql: string) =>
  (jobPath: string): void => {
    const db = new Database(jobPath)
    db.exec(sql)
    db.close()
  }

function overwrite(jobPath: string, at: number, bytes: Buffer): void {
  const handle = fs.openSync(jobPath, 'r+')
  fs.writeSync(handle, bytes, 0, bytes.length, at)
  fs.closeSync(handle)
}

// What is done to the file, the code, and words of the sentence.
const spoilings: readonly [string, (jobPath: string) => void, string, string][] = [
  ['deleted', (jobPath) => fs.rmSync(jobPath), 'missing', 'There is no file'],
  ['a folder', (jobPath) => (fs.rmSync(jobPath), fs.mkdirSync(jobPath)), 'folder', 'is a folder'],
  ['emptied', (jobPath) => fs.truncateSync(jobPath, 0), 'empty', 'is empty'],
  [
    'a text',
    (jobPath) => fs.writeFileSync(jobPath, 'Dear Ada,\n'.repeat(100)),
    'not-a-job',
    'not a Lintelbook job file',
  ],
  ['a short text', (jobPath) => fs.writeFileSync(jobPath, 'Hi'), 'not-a-job', 'not a Lintelbook job file'],
  [
    'a foreign database',
    (jobPath) => (fs.rmSync(jobPath), inside('CREATE TABLE t (a)')(jobPath)),
    'not-a-job',
    'left as it is',
  ],
  ['another application', inside('PRAGMA application_id = 1'), 'not-a-job', 'not a Lintelbook job file'],
  [
    'newer',
    inside(`INSERT INTO schema_migration VALUES (99, 'future', 'x', '2030-01-01T00:00:00Z')`),
    'newer',
    'update the program',
  ],
  [
    'of an edited migration',
    inside(`UPDATE schema_migration SET sha256 = 'x'`),
    'edited-migration',
    '0001-ground-floor',
  ],
  ['without its migrations', inside('DROP TABLE schema_migration'), 'altered', 'schema_migration'],
  [
    'given a trigger',
    inside(`CREATE TRIGGER evil AFTER UPDATE ON opening BEGIN DELETE FROM leaf; END`),
    'altered',
    'trigger evil',
  ],
  ['given a view', inside('CREATE VIEW v AS SELECT 1'), 'altered', 'view v'],
  ['given a column', inside('ALTER TABLE leaf ADD COLUMN colour TEXT'), 'altered', 'table leaf'],
  ['robbed of an index', inside('DROP INDEX leaf_opening_id'), 'altered', 'no index leaf_opening_id'],
  ['robbed of its job', inside('DELETE FROM job'), 'altered', 'not exactly one job'],
  [
    'cut to half',
    (jobPath) => fs.truncateSync(jobPath, fs.statSync(jobPath).size / 2),
    'truncated',
    'was cut short',
  ],
  ['cut to its first page', (jobPath) => fs.truncateSync(jobPath, 4096), 'truncated', 'was cut short'],
  [
    'cut within its header',
    (jobPath) => fs.truncateSync(jobPath, 60),
    'not-a-job',
    'not a Lintelbook job file',
  ],
  [
    'scribbled over in the middle',
    (jobPath) => overwrite(jobPath, 4096 * 6, Buffer.alloc(4096 * 40, 0xa5)),
    'damaged',
    'newest backup',
  ],
  [
    'scribbled over in its schema',
    (jobPath) => overwrite(jobPath, 110, Buffer.alloc(300, 0xff)),
    'damaged',
    'newest backup',
  ],
]

describe('a file that is not as it should be', () => {
  test.each(spoilings)(
    '%s: refused with a sentence, untouched, nothing left beside it',
    (_what, spoil, code, words) => {
      const jobPath = spoilt(spoil)
      const before = fs.existsSync(jobPath) && fs.statSync(jobPath).isFile() ? fs.readFileSync(jobPath) : null
      for (const readOnly of [false, true]) {
        const result = openJobFile(jobPath, optionsAt(undefined, { readOnly }))
        expect(result).toMatchObject({ ok: false, problem: { code } })
        expect(result.ok ? '' : result.sentence).toContain(words)
      }
      if (before !== null) expect(fs.readFileSync(jobPath).equals(before)).toBe(true)
      expect(fs.readdirSync(path.dirname(jobPath)).filter((name) => name !== 'clinic.lintelbook')).toEqual([])
    },
  )

  test('damage under a sound structure is found by the checkup', () => {
    const jobPath = spoilt(
      inside(
        `UPDATE opening SET installed_on = 'last spring' WHERE id = 'opening-1'; PRAGMA foreign_keys = OFF; UPDATE leaf SET opening_id = 'nobody'`,
      ),
    )
    const { findings, sound } = fileOf(openJobFile(jobPath, optionsAt())).check()
    expect(sound).toBe(false)
    expect(findings.join('\n')).toContain('A row of leaf refers to a row of opening that is not there.')
    expect(findings.join('\n')).toContain(
      'The opening opening-1, field installedOn: expected a day such as 2026-01-31',
    )
  })
})

describe('what was being written when the machine stopped', () => {
  test('is rolled back by the next writer, and a reader without a pen says so', () => {
    const jobPath = spoilt(() => undefined)
    // A transaction that has reached the disk, and its journal: copied while it is open, as a power cut would leave it.
    const db = new Database(jobPath)
    db.pragma('cache_size = 1')
    db.pragma('cache_spill = 1')
    db.exec(`BEGIN; UPDATE opening SET notes = 'half written'`)
    db.exec(`WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 3000)
      INSERT INTO contact (id, name) SELECT 'contact-' || i, 'somebody with a long name ' || i FROM n`)
    const copy = path.join(temporaryFolder(), 'clinic.lintelbook')
    fs.copyFileSync(jobPath, copy)
    fs.copyFileSync(`${jobPath}-journal`, `${copy}-journal`)
    db.exec('ROLLBACK')
    db.close()
    expect(openJobFile(copy, optionsAt(undefined, { readOnly: true }))).toMatchObject({
      ok: false,
      problem: { code: 'unfinished' },
    })
    const file = fileOf(openJobFile(copy, optionsAt()))
    expect([file.data.count('contact'), file.data.get('opening', 'opening-1')?.notes]).toEqual([0, null])
    expect(file.check().findings).toEqual([])
  })
})

describe('making a job', () => {
  test('never writes over a file', () => {
    const jobPath = path.join(temporaryFolder(), 'letter.txt')
    fs.writeFileSync(jobPath, 'Dear Ada')
    expect(makeJobFile(jobPath, smallRecords(), optionsAt())).toMatchObject({
      ok: false,
      problem: { code: 'exists' },
    })
    expect(fs.readFileSync(jobPath, 'utf8')).toBe('Dear Ada')
  })

  test('without a job, or with a reference to nothing, leaves nothing behind', () => {
    const folder = temporaryFolder()
    const { job: _job, ...rest } = smallRecords()
    expect(makeJobFile(path.join(folder, 'a.lintelbook'), rest, optionsAt())).toMatchObject({
      ok: false,
      problem: { code: 'bad-record', kind: 'job' },
    })
    expect(
      makeJobFile(path.join(folder, 'a.lintelbook'), { ...smallRecords(), level: [] }, optionsAt()),
    ).toMatchObject({ ok: false, problem: { code: 'conflict' } })
    expect(fs.readdirSync(folder)).toEqual([])
  })

  test('in a folder that is not there says so', () => {
    expect(
      makeJobFile(path.join(temporaryFolder(), 'no', 'a.lintelbook'), smallRecords(), optionsAt()),
    ).toMatchObject({ ok: false, problem: { code: 'missing' } })
  })

  test.each(['über straße 扉', "it's 100% #1?", 'a.b.c', ' blanks '])('with the name "%s" works', (name) => {
    const jobPath = path.join(temporaryFolder(), `${name}.lintelbook`)
    fileOf(makeJobFile(jobPath, smallRecords(), optionsAt())).close()
    const file = fileOf(openJobFile(jobPath, optionsAt()))
    expect(file.backup().ok).toBe(true)
    file.close()
    expect(fs.readdirSync(path.dirname(jobPath))).toEqual([
      `${name}.lintelbook`,
      `${name}.lintelbook-backups`,
    ])
  })
})

describe('attachments', () => {
  test('are kept once, checked by hash, and survive', () => {
    let file = smallJob()
    const first = file.attach(Buffer.from('drawing'))
    expect(file.attach(Buffer.from('drawing'))).toEqual(first)
    const sha256 = first.ok ? first.sha256 : ''
    file.close()
    file = fileOf(openJobFile(file.path, optionsAt()))
    expect(file.attachment(sha256)).toMatchObject({ ok: true, bytes: Buffer.from('drawing') })
    expect(file.attachment('0'.repeat(64))).toMatchObject({
      ok: false,
      problem: { code: 'attachment-missing' },
    })
    file.close()
    inside(`UPDATE attachment SET bytes = x'00'`)(file.path)
    file = fileOf(openJobFile(file.path, optionsAt()))
    expect(file.attachment(sha256)).toMatchObject({ ok: false, problem: { code: 'attachment-damaged' } })
    expect(file.check().findings).toHaveLength(1)
  })
})

test('empty bytes are an attachment too, and bad bytes are put right by good ones', () => {
  const file = smallJob()
  const empty = file.attach(new Uint8Array())
  expect(file.attachment(empty.ok ? empty.sha256 : '')).toMatchObject({ ok: true, bytes: Buffer.alloc(0) })
  const good = file.attach(Buffer.from('good'))
  file.close()
  inside(`UPDATE attachment SET bytes = x'00' WHERE length(bytes) = 4`)(file.path)
  const again = fileOf(openJobFile(file.path, optionsAt()))
  expect(again.check().sound).toBe(false)
  expect(again.attach(Buffer.from('good'))).toEqual(good)
  expect(again.check().sound).toBe(true)
})

describe('after closing', () => {
  test('one file is left, and changes are refused', () => {
    const file = smallJob()
    file.commit({
      name: 'x',
      edits: [{ does: 'set', kind: 'opening', id: 'opening-1', from: { notes: null }, to: { notes: 'n' } }],
    })
    expect(fs.readdirSync(path.dirname(file.path)).length).toBeGreaterThan(1)
    file.close()
    file.close()
    expect(fs.readdirSync(path.dirname(file.path))).toEqual(['clinic.lintelbook'])
    expect(file.undo()).toMatchObject({ ok: false, problem: { code: 'closed' } })
    expect(file.attach(Buffer.from('x'))).toMatchObject({ ok: false, problem: { code: 'closed' } })
    expect(file.refresh()).toMatchObject({ ok: false, problem: { code: 'closed' } })
  })
})

const canBeNobody = process.getuid?.() === 0
describe.skipIf(!canBeNobody)('as somebody with fewer rights (needs to start as root)', () => {
  const script = path.join(import.meta.dirname, 'child-opens.ts')
  const openAsNobody = (jobPath: string): unknown =>
    JSON.parse(
      spawnSync(process.execPath, [script, jobPath], { uid: 65_534, encoding: 'utf8' }).stdout || '{}',
    )

  test.each([
    ['a file that cannot be read', 0o000, 0o777, { ok: false, code: 'no-permission' }],
    [
      'a file that cannot be written',
      0o444,
      0o777,
      { ok: true, readOnly: true, because: 'no-lock', openings: 3 },
    ],
    [
      'a folder that cannot be written',
      0o666,
      0o555,
      { ok: true, readOnly: true, because: 'no-lock', openings: 3 },
    ],
  ])('%s', (_what, fileMode, folderMode, expected) => {
    const file = smallJob()
    file.close()
    fs.chmodSync(file.path, fileMode)
    fs.chmodSync(path.dirname(file.path), folderMode)
    expect(openAsNobody(file.path)).toMatchObject(expected)
  })
})
if (!canBeNobody)
  console.log('Skipped: the tests of rights need to start as root, to step down to somebody with fewer.')

test('where no lock can be made, the job can be read, and the reason is given', () => {
  const file = smallJob()
  file.close()
  fs.mkdirSync(`${file.path}-lock`)
  const again = fileOf(openJobFile(file.path, optionsAt()))
  expect([again.readOnly, again.readOnlyBecause?.code, again.data.count('opening')]).toEqual([
    true,
    'no-lock',
    3,
  ])
})
