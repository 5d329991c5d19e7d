// Brings the index up to what is in the folders: looks at every file's size and time, reads those that are new or
// changed, and keeps what it has of those that cannot be reached. Runs in the worker.
import path from 'node:path'
import type { JobData } from '../../core/job/index.ts'
import type { JobFile, openJobFile as OpenJobFile, StoreProblemCode } from '../store/index.ts'
import { type FileRow, type IndexConnection, IndexWriter, isOfSqlite, jobsIn } from './index-file.ts'
import { emptySentence, notRead, scan, type Scan, type Scanned, type SeenFile } from './scan.ts'

export interface ShelveOptions {
  readonly db: IndexConnection
  readonly folders: readonly string[]
  readonly extension: string
  readonly now: () => string
  readonly log: (line: string) => void
  /** Called before each folder and each file, and now and then in between. */
  readonly onWord: (word: Looking) => void
}

/** What is being looked at. */
export interface Looking {
  readonly folder: string
  /** Null while the folder is looked through. */
  readonly file: SeenFile | null
  readonly done: number
  readonly total: number
}

export interface Shelved {
  /** Files whose job was put into the index, new or again. */
  readonly indexed: number
  readonly unchanged: number
}

/** A file over which a worker ran out of memory. */
export const tooLarge = 'too-large'

/** A file that is as it was when one of these was found stays as it is until it is written. */
const settled: ReadonlySet<string> = new Set<StoreProblemCode | typeof tooLarge>([
  'damaged',
  'truncated',
  'not-a-job',
  'empty',
  tooLarge,
])
/** With one of these there is no job any more; with the others what is indexed may still answer. */
const noJob: ReadonlySet<string> = new Set<StoreProblemCode>(['not-a-job', 'folder', 'missing'])

/** A write within the step of a file system's clock can leave the time as it was. FAT counts in two seconds. */
const clockStepMilliseconds = 3000

/** One folder after the other. Throws what SQLite throws about the index itself. */
export async function shelve({ db, folders, extension, now, log, onWord }: ShelveOptions): Promise<Shelved> {
  const writer = new IndexWriter(db)
  let indexed = 0
  let unchanged = 0
  const work: Task[] = []
  for (const folder of folders) {
    onWord({ folder, file: null, done: 0, total: 0 })
    let looked = 0
    const scanned = scan(folder, extension, () => {
      looked += 1
      if (looked % 100 === 0) onWord({ folder, file: null, done: 0, total: 0 })
    })
    if (!scanned.reached) {
      writer.folderAway(folder, scanned.sentence, now())
      continue
    }
    if (isDisconnected(db, folder, scanned)) {
      writer.folderAway(folder, emptySentence(folder), now())
      continue
    }
    keepFolder(writer, folder, scanned, now(), log)
    for (const file of scanned.files) {
      const row = writer.fileRow(file.real)
      if (row === undefined || !isAsItWas(row, file)) work.push({ folder, file, row })
      else unchanged += 1
    }
  }
  // The latest last: later blocks are asked first.
  work.sort((one, other) => one.file.modified - other.file.modified)
  const away = new Set<string>()
  // A look that finds nothing new does without the store: it takes longer to load than the look itself.
  const store = work.length === 0 ? null : await import('../store/index.ts')
  for (const [done, { folder, file, row }] of work.entries()) {
    onWord({ folder, file, done, total: work.length })
    if (store === null || away.has(folder)) continue
    const outcome = read(
      writer,
      { folder, file, row },
      readJob(store.openJobFile, file.path, now),
      now,
      log,
      () => scan(folder, extension),
    )
    if (outcome === 'away') away.add(folder)
    if (outcome === 'indexed') indexed += 1
  }
  writer.tidy()
  return { indexed, unchanged }
}

/** The folder of a share that is not connected is there and empty. */
const isDisconnected = (db: IndexConnection, folder: string, { isEmpty }: Scan): boolean =>
  isEmpty && jobsIn(db, folder) > 0

