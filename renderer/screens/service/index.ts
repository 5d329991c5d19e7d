export { ServiceSheet, ServiceMargin } from './service-sheet.tsx'
export { CallSheet, CallMargin } from './call-sheet.tsx'
