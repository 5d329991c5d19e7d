export * from './facts.ts'
export * from './wire.ts'
export {
  branchesOf,
  ratingOf,
  source,
  type Branch,
  type Circuit,
  type ConductorFacts,
  type Fault,
  type Inrush,
  type Load,
  type LoadForm,
  type Network,
  type Rating,
  type Run,
  type Window,
} from './network.ts'
export {
  conserves,
  nothingDrawn,
  solverFor,
  tolerance,
  type Drawn,
  type Solution,
  type Solved,
} from './solve.ts'
export * from './scenarios.ts'
export * from './working.ts'
export * from './class-two.ts'
export * from './supply.ts'
export * from './battery.ts'
export * from './poe.ts'
export * from './remedies.ts'
export * from './power.ts'
export * from './sentences.ts'
export { powerSettingsOf, supplyFromJob, suppliesFromJob, type Drawing, type DrawingOf } from './from-job.ts'
export { drawingByBehaviour } from './drawing.ts'
