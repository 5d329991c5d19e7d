// Lines to sign on: who, in which role, and when.
import type { SignaturesBlock } from '../../core/documents/index.ts'
import { room, type Layout, type Piece } from './pieces.ts'
import type { Style } from './setting.ts'
import { headingPiece, headingStyle, wordsPieces } from './words-pieces.ts'

const roleStyle: Style = { face: 'plainStrong', size: 8.4 }
const nameStyle: Style = { face: 'table', size: 9.6 }
const underStyle: Style = { face: 'plain', size: 6.8 }
const lineHeight = 52
const gap = 18
/** Shares of the width. */
const fields = [
  { under: 'Name', share: 0.34 },
  { under: 'Signature', share: 0.42 },
  { under: 'Date', share: 0.24 },
]

export function signaturePieces(block: SignaturesBlock, layout: Layout): Piece[] {
  const { look, setter } = layout
  const words = wordsPieces(
    { form: 'words', title: null, paragraphs: block.paragraphs, cautions: [] },
    layout,
  )
  const width = look.right - look.left - gap * (fields.length - 1)
  const lines = block.lines.map(({ role, name }): Piece => {
    const roleLine = setter.shorten(role, roleStyle, look.right - look.left)
    return {
      height: lineHeight,
      keepWithNext: false,
      above: [],
      paint(sheet, top) {
        sheet.say(sheet.element(sheet.root, 'P'), () =>
          sheet.pen.text(roleLine, look.left, top + 12, roleStyle.size, 'ink'),
        )
        const foot = top + 38
        let left = look.left
        for (const { under, share } of fields) {
          const right = left + width * share
          sheet.artifact('Layout', () => sheet.pen.rule(left, foot, right, foot, 0.6, 'ink'))
          sheet.say(sheet.element(sheet.root, 'P'), () => {
            sheet.pen.text(setter.line(under, underStyle), left, foot + 8.5, underStyle.size, 'soft')
            if (under === 'Name' && name !== null)
              sheet.pen.text(
                setter.shorten(name, nameStyle, right - left),
                left,
                foot - 3,
                nameStyle.size,
                'ink',
              )
          })
          left = right + gap
        }
      },
    }
  })
  return [
    ...(block.title === null ? [] : [room(14), headingPiece(block.title, layout, 'H2', headingStyle)]),
    ...words.map((piece) => ({ ...piece, keepWithNext: true })),
    room(6, true),
    ...lines,
  ]
}
