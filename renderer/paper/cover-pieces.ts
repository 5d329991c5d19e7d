// The cover of a book: what it is, whose it is, and what it cannot decide.
import type { BookCover } from '../../core/documents/index.ts'
import { paintLines, type Layout, type Piece } from './pieces.ts'
import type { Style } from './setting.ts'

const titleStyle: Style = { face: 'tableStrong', size: 36 }
const jobStyle: Style = { face: 'plainStrong', size: 15 }
const lineStyle: Style = { face: 'plain', size: 10.5 }
const nameStyle: Style = { face: 'plain', size: 7.6 }
const factStyle: Style = { face: 'table', size: 11.5 }
const cautionStyle: Style = { face: 'words', size: 9.2 }
const cautionLeading = 12.6
const widestCaution = 430
const factGap = 24

/** One piece that fills its page. */
export function coverPiece(cover: BookCover, layout: Layout): Piece {
  const { look, setter } = layout
  const width = look.right - look.left
  const height = look.bottom - look.top
  const title = setter.wrap(cover.title, titleStyle, width)
  const lines = cover.lines.map((text, index) => {
    const style = index === 0 ? jobStyle : lineStyle
    return { style, lines: setter.wrap(text, style, width) }
  })
  const factWidth = (width - factGap) / 2
  const facts = cover.facts.map(({ name, text }) => ({
    name,
    lines: setter.wrap(text, factStyle, factWidth),
  }))
  const cautions = cover.cautions.map((text) =>
    setter.wrap(text, cautionStyle, Math.min(widestCaution, width) - 10),
  )
  return {
    height,
    keepWithNext: false,
    above: [],
    paint(sheet, top) {
      const { pen } = sheet
      let y = top + height * 0.22
      const write = (
        wrapped: (typeof title)[number][],
        style: Style,
        left: number,
        leading: number,
        ink: 'ink' | 'soft',
      ): void => {
        const few = { lines: wrapped, tail: null }
        paintLines(pen, few, left, y + style.size * 0.8, 0, style.size, leading, ink)
        y += wrapped.length * leading
      }
      pen.rule(look.left, y - 22, look.right, y - 22, 2.2, 'ink')
      write(title, titleStyle, look.left, 40, 'ink')
      y += 14
      for (const [index, line] of lines.entries()) {
        write(line.lines, line.style, look.left, line.style.size * 1.32, index === 0 ? 'ink' : 'soft')
        y += 3
      }
      y += 26
      for (let start = 0; start < facts.length; start += 2) {
        const row = facts.slice(start, start + 2)
        for (const [index, fact] of row.entries()) {
          const left = look.left + index * (factWidth + factGap)
          pen.rule(left, y - 5, left + factWidth, y - 5, 0.4, 'rule')
          pen.text(setter.line(fact.name, nameStyle), left, y + 6, nameStyle.size, 'soft')
          paintLines(pen, { lines: fact.lines, tail: null }, left, y + 20, 0, factStyle.size, 14, 'ink')
        }
        y += 22 + Math.max(...row.map((fact) => fact.lines.length)) * 14
      }
      const cautionHeight = cautions.reduce((sum, each) => sum + each.length * cautionLeading + 5, 0)
      y = top + height - cautionHeight
      if (cautions.length > 0)
        pen.rule(look.left + 0.7, y - 2, look.left + 0.7, top + height - 4, 1.4, 'brass')
      for (const each of cautions) {
        write(each, cautionStyle, look.left + 10, cautionLeading, 'soft')
        y += 5
      }
    },
  }
}
