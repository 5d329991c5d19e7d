// Photographs side by side, each with its caption under it.
import type { PhotographsBlock } from '../../core/documents/index.ts'
import type { Place } from './pdf-inside.ts'
import { pictureMatrix, type Picture } from './pictures.ts'
import { paintLines, room, type Layout, type Piece } from './pieces.ts'
import type { Line, Style } from './setting.ts'
import { headingPiece, headingStyle } from './words-pieces.ts'

const captionStyle: Style = { face: 'words', size: 8.4 }
const captionLeading = 10.6
const gap = 14
const tallest = 225
const emptyHeight = 60
/** Above each row, also at the top of a page. */
const air = 4

interface Shown {
  readonly picture: Picture | null
  readonly name: string
  readonly width: number
  readonly height: number
  readonly left: number
  readonly caption: readonly Line[]
}

export function photographPieces(block: PhotographsBlock, layout: Layout): Piece[] {
  const { look } = layout
  const across = look.right - look.left > 650 ? 3 : 2
  const columnWidth = (look.right - look.left - gap * (across - 1)) / across
  const pieces: Piece[] = []
  if (block.title !== null) pieces.push(room(14), headingPiece(block.title, layout, 'H2', headingStyle))
  for (let start = 0; start < block.photographs.length; start += across) {
    const row = block.photographs
      .slice(start, start + across)
      .map((photograph, index) =>
        shownOf(photograph, layout, look.left + index * (columnWidth + gap), columnWidth),
      )
    if (start > 0) pieces.push(room(8))
    pieces.push(rowPiece(row, columnWidth))
  }
  return pieces
}

function shownOf(
  { key, caption, textAlternative }: PhotographsBlock['photographs'][number],
  { pictures, problems, setter }: Layout,
  left: number,
  columnWidth: number,
): Shown {
  const found = pictures.get(key) ?? { problem: 'there is no file of that name' }
  const base = { name: textAlternative, left }
  if ('problem' in found) {
    const sentence = `The photograph "${caption}" is not shown: ${found.problem}.`
    problems.push(sentence)
    const lines = setter.wrap(sentence, captionStyle, columnWidth)
    return { ...base, picture: null, width: columnWidth, height: emptyHeight, caption: lines }
  }
  // A pixel is at most a point: small pictures are not blown up.
  const scale = Math.min(1, columnWidth / found.widthPixels, tallest / found.heightPixels)
  return {
    ...base,
    picture: found,
    width: found.widthPixels * scale,
    height: found.heightPixels * scale,
    caption: setter.wrap(caption, captionStyle, columnWidth),
  }
}

function rowPiece(row: readonly Shown[], columnWidth: number): Piece {
  const pictureHeight = Math.max(...row.map(({ height }) => height))
  const captionLines = Math.max(...row.map(({ caption }) => caption.length))
  return {
    height: air + pictureHeight + 5 + captionLines * captionLeading + 3,
    keepWithNext: false,
    above: [],
    paint(sheet, top) {
      for (const shown of row) {
        const { picture, left, width, height } = shown
        const place: Place = { left, top: top + air + pictureHeight - height, width, height }
        if (picture === null)
          sheet.artifact('Layout', () => {
            const right = left + width
            const foot = place.top + height
            sheet.pen.rule(left, place.top, right, place.top, 0.5, 'rule')
            sheet.pen.rule(left, foot, right, foot, 0.5, 'rule')
            sheet.pen.rule(left, foot, right, place.top, 0.5, 'rule')
          })
        else
          sheet.say(sheet.element(sheet.root, 'Figure', { shows: { text: shown.name, place } }), () =>
            sheet.picture(picture.data, pictureMatrix(picture, place)),
          )
        const baseline = top + air + pictureHeight + 5 + captionStyle.size
        const few = { lines: shown.caption, tail: null }
        sheet.say(sheet.element(sheet.root, 'P'), () =>
          paintLines(sheet.pen, few, left, baseline, columnWidth, captionStyle.size, captionLeading, 'soft'),
        )
      }
    },
  }
}
