export * from './shapes.ts'
export * from './cell-mark.ts'
