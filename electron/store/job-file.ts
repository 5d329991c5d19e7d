// An open job file: the whole job in memory, every change written before it counts, and the journal behind undo.
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import {
  invert,
  readShape,
  recordKinds,
  records,
  type Change,
  type Edit,
  type JobData,
} from '../../core/job/index.ts'
import { findInJob, type Found } from '../../core/schedule/index.ts'
import { backupIsDue, makeBackup, revisionOf, type Backup } from './backups.ts'
import { checkChange } from './check-change.ts'
import { closeTidily, isSqliteError, problemOf, valueOf, type Connection } from './connection.ts'
import { Journal, type ChangeRow, type HistoryEntry, type Stamp } from './journal.ts'
import { isLocked, readHolder, type Holder, type Lock } from './lock.ts'
import { shownName } from './names.ts'
import { problemSentence, refuse, type StoreProblem, type StoreResult } from './problems.ts'
import { readRecords, RecordWriter } from './rows.ts'

/** What was done: the name to show, the edits in the form they were kept in, and the file's revision after them. */
export interface Done {
  readonly name: string
  readonly edits: readonly Edit[]
  readonly revision: number
}

export interface Checkup {
  readonly sound: boolean
  /** Sentences about what is not as it should be. */
  readonly findings: readonly string[]
}

export interface JobFileParts {
  readonly path: string
  readonly db: Connection
  readonly load: () => JobData
  readonly lock: Lock | null
  readonly readOnlyBecause: StoreProblem | null
  readonly who: string
  readonly now: () => string
  readonly notices: readonly StoreProblem[]
  readonly afterClose: () => void
}

type Failed = ReturnType<typeof refuse>

class Overtaken extends Error {}
class Gone extends Error {}

/** Open through openJobFile. Read `data` anew each time: a read-only view replaces it when it refreshes. */
export class JobFile {
  readonly path: string
  /** Why it can only be read: somebody holds it, the place cannot be written, or it was asked for. Null when it can be written. */
  readonly readOnlyBecause: StoreProblem | null
  /** What went wrong at opening without standing in the way, such as a backup that could not be made. */
  readonly notices: readonly StoreProblem[]
  readonly #db: Connection
  readonly #journal: Journal
  readonly #writer: RecordWriter
  readonly #parts: JobFileParts
  #data: JobData
  #revision: number
  #undoName: string | null = null
  #redoName: string | null = null
  #dataVersion: unknown
  /** A write failed in a way that leaves open what stands on disk: read again before anything else. */
  #unsure = false
  readonly #fileNumber: number

  constructor(parts: JobFileParts) {
    this.path = parts.path
    this.readOnlyBecause = parts.readOnlyBecause
    this.notices = parts.notices
    this.#parts = parts
    this.#fileNumber = fs.statSync(parts.path).ino
    this.#db = parts.db
    this.#journal = new Journal(parts.db)
    this.#writer = new RecordWriter(parts.db)
    // Before the load: a change that comes in between is then seen by the next refresh.
    this.#dataVersion = valueOf(parts.db, 'PRAGMA data_version')
    this.#data = parts.load()
    this.#revision = revisionOf(parts.db)
    this.#readNames()
  }

  get data(): JobData {
    return this.#data
  }

  get readOnly(): boolean {
    return this.#parts.lock === null
  }

  get isOpen(): boolean {
    return this.#db.open
  }

  /** Who has the file open for writing: ourselves, somebody else, or nobody. */
  get holder(): Holder | null {
    return this.#parts.lock?.holder ?? readHolder(this.path)
  }

  /** Grows by one with every change made, taken back or done again; kept in the file. */
  get revision(): number {
    return this.#revision
  }

  get undoName(): string | null {
    return this.#undoName
  }

  get redoName(): string | null {
    return this.#redoName
  }

