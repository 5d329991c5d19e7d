// Files made for the person to keep: their names, and documents pressed into PDF.
import { done, refused, type Answer, type MadeFile } from '../../core/contract/index.ts'
import type { DocumentBlocks } from '../../core/documents/index.ts'
import type { Job } from '../../core/job/index.ts'
import { press } from '../press.ts'

export const workbookType = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet'

export function made(
  fileName: string,
  mediaType: string,
  bytes: Uint8Array,
  rest: Partial<MadeFile> = {},
): MadeFile {
  return {
    fileName,
    mediaType,
    base64: Buffer.from(bytes).toString('base64'),
    pages: null,
    warnings: [],
    ...rest,
  }
}

/** A name any file system takes. */
export const plainName = (name: string): string =>
  name
    .replace(/[<>:"/\\|?*\p{Control}]/gu, ' ')
    .replace(/\s+/g, ' ')
    .trim() || 'Job'

/** The page that sheets of a job are printed on. */
export const sheetSize = ({ units }: Pick<Job, 'units'>): Pressing['pageSize'] =>
  units === 'imperial' ? 'letter' : 'a4'

export interface Pressing {
  /** Without its ending. */
  readonly name: string
  readonly pageSize: 'letter' | 'tabloid' | 'a4' | 'a3'
  readonly createdAt: string
  /** Landscape when left out. */
  readonly orientation?: 'portrait' | 'landscape'
}

/** One document as PDF, with a sentence for each character that no font has. */
export async function pressed(
  document: DocumentBlocks,
  { name, ...page }: Pressing,
): Promise<Answer<MadeFile>> {
  const result = await press(document, page)
  if (!result.ok) return refused(result.problem.code, result.problem.sentence)
  return done(
    made(`${plainName(name)}.pdf`, 'application/pdf', result.bytes ?? new Uint8Array(), {
      pages: result.pages,
      warnings: result.missingCharacters.map(
        (each) => `No font here has the character ${each.character}; it was printed as “?”.`,
      ),
    }),
  )
}
