// What the power sheets show, what is under the cursor there, and the feeds that the schedule shows.
import { useEffect } from 'react'
import { create } from 'zustand'
import type { FeedRow, Scenario } from '../../../core/power/index.ts'
import { ask } from '../../bridge.ts'
import { useWindow } from '../window-state.ts'

/** What the margin explains. */
export type PointedPower =
  | { readonly form: 'supply' | 'battery' | 'load'; readonly supplyId: string }
  | {
      readonly form: 'device'
      readonly outputId: string
      readonly load: string
      readonly name: string
      readonly scenario: Scenario
    }
  | { readonly form: 'switch'; readonly switchId: string }

export interface PowerState {
  readonly pointed: PointedPower | null
  readonly unfolded: ReadonlySet<string>
  /** The output in view on each supply's page. */
  readonly chosen: Readonly<Record<string, string>>
  /** The output to bring into view once it is there. */
  readonly sought: string | null
}

export const usePower = create<PowerState>()(() => ({
  pointed: null,
  unfolded: new Set(),
  chosen: {},
  sought: null,
}))

export function point(pointed: PointedPower): void {
  if (JSON.stringify(usePower.getState().pointed) !== JSON.stringify(pointed)) usePower.setState({ pointed })
}

export function unfold(supplyId: string): void {
  const unfolded = new Set(usePower.getState().unfolded)
  if (!unfolded.delete(supplyId)) unfolded.add(supplyId)
  usePower.setState({ unfolded })
}

export const choose = (supplyId: string, outputId: string): void =>
  usePower.setState({ chosen: { ...usePower.getState().chosen, [supplyId]: outputId }, sought: outputId })

interface Feeds {
  readonly version: number | null
  readonly rows: Readonly<Record<string, FeedRow | null>>
}

export const useFeeds = create<Feeds>()(() => ({ version: null, rows: {} }))

/** Keeps the feeds up with the job while something shows them. */
export function useFeedsKept(): void {
  const revision = useWindow((state) => state.revision)
  const path = useWindow((state) => state.job?.state.path)
  useEffect(() => {
    let wanted = true
    void ask('power.feeds', { after: useFeeds.getState().version }).then((answer) => {
      // Nothing is said where it fails: the cells stay empty, and the power sheet tells what is wrong.
      if (!wanted || !answer.ok) return
      const { version, all, rows } = answer.value
      useFeeds.setState({ version, rows: all ? rows : { ...useFeeds.getState().rows, ...rows } })
    })
    return () => {
      wanted = false
    }
  }, [revision, path])
}
