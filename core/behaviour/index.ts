export * from './model.ts'
export { known, unknown, wire, type Truth } from './truth.ts'
export * from './conditions.ts'
export * from './results.ts'
export { isSameAnswer, judge, judgeAll, rangeOf } from './judge.ts'
export { asEasyAs, hindranceOf } from './ways.ts'
export * from './behaviour.ts'
export * from './sentences.ts'
export * from './sequence.ts'
export * from './trapped.ts'
export * from './declarations.ts'
export { declaredInJob } from './declared-in-job.ts'
export { doorwaysOf, type Doorways, type TouchedOpenings } from './doorways.ts'
export {
  batteryFromRecord,
  doorwayOf,
  doorwayProblemSentence,
  type DoorwayAnswer,
  type DoorwayOptions,
  type DoorwayProblem,
} from './from-job.ts'
export { feedsIn } from './feeds.ts'
