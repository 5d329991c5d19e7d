// A book in one go: pages are written as they are set and leave memory; contents and indexes follow when all pages are known,
// and the contents then move to the front, for a PDF file need not hold its pages in the order they are read.
import type { Writable } from 'node:stream'
import { finished } from 'node:stream/promises'
import type {
  Block,
  BookAttachment,
  BookBlocks,
  BookPart,
  DocumentFacts,
  MakersPart,
} from '../../core/documents/index.ts'
import { contentsPieces, indexPieces, type ContentsLine, type IndexLine } from './book-lists.ts'
import { coverPiece } from './cover-pieces.ts'
import { openFaces, type FontBytes } from './faces.ts'
import { footStyle, headRoom, paintFoot, paintHead } from './head-and-foot.ts'
import { layOut, picturesOf, type ReadFile } from './lay-out.ts'
import { openMakersDocument, type MakersDocument } from './makers-documents.ts'
import { openPdf, type LaterWords, type PdfInside } from './pdf-inside.ts'
import { openPen, type Pen } from './pen.ts'
import type { Layout, Piece, Sheet } from './pieces.ts'
import { planPages, type PlannedPage } from './plan.ts'
import { pageLook, type Orientation, type PageLook, type PageSize } from './page-sizes.ts'
import { openSetter, type MissingCharacter, type Setter } from './setting.ts'
import { openSheet, paintPage } from './sheet.ts'
import { cautionOf, pagesBetweenBreaths } from './write-document.ts'

export interface BookProgress {
  readonly chapter: string
  /** From 1; 0 is what stands before the first chapter. */
  readonly chapterNumber: number
  readonly chapters: number
  readonly pagesDone: number
}

export interface WriteBookOptions {
  /**
   * `archive` keeps what PDF/A-3b asks for and carries attachments inside; `reading` binds makers' documents in at their
   * place and claims nothing. `archive twin` is the archive copy without attachments as PDF/A-1b, for validators.
   */
  readonly copy: 'archive' | 'reading' | 'archive twin'
  readonly pageSize: PageSize
  readonly fonts: FontBytes
  /** Goes into the file; the same book and date give the same bytes. */
  readonly createdAt: Date
  readonly stream: Writable
  /** The bytes of photographs and attachments. */
  readonly read?: ReadFile
  readonly onProgress?: (progress: BookProgress) => void
  readonly signal?: AbortSignal
}

export interface BoundAttachment {
  readonly key: string
  /** How many of its pages are bound in; none in the archive copy. */
  readonly pages: number
  /** Why it is neither inside nor bound in. */
  readonly problem: string | null
}

export interface WrittenBook {
  readonly pages: number
  /** Cover, front matter and contents, counted i, ii, iii. */
  readonly frontPages: number
  readonly chapters: readonly { readonly title: string; readonly firstPage: number | null }[]
  readonly attachments: readonly BoundAttachment[]
  readonly leftOutColumns: readonly string[]
  readonly missingCharacters: readonly MissingCharacter[]
  /** Sentences about what is not on paper as it was wanted. */
  readonly problems: readonly string[]
}

/** Bytes that may wait for the stream before the next page. */
const mostWaiting = 4_000_000
const contentsName = 'contents'

/** What has been gathered while pages were written. */
interface Writing {
  readonly book: BookBlocks
  readonly options: WriteBookOptions
  readonly setter: Setter
  readonly inside: PdfInside
  readonly pen: Pen
  readonly sheet: Sheet
  /** How many pages the numbered part has. */
  readonly total: LaterWords
  readonly ended: Promise<void>
  readonly contents: ContentsLine[]
  readonly indexes: ReadonlyMap<string, IndexLine[]>
  readonly attachments: Map<string, BoundAttachment>
  readonly leftOut: Set<string>
  readonly problems: string[]
  /** Above the bookmarks of the pages that are being written. */
  bookmarkPath: readonly string[]
  chapter: { readonly title: string; readonly number: number }
  /** The last chapter that has its line in the contents. */
  chapterEntered: number
  frontPages: number
  counting: 'front' | 'body'
  sinceBreath: number
}

