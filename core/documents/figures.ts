// What figures are drawn from, by kind. Nothing here knows how a line is drawn.
import type { VoltsFigureInput } from '../power/index.ts'
import type { RiserFigureInput } from './power-riser.ts'
import type { PreparationFigureInput, TemplateFigureInput } from './preparation-figures.ts'

/** A bar to hold a rule against: printed true to size it proves that nothing scaled the page. */
export interface MeasuringBarInput {
  readonly lengthMicrometres: number
  /** What it must measure, as the job writes lengths: "100 mm". */
  readonly lengthWords: string
}

/** A new kind is a line here, and a line in renderer/paper/figures.ts, which the compiler then asks for. */
export interface FigureInputs {
  readonly 'measuring bar': MeasuringBarInput
  readonly preparation: PreparationFigureInput
  readonly template: TemplateFigureInput
  /** Volts along the run of one output. */
  readonly volts: VoltsFigureInput
  readonly riser: RiserFigureInput
}

export type FigureOf<Kind extends keyof FigureInputs> = {
  readonly kind: Kind
  readonly input: FigureInputs[Kind]
}

export type Figure = { readonly [Kind in keyof FigureInputs]: FigureOf<Kind> }[keyof FigureInputs]
