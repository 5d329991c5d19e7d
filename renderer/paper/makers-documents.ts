// The only file that knows @cantoo/pdf-lib: opens makers' PDF files, and gives their pages to ours object by object.
import { inflateSync } from 'node:zlib'
import type { PDFDict, PDFDocument, PDFObject, PDFPageLeaf, PDFRef } from '@cantoo/pdf-lib'
import type { PdfInside, RawObject } from './pdf-inside.ts'

/** Loaded when the first document is opened: most of what is printed has none. */
type Library = typeof import('@cantoo/pdf-lib')

export interface MakersDocument {
  readonly pages: number
  /** Puts all pages after the last page of ours. */
  bindInto(inside: PdfInside): void
}

/** Opens a PDF. What cannot be bound in comes back as the end of a sentence; encryption without a password is undone. */
export async function openMakersDocument(
  bytes: Uint8Array,
): Promise<MakersDocument | { readonly problem: string }> {
  if (!startsAsPdf(bytes)) return { problem: 'the file is not a PDF' }
  const library: Library = await import('@cantoo/pdf-lib')
  let document: PDFDocument
  try {
    document = await library.PDFDocument.load(bytes, { password: '', updateMetadata: false })
  } catch (error) {
    const words = error instanceof Error ? `${error.name} ${error.message}` : ''
    return { problem: /password|encrypt/i.test(words) ? 'the file is locked with a password' : damaged }
  }
  try {
    const pages = document.getPages().map(({ node }) => node)
    if (pages.length === 0) return { problem: 'the file has no pages' }
    // All is read now: a page that is lost or cannot be unpacked is damage, and there is still another way.
    if (isDamaged(library, document, pages)) return { problem: damaged }
    return { pages: pages.length, bindInto: (inside) => bindPages(library, document, pages, inside) }
  } catch {
    return { problem: damaged }
  }
}

function isDamaged(library: Library, document: PDFDocument, pages: readonly PDFPageLeaf[]): boolean {
  const { PDFName, PDFNumber } = library
  const count = document.catalog.Pages().lookup(PDFName.of('Count'))
  if (count instanceof PDFNumber && count.asNumber() !== pages.length) return true
  return pages.some((page) => hasInvalidObject(library, page) || !canUnpack(library, page))
}

/** Looks through what a page is made of, without going to other pages. */
function hasInvalidObject(
  { PDFArray, PDFDict, PDFInvalidObject, PDFPageLeaf, PDFPageTree, PDFRef, PDFStream }: Library,
  page: PDFPageLeaf,
): boolean {
  const { context } = page
  const seen = new Set<PDFObject>()
  const waiting: PDFObject[] = [...page.values()]
  for (let object = waiting.pop(); object !== undefined; object = waiting.pop()) {
    if (seen.has(object)) continue
    seen.add(object)
    if (object instanceof PDFInvalidObject) return true
    if (object instanceof PDFPageLeaf || object instanceof PDFPageTree) continue
    if (object instanceof PDFRef) {
      const found = context.lookup(object)
      if (found !== undefined) waiting.push(found)
    } else if (object instanceof PDFArray) waiting.push(...object.asArray())
    else if (object instanceof PDFDict) waiting.push(...object.values())
    else if (object instanceof PDFStream) waiting.push(...object.dict.values())
  }
  return false
}

/** What a page shows is a stream or several; those packed in the usual way are unpacked to see that they can be. */
function canUnpack({ PDFArray, PDFName, PDFStream }: Library, page: PDFPageLeaf): boolean {
  const contents = page.lookup(PDFName.of('Contents'))
  if (contents === undefined) return !page.has(PDFName.of('Contents'))
  const streams =
    contents instanceof PDFArray ? contents.asArray().map((each) => page.context.lookup(each)) : [contents]
  return streams.every((stream) => {
    if (!(stream instanceof PDFStream)) return false
    const filter = stream.dict.lookup(PDFName.of('Filter'))
    const only = filter instanceof PDFArray && filter.size() === 1 ? filter.lookup(0) : filter
    if (only === PDFName.of('FlateDecode'))
      inflateSync(stream.getContents(), { maxOutputLength: mostUnpacked })
    return true
  })
}

/** A page's operators seldom reach a hundredth of this. */
const mostUnpacked = 500_000_000

const damaged = 'the file is damaged or cut short'

/** Readers look for the sign in the first 1,024 bytes. Source: ISO 32000-1, annex H, 3.4.1. */
const startsAsPdf = (bytes: Uint8Array): boolean =>
  Buffer.from(bytes.buffer, bytes.byteOffset, Math.min(bytes.byteLength, 1024)).includes('%PDF-')

