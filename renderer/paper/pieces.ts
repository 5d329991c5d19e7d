// A document on paper is a column of pieces: each has a height, never splits, and paints itself where the plan puts it.
import type { Element, ElementOptions, LinkTarget, PictureData, Place } from './pdf-inside.ts'
import type { Picture } from './pictures.ts'
import type { PageLook } from './page-sizes.ts'
import type { Pen } from './pen.ts'
import type { Line, Setter, Style } from './setting.ts'

/** What a piece paints on. Elements are null in a file without tags. */
export interface Sheet {
  readonly pen: Pen
  readonly root: Element | null
  /** A new element under the parent. */
  element(parent: Element | null, type: string, options?: ElementOptions): Element | null
  /** Paints what the element says. */
  say(element: Element | null, paint: () => void): void
  /** Paints what says nothing: rules, tints, repeated headings. */
  artifact(kind: 'Pagination' | 'Layout', paint: () => void): void
  bookmark(path: readonly string[], top: number): void
  link(place: Place, target: LinkTarget): void
  /** A named place, for links that are made before it. */
  destination(name: string, top: number): void
  picture(data: PictureData, matrix: readonly number[]): void
}

export interface Piece {
  readonly height: number
  /** Stays on the page of the piece after it. */
  readonly keepWithNext: boolean
  /** Only room: left out at the top of a page. */
  readonly onlyRoom?: boolean
  /** Stands at the top of a page. */
  readonly startsPage?: boolean
  /** Painted again above it when it starts a page. */
  readonly above: readonly Piece[]
  /** Stands at the foot of its page in place of the document's note. */
  readonly pageCaution?: string
  paint(sheet: Sheet, top: number, repeated: boolean): void
}

/** A text that was too long for its place, kept to be printed in full further down. */
export interface Note {
  readonly number: number
  /** Where it belongs: "104A, Notes". */
  readonly where: string
  readonly text: string
}

export interface Layout {
  readonly look: PageLook
  readonly setter: Setter
  readonly notes: Note[]
  /** By key; what could not be read has a sentence instead. */
  readonly pictures: ReadonlyMap<string, Picture | { readonly problem: string }>
  /** Sentences about what is not on paper as it was wanted. */
  readonly problems: string[]
}

export const room = (height: number, keepWithNext = false): Piece => ({
  height,
  keepWithNext,
  onlyRoom: true,
  above: [],
  paint: () => undefined,
})

export interface FewLines {
  readonly lines: readonly Line[]
  /** Follows the last line when the rest stands in the notes. */
  readonly tail: Line | null
}

/** At most `limit` lines; a longer text ends with the number of the note that has all of it. */
export function fewLines(
  layout: Layout,
  text: string,
  style: Style,
  width: number,
  limit: number,
  where: () => string,
): FewLines {
  const lines = layout.setter.wrap(text, style, width)
  if (lines.length <= limit) return { lines, tail: null }
  const number = layout.notes.length + 1
  layout.notes.push({ number, where: where(), text })
  const tail = layout.setter.line(` note ${number}`, style)
  const rest = lines.slice(limit - 1).flatMap((line) => line.runs.map((run) => run.text))
  const left = width - tail.width * style.size
  const last = layout.setter.shorten(`${rest.join('')} …`, style, Math.max(left, style.size))
  return { lines: [...lines.slice(0, limit - 1), last], tail }
}

/** Paints lines under each other from the first baseline. */
export function paintLines(
  pen: Pen,
  few: FewLines,
  x: number,
  baseline: number,
  width: number,
  size: number,
  leading: number,
  ink: 'ink' | 'soft',
  align: 'left' | 'right' | 'centre' = 'left',
): void {
  few.lines.forEach((line, index) => {
    const tail = index === few.lines.length - 1 ? few.tail : null
    const lineWidth = (line.width + (tail?.width ?? 0)) * size
    const start =
      align === 'left' ? x : align === 'right' ? x + width - lineWidth : x + (width - lineWidth) / 2
    const y = baseline + index * leading
    pen.text(line, start, y, size, ink)
    if (tail !== null) pen.text(tail, start + line.width * size, y, size, 'brass')
  })
}
