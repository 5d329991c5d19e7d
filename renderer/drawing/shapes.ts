// Neutral shapes: screens paint them as SVG, paper as PDF paths. Points, y downwards, from the drawing's own corner.

/** What a colour stands for; each painter has its own value for it. */
export type Ink = 'ink' | 'soft' | 'rule' | 'blue' | 'brass' | 'red' | 'sheet'

export interface Point {
  readonly x: number
  readonly y: number
}

/** Lengths drawn and left out, in turn. */
export type Dash = readonly [drawn: number, left: number]

interface Part {
  /** What the shape belongs to: "leaf", "fitting M1". Nothing is painted from it. */
  readonly part?: string
}

export type Shape = Part &
  (
    | {
        readonly form: 'line'
        readonly from: Point
        readonly to: Point
        readonly width: number
        readonly ink: Ink
        readonly dash?: Dash
      }
    | {
        readonly form: 'circle'
        readonly centre: Point
        readonly radius: number
        readonly width: number
        readonly ink: Ink
        readonly dash?: Dash
      }
    | { readonly form: 'polygon'; readonly points: readonly Point[]; readonly fill: Ink }
    | {
        readonly form: 'outline'
        readonly points: readonly Point[]
        readonly closed: boolean
        readonly width: number
        readonly ink: Ink
        readonly dash?: Dash
      }
    /** `at` is on the baseline: the middle of the text, or where `align` says. */
    | {
        readonly form: 'text'
        readonly at: Point
        readonly text: string
        readonly size: number
        readonly ink: Ink
        readonly align?: 'start' | 'end'
      }
  )

export interface Drawing {
  readonly width: number
  readonly height: number
  readonly shapes: readonly Shape[]
  /** What it says, for those who cannot see it. */
  readonly name: string
}

export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** The four corners, clockwise from the top left. */
export const corners = ({ left, top, right, bottom }: Box): readonly Point[] => [
  { x: left, y: top },
  { x: right, y: top },
  { x: right, y: bottom },
  { x: left, y: bottom },
]

/** The same shape elsewhere. */
export function moved(shape: Shape, dx: number, dy: number): Shape {
  const to = ({ x, y }: Point): Point => ({ x: x + dx, y: y + dy })
  switch (shape.form) {
    case 'line':
      return { ...shape, from: to(shape.from), to: to(shape.to) }
    case 'circle':
      return { ...shape, centre: to(shape.centre) }
    case 'polygon':
    case 'outline':
      return { ...shape, points: shape.points.map(to) }
    case 'text':
      return { ...shape, at: to(shape.at) }
  }
}
