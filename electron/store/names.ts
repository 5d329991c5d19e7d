// What the job file and its companions are called. The companions lie beside it and can be thrown away when it is closed.
import path from 'node:path'

export const jobFileExtension = '.lintelbook'
/** "LBOK", in the header of every job file. */
export const applicationId = 0x4c424f4b

export const lockPathOf = (jobPath: string): string => `${jobPath}-lock`
export const journalPathOf = (databasePath: string): string => `${databasePath}-journal`
export const backupFolderOf = (jobPath: string): string => `${jobPath}-backups`

/** The name people know the file by. */
export const shownName = (jobPath: string): string => path.basename(jobPath)
