export * from './compare-jobs.ts'
export * from './issues.ts'
export * from './results.ts'
export * from './volts.ts'
