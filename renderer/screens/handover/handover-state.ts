// What the handover sheet shows, and the binder that is being made: it goes on while a person works on another sheet.
import { create } from 'zustand'
import type { BinderProgress, BinderWanted } from '../../../core/contract/index.ts'
import type { StandingLine } from '../../../core/handover/index.ts'
import { ask } from '../../bridge.ts'
import { keep } from '../keep.ts'
import { stopFor, takeOutcome, tell } from '../window-state.ts'

export const handoverViews = {
  standing: 'What is open',
  issues: 'Issues',
  differences: 'What differs',
  binder: 'Binder',
  files: 'Labels and files',
  people: 'Signatures',
  upkeep: 'Spares and upkeep',
  documents: 'Makers’ documents',
} as const
export type HandoverView = keyof typeof handoverViews

interface HandoverState {
  readonly view: HandoverView
  readonly line: StandingLine | null
  readonly progress: BinderProgress | null
}

export const useHandover = create<HandoverState>()(() => ({ view: 'standing', line: null, progress: null }))
export const showView = (view: HandoverView): void => useHandover.setState({ view, line: null })
export const lookAt = (line: StandingLine | null): void => useHandover.setState({ line })
export const putAway = (): void => useHandover.setState({ progress: null })

const everyMilliseconds = 250
let following: string | null = null

/** Asks how far a binder is until it is done; takes over what sealing changed. */
export async function follow(jobId: string): Promise<void> {
  if (following === jobId) return
  following = jobId
  while (following === jobId) {
    const answer = await ask('handover.progress', { jobId })
    if (!answer.ok) {
      stopFor(answer.problem)
      break
    }
    useHandover.setState({ progress: answer.value })
    if (answer.value.state !== 'under way') {
      finished(answer.value)
      break
    }
    await new Promise((resolve) => setTimeout(resolve, everyMilliseconds))
  }
  if (following === jobId) following = null
}

function finished({ state, outcome, title, trouble, warnings }: BinderProgress): void {
  if (outcome !== null) takeOutcome(outcome)
  if (state === 'failed') tell({ weight: 'stop', words: trouble ?? 'The binder could not be made.' })
  if (state === 'stopped') tell({ weight: 'told', words: 'The binder was stopped. Nothing was changed.' })
  if (state === 'done')
    tell({
      weight: warnings.length > 0 ? 'question' : 'told',
      words: outcome === null ? 'The binder is ready.' : `${title} is sealed; its files are kept in the job.`,
      ...(warnings.length > 0 ? { more: warnings } : {}),
    })
}

/** Begins a binder. Gives what has to be asked first, or null where it began or was refused. */
export async function begin(wanted: BinderWanted): Promise<readonly string[] | null> {
  const answer = await ask('handover.start', { wanted: { ...wanted, chapters: [...wanted.chapters] } })
  if (answer.ok) {
    void follow(answer.value.jobId)
    return null
  }
  const { code, details } = answer.problem
  if (code === 'asks-first' && Array.isArray(details)) return details.map(String)
  stopFor(answer.problem)
  return null
}

export async function stopBinder(jobId: string): Promise<void> {
  const answer = await ask('handover.stop', { jobId })
  if (!answer.ok) stopFor(answer.problem)
}

export async function keepMade(jobId: string, index: number): Promise<void> {
  const answer = await ask('handover.file', { jobId, index })
  if (answer.ok) keep(answer.value)
  else stopFor(answer.problem)
}
