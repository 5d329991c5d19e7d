export * from './compare-jobs.ts'
