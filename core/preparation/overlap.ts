// Whether a fitting's holes and bodies keep clear of every other fitting on the same face.
import type { FittingPlace } from '../job/index.ts'
import { discMeetsRectangle, discsMeet, rectanglesMeet, type Disc, type Rectangle } from './geometry.ts'
import { leafOf } from './leaves.ts'
import type {
  DoorToPrepare,
  FittingToPrepare,
  PlacedHole,
  PlacedPattern,
  PreparationCheck,
  PreparationQuestion,
  PreparedSurface,
  SurfaceName,
} from './model.ts'

const surfaceOfPlace: Readonly<Partial<Record<FittingPlace, SurfaceName>>> = {
  'frame head': 'frame head',
  'frame strike jamb': 'frame strike jamb',
  'frame hinge jamb': 'frame hinge jamb',
  leaf: 'leaf face',
  'leaf strike edge': 'leaf strike edge',
  'leaf hinge edge': 'leaf hinge edge',
}

interface NamedRectangle extends Rectangle {
  readonly name: string
}
interface NamedDisc extends Disc {
  readonly name: string
  readonly through: boolean
  readonly otherFace: boolean
}
/** What one fitting has on one face. */
export interface OnSurface {
  readonly rectangles: readonly NamedRectangle[]
  readonly discs: readonly NamedDisc[]
}

const isOnHead = (surface: SurfaceName): boolean => surface === 'frame head' || surface === 'frame head face'

/** On a head both leaves share one face: the inactive leaf's side lies on the other side of the meeting line. */
const turned = (x: number, surface: SurfaceName, leaf: PlacedPattern['leaf']): number =>
  isOnHead(surface) && leaf === 'inactive' ? -x : x

function discOf(hole: PlacedHole, leaf: PlacedPattern['leaf']): NamedDisc | null {
  if (hole.x === null || hole.y === null) return null
  const radius = reachOf(hole)
  return radius === null
    ? null
    : {
        x: turned(hole.x, hole.surface, leaf),
        y: hole.y,
        radius,
        name: `hole ${hole.number} (${hole.name})`,
        through: hole.depthMicrometres === null,
        otherFace: hole.otherFace,
      }
}

/** From a hole's middle to the furthest of its rim; null where its size is not known. */
export function reachOf(hole: Pick<PlacedHole, 'diameterMicrometres' | 'cutOut'>): number | null {
  if (hole.diameterMicrometres !== null) return hole.diameterMicrometres / 2
  if (hole.cutOut === null) return null
  return Math.hypot(hole.cutOut.widthMicrometres, hole.cutOut.heightMicrometres) / 2
}

export function onSurface(surface: PreparedSurface, { leaf }: Pick<PlacedPattern, 'leaf'>): OnSurface {
  return {
    rectangles: surface.bodies.map(({ name, left, right, top, bottom }) => {
      const [one, other] = [turned(left, surface.name, leaf), turned(right, surface.name, leaf)]
      return { name, left: Math.min(one, other), right: Math.max(one, other), top, bottom }
    }),
    discs: surface.holes.flatMap((hole) => discOf(hole, leaf) ?? []),
  }
}

/** What a fitting without a placed pattern takes up, as far as its placing says. */
function roughly(door: DoorToPrepare, fitting: FittingToPrepare, surface: SurfaceName): OnSurface | null {
  const [body] = fitting.bodies
  const chosen = leafOf(door, fitting)
  if (body === undefined || 'words' in chosen || fitting.acrossMicrometres === null) return null
  if (body.widthMicrometres === null) return null
  const half = body.widthMicrometres / 2
  const x = turned(fitting.acrossMicrometres, surface, chosen.leaf.role)
  // On a head it takes the whole soffit: how far it stands off the stop is not kept.
  if (surface === 'frame head')
    return {
      discs: [],
      rectangles: [{ name: body.name, left: x - half, right: x + half, top: -Infinity, bottom: Infinity }],
    }
  if (
    door.heightMicrometres === null ||
    fitting.heightMicrometres === null ||
    body.heightMicrometres === null
  )
    return null
  const y = door.heightMicrometres - fitting.heightMicrometres
  const reach = body.heightMicrometres / 2
  return {
    discs: [],
    rectangles: [{ name: body.name, left: x - half, right: x + half, top: y - reach, bottom: y + reach }],
  }
}

export interface Neighbour {
  readonly tag: string
  readonly there: OnSurface
  /** Stands on the other face of the leaf. */
  readonly opposite: boolean
}

export interface Neighbours {
  readonly known: readonly Neighbour[]
  readonly questions: readonly PreparationQuestion[]
}

