export type { SettingQuestion, Step } from './words.ts'
export * from './part-settings.ts'
export * from './setting-values.ts'
export {
  type DesignedValue,
  type NotedValue,
  type NotNoted,
  type StageValue,
  type ThreeStages,
} from './stages.ts'
export * from './banks.ts'
export { type SettingDifference } from './differences.ts'
export {
  fittingSettings,
  settingsOf,
  type BankState,
  type FittingSettings,
  type PlaceOfFitting,
  type SettingsOwner,
  type SettingState,
  type StageOrStanding,
  type StrayValue,
} from './settings-of.ts'
export * from './sheet.ts'
export * from './findings.ts'
export * from './plan-setting.ts'
export * from './effects.ts'
export { conductorOhms, type CableCelsius, type CableOhms, type Conductor } from './cable.ts'
export * from './loop.ts'
export { type Answer, type PairAnswer, type ToldApart } from './told-apart.ts'
export * from './loop-of-point.ts'
export * from './bench.ts'
