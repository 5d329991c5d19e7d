// The text twin of a job file, out and back.
import { createHash } from 'node:crypto'
import { readTwin, writeTwin, type TwinHistoryEntry } from '../../core/exchange/index.ts'
import { recordKinds } from '../../core/job/index.ts'
import type { JobFile } from './job-file.ts'
import { makeFrom, type NewRecords, type Opened, type OpenOptions } from './open.ts'
import { refuse } from './problems.ts'

/** Everything the file holds, as text, but for the bytes whose hashes are named. Equal jobs give equal text. */
export function writeJobAsTwin(file: JobFile, leaveOut: ReadonlySet<string> = new Set()): string {
  const { changes, attachments } = file.everythingElse(leaveOut)
  const history = changes.map((entry) => ({
    ...entry,
    edits: JSON.parse(entry.edits) as TwinHistoryEntry['edits'],
  }))
  return writeTwin({ data: file.data, attachments, history })
}

/** Makes a new job file from a twin and opens it; never writes over one that is there. */
export function makeJobFromTwin(jobPath: string, text: string, options: OpenOptions): Opened {
  const read = readTwin(text)
  if (!read.ok) return refuse({ code: 'twin', sentence: read.problem.sentence })
  const attachments = new Map<string, Uint8Array>()
  for (const [sha256, base64] of Object.entries(read.twin.attachments)) {
    const bytes = Buffer.from(base64, 'base64')
    if (createHash('sha256').update(bytes).digest('hex') !== sha256)
      return refuse({
        code: 'twin',
        sentence: `The attachment ${sha256} is not what its name says; its bytes were changed.`,
      })
    attachments.set(sha256, bytes)
  }
  const records = Object.fromEntries(
    recordKinds.map((kind) => [kind, [...read.twin.data.all(kind)]]),
  ) as NewRecords
  const changes = read.twin.history.map((entry) => ({ ...entry, edits: JSON.stringify(entry.edits) }))
  return makeFrom(jobPath, { records, changes, attachments }, options)
}
