// Brings a job file to today's schema: numbered SQL, each step recorded with its hash, all of it or nothing.
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { connectInMemory, valueOf, type Connection } from './connection.ts'
import { applicationId } from './names.ts'

export interface Migration {
  readonly number: number
  readonly name: string
  readonly sql: string
  /** Of the text with LF line ends, so that a checkout on another system counts as the same. */
  readonly sha256: string
}

export type SchemaState =
  | { readonly state: 'foreign' }
  | { readonly state: 'newer' }
  | { readonly state: 'edited'; readonly migration: string }
  | { readonly state: 'altered'; readonly what: string }
  | { readonly state: 'known'; readonly pending: readonly Migration[] }

/** A step that failed, and why. The file is as it was before. */
export class UpgradeFailed extends Error {
  readonly migration: string
  constructor(migration: string, cause: unknown) {
    super(cause instanceof Error ? cause.message : String(cause), { cause })
    this.migration = migration
  }
}

/** The numbered steps of a folder, in order. Throws when a number is missing or twice there. */
export function readMigrations(folder: string): readonly Migration[] {
  const names = fs
    .readdirSync(folder)
    .filter((name) => /^\d{4}-[a-z0-9-]+\.sql$/.test(name))
    .toSorted()
  return names.map((fileName, index) => {
    const number = Number(fileName.slice(0, 4))
    if (number !== index + 1) throw new Error(`migrations are not numbered one by one at ${fileName}`)
    const sql = fs.readFileSync(path.join(folder, fileName), 'utf8').replaceAll('\r\n', '\n')
    const sha256 = createHash('sha256').update(sql).digest('hex')
    return { number, name: fileName.slice(5, -4), sql, sha256 }
  })
}

interface SchemaItem {
  readonly type: string
  readonly name: string
  readonly sql: string | null
}

const schemaItems = (db: Connection): SchemaItem[] =>
  db
    .prepare<[], SchemaItem>(
      `SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY rowid`,
    )
    .all()

/** The whole schema as SQL text, in the order it was made. */
export const schemaText = (db: Connection): string =>
  schemaItems(db)
    .map((item) => `${item.sql ?? ''};\n`)
    .join('\n')

const plain = (sql: string | null): string => (sql ?? '').replaceAll(/["`\s]+/g, ' ').trim()

/** The first thing in which a schema differs from what the steps make, or null. Triggers and views count. */
function differenceFrom(db: Connection, migrations: readonly Migration[]): string | null {
  const model = connectInMemory()
  try {
    for (const migration of migrations) model.exec(migration.sql)
    const expected = new Map(schemaItems(model).map((item) => [`${item.type} ${item.name}`, plain(item.sql)]))
    for (const item of schemaItems(db)) {
      const key = `${item.type} ${item.name}`
      if (expected.get(key) !== plain(item.sql)) return key
      expected.delete(key)
    }
    for (const missing of expected.keys()) return `no ${missing}`
    return null
  } finally {
    model.close()
  }
}

/** Where a file stands against the steps this program knows. Reads only. */
export function schemaState(db: Connection, migrations: readonly Migration[]): SchemaState {
  if (valueOf(db, 'PRAGMA application_id') !== applicationId) return { state: 'foreign' }
  const isThere = valueOf(
    db,
    `SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name = 'schema_migration'`,
  )
  if (isThere !== 1) return { state: 'altered', what: 'no table schema_migration' }
  const applied = db
    .prepare<[], { number: number; name: string; sha256: string }>(
      'SELECT number, name, sha256 FROM schema_migration ORDER BY number',
    )
    .all()
  if (applied.length > migrations.length) return { state: 'newer' }
  for (const [index, step] of applied.entries()) {
    const ours = migrations[index] as Migration
    const migration = `${String(step.number).padStart(4, '0')}-${step.name}`
    if (step.number !== ours.number || step.sha256 !== ours.sha256) return { state: 'edited', migration }
  }
  const what = differenceFrom(db, migrations.slice(0, applied.length))
  if (what !== null) return { state: 'altered', what }
  return { state: 'known', pending: migrations.slice(applied.length) }
}

/** Applies the steps in one transaction. Throws UpgradeFailed, with the file as it was. */
export function applyMigrations(db: Connection, pending: readonly Migration[], appliedAt: string): void {
  // Outside the transaction: inside it SQLite ignores the pragma, and dropping a rebuilt table would empty its children.
  db.pragma('foreign_keys = OFF')
  let current = ''
  try {
    db.transaction(() => {
      for (const migration of pending) {
        current = `${String(migration.number).padStart(4, '0')}-${migration.name}`
        db.exec(migration.sql)
        db.prepare('INSERT INTO schema_migration (number, name, sha256, applied_at) VALUES (?, ?, ?, ?)').run(
          migration.number,
          migration.name,
          migration.sha256,
          appliedAt,
        )
        const orphans = db.pragma('foreign_key_check') as readonly { table: string }[]
        if (orphans.length > 0)
          throw new Error(`${orphans.length} rows of ${orphans[0]?.table} lost what they refer to`)
      }
    }).immediate()
  } catch (error) {
    throw new UpgradeFailed(current, error)
  } finally {
    db.pragma('foreign_keys = ON')
  }
}
