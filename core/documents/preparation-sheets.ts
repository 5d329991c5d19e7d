export * from './preparation-figures.ts'
export * from './preparation-blocks.ts'
export {
  fittingSheet,
  preparationSheet,
  templateSheet,
  type PreparationDocument,
} from './preparation-sheet.ts'
