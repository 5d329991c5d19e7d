// The index of the shelf: an SQLite file of its own under the program's home. It holds nothing that is not in the job
// files, so what is older, newer or damaged is thrown away and made again.
import Database from 'better-sqlite3'
import fs from 'node:fs'
import path from 'node:path'
import {
  entryColumns,
  isLetters,
  jobTexts,
  libraryEntries,
  wordsByColumn,
  type EntryColumn,
  type EntryText,
} from '../../core/library/index.ts'
import type { JobData, RecordKind } from '../../core/job/index.ts'

export type IndexConnection = Database.Database

/** To be raised with every change to the schema below, or to what core/library makes of a job. */
const indexVersion = 1
/** "LBLI", in the header of the index. */
const applicationId = 0x4c424c49

export const indexPathIn = (home: string): string => path.join(home, 'library-index.sqlite')

/** Entries of one job have numbers of one block; a later block is a job that was looked at later. */
const blockSize = 2 ** 21

const schema = `
  CREATE TABLE folder (path TEXT PRIMARY KEY, looked_at TEXT, away_since TEXT, sentence TEXT) STRICT;
  CREATE TABLE file (
    path TEXT PRIMARY KEY, bytes INTEGER NOT NULL, modified REAL, looked_at TEXT NOT NULL, problem TEXT, sentence TEXT
  ) STRICT;
  CREATE TABLE found_in (
    folder TEXT NOT NULL, path TEXT NOT NULL, seen_as TEXT NOT NULL, PRIMARY KEY (folder, path)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE job (
    block INTEGER PRIMARY KEY AUTOINCREMENT, path TEXT UNIQUE NOT NULL, name TEXT NOT NULL, texts TEXT NOT NULL,
    openings INTEGER NOT NULL, changed_at TEXT NOT NULL, stamp TEXT, indexed_at TEXT NOT NULL
  ) STRICT;
  CREATE TABLE entry (
    id INTEGER PRIMARY KEY, kind TEXT NOT NULL, record_id TEXT NOT NULL, opening_id TEXT, title TEXT NOT NULL,
    place TEXT NOT NULL, texts TEXT NOT NULL
  ) STRICT;
  CREATE VIRTUAL TABLE entry_words USING fts5 (
    ${entryColumns.join(', ')}, content = '', contentless_delete = 1, detail = column, prefix = '1 2 3',
    tokenize = 'unicode61 remove_diacritics 0'
  );
  CREATE VIRTUAL TABLE entry_vocabulary USING fts5vocab (entry_words, 'row');
  CREATE TABLE word (id INTEGER PRIMARY KEY, word TEXT UNIQUE NOT NULL, letters INTEGER NOT NULL, uses INTEGER NOT NULL) STRICT;
  CREATE VIRTUAL TABLE word_parts USING fts5 (
    padded, content = '', contentless_delete = 1, detail = none, tokenize = 'trigram'
  );
  PRAGMA application_id = ${applicationId};
  PRAGMA user_version = ${indexVersion};
`

export const isOfSqlite = (error: unknown): error is Error & { readonly code: string } =>
  error instanceof Database.SqliteError

/** Whether an error says that the index can no longer be trusted. */
export const isDamage = (error: unknown): boolean =>
  isOfSqlite(error) &&
  (/^SQLITE_(CORRUPT|NOTADB)/.test(error.code) || /no such (table|column|module)/.test(error.message))

/** Why the index cannot be written, in words; null for a bug. */
export function indexTrouble(error: unknown): string | null {
  const code = error instanceof Error && 'code' in error ? String(error.code) : ''
  if (/^(SQLITE_FULL|ENOSPC|EDQUOT)/.test(code)) return 'there is no room left on the disk'
  if (/^(SQLITE_BUSY|SQLITE_LOCKED|EBUSY)/.test(code)) return 'another program is busy with it'
  if (/^(SQLITE_READONLY|SQLITE_CANTOPEN|SQLITE_PERM|EACCES|EPERM|EROFS|ENOTDIR|EEXIST)/.test(code))
    return 'its folder cannot be written'
  return /^(SQLITE_IOERR|EIO|ESTALE)/.test(code) ? 'its disk does not take it' : null
}

