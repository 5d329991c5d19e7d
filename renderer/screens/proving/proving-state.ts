// What the walk is at, so that the margin explains it; and who is noted where a paper sheet is entered afterwards.
import { create } from 'zustand'
import type { ProofLine } from '../../../core/proving/index.ts'

interface Walk {
  readonly line: ProofLine | null
  /** Null: whoever sits here. */
  readonly who: string | null
  /** A day; null is now. */
  readonly day: string | null
}

export const useWalk = create<Walk>()(() => ({ line: null, who: null, day: null }))
export const lookAt = (line: ProofLine | null): void => useWalk.setState({ line })
export const noteFor = (change: Pick<Walk, 'who' | 'day'>): void => useWalk.setState(change)
