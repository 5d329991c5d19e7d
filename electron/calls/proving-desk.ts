// The proofs of the job in hand, kept until its revision moves on.
import type { JobData } from '../../core/job/index.ts'
import { provingOf, type Proving } from '../../core/proving/index.ts'
import type { Desk } from './desk.ts'

const kept = new WeakMap<JobData, { readonly revision: number; readonly proving: Proving }>()

export function provingDesk(desk: Desk, data: JobData, revision: number): Proving {
  const found = kept.get(data)
  if (found?.revision === revision) return found.proving
  const proving = provingOf(data, {
    review: (opening) => desk.behaviour.review(data, opening),
    facts: (opening) => desk.behaviour.facts(data, opening),
    power: () => desk.power.read(data),
  })
  kept.set(data, { revision, proving })
  return proving
}