/** Opens the index, or makes it where there is none, or one that is older, newer or damaged. */
export function openIndex(indexPath: string): { readonly db: IndexConnection; readonly anew: boolean } {
  const isThere = fs.existsSync(indexPath)
  if (isThere) {
    let db: IndexConnection | null = null
    try {
      db = connectIndex(indexPath)
      if (looksRight(db)) return { db, anew: false }
    } catch (error) {
      if (!isDamage(error)) {
        db?.close()
        throw error
      }
    }
    db?.close()
    throwAway(indexPath)
  } else {
    fs.mkdirSync(path.dirname(indexPath), { recursive: true })
  }
  const db = connectIndex(indexPath)
  // Two programs may start at one time: the second finds the work done.
  db.transaction(() => {
    if (!looksRight(db)) db.exec(schema)
  }).immediate()
  return { db, anew: isThere }
}

/** Opens an index that is there. */
export function connectIndex(indexPath: string): IndexConnection {
  const db = new Database(indexPath, { timeout: 5000 })
  try {
    db.pragma('trusted_schema = OFF')
    db.pragma('cell_size_check = ON')
    // Searching goes on while a worker writes. Where that cannot be, SQLite stays with what it has.
    db.pragma('journal_mode = WAL')
    db.pragma('synchronous = NORMAL')
    db.pragma('cache_size = -32000')
    return db
  } catch (error) {
    db.close()
    throw error
  }
}

const statements = new WeakMap<IndexConnection, Map<string, Database.Statement>>()

/** A statement, prepared once for each connection. */
function prepared<Bound extends unknown[], Row>(
  db: IndexConnection,
  sql: string,
): Database.Statement<Bound, Row> {
  let known = statements.get(db)
  if (known === undefined) statements.set(db, (known = new Map()))
  let statement = known.get(sql)
  if (statement === undefined) known.set(sql, (statement = db.prepare(sql)))
  return statement as unknown as Database.Statement<Bound, Row>
}

const looksRight = (db: IndexConnection): boolean =>
  db.pragma('application_id', { simple: true }) === applicationId &&
  db.pragma('user_version', { simple: true }) === indexVersion &&
  prepared(db, 'SELECT count(*) FROM (SELECT 1 FROM job JOIN entry_words ON 0)').pluck().get() === 0

/** To be called when nobody in this process has it open. */
export function throwAway(indexPath: string): void {
  for (const ending of ['', '-wal', '-shm', '-journal']) fs.rmSync(`${indexPath}${ending}`, { force: true })
}

/** A job file as the shelf knows it. */
export interface ShelfFile {
  readonly path: string
  readonly jobName: string | null
  readonly openings: number
  /** Why it could not be read when last looked at; null when it was. */
  readonly sentence: string | null
  /** Null where nothing of it is in the index. */
  readonly indexedAt: string | null
}

export interface ShelfFolder {
  readonly path: string
  readonly reachable: boolean
  /** ISO 8601; when it was first found not to be reachable. */
  readonly awaySince: string | null
  readonly sentence: string | null
  readonly lookedAt: string | null
  readonly jobs: number
}

/** What a search needs to know of a job. */
export interface IndexedJob {
  readonly block: number
  /** The file as it was seen in its folder. */
  readonly path: string
  readonly name: string
  readonly texts: readonly EntryText[]
  readonly changedAt: string
  /** Why the index may be older than the file, or the file not be there. */
  readonly sentence: string | null
}

export interface IndexedEntry {
  readonly block: number
  readonly kind: RecordKind
  readonly id: string
  readonly openingId: string | null
  readonly title: string
  readonly place: string
  readonly texts: readonly EntryText[]
}

