// Figures of any kind under their heading, one after another where one page has no room for all.
import type { FigureBlock } from '../../core/documents/index.ts'
import type { Drawing, Point, Shape } from '../drawing/index.ts'
import { figureDrawings } from './figures.ts'
import { headRoom } from './head-and-foot.ts'
import { room, type Layout, type Piece } from './pieces.ts'
import { headingPiece, headingStyle, wordsPieces } from './words-pieces.ts'

/** Above and below a drawing. */
const air = 4

export function figurePieces(block: FigureBlock, layout: Layout): Piece[] {
  const { look } = layout
  const heading = block.title === null ? null : headingPiece(block.title, layout, 'H2', headingStyle)
  const most = {
    width: look.right - look.left,
    height: look.bottom - look.top - headRoom - (heading?.height ?? 0) - air * 2,
  }
  const wanted =
    block.size === 'fit'
      ? most
      : {
          width: Math.min(most.width, block.size.widthPoints),
          height: Math.min(most.height, block.size.heightPoints),
        }
  const drawings = figureDrawings(block.figure, {
    ...wanted,
    textSize: look.tableSize,
    trueSize: block.trueSize,
  })
  const pieces: Piece[] = heading === null ? [room(6)] : [room(14), heading]
  const fits = ({ width, height }: Drawing): boolean =>
    width <= most.width + 0.01 && height <= most.height + 0.01
  if (block.trueSize && !drawings.every(fits)) {
    const sentence = `${block.title ?? block.textAlternative} has no room on this page at full size. Print it on a larger sheet.`
    layout.problems.push(sentence)
    return [
      ...pieces,
      ...wordsPieces({ form: 'words', title: null, paragraphs: [sentence], cautions: [] }, layout),
    ]
  }
  for (const drawing of drawings) {
    const scale = Math.min(1, wanted.width / drawing.width, wanted.height / drawing.height)
    const shown = block.trueSize || scale === 1 ? drawing : scaled(drawing, scale)
    pieces.push(drawingPiece(shown, block, look.left))
  }
  return pieces
}

function drawingPiece(drawing: Drawing, block: FigureBlock, left: number): Piece {
  return {
    height: drawing.height + air * 2,
    keepWithNext: false,
    ...(block.pageCaution === null ? {} : { pageCaution: block.pageCaution }),
    above: [],
    paint(sheet, top) {
      const place = { left, top: top + air, width: drawing.width, height: drawing.height }
      const text = [block.textAlternative, drawing.name].filter((each) => each !== '').join(' ')
      sheet.say(sheet.element(sheet.root, 'Figure', { shows: { text, place } }), () =>
        sheet.pen.drawing(drawing, place.left, place.top),
      )
    },
  }
}

/** The same drawing smaller: letters and lines with it. */
export function scaled(drawing: Drawing, by: number): Drawing {
  const at = ({ x, y }: Point): Point => ({ x: x * by, y: y * by })
  const shape = (each: Shape): Shape => {
    switch (each.form) {
      case 'line':
        return { ...each, from: at(each.from), to: at(each.to), width: each.width * by }
      case 'circle':
        return { ...each, centre: at(each.centre), radius: each.radius * by, width: each.width * by }
      case 'polygon':
        return { ...each, points: each.points.map(at) }
      case 'outline':
        return { ...each, points: each.points.map(at), width: each.width * by }
      case 'text':
        return { ...each, at: at(each.at), size: each.size * by }
    }
  }
  return {
    width: drawing.width * by,
    height: drawing.height * by,
    name: drawing.name,
    shapes: drawing.shapes.map(shape),
  }
}
