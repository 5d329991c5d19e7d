import Database from 'better-sqlite3'
import { getTableName } from 'drizzle-orm'
import { getTableConfig } from 'drizzle-orm/sqlite-core'
import path from 'node:path'
import { expect, test } from 'vitest'
import { z } from 'zod'
import { recordKinds, records, references, type JobRecord, type RecordKind } from '../../../core/job/index.ts'
import { migrationsFolder } from '../../../electron/store/index.ts'
import { attachment, change, recordTables, schemaMigration } from '../../../electron/store/tables.ts'
import { readMigrations, schemaText } from '../../../electron/store/upgrade.ts'

const snake = (field: string): string => field.replaceAll(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`)

function migrated(): Database.Database {
  const db = new Database(':memory:')
  for (const migration of readMigrations(migrationsFolder)) db.exec(migration.sql)
  return db
}

interface ColumnInfo {
  readonly name: string
  readonly type: string
  readonly notnull: number
  readonly pk: number
}

const columnsOf = (db: Database.Database, table: string): ColumnInfo[] =>
  db.pragma(`table_info("${table}")`) as ColumnInfo[]

const bare = (schema: z.ZodType): z.ZodType =>
  schema instanceof z.ZodNullable ? (schema.unwrap() as z.ZodType) : schema

function storedAs(schema: z.ZodType): string {
  const inner = bare(schema)
  if (inner instanceof z.ZodBoolean) return 'INTEGER'
  if (inner instanceof z.ZodNumber) return inner.format === 'safeint' ? 'INTEGER' : 'REAL'
  return 'TEXT'
}

test.each(recordKinds)(
  'the table of %s has the columns of the record shape, in SQL and in drizzle',
  (kind) => {
    const db = migrated()
    const expected = Object.entries(records[kind].shape).map(([field, each]) => ({
      name: snake(field),
      type: storedAs(each as z.ZodType),
      notnull: each instanceof z.ZodNullable ? 0 : 1,
      pk: field === 'id' ? 1 : 0,
    }))
    const inSql = columnsOf(db, snake(kind)).map(({ name, type, notnull, pk }) => ({
      name,
      type,
      notnull,
      pk,
    }))
    expect(inSql).toEqual(expected)
    const inDrizzle = getTableConfig(recordTables[kind]).columns.map((column) => ({
      name: column.name,
      type: column.getSQLType().toUpperCase(),
      notnull: column.notNull ? 1 : 0,
      pk: column.primary ? 1 : 0,
    }))
    expect(inDrizzle).toEqual(expected)
    expect(Object.keys(recordTables[kind]).filter((key) => key in records[kind].shape)).toEqual(
      Object.keys(records[kind].shape),
    )
  },
)

test.each([change, attachment, schemaMigration])(
  'the other tables are the same in SQL and in drizzle',
  (table) => {
    const inSql = columnsOf(migrated(), getTableName(table)).map(({ name, type }) => ({ name, type }))
    const inDrizzle = getTableConfig(table).columns.map((column) => ({
      name: column.name,
      type: column.getSQLType().toUpperCase(),
    }))
    expect(inDrizzle).toEqual(inSql)
  },
)

test('every table is STRICT', () => {
  const tables = migrated().pragma('table_list') as { name: string; schema: string; strict: number }[]
  const ours = tables.filter((table) => table.schema === 'main' && !table.name.startsWith('sqlite_'))
  expect(ours).toHaveLength(recordKinds.length + 3)
  expect(ours.filter((table) => table.strict !== 1)).toEqual([])
})

test('every reference is a foreign key that restricts, with an index', () => {
  const db = migrated()
  const inSql: string[] = []
  const inDrizzle: string[] = []
  for (const kind of recordKinds) {
    const keys = db.pragma(`foreign_key_list("${snake(kind)}")`) as {
      from: string
      table: string
      to: string
      on_delete: string
    }[]
    for (const key of keys) inSql.push(`${snake(kind)}.${key.from} > ${key.table}.${key.to} ${key.on_delete}`)
    for (const key of getTableConfig(recordTables[kind]).foreignKeys) {
      const { columns, foreignTable, foreignColumns } = key.reference()
      const line = `${snake(kind)}.${columns[0]?.name} > ${getTableName(foreignTable)}.${foreignColumns[0]?.name}`
      inDrizzle.push(`${line} ${(key.onDelete ?? 'no action').toUpperCase()}`)
    }
  }
  const expected = references.map(
    ({ from, field, to }) => `${snake(from)}.${snake(field)} > ${snake(to)}.id NO ACTION`,
  )
  expect(inSql.toSorted()).toEqual(expected.toSorted())
  expect(inDrizzle.toSorted()).toEqual(expected.toSorted())
  for (const { from, field } of references) {
    const plan = db
      .prepare<[], { detail: string }>(
        `EXPLAIN QUERY PLAN SELECT 1 FROM "${snake(from)}" WHERE "${snake(field)}" = 'x'`,
      )
      .all()
    expect(plan[0]?.detail, `${from}.${field}`).toMatch(/^SEARCH .* USING .*INDEX/)
  }
})

test('booleans, choices and nested values are held by checks', () => {
  const db = migrated()
  const unchecked: string[] = []
  for (const kind of recordKinds) {
    const text = db
      .prepare<[string], string>('SELECT sql FROM sqlite_schema WHERE name = ?')
      .pluck()
      .get(snake(kind))
    for (const [field, each] of Object.entries(records[kind].shape)) {
      const check = checkOf(field, bare(each as z.ZodType))
      if (check !== null && text?.includes(check) !== true) unchecked.push(`${kind}.${field}: ${check}`)
    }
  }
  expect(unchecked).toEqual([])
})

function checkOf(field: string, shape: z.ZodType): string | null {
  const column = field === 'when' ? '"when"' : snake(field)
  if (shape instanceof z.ZodBoolean) return `CHECK (${column} IN (0, 1))`
  if (shape instanceof z.ZodEnum)
    return `CHECK (${column} IN (${shape.options.map((one) => `'${one}'`).join(', ')}))`
  if (shape instanceof z.ZodObject || shape instanceof z.ZodRecord) return `CHECK (json_valid(${column}))`
  return null
}

test('the snapshot is what the migrations add up to (vitest -u writes it anew)', async () => {
  const snapshot = `-- What the migrations add up to. Written by tests/electron/store/tables.test.ts; not run by anything.\n\n${schemaText(migrated())}`
  await expect(snapshot).toMatchFileSnapshot(path.join(migrationsFolder, 'snapshot.sql'))
})

// Compile-time: a row as drizzle reads it is a record, and the other way round.
type Same<A, B> = [A] extends [B] ? ([B] extends [A] ? true : false) : false
type RowsAreRecords = {
  [K in RecordKind]: Same<(typeof recordTables)[K]['$inferSelect'], JobRecord<K>>
}
const rowsAreRecords: { [K in RecordKind]: true } = {} as RowsAreRecords
test('the types agree', () => expect(rowsAreRecords).toEqual({}))
