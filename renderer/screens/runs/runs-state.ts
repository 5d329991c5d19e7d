// Which view of the wiring is open, where its cursor stands, and what the margin explains.
import { create } from 'zustand'
import type { PointPage } from '../../../core/runs/index.ts'
import type { TableSelection, TableSort } from '../../ui/index.ts'

export type WiringView = 'runs' | 'points' | 'cables'
export type RunsShown = 'all' | 'questions'

export type Pointed =
  | { readonly form: 'run'; readonly runId: string }
  | { readonly form: 'point'; readonly point: PointPage }

interface RunsState {
  readonly view: WiringView
  readonly pointed: Pointed | null
  readonly selection: TableSelection | null
  readonly sort: TableSort | null
  readonly levelId: string | null
  readonly sourceId: string | null
  readonly shown: RunsShown
  readonly controllerId: string | null
}

export const useRuns = create<RunsState>()(() => ({
  view: 'runs',
  pointed: null,
  selection: null,
  sort: null,
  levelId: null,
  sourceId: null,
  shown: 'all',
  controllerId: null,
}))

export const setRuns = (change: Partial<RunsState>): void => useRuns.setState(change)
export const pointAt = (pointed: Pointed | null): void => setRuns({ pointed })

/** Puts the cursor on a run, past whatever would hide it. */
export function showRun(runId: string): void {
  const place = { rowKey: runId, columnKey: 'name' }
  setRuns({
    view: 'runs',
    levelId: null,
    sourceId: null,
    shown: 'all',
    selection: { form: 'cells', anchor: place, focus: place },
    pointed: { form: 'run', runId },
  })
}