/** Writes one copy of the book and ends the stream. Throws the signal's reason when aborted, the stream's error when it fails. */
export async function writeBook(book: BookBlocks, options: WriteBookOptions): Promise<WrittenBook> {
  const writing = startBook(book, options)
  const { inside } = writing
  writeCover(writing)
  for (const part of book.front) await writePart(writing, part, 0)
  writing.frontPages = inside.pageCount
  writing.counting = 'body'
  const chapters = []
  for (const [index, { title, parts }] of book.chapters.entries()) {
    writing.chapter = { title, number: index + 1 }
    const before = inside.pageCount
    await breathe(writing, true)
    for await (const part of parts) await writePart(writing, part, 1)
    const firstPage = inside.pageCount > before ? before - writing.frontPages + 1 : null
    chapters.push({ title, firstPage })
  }
  await writeIndexes(writing)
  const bodyPages = inside.pageCount - writing.frontPages
  await writeContents(writing)
  for (const attachment of book.attachments) await embed(writing, attachment)
  settleCounts(writing, bodyPages)
  const pages = inside.pageCount
  inside.end()
  await writing.ended
  options.onProgress?.(progressOf(writing))
  return {
    pages,
    frontPages: writing.frontPages,
    chapters,
    attachments: [...writing.attachments.values()],
    leftOutColumns: [...writing.leftOut],
    missingCharacters: [...writing.setter.missing.values()],
    problems: writing.problems,
  }
}

const claims = { archive: 'PDF/A-3', 'archive twin': 'PDF/A-1b', reading: null } as const

function startBook(book: BookBlocks, options: WriteBookOptions): Writing {
  const { createdAt, stream } = options
  const setter = openSetter(openFaces(options.fonts))
  const inside = openPdf(book.facts, { tagged: false, createdAt, claim: claims[options.copy] })
  const pen = openPen(inside, setter)
  const ended = finished(stream)
  // Heard at the end; without this a stream that fails while pages are painted would end the process.
  ended.catch(() => undefined)
  inside.pipe(stream)
  const writing: Writing = {
    book,
    options,
    setter,
    inside,
    pen,
    sheet: openSheet(inside, pen, () => writing.bookmarkPath),
    total: inside.laterWords(),
    ended,
    contents: [],
    indexes: new Map(book.indexLists.map(({ key }) => [key, []])),
    attachments: new Map(),
    leftOut: new Set(),
    problems: [],
    bookmarkPath: [],
    chapter: { title: book.facts.title, number: 0 },
    chapterEntered: 0,
    frontPages: 0,
    counting: 'front',
    sinceBreath: 0,
  }
  return writing
}

/** How many pages there are, at every foot and in the labels. */
function settleCounts({ setter, pen, inside, total, frontPages }: Writing, bodyPages: number): void {
  const words = setter.line(`of ${bodyPages}`, footStyle)
  total.settle(
    pen.lettering(words, footStyle.size, 'ink'),
    words.runs.map((run) => run.face),
  )
  const body = bodyPages > 0 ? [{ from: frontPages, style: 'decimal' as const }] : []
  inside.labelPages([{ from: 0, style: 'roman' }, ...body])
}

const progressOf = ({ chapter, book, inside }: Writing): BookProgress => ({
  chapter: chapter.title,
  chapterNumber: chapter.number,
  chapters: book.chapters.length,
  pagesDone: inside.pageCount,
})

/** Lets others work now and then, says how far it is, stops where asked, and waits for a slow stream. */
async function breathe(writing: Writing, now = false): Promise<void> {
  const { options, inside } = writing
  writing.sinceBreath += 1
  if (!now && writing.sinceBreath < pagesBetweenBreaths) return
  writing.sinceBreath = 0
  options.onProgress?.(progressOf(writing))
  do {
    await new Promise((resolve) => setImmediate(resolve))
    options.signal?.throwIfAborted()
    if (options.stream.destroyed) {
      await writing.ended
      throw new Error('the stream was closed before the book was written')
    }
  } while (inside.waitingBytes() > mostWaiting)
}

const romanDigits: readonly (readonly [number, string])[] = [
  [1000, 'm'],
  [900, 'cm'],
  [500, 'd'],
  [400, 'cd'],
  [100, 'c'],
  [90, 'xc'],
  [50, 'l'],
  [40, 'xl'],
  [10, 'x'],
  [9, 'ix'],
  [5, 'v'],
  [4, 'iv'],
  [1, 'i'],
]

/** Small roman figures, as the labels of front pages count. */
export function roman(number: number): string {
  let [text, left] = ['', number]
  for (const [value, digits] of romanDigits)
    while (left >= value) {
      text += digits
      left -= value
    }
  return text
}

/** The page that is being written, as readers count it. */
const pageWords = ({ counting, inside, frontPages }: Writing): string =>
  counting === 'front' ? roman(inside.pageCount) : String(inside.pageCount - frontPages)

const layoutFor = (writing: Writing, look: PageLook, pictures: Layout['pictures'] = new Map()): Layout => ({
  look,
  setter: writing.setter,
  notes: [],
  pictures,
  problems: writing.problems,
})

function writeCover(writing: Writing): void {
  const { book, options, inside, pen, sheet } = writing
  const look = pageLook(options.pageSize, 'portrait')
  inside.addPage(look)
  pen.newPage()
  coverPiece(book.cover, layoutFor(writing, look)).paint(sheet, look.top, false)
  inside.bookmark([book.cover.title], 0)
  pen.flush()
}

