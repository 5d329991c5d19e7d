// A door to scale, seen from one side: frame, leaves, hinges and swing, fittings at their usual places, sizes.
import {
  elevationQuestions,
  elevationSize,
  elevationWords,
  hangSeenFrom,
  leafWidths,
  whyNotDrawn,
  type ElevationFitting,
  type ElevationInput,
  type Hang,
} from '../../core/documents/index.ts'
import { micrometresPerInch } from '../../core/job/index.ts'
import {
  boxMark,
  frameFace,
  isBesideTheDoor,
  marksOf,
  type LeafPlace,
  type Mark,
  type SymbolPlace,
} from './fitting-symbols.ts'
import { placeLabels, type Labelled } from './labels.ts'
import {
  corners,
  moved,
  type Box,
  type Dash,
  type Drawing,
  type Ink,
  type Point,
  type Shape,
} from './shapes.ts'
import { boxOf, textRoom } from './text-room.ts'

export interface ElevationBox {
  /** The drawing is at most this wide and this high. */
  readonly width: number
  readonly height: number
  /** Of tags and sizes. */
  readonly textSize?: number
}

const usualTextSize = 12
/** Drawn where a size is not known, greyed. */
const usualSize = { singleWidth: 36, pairWidth: 72, height: 84 }
const swingDash: Dash = [5, 4]
const hiddenDash: Dash = [2.5, 2]
const edge = 2

interface Plan {
  readonly input: ElevationInput
  readonly width: number
  readonly height: number
  readonly hang: Hang | null
  /** The only or the active leaf comes first; the sides mean nothing while the hand is not known. */
  readonly leaves: readonly LeafPlace[]
  /** Grey while a fact is missing. */
  readonly ink: Ink
  readonly textSize: number
  /** Of all lines: 1 at the text size of screens, where each then fills whole pixels. */
  readonly weight: number
}

const inches = (micrometres: number | null, otherwise: number): number =>
  micrometres === null || micrometres <= 0 ? otherwise : micrometres / micrometresPerInch

function planOf(input: ElevationInput, textSize: number = usualTextSize): Plan {
  const isPair = input.leaves.form === 'pair'
  const width = inches(input.widthMicrometres, isPair ? usualSize.pairWidth : usualSize.singleWidth)
  const height = inches(input.heightMicrometres, usualSize.height)
  const hang = input.hand === null ? null : hangSeenFrom(input.hand, input.seenFrom)
  const widths = leafWidths(input)
  const activeWidth = !isPair
    ? width
    : widths === null
      ? width / 2
      : widths.activeMicrometres / micrometresPerInch
  // A pair hangs at both jambs; the hand is the active leaf's. Common practice, no source.
  const hungLeft = hang?.hinges !== 'right'
  const active = hungLeft ? leafPlace(0, activeWidth, 'left') : leafPlace(width - activeWidth, width, 'right')
  const inactive = hungLeft
    ? leafPlace(activeWidth, width, 'right')
    : leafPlace(0, width - activeWidth, 'left')
  return {
    input,
    width,
    height,
    hang,
    leaves: isPair ? [active, inactive] : [active],
    ink: elevationQuestions(input).length > 0 ? 'soft' : 'ink',
    textSize,
    weight: textSize / usualTextSize,
  }
}

const leafPlace = (left: number, right: number, hinges: Hang['hinges']): LeafPlace => ({
  left,
  right,
  hingeX: hinges === 'left' ? left : right,
  lockX: hinges === 'left' ? right : left,
})

/** Shapes with the head's left corner of the opening at 0, 0. */
function layOut(plan: Plan, perInch: number): Shape[] {
  const { textSize } = plan
  const at = (x: number, y: number): Point => ({ x: x * perInch, y: y * perInch })
  const body = [...frameShapes(plan, at), ...leafShapes(plan, at)]
  const swing = swingShapes(plan, at)
  const fittings = fittingShapes(plan, at)
  const missing = questionShapes(plan, at)
  const drawn = [...body, ...swing, ...fittings.flatMap(({ shapes }) => shapes)]
  const sizes = dimensionShapes(plan, at, extentOf(drawn))
  const labels = placeLabels(
    fittings.map(({ label }) => label),
    {
      solid: [...missing, ...sizes].filter(({ form }) => form === 'text').map(boxOf),
      lines: [...body, ...sizes].flatMap(segmentsOf),
      softLines: swing.flatMap(segmentsOf),
    },
    textSize,
  )
  return [...drawn, ...missing, ...sizes, ...labels]
}

