// How much room text takes, for laying out drawings where no font can be asked.
import type { Box, Shape } from './shapes.ts'

/**
 * Advance widths of Barlow Semi Condensed SemiBold in ems, rounded up, with
 * the figures all alike as tables have them; a test measures the font itself.
 */
const widths: readonly (readonly [width: number, characters: string])[] = [
  [0.21, "'| `"],
  [0.25, 'l,ij.I'],
  [0.31, ';!():'],
  [0.38, '"ft{}r-[]*'],
  [0.43, 'z/\\'],
  [0.48, '^sy?_v+<=>xZacek'],
  [0.5, 'FLghnou$bdpq~'],
  [0.51, '0123456789'],
  [0.53, 'EJSQTCPY'],
  [0.56, 'BGORVXADKHU'],
  [0.64, 'NM#&'],
  [0.81, 'wmW@%'],
]
const widthOf = new Map(
  widths.flatMap(([width, characters]) => [...characters].map((character) => [character, width])),
)
/** Ems, for characters outside the table. */
const unknownWidth = 0.85
export const capitalHeight = 0.7
const descent = 0.2

/** Room for a text across; never less than it takes, save for what kerning adds. */
export function textRoom(text: string, size: number): number {
  let sum = 0
  for (const character of text) sum += widthOf.get(character) ?? unknownWidth
  return sum * size
}

/** The place a text takes up. */
export function textBox(shape: Extract<Shape, { form: 'text' }>): Box {
  const width = textRoom(shape.text, shape.size)
  const left =
    shape.align === 'start' ? shape.at.x : shape.align === 'end' ? shape.at.x - width : shape.at.x - width / 2
  return {
    left,
    right: left + width,
    top: shape.at.y - capitalHeight * shape.size,
    bottom: shape.at.y + descent * shape.size,
  }
}

/** The place a shape takes up, with its line width. */
export function boxOf(shape: Shape): Box {
  switch (shape.form) {
    case 'text':
      return textBox(shape)
    case 'circle': {
      const reach = shape.radius + shape.width / 2
      const { x, y } = shape.centre
      return { left: x - reach, right: x + reach, top: y - reach, bottom: y + reach }
    }
    case 'line':
      return around([shape.from, shape.to], shape.width / 2)
    case 'polygon':
      return around(shape.points, 0)
    case 'outline':
      return around(shape.points, shape.width / 2)
  }
}

function around(points: readonly { readonly x: number; readonly y: number }[], reach: number): Box {
  const xs = points.map(({ x }) => x)
  const ys = points.map(({ y }) => y)
  return {
    left: Math.min(...xs) - reach,
    right: Math.max(...xs) + reach,
    top: Math.min(...ys) - reach,
    bottom: Math.max(...ys) + reach,
  }
}

/** True where two places share more than an edge. */
export const overlap = (one: Box, other: Box): boolean =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom
