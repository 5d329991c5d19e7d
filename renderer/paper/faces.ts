// The faces a document is set in, and which of them has a glyph for what a person wrote.
import { create, type Font } from 'fontkit'

/** Table faces are condensed with figures of one width; words are set in a serif; the fallback serves stray characters. */
export const faceNames = ['table', 'tableStrong', 'plain', 'plainStrong', 'words', 'fallback'] as const
export type FaceName = (typeof faceNames)[number]

/** The bytes of a TrueType file for each face. Where they come from is not this folder's affair. */
export type FontBytes = Readonly<Record<FaceName, Uint8Array>>

export interface Face {
  readonly name: FaceName
  readonly font: Font
  readonly widths: Map<string, number>
  readonly covers: Map<number, boolean>
}

export type Faces = Readonly<Record<FaceName, Face>>

/** The same font, with figures of one width, whoever asks for a layout. */
function withTabularFigures(font: Font): Font {
  if (!font.availableFeatures.includes('tnum')) return font
  const tabular = Object.create(font) as { -readonly [K in keyof Font]: Font[K] }
  tabular.layout = (text, features = []) => font.layout(text, ['tnum', ...features])
  return tabular
}

export function openFaces(bytes: FontBytes): Faces {
  const open = (name: FaceName): Face => {
    const font = create(bytes[name])
    const tabular = name === 'table' || name === 'tableStrong' || name === 'plain' || name === 'plainStrong'
    return { name, font: tabular ? withTabularFigures(font) : font, widths: new Map(), covers: new Map() }
  }
  return {
    table: open('table'),
    tableStrong: open('tableStrong'),
    plain: open('plain'),
    plainStrong: open('plainStrong'),
    words: open('words'),
    fallback: open('fallback'),
  }
}

export function hasGlyph(face: Face, codePoint: number): boolean {
  let known = face.covers.get(codePoint)
  if (known === undefined) face.covers.set(codePoint, (known = face.font.hasGlyphForCodePoint(codePoint)))
  return known
}

/** Cuts after each blank, as the writer of the glyphs does, so that widths and glyphs agree. */
export function wordsOf(text: string): string[] {
  const words: string[] = []
  let start = 0
  for (let at = text.indexOf(' '); at !== -1; at = text.indexOf(' ', start)) {
    words.push(text.slice(start, at + 1))
    start = at + 1
  }
  if (start < text.length) words.push(text.slice(start))
  return words
}

/** Width in ems. */
export function widthOf(face: Face, text: string): number {
  let width = 0
  for (const word of wordsOf(text)) {
    let known = face.widths.get(word)
    if (known === undefined) {
      known = face.font.layout(word).advanceWidth / face.font.unitsPerEm
      // A job's words are few; a bound keeps 100,000 different serials from filling memory.
      if (face.widths.size > 50_000) face.widths.clear()
      face.widths.set(word, known)
    }
    width += known
  }
  return width
}