type At = (x: number, y: number) => Point

function frameShapes({ width, height, ink, weight }: Plan, at: At): Shape[] {
  const outer = [
    at(-frameFace, height),
    at(-frameFace, -frameFace),
    at(width + frameFace, -frameFace),
    at(width + frameFace, height),
  ]
  return [
    { form: 'outline', points: outer, closed: false, width: 2 * weight, ink, part: 'frame' },
    { form: 'line', from: at(-9, height), to: at(width + 9, height), width: 2 * weight, ink, part: 'floor' },
  ]
}

const leafShapes = ({ leaves, height, ink, weight }: Plan, at: At): Shape[] =>
  leaves.map((leaf) => ({
    form: 'outline',
    points: [at(leaf.left, 0), at(leaf.right, 0), at(leaf.right, height), at(leaf.left, height)],
    closed: true,
    width: weight,
    ink,
    part: 'leaf',
  }))

/** The lines meet at the hinges; dashed opens away, unbroken towards the viewer. Common practice, no source. */
function swingShapes({ hang, leaves, height, input, weight }: Plan, at: At): Shape[] {
  if (hang === null || input.leaves.form === 'not known') return []
  return leaves.map((leaf) => ({
    form: 'outline',
    points: [at(leaf.lockX, 0), at(leaf.hingeX, height / 2), at(leaf.lockX, height)],
    closed: false,
    width: 0.8 * weight,
    ink: 'soft',
    part: 'swing',
    ...(hang.opens === 'away' ? { dash: swingDash } : {}),
  }))
}

interface DrawnFitting {
  readonly shapes: readonly Shape[]
  readonly label: Labelled
}

function fittingShapes(plan: Plan, at: At): DrawnFitting[] {
  const { input, leaves } = plan
  const counts = new Map<string, number>()
  const next = (key: string): number => {
    const before = counts.get(key) ?? 0
    counts.set(key, before + 1)
    return before
  }
  return input.fittings.flatMap((fitting) => {
    const { placement } = fitting
    const [active, inactive] = leaves
    if (placement === null || placement === 'elsewhere' || active === undefined) return []
    if (whyNotDrawn(input, fitting) !== null) return []
    const leaf = fitting.leaf === 'inactive' ? (inactive ?? active) : active
    const place: SymbolPlace = {
      opening: plan,
      leaf,
      wall: wallOf(plan, active),
      height: fitting.heightMicrometres == null ? null : fitting.heightMicrometres / micrometresPerInch,
      before: next(`${placement} ${leaf.left}`),
      beforeOnWall: isBesideTheDoor(placement) ? next('wall') : 0,
    }
    const boxes = (fitting.boxes ?? []).map(({ solid, ...box }) =>
      boxMark(
        place,
        {
          left: box.left / micrometresPerInch,
          right: box.right / micrometresPerInch,
          top: box.top / micrometresPerInch,
          bottom: box.bottom / micrometresPerInch,
        },
        solid,
      ),
    )
    return [drawnFitting(fitting, boxes.length > 0 ? boxes : marksOf(placement, place), plan, at)]
  })
}

/** Devices stand at the lock side of a single door, and beside the active leaf of a pair. Common practice, no source. */
function wallOf({ width, leaves }: Plan, active: LeafPlace): SymbolPlace['wall'] {
  const x = leaves.length > 1 ? active.hingeX : active.lockX
  return x === 0 ? { x: -frameFace, outwards: -1 } : { x: width + frameFace, outwards: 1 }
}

function drawnFitting(
  fitting: ElevationFitting,
  marks: readonly Mark[],
  { input, weight }: Plan,
  at: At,
): DrawnFitting {
  const hidden = fitting.side !== 'within' && fitting.side !== input.seenFrom
  const part = `fitting ${fitting.tag}`
  const shapes = marks.map((mark) => markShape(mark, { hidden, part, weight }, at))
  const uncertain = fitting.side === null
  const text = uncertain ? `${fitting.tag} ?` : fitting.tag
  return { shapes, label: { text, target: extentOf(shapes), part: fitting.tag, uncertain } }
}

