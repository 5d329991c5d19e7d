export * from './length.ts'
export { type RecordsChange } from './records-change.ts'
export { endName, endOf, endReader, type EndRead, type KeptEnd, type RunEnd } from './ends.ts'
export { cableKindsOf, readCableShort, type CableKind } from './conductors.ts'
export * from './rows.ts'
export {
  isBlankRow,
  runHeadings,
  typeRuns,
  type RunCell,
  type RunProblem,
  type RunsTyped,
  type TypedHow,
} from './typing.ts'
export * from './adding.ts'
export * from './routes.ts'
export * from './findings.ts'
export * from './quantities.ts'
export * from './points.ts'
export * from './run-page.ts'
export * from './level-names.ts'
