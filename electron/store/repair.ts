// Saving what can be read of a damaged job file into a new one, with a list of what could not be read. The damaged file
// is only copied. What lies on pages that are gone and was changed since the job was made is put back from the journal.
import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { readShape, recordKinds, records, type Edit, type RecordKind } from '../../core/job/index.ts'
import { connect, connectInMemory, isSqliteError, problemOf, valueOf, type Connection } from './connection.ts'
import { applicationId, journalPathOf, shownName } from './names.ts'
import { isOpenHere, migrationsFolder, openJobFile, putInPlace, type OpenOptions } from './open.ts'
import { refuse, type StoreResult } from './problems.ts'
import { readRecords, RecordWriter, tableOf, type Fields } from './rows.ts'
import { readTable, tablesOf, type Key, type ReadTable } from './salvage.ts'
import { applyMigrations, readMigrations, type Migration } from './upgrade.ts'

export interface Repaired {
  /** Rows that were read and kept. */
  readonly rowsKept: number
  /** Records that could not be read and were put back as the journal knows them. */
  readonly fromJournal: number
  /** Sentences about what could not be saved, or was saved with something missing. Empty when all of it was read. */
  readonly losses: readonly string[]
}

/**
 * Saves what can be read of a damaged job file into a new file, which must not be there yet. SQLite keeps no checksums:
 * a letter that changed within a text cannot be noticed; attachments are held to their hash.
 */
export function repairJobFile(
  damagedPath: string,
  repairedPath: string,
  options: OpenOptions,
): StoreResult<Repaired> {
  const full = path.resolve(damagedPath)
  const target = path.resolve(repairedPath)
  const file = shownName(full)
  if (isOpenHere(full)) return refuse({ code: 'open-here', file })
  if (fs.existsSync(target)) return refuse({ code: 'exists', file: shownName(target) })
  const copy = `${target}.reading`
  try {
    const stat = fs.statSync(full)
    if (!stat.isFile()) return refuse({ code: 'folder', file })
    if (stat.size === 0) return refuse({ code: 'empty', file })
    copyWithJournal(full, copy)
    return repairFrom(copy, target, file, options)
  } catch (error) {
    return refuse(problemOf(error, full))
  } finally {
    discard(copy)
  }
}

function copyWithJournal(full: string, copy: string): void {
  discard(copy)
  fs.copyFileSync(full, copy)
  if (fs.existsSync(journalPathOf(full))) fs.copyFileSync(journalPathOf(full), journalPathOf(copy))
}

function discard(copy: string): void {
  for (const each of [copy, journalPathOf(copy)]) fs.rmSync(each, { force: true })
}

function repairFrom(copy: string, target: string, file: string, options: OpenOptions): StoreResult<Repaired> {
  const steps = readMigrations(options.migrationsFolder ?? migrationsFolder)
  // Asked first: a header that makes no sense is written anew.
  const isForeign = fs.statSync(copy).size >= 100 && isForeignDatabase(headerOf(copy))
  const opened = openCopy(copy, steps)
  if (opened === null)
    return refuse(
      isForeign
        ? { code: 'not-a-job', file }
        : { code: 'nothing-to-salvage', file, detail: 'its list of tables is gone' },
    )
  const { source, applied } = opened
  try {
    let repaired: Repaired = { rowsKept: 0, fromJournal: 0, losses: [] }
    const trouble = putInPlace(target, (partial) => {
      repaired = salvage(source, partial, steps, applied, options)
    })
    if (trouble !== null) return refuse(trouble)
    // Nothing is called repaired that the program itself would not open.
    const again = openJobFile(target, { ...options, readOnly: true })
    if (!again.ok) return again
    again.file.close()
    return { ok: true, ...repaired }
  } finally {
    source.close()
  }
}

const magic = Buffer.from('SQLite format 3\0', 'latin1')
/** All job files are made with SQLite's own page size. */
const pageBytes = 4096

function headerOf(copy: string): Buffer {
  const header = Buffer.alloc(100)
  const handle = fs.openSync(copy, 'r')
  try {
    fs.readSync(handle, header, 0, 100, 0)
  } finally {
    fs.closeSync(handle)
  }
  return header
}

const isForeignDatabase = (header: Buffer): boolean =>
  header.subarray(0, 16).equals(magic) && header.readUInt32BE(68) !== applicationId

interface OpenedCopy {
  readonly source: Connection
  /** How many of the steps its tables have been through. */
  readonly applied: number
}

