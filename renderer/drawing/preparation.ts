// One face with its holes, to scale, with the tape's dimensions from named edges.
import type { PreparationFigureInput } from '../../core/documents/index.ts'
import { micrometresPerInch, type Units } from '../../core/job/index.ts'
import type { PlacedHole, PreparedSurface, Tape } from '../../core/preparation/index.ts'
import { placeLabels, type Labelled } from './labels.ts'
import {
  centreLines,
  extentOf,
  holesTogether,
  holesWithPlace,
  holeShapes,
  pointsPerMicrometre,
  regionOf,
  segmentsOf,
  viewOf,
  type DrawnHole,
  type Region,
  type View,
} from './preparation-view.ts'
import { corners, moved, type Box, type Drawing, type Point, type Shape } from './shapes.ts'
import { boxOf, overlap, textRoom } from './text-room.ts'

export interface PreparationBox {
  /** Points of 1/72 in. */
  readonly width: number
  readonly height: number
  readonly textSize?: number
}

export interface ScaledPreparation {
  readonly drawing: Drawing
  /** When printed at full size; null where no usual scale fits the box. */
  readonly scaleWords: string | null
}

/** The trade's usual scales for details, largest first. Common practice, no source. */
const scales: Readonly<Record<Units, readonly (readonly [oneTo: number, words: string])[]>> = {
  imperial: [
    [2, '6 in. to 1 ft'],
    [4, '3 in. to 1 ft'],
    [8, '1 1/2 in. to 1 ft'],
    [12, '1 in. to 1 ft'],
    [16, '3/4 in. to 1 ft'],
  ],
  metric: [
    [2, '1:2'],
    [5, '1:5'],
    [10, '1:10'],
    [20, '1:20'],
  ],
}

const usualTextSize = 9
const margin = 1.25 * micrometresPerInch
const edge = 2

/**
 * A face at the largest usual scale that fits the box. One unit is 1/72 in. Null where no hole has its place. Distances
 * from an edge that lies out of sight are drawn broken and keep their figure.
 */
export function preparationDrawing(surface: PreparedSurface, box: PreparationBox): ScaledPreparation | null {
  const region = regionOf(surface, margin)
  if (region === null) return null
  const size = box.textSize ?? usualTextSize
  for (const [oneTo, scaleWords] of scales[surface.units]) {
    const drawing = drawnAt(surface, region, pointsPerMicrometre / oneTo, size)
    if (drawing.width <= box.width && drawing.height <= box.height) return { drawing, scaleWords }
  }
  let oneTo = 24
  let drawing = drawnAt(surface, region, pointsPerMicrometre / oneTo, size)
  while (oneTo < 400 && (drawing.width > box.width || drawing.height > box.height)) {
    oneTo *= 1.25
    drawing = drawnAt(surface, region, pointsPerMicrometre / oneTo, size)
  }
  return { drawing, scaleWords: null }
}

/** For a page: the drawing with its scale under it; none where no hole has its place. */
export function preparationFigure(
  { surface }: PreparationFigureInput,
  room: { readonly width: number; readonly height: number; readonly textSize: number },
): readonly Drawing[] {
  const size = room.textSize
  const made = preparationDrawing(surface, {
    width: room.width,
    height: room.height - size * 1.8,
    textSize: size,
  })
  if (made === null) return []
  const { drawing, scaleWords } = made
  const words = scaleWords === null ? 'Not to a usual scale.' : `Scale ${scaleWords}, printed at full size.`
  return [
    {
      ...drawing,
      width: Math.max(drawing.width, Math.ceil(textRoom(words, size * 0.92)) + 2 * edge),
      height: drawing.height + Math.ceil(size * 1.8),
      shapes: [
        ...drawing.shapes,
        {
          form: 'text',
          at: { x: edge, y: drawing.height + size * 1.1 },
          text: words,
          size: size * 0.92,
          ink: 'soft',
          align: 'start',
          part: 'scale',
        },
      ],
    },
  ]
}

