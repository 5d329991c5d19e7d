// How a face lies before a person at the work: left and right by hand, and what part of it is shown.
import { micrometresPerInch } from '../../core/job/index.ts'
import type { PlacedBody, PlacedHole, PreparedSurface } from '../../core/preparation/index.ts'
import { corners, type Box, type Point, type Shape } from './shapes.ts'
import { boxOf } from './text-room.ts'

/** One unit of a drawing is 1/72 in., so a drawing at 1:1 measures true on paper. */
export const pointsPerMicrometre = 72 / micrometresPerInch

/** What is shown of a face, in micrometres of the face; true where the edge itself is in sight, false where it is broken off. */
export interface Region {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  readonly edges: {
    readonly left: boolean
    readonly right: boolean
    readonly top: boolean
    readonly bottom: boolean
  }
}

export interface DrawnHole {
  readonly hole: PlacedHole
  readonly x: number
  readonly y: number
}

/** Holes whose place is known. */
export const holesWithPlace = ({ holes }: PreparedSurface): readonly DrawnHole[] =>
  holes.flatMap((hole) => (hole.x === null || hole.y === null ? [] : [{ hole, x: hole.x, y: hole.y }]))

export const halfWidth = ({ cutOut, diameterMicrometres }: PlacedHole): number =>
  (cutOut?.widthMicrometres ?? diameterMicrometres ?? 0) / 2
export const halfHeight = ({ cutOut, diameterMicrometres }: PlacedHole): number =>
  (cutOut?.heightMicrometres ?? diameterMicrometres ?? 0) / 2

const isEdge = ({ name }: PreparedSurface): boolean =>
  name === 'leaf strike edge' || name === 'leaf hinge edge'
/** An edge further off than this is broken off. */
const farEdge = 16 * micrometresPerInch
const nearEdge = 2.5 * micrometresPerInch

/** The part of the face that holds holes and bodies, with the edges they are measured from where these are near. */
export function regionOf(surface: PreparedSurface, margin: number): Region | null {
  const holes = holesWithPlace(surface)
  if (holes.length === 0) return null
  const { bodies, widthMicrometres: width, heightMicrometres: height } = surface
  const lefts = [...holes.map(({ hole, x }) => x - halfWidth(hole)), ...bodies.map(({ left }) => left)]
  const rights = [...holes.map(({ hole, x }) => x + halfWidth(hole)), ...bodies.map(({ right }) => right)]
  const tops = [...holes.map(({ hole, y }) => y - halfHeight(hole)), ...bodies.map(({ top }) => top)]
  const bottoms = [...holes.map(({ hole, y }) => y + halfHeight(hole)), ...bodies.map(({ bottom }) => bottom)]
  const [left, right] = [Math.min(...lefts), Math.max(...rights)]
  const [top, bottom] = [Math.min(...tops), Math.max(...bottoms)]
  const across = isEdge(surface)
    ? width === null
      ? { from: left - margin, to: right + margin, atFrom: false, atTo: false }
      : { from: -width / 2, to: width / 2, atFrom: true, atTo: true }
    : between(left, right, width, margin)
  const down = between(top, bottom, height, margin)
  return {
    left: across.from,
    right: across.to,
    top: down.from,
    bottom: down.to,
    edges: { left: across.atFrom, right: across.atTo, top: down.atFrom, bottom: down.atTo },
  }
}

function between(
  least: number,
  most: number,
  extent: number | null,
  margin: number,
): { readonly from: number; readonly to: number; readonly atFrom: boolean; readonly atTo: boolean } {
  const atFrom = least < farEdge
  const atTo = extent !== null && extent - most < nearEdge
  return {
    // A body past the edge is drawn past it.
    from: atFrom ? Math.min(0, least) : least - margin,
    to: atTo ? Math.max(extent, most) : most + margin,
    atFrom,
    atTo,
  }
}

export interface View {
  /** A place of the face on the drawing. */
  readonly at: (x: number, y: number) => Point
  readonly box: (rectangle: Pick<PlacedBody, 'left' | 'right' | 'top' | 'bottom'>) => Box
  readonly perMicrometre: number
  /** True where x grows to the left. */
  readonly turned: boolean
  /** True where y grows upwards: a head is seen from below, with the door at the foot of the drawing. */
  readonly upwards: boolean
}

/**
 * True where a person at the work sees x grow to the left. Who turns to a jamb or to a leaf's edge at the right has the
 * door, or the face of the work, at the left.
 */
function isTurned({ name, strikeAt }: PreparedSurface): boolean {
  if (strikeAt === null) return false
  switch (name) {
    case 'frame head':
    case 'frame head face':
    case 'leaf face':
    case 'leaf top edge':
      return strikeAt === 'right'
    case 'frame strike jamb':
    case 'leaf strike edge':
      return strikeAt === 'left'
    case 'frame hinge jamb':
    case 'leaf hinge edge':
      return strikeAt === 'right'
  }
}

