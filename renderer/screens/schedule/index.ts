export { ScheduleMargin } from './schedule-margin.tsx'
export { ScheduleSheet } from './schedule-sheet.tsx'