interface PageFurniture {
  readonly facts: DocumentFacts
  readonly title: string
}

/** Sets pieces on pages of their own. */
async function writePieces(
  writing: Writing,
  pieces: readonly Piece[],
  look: PageLook,
  furniture: PageFurniture,
  enterFirst: () => void,
): Promise<void> {
  const { inside, pen, sheet } = writing
  const top = look.top + headRoom
  const pages = planPages(pieces, { firstTop: top, nextTop: top, bottom: look.bottom })
  for (const [index, page] of pages.entries()) {
    await breathe(writing)
    inside.addPage(look)
    pen.newPage()
    if (index === 0) enterFirst()
    paintPage(page, sheet)
    paintFurniture(writing, page, look, furniture)
    pen.flush()
  }
}

function paintFurniture(
  writing: Writing,
  page: PlannedPage,
  look: PageLook,
  { facts, title }: PageFurniture,
): void {
  const { setter, sheet, counting, total, book, contents } = writing
  // Back to the line in the contents that leads here.
  const link = { words: 'Contents', target: { name: contents.at(-1)?.name ?? contentsName } }
  const chapter = writing.chapter.number === 0 ? book.facts.title : writing.chapter.title
  const head =
    title === chapter || title === ''
      ? { strong: chapter, soft: book.facts.jobName }
      : { strong: chapter, soft: title }
  paintHead({ ...head, link }, look, setter, sheet)
  const caution = cautionOf(page)
  const body = counting === 'body'
  const words = body ? `page ${pageWords(writing)} ` : `page ${pageWords(writing)}`
  paintFoot(
    {
      facts: book.facts,
      note: caution ?? facts.pageNote,
      isCaution: caution !== undefined,
      pageWords: words,
      later: body ? total : null,
    },
    look,
    setter,
    sheet,
  )
}

/** Names sort by their bytes in the file, so their numbers are written with as many figures. */
const nameOfLine = (number: number): string => `${contentsName}${String(number).padStart(6, '0')}`

/** What leads to a part from elsewhere. */
type Leads = Pick<BookPart, 'entry' | 'index'>

/** Lines in the contents, bookmarks and lines in the indexes, for a part whose first page is being written. */
function enter(writing: Writing, leads: Leads, depth: 0 | 1): void {
  const { contents, chapter, inside } = writing
  const words = pageWords(writing)
  const page = inside.page()
  const line = (text: string, at: 0 | 1): void => {
    contents.push({ text, depth: at, pageWords: words, page, name: nameOfLine(contents.length) })
    inside.bookmark(at === 0 ? [text] : [chapter.title, text], 0)
  }
  if (depth === 1 && writing.chapterEntered !== chapter.number) {
    writing.chapterEntered = chapter.number
    line(chapter.title, 0)
  }
  if (leads.entry !== null) line(leads.entry, depth)
  for (const { list, text } of leads.index) writing.indexes.get(list)?.push({ text, pageWords: words, page })
}

async function writePart(writing: Writing, part: BookPart, depth: 0 | 1): Promise<void> {
  const chapter = depth === 0 ? [] : [writing.chapter.title]
  writing.bookmarkPath = part.entry === null ? chapter : [...chapter, part.entry]
  switch (part.form) {
    case 'document': {
      const { facts, blocks } = part.document
      await writeBlocks(writing, part, depth, blocks, part.orientation ?? 'portrait', facts)
      break
    }
    case 'makers document':
      await writeMakersPart(writing, part, depth)
      break
  }
  writing.bookmarkPath = []
}

async function writeBlocks(
  writing: Writing,
  leads: Leads,
  depth: 0 | 1,
  blocks: readonly Block[],
  orientation: Orientation,
  facts: DocumentFacts,
): Promise<void> {
  const look = pageLook(writing.options.pageSize, orientation)
  const layout = layoutFor(writing, look, await picturesOf(blocks, writing.options.read))
  const { pieces, leftOut } = layOut(blocks, layout)
  for (const heading of leftOut) writing.leftOut.add(heading)
  const title = leads.entry ?? ''
  await writePieces(writing, pieces, look, { facts, title }, () => enter(writing, leads, depth))
}

type Opened = MakersDocument | Problem

interface Problem {
  readonly problem: string
}

const notThere: Problem = { problem: 'the file is not there' }

/** A page that says which document this is and where it stands, and in the reading copy the document itself. */
async function writeMakersPart(writing: Writing, part: MakersPart, depth: 0 | 1): Promise<void> {
  const { inside, options, book, frontPages } = writing
  const attachment = book.attachments.find(({ key }) => key === part.attachment)
  if (attachment === undefined) throw new Error(`the book has no attachment ${part.attachment}`)
  const reading = options.copy === 'reading'
  const opened = reading ? await openAttachment(writing, attachment) : await embed(writing, attachment)
  const sentence = reading
    ? whereItFollows(attachment, opened, inside.pageCount - frontPages + 2)
    : whereItIsInside(attachment, opened)
  const blocks: Block[] = [
    { form: 'title', title: part.title, lines: [attachment.description, ...part.lines], facts: [] },
    { form: 'words', title: null, paragraphs: [sentence], cautions: [] },
  ]
  await writeBlocks(writing, part, depth, blocks, 'portrait', book.facts)
  if (opened === null || 'problem' in opened) return
  opened.bindInto(inside)
  await breathe(writing, true)
}