  /** Checks a change, writes it with its journal entry in one transaction, then applies it in memory. */
  commit(change: Change): StoreResult<Done> {
    return this.#guarded(() => {
      const checked = checkChange(this.#data, change.edits)
      if (!checked.ok) return refuse(checked.problem)
      if (checked.edits.length === 0)
        return { ok: true, name: change.name, edits: [], revision: this.#revision }
      return this.#write(change.name, checked.edits, (stamp) =>
        this.#journal.add(change.name.toWellFormed(), JSON.stringify(checked.edits), stamp),
      )
    })
  }

  /** Takes the last change back. It stays in the journal, to be done again. */
  undo(): StoreResult<Done> {
    return this.#turn('undo')
  }

  /** Does the change again that was taken back last. */
  redo(): StoreResult<Done> {
    return this.#turn('redo')
  }

  #turn(direction: 'undo' | 'redo'): StoreResult<Done> {
    return this.#guarded(() => {
      const entry = this.#journal.next(direction)
      if (entry === undefined) return refuse({ code: `nothing-to-${direction}` })
      const edits = JSON.parse(entry.edits) as Edit[]
      const checked = checkChange(this.#data, direction === 'undo' ? invert(edits) : edits)
      if (!checked.ok) return refuse(checked.problem)
      const state = direction === 'undo' ? 'undone' : 'done'
      return this.#write(entry.name, checked.edits, (stamp) => this.#journal.turn(entry.seq, state, stamp))
    })
  }

  #guarded(work: () => StoreResult<Done>): StoreResult<Done> {
    const stopped = this.#stopped()
    return stopped === null ? work() : refuse(stopped)
  }

  #stopped(): StoreProblem | null {
    const file = shownName(this.path)
    if (!this.#db.open) return { code: 'closed', file }
    if (this.readOnly) return this.readOnlyBecause ?? { code: 'read-only', file }
    try {
      const overtaken = revisionOf(this.#db) !== this.#revision
      if (overtaken || this.#unsure) this.#readAgain()
      return overtaken ? { code: 'overtaken', file } : null
    } catch (error) {
      return problemOf(error, this.path)
    }
  }

  #write(name: string, edits: readonly Edit[], journal: (stamp: Stamp) => void): StoreResult<Done> {
    const revision = this.#revision + 1
    try {
      this.#db
        .transaction(() => {
          if (!this.#isStillOurs()) throw new Gone()
          // Somebody wrote past our lock: on a share that does not lock, or where the lock's file was deleted.
          if (revisionOf(this.#db) !== this.#revision) throw new Overtaken()
          // References are judged at the commit, so that edits may come in any order.
          this.#db.pragma('defer_foreign_keys = ON')
          for (const edit of edits) this.#writer.write(edit)
          journal({ who: this.#parts.who, at: this.#parts.now(), revision })
        })
        .immediate()
    } catch (error) {
      return this.#afterFailure(error)
    }
    this.#unsure = true
    this.#revision = revision
    this.#data.apply(edits)
    try {
      this.#readNames()
      this.#unsure = false
    } catch (error) {
      // The change is kept; the names come with the next reading.
      if (!isSqliteError(error)) throw error
    }
    return { ok: true, name, edits, revision }
  }

  /**
   * Whether the path still names the file we write: the system lets one write on into a file that was deleted.
   * To be asked within a write transaction. Some shares give a file another number, so a second look decides.
   */
  #isStillOurs(): boolean {
    const stat = fs.statSync(this.path, { throwIfNoEntry: false })
    return stat !== undefined && (stat.ino === this.#fileNumber || isLocked(this.path))
  }

  /** Nothing was applied in memory yet; makes sure that nothing was kept on disk either, or reads what was. */
  #afterFailure(error: unknown): Failed {
    this.#unsure = true
    try {
      if (revisionOf(this.#db) !== this.#revision) this.#readAgain()
      else this.#unsure = false
    } catch (second) {
      if (!isSqliteError(second)) throw second
    }
    const file = shownName(this.path)
    if (error instanceof Gone) return refuse({ code: 'gone', file })
    if (error instanceof Overtaken) return refuse({ code: 'overtaken', file })
    return refuse(problemOf(error, this.path))
  }

  #readAgain(): void {
    this.#data = this.#parts.load()
    this.#revision = revisionOf(this.#db)
    this.#readNames()
    this.#unsure = false
  }

  #readNames(): void {
    this.#undoName = this.#journal.nextName('undo')
    this.#redoName = this.#journal.nextName('redo')
  }

  /** The journal, newest first. */
  history(limit: number): HistoryEntry[] {
    return this.#journal.list(limit)
  }

  /** The changes in whose edits this id appears, newest first. */
  historyOf(id: string, limit: number): HistoryEntry[] {
    return this.#journal.listOf(id, limit)
  }

  /** Keeps bytes under their SHA-256. The same bytes are kept once. */
  attach(bytes: Uint8Array): StoreResult<{ readonly sha256: string }> {
    const stopped = this.#stopped()
    if (stopped !== null) return refuse(stopped)
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    try {
      // Bytes that went bad under this hash are put right by the same bytes coming again.
      const statement = `INSERT INTO attachment (sha256, bytes) VALUES (?, ?)
        ON CONFLICT (sha256) DO UPDATE SET bytes = excluded.bytes WHERE bytes <> excluded.bytes`
      this.#db
        .transaction(() => {
          if (!this.#isStillOurs()) throw new Gone()
          this.#db.prepare(statement).run(sha256, bytes)
        })
        .immediate()
    } catch (error) {
      return this.#afterFailure(error)
    }
    return { ok: true, sha256 }
  }

  /** The bytes kept under a hash, checked against it. */
  attachment(sha256: string): StoreResult<{ readonly bytes: Uint8Array }> {
    if (!this.#db.open) return refuse({ code: 'closed', file: shownName(this.path) })
    let kept: unknown
    try {
      kept = valueOf(this.#db, 'SELECT bytes FROM attachment WHERE sha256 = ?', sha256)
    } catch (error) {
      return refuse(problemOf(error, this.path))
    }
    if (!(kept instanceof Uint8Array)) return refuse({ code: 'attachment-missing', sha256 })
    if (createHash('sha256').update(kept).digest('hex') !== sha256)
      return refuse({ code: 'attachment-damaged', sha256 })
    return { ok: true, bytes: kept }
  }

  /** Marks, rooms, serials, notes and the rest, forgiving of case, blanks and dashes; best first. */
  find(words: string, limit: number): Found[] {
    return findInJob(this.#data, words, limit)
  }

  /** Asks the file everything that can be asked of it; slow on large jobs. */
  check(): Checkup {
    const findings: string[] = []
    try {
      this.#lookEverywhere(findings)
    } catch (error) {
      // A page that went bad since the opening, or a share that went away: found all the same.
      findings.push(problemSentence(problemOf(error, this.path)))
    }
    return { sound: findings.length === 0, findings }
  }

  #lookEverywhere(findings: string[]): void {
    for (const row of this.#db.pragma('integrity_check') as readonly { integrity_check: string }[])
      if (row.integrity_check !== 'ok') findings.push(`The file itself: ${row.integrity_check}.`)
    for (const row of this.#db.pragma('foreign_key_check') as readonly { table: string; parent: string }[])
      findings.push(`A row of ${row.table} refers to a row of ${row.parent} that is not there.`)
    for (const kind of recordKinds)
      for (const record of readRecords(this.#db, kind)) {
        const read = readShape(records[kind] as never, record)
        if (!read.ok)
          findings.push(
            `The ${kind} ${String(record['id'])}, field ${read.fault.field ?? ''}: ${read.fault.words}.`,
          )
      }
    findings.push(...this.#attachmentFindings())
  }

  #attachmentFindings(): string[] {
    const findings: string[] = []
    const hashes = new Set<string>()
    for (const sha256 of this.#db
      .prepare<[], string>('SELECT sha256 FROM attachment ORDER BY sha256')
      .pluck()
      .all()) {
      hashes.add(sha256)
      const kept = this.attachment(sha256)
      if (!kept.ok) findings.push(kept.sentence)
    }
    for (const { id, sha256 } of this.#data.all('document'))
      if (sha256 !== null && !hashes.has(sha256))
        findings.push(`The document ${id}: its bytes are not in the file.`)
    for (const { id, twinSha256 } of this.#data.all('issue'))
      if (twinSha256 !== null && !hashes.has(twinSha256))
        findings.push(`The issue ${id}: its twin is not in the file.`)
    return findings
  }

  /** For a read-only view: reads again when somebody has written since. True when something may have changed. */
  refresh(): StoreResult<{ readonly changed: boolean }> {
    if (!this.#db.open) return refuse({ code: 'closed', file: shownName(this.path) })
    try {
      const version = valueOf(this.#db, 'PRAGMA data_version')
      if (version === this.#dataVersion) return { ok: true, changed: false }
      this.#readAgain()
      this.#dataVersion = version
      return { ok: true, changed: true }
    } catch (error) {
      return refuse(problemOf(error, this.path))
    }
  }

  /** Copies the job as it stands into its backup folder. */
  backup(): StoreResult<{ readonly backup: Backup }> {
    const file = shownName(this.path)
    if (!this.#db.open) return refuse({ code: 'closed', file })
    // A backup that lies where the share used to be would help nobody.
    if (!fs.existsSync(this.path)) return refuse({ code: 'gone', file })
    try {
      return { ok: true, backup: makeBackup(this.#db, this.path, this.#parts.now()) }
    } catch (error) {
      return refuse(problemOf(error, this.path))
    }
  }

  /** For a program that stays open for days: makes the day's backup when one is due. */
  backupWhenDue(): StoreResult<{ readonly backup: Backup | null }> {
    if (this.readOnly || !this.#db.open) return { ok: true, backup: null }
    try {
      if (!backupIsDue(this.path, this.#revision, this.#parts.now())) return { ok: true, backup: null }
    } catch (error) {
      return refuse(problemOf(error, this.path))
    }
    return this.backup()
  }

  /** For the text twin: the whole journal, and every attachment as base64 but for those left out. */
  everythingElse(leaveOut: ReadonlySet<string> = new Set()): {
    readonly changes: readonly ChangeRow[]
    readonly attachments: Record<string, string>
  } {
    const attachments: Record<string, string> = {}
    const rows = this.#db.prepare<[], { sha256: string; bytes: Buffer }>(
      'SELECT sha256, bytes FROM attachment',
    )
    for (const { sha256, bytes } of rows.iterate())
      if (!leaveOut.has(sha256)) attachments[sha256] = bytes.toString('base64')
    return { changes: this.#journal.all(), attachments }
  }

  /** Leaves one file behind, without journal and lock. Safe to call twice. */
  close(): void {
    if (!this.#db.open) return
    closeTidily(this.#db)
    this.#parts.lock?.release()
    this.#parts.afterClose()
  }
}
