export { JobMargin, JobSheet, NameCell } from './job-sheet.tsx'
