// Records to rows and back, by raw statements written from the drizzle columns: drizzle's own are ten times slower.
import type { SQLiteTable } from 'drizzle-orm/sqlite-core'
import { getTableName } from 'drizzle-orm/table'
import { getTableColumns } from 'drizzle-orm/utils'
import { JobData, recordKinds, type Edit, type RecordKind } from '../../core/job/index.ts'
import type { Statement } from 'better-sqlite3'
import type { Connection } from './connection.ts'
import { recordTables } from './tables.ts'

export type Fields = Readonly<Record<string, unknown>>

interface Column {
  readonly field: string
  readonly name: string
  readonly form: 'plain' | 'boolean' | 'json'
}

export interface KindTable {
  readonly name: string
  readonly columns: readonly Column[]
}

const quoted = (name: string): string => `"${name}"`

function describe(kind: RecordKind): KindTable {
  const table: SQLiteTable = recordTables[kind]
  const columns = Object.entries(getTableColumns(table)).map(([field, column]): Column => {
    const form = column.dataType === 'boolean' || column.dataType === 'json' ? column.dataType : 'plain'
    return { field, name: column.name, form }
  })
  return { name: getTableName(table), columns }
}

export const kindTables: ReadonlyMap<RecordKind, KindTable> = new Map(
  recordKinds.map((kind) => [kind, describe(kind)]),
)

export const tableOf = (kind: RecordKind): KindTable => kindTables.get(kind) as KindTable

/** Every record of a kind as it stands in the file, in order of id. Throws SyntaxError on a broken JSON value. */
export function readRecords(db: Connection, kind: RecordKind): Fields[] {
  const { name, columns } = tableOf(kind)
  const list = columns.map((column) => `${quoted(column.name)} AS ${quoted(column.field)}`).join(', ')
  const rows = db
    .prepare<[], Record<string, unknown>>(`SELECT ${list} FROM ${quoted(name)} ORDER BY id`)
    .all()
  const special = columns.filter((column) => column.form !== 'plain')
  if (special.length > 0)
    for (const row of rows)
      for (const { field, form } of special) {
        const value = row[field]
        if (value === null) continue
        row[field] = form === 'boolean' ? value === 1 : JSON.parse(value as string)
      }
  return rows
}

/** The whole job into memory, as of one moment. */
export function loadJob(db: Connection): JobData {
  const data = new JobData()
  db.transaction(() => {
    for (const kind of recordKinds)
      for (const record of readRecords(db, kind)) data.put(kind, record as never)
  })()
  return data
}

/** Writes edits through statements that are prepared once. Constraint errors of SQLite are thrown. */
export class RecordWriter {
  readonly #db: Connection
  readonly #statements = new Map<string, Statement>()

  constructor(db: Connection) {
    this.#db = db
  }

  write(edit: Edit): void {
    const { name, columns } = tableOf(edit.kind)
    switch (edit.does) {
      case 'add': {
        const names = columns.map((column) => quoted(column.name)).join(', ')
        const sql = `INSERT INTO ${quoted(name)} (${names}) VALUES (${columns.map(() => '?').join(', ')})`
        this.#run(`add ${name}`, sql, stored(columns, edit.record))
        break
      }
      case 'set': {
        const touched = columns.filter((column) => Object.hasOwn(edit.to, column.field))
        const sql = `UPDATE ${quoted(name)} SET ${touched.map((column) => `${quoted(column.name)} = ?`).join(', ')} WHERE id = ?`
        const key = `set ${name} ${touched.map((column) => column.name).join(' ')}`
        this.#run(key, sql, [...stored(touched, edit.to), edit.id])
        break
      }
      case 'remove':
        this.#run(`remove ${name}`, `DELETE FROM ${quoted(name)} WHERE id = ?`, [edit.record['id']])
        break
    }
  }

  #run(key: string, sql: string, bound: readonly unknown[]): void {
    let statement = this.#statements.get(key)
    if (statement === undefined) this.#statements.set(key, (statement = this.#db.prepare(sql)))
    if (statement.run(...bound).changes !== 1) throw new Error(`expected one row: ${key}`)
  }
}

function stored(columns: readonly Column[], fields: Fields): unknown[] {
  return columns.map(({ field, form }) => {
    const value = fields[field]
    if (value === null) return null
    if (form === 'boolean') return value === true ? 1 : 0
    return form === 'json' ? JSON.stringify(value) : value
  })
}
