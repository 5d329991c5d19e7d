// Where each fitting stands on the elevation: where its pattern puts it, else where its placement says, else as usual.
import {
  effectiveFittings,
  micrometresPerInch,
  type EffectiveFitting,
  type JobData,
  type Opening,
} from '../job/index.ts'
import {
  doorFromJob,
  prepareDoor,
  type Body,
  type DoorToPrepare,
  type FittingToPrepare,
  type PlacedBody,
  type PlacedPattern,
  type Preparations,
} from '../preparation/index.ts'
import {
  elevationLeaves,
  leafWidths,
  type ElevationBox,
  type ElevationFitting,
  type ElevationInput,
  type Placement,
} from './elevation-input.ts'

/** Of the frame as it is drawn. */
const frameFace = 2 * micrometresPerInch
/** Nobody reaches to it: what stands higher on a wall, but under the head, holds the open leaf. Common practice, no source. */
const overHands = 60 * micrometresPerInch
/** A body no wider than this hides in the head. */
const recessedWidth = 2 * micrometresPerInch

type Door = Pick<ElevationInput, 'widthMicrometres' | 'leaves'> & Pick<DoorToPrepare, 'heightMicrometres'>

/** What every fitting of an opening needs to be drawn; those left out on purpose are not there. */
export function elevationFittings(
  door: DoorToPrepare,
  placed: Pick<Preparations, 'preparations'>,
  leaves: ElevationInput['leaves'],
  withoutPart: readonly Pick<EffectiveFitting, 'tag'>[] = [],
): ElevationFitting[] {
  const { widthMicrometres, heightMicrometres } = door
  return [
    ...door.fittings.map((fitting) =>
      elevationFitting(
        { widthMicrometres, heightMicrometres, leaves },
        fitting,
        placed.preparations.find(({ key }) => key === fitting.key) ?? null,
      ),
    ),
    ...withoutPart.map(({ tag }) => ({ tag, placement: null, side: null, leaf: 'active' }) as const),
  ]
}

function elevationFitting(
  door: Door,
  fitting: FittingToPrepare,
  pattern: Pick<PlacedPattern, 'surfaces'> | null,
): ElevationFitting {
  const { tag, leaf, heightMicrometres } = fitting
  return {
    tag,
    placement: placementOf(door, fitting),
    side: isWithin(fitting) ? 'within' : fitting.side,
    leaf: leaf ?? 'active',
    heightMicrometres,
    boxes: boxesOf(door, fitting, pattern),
  }
}

/** What is set into an edge or a jamb shows from both sides. */
const isWithin = ({ place }: FittingToPrepare): boolean =>
  place === 'leaf strike edge' ||
  place === 'leaf hinge edge' ||
  place === 'frame strike jamb' ||
  place === 'frame hinge jamb'

/** The symbol that comes nearest, for what cannot be drawn to scale. */
function placementOf(door: Door, fitting: FittingToPrepare): Placement | null {
  const { place, side, heightMicrometres: height } = fitting
  const width = fitting.bodies[0]?.widthMicrometres ?? null
  switch (place) {
    case null:
      return null
    case 'elsewhere':
      return 'elsewhere'
    case 'frame head':
      return width !== null && width <= recessedWidth ? 'head contact' : 'head at the lock side'
    case 'frame strike jamb':
      return 'lock jamb'
    case 'frame hinge jamb':
    case 'leaf hinge edge':
      return 'hinge jamb'
    case 'leaf strike edge':
      return 'lock stile'
    case 'leaf':
      return height === null ? 'head at the hinge side' : 'across the leaf'
    case 'ceiling':
      return 'over the door'
    case 'wall':
      if (isOverDoor(door, height)) return 'over the door'
      if (height !== null && height > overHands) return 'wall hold-open'
      return side === 'keyed' ? 'reader beside the door' : 'release beside the door'
  }
}

const isOverDoor = ({ heightMicrometres }: Door, height: number | null): boolean =>
  height !== null && heightMicrometres !== null && height > heightMicrometres + frameFace

