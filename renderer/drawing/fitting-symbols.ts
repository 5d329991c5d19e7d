// How each placement looks on an elevation and where it usually stands. Inches; common practice, no source.
import type { Placement } from '../../core/documents/index.ts'
import type { Point } from './shapes.ts'

/** Inches from the left of the opening and down from its head, as this viewer sees it. */
export type Mark =
  | { readonly form: 'box'; readonly from: Point; readonly to: Point; readonly solid: boolean }
  | { readonly form: 'ring'; readonly centre: Point; readonly radius: number }
  | { readonly form: 'stroke'; readonly from: Point; readonly to: Point }

export interface LeafPlace {
  readonly left: number
  readonly right: number
  readonly hingeX: number
  readonly lockX: number
}

export interface SymbolPlace {
  readonly opening: { readonly width: number; readonly height: number }
  readonly leaf: LeafPlace
  /** Where the wall beside the door begins, and the way out from it: -1 is to the left. */
  readonly wall: { readonly x: number; readonly outwards: number }
  /** Inches above the floor of its middle, where that is known. */
  readonly height: number | null
  /** How many of this placement stand on this leaf already. */
  readonly before: number
  /** How many devices stand on the wall already. */
  readonly beforeOnWall: number
}

export const frameFace = 2
const usualLockHeight = 40
const usualReaderHeight = 45
const usualReleaseHeight = 44

/** The marks of one fitting. Height is measured up from the floor, `along` from the lock edge to the hinges. */
export function marksOf(placement: Exclude<Placement, 'elsewhere'>, place: SymbolPlace): readonly Mark[] {
  const { opening, leaf, wall, before, height } = place
  const toHinge = Math.sign(leaf.hingeX - leaf.lockX)
  const leafWidth = leaf.right - leaf.left
  const along = (inches: number): number => leaf.lockX + toHinge * inches
  const fromHinge = (inches: number): number => leaf.hingeX - toHinge * inches
  const up = (height: number): number => opening.height - height
  const box = (x1: number, y1: number, x2: number, y2: number, solid: boolean): Mark => ({
    form: 'box',
    from: { x: Math.min(x1, x2), y: Math.min(y1, y2) },
    to: { x: Math.max(x1, x2), y: Math.max(y1, y2) },
    solid,
  })
  // A second one of the same place stands below the first, or further along.
  const lower = height === null ? before * 8 : 0
  const lockHeight = height ?? usualLockHeight
  switch (placement) {
    case 'head at the lock side': {
      const start = 1 + before * 12
      return [
        box(along(start), 0, along(start + 10.5), 2.5, true),
        box(along(start + 1.5), 2.5, along(start + 9), 4.4, false),
      ]
    }
    case 'head at the hinge side': {
      const length = Math.min(28, leafWidth * 0.75)
      const top = -frameFace - 5 - lower
      return [box(fromHinge(1), top, fromHinge(1 + length), top + 4.6, false)]
    }
    case 'head contact':
      return [box(along(13 + before * 5), -1.1, along(16 + before * 5), 1.1, true)]
    case 'head hold-open':
      return [box(fromHinge(2 + before * 8), 0.6, fromHinge(8 + before * 8), 3, false)]
    case 'wall hold-open': {
      const centre = { x: leaf.hingeX + toHinge * (frameFace + 6), y: up(height ?? 78) + lower }
      return [
        box(centre.x - 2.2, centre.y - 2.2, centre.x + 2.2, centre.y + 2.2, false),
        { form: 'ring', centre, radius: 1.4 },
      ]
    }
    case 'over the door': {
      const middle = opening.width / 2 + before * 10
      const top = -frameFace - 10
      return [box(middle - 4, top, middle + 4, top + 2.4, true)]
    }
    case 'lock stile': {
      const centre = { x: along(2.75), y: up(lockHeight) + lower }
      return [
        { form: 'ring', centre, radius: 1.5 },
        { form: 'stroke', from: centre, to: { x: along(7.25), y: centre.y } },
      ]
    }
    case 'lock jamb':
      return [box(along(-0.3), up(lockHeight + 2.5) + lower, along(-1.7), up(lockHeight - 2.5) + lower, true)]
    case 'hinge jamb':
      return [
        box(
          fromHinge(-0.9),
          up((height ?? 57.5) + 4.5) + lower * 1.5,
          fromHinge(0.9),
          up((height ?? 57.5) - 4.5) + lower * 1.5,
          false,
        ),
      ]
    case 'across the leaf':
      return [
        box(along(0.8), up(lockHeight + 2.8) + lower, along(6.8), up(lockHeight - 2.8) + lower, false),
        box(
          along(6.8),
          up(lockHeight + 1.2) + lower,
          along(leafWidth - 3.5),
          up(lockHeight - 1.2) + lower,
          false,
        ),
      ]
    case 'bolt at the head':
      return [box(along(1.5 + before * 3), 0.3, along(3 + before * 3), 7, false)]
    case 'bolt at the floor':
      return [box(along(1.5 + before * 3), up(7), along(3 + before * 3), up(0.3), false)]
    case 'reader beside the door': {
      const x = wall.x + wall.outwards * (4.5 + place.beforeOnWall * 7)
      const readerHeight = height ?? usualReaderHeight
      return [
        box(x - 1.7, up(readerHeight + 2.8), x + 1.7, up(readerHeight - 2.8), false),
        {
          form: 'stroke',
          from: { x: x - 0.9, y: up(readerHeight + 1.6) },
          to: { x: x + 0.9, y: up(readerHeight + 1.6) },
        },
      ]
    }
    case 'release beside the door': {
      const x = wall.x + wall.outwards * (4.5 + place.beforeOnWall * 7)
      const centre = { x, y: up(height ?? usualReleaseHeight) }
      return [
        box(centre.x - 2, centre.y - 2.4, centre.x + 2, centre.y + 2.4, false),
        { form: 'ring', centre, radius: 1.1 },
      ]
    }
  }
}

/** Below this, inches, a body would be a dot. */
const leastInches = 1.4

/** A body where it stands, to scale. Inches are from the strike edge of its leaf and down from the head. */
export function boxMark(
  { leaf }: SymbolPlace,
  inches: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number },
  solid: boolean,
): Mark {
  const toHinge = Math.sign(leaf.hingeX - leaf.lockX)
  const wider = Math.max(0, leastInches - (inches.right - inches.left)) / 2
  const higher = Math.max(0, leastInches - (inches.bottom - inches.top)) / 2
  const [one, other] = [inches.left - wider, inches.right + wider].map((x) => leaf.lockX + toHinge * x)
  return {
    form: 'box',
    from: { x: Math.min(one ?? 0, other ?? 0), y: inches.top - higher },
    to: { x: Math.max(one ?? 0, other ?? 0), y: inches.bottom + higher },
    solid,
  }
}

/** Whether the placement stands on the wall beside the door, where several stand side by side. */
export const isBesideTheDoor = (placement: Placement): boolean =>
  placement === 'reader beside the door' || placement === 'release beside the door'
