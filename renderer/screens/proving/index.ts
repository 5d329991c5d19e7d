export { ProvingSheet, ProvingMargin } from './proving-sheet.tsx'
export { ProofSheet, ProofMargin } from './proof-sheet.tsx'