/** What stands on the other side is dashed and never filled. */
function markShape(
  mark: Mark,
  { hidden, part, weight }: { readonly hidden: boolean; readonly part: string; readonly weight: number },
  at: At,
): Shape {
  const line = { ...(hidden ? { dash: hiddenDash } : {}), ink: hidden ? 'soft' : 'ink', part } as const
  switch (mark.form) {
    case 'box': {
      const { x: left, y: top } = at(mark.from.x, mark.from.y)
      const { x: right, y: bottom } = at(mark.to.x, mark.to.y)
      const points = corners({ left, top, right, bottom })
      return mark.solid && !hidden
        ? { form: 'polygon', points, fill: 'ink', part }
        : { form: 'outline', points, closed: true, width: weight, ...line }
    }
    case 'ring':
      return {
        form: 'circle',
        centre: at(mark.centre.x, mark.centre.y),
        radius: at(mark.radius, 0).x,
        width: 1.2 * weight,
        ...line,
      }
    case 'stroke':
      return {
        form: 'line',
        from: at(mark.from.x, mark.from.y),
        to: at(mark.to.x, mark.to.y),
        width: 2 * weight,
        ...line,
      }
  }
}

/** A question mark in the middle, and under it what is missing. */
function questionShapes(plan: Plan, at: At): Shape[] {
  const { textSize } = plan
  const questions = elevationQuestions(plan.input)
  if (questions.length === 0) return []
  const middle = at(plan.width / 2, plan.height * 0.68)
  const room = at(plan.width, 0).x - 6
  const text = (words: string, y: number, size: number): Shape => ({
    form: 'text',
    at: { x: middle.x, y },
    text: words,
    size,
    ink: 'brass',
    part: 'question',
  })
  const sizeFor = (words: string): number => Math.min(textSize, room / textRoom(words, 1))
  return [
    text('?', middle.y, textSize * 2.4),
    ...questions.map(({ short }, index) =>
      text(short, middle.y + textSize * 1.3 * (index + 1), sizeFor(short)),
    ),
  ]
}

/** Width under the door, height at the side where fewer things stand. */
function dimensionShapes(plan: Plan, at: At, drawn: Box): Shape[] {
  const { input, width, height, textSize, weight } = plan
  const size = elevationSize(input)
  const foot = at(0, height).y
  const y = foot + textSize * 1.1
  const right = at(width, 0).x
  const head = at(0, 0).y
  // The emptier side; the floor reaches as far on both.
  const atLeft = -drawn.left <= drawn.right - right + 0.01
  const x = atLeft ? drawn.left - textSize * 0.8 : drawn.right + textSize * 0.8
  const text = (words: string | null, place: Point, part: string, align?: 'start' | 'end'): Shape => ({
    form: 'text',
    at: place,
    text: words ?? '?',
    size: textSize,
    ink: words === null ? 'brass' : 'ink',
    part,
    ...(align === undefined ? {} : { align }),
  })
  const aside = atLeft ? -textSize * 0.5 : textSize * 0.5
  return [
    ...dimensionLine({ x: 0, y }, { x: right, y }, weight, 'width'),
    text(size.width, { x: right / 2, y: y + textSize * 1.15 }, 'width'),
    ...dimensionLine({ x, y: head }, { x, y: foot }, weight, 'height'),
    text(
      size.height,
      { x: x + aside, y: (head + foot) / 2 + textSize * 0.35 },
      'height',
      atLeft ? 'end' : 'start',
    ),
  ]
}

/** A line with a slanted tick at each end. */
function dimensionLine(from: Point, to: Point, weight: number, part: string): Shape[] {
  const reach = 3 * weight
  const tick = ({ x, y }: Point): Shape => ({
    form: 'line',
    from: { x: x - reach, y: y + reach },
    to: { x: x + reach, y: y - reach },
    width: 1.2 * weight,
    ink: 'ink',
    part: `${part} tick`,
  })
  return [{ form: 'line', from, to, width: 0.8 * weight, ink: 'ink', part }, tick(from), tick(to)]
}

