// The only file that reaches into pdfkit: what it does not offer, what it gets wrong, and how a file is set up.
import PDFDocument from 'pdfkit'
import type { DocumentFacts } from '../../core/documents/index.ts'
import type { Face } from './faces.ts'
import type { PageLook } from './page-sizes.ts'
import { cleanText } from './setting.ts'

export interface PdfFont {
  readonly id: string
  /** Codes as hex, and positions in thousandths of an em. Adds the glyphs to the font's subset. */
  encode(
    text: string,
  ): [string[], { xAdvance: number; advanceWidth: number; xOffset: number; yOffset: number }[]]
  ref(): unknown
}

/** A structure element, for those who read the page by ear. */
export interface Element {
  readonly dictionary: { readonly data: Record<string, unknown> }
  add(child: Element | (() => void)): Element
  end(): void
}

export interface ElementOptions {
  readonly scope?: 'Row' | 'Column'
  readonly columnSpan?: number
  /** What a drawing says, where no letters say it. */
  readonly says?: string
  /** A figure: what it shows, and where it stands from the top left of its page. */
  readonly shows?: { readonly text: string; readonly place: Place }
}

export interface Place {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

interface OutlineItem {
  readonly children: readonly OutlineItem[]
  readonly outlineData: Record<string, unknown>
  addItem(
    title: string,
    options: { expanded: boolean; top: number; left: number; pageNumber: number },
  ): OutlineItem
}

interface Reference {
  readonly id: number
  offset: number
  readonly data: Record<string, unknown>
  write(bytes: Uint8Array | string): void
  end(bytes?: Uint8Array): void
}

/** A page that is written or being written; where links and bookmarks lead. */
export interface PageMark {
  readonly dictionary: unknown
  readonly height: number
  readonly width: number
}

/** A named place, or a spot on a page that is there already. */
export type LinkTarget = { readonly name: string } | { readonly page: PageMark; readonly top: number }

/** An object of the file that is given as it shall stand there, for what comes from other files. */
export interface RawObject {
  readonly id: number
  write(parts: readonly (string | Uint8Array)[]): void
}

/** Words that are the same on many pages and known only when all of them are written. */
export interface LaterWords {
  /** The operators that show them, their baseline starting at x, y. Only for the page that is being written. */
  shownAt(x: number, y: number): string
  /** Their operators, baseline at 0, 0 and y upwards, with the fonts they use. */
  settle(operators: string, faces: readonly Face[]): void
}

/** A picture as the file keeps it. */
export interface PictureData {
  readonly key: string
  readonly widthPixels: number
  readonly heightPixels: number
  readonly dictionary: Readonly<Record<string, unknown>>
  readonly bytes: Uint8Array
  /** How opaque each pixel is, deflated, in eight bits. */
  readonly opacity: Uint8Array | null
  /** The table of an indexed picture. */
  readonly palette: Uint8Array | null
}

export interface EmbeddedFile {
  readonly fileName: string
  readonly mediaType: string
  readonly description: string
  readonly relationship: string
  readonly modifiedAt: Date
  readonly bytes: Uint8Array
}

export interface PdfOptions {
  readonly tagged: boolean
  readonly createdAt: Date
  /** What the file promises: PDF/A-3 (A when tagged, else B), PDF/A-1b, or nothing. */
  readonly claim: 'PDF/A-3' | 'PDF/A-1b' | null
}

interface NameTree {
  _compareKeys(one: string, other: string): number
}

// pdfkit sorts names as words; readers search them by their bytes. Source: ISO 32000-1, 7.9.6. Those outside ASCII start with FE FF.
function byBytes(one: string, other: string): number {
  const [wideOne, wideOther] = [one, other].map((name) => (/[^\0-\x7f]/.test(name) ? 1 : 0)) as [
    number,
    number,
  ]
  if (wideOne !== wideOther) return wideOne - wideOther
  return one < other ? -1 : one > other ? 1 : 0
}

/** The parts of a pdfkit document that are used here; checked by the tests of the pages, not by its published types. */
interface Inside {
  page: {
    readonly fonts: Record<string, unknown>
    readonly xobjects: Record<string, unknown>
    readonly dictionary: unknown
    readonly width: number
    readonly height: number
  }
  _font: PdfFont
  _root: {
    data: Record<string, unknown> & {
      Pages: { data: { Kids: unknown[]; Count: number } }
      Names: { data: Record<string, NameTree> }
    }
  }
  _offset: number
  readonly readableLength: number
  info: Record<string, unknown>
  outline: OutlineItem
  font(source: unknown): void
  registerFont(name: string, source: unknown): void
  addPage(options: { size: readonly [number, number]; margin: number }): void
  addContent(text: string): void
  ref(data: Record<string, unknown>): Reference
  _write(data: string | Uint8Array): void
  _refEnd(reference: Reference): void
  annotate(x: number, y: number, width: number, height: number, options: Record<string, unknown>): void
  addNamedDestination(name: string, ...place: unknown[]): void
  file(bytes: Uint8Array, options: Record<string, unknown>): void
  struct(type: string, options?: Record<string, unknown>): Element
  addStructure(element: Element): void
  markContent(tag: string, options?: Record<string, unknown>): void
  endMarkedContent(): void
  appendXML(xml: string): void
  endMetadata(): void
  end(): void
  pipe(stream: NodeJS.WritableStream): void
  on(event: 'error', heard: (error: Error) => void): void
}

export interface PdfInside {
  addPage(look: Pick<PageLook, 'width' | 'height'>): void
  /** A page from another file, already given as an object. */
  addForeignPage(page: RawObject, width: number, height: number): PageMark
  /** What a foreign page names as its parent. */
  readonly pagesId: number
  readonly pageCount: number
  /** The page that is being written. */
  page(): PageMark
  /** Moves the last pages to an earlier place. */
  moveLastPages(count: number, to: number): void
  /** How readers count: from which page on, and in which figures. Without it they count from 1. */
  labelPages(labels: readonly { readonly from: number; readonly style: 'decimal' | 'roman' }[]): void
  raw(): RawObject
  laterWords(): LaterWords
  link(place: Place, target: LinkTarget): void
  destination(name: string, top: number): void
  picture(data: PictureData, matrix: readonly number[]): void
  embed(file: EmbeddedFile): void
  /** Bytes that nobody has taken yet. */
  waitingBytes(): number
  content(operators: string): void
  useFont(face: Face): PdfFont
  /** Null in an untagged file. */
  readonly root: Element | null
  element(type: string, options?: ElementOptions): Element
  openArtifact(kind: 'Pagination' | 'Layout'): void
  closeArtifact(): void
  /** `before` puts it ahead of all that were made before. */
  bookmark(path: readonly string[], top: number, before?: boolean): void
  pipe(stream: NodeJS.WritableStream): void
  end(): void
}

// PDF/UA's own identifier needs a description of itself to be allowed in PDF/A. Sources: ISO 14289-1, 5; ISO 19005-3, 6.6.2.3.
const accessibleXml = `
<rdf:Description xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" rdf:about=""><pdfuaid:part>1</pdfuaid:part></rdf:Description>
<rdf:Description xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#" rdf:about="">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA Universal Accessibility Schema</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name><pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Indicates, which part of ISO 14289 standard is followed</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas></rdf:Description>`

const escapes: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;' }
const escapeXml = (text: string): string => text.replace(/[&<>]/g, (each) => escapes[each] ?? each)
const oneLine = (text: string): string => cleanText(text).replaceAll('\n', ' ').trim()

/** pdfkit writes the facts into the XMP packet unescaped; it gets to see an escaped copy while it does. */
function escapeMetadata(document: Inside): void {
  const write = document.endMetadata.bind(document)
  document.endMetadata = () => {
    const { info } = document
    document.info = Object.fromEntries(
      Object.entries(info).map(([name, value]) => [
        name,
        typeof value === 'string' ? escapeXml(value) : value,
      ]),
    )
    write()
    document.info = info
  }
}

function infoOf(facts: DocumentFacts, createdAt: Date): Record<string, string | Date> {
  const issue = [facts.issueName, facts.dateText].filter((part) => part !== null && part.trim() !== '')
  return {
    Title: oneLine(`${facts.title}, ${facts.jobName}`),
    ...(facts.preparedBy === null ? {} : { Author: oneLine(facts.preparedBy) }),
    ...(issue.length === 0 ? {} : { Subject: oneLine(issue.join(', ')) }),
    Creator: 'Lintelbook',
    Producer: 'Lintelbook with pdfkit',
    CreationDate: createdAt,
  }
}

/** Chapters with more below them than this start closed. */
const mostOpenBookmarks = 30

interface Bookmark {
  readonly path: readonly string[]
  readonly page: PageMark
  readonly top: number
}

/** Written when all pages are there, for pages may still have moved. */
function writeBookmarks(document: Inside, bookmarks: readonly Bookmark[]): void {
  const { Kids } = document._root.data.Pages.data
  const places = new Map(Kids.map((page, index) => [page, index]))
  const items = new Map<string, OutlineItem>()
  for (const { path, page, top } of bookmarks) {
    let parent = document.outline
    for (let depth = 1; depth <= path.length; depth += 1) {
      const key = JSON.stringify(path.slice(0, depth))
      let item = depth === path.length ? undefined : items.get(key)
      if (item === undefined) {
        item = parent.addItem(oneLine(path[depth - 1] as string), {
          expanded: false,
          top,
          // pdfkit counts `left` from the right edge.
          left: page.width,
          pageNumber: places.get(page.dictionary) ?? 0,
        })
        items.set(key, item)
      }
      parent = item
    }
  }
  countOpen(document.outline, bookmarks.length <= mostOpenBookmarks)
}

/** How many items show below this one; negative where it starts closed. Source: ISO 32000-1, table 153. pdfkit counts children only. */
function countOpen(item: OutlineItem, allOpen: boolean, depth = 0): number {
  const below = item.children.reduce((sum, child) => sum + 1 + countOpen(child, allOpen, depth + 1), 0)
  const open = depth === 0 || allOpen
  if (item.children.length > 0) item.outlineData['Count'] = open ? below : -below
  return open ? below : 0
}

const pageNumberStyles = { decimal: 'D', roman: 'r' } as const

/** Starts a file. Tagged it also claims PDF/UA-1. The same date gives the same bytes. */
export function openPdf(facts: DocumentFacts, { tagged, createdAt, claim }: PdfOptions): PdfInside {
  const subset = claim === 'PDF/A-3' ? (tagged ? 'PDF/A-3a' : 'PDF/A-3b') : claim
  const document = new PDFDocument({
    margin: 0,
    autoFirstPage: false,
    pdfVersion: claim === 'PDF/A-1b' ? '1.4' : '1.7',
    ...(subset === null ? {} : { subset }),
    tagged,
    lang: 'en',
    displayTitle: true,
    info: infoOf(facts, createdAt),
    // Not undefined: else the standard Helvetica is opened, which nothing here uses.
    font: null as unknown as string,
  }) as unknown as Inside
  escapeMetadata(document)
  if (tagged && claim !== null) document.appendXML(accessibleXml)

  const root = tagged ? document.struct('Document') : null
  if (root !== null) document.addStructure(root)
  const pages = document._root.data.Pages

  const fonts = new Map<Face, PdfFont>()
  const pictures = new Map<string, Reference>()
  const bookmarks: Bookmark[] = []
  let labels: readonly unknown[] = [0, { S: 'D' }]
  let laters = 0

  const page = (): PageMark => {
    const { dictionary, width, height } = document.page
    return { dictionary, width, height }
  }
  const fontOf = (face: Face): PdfFont => {
    let font = fonts.get(face)
    if (font === undefined) {
      document.registerFont(face.name, face.font)
      document.font(face.name)
      font = document._font
      fonts.set(face, font)
    }
    return font
  }
  return {
    root,
    page,
    pagesId: (pages as unknown as Reference).id,
    get pageCount() {
      return pages.data.Kids.length
    },
    addPage: (look) => document.addPage({ size: [look.width, look.height], margin: 0 }),
    addForeignPage(object, width, height) {
      const dictionary = object as unknown
      pages.data.Kids.push(dictionary)
      pages.data.Count += 1
      return { dictionary, width, height }
    },
    moveLastPages(count, to) {
      const { Kids } = pages.data
      Kids.splice(to, 0, ...Kids.splice(Kids.length - count, count))
    },
    labelPages(wanted) {
      labels = wanted.flatMap(({ from, style }) => [from, { S: pageNumberStyles[style] }])
    },
    raw() {
      const reference = document.ref({})
      return Object.assign(Object.create(reference as object) as Reference, {
        id: reference.id,
        write(parts: readonly (string | Uint8Array)[]) {
          reference.offset = document._offset
          document._write(`${reference.id} 0 obj`)
          for (const part of parts) document._write(part)
          document._write('endobj')
          document._refEnd(reference)
        },
      })
    },
    laterWords() {
      const name = `Later${(laters += 1)}`
      const form = document.ref({ Type: 'XObject', Subtype: 'Form', BBox: [0, -4, 80, 12] })
      return {
        shownAt(x, y) {
          document.page.xobjects[name] ??= form
          // The page's y axis points down, the form's up.
          return `q 1 0 0 -1 ${x} ${y} cm /${name} Do Q`
        },
        settle(operators, faces) {
          const used = faces.map(fontOf).map((font) => [font.id, font.ref()])
          form.data['Resources'] = { Font: Object.fromEntries(used) as Record<string, unknown> }
          form.write(operators)
          form.end()
        },
      }
    },
    link({ left, top, width, height }, target) {
      const Dest =
        'name' in target
          ? target.name
          : [target.page.dictionary, 'XYZ', 0, target.page.height - target.top, null]
      document.annotate(left, top, width, height, { Subtype: 'Link', Dest })
    },
    destination: (name, top) => document.addNamedDestination(name, 'XYZ', 0, top, null),
    picture(data, matrix) {
      let picture = pictures.get(data.key)
      if (picture === undefined) pictures.set(data.key, (picture = writePicture(document, data)))
      const name = `Picture${picture.id}`
      document.page.xobjects[name] ??= picture
      document.addContent(`q ${matrix.join(' ')} cm /${name} Do Q`)
    },
    embed(file) {
      document.file(file.bytes, {
        name: oneLine(file.fileName),
        type: file.mediaType,
        description: oneLine(file.description),
        relationship: file.relationship,
        creationDate: file.modifiedAt,
        modifiedDate: file.modifiedAt,
      })
      const { Names } = document._root.data
      if (Names.data['EmbeddedFiles'] !== undefined) Names.data['EmbeddedFiles']._compareKeys = byBytes
    },
    waitingBytes: () => document.readableLength,
    content: (operators) => document.addContent(operators),
    useFont(face) {
      const font = fontOf(face)
      document.page.fonts[font.id] ??= font.ref()
      return font
    },
    element(type, options = {}) {
      const element = document.struct(type, {
        ...(options.scope === undefined ? {} : { scope: options.scope }),
        ...(options.says === undefined ? {} : { actual: options.says }),
        ...(options.shows === undefined ? {} : { alt: oneLine(options.shows.text) }),
      })
      if (options.shows !== undefined) {
        // Every figure names its box, counted from the foot of the page. Source: ISO 32000-1, 14.8.5.4.3.
        const { left, top, width, height } = options.shows.place
        const foot = document.page.height - top - height
        element.dictionary.data['A'] = { O: 'Layout', BBox: [left, foot, left + width, foot + height] }
      }
      if (options.columnSpan !== undefined)
        element.dictionary.data['A'] = {
          O: 'Table',
          ColSpan: options.columnSpan,
          ...(options.scope === undefined ? {} : { Scope: options.scope }),
        }
      return element
    },
    openArtifact: (kind) => document.markContent('Artifact', { type: kind }),
    closeArtifact: () => document.endMarkedContent(),
    bookmark(path, top, before = false) {
      const bookmark = { path, page: page(), top }
      if (before) bookmarks.unshift(bookmark)
      else bookmarks.push(bookmark)
    },
    pipe: (stream) => document.pipe(stream),
    end() {
      root?.end()
      writeBookmarks(document, bookmarks)
      // Pages are counted as readers count them; pdfkit has no call for it.
      const reference = document.ref({ Nums: labels })
      reference.end()
      document._root.data['PageLabels'] = reference
      document.end()
    },
  }
}

function writePicture(document: Inside, data: PictureData): Reference {
  const part = (dictionary: Record<string, unknown>, bytes: Uint8Array): Reference => {
    const reference = document.ref(dictionary)
    reference.end(bytes)
    return reference
  }
  const common = {
    Type: 'XObject',
    Subtype: 'Image',
    Width: data.widthPixels,
    Height: data.heightPixels,
  }
  const masked =
    data.opacity === null
      ? {}
      : {
          SMask: part(
            { ...common, BitsPerComponent: 8, ColorSpace: 'DeviceGray', Filter: 'FlateDecode' },
            data.opacity,
          ),
        }
  const indexed =
    data.palette === null
      ? {}
      : { ColorSpace: ['Indexed', 'DeviceRGB', data.palette.length / 3 - 1, part({}, data.palette)] }
  return part({ ...common, ...data.dictionary, ...indexed, ...masked }, data.bytes)
}
