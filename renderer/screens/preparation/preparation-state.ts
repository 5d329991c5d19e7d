// What the cursor is on in the preparation of an opening, and which fitting its elevation shows up.
import { create } from 'zustand'
import type { PlacedHole, Preparation, PreparedSurface } from '../../../core/preparation/index.ts'

export interface Pointed {
  readonly openingId: string
  readonly preparation: Preparation
  readonly surface: PreparedSurface
  readonly hole: PlacedHole
}

interface PreparationState {
  readonly pointed: Pointed | null
  /** The tag that the elevation shows up. */
  readonly shown: string | null
}

export const usePreparation = create<PreparationState>()(() => ({ pointed: null, shown: null }))
export const pointAtHole = (pointed: Pointed | null): void => usePreparation.setState({ pointed })
export const showFitting = (tag: string): void =>
  usePreparation.setState(({ shown }) => ({ shown: shown === tag ? null : tag }))