const usualBox: readonly [number, number, number, number] = [0, 0, 612, 792]
/** Of a page: what belongs to the file it came from, or would act by itself. */
const leftBehindOfPages = new Set([
  'Parent',
  'AA',
  'B',
  'StructParents',
  'Metadata',
  'PieceInfo',
  'Thumb',
  'Tabs',
  'DPart',
])
/** Of anything: what points into a structure or a form that does not come along, or would act by itself. */
const leftBehind = new Set(['StructParent', 'StructParents', 'AA'])

function bindPages(
  library: Library,
  document: PDFDocument,
  pages: readonly PDFPageLeaf[],
  inside: PdfInside,
): void {
  const { PDFArray, PDFDict, PDFName, PDFPageLeaf, PDFPageTree, PDFRef, PDFStream } = library
  const { context } = document
  const placed = new Map<PDFRef, RawObject>()
  const waiting: { readonly object: PDFObject; readonly raw: RawObject }[] = []

  const pointer = (ref: PDFRef): string => {
    let raw = placed.get(ref)
    if (raw === undefined) {
      const object = context.lookup(ref)
      // Links to pages would bring their whole file, or pages twice.
      if (object === undefined || object instanceof PDFPageLeaf || object instanceof PDFPageTree)
        return 'null'
      raw = inside.raw()
      placed.set(ref, raw)
      waiting.push({ object, raw })
    }
    return `${raw.id} 0 R`
  }
  const written = (object: PDFObject): string => {
    if (object instanceof PDFRef) return pointer(object)
    if (object instanceof PDFArray) return `[${object.asArray().map(written).join(' ')}]`
    if (object instanceof PDFDict) return dictionary(object, leftBehind)
    return object.toString()
  }
  const dictionary = (dict: PDFDict, without: ReadonlySet<string>, more = ''): string => {
    const entries = dict
      .entries()
      .filter(([name]) => !without.has(name.decodeText()))
      .map(([name, value]) => `${name.toString()} ${written(value)}`)
    return `<<${entries.join('\n')}${more}>>`
  }
  const writeWaiting = (): void => {
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      const { object, raw } = next
      if (object instanceof PDFStream) {
        const bytes = object.getContents()
        const head = dictionary(object.dict, streamLength, `\n/Length ${bytes.length}`)
        raw.write([head, 'stream', bytes, '\nendstream'])
      } else raw.write([written(object)])
    }
  }

  for (const page of pages) {
    const raw = inside.raw()
    const inherited = PDFPageLeaf.InheritableEntries.flatMap((name) => {
      const value = page.has(PDFName.of(name)) ? undefined : page.getInheritableAttribute(PDFName.of(name))
      return value === undefined ? [] : [`/${name} ${written(value)}`]
    })
    const annotations = quietAnnotations(library, page).map(written)
    const box = page.has(PDFName.of('MediaBox')) || inherited.some((each) => each.startsWith('/MediaBox'))
    const more = [
      '',
      `/Parent ${inside.pagesId} 0 R`,
      ...inherited,
      ...(box ? [] : [`/MediaBox [${usualBox.join(' ')}]`]),
      ...(annotations.length === 0 ? [] : [`/Annots [${annotations.join(' ')}]`]),
    ]
    raw.write([dictionary(page, new Set([...leftBehindOfPages, 'Annots']), more.join('\n'))])
    const [width, height] = sizeOf(page)
    inside.addForeignPage(raw, width, height)
    writeWaiting()
  }
}

const streamLength = new Set(['Length'])

function sizeOf(page: PDFPageLeaf): readonly [number, number] {
  try {
    const { width, height } = page.MediaBox().asRectangle()
    return [width, height]
  } catch {
    return [usualBox[2], usualBox[3]]
  }
}

/** What may come along: notes, drawings and links to the web. Links within their own file and whatever runs a program stay behind. */
function quietAnnotations({ PDFArray, PDFDict, PDFName }: Library, page: PDFPageLeaf): readonly PDFObject[] {
  const annotations = page.lookup(PDFName.of('Annots'))
  if (!(annotations instanceof PDFArray)) return []
  return annotations.asArray().filter((each) => {
    const annotation = page.context.lookup(each)
    if (!(annotation instanceof PDFDict) || annotation.has(PDFName.of('Dest'))) return false
    const action = annotation.lookup(PDFName.of('A'))
    if (action === undefined) return true
    return (
      action instanceof PDFDict &&
      action.lookup(PDFName.of('S')) === PDFName.of('URI') &&
      !action.has(PDFName.of('Next'))
    )
  })
}
