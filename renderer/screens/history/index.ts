export { HistorySheet, momentWords } from './history-sheet.tsx'
