// The gate mark: left half going in, right half going out. Drawn on a grid of 45 by 22, so that it is sharp at 22 pixels.
import { gateWords, type Gate, type GatePassage } from '../../core/documents/index.ts'
import { corners, type Drawing, type Ink, type Point, type Shape } from './shapes.ts'
import { textRoom } from './text-room.ts'

const gridHeight = 22
const halfWidth = 22
const middle = 11

export interface GateSize {
  /** Whole multiples of 11 stay sharp on a screen. */
  readonly height: number
}

const usual: GateSize = { height: 22 }

type Half = GatePassage | { readonly form: 'trapped' }

/** One half at `left`, on the grid. */
function halfShapes(half: Half, left: number): Shape[] {
  switch (half.form) {
    case 'held':
      return [block(left + 9, 3, left + 13, 19, 'ink')]
    case 'free':
      return arrow(left, left + 3)
    case 'free by hardware':
      return [...strokes(left, half.motions), ...arrow(left, left + 3)]
    case 'waits':
      return ring(left, 'ink', 2, secondsText(half.seconds))
    case 'not known':
      return ring(left, 'brass', 1.2, '?')
    case 'trapped':
      return [
        block(left + 3, 3, left + 19, 19, 'red'),
        polygon('sheet', [
          { x: left + 5, y: 6.5 },
          { x: left + 6.5, y: 5 },
          { x: left + 17, y: 15.5 },
          { x: left + 15.5, y: 17 },
        ]),
      ]
  }
}

const polygon = (fill: Ink, points: readonly Point[]): Shape => ({ form: 'polygon', fill, points })
const block = (left: number, top: number, right: number, bottom: number, fill: Ink): Shape =>
  polygon(fill, corners({ left, top, right, bottom }))

const arrow = (left: number, tail: number): Shape[] => [
  block(tail, 10, left + 14, 12, 'ink'),
  polygon('ink', [
    { x: left + 13, y: 6 },
    { x: left + 19, y: middle },
    { x: left + 13, y: 16 },
  ]),
]

const mostStrokes = 3

/** Each upright stroke on the arrow's tail is one motion. */
const strokes = (left: number, motions: number): Shape[] =>
  Array.from({ length: Math.min(mostStrokes, motions) }, (_, at) =>
    block(left + 2 + at * 4, 5, left + 4 + at * 4, 17, 'ink'),
  )

function ring(left: number, ink: Ink, width: number, text: string): Shape[] {
  const centre = { x: left + middle, y: middle }
  const size = Math.min(12, (15 / textRoom(text, 1)) * 1)
  return [
    { form: 'circle', centre, radius: 9, width, ink },
    { form: 'text', at: { x: centre.x, y: middle + size * 0.35 }, text, size, ink },
  ]
}

/** What fits the ring; the mark's name says it in full. */
function secondsText(seconds: number): string {
  const whole = String(seconds)
  return whole.length <= 3
    ? whole
    : seconds < 999
      ? String(Math.ceil(seconds))
      : `${Math.ceil(seconds / 60)}m`
}

/** A person who cannot get out goes before the passage; where that is not known, so is the way out. */
function outHalf(gate: Gate): Half {
  switch (gate.trapped) {
    case 'yes':
      return { form: 'trapped' }
    case 'unknown':
      return { form: 'not known' }
    case 'no':
      return gate.out
  }
}

function scaled(shape: Shape, by: number): Shape {
  const to = ({ x, y }: Point): Point => ({ x: x * by, y: y * by })
  switch (shape.form) {
    case 'line':
      return { ...shape, from: to(shape.from), to: to(shape.to), width: shape.width * by }
    case 'circle':
      return { ...shape, centre: to(shape.centre), radius: shape.radius * by, width: shape.width * by }
    case 'polygon':
      return { ...shape, points: shape.points.map(to) }
    case 'outline':
      return { ...shape, points: shape.points.map(to), width: shape.width * by }
    case 'text':
      return { ...shape, at: to(shape.at), size: shape.size * by }
  }
}

const atSize = (shapes: readonly Shape[], width: number, { height }: GateSize, name: string): Drawing => {
  const by = height / gridHeight
  return { name, width: width * by, height, shapes: shapes.map((shape) => scaled(shape, by)) }
}

/** Passage in one condition, 45 wide to 22 high. Its name is `gateMarkName`. */
export function gateMark(gate: Gate, size: GateSize = usual): Drawing {
  const right = halfWidth + 1
  const shapes = [
    block(halfWidth, 0, right, gridHeight, 'rule'),
    ...halfShapes(gate.in, 0),
    ...halfShapes(outHalf(gate), right),
  ]
  return atSize(shapes, right + halfWidth, size, gateMarkName(gate))
}

/** The mark in words: "in held, out free by hardware". */
export const gateMarkName: (gate: Gate) => string = gateWords

const halfNames: Readonly<Record<Half['form'], string>> = {
  held: 'bar',
  free: 'arrow',
  'free by hardware': 'arrow with strokes',
  waits: 'ring with a number',
  'not known': 'ring with a question mark',
  trapped: 'struck red block',
}

/** One half by itself, for a legend; its name says how it looks. */
export function gateHalf(passage: GatePassage | 'trapped', size: GateSize = usual): Drawing {
  const half: Half = passage === 'trapped' ? { form: 'trapped' } : passage
  return atSize(halfShapes(half, 0), halfWidth, size, halfNames[half.form])
}
