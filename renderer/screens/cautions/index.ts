export { CautionsSheet } from './cautions-sheet.tsx'
export { CautionsMargin } from './cautions-margin.tsx'
export { CautionsOfRow, OpeningCautions, PointedCaution } from './opening-cautions.tsx'
export { PrintCautions } from './print-cautions.tsx'