const asJson = (folders: readonly string[]): string => JSON.stringify(folders)

/** The jobs found in these folders. */
export function indexedJobs(db: IndexConnection, folders: readonly string[]): IndexedJob[] {
  const rows = prepared<[string], Omit<IndexedJob, 'texts'> & { readonly texts: string }>(
    db,
    `SELECT job.block, min(found_in.seen_as) AS path, job.name, job.texts, job.changed_at AS changedAt,
         coalesce(file.sentence, CASE WHEN count(folder.away_since) = count(*) THEN min(folder.sentence) END) AS sentence
       FROM job JOIN found_in USING (path) JOIN folder ON folder.path = found_in.folder JOIN file USING (path)
       WHERE found_in.folder IN (SELECT value FROM json_each(?)) GROUP BY job.block`,
  ).all(asJson(folders))
  return rows.map((row) => ({ ...row, texts: JSON.parse(row.texts) as EntryText[] }))
}

export const jobsIn = (db: IndexConnection, folder: string): number =>
  prepared<[string], number>(db, 'SELECT count(*) FROM found_in JOIN job USING (path) WHERE folder = ?')
    .pluck()
    .get(folder) ?? 0

export const countJobs = (db: IndexConnection): number =>
  prepared<[], number>(db, 'SELECT count(*) FROM job').pluck().get() ?? 0

/** Numbers of entries, of the jobs looked at latest first. `blocks` limits it to some jobs; null is all. */
export function matchingEntries(
  db: IndexConnection,
  match: string,
  blocks: string | null,
  limit: number,
): number[] {
  const within = blocks === null ? '' : 'AND (rowid >> 21) IN (SELECT value FROM json_each(?))'
  const bound = blocks === null ? [match, limit] : [match, blocks, limit]
  return prepared<unknown[], number>(
    db,
    `SELECT rowid FROM entry_words WHERE entry_words MATCH ? ${within} ORDER BY rowid DESC LIMIT ?`,
  )
    .pluck()
    .all(...bound)
}

export function entryOf(db: IndexConnection, number: number): IndexedEntry | null {
  const row = prepared<[number], Omit<IndexedEntry, 'texts' | 'block'> & { readonly texts: string }>(
    db,
    'SELECT kind, record_id AS id, opening_id AS openingId, title, place, texts FROM entry WHERE id = ?',
  ).get(number)
  if (row === undefined) return null
  return { ...row, block: Math.floor(number / blockSize), texts: JSON.parse(row.texts) as EntryText[] }
}

const trigramsOf = (text: string): string[] =>
  Array.from({ length: Math.max(0, text.length - 2) }, (_, at) => `"${text.slice(at, at + 3)}"`)

const mostWordsInside = 100

/** Words of the shelf that hold these letters. */
export function wordsHolding(db: IndexConnection, letters: string): string[] {
  if (letters.length < 3) return []
  const sql = `SELECT word.word FROM word_parts JOIN word ON word.id = word_parts.rowid
    WHERE word_parts MATCH ? AND instr(word.word, ?) > 0 LIMIT ${mostWordsInside}`
  return prepared<[string, string], string>(db, sql).pluck().all(trigramsOf(letters).join(' '), letters)
}

/** Words of letters that share something with this one and are no more than two letters longer or shorter. */
export function wordsLike(db: IndexConnection, word: string): string[] {
  const sql = `SELECT word.word FROM word_parts JOIN word ON word.id = word_parts.rowid
    WHERE word_parts MATCH ? AND word.letters = 1 AND length(word.word) BETWEEN ? AND ? LIMIT 4000`
  const some = trigramsOf(`^${word}$`).join(' OR ')
  return prepared<[string, number, number], string>(db, sql)
    .pluck()
    .all(some, word.length - 2, word.length + 2)
}

