// Who draws which kind of figure.
import type { Figure, FigureInputs, FigureOf } from '../../core/documents/index.ts'
import {
  preparationFigure,
  templateFigure,
  type Drawing,
  riserDrawings,
  voltsFigureDrawings,
} from '../drawing/index.ts'
import { measuringBar } from './measuring-bar.ts'

export interface FigureRoom {
  /** Points; no drawing may be larger, or it is scaled down, and when true to size not printed at all. */
  readonly width: number
  readonly height: number
  /** Of the words in tables beside it. */
  readonly textSize: number
  readonly trueSize: boolean
}

/** One drawing, or several where it has to be split over pages. */
type Draw<Input> = (input: Input, room: FigureRoom) => readonly Drawing[]

/** To add a kind: its input in core/documents/figures.ts, its function in renderer/drawing, a line here. */
const draws: { readonly [Kind in keyof FigureInputs]: Draw<FigureInputs[Kind]> } = {
  'measuring bar': (input) => [measuringBar(input)],
  preparation: preparationFigure,
  template: templateFigure,
  volts: voltsFigureDrawings,
  riser: riserDrawings,
}

const drawOf = <Kind extends keyof FigureInputs>(
  { kind, input }: FigureOf<Kind>,
  room: FigureRoom,
): readonly Drawing[] => draws[kind](input, room)

export const figureDrawings = (figure: Figure, room: FigureRoom): readonly Drawing[] => drawOf(figure, room)