function extentOf(shapes: readonly Shape[]): Box {
  const boxes = shapes.map(boxOf)
  return {
    left: Math.min(...boxes.map(({ left }) => left)),
    top: Math.min(...boxes.map(({ top }) => top)),
    right: Math.max(...boxes.map(({ right }) => right)),
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)),
  }
}

function segmentsOf(shape: Shape): (readonly [Point, Point])[] {
  switch (shape.form) {
    case 'line':
      return [[shape.from, shape.to]]
    case 'outline':
    case 'polygon': {
      const { points } = shape
      const closed = shape.form === 'polygon' || shape.closed
      return points.flatMap((point, index) => {
        const next = points[index + 1] ?? (closed ? points[0] : undefined)
        return next === undefined ? [] : [[point, next] as const]
      })
    }
    case 'circle':
    case 'text':
      return []
  }
}

function nameOf(input: ElevationInput): string {
  const { width, height } = elevationSize(input)
  const size = width === null || height === null ? '' : `, ${width} by ${height}`
  const drawn = input.fittings
    .filter((fitting) => whyNotDrawn(input, fitting) === null)
    .map(({ tag, placement }) => `${tag} ${placement ?? ''}`)
  const fittings = drawn.length === 0 ? '' : ` Fittings: ${drawn.join('; ')}.`
  return `Elevation${size}. ${elevationWords(input)}${fittings}`
}

/** At so many points to the inch; whole points from the corner, so that a screen keeps its lines sharp. */
function drawnAt(plan: Plan, perInch: number): Drawing {
  const shapes = layOut(plan, perInch)
  const extent = extentOf(shapes)
  const left = Math.ceil(edge - extent.left)
  const top = Math.ceil(edge - extent.top)
  return {
    name: nameOf(plan.input),
    width: Math.ceil(extent.right + left + edge),
    height: Math.ceil(extent.bottom + top + edge),
    shapes: shapes.map((shape) => moved(shape, left, top)),
  }
}

const fits = (drawing: Drawing, box: ElevationBox): boolean =>
  drawing.width <= box.width && drawing.height <= box.height

/** As large as the box allows, whatever scale that makes. */
export function elevation(input: ElevationInput, box: ElevationBox): Drawing {
  const plan = planOf(input, box.textSize)
  let perInch = Math.min(box.width / plan.width, box.height / plan.height)
  // Tags and sizes keep their size while the door shrinks, so the scale is found in a few steps.
  for (let step = 0; step < 40; step += 1) {
    const drawing = drawnAt(plan, perInch)
    if (fits(drawing, box)) return drawing
    perInch *= Math.max(0.8, Math.min(0.99, box.width / drawing.width, box.height / drawing.height))
  }
  return drawnAt(plan, perInch)
}

export interface ScaledElevation {
  readonly drawing: Drawing
  /** The scale when printed at full size; null when none of the usual scales fits the box or a size is not known. */
  readonly scaleWords: string | null
}

interface Scale {
  readonly oneTo: number
  readonly words: string
}

/** The trade's usual scales, largest first. Common practice, no source. */
const scales: Readonly<Record<ElevationInput['units'], readonly Scale[]>> = {
  imperial: [
    { oneTo: 16, words: '3/4 in. to 1 ft' },
    { oneTo: 24, words: '1/2 in. to 1 ft' },
    { oneTo: 32, words: '3/8 in. to 1 ft' },
    { oneTo: 48, words: '1/4 in. to 1 ft' },
  ],
  metric: [15, 20, 25, 30, 50].map((oneTo) => ({ oneTo, words: `1:${oneTo}` })),
}

const pointsPerInch = 72

/** At the largest usual scale that fits the box; the box is in points of 1/72 in. */
export function elevationToScale(input: ElevationInput, box: ElevationBox): ScaledElevation {
  const plan = planOf(input, box.textSize)
  const sizes = elevationSize(input)
  if (sizes.width === null || sizes.height === null)
    return { drawing: elevation(input, box), scaleWords: null }
  for (const { oneTo, words } of scales[input.units]) {
    const drawing = drawnAt(plan, pointsPerInch / oneTo)
    if (fits(drawing, box)) return { drawing, scaleWords: words }
  }
  return { drawing: elevation(input, box), scaleWords: null }
}
