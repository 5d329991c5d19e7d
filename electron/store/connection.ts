// One way to open SQLite, and what its error codes mean here.
import Database from 'better-sqlite3'
import fs from 'node:fs'
import { shownName } from './names.ts'
import type { StoreProblem } from './problems.ts'

export type Connection = Database.Database

export interface ConnectOptions {
  readonly readOnly: boolean
  readonly busyMilliseconds: number
}

/** Opens a database that is there. Throws SqliteError. */
export function connect(databasePath: string, options: ConnectOptions): Connection {
  const db = new Database(databasePath, {
    readonly: options.readOnly,
    fileMustExist: true,
    timeout: options.busyMilliseconds,
  })
  setUp(db)
  return db
}

/** An older file's copy in memory, so that it can be read at today's schema without being touched. */
export function copyInMemory(db: Connection): Connection {
  const copy = new Database(db.serialize())
  setUp(copy)
  return copy
}

export function connectInMemory(): Connection {
  const db = new Database(':memory:')
  setUp(db)
  return db
}

function setUp(db: Connection): void {
  // A file from a stranger may carry views and triggers that call functions; none of ours does.
  db.pragma('trusted_schema = OFF')
  db.pragma('cell_size_check = ON')
  db.pragma('foreign_keys = ON')
}

/** What stands on disk is one file: a rollback journal that is emptied at each commit, everything synced. */
export function prepareForWriting(db: Connection): void {
  db.pragma('journal_mode = TRUNCATE')
  db.pragma('synchronous = FULL')
}

/** Closes, and leaves one file behind where that can be done. */
export function closeTidily(db: Connection): void {
  if (!db.open) return
  try {
    // An emptied journal would stay beside the file; this takes it away. On a file opened to read it does nothing.
    if (!db.readonly) db.pragma('journal_mode = DELETE')
  } catch (error) {
    // The share went away, or the file was no database at all: there is nothing to tidy.
    if (!isSqliteError(error)) throw error
  } finally {
    db.close()
  }
}

/** The single value of a one-column, one-row statement. */
export const valueOf = (db: Connection, sql: string, ...bound: unknown[]): unknown =>
  db
    .prepare(sql)
    .pluck()
    .get(...bound)

export const isSqliteError = (error: unknown): error is Error & { readonly code: string } =>
  error instanceof Database.SqliteError

/** The coded problem behind an error of SQLite or of the file system. Anything else is a bug and is thrown on. */
export function problemOf(error: unknown, jobPath: string): StoreProblem {
  const file = shownName(jobPath)
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  const detail = error instanceof Error ? error.message : ''
  const starts = (...names: string[]): boolean => names.some((name) => code.startsWith(name))
  if (starts('SQLITE_NOTADB')) return { code: 'not-a-job', file }
  if (starts('SQLITE_CORRUPT')) return { code: 'damaged', file, detail }
  if (starts('SQLITE_FULL', 'ENOSPC', 'EDQUOT')) return { code: 'disk-full', file }
  if (starts('SQLITE_BUSY', 'SQLITE_LOCKED', 'EBUSY')) return { code: 'busy', file }
  if (starts('SQLITE_READONLY_ROLLBACK', 'SQLITE_READONLY_RECOVERY', 'SQLITE_READONLY_CANTLOCK'))
    return { code: 'unfinished', file }
  if (starts('SQLITE_READONLY', 'EROFS')) return { code: 'read-only', file }
  if (starts('SQLITE_CANTOPEN_ISDIR', 'EISDIR')) return { code: 'folder', file }
  if (starts('SQLITE_CANTOPEN', 'SQLITE_PERM', 'SQLITE_AUTH', 'EACCES', 'EPERM'))
    return { code: 'no-permission', file }
  if (starts('ENAMETOOLONG')) return { code: 'name-too-long', file }
  if (starts('ENOENT', 'ENOTDIR')) return { code: 'missing', file }
  if (starts('SQLITE_IOERR', 'EIO', 'ESTALE', 'ENOTCONN', 'EHOSTDOWN', 'ETIMEDOUT'))
    return { code: 'unreachable', file, detail }
  throw error
}

/** Says whether a file that SQLite calls malformed is in truth too short for its own header. */
export function shortage(jobPath: string): { readonly bytes: number; readonly expectedBytes: number } | null {
  // Only for files that nobody in this process has open: closing any descriptor drops SQLite's POSIX locks.
  const header = Buffer.alloc(100)
  const handle = fs.openSync(jobPath, 'r')
  try {
    if (fs.readSync(handle, header, 0, 100, 0) < 100) return null
  } finally {
    fs.closeSync(handle)
  }
  const pageBytes = header.readUInt16BE(16) === 1 ? 65_536 : header.readUInt16BE(16)
  const expectedBytes = pageBytes * header.readUInt32BE(28)
  const bytes = fs.statSync(jobPath).size
  return bytes < expectedBytes ? { bytes, expectedBytes } : null
}
