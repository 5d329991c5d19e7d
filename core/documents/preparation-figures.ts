// What the figures of preparation are drawn from: two kinds of figure, apart from the blocks so that neither file needs the other.
import type { PreparedSurface } from '../preparation/index.ts'

/** A face to scale with the tape's dimensions. */
export interface PreparationFigureInput {
  readonly surface: PreparedSurface
}

/** A face at full size, over as many pages as it takes, with bars that must be measured first. */
export interface TemplateFigureInput {
  /** Whose it is: "101, M1 Surface magnet". */
  readonly heading: string
  readonly surface: PreparedSurface
}
