import Database from 'better-sqlite3'
import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import {
  listBackups,
  makeJobFile,
  migrationsFolder,
  openJobFile,
  writeJobAsTwin,
} from '../../../electron/store/index.ts'
import { readMigrations } from '../../../electron/store/upgrade.ts'
import { fileOf, optionsAt, smallRecords, temporaryFolder } from './support.ts'

/** Rebuilds a parent table that other tables refer to: the step that deletes children when it is done wrongly. */
const rebuildsLevel = `
CREATE TABLE new_level (
  id TEXT PRIMARY KEY NOT NULL,
  building_id TEXT NOT NULL REFERENCES building (id),
  name TEXT NOT NULL,
  position INTEGER NOT NULL,
  elevation_metres REAL,
  source_id TEXT,
  CHECK (position >= 0)
) STRICT, WITHOUT ROWID;
INSERT INTO new_level SELECT id, building_id, name, position, elevation_metres, source_id FROM level;
DROP TABLE level;
ALTER TABLE new_level RENAME TO level;
CREATE INDEX level_building_id ON level (building_id);
`
const steps = {
  rebuild: rebuildsLevel,
  fails: `${rebuildsLevel}\nUPDATE opening SET mark = 'changed';\nINSERT INTO no_such_table VALUES (1);`,
  orphans: `UPDATE opening SET notes = 'changed';\nDELETE FROM level WHERE id = 'level-1';`,
}

/** The shipped migrations and one more. */
function folderWith(sql: string): string {
  const folder = path.join(temporaryFolder(), 'migrations')
  fs.cpSync(migrationsFolder, folder, { recursive: true })
  const next = String(readMigrations(migrationsFolder).length + 1).padStart(4, '0')
  fs.writeFileSync(path.join(folder, `${next}-rehearsal.sql`), sql)
  return folder
}

function closedJob(): string {
  const jobPath = path.join(temporaryFolder(), 'clinic.lintelbook')
  fileOf(makeJobFile(jobPath, smallRecords(), optionsAt())).close()
  return jobPath
}

describe('an upgrade', () => {
  test('that rebuilds a parent table keeps the children, after a backup of the old form', () => {
    const jobPath = closedJob()
    const file = fileOf(
      openJobFile(
        jobPath,
        optionsAt('2026-04-01T00:00:00Z', { migrationsFolder: folderWith(steps.rebuild) }),
      ),
    )
    expect([file.data.count('level'), file.data.count('opening'), file.data.count('space')]).toEqual([
      2, 3, 1,
    ])
    expect(file.check().findings).toEqual([])
    file.close()
    const backups = listBackups(jobPath)
    expect(backups).toHaveLength(1)
    const old = fileOf(openJobFile(backups[0]?.path ?? '', optionsAt()))
    expect(old.data.count('opening')).toBe(3)
    expect(openJobFile(jobPath, optionsAt())).toMatchObject({ ok: false, problem: { code: 'newer' } })
  })

  test('done by the usual generated form would have emptied the children', () => {
    // Why the runner exists: libraries.md, the trap of foreign keys switched off inside a transaction.
    const db = new Database(':memory:')
    db.exec(`PRAGMA foreign_keys = ON; CREATE TABLE p (id TEXT PRIMARY KEY); CREATE TABLE c (p TEXT REFERENCES p ON DELETE CASCADE);
      INSERT INTO p VALUES ('1'); INSERT INTO c VALUES ('1');
      BEGIN; PRAGMA foreign_keys = OFF; DROP TABLE p; CREATE TABLE p (id TEXT PRIMARY KEY); INSERT INTO p VALUES ('1'); COMMIT;`)
    expect(db.prepare('SELECT count(*) FROM c').pluck().get()).toBe(0)
  })

  test.each([
    ['fails', 'no such table'],
    ['orphans', 'lost what they refer to'],
  ] as const)('that %s leaves the file as it was, to the byte', (step, detail) => {
    const jobPath = closedJob()
    const before = fs.readFileSync(jobPath)
    const result = openJobFile(jobPath, optionsAt(undefined, { migrationsFolder: folderWith(steps[step]) }))
    expect(result).toMatchObject({
      ok: false,
      problem: { code: 'upgrade-failed', detail: expect.stringContaining(detail) as string },
    })
    expect(fs.readFileSync(jobPath).equals(before)).toBe(true)
    expect(fs.readdirSync(path.dirname(jobPath)).toSorted()).toEqual([
      'clinic.lintelbook',
      'clinic.lintelbook-backups',
    ])
    expect(fileOf(openJobFile(jobPath, optionsAt())).data.count('opening')).toBe(3)
  })

  test('without room for a backup is not begun', () => {
    const jobPath = closedJob()
    fs.writeFileSync(`${jobPath}-backups`, 'a file where the folder should be')
    const before = fs.readFileSync(jobPath)
    const result = openJobFile(jobPath, optionsAt(undefined, { migrationsFolder: folderWith(steps.rebuild) }))
    expect(result).toMatchObject({ ok: false, problem: { code: 'no-backup' } })
    expect(fs.readFileSync(jobPath).equals(before)).toBe(true)
  })

  test('is done in memory for a reader, and the file is not touched', () => {
    const jobPath = closedJob()
    const before = fs.readFileSync(jobPath)
    const file = fileOf(
      openJobFile(
        jobPath,
        optionsAt(undefined, { readOnly: true, migrationsFolder: folderWith(steps.rebuild) }),
      ),
    )
    expect([file.data.count('opening'), file.readOnly]).toEqual([3, true])
    file.close()
    expect(fs.readFileSync(jobPath).equals(before)).toBe(true)
    expect(listBackups(jobPath)).toEqual([])
  })
})

