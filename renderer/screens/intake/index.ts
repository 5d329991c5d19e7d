export { IntakeMargin } from './intake-margin.tsx'
export { IntakeSheet } from './intake-sheet.tsx'