function drawnAt(surface: PreparedSurface, region: Region, perMicrometre: number, size: number): Drawing {
  const view = viewOf(surface, region, perMicrometre)
  const holes = holesWithPlace(surface)
  const face = view.box(region)
  const body = [
    ...faceShapes(region, view),
    ...bodyOutlines(surface, view),
    ...holes.flatMap((hole) => [...centreLines(hole, view, 3, 0.4), ...holeShapes(hole, view)]),
  ]
  const across = acrossDimensions(holes, region, view, face, size)
  const along = alongDimensions(holes, region, view, face, size)
  const words = edgeWords(surface, region, view, face, size)
  const texts = [...across, ...along, ...words].filter(({ form }) => form === 'text').map(boxOf)
  const lines = [
    ...faceShapes(region, view),
    ...bodyOutlines(surface, view),
    // A number beside a centre line would read as below zero.
    ...holes.flatMap((hole) => centreLines(hole, view, 3, 0.4)),
    ...across,
    ...along,
  ].flatMap(segmentsOf)
  // A label's own box ends at its baseline; the figures of a table go a little lower.
  const labels = placeLabels(
    holeLabels(holes, view),
    { solid: texts.map((box) => ({ ...box, top: box.top - size * 0.2 })), lines, softLines: [] },
    size,
  )
  const drawn = [...body, ...across, ...along, ...words, ...labels]
  const taken = [
    ...texts,
    ...labels.filter(({ form }) => form === 'text').map(boxOf),
    ...holes.flatMap((hole) => holeShapes(hole, view).map(boxOf)),
    ...faceShapes(region, view).map(boxOf),
  ]
  const shapes = [...drawn, ...bodyNames(surface, view, taken, size)]
  const extent = extentOf(shapes)
  return {
    name: nameOf(surface),
    width: Math.ceil(extent.right - extent.left + 2 * edge),
    height: Math.ceil(extent.bottom - extent.top + 2 * edge),
    shapes: shapes.map((shape) => moved(shape, edge - extent.left, edge - extent.top)),
  }
}

/** Edges in sight are ruled; where the face goes on, a thin broken line. */
function faceShapes(region: Region, view: View): Shape[] {
  const { left, right, top, bottom, edges } = region
  const side = (from: Point, to: Point, inSight: boolean, part: string): Shape =>
    inSight
      ? { form: 'line', from, to, width: 1.8, ink: 'ink', part }
      : {
          form: 'outline',
          points: brokenLine(from, to),
          closed: false,
          width: 0.6,
          ink: 'soft',
          part: 'break',
        }
  return [
    side(view.at(left, top), view.at(left, bottom), edges.left, 'edge across'),
    side(view.at(right, top), view.at(right, bottom), edges.right, 'edge'),
    side(view.at(left, top), view.at(right, top), edges.top, 'edge along'),
    side(view.at(left, bottom), view.at(right, bottom), edges.bottom, 'edge'),
  ]
}

/** A straight line with one zigzag in its middle. */
function brokenLine(from: Point, to: Point): Point[] {
  const length = Math.hypot(to.x - from.x, to.y - from.y)
  const along = { x: (to.x - from.x) / length, y: (to.y - from.y) / length }
  const place = (distance: number, aside: number): Point => ({
    x: from.x + along.x * distance - along.y * aside,
    y: from.y + along.y * distance + along.x * aside,
  })
  const middle = length / 2
  return [from, place(middle - 4, 0), place(middle - 2, 4), place(middle + 2, -4), place(middle + 4, 0), to]
}

const bodyOutlines = ({ bodies }: PreparedSurface, view: View): Shape[] =>
  bodies.map((body) => ({
    form: 'outline',
    points: corners(view.box(body)),
    closed: true,
    width: 0.8,
    ink: 'blue',
    dash: [7, 3],
    part: `body ${body.name}`,
  }))