describe('a migration', () => {
  test('that was edited after it was applied is noticed', () => {
    const jobPath = closedJob()
    const folder = folderWith(steps.rebuild)
    const first = path.join(folder, '0001-ground-floor.sql')
    fs.appendFileSync(first, '-- one more word\n')
    expect(openJobFile(jobPath, optionsAt(undefined, { migrationsFolder: folder }))).toMatchObject({
      ok: false,
      problem: { code: 'edited-migration', migration: '0001-ground-floor' },
    })
  })

  test('with CRLF line ends is the same one', () => {
    const jobPath = closedJob()
    const folder = folderWith(steps.rebuild)
    const first = path.join(folder, '0001-ground-floor.sql')
    fs.writeFileSync(first, fs.readFileSync(first, 'utf8').replaceAll('\n', '\r\n'))
    expect(openJobFile(jobPath, optionsAt(undefined, { migrationsFolder: folder })).ok).toBe(true)
  })

  test('whose number is missing stops the program', () => {
    const folder = folderWith(steps.rebuild)
    const last = fs.readdirSync(folder).find((name) => name.endsWith('-rehearsal.sql')) ?? ''
    const later = String(Number(last.slice(0, 4)) + 1).padStart(4, '0')
    fs.renameSync(path.join(folder, last), path.join(folder, last.replace(/^\d{4}/, later)))
    expect(() => readMigrations(folder)).toThrow('not numbered one by one')
  })
})

const shipped = path.resolve(import.meta.dirname, '../../../fixtures/shipped-schemas')
const shippedFiles = fs.readdirSync(shipped).filter((name) => name.endsWith('.lintelbook'))

describe('every schema that shipped', () => {
  test('has a file here', () => {
    const expected = readMigrations(migrationsFolder).map(
      ({ number }) => `${String(number).padStart(4, '0')}.lintelbook`,
    )
    expect(shippedFiles.toSorted()).toEqual(expected)
  })

  test.each(shippedFiles)('%s opens, upgrades, and equals its twin to the byte', (name) => {
    const copy = path.join(temporaryFolder(), name)
    fs.copyFileSync(path.join(shipped, name), copy)
    const db = new Database(copy, { readonly: true })
    const tables = db.prepare<[], string>(`SELECT name FROM sqlite_schema WHERE type = 'table'`).pluck().all()
    for (const table of tables)
      expect(db.prepare(`SELECT count(*) FROM "${table}"`).pluck().get(), table).toBeGreaterThan(0)
    db.close()
    const file = fileOf(openJobFile(copy, optionsAt()))
    const twin = fs.readFileSync(path.join(shipped, name.replace('.lintelbook', '.twin.json')), 'utf8')
    expect(writeJobAsTwin(file)).toBe(twin)
    expect(file.undo().ok).toBe(true)
    expect(file.redo().ok).toBe(true)
  })
})
