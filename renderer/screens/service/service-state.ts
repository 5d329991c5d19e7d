// Which symptom is in view, and what the cursor is on, so that the margin can explain it.
import { create } from 'zustand'
import { symptomIn, type Check, type Symptom } from '../../../core/service/index.ts'

interface ServiceState {
  /** The symptom chosen on the page, with what the caller had said then. */
  readonly chosen: { readonly openingId: string; readonly words: string; readonly symptom: Symptom } | null
  readonly pointed: Check | null
}

export const useService = create<ServiceState>()(() => ({ chosen: null, pointed: null }))

export const pointAt = (pointed: Check | null): void => useService.setState({ pointed })
export const choose = (openingId: string, words: string, symptom: Symptom): void =>
  useService.setState({ chosen: { openingId, words, symptom }, pointed: null })

/** The symptom in view: as chosen, else as the caller or the open visit says, else the first there is. */
export function symptomOf(
  chosen: ServiceState['chosen'],
  openingId: string,
  words: string,
  reported: string | null,
  possible: readonly Symptom[],
): Symptom | null {
  const byHand = chosen?.openingId === openingId && chosen.words === words ? chosen.symptom : null
  const wanted = [byHand, symptomIn(words), reported === null ? null : symptomIn(reported)]
  return wanted.find((each) => each !== null && possible.includes(each)) ?? possible[0] ?? null
}
