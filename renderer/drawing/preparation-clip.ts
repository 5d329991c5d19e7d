// Cuts shapes to a rectangle, so that a drawing can be printed over several pages.
import { corners, type Box, type Point, type Shape } from './shapes.ts'
import { boxOf } from './text-room.ts'

const isInside = (box: Box, { left, top, right, bottom }: Box): boolean =>
  box.left >= left - 0.01 && box.right <= right + 0.01 && box.top >= top - 0.01 && box.bottom <= bottom + 0.01

/** The part of a straight line inside the box, or null (Liang and Barsky, 1984). */
export function clipLine(from: Point, to: Point, box: Box): readonly [Point, Point] | null {
  const [dx, dy] = [to.x - from.x, to.y - from.y]
  let [start, end] = [0, 1]
  const walls: readonly (readonly [number, number])[] = [
    [-dx, from.x - box.left],
    [dx, box.right - from.x],
    [-dy, from.y - box.top],
    [dy, box.bottom - from.y],
  ]
  for (const [towards, room] of walls) {
    if (towards === 0) {
      if (room < 0) return null
      continue
    }
    const share = room / towards
    if (towards < 0) start = Math.max(start, share)
    else end = Math.min(end, share)
  }
  if (start >= end) return null
  const at = (share: number): Point => ({ x: from.x + dx * share, y: from.y + dy * share })
  return [at(start), at(end)]
}

const segments = 64
const circlePoints = (centre: Point, radius: number): Point[] =>
  Array.from({ length: segments }, (_, at) => {
    const angle = (2 * Math.PI * at) / segments
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) }
  })

/** Sutherland and Hodgman, 1974: a filled shape cut at each side of the box in turn. */
function clipPolygon(points: readonly Point[], { left, top, right, bottom }: Box): Point[] {
  const sides: readonly {
    readonly inside: (point: Point) => boolean
    readonly cut: (a: Point, b: Point) => Point
  }[] = [
    { inside: ({ x }) => x >= left, cut: (a, b) => atX(a, b, left) },
    { inside: ({ x }) => x <= right, cut: (a, b) => atX(a, b, right) },
    { inside: ({ y }) => y >= top, cut: (a, b) => atY(a, b, top) },
    { inside: ({ y }) => y <= bottom, cut: (a, b) => atY(a, b, bottom) },
  ]
  let rest: Point[] = [...points]
  for (const { inside, cut } of sides)
    rest = rest.flatMap((point, index) => {
      const before = rest.at(index - 1) ?? point
      if (inside(point)) return inside(before) ? [point] : [cut(before, point), point]
      return inside(before) ? [cut(before, point)] : []
    })
  return rest
}
const atX = (a: Point, b: Point, x: number): Point => ({
  x,
  y: a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x),
})
const atY = (a: Point, b: Point, y: number): Point => ({
  y,
  x: a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y),
})

/** What of a shape lies in the box. A text is kept whole or left out; a circle that is cut becomes short lines. */
export function clipped(shape: Shape, box: Box): Shape[] {
  const whole = boxOf('width' in shape ? { ...shape, width: 0 } : shape)
  if (isInside(whole, box)) return [shape]
  switch (shape.form) {
    case 'text':
      return []
    case 'line': {
      const rest = clipLine(shape.from, shape.to, box)
      return rest === null ? [] : [{ ...shape, from: rest[0], to: rest[1] }]
    }
    case 'polygon': {
      const points = clipPolygon(shape.points, box)
      return points.length < 3 ? [] : [{ ...shape, points }]
    }
    case 'circle':
    case 'outline': {
      const points = shape.form === 'circle' ? circlePoints(shape.centre, shape.radius) : shape.points
      const closed = shape.form === 'circle' || shape.closed
      const style = {
        width: shape.width,
        ink: shape.ink,
        ...(shape.dash === undefined ? {} : { dash: shape.dash }),
        ...(shape.part === undefined ? {} : { part: shape.part }),
      }
      return points.flatMap((point, index): Shape[] => {
        const next = points[index + 1] ?? (closed ? points[0] : undefined)
        const rest = next === undefined ? null : clipLine(point, next, box)
        return rest === null ? [] : [{ form: 'line', from: rest[0], to: rest[1], ...style }]
      })
    }
  }
}

export const boxShape = (box: Box, part: string): Shape => ({
  form: 'outline',
  points: corners(box),
  closed: true,
  width: 0.5,
  ink: 'soft',
  dash: [3, 3],
  part,
})
