// The job file: the only place with SQL. Open, upgrade, lock, back up, read, write, journal, find, text twin.
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
export { keepBackups, listBackups, type Backup } from './backups.ts'
export { makeJobFromTwin, writeJobAsTwin } from './twin.ts'
export { jobFileExtension } from './names.ts'
