export * from './facts.ts'
export * from './answers.ts'
export { type Missing, missingKey } from './checks.ts'
export {
  type Citation,
  type CitedSection,
  type Code,
  type Standing,
  citationWords,
  sectionsInForce,
} from './citations.ts'
export { type Source, type SourceId, type SourceStrength, sources } from './sources.ts'
export {
  type Content,
  type Rule,
  type RuleText,
  type Severity,
  type Verdict,
  evidenceLimit,
  localAmendments,
  severities,
  verdicts,
} from './rule.ts'
export * from './traits.ts'
export { alarmInOpenHours } from '../behaviour/index.ts'
export { type OpeningToJudge, type OpeningView } from './view.ts'
export {
  type Arrangement,
  type Recognition,
  acceptedArrangement,
  arrangements,
  recogniseArrangement,
} from './arrangement.ts'
export type * from './local-rule.ts'
export { ruleByKey, rules } from './register.ts'
export {
  type Caution,
  type Judged,
  createJudge,
  judgeOpening,
  rankOf,
  viewOf,
  wordsOfCaution,
} from './judge.ts'
export * from './questions.ts'
export { type Review, type ReviewOptions, type Reviews, readFactsOf, reviewsOf } from './reviews.ts'
export * from './answering.ts'
export * from './local-records.ts'
export * from './overview.ts'
export { type RuleWords, ruleWords } from './rule-words.ts'
