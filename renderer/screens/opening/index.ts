export { AddPart, OpeningMargin, OpeningSheet } from './opening-sheet.tsx'
