// What the code on a label says: plain words that any phone shows, and that the find box of this program understands.
import type { Job } from '../job/index.ts'

/** A job is known on labels by its number, else by its name. */
export const jobCode = ({ number, name }: Pick<Job, 'number' | 'name'>): string => number ?? name

/** "Lintelbook HSC-26 opening 118". */
export const openingCode = (job: Pick<Job, 'number' | 'name'>, mark: string): string =>
  `Lintelbook ${jobCode(job)} opening ${mark}`

export interface ReadOpeningCode {
  readonly job: string
  readonly mark: string
}

/** Reads the words of a label again; null where they are something else. */
export function readOpeningCode(text: string): ReadOpeningCode | null {
  const [, job, mark] = /^\s*lintelbook\s+(.+?)\s+opening\s+(.+?)\s*$/iu.exec(text) ?? []
  return job === undefined || mark === undefined ? null : { job, mark }
}
