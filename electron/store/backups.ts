// Whole copies beside the job: one before each upgrade, one a day when something changed; old ones thin out.
import fs from 'node:fs'
import path from 'node:path'
import { connect, isSqliteError, valueOf, type Connection } from './connection.ts'
import { applicationId, backupFolderOf, jobFileExtension, stampOf, withinBytes } from './names.ts'

export interface Backup {
  readonly path: string
  /** ISO 8601, UTC. */
  readonly madeAt: string
  readonly revision: number
}

const hour = 3_600_000
const day = 24 * hour
const stampPattern = / (\d{4}-\d\d-\d\d)T(\d\d)(\d\d)(\d\d(?:\.\d{1,3})?)Z r(\d+)\.lintelbook$/

/** The backups of a job, oldest first. A folder that is not there holds none. */
export function listBackups(jobPath: string): Backup[] {
  const folder = backupFolderOf(jobPath)
  if (!fs.existsSync(folder)) return []
  return fs
    .readdirSync(folder)
    .flatMap((name) => {
      const found = stampPattern.exec(name)
      if (found === null) return []
      const madeAt = `${found[1]}T${found[2]}:${found[3]}:${found[4]}Z`
      return [{ path: path.join(folder, name), madeAt, revision: Number(found[5]) }]
    })
    .toSorted((one, other) => Date.parse(one.madeAt) - Date.parse(other.madeAt))
}

/** The revision a file stands at: that of the last change made, taken back or done again. */
export const revisionOf = (db: Connection): number =>
  valueOf(db, 'SELECT coalesce(max(revision), 0) FROM change') as number

/**
 * Copies the job as it stands, checks the copy, and only then thins out older ones. `now` is ISO 8601, UTC.
 * Throws errors of SQLite and of the file system.
 */
export function makeBackup(db: Connection, jobPath: string, now: string): Backup {
  const folder = makeBackupFolder(jobPath)
  const revision = revisionOf(db)
  const made = path.join(folder, `${stem(jobPath)} ${stampOf(now)} r${revision}${jobFileExtension}`)
  const partial = `${made}.partial`
  copyWhole(db, partial)
  fs.renameSync(partial, made)
  prune(jobPath, now)
  return { path: made, madeAt: now, revision }
}

/** The folder of a job's backups, made where there is none yet. Throws when the folder of the job itself is gone. */
export function makeBackupFolder(jobPath: string): string {
  const folder = backupFolderOf(jobPath)
  // Not recursive: a share that went away would be made anew as a folder of this machine.
  if (!fs.existsSync(folder)) fs.mkdirSync(folder)
  return folder
}

/** The job's name as its copies carry it: short enough for what is added to it. */
export const stem = (jobPath: string): string => withinBytes(path.basename(jobPath, jobFileExtension), 180)

/** Copies a job as it stands, checks the copy and sees it onto the disk; leaves nothing behind when it fails. */
export function copyWhole(db: Connection, to: string): void {
  fs.rmSync(to, { force: true })
  try {
    db.prepare('VACUUM INTO ?').run(to)
    verify(to, revisionOf(db))
    syncToDisk(to)
  } catch (error) {
    fs.rmSync(to, { force: true })
    throw error
  }
}

/**
 * The backup to go back to: the one with the most changes, whatever the clocks said; restoring counts as a change. Of equal
 * ones the newest that is not from a clock that ran ahead.
 */
export function newestBackup(jobPath: string, now: string): Backup | null {
  const backups = listBackups(jobPath)
  const most = Math.max(...backups.map(({ revision }) => revision))
  const best = backups.filter(({ revision }) => revision === most)
  return best.findLast(({ madeAt }) => Date.parse(madeAt) <= Date.parse(now)) ?? best.at(-1) ?? null
}

/** Whether the newest backup is more than a day old, or from a clock that ran ahead, and the job has moved on since. */
export function backupIsDue(jobPath: string, revision: number, now: string): boolean {
  const newest = listBackups(jobPath).at(-1)
  if (newest === undefined) return revision > 0
  if (newest.revision === revision) return false
  const age = Date.parse(now) - Date.parse(newest.madeAt)
  return age >= day || age < 0
}

function verify(copyPath: string, revision: number): void {
  const copy = connect(copyPath, { readOnly: true, busyMilliseconds: 0 })
  try {
    const fine =
      valueOf(copy, 'PRAGMA application_id') === applicationId &&
      valueOf(copy, 'PRAGMA quick_check(1)') === 'ok' &&
      revisionOf(copy) === revision
    if (!fine) throw new Error('the copy did not come out whole')
  } finally {
    copy.close()
  }
}

export function syncToDisk(copyPath: string): void {
  const handle = fs.openSync(copyPath, 'r+')
  try {
    fs.fsyncSync(handle)
  } finally {
    fs.closeSync(handle)
  }
}

function prune(jobPath: string, now: string): void {
  const backups = listBackups(jobPath)
  const kept = new Set(
    keepBackups(
      backups.map((each) => each.madeAt),
      now,
    ),
  )
  for (const each of backups) if (!kept.has(each.madeAt)) fs.rmSync(each.path, { force: true })
}

/**
 * Which backups to keep, of these times (ISO 8601, UTC): the last 10, the newest of each day for 14 days, of each week for
 * 8 weeks, of each month for 12 months. Those later than `now` come from another clock and are kept as well.
 */
export function keepBackups(times: readonly string[], now: string): string[] {
  const nowMilliseconds = Date.parse(now)
  const newestFirst = times.toSorted((one, other) => Date.parse(other) - Date.parse(one))
  const past = newestFirst.filter((time) => Date.parse(time) <= nowMilliseconds)
  const kept = new Set([
    ...newestFirst.filter((time) => Date.parse(time) > nowMilliseconds),
    ...past.slice(0, 10),
  ])
  const newestOfEach = (span: number, nameOf: (time: string) => string): void => {
    const seen = new Set<string>()
    for (const time of past) {
      if (nowMilliseconds - Date.parse(time) >= span || seen.has(nameOf(time))) continue
      seen.add(nameOf(time))
      kept.add(time)
    }
  }
  newestOfEach(14 * day, (time) => time.slice(0, 10))
  newestOfEach(56 * day, weekOf)
  newestOfEach(366 * day, (time) => time.slice(0, 7))
  return times.filter((time) => kept.has(time))
}

/** Monday to Sunday; 1970-01-01 was a Thursday. */
const weekOf = (time: string): string => String(Math.floor((Date.parse(time) + 3 * day) / (7 * day)))

export const backupTrouble = (error: unknown): string => {
  if (isSqliteError(error) || error instanceof Error) return error.message
  return String(error)
}
