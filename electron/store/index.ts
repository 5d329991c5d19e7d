// The job file: the only place with SQL. Open, upgrade, lock, back up, restore, repair, read, write, journal, find, twin.
export {
  makeJobFile,
  openJobFile,
  migrationsFolder,
  type NewRecords,
  type Opened,
  type OpenOptions,
} from './open.ts'
export type { Checkup, Done, JobFile } from './job-file.ts'
export type { HistoryEntry } from './journal.ts'
export type { Holder } from './lock.ts'
export { problemSentence, type StoreProblem, type StoreProblemCode, type StoreResult } from './problems.ts'
export { keepBackups, listBackups, newestBackup, type Backup } from './backups.ts'
export { restoreBackup, type Restored } from './restore.ts'
export { repairJobFile, type Repaired } from './repair.ts'
export { makeJobFromTwin, writeJobAsTwin } from './twin.ts'
export { fileNameForJob, jobFileExtension } from './names.ts'