/** The first place inside the outline, or beside it, where the name covers nothing; left to the words where there is none. */
function bodyNames({ bodies }: PreparedSurface, view: View, taken: readonly Box[], size: number): Shape[] {
  return bodies.flatMap((body): Shape[] => {
    const box = view.box(body)
    const at = (x: number, y: number): Extract<Shape, { form: 'text' }> => ({
      form: 'text',
      at: { x: box.left + (box.right - box.left) * x, y },
      text: body.name,
      size: size * 0.9,
      ink: 'blue',
      part: `name of ${body.name}`,
    })
    const rows = [box.top + size, box.bottom - size * 0.4, (box.top + box.bottom) / 2, box.bottom + size]
    const places = rows.flatMap((y) => [0.3, 0.7, 0.5, 0.15, 0.85].map((x) => at(x, y)))
    const free = places.find((text) => !taken.some((other) => overlap(boxOf(text), other)))
    return free === undefined ? [] : [free]
  })
}

/** Holes with one middle share a label. */
const holeLabels = (holes: readonly DrawnHole[], view: View): Labelled[] =>
  holesTogether(holes).map((group) => ({
    text: group.map(({ hole }) => hole.number).join(', '),
    target: extentOf(group.flatMap((each) => holeShapes(each, view))),
    part: `holes ${group.map(({ hole }) => hole.number).join(' ')}`,
    uncertain: group.some(({ hole }) => hole.diameterMicrometres === null && hole.cutOut === null),
  }))

interface Measured {
  /** On the face, in micrometres. */
  readonly place: number
  readonly tape: Tape
  /** The hole from which the line to the dimension starts. */
  readonly from: Point
}

/** One dimension for each distance, nearest first; a tape that starts elsewhere is given in the table only. */
function measured(
  holes: readonly DrawnHole[],
  view: View,
  which: 'across' | 'along',
  startsHere: (each: DrawnHole, tape: Tape) => boolean,
  further: (one: Point, other: Point) => boolean,
): Measured[] {
  const byText = new Map<string, Measured>()
  for (const each of holes) {
    const place = which === 'across' ? each.x : each.y
    const own = each.hole[which]
    const tape =
      own !== null && startsHere(each, own)
        ? own
        : which === 'across' && each.hole.acrossAgain !== null && startsHere(each, each.hole.acrossAgain)
          ? each.hole.acrossAgain
          : null
    if (tape === null) continue
    const from = view.at(each.x, each.y)
    const key = `${Math.round(place)}`
    const before = byText.get(key)
    if (before === undefined || further(from, before.from)) byText.set(key, { place, tape, from })
  }
  return [...byText.values()].toSorted((one, other) => Math.abs(one.place) - Math.abs(other.place))
}

const tick = ({ x, y }: Point, part: string): Shape => ({
  form: 'line',
  from: { x: x - 2.5, y: y + 2.5 },
  to: { x: x + 2.5, y: y - 2.5 },
  width: 1,
  ink: 'ink',
  part: `tick ${part}`,
})

const thin = (from: Point, to: Point, part: string): Shape => ({
  form: 'line',
  from,
  to,
  width: 0.4,
  ink: 'soft',
  part,
})

