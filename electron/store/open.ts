// Opening and making job files: look, lock, look closer, back up, upgrade, load; untouched when any of it fails.
import Database from 'better-sqlite3'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { JobData, recordKinds, type Edit, type JobRecord, type RecordKind } from '../../core/job/index.ts'
import { backupIsDue, backupTrouble, makeBackup, revisionOf } from './backups.ts'
import { checkChange } from './check-change.ts'
import {
  closeTidily,
  connect,
  copyInMemory,
  isSqliteError,
  prepareForWriting,
  problemOf,
  shortage,
  valueOf,
  type Connection,
} from './connection.ts'
import { JobFile } from './job-file.ts'
import { takeLock, type Lock } from './lock.ts'
import { applicationId, journalPathOf, leavesRoomForCompanions, partialPathOf, shownName } from './names.ts'
import { refuse, type StoreProblem, type StoreResult } from './problems.ts'
import { loadJob, RecordWriter } from './rows.ts'
import { applyMigrations, readMigrations, schemaState, UpgradeFailed, type Migration } from './upgrade.ts'

/** Where the numbered SQL lies, from the sources and from a build that is two folders deep. */
export const migrationsFolder: string = path.resolve(import.meta.dirname, '../../migrations')

export interface OpenOptions {
  /** The person, for the journal and for the next one who finds the file held. */
  readonly who: string
  /** ISO 8601, UTC. */
  readonly now: () => string
  readonly migrationsFolder?: string
  readonly readOnly?: boolean
  /** What holds the file, for the next one who finds it held: "Lintelbook", "command line". */
  readonly program?: string
  /** How long a write waits for somebody who is reading. */
  readonly busyMilliseconds?: number
}

export type Opened = StoreResult<{ readonly file: JobFile }>

/** Ends an attempt with a coded problem, from wherever it was found. */
class Stop extends Error {
  readonly problem: StoreProblem
  constructor(problem: StoreProblem) {
    super(problem.code)
    this.problem = problem
  }
}

/** Paths this process has open: reading those with node:fs would drop SQLite's locks on them. */
const openHere = new Map<string, number>()
const count = (jobPath: string, by: number): void =>
  void openHere.set(jobPath, (openHere.get(jobPath) ?? 0) + by)

/** Whether this process has the file open, for writing or reading. */
export const isOpenHere = (jobPath: string): boolean => (openHere.get(path.resolve(jobPath)) ?? 0) > 0

/**
 * Opens a job file, for writing when nobody else has it, else to read. Upgrades older ones after a backup.
 * A refusal leaves the file as it was.
 */
export function openJobFile(jobPath: string, options: OpenOptions): Opened {
  const full = path.resolve(jobPath)
  let lock: Lock | null = null
  let db: Connection | null = null
  try {
    lookFromOutside(full)
    const access = askForWriting(full, options)
    lock = access.lock
    db = connect(full, { readOnly: lock === null, busyMilliseconds: options.busyMilliseconds ?? 5000 })
    const file = open(full, db, access, options)
    count(full, 1)
    return { ok: true, file }
  } catch (error) {
    if (db !== null) closeTidily(db)
    lock?.release()
    return refuse(problemOfOpening(error, full))
  }
}

function problemOfOpening(error: unknown, full: string): StoreProblem {
  if (error instanceof Stop) return error.problem
  // A broken JSON value passed SQLite's own check when it was written: the bytes changed since.
  if (error instanceof SyntaxError) return { code: 'damaged', file: shownName(full), detail: error.message }
  const problem = problemOf(error, full)
  if (problem.code !== 'damaged' || isOpenHere(full)) return problem
  const short = shortage(full)
  return short === null ? problem : { code: 'truncated', file: shownName(full), ...short }
}

function lookFromOutside(full: string): void {
  const file = shownName(full)
  const stat = fs.statSync(full)
  if (!stat.isFile()) throw new Stop({ code: 'folder', file })
  if (stat.size === 0) throw new Stop({ code: 'empty', file })
}

