// From blocks to a file: set the text, plan the pages, then paint them one after another into a stream.
import type { Writable } from 'node:stream'
import { finished } from 'node:stream/promises'
import type { DocumentBlocks } from '../../core/documents/index.ts'
import { openFaces, type FontBytes } from './faces.ts'
import { headRoom, paintFoot, paintHead } from './head-and-foot.ts'
import { layOut, picturesOf, type ReadFile } from './lay-out.ts'
import { openPdf } from './pdf-inside.ts'
import { openPen } from './pen.ts'
import type { Layout } from './pieces.ts'
import { planPages, type PlannedPage } from './plan.ts'
import { pageLook, type Orientation, type PageSize } from './page-sizes.ts'
import { openSetter, type MissingCharacter } from './setting.ts'
import { openSheet, paintPage } from './sheet.ts'

export interface WriteOptions {
  readonly pageSize: PageSize
  readonly orientation?: Orientation
  readonly fonts: FontBytes
  /** Goes into the file; the same document and date give the same bytes. */
  readonly createdAt: Date
  readonly stream: Writable
  /** The bytes of photographs. */
  readonly read?: ReadFile
  /** Tags help those who read by ear, but keep the whole tree in memory: only for documents up to this many pages. */
  readonly taggedUpToPages?: number
  readonly onProgress?: (pagesDone: number, pages: number) => void
  readonly signal?: AbortSignal
}

export interface WrittenDocument {
  readonly pages: number
  readonly tagged: boolean
  /** Headings of the columns that did not fit the page. */
  readonly leftOutColumns: readonly string[]
  /** Characters that no face has; a question mark stands in their place. */
  readonly missingCharacters: readonly MissingCharacter[]
  /** How many texts were too long for their place and stand in full further down. */
  readonly notesInFull: number
  /** Sentences about what is not on paper as it was wanted. */
  readonly problems: readonly string[]
}

const usualTaggedPages = 40
export const pagesBetweenBreaths = 8

/** The words of caution that a page's pieces ask for. */
export const cautionOf = (page: PlannedPage): string | undefined =>
  page.find(({ piece }) => piece.pageCaution !== undefined)?.piece.pageCaution

/** Writes the document as PDF and ends the stream. Throws the signal's reason when aborted, the stream's error when it fails. */
export async function writeDocument(
  document: DocumentBlocks,
  options: WriteOptions,
): Promise<WrittenDocument> {
  const { facts, blocks } = document
  const look = pageLook(options.pageSize, options.orientation ?? 'landscape')
  const setter = openSetter(openFaces(options.fonts))
  const pictures = await picturesOf(blocks, options.read)
  const layout: Layout = { look, setter, notes: [], pictures, problems: [] }
  const { pieces, leftOut } = layOut(blocks, layout)
  const pages = planPages(pieces, {
    firstTop: look.top,
    nextTop: look.top + headRoom,
    bottom: look.bottom,
  })
  const tagged = pages.length <= (options.taggedUpToPages ?? usualTaggedPages)

  const inside = openPdf(facts, { tagged, createdAt: options.createdAt, claim: 'PDF/A-3' })
  const pen = openPen(inside, setter)
  const sheet = openSheet(inside, pen)
  const ended = finished(options.stream)
  // Heard below; without this a stream that fails while pages are painted would end the process.
  ended.catch(() => undefined)
  inside.pipe(options.stream)
  for (const [index, page] of pages.entries()) {
    if (index % pagesBetweenBreaths === 0) {
      options.onProgress?.(index, pages.length)
      await new Promise((resolve) => setImmediate(resolve))
      options.signal?.throwIfAborted()
      if (options.stream.destroyed) await ended
    }
    inside.addPage(look)
    pen.newPage()
    paintPage(page, sheet)
    if (index > 0) paintHead({ strong: facts.title, soft: facts.jobName, link: null }, look, setter, sheet)
    const caution = cautionOf(page)
    const note = caution ?? facts.pageNote
    const pageWords = `page ${index + 1} of ${pages.length}`
    paintFoot({ facts, note, isCaution: caution !== undefined, pageWords, later: null }, look, setter, sheet)
    pen.flush()
  }
  inside.end()
  await ended
  options.onProgress?.(pages.length, pages.length)
  return {
    pages: pages.length,
    tagged,
    leftOutColumns: leftOut,
    missingCharacters: [...setter.missing.values()],
    notesInFull: layout.notes.length,
    problems: layout.problems,
  }
}
