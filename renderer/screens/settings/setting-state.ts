// What the cursor is on, so that the margin can explain it.
import { create } from 'zustand'
import type { SettingState } from '../../../core/settings/index.ts'

export interface PointedSetting {
  readonly tag: string
  readonly state: SettingState
}

export const usePointed = create<{ readonly pointed: PointedSetting | null }>()(() => ({ pointed: null }))
export const pointAt = (pointed: PointedSetting | null): void => usePointed.setState({ pointed })
