// The journal of changes in the file: what was done, by whom, and whether it stands. Written within the change's transaction.
import type { Statement } from 'better-sqlite3'
import type { Connection } from './connection.ts'
import type { change } from './tables.ts'

/** One row of the journal; `edits` is JSON. */
export type ChangeRow = (typeof change)['$inferSelect']
export type HistoryEntry = Omit<ChangeRow, 'edits' | 'revision'>
type State = ChangeRow['state']

const brief = 'seq, name, who, at, state, turned_by AS turnedBy, turned_at AS turnedAt'
const whole = `${brief}, revision, edits`

/** Who does it and when, and the revision the file has after it. */
export interface Stamp {
  readonly who: string
  readonly at: string
  readonly revision: number
}

export class Journal {
  readonly #db: Connection
  readonly #statements = new Map<string, Statement>()

  constructor(db: Connection) {
    this.#db = db
  }

  #prepared(sql: string): Statement {
    let statement = this.#statements.get(sql)
    if (statement === undefined) this.#statements.set(sql, (statement = this.#db.prepare(sql)))
    return statement
  }

  /** Adds a change that was just made; those that were taken back before it can no longer be done again. */
  add(name: string, edits: string, { who, at, revision }: Stamp): void {
    this.#prepared(
      `UPDATE change SET state = 'dropped', turned_by = ?, turned_at = ?, revision = ? WHERE state = 'undone'`,
    ).run(who, at, revision)
    this.#prepared(
      `INSERT INTO change (name, who, at, state, revision, edits) VALUES (?, ?, ?, 'done', ?, ?)`,
    ).run(name, who, at, revision, edits)
  }

  turn(seq: number, to: State, { who, at, revision }: Stamp): void {
    this.#prepared(
      'UPDATE change SET state = ?, turned_by = ?, turned_at = ?, revision = ? WHERE seq = ?',
    ).run(to, who, at, revision, seq)
  }

  /** The change that undo takes back, or that redo does again. */
  next(direction: 'undo' | 'redo'): ChangeRow | undefined {
    return this.#prepared(`SELECT ${whole} FROM change ${nextOf(direction)}`).get() as ChangeRow | undefined
  }

  nextName(direction: 'undo' | 'redo'): string | null {
    const found = this.#prepared(`SELECT name FROM change ${nextOf(direction)}`).get() as
      | { name: string }
      | undefined
    return found?.name ?? null
  }

  /** Newest first, without the edits, which can be megabytes. */
  list(limit: number): HistoryEntry[] {
    return this.#prepared(`SELECT ${brief} FROM change ORDER BY seq DESC LIMIT ?`).all(
      limit,
    ) as HistoryEntry[]
  }

  /** Those in whose edits this id appears as a value. */
  listOf(id: string, limit: number): HistoryEntry[] {
    const sql = `SELECT ${brief} FROM change WHERE instr(edits, ?) > 0 ORDER BY seq DESC LIMIT ?`
    return this.#prepared(sql).all(JSON.stringify(id), limit) as HistoryEntry[]
  }

  /** Everything, oldest first. */
  all(): ChangeRow[] {
    return this.#prepared(`SELECT ${whole} FROM change ORDER BY seq`).all() as ChangeRow[]
  }
}

const nextOf = (direction: 'undo' | 'redo'): string =>
  direction === 'undo'
    ? `WHERE state = 'done' ORDER BY seq DESC LIMIT 1`
    : `WHERE state = 'undone' ORDER BY seq ASC LIMIT 1`
