export { SettingsSheet, SettingsMargin, PointedSetting } from './settings-sheet.tsx'
export { OpeningSettings, targetOf } from './opening-settings.tsx'
export { SettingField } from './setting-field.tsx'
