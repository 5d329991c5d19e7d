// What the cautions sheet shows, and what is under the cursor there.
import { create } from 'zustand'
import type { CautionsSheetData } from '../../../core/contract/index.ts'
import type { Severity } from '../../../core/cautions/index.ts'

export const cautionViews = ['questions', 'cautions', 'answers', 'own rules'] as const
export type CautionView = (typeof cautionViews)[number]

/** What the margin explains. */
export type Pointed =
  | { readonly form: 'question'; readonly key: string }
  | { readonly form: 'caution'; readonly line: number; readonly openingId: string | null }
  | { readonly form: 'answer'; readonly id: string }
  | { readonly form: 'own rule'; readonly id: string }

/** What the margin of an opening's page explains: a rule, or a question with the rules that wait for it. */
export interface PointedHere {
  readonly openingId: string
  readonly form: 'rule' | 'question'
  readonly key: string
}

export interface CautionsState {
  readonly data: CautionsSheetData | null
  readonly view: CautionView
  /** Whose questions are shown: `job`, `level <id>` or `typical <id>`. */
  readonly scope: string
  readonly group: 'rule' | 'opening'
  readonly severity: Severity | null
  readonly verdict: 'caution' | 'not known' | null
  readonly levelId: string | null
  readonly pointed: Pointed | null
  readonly pointedHere: PointedHere | null
}

export const useCautions = create<CautionsState>()(() => ({
  data: null,
  view: 'questions',
  scope: 'job',
  group: 'rule',
  severity: null,
  verdict: null,
  levelId: null,
  pointed: null,
  pointedHere: null,
}))

export const point = (pointed: Pointed): void => {
  const before = useCautions.getState().pointed
  if (JSON.stringify(before) !== JSON.stringify(pointed)) useCautions.setState({ pointed })
}

export function pointHere(pointedHere: PointedHere | null): void {
  const before = useCautions.getState().pointedHere
  if (JSON.stringify(before) !== JSON.stringify(pointedHere)) useCautions.setState({ pointedHere })
}
