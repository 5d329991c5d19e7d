// From blocks to a file: set the text, plan the pages, then paint them one after another into a stream.
import type { Writable } from 'node:stream'
import { finished } from 'node:stream/promises'
import { issueWords, type DocumentBlocks, type DocumentFacts } from '../../core/documents/index.ts'
import { behaviourPieces, elevationPieces } from './drawing-pieces.ts'
import { openFaces, type FontBytes } from './faces.ts'
import { openPdf, type Element, type PdfInside } from './pdf-inside.ts'
import { openPen, type Pen } from './pen.ts'
import type { Layout, Note, Piece, Sheet } from './pieces.ts'
import { planPages, type PlannedPage } from './plan.ts'
import { pageLook, type Orientation, type PageLook, type PageSize } from './page-sizes.ts'
import { openSetter, type MissingCharacter, type Setter, type Style } from './setting.ts'
import { tablePieces } from './table-pieces.ts'
import { countsPieces, titlePieces } from './title-pieces.ts'
import { legendPieces, notesPieces, wordsPieces } from './words-pieces.ts'

export interface WriteOptions {
  readonly pageSize: PageSize
  readonly orientation?: Orientation
  readonly fonts: FontBytes
  /** Goes into the file; the same document and date give the same bytes. */
  readonly createdAt: Date
  readonly stream: Writable
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
}

const usualTaggedPages = 40
const pagesBetweenBreaths = 8
const headStyle: Style = { face: 'tableStrong', size: 8.6 }
const headSoftStyle: Style = { face: 'table', size: 8.6 }
const footStyle: Style = { face: 'plain', size: 7 }

/** Writes the document as PDF and ends the stream. Throws the signal's reason when aborted, the stream's error when it fails. */
export async function writeDocument(
  document: DocumentBlocks,
  options: WriteOptions,
): Promise<WrittenDocument> {
  const look = pageLook(options.pageSize, options.orientation ?? 'landscape')
  const setter = openSetter(openFaces(options.fonts))
  const { pieces, leftOut, notes } = layOut(document, { look, setter, notes: [] })
  const pages = planPages(pieces, { firstTop: look.top, nextTop: look.top + 17, bottom: look.bottom })
  const tagged = pages.length <= (options.taggedUpToPages ?? usualTaggedPages)

  const inside = openPdf(document.facts, look, tagged, options.createdAt)
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
    inside.addPage()
    pen.newPage()
    paintPage(page, sheet)
    paintHeadAndFoot(document.facts, index + 1, pages.length, look, setter, sheet)
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
    notesInFull: notes.length,
  }
}

function layOut(
  document: DocumentBlocks,
  layout: Layout,
): { pieces: Piece[]; leftOut: string[]; notes: Note[] } {
  const pieces: Piece[] = []
  const leftOut: string[] = []
  let printed = 0
  const notesSoFar = (): void => {
    pieces.push(...notesPieces(layout.notes.slice(printed), layout))
    printed = layout.notes.length
  }
  for (const block of document.blocks) {
    switch (block.form) {
      case 'title':
        pieces.push(...titlePieces(block, layout))
        break
      case 'counts':
        pieces.push(...countsPieces(block, layout))
        break
      case 'table': {
        const table = tablePieces(block, layout)
        pieces.push(...table.pieces)
        leftOut.push(...table.leftOut.map((column) => column.heading))
        notesSoFar()
        break
      }
      case 'legend':
        pieces.push(...legendPieces(block, layout))
        break
      case 'words':
        pieces.push(...wordsPieces(block, layout))
        break
      case 'elevation':
        pieces.push(...elevationPieces(block, layout))
        break
      case 'behaviour':
        pieces.push(...behaviourPieces(block, layout))
        notesSoFar()
        break
    }
  }
  notesSoFar()
  return { pieces, leftOut, notes: layout.notes }
}

function openSheet(inside: PdfInside, pen: Pen): Sheet {
  return {
    pen,
    root: inside.root,
    element(parent, type, options) {
      if (parent === null) return null
      const element = inside.element(type, options)
      parent.add(element)
      return element
    },
    say(element: Element | null, paint) {
      if (element === null) {
        paint()
        return
      }
      pen.flush()
      element.add(() => {
        paint()
        pen.flush()
      })
    },
    artifact(kind, paint) {
      if (inside.root === null) {
        paint()
        return
      }
      pen.flush()
      inside.openArtifact(kind)
      paint()
      pen.flush()
      inside.closeArtifact()
    },
    bookmark: (path, top) => inside.bookmark(path, top),
  }
}

function paintPage(page: PlannedPage, sheet: Sheet): void {
  for (const place of page) place.piece.paint(sheet, place.top, place.repeated)
}

const joined = (parts: readonly (string | null)[]): string =>
  parts.filter((part) => part !== null && part.trim() !== '').join('  ·  ')

/** Whose page this is, on every page: a sheet that is found alone can be put back. */
function paintHeadAndFoot(
  facts: DocumentFacts,
  number: number,
  count: number,
  look: PageLook,
  setter: Setter,
  sheet: Sheet,
): void {
  const { pen } = sheet
  const width = look.right - look.left
  sheet.artifact('Pagination', () => {
    if (number > 1) {
      const title = setter.line(facts.title, headStyle)
      const titleEnd = look.left + title.width * headStyle.size + 10
      pen.text(title, look.left, look.top + 6, headStyle.size, 'ink')
      const job = setter.shorten(facts.jobName, headSoftStyle, look.right - titleEnd)
      pen.text(job, titleEnd, look.top + 6, headSoftStyle.size, 'soft')
    }
    const y = look.footBaseline
    pen.rule(look.left, y - 12, look.right, y - 12, 0.4, 'rule')
    const pageWords = setter.line(`page ${number} of ${count}`, footStyle)
    pen.text(pageWords, look.right - pageWords.width * footStyle.size, y - 2, footStyle.size, 'ink')
    const room = width - pageWords.width * footStyle.size - 16
    const note = setter.shorten(facts.pageNote ?? '', footStyle, room / 2)
    const noteWidth = note.width * footStyle.size
    const whose = joined([facts.jobName, facts.jobNumber, issueWords(facts.issueName), facts.dateText])
    pen.text(
      setter.shorten(whose, footStyle, room - noteWidth - 16),
      look.left,
      y - 2,
      footStyle.size,
      'soft',
    )
    pen.text(note, look.left + room - noteWidth, y - 2, footStyle.size, 'soft')
  })
}
