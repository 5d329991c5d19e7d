// How far a level or a job is proved.
import { proofParts, type ProofPart } from './steps.ts'
import type { OpeningProof, ProofState } from './standing.ts'

export type ProofCounts = Readonly<Record<ProofState, number>>

export interface Progress {
  readonly openings: number
  readonly proved: number
  readonly steps: ProofCounts
  readonly byPart: Readonly<Record<ProofPart, ProofCounts>>
}

const none = (): Record<ProofState, number> => ({
  passed: 0,
  failed: 0,
  'not done': 0,
  stale: 0,
  'cannot be proved': 0,
})

export function progressOf(proofs: Iterable<OpeningProof>): Progress {
  const steps = none()
  const byPart = Object.fromEntries(proofParts.map((part) => [part, none()])) as Record<
    ProofPart,
    Record<ProofState, number>
  >
  let openings = 0
  let proved = 0
  for (const proof of proofs) {
    openings += 1
    if (proof.proved) proved += 1
    for (const { step, state } of proof.lines) {
      steps[state] += 1
      byPart[step.part][state] += 1
    }
  }
  return { openings, proved, steps, byPart }
}
