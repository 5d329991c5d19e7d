export { RunsAndPointsSheet } from './runs-sheet.tsx'
export { RunsAndPointsMargin } from './runs-margin.tsx'
export { OpeningWiring } from './opening-wiring.tsx'