/** As it is, and when that shows no job, with the header of a new job file. */
function openCopy(copy: string, steps: readonly Migration[]): OpenedCopy | null {
  for (const mend of [() => {}, () => writeNewHeader(copy, steps)]) {
    mend()
    fillUp(copy)
    let source: Connection | null = null
    try {
      // To write: what was half written is then rolled back first.
      source = connect(copy, { readOnly: false, busyMilliseconds: 0 })
      source.unsafeMode(true)
      // An entry of the list of tables that makes no sense is then passed over.
      source.pragma('writable_schema = ON')
      const applied = stepsApplied(source, steps)
      if (applied > 0) return { source, applied }
    } catch (error) {
      if (!isSqliteError(error)) throw error
    }
    source?.close()
  }
  return null
}

/** Pages that are missing at the end are read as damaged ones, so that those before them can be read. */
function fillUp(copy: string): void {
  const header = headerOf(copy)
  const pages = header.subarray(0, 16).equals(magic) ? header.readUInt32BE(28) : 0
  const { size } = fs.statSync(copy)
  // A header that was scribbled over may claim anything.
  const claimed = pages * pageBytes < size * 100 ? pages * pageBytes : 0
  const whole = Math.max(claimed, Math.ceil(size / pageBytes) * pageBytes)
  if (size < whole) fs.truncateSync(copy, whole)
}

function writeNewHeader(copy: string, steps: readonly Migration[]): void {
  const model = modelOf(steps)
  const header = model.serialize().subarray(0, 100)
  model.close()
  header.writeUInt32BE(Math.ceil(fs.statSync(copy).size / pageBytes), 28)
  // No free pages; the two counters that vouch for the number of pages must be the same.
  for (const at of [32, 36]) header.writeUInt32BE(0, at)
  for (const at of [24, 92]) header.writeUInt32BE(1, at)
  const handle = fs.openSync(copy, 'r+')
  try {
    fs.writeSync(handle, header, 0, 100, 0)
  } finally {
    fs.closeSync(handle)
  }
}

function modelOf(steps: readonly Migration[]): Connection {
  const model = connectInMemory()
  model.pragma(`application_id = ${applicationId}`)
  for (const { sql } of steps) model.exec(sql)
  return model
}

function stepsApplied(source: Connection, steps: readonly Migration[]): number {
  const there = new Set(tablesOf(source))
  for (let applied = steps.length; applied > 0; applied--) {
    const model = modelOf(steps.slice(0, applied))
    const isAllThere = tablesOf(model).every((table) => there.has(table))
    model.close()
    if (isAllThere) return applied
  }
  return 0
}

function salvage(
  source: Connection,
  partial: string,
  steps: readonly Migration[],
  applied: number,
  options: OpenOptions,
): Repaired {
  const losses: string[] = []
  const now = options.now()
  const db = new Database(partial)
  try {
    db.pragma(`application_id = ${applicationId}`)
    db.pragma('synchronous = FULL')
    applyMigrations(db, steps.slice(0, applied), now)
    db.pragma('foreign_keys = OFF')
    const tables = tablesOf(db).filter((table) => table !== 'schema_migration')
    const counts = db.transaction(() => {
      const read = readAll(source, db, tables)
      for (const each of read.values()) write(db, each, losses)
      const fromJournal = applied === steps.length ? putBack(db, read, losses) : 0
      tellMissing(db, read, losses)
      mendReferences(db, tables, losses)
      return { fromJournal }
    })()
    applyMigrations(db, steps.slice(applied), now)
    db.pragma('foreign_keys = OFF')
    db.transaction(() => {
      dropWhatDoesNotFit(db, losses)
      mendReferences(db, tablesOf(db), losses)
      dropChangedAttachments(db, losses)
      ensureOneJob(db, now, losses)
    })()
    const rowsKept = tablesOf(db)
      .filter((table) => table !== 'schema_migration')
      .reduce((sum, table) => sum + (valueOf(db, `SELECT count(*) FROM "${table}"`) as number), 0)
    return { rowsKept: rowsKept - counts.fromJournal, ...counts, losses }
  } finally {
    db.close()
  }
}

/** Reads every table; then again those with holes, by the ids that other tables and the journal name. */
function readAll(source: Connection, model: Connection, tables: readonly string[]): Map<string, ReadTable> {
  const read = new Map(tables.map((table) => [table, readTable(source, model, table, [])]))
  for (const [table, { isWhole }] of read)
    if (!isWhole) read.set(table, readTable(source, model, table, namedElsewhere(model, table, read)))
  return read
}

