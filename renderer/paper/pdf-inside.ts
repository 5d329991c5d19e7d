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

interface Place {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
}

interface OutlineItem {
  addItem(title: string, options: { expanded: boolean; top: number; left: number }): OutlineItem
}

interface Reference {
  end(): void
}

/** The parts of a pdfkit document that are used here; checked by the tests of the pages, not by its published types. */
interface Inside {
  page: { fonts: Record<string, unknown> }
  _font: PdfFont
  _root: { data: Record<string, unknown> }
  info: Record<string, unknown>
  outline: OutlineItem
  font(source: unknown): void
  registerFont(name: string, source: unknown): void
  addPage(): void
  addContent(text: string): void
  ref(data: Record<string, unknown>): Reference
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
  addPage(): void
  content(operators: string): void
  useFont(face: Face): PdfFont
  /** Null in an untagged file. */
  readonly root: Element | null
  element(type: string, options?: ElementOptions): Element
  openArtifact(kind: 'Pagination' | 'Layout'): void
  closeArtifact(): void
  bookmark(path: readonly string[], top: number): void
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

/** Starts a file: PDF/A-3b, or when tagged PDF/A-3a that also claims PDF/UA-1. The same date gives the same bytes. */
export function openPdf(facts: DocumentFacts, look: PageLook, tagged: boolean, createdAt: Date): PdfInside {
  const document = new PDFDocument({
    size: [look.width, look.height],
    margin: 0,
    autoFirstPage: false,
    pdfVersion: '1.7',
    subset: tagged ? 'PDF/A-3a' : 'PDF/A-3b',
    tagged,
    lang: 'en',
    displayTitle: true,
    info: infoOf(facts, createdAt),
    // Not undefined: else the standard Helvetica is opened, which nothing here uses.
    font: null as unknown as string,
  }) as unknown as Inside
  escapeMetadata(document)
  if (tagged) document.appendXML(accessibleXml)

  // Pages are counted as readers count them; pdfkit has no call for it.
  const labels = document.ref({ Nums: [0, { S: 'D' }] })
  labels.end()
  document._root.data['PageLabels'] = labels

  const root = tagged ? document.struct('Document') : null
  if (root !== null) document.addStructure(root)

  const fonts = new Map<Face, PdfFont>()
  const bookmarks = new Map<string, OutlineItem>()
  return {
    root,
    addPage: () => document.addPage(),
    content: (operators) => document.addContent(operators),
    useFont(face) {
      let font = fonts.get(face)
      if (font === undefined) {
        document.registerFont(face.name, face.font)
        document.font(face.name)
        font = document._font
        fonts.set(face, font)
      }
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
        const foot = look.height - top - height
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
    bookmark(path, top) {
      let parent = document.outline
      for (let depth = 1; depth <= path.length; depth += 1) {
        const key = JSON.stringify(path.slice(0, depth))
        let item = depth === path.length ? undefined : bookmarks.get(key)
        if (item === undefined) {
          // pdfkit counts `left` from the right edge.
          item = parent.addItem(oneLine(path[depth - 1] as string), { expanded: true, top, left: look.width })
          bookmarks.set(key, item)
        }
        parent = item
      }
    },
    pipe: (stream) => document.pipe(stream),
    end() {
      root?.end()
      document.end()
    },
  }
}