/** What a word is used for anywhere on the shelf. */
const uses = { whole: 1, name: 2 } as const
const usesOfColumn: Readonly<Record<EntryColumn, number>> = {
  mark: uses.whole,
  whole: uses.whole,
  key: uses.name,
  room: uses.name,
  place: uses.name,
  thing: 0,
  note: 0,
  job: uses.name,
}

/** Whether anything on the shelf is called just so: a mark, a serial, a room. */
export const isWhole = (db: IndexConnection, word: string): boolean =>
  ((prepared<[string], number>(db, 'SELECT uses FROM word WHERE word = ?').pluck().get(word) ?? 0) &
    uses.whole) >
  0

/** Whether a mark, a room, a level, a building or a job has a word that begins so, or one of these. */
export function isInNames(db: IndexConnection, beginning: string, words: readonly string[]): boolean {
  const begins = `SELECT 1 FROM word WHERE word >= ? AND word < ? AND uses & ${uses.name} LIMIT 1`
  if (prepared(db, begins).get(beginning, `${beginning}\u{10FFFF}`) !== undefined) return true
  const among = `SELECT 1 FROM word WHERE word IN (SELECT value FROM json_each(?)) AND uses & ${uses.name} LIMIT 1`
  return prepared(db, among).get(asJson(words)) !== undefined
}

export function shelfFolders(db: IndexConnection, folders: readonly string[]): ShelfFolder[] {
  const one = prepared<[string], Omit<ShelfFolder, 'reachable'>>(
    db,
    `SELECT path, away_since AS awaySince, sentence, looked_at AS lookedAt,
       (SELECT count(*) FROM found_in JOIN job USING (path) WHERE folder = folder.path) AS jobs
     FROM folder WHERE path = ?`,
  )
  return folders.map((folder) => {
    const row = one.get(folder)
    return row === undefined
      ? { path: folder, reachable: false, awaySince: null, sentence: null, lookedAt: null, jobs: 0 }
      : { ...row, reachable: row.sentence === null }
  })
}

export const shelfFiles = (db: IndexConnection, folders: readonly string[]): ShelfFile[] =>
  prepared<[string], ShelfFile>(
    db,
    `SELECT min(found_in.seen_as) AS path, job.name AS jobName, coalesce(job.openings, 0) AS openings,
         file.sentence, job.indexed_at AS indexedAt
       FROM found_in JOIN file USING (path) LEFT JOIN job USING (path)
       WHERE folder IN (SELECT value FROM json_each(?)) GROUP BY found_in.path ORDER BY 1`,
  ).all(asJson(folders))

/** A file's row, as the next look compares it. */
export interface FileRow {
  readonly bytes: number
  /** Milliseconds; null when it was read so soon after it was written that it may have been written again. */
  readonly modified: number | null
  readonly problem: string | null
  readonly stamp: string | null
  readonly isIndexed: 0 | 1
}

/** What one worker writes. Each method is one transaction. */
export class IndexWriter {
  readonly #db: IndexConnection
  /** Each word the index has, with its uses. */
  #known: Map<string, number> | null = null
  #removed = false

  constructor(db: IndexConnection) {
    this.#db = db
  }

  fileRow(file: string): FileRow | undefined {
    return prepared<[string], FileRow>(
      this.#db,
      `SELECT bytes, modified, problem, job.stamp, job.path IS NOT NULL AS isIndexed
         FROM file LEFT JOIN job USING (path) WHERE path = ?`,
    ).get(file)
  }