function boxesOf(
  door: Door,
  fitting: FittingToPrepare,
  pattern: Pick<PlacedPattern, 'surfaces'> | null,
): ElevationBox[] {
  const { place, bodies } = fitting
  if (place === 'frame head' || place === 'leaf') {
    const drawn = (pattern?.surfaces ?? []).flatMap((surface) =>
      surface.bodies.flatMap((body) => seenFromTheFront(surface.name, body, bodies) ?? []),
    )
    if (drawn.length > 0) return drawn
  }
  const [body] = bodies
  return body === undefined ? [] : placedByHand(door, fitting, body)
}

/** A body under the head shows its depth; one on a face shows its height; what is let into an edge is left to its symbol. */
function seenFromTheFront(
  surface: PlacedPattern['surfaces'][number]['name'],
  placed: PlacedBody,
  bodies: readonly Body[],
): ElevationBox | null {
  const { left, right, top, bottom } = placed
  switch (surface) {
    case 'frame head': {
      const depth = bodies.find(({ name }) => name === placed.name)?.depthMicrometres ?? null
      if (depth === null) return null
      // Recessed things go up into the head, whose face hides them.
      const half = frameFace * 0.55
      return right - left <= recessedWidth
        ? { left, right, top: -half, bottom: half, solid: true }
        : { left, right, top: 0, bottom: depth, solid: true }
    }
    case 'frame head face':
      return { left, right, top: -bottom, bottom: -top, solid: true }
    case 'leaf face':
      return { left, right, top, bottom, solid: false }
    default:
      return null
  }
}

/** By the placement alone; none while a length is missing. */
function placedByHand(door: Door, fitting: FittingToPrepare, body: Body): ElevationBox[] {
  const { place, heightMicrometres: up, acrossMicrometres } = fitting
  const { widthMicrometres: width, heightMicrometres: height, depthMicrometres: depth } = body
  const whole = door.heightMicrometres
  if (width === null) return []
  if (place === 'frame head') {
    if (acrossMicrometres === null || depth === null) return []
    const left = acrossMicrometres - width / 2
    return [{ left, right: left + width, top: 0, bottom: depth, solid: true }]
  }
  if (height === null || up === null || whole === null) return []
  const rows = { top: whole - up - height / 2, bottom: whole - up + height / 2 }
  const overDoor = place === 'wall' && isOverDoor(door, up)
  const middle = acrossMicrometres ?? (overDoor ? overTheMiddle(door, fitting) : null)
  if (middle === null || (place === 'wall' && !overDoor) || (place !== 'wall' && place !== 'leaf')) return []
  return [{ left: middle - width / 2, right: middle + width / 2, ...rows, solid: false }]
}

/** The middle of the opening, from the strike edge of the fitting's leaf. */
function overTheMiddle({ widthMicrometres, leaves }: Door, { leaf }: FittingToPrepare): number | null {
  if (widthMicrometres === null) return null
  if (leaves.form !== 'pair') return widthMicrometres / 2
  const widths = leafWidths({ widthMicrometres, leaves })
  if (widths === null) return null
  const own = leaf === 'inactive' ? widths.inactiveMicrometres : widths.activeMicrometres
  return own - widthMicrometres / 2
}

/** The elevation of one opening with its fittings placed, seen from the egress side. */
export function elevationOfOpening(data: JobData, opening: Opening): ElevationInput {
  const door = doorFromJob(data, opening)
  const leaves = elevationLeaves(data.referring('leaf', 'openingId', opening.id))
  const { widthMicrometres, heightMicrometres, hand } = opening
  const withoutPart = effectiveFittings(data, opening).filter(
    ({ leftOut, part }) => !leftOut && part === null,
  )
  return {
    units: data.job.units,
    seenFrom: 'egress',
    widthMicrometres,
    heightMicrometres,
    hand,
    leaves,
    fittings: elevationFittings(door, prepareDoor(door), leaves, withoutPart),
  }
}