interface Access {
  readonly lock: Lock | null
  readonly readOnlyBecause: StoreProblem | null
}

function askForWriting(full: string, options: OpenOptions): Access {
  const file = shownName(full)
  if (options.readOnly === true) return { lock: null, readOnlyBecause: { code: 'read-only', file } }
  if (!leavesRoomForCompanions(full)) return { lock: null, readOnlyBecause: { code: 'name-too-long', file } }
  try {
    fs.accessSync(full, fs.constants.W_OK)
  } catch {
    return { lock: null, readOnlyBecause: { code: 'no-lock', file, detail: 'the file is write-protected' } }
  }
  const outcome = takeLock(full, {
    name: options.who,
    machine: os.hostname(),
    program: options.program ?? 'Lintelbook',
    since: options.now(),
  })
  if (outcome.taken) return { lock: outcome.lock, readOnlyBecause: null }
  const { heldBy, detail } = outcome
  if (heldBy !== null) return { lock: null, readOnlyBecause: { code: 'held', file, holder: heldBy } }
  return { lock: null, readOnlyBecause: { code: 'no-lock', file, detail } }
}

function open(full: string, db: Connection, access: Access, options: OpenOptions): JobFile {
  const notices: StoreProblem[] = []
  const file = shownName(full)
  const pending = pendingSteps(db, options, file)
  // Pages and indexes; takes a few milliseconds a megabyte, and a damaged file must not be upgraded or written.
  const health = valueOf(db, 'PRAGMA quick_check(1)')
  if (health !== 'ok') throw new Stop({ code: 'damaged', file, detail: String(health).replaceAll('\n', ' ') })
  let load = (): JobData => loadJob(db)
  if (access.lock !== null) {
    prepareForWriting(db)
    if (pending.length > 0) upgrade(full, db, pending, options)
    else backUpWhenDue(full, db, options, notices)
  } else if (pending.length > 0) {
    load = () => loadOlder(db, pending, options)
  }
  const opened = new JobFile({
    path: full,
    db,
    load,
    ...access,
    who: options.who,
    now: options.now,
    notices,
    afterClose: () => count(full, -1),
  })
  if (opened.data.count('job') !== 1) throw new Stop({ code: 'altered', file, what: 'not exactly one job' })
  return opened
}

function pendingSteps(db: Connection, options: OpenOptions, file: string): readonly Migration[] {
  const state = schemaState(db, readMigrations(options.migrationsFolder ?? migrationsFolder))
  switch (state.state) {
    case 'known':
      return state.pending
    case 'foreign':
      throw new Stop({ code: 'not-a-job', file })
    case 'newer':
      throw new Stop({ code: 'newer', file })
    case 'edited':
      throw new Stop({ code: 'edited-migration', file, migration: state.migration })
    case 'altered':
      throw new Stop({ code: 'altered', file, what: state.what })
  }
}

function upgrade(full: string, db: Connection, pending: readonly Migration[], options: OpenOptions): void {
  const file = shownName(full)
  try {
    makeBackup(db, full, options.now())
  } catch (error) {
    throw new Stop({ code: 'no-backup', file, detail: backupTrouble(error) })
  }
  try {
    applyMigrations(db, pending, options.now())
  } catch (error) {
    if (!(error instanceof UpgradeFailed)) throw error
    if (isSqliteError(error.cause) && /^SQLITE_(FULL|IOERR|BUSY)/.test(error.cause.code)) throw error.cause
    throw new Stop({ code: 'upgrade-failed', file, migration: error.migration, detail: error.message })
  }
}

function backUpWhenDue(full: string, db: Connection, options: OpenOptions, notices: StoreProblem[]): void {
  try {
    if (backupIsDue(full, revisionOf(db), options.now())) makeBackup(db, full, options.now())
  } catch (error) {
    notices.push({ code: 'no-backup-today', file: shownName(full), detail: backupTrouble(error) })
  }
}