/** Lines under a face (over a head, whose door is below), each further out than the one before. */
function acrossDimensions(
  holes: readonly DrawnHole[],
  region: Region,
  view: View,
  face: Box,
  size: number,
): Shape[] {
  const away = view.upwards ? -1 : 1
  const start = view.upwards ? face.top : face.bottom
  const nearer = (one: Point, other: Point): boolean => (one.y - other.y) * away > 0
  const list = measured(holes, view, 'across', ({ x }, tape) => Math.abs(tape.micrometres - x) < 1, nearer)
  if (list.length === 0) return []
  const zero = view.at(Math.max(region.left, 0), 0).x
  // A leaf's edge is measured from its middle line, which is always in sight.
  const zeroInSight = region.left <= 0
  const step = size * 1.55
  const gap = size * 0.9
  const rowOf = (index: number): number => start + away * (gap + (index + 1) * step)
  const last = rowOf(list.length - 1)
  const shapes: Shape[] = zeroInSight
    ? [thin({ x: zero, y: start + away * 2 }, { x: zero, y: last + away * 3 }, 'extension')]
    : []
  for (const [index, { tape, from }] of list.entries()) {
    const y = rowOf(index)
    const part = `across ${tape.micrometres}`
    const text = tape.text.replace('-', '')
    const room = textRoom(text, size) + 6
    const inside = Math.abs(from.x - zero) > room
    // From the zero edge outwards, away from the holes.
    const outwards = Math.sign(zero - from.x) || (view.turned ? 1 : -1)
    shapes.push(
      thin({ x: from.x, y: from.y }, { x: from.x, y: y + away * 2 }, 'extension'),
      {
        form: 'line',
        from: { x: zero, y },
        to: { x: from.x, y },
        width: 0.7,
        ink: 'ink',
        part: zeroInSight ? part : `broken ${part}`,
      },
      tick({ x: from.x, y }, part),
      zeroInSight ? tick({ x: zero, y }, part) : breakMark({ x: zero, y }, 'across'),
      {
        form: 'text',
        at: { x: inside ? (zero + from.x) / 2 : zero + outwards * 5, y: y - 2.2 },
        text,
        size,
        ink: 'ink',
        part,
        ...(inside ? {} : { align: outwards > 0 ? ('start' as const) : ('end' as const) }),
      },
    )
  }
  return shapes
}

const isFromFloor = (holes: readonly PlacedHole[]): boolean =>
  holes.some(({ along }) => along?.from === 'the finished floor')

/** Lines beside the face, on the side where no edge is measured from. */
function alongDimensions(
  holes: readonly DrawnHole[],
  region: Region,
  view: View,
  face: Box,
  size: number,
): Shape[] {
  const away = view.turned ? -1 : 1
  const start = view.turned ? face.left : face.right
  const nearer = (one: Point, other: Point): boolean => (one.x - other.x) * away > 0
  // Heights over the floor, and distances from a head out of sight, are drawn broken.
  const list = measured(holes, view, 'along', () => true, nearer)
  if (list.length === 0) return []
  const fromFloor = isFromFloor(holes.map(({ hole }) => hole))
  const ordered = fromFloor ? list.toReversed() : list
  const inSight = region.edges.top && !fromFloor
  const zero = fromFloor ? face.bottom : view.at(0, inSight ? 0 : region.top).y
  const widest = Math.max(...ordered.map(({ tape }) => textRoom(tape.text, size)))
  const step = widest + 11
  const columnOf = (index: number): number => start + away * (size * 1.1 + index * step)
  const shapes: Shape[] = inSight
    ? [
        thin(
          { x: start + away * 2, y: zero },
          { x: columnOf(ordered.length - 1) + away * 3, y: zero },
          'extension',
        ),
      ]
    : []
  for (const [index, { tape, from }] of ordered.entries()) {
    const x = columnOf(index)
    const part = `along ${tape.micrometres}`
    const isShort = Math.abs(from.y - zero) < size * 1.15
    const beyond = Math.sign(zero - from.y) || 1
    const middle = (zero + from.y) / 2 + size * 0.35
    const outside = zero + (beyond > 0 ? size : -size * 0.35)
    shapes.push(
      thin({ x: from.x, y: from.y }, { x: x + away * 2, y: from.y }, 'extension'),
      {
        form: 'line',
        from: { x, y: zero },
        to: { x, y: from.y },
        width: 0.7,
        ink: 'ink',
        part: inSight ? part : `broken ${part}`,
      },
      tick({ x, y: from.y }, part),
      inSight ? tick({ x, y: zero }, part) : breakMark({ x, y: zero }, 'along'),
      {
        form: 'text',
        at: { x: x + away * 4, y: isShort ? outside : middle },
        text: tape.text,
        size,
        ink: 'ink',
        part,
        align: away > 0 ? 'start' : 'end',
      },
    )
  }
  return shapes
}