/** The region's corner nearest to the top left of the drawing is at 0, 0. */
export function viewOf(surface: PreparedSurface, region: Region, perMicrometre: number): View {
  const turned = isTurned(surface)
  // A head's face and a leaf's top edge have their near line at the foot of the drawing too.
  const upwards =
    surface.name === 'frame head' || surface.name === 'frame head face' || surface.name === 'leaf top edge'
  const at = (x: number, y: number): Point => ({
    x: (turned ? region.right - x : x - region.left) * perMicrometre,
    y: (upwards ? region.bottom - y : y - region.top) * perMicrometre,
  })
  return {
    at,
    box: ({ left, right, top, bottom }) => {
      const [one, other] = [at(left, top), at(right, bottom)]
      return {
        left: Math.min(one.x, other.x),
        right: Math.max(one.x, other.x),
        top: Math.min(one.y, other.y),
        bottom: Math.max(one.y, other.y),
      }
    },
    perMicrometre,
    turned,
    upwards,
  }
}

/** A hole as it looks: open is through, filled is blind, dashed is drilled from the other face. */
export function holeShapes({ hole, x, y }: DrawnHole, view: View): Shape[] {
  const part = `hole ${hole.number}`
  const centre = view.at(x, y)
  const [across, down] = [halfWidth(hole) * view.perMicrometre, halfHeight(hole) * view.perMicrometre]
  const blind = hole.depthMicrometres !== null && !hole.otherFace
  const line = hole.otherFace ? ({ ink: 'soft', dash: [2.5, 1.8] } as const) : ({ ink: 'ink' } as const)
  const box = {
    left: centre.x - across,
    right: centre.x + across,
    top: centre.y - down,
    bottom: centre.y + down,
  }
  if (hole.cutOut !== null)
    return [{ form: 'outline', points: corners(box), closed: true, width: 1, part, ...line }]
  const circle: Shape = { form: 'circle', centre, radius: across, width: 0.9, part, ...line }
  return blind ? [disc(centre, across, part), circle] : [circle]
}

const sides = 32
const disc = (centre: Point, radius: number, part: string): Shape => ({
  form: 'polygon',
  fill: 'ink',
  part,
  points: Array.from({ length: sides }, (_, at) => {
    const angle = (2 * Math.PI * at) / sides
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) }
  }),
})

/** Two thin lines through the middle, a little longer than the hole is wide. */
export function centreLines({ hole, x, y }: DrawnHole, view: View, beyond: number, width: number): Shape[] {
  const centre = view.at(x, y)
  const across = halfWidth(hole) * view.perMicrometre + beyond
  const down = halfHeight(hole) * view.perMicrometre + beyond
  const blind = hole.depthMicrometres !== null && !hole.otherFace && hole.cutOut === null
  const ink = blind ? 'sheet' : 'soft'
  const line = (from: Point, to: Point, of: 'ink' | 'soft' | 'sheet'): Shape => ({
    form: 'line',
    from,
    to,
    width,
    ink: of,
    part: `centre ${hole.number}`,
  })
  const long = [
    line({ x: centre.x - across, y: centre.y }, { x: centre.x + across, y: centre.y }, 'soft'),
    line({ x: centre.x, y: centre.y - down }, { x: centre.x, y: centre.y + down }, 'soft'),
  ]
  if (!blind) return long
  // Inside a filled disc the lines are paper on ink.
  const r = halfWidth(hole) * view.perMicrometre
  return [
    ...long,
    line({ x: centre.x - r, y: centre.y }, { x: centre.x + r, y: centre.y }, ink),
    line({ x: centre.x, y: centre.y - r }, { x: centre.x, y: centre.y + r }, ink),
  ]
}

/** Drills at one place, smallest first as they are numbered. */
export function holesTogether(holes: readonly DrawnHole[]): readonly (readonly DrawnHole[])[] {
  const together = new Map<string, DrawnHole[]>()
  for (const each of holes) {
    const key = `${each.x} ${each.y}`
    together.set(key, [...(together.get(key) ?? []), each])
  }
  return [...together.values()]
}

export function extentOf(shapes: readonly Shape[]): Box {
  const boxes = shapes.map(boxOf)
  return {
    left: Math.min(...boxes.map(({ left }) => left)),
    top: Math.min(...boxes.map(({ top }) => top)),
    right: Math.max(...boxes.map(({ right }) => right)),
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)),
  }
}

export const segmentsOf = (shape: Shape): (readonly [Point, Point])[] => {
  if (shape.form === 'line') return [[shape.from, shape.to]]
  if (shape.form !== 'outline') return []
  return shape.points.flatMap((point, index) => {
    const next = shape.points[index + 1] ?? (shape.closed ? shape.points[0] : undefined)
    return next === undefined ? [] : [[point, next] as const]
  })
}