function namedElsewhere(model: Connection, table: string, read: ReadonlyMap<string, ReadTable>): Key[] {
  const named: unknown[] = []
  for (const [other, { rows }] of read)
    for (const { from } of referencesOf(model, other).filter((reference) => reference.table === table))
      for (const row of rows.values()) named.push(row[from])
  const kind = recordKinds.find((each) => tableOf(each).name === table)
  if (kind !== undefined) named.push(...(replay(read).get(kind)?.keys() ?? []))
  if (table === 'attachment')
    for (const row of [
      ...(read.get('document')?.rows.values() ?? []),
      ...(read.get('issue')?.rows.values() ?? []),
    ])
      named.push(row['sha256'], row['twin_sha256'])
  if (table === 'change') named.push(...gapsOf(read.get(table)?.rows.keys() ?? []))
  return named.filter((each): each is Key => typeof each === 'string' || typeof each === 'number')
}

/** Entries of the journal are numbered one by one and never removed. */
function gapsOf(keys: Iterable<Key>): number[] {
  const there = new Set([...keys].map(Number))
  const last = [...there].reduce((one, other) => Math.max(one, other), 0)
  return Array.from({ length: Math.min(last, 1_000_000) }, (_, index) => index + 1).filter(
    (seq) => !there.has(seq),
  )
}

function write(db: Connection, { table, rows, missing, key }: ReadTable, losses: string[]): void {
  for (const [id, row] of rows) {
    const names = Object.keys(row)
    const sql = `INSERT INTO "${table}" (${names.map((name) => `"${name}"`).join(', ')})
      VALUES (${names.map(() => '?').join(', ')})`
    try {
      db.prepare(sql).run(...Object.values(row))
    } catch (error) {
      if (!isSqliteError(error)) throw error
      if (/^SQLITE_(FULL|IOERR)/.test(error.code)) throw error
      if (table === 'attachment' || table === 'change')
        losses.push(`${called(table, row, key)} makes no sense as it was read, so it was left out.`)
      missing.add(id)
    }
  }
}

/** What the journal makes of records that were touched since the job was made; entries that cannot be read are missing. */
function replay(read: ReadonlyMap<string, ReadTable>): Map<RecordKind, Map<string, Fields>> {
  const known = new Map<RecordKind, Map<string, Fields>>(recordKinds.map((kind) => [kind, new Map()]))
  const entries = [...(read.get('change')?.rows.values() ?? [])]
    .filter((row) => row['state'] === 'done')
    .toSorted((one, other) => Number(one['seq']) - Number(other['seq']))
  for (const entry of entries) for (const edit of editsOf(entry['edits'])) carryOut(known, edit)
  return known
}

function editsOf(text: unknown): readonly Edit[] {
  try {
    const edits: unknown = JSON.parse(String(text))
    return Array.isArray(edits) ? (edits as Edit[]) : []
  } catch {
    return []
  }
}

function carryOut(known: Map<RecordKind, Map<string, Fields>>, edit: Edit): void {
  const rows = known.get(edit.kind)
  if (rows === undefined) return
  if (edit.does === 'add') rows.set(String(edit.record['id']), edit.record)
  else if (edit.does === 'remove') rows.delete(String(edit.record['id']))
  else {
    const before = rows.get(edit.id)
    if (before !== undefined) rows.set(edit.id, { ...before, ...edit.to })
  }
}

function putBack(db: Connection, read: ReadonlyMap<string, ReadTable>, losses: string[]): number {
  const writer = new RecordWriter(db)
  let count = 0
  for (const [kind, known] of replay(read)) {
    const { name } = tableOf(kind)
    const table = read.get(name)
    if (table === undefined || (table.isWhole && table.missing.size === 0)) continue
    for (const [id, record] of known) {
      if (valueOf(db, `SELECT 1 FROM "${name}" WHERE id = ?`, id) === 1) continue
      const fits = readShape(records[kind] as never, record)
      if (!fits.ok) continue
      try {
        writer.write({ does: 'add', kind, record: record as never })
      } catch (error) {
        if (isSqliteError(error) && error.code.startsWith('SQLITE_CONSTRAINT')) continue
        throw error
      }
      table.missing.delete(id)
      losses.push(
        `${called(name, record, 'id')} could not be read, and was put back as the journal knows it.`,
      )
      count++
    }
  }
  return count
}

function tellMissing(db: Connection, read: ReadonlyMap<string, ReadTable>, losses: string[]): void {
  for (const { table, key, isWhole, missing } of read.values()) {
    const gone = [...missing].filter(
      (id) => valueOf(db, `SELECT 1 FROM "${table}" WHERE "${key}" = ?`, id) !== 1,
    )
    for (const id of gone) losses.push(`The ${words(table)} ${id} could not be read.`)
    if (!isWhole)
      losses.push(
        `Part of the list of ${words(table)} could not be read; more of it may be gone than is named here.`,
      )
  }
}

