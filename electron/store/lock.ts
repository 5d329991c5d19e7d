// One writer at a time. A small database beside the job holds a write transaction for as long as the job is open:
// the system lets go of it when the process dies, and others can still read in it who holds the job.
import Database from 'better-sqlite3'
import fs from 'node:fs'
import { isSqliteError, type Connection } from './connection.ts'
import { journalPathOf, lockPathOf } from './names.ts'

/** Who has a job open for writing. `since` is ISO 8601. */
export interface Holder {
  readonly name: string
  readonly machine: string
  readonly program: string
  readonly since: string
}

export type LockOutcome =
  | { readonly taken: true; readonly lock: Lock }
  | { readonly taken: false; readonly heldBy: Holder | null; readonly detail: string }

export interface Lock {
  readonly holder: Holder
  release(): void
}

const unknownHolder: Holder = {
  name: 'Somebody',
  machine: 'another machine',
  program: '',
  since: 'a while ago',
}
const patience = 300

const isBusy = (error: unknown): boolean => isSqliteError(error) && error.code.startsWith('SQLITE_BUSY')

/** Takes the lock of a job, or says who has it, or why there can be none here. */
export function takeLock(jobPath: string, holder: Holder): LockOutcome {
  const lockPath = lockPathOf(jobPath)
  let detail = ''
  for (let attempt = 0; attempt < 5; attempt++) {
    let db: Connection | null = null
    try {
      db = new Database(lockPath, { timeout: patience })
      writeHolder(db, holder)
      db.exec('BEGIN IMMEDIATE')
      // The one before us may have deleted the file between our opening and our locking it: then nobody sees our lock.
      if (isLocked(lockPath)) return { taken: true, lock: heldLock(db, lockPath, holder) }
      db.close()
    } catch (error) {
      db?.close()
      if (!isSqliteError(error)) throw error
      if (isBusy(error)) return { taken: false, heldBy: readHolder(jobPath) ?? unknownHolder, detail: '' }
      detail = error.message
      // Left half written by a crash: a live holder would have made us wait instead.
      if (error.code === 'SQLITE_NOTADB' || error.code.startsWith('SQLITE_CORRUPT')) discard(lockPath)
      else break
    }
  }
  return { taken: false, heldBy: null, detail }
}

/** Who holds the job now, as far as can be read; null when nobody does. */
export function readHolder(jobPath: string): Holder | null {
  const lockPath = lockPathOf(jobPath)
  if (!fs.existsSync(lockPath) || !isLocked(lockPath)) return null
  let db: Connection | null = null
  try {
    db = new Database(lockPath, { readonly: true, fileMustExist: true, timeout: patience })
    return db.prepare<[], Holder>('SELECT name, machine, program, since FROM holder').get() ?? unknownHolder
  } catch {
    return unknownHolder
  } finally {
    db?.close()
  }
}

function writeHolder(db: Connection, holder: Holder): void {
  db.transaction(() => {
    db.exec(
      'CREATE TABLE IF NOT EXISTS holder (id INTEGER PRIMARY KEY CHECK (id = 1), name TEXT, machine TEXT, program TEXT, since TEXT) STRICT',
    )
    db.prepare('INSERT OR REPLACE INTO holder VALUES (1, ?, ?, ?, ?)').run(
      holder.name,
      holder.machine,
      holder.program,
      holder.since,
    )
  }).immediate()
}

/** Whether the database that the path names now is held by anybody's write transaction, our own included. */
export function isLocked(databasePath: string): boolean {
  let db: Connection | null = null
  try {
    db = new Database(databasePath, { fileMustExist: true, timeout: 0 })
    db.exec('BEGIN IMMEDIATE')
    db.exec('ROLLBACK')
    return false
  } catch (error) {
    // Where we may not write we cannot ask; what is written there is then the best that is known.
    return isBusy(error) || (isSqliteError(error) && error.code.startsWith('SQLITE_READONLY'))
  } finally {
    db?.close()
  }
}

function heldLock(db: Connection, lockPath: string, holder: Holder): Lock {
  return {
    holder,
    release() {
      if (!db.open) return
      // Deleted while it is still held: deleting after letting go could take away the next one's lock.
      discard(lockPath)
      db.close()
    },
  }
}

function discard(lockPath: string): void {
  for (const each of [lockPath, journalPathOf(lockPath)]) {
    try {
      fs.rmSync(each, { force: true })
    } catch {
      // Windows keeps an open file; an unlocked one left behind does no harm.
    }
  }
}
