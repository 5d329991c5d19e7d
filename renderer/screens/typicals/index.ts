export { TypicalMargin, TypicalSheet } from './typical-sheet.tsx'
