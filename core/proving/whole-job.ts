// What there is to prove on every opening of a job, each worked out when it is asked for.
import { trappedWithout } from '../behaviour/index.ts'
import { acceptedArrangement, type Facts, type Review } from '../cautions/index.ts'
import type { JobData, Opening } from '../job/index.ts'
import { questionSentence, ratingOf, type JobPower } from '../power/index.ts'
import { partBook } from '../settings/index.ts'
import { openingToProve } from './from-job.ts'
import { openingProof, type OpeningProof } from './standing.ts'
import { proofSteps, type DeviceToProve, type ProofStep } from './steps.ts'

export interface Proving {
  readonly stepsOf: (opening: Opening) => readonly ProofStep[]
  readonly proofOf: (opening: Opening) => OpeningProof
}

/** Where what an opening does, and what is answered at it, comes from. */
export interface ProvingSources {
  readonly review: (opening: Opening) => Review
  readonly facts: (opening: Opening) => Facts
  readonly power: () => JobPower
}

/** Good as long as the job does not change. */
export function provingOf(data: JobData, { review, facts, power }: ProvingSources): Proving {
  const book = partBook(data)
  let devices: ReadonlyMap<string, readonly DeviceToProve[]> | null = null
  const steps = new Map<string, readonly ProofStep[]>()
  const stepsOf = (opening: Opening): readonly ProofStep[] => {
    let found = steps.get(opening.id)
    if (found === undefined) {
      devices ??= devicesByOpening(data, power())
      const { behaviour, arrangement, cautions } = review(opening)
      const workedOut = {
        results: trappedWithout(acceptedArrangement(arrangement), behaviour?.results ?? []),
        devices: devices.get(opening.id) ?? [],
        cautions,
        facts: facts(opening),
      }
      found = proofSteps(openingToProve(data, opening, workedOut, book))
      steps.set(opening.id, found)
    }
    return found
  }
  return { stepsOf, proofOf: (opening) => openingProof(data, opening.id, stepsOf(opening)) }
}

/** Every fed device with the volts it should have while everything holds at nominal volts. */
function devicesByOpening(
  data: JobData,
  { supplies }: JobPower,
): ReadonlyMap<string, readonly DeviceToProve[]> {
  const found = new Map<string, DeviceToProve[]>()
  for (const { outputs } of supplies)
    for (const { study } of outputs)
      for (const load of study.output.loads) {
        const openingId = data.get('fitting', load.id)?.openingId
        if (openingId === undefined) continue
        const holding = study.results.find(
          ({ scenario }) => scenario.condition === 'nominal' && scenario.moment === 'holding',
        )
        const rating = ratingOf(load)
        const window = rating.known && rating.value.window.known ? rating.value.window.value : null
        const list = found.get(openingId) ?? []
        found.set(openingId, list)
        list.push({
          fittingId: load.id,
          name: load.name,
          volts: holding?.devices.find((each) => each.load === load.id)?.volts ?? null,
          window,
          questions: window === null ? [questionSentence({ about: 'working window', thing: load.name })] : [],
        })
      }
  return found
}
