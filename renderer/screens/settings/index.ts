export { SettingsSheet, SettingsMargin, PointedSetting } from './settings-sheet.tsx'
export { OpeningSettings } from './opening-settings.tsx'
export { SettingField } from './setting-field.tsx'
