// Going back to a backup. What stood in its place is set aside whole, with the half-written journal beside it.
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { copyWhole, listBackups, makeBackupFolder, revisionOf, stem, syncToDisk } from './backups.ts'
import { closeTidily, connect, problemOf } from './connection.ts'
import { takeLock, type Lock } from './lock.ts'
import { jobFileExtension, journalPathOf, partialPathOf, shownName, stampOf } from './names.ts'
import { isOpenHere, openJobFile, type OpenOptions } from './open.ts'
import { refuse, type StoreProblem, type StoreResult } from './problems.ts'

export interface Restored {
  /** Where the file that was there lies now; null when there was none. */
  readonly setAside: string | null
}

/**
 * Puts a backup in the place of its job file, which nobody may have open. Looks at the backup first: what cannot be
 * opened is not put anywhere. A refusal leaves the job file as it was.
 */
export function restoreBackup(
  jobPath: string,
  backupPath: string,
  options: OpenOptions,
): StoreResult<Restored> {
  const full = path.resolve(jobPath)
  if (isOpenHere(full)) return refuse({ code: 'open-here', file: shownName(full) })
  const looked = openJobFile(backupPath, { ...options, readOnly: true })
  if (!looked.ok) return looked
  looked.file.close()
  try {
    const held = lockFor(full, options)
    if ('code' in held) return refuse(held)
    try {
      return { ok: true, setAside: exchange(full, path.resolve(backupPath), options) }
    } finally {
      held.release()
    }
  } catch (error) {
    return refuse(problemOf(error, full))
  }
}

function lockFor(full: string, { who, now, program = 'Lintelbook' }: OpenOptions): Lock | StoreProblem {
  const file = shownName(full)
  // Asked first: SQLite's way of saying that a folder is gone carries no code.
  fs.accessSync(path.dirname(full))
  const outcome = takeLock(full, { name: who, machine: os.hostname(), program, since: now() })
  if (outcome.taken) return outcome.lock
  const { heldBy, detail } = outcome
  return heldBy === null ? { code: 'no-lock', file, detail } : { code: 'held', file, holder: heldBy }
}

function exchange(full: string, backupPath: string, { who, now }: OpenOptions): string | null {
  const partial = partialPathOf(full)
  const at = now()
  const backup = connect(backupPath, { readOnly: true, busyMilliseconds: 0 })
  try {
    copyWhole(backup, partial)
  } finally {
    backup.close()
  }
  try {
    noteInJournal(partial, full, `Go back to ${shownName(backupPath)}`, { who, at })
    // Copied, not moved, so that at every moment of a power cut one of the two is whole.
    const aside = setAside(full, at)
    // Before the exchange: SQLite would roll what it holds back into the backup.
    fs.rmSync(journalPathOf(full), { force: true })
    fs.renameSync(partial, full)
    return aside
  } catch (error) {
    fs.rmSync(partial, { force: true })
    throw error
  }
}

/** Kept among the changes, though it cannot be undone, and counted on from all that is known: backups sort by it. */
function noteInJournal(
  partial: string,
  full: string,
  name: string,
  { who, at }: { who: string; at: string },
): void {
  const db = connect(partial, { readOnly: false, busyMilliseconds: 0 })
  try {
    const revision = 1 + Math.max(revisionOf(db), ...listBackups(full).map((each) => each.revision))
    db.prepare(
      `INSERT INTO change (name, who, at, state, turned_by, turned_at, revision, edits)
       VALUES (?, ?, ?, 'dropped', ?, ?, ?, '[]')`,
    ).run(name.toWellFormed(), who, at, who, at, revision)
  } finally {
    closeTidily(db)
  }
  syncToDisk(partial)
}

function setAside(full: string, now: string): string | null {
  if (!fs.existsSync(full)) return null
  const aside = freeAside(full, now)
  try {
    for (const [from, to] of [
      [full, aside],
      [journalPathOf(full), journalPathOf(aside)],
    ] as const)
      if (fs.existsSync(from)) {
        fs.copyFileSync(from, to, fs.constants.COPYFILE_EXCL)
        syncToDisk(to)
      }
    return aside
  } catch (error) {
    for (const each of [aside, journalPathOf(aside)]) fs.rmSync(each, { force: true })
    throw error
  }
}

/** In the backup folder, under a name that the thinning out does not take for a backup. */
function freeAside(full: string, now: string): string {
  const folder = makeBackupFolder(full)
  for (let number = 1; ; number++) {
    const tail = number === 1 ? '' : ` ${number}`
    const aside = path.join(folder, `${stem(full)} set aside ${stampOf(now)}${tail}${jobFileExtension}`)
    if (!fs.existsSync(aside)) return aside
  }
}