/** The line goes on to an edge out of sight. */
const breakMark = ({ x, y }: Point, way: 'across' | 'along'): Shape => ({
  form: 'outline',
  closed: false,
  width: 0.8,
  ink: 'ink',
  part: 'break',
  points:
    way === 'across'
      ? [-4, 4, -4, 4].map((dy, at) => ({ x: x + (at - 1.5) * 1.6, y: y + dy }))
      : [-4, 4, -4, 4].map((dx, at) => ({ x: x + dx, y: y + (at - 1.5) * 1.6 })),
})

/** Names of the edges that the tape starts from, on the side without dimensions. */
function edgeWords(surface: PreparedSurface, region: Region, view: View, face: Box, size: number): Shape[] {
  const small = size * 0.92
  const y = view.upwards ? face.bottom + small * 1.3 : face.top - small * 0.6
  const second = view.upwards ? y + small * 1.25 : y - small * 1.25
  const nearX = view.turned ? face.right : face.left
  const farX = view.turned ? face.left : face.right
  const near = view.turned ? 'end' : 'start'
  const far = view.turned ? 'start' : 'end'
  const isEdge = surface.name === 'leaf strike edge' || surface.name === 'leaf hinge edge'
  const isJamb = surface.name === 'frame strike jamb' || surface.name === 'frame hinge jamb'
  const text = (words: string, x: number, baseline: number, align: 'start' | 'end', part: string): Shape => ({
    form: 'text',
    at: { x, y: baseline },
    text: words,
    size: small,
    ink: 'soft',
    align,
    part,
  })
  const alongWords = isFromFloor(surface.holes)
    ? 'heights over the finished floor'
    : `${region.edges.top ? '' : 'further on: '}${surface.alongFrom}`
  const shapes = [text(alongWords, nearX, y, near, 'edge name along')]
  const acrossWords = isEdge
    ? `${surface.acrossFrom}, face of the work at the ${view.turned ? 'right' : 'left'}`
    : `${region.edges.left ? '' : 'further on: '}${surface.acrossFrom} at the ${view.turned ? 'right' : 'left'}`
  shapes.push(text(acrossWords, nearX, second, near, 'edge name across'))
  const farWords = isEdge || isJamb ? null : 'to the hinges'
  const used = Math.max(textRoom(alongWords, small), textRoom(acrossWords, small))
  if (farWords !== null && used + textRoom(farWords, small) + 12 < face.right - face.left)
    shapes.push(text(farWords, farX, y, far, 'edge name far'))
  if (surface.strikeAt === null)
    shapes.push({
      ...text(
        'hand not known: left and right may be turned',
        nearX,
        view.upwards ? second + small * 1.25 : second - small * 1.25,
        near,
        'question',
      ),
      ink: 'brass',
    } as Shape)
  return shapes
}

/** The drawing for those who cannot see it. */
function nameOf(surface: PreparedSurface): string {
  const holes = surface.holes.map(({ number, name, across, along, sizeText, depthText }) => {
    const place = [across, along].map((tape) =>
      tape === null ? 'place not known' : `${tape.text} ${tape.towards} from ${tape.from}`,
    )
    return `Hole ${number}, ${name}: ${place.join(', ')}; ${sizeText}, ${depthText}.`
  })
  const bodies = surface.bodies.map(({ name }) => name)
  const hangs = bodies.length === 0 ? '' : ` Bodies shown: ${bodies.join(', ')}.`
  return `${surface.title}. ${holes.join(' ')}${hangs}`
}
