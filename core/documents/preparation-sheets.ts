export * from './preparation-figures.ts'
export {
  fittingSheet,
  howToReadDrawings,
  preparationChecks,
  preparationSheet,
  templateSheet,
} from './preparation-sheet.ts'
