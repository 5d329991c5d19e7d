// Neutral shapes: screens paint them as SVG, paper as PDF paths. Points, y downwards, from the drawing's own corner.

/** What a colour stands for; each painter has its own value for it. */
export type Ink = 'ink' | 'soft' | 'rule' | 'blue' | 'brass' | 'red' | 'sheet'

export interface Point {
  readonly x: number
  readonly y: number
}

export type Shape =
  | {
      readonly form: 'line'
      readonly from: Point
      readonly to: Point
      readonly width: number
      readonly ink: Ink
    }
  | {
      readonly form: 'circle'
      readonly centre: Point
      readonly radius: number
      readonly width: number
      readonly ink: Ink
    }
  | { readonly form: 'polygon'; readonly points: readonly Point[]; readonly fill: Ink }
  /** `at` is the middle of the baseline. */
  | {
      readonly form: 'text'
      readonly at: Point
      readonly text: string
      readonly size: number
      readonly ink: Ink
    }

export interface Drawing {
  readonly width: number
  readonly height: number
  readonly shapes: readonly Shape[]
  /** What it says, for those who cannot see it. */
  readonly name: string
}
