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
export {
  drawsNothing,
  powerReader,
  powerSettingsOf,
  suppliesFromJob,
  supplyFromJob,
  type Drawing,
  type DrawingOf,
  type PowerReader,
  roleOf,
} from './from-job.ts'
export { drawingByBehaviour } from './drawing.ts'
export { keptPower, powerOfSupply, type JobPower, type KeptPower } from './kept.ts'
export { treeOf, type TreePlace } from './tree.ts'
export * from './feeds.ts'
export { nearerOutputs } from './nearer.ts'
export * from './putting-right.ts'
export * from './volts-figure.ts'
export * from './pages.ts'
export * from './output-page.ts'
export * from './changing.ts'
export * from './poe-page.ts'
export { batterySecondsByPower, fireAlarmBatterySeconds } from './battery-seconds.ts'
