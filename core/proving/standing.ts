// How far the proof of an opening is: each step with what was last found, and whether that still counts.
import type { JobData, JobRecord } from '../job/index.ts'
import type { ProofStep } from './steps.ts'

type Kept = JobRecord<'proof'>

/** `stale`: it passed, and something else is expected since. `cannot be proved`: facts are missing. */
export type ProofState = 'passed' | 'failed' | 'not done' | 'stale' | 'cannot be proved'

export interface ProofLine {
  readonly step: ProofStep
  readonly state: ProofState
  /** The last record of this step; null where there is none. */
  readonly last: Kept | null
  /** Why a passed step no longer counts. */
  readonly staleBecause: string | null
}

export interface OpeningProof {
  readonly lines: readonly ProofLine[]
  /** Records of steps that this opening no longer has: kept, and told. */
  readonly gone: readonly Kept[]
  readonly counts: Readonly<Record<ProofState, number>>
  /** Nothing is left to do, and nothing failed. */
  readonly proved: boolean
}

const byTime = (one: Kept, other: Kept): number => {
  const [first, second] = [one.at ?? '', other.at ?? '']
  return first < second ? -1 : first > second ? 1 : one.id < other.id ? -1 : 1
}

/** The steps of an opening beside what was found. */
export function openingProof(data: JobData, openingId: string, steps: readonly ProofStep[]): OpeningProof {
  const last = new Map<string, Kept>()
  for (const each of data.referring('proof', 'openingId', openingId).toSorted(byTime))
    last.set(each.step, each)
  const lines = steps.map((step): ProofLine => lineOf(step, last.get(step.key) ?? null))
  const keys = new Set(steps.map(({ key }) => key))
  const counts = { passed: 0, failed: 0, 'not done': 0, stale: 0, 'cannot be proved': 0 }
  for (const { state } of lines) counts[state] += 1
  return {
    lines,
    gone: [...last.values()].filter(({ step }) => !keys.has(step)),
    counts,
    proved: steps.length > 0 && counts.passed === steps.length,
  }
}

function lineOf(step: ProofStep, last: Kept | null): ProofLine {
  const line = { step, last, staleBecause: null }
  if (last === null || last.result === 'not done')
    return { ...line, state: step.expected === null ? 'cannot be proved' : 'not done' }
  if (last.result === 'failed') return { ...line, state: 'failed' }
  if (step.expected === last.expected) return { ...line, state: 'passed' }
  const now = step.expected ?? 'not known'
  return {
    ...line,
    state: 'stale',
    staleBecause: `It passed when “${last.expected}” was expected; now “${now}” is.`,
  }
}

/** Whether a reading passes its limits; null where the step measures nothing or nothing was read. */
export function readingPasses({ measured }: ProofStep, reading: number | null): boolean | null {
  if (measured === null || reading === null) return null
  const { low, high } = measured
  return (low === null || reading >= low) && (high === null || reading <= high)
}
