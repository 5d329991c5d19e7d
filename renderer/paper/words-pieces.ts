// Sentences, cautions, legends and the texts that were too long for their cells.
import type { LegendBlock, LegendEntry, WordsBlock } from '../../core/documents/index.ts'
import { markDrawing, markTop, passageDrawing } from './marks.ts'
import type { Drawing } from '../drawing/index.ts'
import type { Element } from './pdf-inside.ts'
import { paintLines, room, type Layout, type Note, type Piece, type Sheet } from './pieces.ts'
import type { Line, Style } from './setting.ts'

export const headingStyle: Style = { face: 'tableStrong', size: 11.5 }
const sectionStyle: Style = { face: 'plainStrong', size: 7.6 }
const wordsStyle: Style = { face: 'words', size: 9.2 }
const wordsLeading = 12.4
/** Longer lines are hard to read. */
const widestWords = 500

export function headingPiece(text: string, layout: Layout, tag: 'H2' | 'H3', style: Style): Piece {
  const { look, setter } = layout
  const lines = setter.wrap(text, style, look.right - look.left)
  const leading = style.size * 1.3
  return {
    height: lines.length * leading + 2,
    keepWithNext: true,
    above: [],
    paint(sheet, top) {
      sheet.say(sheet.element(sheet.root, tag), () =>
        paintLines(
          sheet.pen,
          { lines, tail: null },
          look.left,
          top + style.size,
          0,
          style.size,
          leading,
          tag === 'H3' ? 'soft' : 'ink',
        ),
      )
    },
  }
}

/** One piece a line, so that a long text runs over pages; never one line alone at a foot. */
function paragraphPieces(lines: readonly Line[], layout: Layout, left: number, bar: boolean): Piece[] {
  let element: Element | null = null
  return lines.map((line, index) => ({
    height: wordsLeading,
    keepWithNext: index === 0 && lines.length > 1,
    above: [],
    paint(sheet, top) {
      if (index === 0) element = sheet.element(sheet.root, 'P')
      sheet.say(element, () =>
        sheet.pen.text(line, left, top + wordsStyle.size, wordsStyle.size, bar ? 'soft' : 'ink'),
      )
      if (index === lines.length - 1) element?.end()
      if (bar)
        sheet.artifact('Layout', () =>
          sheet.pen.rule(
            layout.look.left + 0.7,
            top,
            layout.look.left + 0.7,
            top + wordsLeading,
            1.4,
            'brass',
          ),
        )
    },
  }))
}

export function wordsPieces(block: WordsBlock, layout: Layout): Piece[] {
  const { look, setter } = layout
  const width = Math.min(widestWords, look.right - look.left)
  const pieces: Piece[] = []
  if (block.title !== null) pieces.push(room(12), headingPiece(block.title, layout, 'H2', headingStyle))
  for (const text of block.paragraphs)
    pieces.push(...paragraphPieces(setter.wrap(text, wordsStyle, width), layout, look.left, false), room(5))
  for (const text of block.cautions)
    pieces.push(
      room(10),
      ...paragraphPieces(setter.wrap(text, wordsStyle, width - 9), layout, look.left + 9, true),
      room(4),
    )
  return pieces
}

/** Each note in full, under the number its cell shows. */
export function notesPieces(notes: readonly Note[], layout: Layout): Piece[] {
  if (notes.length === 0) return []
  const { look, setter } = layout
  const width = Math.min(widestWords, look.right - look.left - 20)
  const pieces: Piece[] = [room(14), headingPiece('Notes in full', layout, 'H2', headingStyle)]
  for (const note of notes) {
    const number = setter.line(`${note.number} `, sectionStyle)
    const where = setter.shorten(note.where, sectionStyle, look.right - look.left - 24)
    pieces.push({
      height: 11.5,
      keepWithNext: true,
      above: [],
      paint(sheet, top) {
        sheet.say(sheet.element(sheet.root, 'P'), () => {
          sheet.pen.text(number, look.left, top + 8, sectionStyle.size, 'brass')
          sheet.pen.text(where, look.left + 20, top + 8, sectionStyle.size, 'ink')
        })
      },
    })
    pieces.push(
      ...paragraphPieces(setter.wrap(note.text, wordsStyle, width), layout, look.left + 20, false),
      room(5),
    )
  }
  return pieces
}

