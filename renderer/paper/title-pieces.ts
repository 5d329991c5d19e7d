// The head of a document: what it is, whose it is, how much there is of it.
import type { CountsBlock, TitleBlock } from '../../core/documents/index.ts'
import { fewLines, paintLines, room, type FewLines, type Layout, type Piece } from './pieces.ts'
import type { Style } from './setting.ts'

const titleStyle: Style = { face: 'tableStrong', size: 22 }
const jobStyle: Style = { face: 'plainStrong', size: 11 }
const lineStyle: Style = { face: 'plain', size: 8.5 }
const nameStyle: Style = { face: 'plain', size: 6.8 }
const factStyle: Style = { face: 'table', size: 9.4 }
const countStyle: Style = { face: 'tableStrong', size: 9.4 }
const wordsStyle: Style = { face: 'table', size: 9.4 }

interface Placed {
  readonly few: FewLines
  readonly style: Style
  readonly leading: number
  readonly baseline: number
}

export function titlePieces(block: TitleBlock, layout: Layout): Piece[] {
  const { look, setter } = layout
  const width = look.right - look.left
  const titleWidth = width * 0.44
  const factsLeft = look.left + width * 0.5
  const perRow = width > 650 ? 3 : 2
  const factGap = 14
  const factWidth = (look.right - factsLeft - factGap * (perRow - 1)) / perRow

  let y = 17
  const words: Placed[] = []
  const put = (few: FewLines, style: Style, leading: number): void => {
    words.push({ few, style, leading, baseline: y })
    y += few.lines.length * leading
  }
  put({ lines: setter.wrap(block.title, titleStyle, titleWidth), tail: null }, titleStyle, 25)
  y -= 6
  block.lines.forEach((text, index) => {
    const style = index === 0 ? jobStyle : lineStyle
    put(
      fewLines(layout, text, style, titleWidth, 3, () => `${block.title}, head`),
      style,
      style.size * 1.28,
    )
  })
  const titleBottom = y - 4

  const cells: { name: string; few: FewLines; x: number; top: number }[] = []
  let top = 3
  for (let start = 0; start < block.facts.length; start += perRow) {
    let tallest = 0
    block.facts.slice(start, start + perRow).forEach((fact, index) => {
      const few = fewLines(layout, fact.text, factStyle, factWidth, 3, () => fact.name)
      cells.push({ name: fact.name, few, x: factsLeft + index * (factWidth + factGap), top })
      tallest = Math.max(tallest, few.lines.length)
    })
    top += 11 + tallest * 11.4 + 6
  }
  const height = Math.max(titleBottom, top - 6) + 6
  return [
    {
      height: height + 1,
      keepWithNext: true,
      ...(block.startsPage === true ? { startsPage: true } : {}),
      above: [],
      paint(sheet, pieceTop) {
        const { pen } = sheet
        words.forEach((each, index) => {
          const element = sheet.element(sheet.root, index === 0 ? 'H1' : 'P')
          sheet.say(element, () =>
            paintLines(
              pen,
              each.few,
              look.left,
              pieceTop + each.baseline,
              titleWidth,
              each.style.size,
              each.leading,
              index < 2 ? 'ink' : 'soft',
            ),
          )
        })
        for (const cell of cells) {
          const element = sheet.element(sheet.root, 'P')
          sheet.say(element, () => {
            const y = pieceTop + cell.top
            pen.text(setter.line(`${cell.name} `, nameStyle), cell.x, y + 5, nameStyle.size, 'soft')
            paintLines(pen, cell.few, cell.x, y + 16, factWidth, factStyle.size, 11.4, 'ink')
          })
        }
        sheet.artifact('Layout', () =>
          pen.rule(look.left, pieceTop + height, look.right, pieceTop + height, 1.3, 'ink'),
        )
      },
    },
    room(4, true),
  ]
}

/** Counts in one line, and what did not fit on this page beside them. */
export function countsPieces(block: CountsBlock, layout: Layout): Piece[] {
  const { look, setter } = layout
  return [
    {
      height: 16,
      keepWithNext: true,
      above: [],
      paint(sheet, top) {
        sheet.say(sheet.element(sheet.root, 'P'), () => {
          let x = look.left
          block.counts.forEach(({ count, words }, index) => {
            const number = setter.line(String(count), countStyle)
            const rest = setter.line(` ${words}${index < block.counts.length - 1 ? ', ' : ''}`, wordsStyle)
            sheet.pen.text(number, x, top + 11, countStyle.size, 'ink')
            x += number.width * countStyle.size
            sheet.pen.text(rest, x, top + 11, wordsStyle.size, 'soft')
            x += rest.width * wordsStyle.size
          })
        })
      },
    },
  ]
}