const whereAsked = (tag: string): PreparationQuestion => ({
  words: `Where does ${tag} stand, and how large is it?`,
  whoCanSay: 'whoever places the fittings',
})

/** Everything else that stands, or may stand, on this face. */
export function neighboursOn(
  door: DoorToPrepare,
  own: PlacedPattern,
  surface: PreparedSurface,
  all: readonly PlacedPattern[],
): Neighbours {
  const known: Neighbour[] = []
  const questions: PreparationQuestion[] = []
  for (const fitting of door.fittings) {
    if (fitting.key === own.key) continue
    const placed = all.find(({ key }) => key === fitting.key)
    const theirs = placed?.surfaces.find(({ name }) => name === surface.name)
    const standsHere = fitting.place === null ? null : surfaceOfPlace[fitting.place] === surface.name
    if (theirs === undefined && standsHere === false) continue
    // A part whose pattern lies on other faces only has nothing here.
    if (theirs === undefined && (placed?.surfaces.length ?? 0) > 0) continue
    const chosen = leafOf(door, fitting)
    if (!isOnHead(surface.name) && !('words' in chosen) && chosen.leaf.role !== own.leaf) continue
    const opposite = fitting.side !== null && own.side !== null && fitting.side !== own.side
    if (opposite && surface.name !== 'leaf face') continue
    const there =
      theirs !== undefined && placed !== undefined
        ? onSurface(theirs, placed)
        : standsHere === true
          ? roughly(door, fitting, surface.name)
          : null
    if (there === null || fitting.side === null) questions.push(whereAsked(fitting.tag))
    if (there !== null) known.push({ tag: fitting.tag, there, opposite })
  }
  return { known, questions }
}

/** Sentences, one for each thing in the way. */
function clashes(own: OnSurface, { tag, there, opposite }: Neighbour): string[] {
  const showsThere = (disc: NamedDisc): boolean => !opposite || disc.through || disc.otherFace
  const under = own.discs
    .filter(showsThere)
    .flatMap((disc) =>
      there.rectangles
        .filter((body) => discMeetsRectangle(disc, body))
        .map((body) => `${capital(disc.name)} lies under the ${body.name} of ${tag}.`),
    )
  const overlapping = opposite
    ? []
    : own.rectangles.flatMap((body) =>
        there.rectangles
          .filter((other) => rectanglesMeet(body, other))
          .map((other) => `The ${body.name} overlaps the ${other.name} of ${tag}.`),
      )
  // Bodies that overlap need no words on the holes under each.
  if (overlapping.length > 0) return [...under, ...overlapping]
  const over = own.rectangles.flatMap((body) =>
    there.discs
      .filter((disc) => showsThere(disc) && discMeetsRectangle(disc, body))
      .map((disc) => `The ${body.name} lies over ${disc.name} of ${tag}.`),
  )
  const meeting = own.discs.flatMap((disc) =>
    there.discs
      .filter((other) => (!opposite || disc.through || other.through) && discsMeet(disc, other))
      .map((other) => `${capital(disc.name)} meets ${other.name} of ${tag}.`),
  )
  return [...under, ...over, ...meeting]
}

export const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)

/** Holes of one pattern that run into each other; two drills at one place are meant. */
function ownClashes({ discs }: OnSurface): string[] {
  return discs.flatMap((one, index) =>
    discs
      .slice(index + 1)
      .filter((other) => (one.x !== other.x || one.y !== other.y) && discsMeet(one, other))
      .map((other) => `${capital(one.name)} meets ${other.name}.`),
  )
}

/** One check for the fitting over all its faces. */
export function overlapCheck(
  door: DoorToPrepare,
  own: PlacedPattern,
  all: readonly PlacedPattern[],
): PreparationCheck {
  const found: string[] = []
  const questions = new Map<string, PreparationQuestion>()
  for (const surface of own.surfaces) {
    const neighbours = neighboursOn(door, own, surface, all)
    found.push(...ownClashes(onSurface(surface, own)))
    for (const neighbour of neighbours.known) found.push(...clashes(onSurface(surface, own), neighbour))
    for (const question of neighbours.questions) questions.set(question.words, question)
  }
  const base = { key: 'overlap', source: null }
  if (found.length > 0)
    return { ...base, verdict: 'caution', sentence: [...new Set(found)].join(' '), questions: [] }
  if (questions.size > 0)
    return {
      ...base,
      verdict: 'not known',
      sentence: 'Whether it keeps clear of every other fitting is not known.',
      questions: [...questions.values()],
    }
  return { ...base, verdict: 'met', sentence: 'It keeps clear of every other fitting.', questions: [] }
}
