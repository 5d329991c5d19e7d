// A book of documents: the closeout binder. What it says and in which order; where its pages fall is worked out on paper.
import type { DocumentBlocks, DocumentFacts } from './blocks.ts'

/** A line of an index at the end; it leads to the page where its part begins. */
export interface BookIndexEntry {
  /** Key of one of the book's index lists. */
  readonly list: string
  readonly text: string
}

interface PartOfBook {
  /** Its line in the contents and its bookmark; null for a part that stands for its whole chapter. */
  readonly entry: string | null
  readonly index: readonly BookIndexEntry[]
}

/** One document, from the top of a page. Its `pageNote` stands at the foot of its own pages. */
export interface DocumentPart extends PartOfBook {
  readonly form: 'document'
  readonly document: DocumentBlocks
  /** Portrait when left out. */
  readonly orientation?: 'portrait' | 'landscape'
}

/** A maker's own document. The reading copy binds it in here; the archive copy says which embedded file it is. */
export interface MakersPart extends PartOfBook {
  readonly form: 'makers document'
  readonly title: string
  /** What it covers: parts and openings. */
  readonly lines: readonly string[]
  /** Key of one of the book's attachments. */
  readonly attachment: string
}

export type BookPart = DocumentPart | MakersPart

export interface BookChapter {
  readonly title: string
  /** Made as they are wanted, so that a large book never stands in memory; each copy goes through them once. */
  readonly parts: Iterable<BookPart> | AsyncIterable<BookPart>
}

/** A file that belongs to the book. Its bytes are asked for by key when their turn comes. */
export interface BookAttachment {
  readonly key: string
  readonly fileName: string
  readonly mediaType: string
  readonly description: string
  /** What the file is to the book. Source: ISO 32000-2, table 43. */
  readonly relationship: 'Source' | 'Data' | 'Supplement' | 'Alternative'
  /** ISO 8601. */
  readonly modifiedAt: string
}

export interface BookCover {
  readonly title: string
  /** Most important first: job, address. */
  readonly lines: readonly string[]
  readonly facts: readonly { readonly name: string; readonly text: string }[]
  /** Words of caution at the foot of the cover. */
  readonly cautions: readonly string[]
}

export interface BookBlocks {
  readonly facts: DocumentFacts
  readonly cover: BookCover
  /** Between the cover and the contents: parties, how to read it, cautions. */
  readonly front: readonly BookPart[]
  readonly chapters: readonly BookChapter[]
  /** In the order they shall stand; a list without entries is left out. */
  readonly indexLists: readonly { readonly key: string; readonly title: string }[]
  readonly attachments: readonly BookAttachment[]
}
