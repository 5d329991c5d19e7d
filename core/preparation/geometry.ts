// Rectangles and circles on one face, in micrometres.
export interface Rectangle {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}
export interface Disc {
  readonly x: number
  readonly y: number
  readonly radius: number
}

export const rectanglesMeet = (one: Rectangle, other: Rectangle): boolean =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom

export function discMeetsRectangle({ x, y, radius }: Disc, { left, top, right, bottom }: Rectangle): boolean {
  const nearX = Math.min(right, Math.max(left, x))
  const nearY = Math.min(bottom, Math.max(top, y))
  return Math.hypot(x - nearX, y - nearY) < radius
}

export const discsMeet = (one: Disc, other: Disc): boolean =>
  Math.hypot(one.x - other.x, one.y - other.y) < one.radius + other.radius