async function openAttachment(writing: Writing, { key, fileName }: BookAttachment): Promise<Opened> {
  const bytes = (await writing.options.read?.(key)) ?? null
  const opened: Opened = bytes === null ? notThere : await openMakersDocument(bytes)
  const problem = 'problem' in opened ? opened.problem : null
  if (problem !== null) writing.problems.push(`${fileName} is not bound in: ${problem}.`)
  writing.attachments.set(key, { key, pages: 'pages' in opened ? opened.pages : 0, problem })
  return opened
}

/** Into the archive copy goes everything once, whether it could have been bound in or not. Null when it is there. */
async function embed(writing: Writing, attachment: BookAttachment): Promise<Problem | null> {
  const { options, attachments, inside } = writing
  const { key, fileName } = attachment
  if (options.copy !== 'archive') return null
  const known = attachments.get(key)
  if (known !== undefined) return known.problem === null ? null : { problem: known.problem }
  const bytes = (await options.read?.(key)) ?? null
  const found = bytes === null ? notThere : null
  if (bytes === null) writing.problems.push(`${fileName} is not inside: ${notThere.problem}.`)
  else inside.embed({ ...attachment, modifiedAt: new Date(attachment.modifiedAt), bytes })
  attachments.set(key, { key, pages: 0, problem: found?.problem ?? null })
  await breathe(writing, true)
  return found
}

const whereItIsInside = ({ fileName }: BookAttachment, problem: Opened | null): string =>
  problem === null
    ? `This document is inside this file as ${fileName}. Open it from the list of attachments.`
    : `This document, ${fileName}, is not inside this file: ${notThere.problem}.`

function whereItFollows({ fileName }: BookAttachment, opened: Opened | null, first: number): string {
  if (opened === null || opened === notThere)
    return `This document, ${fileName}, is not bound in: ${notThere.problem}.`
  if ('problem' in opened)
    return `This document is not bound in: ${opened.problem}. The archive copy carries the file ${fileName} as it was received.`
  if (opened.pages === 1) return `Its one page follows, as page ${first}.`
  return `Its ${opened.pages} pages follow, as pages ${first} to ${first + opened.pages - 1}.`
}

async function writeIndexes(writing: Writing): Promise<void> {
  const { book, options, indexes } = writing
  const look = pageLook(options.pageSize, 'portrait')
  const layout = layoutFor(writing, look)
  const pieces = book.indexLists.flatMap(({ key, title }) => {
    const lines = indexes.get(key) ?? []
    return lines.length === 0 ? [] : indexPieces(title, lines, layout)
  })
  if (pieces.length === 0) return
  writing.chapter = { title: 'Index', number: book.chapters.length }
  writing.bookmarkPath = ['Index']
  const furniture = { facts: book.facts, title: 'Index' }
  await writePieces(writing, pieces, look, furniture, () => enter(writing, { entry: 'Index', index: [] }, 0))
  writing.bookmarkPath = []
}

async function writeContents(writing: Writing): Promise<void> {
  const { book, options, inside, contents } = writing
  const look = pageLook(options.pageSize, 'portrait')
  const before = inside.pageCount
  const pieces = contentsPieces(contents, layoutFor(writing, look))
  writing.counting = 'front'
  writing.chapter = { title: book.facts.title, number: 0 }
  let front = writing.frontPages
  const top = look.top + headRoom
  for (const [index, page] of planPages(pieces, {
    firstTop: top,
    nextTop: top,
    bottom: look.bottom,
  }).entries()) {
    await breathe(writing)
    inside.addPage(look)
    writing.pen.newPage()
    if (index === 0) {
      inside.destination(contentsName, 0)
      inside.bookmark(['Contents'], 0, true)
    }
    front += 1
    paintPage(page, writing.sheet)
    const head = { strong: book.facts.title, soft: book.facts.jobName, link: null }
    paintHead(head, look, writing.setter, writing.sheet)
    const foot = {
      facts: book.facts,
      note: book.facts.pageNote,
      isCaution: false,
      pageWords: `page ${roman(front)}`,
      later: null,
    }
    paintFoot(foot, look, writing.setter, writing.sheet)
    writing.pen.flush()
  }
  inside.moveLastPages(inside.pageCount - before, writing.frontPages)
  writing.frontPages = front
}
