export { ShelfSheet } from './shelf-sheet.tsx'
