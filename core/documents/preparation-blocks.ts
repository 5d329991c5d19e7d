// Figure blocks of preparation. Once their kinds stand in figures.ts they are figure blocks like any other.
import type { Block, FigureBlock } from './blocks.ts'
import type { PreparationFigureInput, TemplateFigureInput } from './preparation-figures.ts'

type PreparationFigure =
  | { readonly kind: 'preparation'; readonly input: PreparationFigureInput }
  | { readonly kind: 'template'; readonly input: TemplateFigureInput }

/** A figure block of one of these kinds. */
export type PreparationBlock = Omit<FigureBlock, 'figure'> & { readonly figure: PreparationFigure }

export type BlockWithPreparation = Block | PreparationBlock
