export * from './blocks.ts'
export * from './schedule-document.ts'
export * from './schedule-legend.ts'
export * from './schedule-from-rows.ts'
