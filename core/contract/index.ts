export * from './call.ts'
export * from './contract.ts'
export * from './intake.ts'
export * from './topics/index.ts'