interface TableReference {
  readonly from: string
  readonly table: string
  readonly isOptional: boolean
}

function referencesOf(db: Connection, table: string): TableReference[] {
  const columns = db.pragma(`table_info("${table}")`) as readonly { name: string; notnull: number }[]
  const optional = new Set(columns.filter((each) => each.notnull === 0).map((each) => each.name))
  return (db.pragma(`foreign_key_list("${table}")`) as readonly { from: string; table: string }[]).map(
    ({ from, table: to }) => ({ from, table: to, isOptional: optional.has(from) }),
  )
}

/** Until every reference leads somewhere: those that may be empty are emptied, rows that cannot be without it are left out. */
function mendReferences(db: Connection, tables: readonly string[], losses: string[]): void {
  for (let changed = true; changed;) {
    changed = false
    for (const table of tables)
      for (const reference of referencesOf(db, table))
        for (const row of dangling(db, table, reference)) {
          mendRow(db, table, reference, row, losses)
          changed = true
        }
  }
}

const dangling = (db: Connection, table: string, { from, table: to }: TableReference): Fields[] =>
  db
    .prepare<[], Fields>(
      `SELECT * FROM "${table}" WHERE "${from}" IS NOT NULL AND "${from}" NOT IN (SELECT id FROM "${to}")`,
    )
    .all()

function mendRow(
  db: Connection,
  table: string,
  reference: TableReference,
  row: Fields,
  losses: string[],
): void {
  const { from, table: to, isOptional } = reference
  const lost = `the ${words(to)} ${String(row[from])}, which is gone`
  try {
    if (isOptional) {
      db.prepare(`UPDATE "${table}" SET "${from}" = NULL WHERE id = ?`).run(row['id'])
      losses.push(`${called(table, row, 'id')} referred to ${lost}; that field is empty now.`)
      return
    }
  } catch (error) {
    if (!isSqliteError(error) || !error.code.startsWith('SQLITE_CONSTRAINT')) throw error
  }
  db.prepare(`DELETE FROM "${table}" WHERE id = ?`).run(row['id'])
  losses.push(`${called(table, row, 'id')} belonged to ${lost}; it was left out.`)
}

function dropWhatDoesNotFit(db: Connection, losses: string[]): void {
  for (const kind of recordKinds)
    for (const record of readRecords(db, kind)) {
      const read = readShape(records[kind] as never, record)
      if (read.ok) continue
      const { name } = tableOf(kind)
      db.prepare(`DELETE FROM "${name}" WHERE id = ?`).run(record['id'])
      losses.push(
        `${called(name, record, 'id')} makes no sense as it was read (field ${read.fault.field ?? ''}: ${read.fault.words}); it was left out.`,
      )
    }
}

function dropChangedAttachments(db: Connection, losses: string[]): void {
  const hashes = db.prepare<[], string>('SELECT sha256 FROM attachment').pluck().all()
  for (const sha256 of hashes) {
    const bytes = valueOf(db, 'SELECT bytes FROM attachment WHERE sha256 = ?', sha256) as Buffer
    if (createHash('sha256').update(bytes).digest('hex') === sha256) continue
    db.prepare('DELETE FROM attachment WHERE sha256 = ?').run(sha256)
    losses.push(`The attachment ${sha256.slice(0, 12)} is not what was put in; it was left out.`)
  }
  for (const { id, sha256 } of readRecords(db, 'document'))
    if (sha256 !== null && valueOf(db, 'SELECT 1 FROM attachment WHERE sha256 = ?', sha256) !== 1)
      losses.push(`The document ${String(id)} is there, but its bytes are not.`)
}

function ensureOneJob(db: Connection, now: string, losses: string[]): void {
  const count = valueOf(db, 'SELECT count(*) FROM job') as number
  if (count === 1) return
  if (count > 1) throw new Error(`a repaired file holds ${count} jobs`)
  const record = {
    ...Object.fromEntries(Object.keys(records.job.shape).map((field) => [field, null])),
    id: 'job-repaired',
    name: 'Repaired job',
    units: 'imperial',
    dateForm: 'iso',
    loadingLimitPercent: 80,
    createdAt: now,
  }
  new RecordWriter(db).write({ does: 'add', kind: 'job', record: record as never })
  losses.push('What the job is called, its client and its units could not be read; set them anew.')
}

const words = (table: string): string => table.replaceAll('_', ' ')

/** As a person knows it, where it has a mark or a name. */
function called(table: string, row: Fields, key: string): string {
  const name = row['mark'] ?? row['name'] ?? row['tag'] ?? row[key]
  return `The ${words(table)} ${String(name)}`
}