  /** A folder that was read: these files are in it, and those that were under no unreadable place are gone. */
  folderRead(
    folder: string,
    found: readonly { readonly real: string; readonly path: string }[],
    mayStillBe: (seenAs: string) => boolean,
    at: string,
  ): void {
    this.#write(() => {
      this.#folder(folder, at, null, null)
      const before = prepared<[string], { path: string; seenAs: string }>(
        this.#db,
        'SELECT path, seen_as AS seenAs FROM found_in WHERE folder = ?',
      ).all(folder)
      const here = new Set(found.map(({ real }) => real))
      for (const { path: file, seenAs } of before)
        if (!here.has(file) && !mayStillBe(seenAs)) this.#forget(folder, file)
      const put = prepared(
        this.#db,
        'INSERT OR REPLACE INTO found_in (folder, path, seen_as) VALUES (?, ?, ?)',
      )
      for (const { real, path: seenAs } of found) put.run(folder, real, seenAs)
    })
  }

  /** A folder that cannot be read keeps what is indexed of it. */
  folderAway(folder: string, sentence: string, at: string): void {
    this.#write(() => this.#folder(folder, at, at, sentence))
  }

  #folder(folder: string, lookedAt: string, awaySince: string | null, sentence: string | null): void {
    prepared(
      this.#db,
      `INSERT INTO folder (path, looked_at, away_since, sentence) VALUES (@folder, @lookedAt, @awaySince, @sentence)
         ON CONFLICT (path) DO UPDATE SET sentence = @sentence,
           looked_at = iif(@awaySince IS NULL, @lookedAt, looked_at),
           away_since = iif(@awaySince IS NULL, NULL, coalesce(away_since, @awaySince))`,
    ).run({ folder, lookedAt, awaySince, sentence })
  }

  #forget(folder: string, file: string): void {
    prepared(this.#db, 'DELETE FROM found_in WHERE folder = ? AND path = ?').run(folder, file)
    if (prepared(this.#db, 'SELECT 1 FROM found_in WHERE path = ?').get(file) !== undefined) return
    this.#removeJob(file)
    prepared(this.#db, 'DELETE FROM file WHERE path = ?').run(file)
  }

  /** Something in a folder that could not even be looked at. */
  unreadable(folder: string, place: string, sentence: string, at: string): void {
    this.#write(() => {
      prepared(this.#db, 'INSERT OR REPLACE INTO found_in (folder, path, seen_as) VALUES (?, ?, ?)').run(
        folder,
        place,
        place,
      )
      this.#file(place, 0, null, 'unreadable', sentence, at)
    })
  }

  fileGone(folder: string, file: string): void {
    this.#write(() => this.#forget(folder, file))
  }

  /** What could not be read, and why; `keep` leaves what is indexed of it. */
  fileTrouble(
    file: { readonly real: string; readonly bytes: number; readonly modified: number | null },
    problem: string,
    sentence: string,
    keep: boolean,
    at: string,
  ): void {
    this.#write(() => {
      this.#file(file.real, file.bytes, file.modified, problem, sentence, at)
      if (!keep) this.#removeJob(file.real)
    })
  }

  /** A file that was written but whose job is as it was. */
  fileSame(
    file: { readonly real: string; readonly bytes: number; readonly modified: number | null },
    at: string,
  ): void {
    this.#write(() => this.#file(file.real, file.bytes, file.modified, null, null, at))
  }

  #file(
    file: string,
    bytes: number,
    modified: number | null,
    problem: string | null,
    sentence: string | null,
    at: string,
  ): void {
    prepared(
      this.#db,
      `INSERT OR REPLACE INTO file (path, bytes, modified, problem, sentence, looked_at) VALUES (?, ?, ?, ?, ?, ?)`,
    ).run(file, bytes, modified, problem, sentence, at)
  }

  /** Puts a job in place of what was indexed of its file. */
  job(
    file: { readonly real: string; readonly bytes: number; readonly modified: number | null },
    data: JobData,
    changedAt: string,
    stamp: string | null,
    at: string,
  ): void {
    const ofJob = jobTexts(data)
    const fresh = new Map<string, number>()
    this.#known ??= new Map(
      prepared<[], [string, number]>(this.#db, 'SELECT word, uses FROM word').raw().all(),
    )
    this.#write(() => {
      this.#removeJob(file.real)
      this.#file(file.real, file.bytes, file.modified, null, null, at)
      const texts = JSON.stringify(ofJob)
      const openings = data.count('opening')
      const { lastInsertRowid } = prepared(
        this.#db,
        `INSERT INTO job (path, name, texts, openings, changed_at, stamp, indexed_at) VALUES (?, ?, ?, ?, ?, ?, ?)`,
      ).run(file.real, data.job.name, texts, openings, changedAt, stamp, at)
      this.#entries(data, ofJob, Number(lastInsertRowid) * blockSize, fresh)
      this.#words(fresh)
    })
    for (const [word, used] of fresh) this.#known.set(word, used)
  }

  #entries(data: JobData, ofJob: readonly EntryText[], first: number, fresh: Map<string, number>): void {
    const putEntry = prepared(this.#db, 'INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?)')
    const names = entryColumns.join(', ')
    const putWords = prepared(
      this.#db,
      `INSERT INTO entry_words (rowid, ${names}) VALUES (?, ${entryColumns.map(() => '?').join(', ')})`,
    )
    let number = first
    for (const entry of libraryEntries(data)) {
      // Two million things in one job: what is beyond is not found.
      if (number >= first + blockSize) break
      const words = wordsByColumn(entry, ofJob)
      for (const column of entryColumns)
        for (const word of words[column]) {
          const known = fresh.get(word) ?? this.#known?.get(word)
          const used = (known ?? 0) | usesOfColumn[column]
          if (used !== known) fresh.set(word, used)
        }
      const texts = JSON.stringify(entry.texts)
      putEntry.run(number, entry.kind, entry.id, entry.openingId, entry.title, entry.place, texts)
      putWords.run(number, ...entryColumns.map((column) => words[column].join(' ')))
      number += 1
    }
  }

  #words(fresh: ReadonlyMap<string, number>): void {
    const putWord = prepared<unknown[], { id: number; uses: number }>(
      this.#db,
      `INSERT INTO word (word, letters, uses) VALUES (?, ?, ?)
       ON CONFLICT (word) DO UPDATE SET uses = uses | excluded.uses RETURNING id`,
    )
    const putParts = prepared(this.#db, 'INSERT INTO word_parts (rowid, padded) VALUES (?, ?)')
    for (const [word, used] of fresh) {
      const row = putWord.get(word, isLetters(word) ? 1 : 0, used)
      if (row !== undefined && this.#known?.has(word) !== true) putParts.run(row.id, `^${word}$`)
    }
  }

  #removeJob(file: string): void {
    const block = prepared<[string], number>(this.#db, 'SELECT block FROM job WHERE path = ?')
      .pluck()
      .get(file)
    if (block === undefined) return
    this.#removed = true
    for (const sql of [
      'DELETE FROM entry_words WHERE rowid >= ? AND rowid < ?',
      'DELETE FROM entry WHERE id >= ? AND id < ?',
    ])
      prepared(this.#db, sql).run(block * blockSize, (block + 1) * blockSize)
    prepared(this.#db, 'DELETE FROM job WHERE block = ?').run(block)
  }

  /** Lets go of words that nothing has any more. */
  tidy(): void {
    if (!this.#removed) return
    this.#removed = false
    this.#write(() => {
      const gone = prepared<[], { id: number; word: string }>(
        this.#db,
        'SELECT id, word FROM word WHERE word NOT IN (SELECT term FROM entry_vocabulary)',
      ).all()
      for (const { id, word } of gone) {
        prepared(this.#db, 'DELETE FROM word_parts WHERE rowid = ?').run(id)
        prepared(this.#db, 'DELETE FROM word WHERE id = ?').run(id)
        this.#known?.delete(word)
      }
    })
  }

  #write(work: () => void): void {
    this.#db.transaction(work).immediate()
  }
}
