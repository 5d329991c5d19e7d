export { HistoryMargin, HistorySheet, momentWords } from './history-sheet.tsx'