function keepFolder(
  writer: IndexWriter,
  folder: string,
  { files, unreadable }: Scan,
  at: string,
  log: (line: string) => void,
): void {
  for (const { sentence } of unreadable) log(sentence)
  const mayStillBe = (seenAs: string): boolean =>
    unreadable.some(({ path: place }) => seenAs === place || seenAs.startsWith(`${place}${path.sep}`))
  writer.folderRead(folder, files, mayStillBe, at)
  for (const each of unreadable)
    if (files.every(({ path: file }) => file !== each.path))
      writer.unreadable(folder, each.path, each.sentence, at)
}

function isAsItWas(row: FileRow, { bytes, modified }: SeenFile): boolean {
  if (row.bytes !== bytes || row.modified !== modified) return false
  return row.problem === null ? row.isIndexed === 1 : settled.has(row.problem)
}

/** A file to be read, and what the index has of it. */
interface Task {
  readonly folder: string
  readonly file: SeenFile
  readonly row: FileRow | undefined
}

type Outcome = 'indexed' | 'same' | 'trouble' | 'away'
type Log = (line: string) => void

function read(
  writer: IndexWriter,
  { folder, file: seen, row }: Task,
  job: ReadJob,
  now: () => string,
  log: Log,
  scanAgain: () => Scanned,
): Outcome {
  const isFresh = Math.abs(Date.now() - seen.modified) < clockStepMilliseconds
  const file = { ...seen, modified: isFresh ? null : seen.modified }
  if (job.ok) {
    if (job.stamp !== null && row?.stamp === job.stamp) {
      writer.fileSame(file, now())
      return 'same'
    }
    try {
      writer.job(file, job.data, job.changedAt, job.stamp, now())
      return 'indexed'
    } catch (error) {
      if (isOfSqlite(error)) throw error
      log(`${file.path}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
      writer.fileTrouble(file, 'unreadable', notRead(file.path, detailOf(error)), true, now())
      return 'trouble'
    }
  }
  log(job.sentence)
  if (job.code === 'missing' || job.code === 'unreachable') {
    const again = scanAgain()
    if (!again.reached) {
      writer.folderAway(folder, again.sentence, now())
      return 'away'
    }
    if (job.code === 'missing' && !again.files.some(({ real }) => real === file.real)) {
      writer.fileGone(folder, file.real)
      return 'trouble'
    }
  }
  writer.fileTrouble(file, job.code, job.sentence, !noJob.has(job.code), now())
  return 'trouble'
}

const detailOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))

type ReadJob =
  | {
      readonly ok: true
      readonly data: JobData
      /** Of its last change, or when it was made. */
      readonly changedAt: string
      /** The same as long as nothing was changed; null where that cannot be told. */
      readonly stamp: string | null
    }
  | { readonly ok: false; readonly code: string; readonly sentence: string }

/** The whole job, its file open no longer than it takes. Whatever is wrong with it is a sentence. */
function readJob(open: typeof OpenJobFile, file: string, now: () => string): ReadJob {
  let job: JobFile | null = null
  try {
    const opened = open(file, { who: '', now, readOnly: true, busyMilliseconds: 1000 })
    if (!opened.ok) return { ok: false, code: opened.problem.code, sentence: opened.sentence }
    job = opened.file
    const { data, revision } = job
    const [last] = job.history(1)
    const changedAt = last?.turnedAt ?? last?.at ?? data.job.createdAt
    // Two files without any change may differ all the same.
    const stamp = last === undefined ? null : `${data.job.id} ${revision} ${last.seq} ${changedAt}`
    return { ok: true, data, changedAt, stamp }
  } catch (error) {
    // The store throws what it does not expect of a file; one file must not stop the others.
    return { ok: false, code: 'unreadable', sentence: notRead(file, detailOf(error)) }
  } finally {
    job?.close()
  }
}