/** An older file that may not be written: upgraded in memory, so that it can be read all the same. */
function loadOlder(db: Connection, pending: readonly Migration[], options: OpenOptions): JobData {
  const copy = copyInMemory(db)
  try {
    applyMigrations(copy, pending, options.now())
    return loadJob(copy)
  } finally {
    copy.close()
  }
}

export type NewRecords = { readonly [K in RecordKind]?: readonly JobRecord<K>[] }

export interface NewJob {
  readonly records: NewRecords
  readonly changes?: readonly Readonly<Record<string, unknown>>[]
  readonly attachments?: ReadonlyMap<string, Uint8Array>
}

/** Makes a job file that was not there and opens it. What it starts with is not in the journal: it cannot be undone. */
export function makeJobFile(jobPath: string, records: NewRecords, options: OpenOptions): Opened {
  return makeFrom(jobPath, { records }, options)
}

/** As makeJobFile, with a journal and attachments that come from elsewhere. For the text twin. */
export function makeFrom(jobPath: string, job: NewJob, options: OpenOptions): Opened {
  const full = path.resolve(jobPath)
  const edits: Edit[] = recordKinds.flatMap((kind) =>
    (job.records[kind] ?? []).map((record): Edit => ({ does: 'add', kind, record: record as never })),
  )
  const checked = checkChange(new JobData(), edits)
  if (!checked.ok) return refuse(checked.problem)
  if (!checked.edits.some((edit) => edit.kind === 'job'))
    return refuse({
      code: 'bad-record',
      kind: 'job',
      id: '',
      field: null,
      detail: 'a file holds exactly one job',
    })
  const trouble = putInPlace(full, (partial) => fill(partial, checked.edits, job, options))
  return trouble === null ? openJobFile(full, options) : refuse(trouble)
}

/** Makes a whole file under another name and moves it to a place that was free; leaves nothing behind when it fails. */
export function putInPlace(full: string, fillPartial: (partial: string) => void): StoreProblem | null {
  if (!leavesRoomForCompanions(full)) return { code: 'name-too-long', file: shownName(full) }
  const partial = partialPathOf(full)
  try {
    // Takes the name first, and only if nobody has it; the whole file then comes in its place at one stroke.
    fs.closeSync(fs.openSync(full, 'wx'))
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'EEXIST')
      return { code: 'exists', file: shownName(full) }
    return problemOf(error, full)
  }
  try {
    discard(partial)
    fillPartial(partial)
    fs.renameSync(partial, full)
    return null
  } catch (error) {
    discard(partial)
    fs.rmSync(full, { force: true })
    return problemOf(error, full)
  }
}

function discard(partial: string): void {
  for (const each of [partial, journalPathOf(partial)]) fs.rmSync(each, { force: true })
}

function fill(partial: string, edits: readonly Edit[], job: NewJob, options: OpenOptions): void {
  const db = new Database(partial)
  try {
    db.pragma(`application_id = ${applicationId}`)
    db.pragma('synchronous = FULL')
    applyMigrations(db, readMigrations(options.migrationsFolder ?? migrationsFolder), options.now())
    const writer = new RecordWriter(db)
    db.transaction(() => {
      db.pragma('defer_foreign_keys = ON')
      for (const edit of edits) writer.write(edit)
      const change = db.prepare(
        `INSERT INTO change (seq, name, who, at, state, turned_by, turned_at, revision, edits)
         VALUES (@seq, @name, @who, @at, @state, @turnedBy, @turnedAt, @revision, @edits)`,
      )
      for (const each of job.changes ?? []) change.run(each)
      const attachment = db.prepare('INSERT INTO attachment (sha256, bytes) VALUES (?, ?)')
      for (const [sha256, bytes] of job.attachments ?? []) attachment.run(sha256, bytes)
    })()
  } finally {
    db.close()
  }
}