/** Sections stand side by side, each under its heading; a long one goes on in the next column. */
export function legendPieces(block: LegendBlock, layout: Layout): Piece[] {
  const { look } = layout
  const width = look.right - look.left
  const across = width > 900 ? 5 : width > 650 ? 4 : 3
  const columnWidth = (width - legendGap * (across - 1)) / across
  const pieces: Piece[] = [room(14), headingPiece(block.title, layout, 'H2', headingStyle)]
  const columns = block.sections.flatMap((section) => legendColumns(section, layout, columnWidth))
  for (let start = 0; start < columns.length; start += across) {
    const row = columns.slice(start, start + across)
    pieces.push({
      height: Math.max(...row.map((column) => column.height)) + 6,
      // Signs and the words after them belong together; neither should stand alone on a last page.
      keepWithNext: true,
      above: [],
      paint(sheet, top) {
        row.forEach((column, index) =>
          column.paint(sheet, look.left + index * (columnWidth + legendGap), top + 3),
        )
      },
    })
  }
  return pieces
}

const legendGap = 20
const entryGap = 2.2
const mostEntries = 12

interface LegendColumn {
  readonly height: number
  paint(sheet: Sheet, left: number, top: number): void
}

type DrawnSign = Exclude<LegendEntry['sign'], { readonly text: string }>

const signDrawing = (sign: DrawnSign, size: number): Drawing =>
  'mark' in sign ? markDrawing(sign.mark, size) : passageDrawing(sign.passage, size)

function legendColumns(
  section: LegendBlock['sections'][number],
  layout: Layout,
  width: number,
): LegendColumn[] {
  const { look, setter } = layout
  const sign: Style = { face: 'tableStrong', size: look.tableSize }
  const meaning: Style = { face: 'table', size: look.tableSize }
  const widths = section.entries.map(({ sign: each }) =>
    'text' in each ? setter.width(each.text, sign) : signDrawing(each, look.tableSize).width,
  )
  const signWidth = Math.min(Math.max(16, ...widths), width * 0.4) + 7
  const columns: LegendColumn[] = []
  for (let start = 0; start < section.entries.length; start += mostEntries) {
    const heading = setter.wrap(
      start === 0 ? section.heading : `${section.heading}, continued`,
      sectionStyle,
      width,
    )
    let y = heading.length * look.tableLeading + 4
    const entries = section.entries.slice(start, start + mostEntries).map((entry) => {
      const signs = 'text' in entry.sign ? setter.wrap(entry.sign.text, sign, signWidth - 6) : []
      const lines = setter.wrap(entry.meaning, meaning, width - signWidth)
      const placed = { entry, signs, lines, top: y }
      y += Math.max(1, signs.length, lines.length) * look.tableLeading + entryGap
      return placed
    })
    columns.push({
      height: y,
      paint(sheet, left, top) {
        const write = (
          lines: readonly Line[],
          style: Style,
          x: number,
          baseline: number,
          ink: 'ink' | 'soft',
        ): void =>
          paintLines(sheet.pen, { lines, tail: null }, x, baseline, 0, style.size, look.tableLeading, ink)
        sheet.say(sheet.element(sheet.root, 'H3'), () => write(heading, sectionStyle, left, top + 8, 'soft'))
        const list = sheet.element(sheet.root, 'L')
        for (const { entry, signs, lines, top: entryTop } of entries) {
          const baseline = top + entryTop + sign.size
          const item = sheet.element(list, 'LI')
          const drawing = 'text' in entry.sign ? null : signDrawing(entry.sign, look.tableSize)
          const says = drawing === null ? {} : { says: drawing.name }
          sheet.say(sheet.element(item, 'Lbl', says), () => {
            if (drawing === null) write(signs, sign, left, baseline, 'ink')
            else sheet.pen.drawing(drawing, left, markTop(drawing, baseline, look.tableSize))
          })
          sheet.say(sheet.element(item, 'LBody'), () =>
            write(lines, meaning, left + signWidth, baseline, 'ink'),
          )
          item?.end()
        }
        list?.end()
      },
    })
  }
  return columns
}
