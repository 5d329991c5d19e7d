// What the job file and its companions are called. The companions lie beside it and can be thrown away when it is closed.
import path from 'node:path'

export const jobFileExtension = '.lintelbook'
/** "LBOK", in the header of every job file. */
export const applicationId = 0x4c424f4b

export const lockPathOf = (jobPath: string): string => `${jobPath}-lock`
export const journalPathOf = (databasePath: string): string => `${databasePath}-journal`
export const partialPathOf = (jobPath: string): string => `${jobPath}.partial`
export const backupFolderOf = (jobPath: string): string => `${jobPath}-backups`

/** ISO 8601 as it can stand in a file's name. */
export const stampOf = (now: string): string => now.replaceAll(':', '')

// Line breaks would break the sentence; direction marks would let "koobletnil.exe" pass for something else.
const notShown = /[\p{Cc}\u200E\u200F\u202A-\u202E\u2066-\u2069]/gu

/** The name people know the file by, fit to stand in a sentence. */
export const shownName = (jobPath: string): string => path.basename(jobPath).replace(notShown, '\u{FFFD}')

/** As much of a text from its start as takes so many bytes; no character is cut in two. */
export function withinBytes(text: string, bytesAtMost: number): string {
  let kept = ''
  let bytes = 0
  for (const { segment } of new Intl.Segmenter('en').segment(text)) {
    bytes += Buffer.byteLength(segment)
    if (bytes > bytesAtMost) break
    kept += segment
  }
  return kept
}

// ext4 and XFS count bytes; NTFS and APFS count characters.
const nameLengthAtMost = 255
const nameLength = (name: string): number =>
  process.platform === 'linux' ? Buffer.byteLength(name) : name.length

/** Whether a name leaves room for the companions that lie beside it while it is made and written. */
export const leavesRoomForCompanions = (jobPath: string): boolean =>
  nameLength(path.basename(journalPathOf(partialPathOf(jobPath)))) <= nameLengthAtMost

/** Companions, numbers and stamps need their share. */
const baseBytesAtMost = 100

// Microsoft, "Naming Files, Paths, and Namespaces": reserved alone and before any ending, superscript digits too.
const reservedName = /^(con|prn|aux|nul|conin\$|conout\$|com[\d¹²³]|lpt[\d¹²³])\s*(\.|$)/i

/** The name of a file, without its ending, for a job of any name: one that Windows, macOS and Linux all take. */
export function fileNameForJob(name: string): string {
  const plain = withinBytes(
    name
      .toWellFormed()
      .replace(notShown, ' ')
      .replace(/[<>:"/\\|?*]/g, ' ')
      .replace(/\s+/g, ' ')
      .replace(/^[. ]+/, ''),
    baseBytesAtMost,
  ).replace(/[. ]+$/, '')
  return plain === '' || reservedName.test(plain) ? `Job ${plain}`.trim() : plain
}
