// Reading a table of which pages are gone: from both ends, then from every id that is still known from somewhere.
import { isSqliteError, type Connection } from './connection.ts'
import type { Fields } from './rows.ts'

export type Key = string | number

export interface ReadTable {
  readonly table: string
  /** The column that tells its rows apart. */
  readonly key: string
  readonly rows: Map<Key, Fields>
  /** Rows that are known to have been there and could not be read. */
  readonly missing: Set<Key>
  /** Every page of it was read. */
  readonly isWhole: boolean
}

export const tablesOf = (db: Connection): string[] =>
  db
    .prepare<[], string>(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'`)
    .pluck()
    .all()

const isDamage = (error: unknown): boolean =>
  isSqliteError(error) && /^SQLITE_(CORRUPT|NOTADB|IOERR_SHORT_READ|ERROR)/.test(error.code)

/**
 * Reads what can be read of a table. `model` has the columns it should have, `named` are keys that others refer to.
 * Errors other than those of damage are thrown on.
 */
export function readTable(
  source: Connection,
  model: Connection,
  table: string,
  named: readonly Key[],
): ReadTable {
  const key = keyOf(model, table)
  const columns = columnsOf(source, table)
  const list = columnsOf(model, table)
    .filter((column) => columns.includes(column))
    .map((column) => `"${column}"`)
    .join(', ')
  const rows = new Map<Key, Fields>()
  const byRowid = table === 'attachment'
  /** True when it went through to the end. */
  const readFrom = (clause: string, ...bound: Key[]): boolean => {
    try {
      const sql = `SELECT ${list} FROM "${table}" ${clause}`
      for (const row of source.prepare<Key[], Fields>(sql).iterate(...bound)) {
        const id = row[key] as Key
        if (bound.length > 0 && rows.has(id) && id !== bound[0]) return true
        rows.set(id, row)
      }
      return true
    } catch (error) {
      if (!isDamage(error)) throw error
      return false
    }
  }
  // NOT INDEXED: an index may be damaged where the table is not.
  const order = `NOT INDEXED ORDER BY ${byRowid ? 'rowid' : `"${key}"`}`
  if (readFrom(order)) return { table, key, rows, missing: new Set(), isWhole: true }
  readFrom(`${order} DESC`)
  const indexed = keysInIndexes(source, table, key)
  const known = new Set([...indexed, ...named])
  for (const id of known) if (!rows.has(id)) readFrom(`WHERE "${key}" >= ? ORDER BY "${key}"`, id)
  return { table, key, rows, missing: new Set([...known].filter((id) => !rows.has(id))), isWhole: false }
}

const columnsOf = (db: Connection, table: string): string[] =>
  (db.pragma(`table_info("${table}")`) as readonly { name: string }[]).map(({ name }) => name)

function keyOf(model: Connection, table: string): string {
  const columns = model.pragma(`table_info("${table}")`) as readonly { name: string; pk: number }[]
  const key = columns.find(({ pk }) => pk === 1)
  if (key === undefined) throw new Error(`the table ${table} has no key`)
  return key.name
}

/** Every index of a table holds the key of each row. */
function keysInIndexes(source: Connection, table: string, key: string): Set<Key> {
  const keys = new Set<Key>()
  for (const { name, origin } of indexesOf(source, table)) {
    // In a table WITHOUT ROWID the key's own index is the table.
    if (origin === 'pk' && table !== 'attachment') continue
    const column = (source.pragma(`index_info("${name}")`) as readonly { name: string }[])[0]?.name
    if (column === undefined) continue
    for (const direction of ['ASC', 'DESC'])
      try {
        const sql = `SELECT "${key}" FROM "${table}" INDEXED BY "${name}" ORDER BY "${column}" ${direction}`
        for (const id of source.prepare<[], Key>(sql).pluck().iterate()) keys.add(id)
        break
      } catch (error) {
        if (!isDamage(error)) throw error
      }
  }
  return keys
}

function indexesOf(source: Connection, table: string): readonly { name: string; origin: string }[] {
  return source.pragma(`index_list("${table}")`) as readonly { name: string; origin: string }[]
}
