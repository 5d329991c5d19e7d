export { HandoverSheet, HandoverMargin } from './handover-sheet.tsx'
export { showView, type HandoverView } from './handover-state.ts'
