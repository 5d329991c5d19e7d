// The contents and the indexes of a book: lines that lead to pages.
import { compareMarks } from '../../core/job/index.ts'
import type { PageMark } from './pdf-inside.ts'
import { room, type Layout, type Piece, type Sheet } from './pieces.ts'
import type { Style } from './setting.ts'
import { headingPiece, headingStyle } from './words-pieces.ts'

export interface ContentsLine {
  readonly text: string
  readonly depth: 0 | 1
  /** As readers count it: "iii", "57". */
  readonly pageWords: string
  readonly page: PageMark
  /** Where the pages of this part lead back to. */
  readonly name: string
}

export interface IndexLine {
  readonly text: string
  readonly pageWords: string
  readonly page: PageMark
}

const chapterStyle: Style = { face: 'plainStrong', size: 10 }
const entryStyle: Style = { face: 'table', size: 9.2 }
const indexStyle: Style = { face: 'table', size: 8.4 }
const numberStyle: Style = { face: 'tableStrong', size: 8.4 }
const indexLeading = 11.4
const indexGap = 18

/** Words, dots, and the page they lead to. */
function paintLeader(
  layout: Layout,
  sheet: Sheet,
  line: { readonly text: string; readonly pageWords: string; readonly page: PageMark },
  place: { left: number; right: number; top: number; height: number; baseline: number },
  style: Style,
  pageStyle: Style,
): void {
  const { setter } = layout
  const number = setter.line(line.pageWords, pageStyle)
  const numberLeft = place.right - number.width * pageStyle.size
  const text = setter.shorten(line.text, style, numberLeft - place.left - 14)
  const dotsFrom = place.left + text.width * style.size + 5
  sheet.pen.text(text, place.left, place.baseline, style.size, 'ink')
  if (numberLeft - dotsFrom > 8)
    sheet.pen.drawing(
      {
        width: 0,
        height: 0,
        name: '',
        shapes: [
          {
            form: 'line',
            from: { x: dotsFrom, y: place.baseline - 0.4 },
            to: { x: numberLeft - 4, y: place.baseline - 0.4 },
            width: 0.5,
            ink: 'soft',
            dash: [0.5, 2.6],
          },
        ],
      },
      0,
      0,
    )
  sheet.pen.text(number, numberLeft, place.baseline, pageStyle.size, 'ink')
  sheet.link(
    { left: place.left, top: place.top, width: place.right - place.left, height: place.height },
    { page: line.page, top: 0 },
  )
}

export function contentsPieces(lines: readonly ContentsLine[], layout: Layout): Piece[] {
  const { look } = layout
  const pieces: Piece[] = [
    headingPiece('Contents', layout, 'H2', { ...headingStyle, size: 18 }),
    room(6, true),
  ]
  lines.forEach((line, index) => {
    const chapter = line.depth === 0
    const style = chapter ? chapterStyle : entryStyle
    const height = chapter ? 15.5 : 12.6
    const next = lines[index + 1]
    if (chapter) pieces.push(room(6))
    pieces.push({
      height,
      keepWithNext: chapter && next?.depth === 1,
      above: [],
      paint(sheet, top) {
        sheet.destination(line.name, Math.max(0, top - 8))
        const left = look.left + line.depth * 16
        const place = { left, right: look.right, top, height, baseline: top + height * 0.72 }
        paintLeader(layout, sheet, line, place, style, chapter ? chapterStyle : entryStyle)
      },
    })
  })
  return pieces
}

/** In columns that are read downwards, as many lines as a page has room for; what is left over is levelled. */
export function indexPieces(title: string, lines: readonly IndexLine[], layout: Layout): Piece[] {
  const { look } = layout
  const across = look.right - look.left > 650 ? 4 : 3
  const columnWidth = (look.right - look.left - indexGap * (across - 1)) / across
  const sorted = lines.toSorted((one, other) => compareMarks(one.text, other.text))
  const heading = headingPiece(title, layout, 'H2', headingStyle)
  const mostRows = Math.floor((look.bottom - look.top - 60) / indexLeading)
  const continued = headingPiece(`${title}, continued`, layout, 'H2', headingStyle)
  const pieces: Piece[] = [room(16), heading, room(4, true)]
  for (let start = 0; start < sorted.length; start += mostRows * across) {
    const block = sorted.slice(start, start + mostRows * across)
    const rows = Math.ceil(block.length / across)
    pieces.push({
      height: rows * indexLeading + 4,
      keepWithNext: false,
      above: start === 0 ? [] : [continued],
      paint(sheet, top) {
        if (start === 0) sheet.bookmark([title], Math.max(0, top - 30))
        block.forEach((line, index) => {
          const left = look.left + Math.floor(index / rows) * (columnWidth + indexGap)
          const lineTop = top + (index % rows) * indexLeading
          const place = {
            left,
            right: left + columnWidth,
            top: lineTop,
            height: indexLeading,
            baseline: lineTop + indexLeading * 0.76,
          }
          paintLeader(layout, sheet, line, place, indexStyle, numberStyle)
        })
      },
    })
  }
  return pieces
}
