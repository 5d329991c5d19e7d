// What the engines made of a job when it was sealed, kept whole: results are stored nowhere else.
import { passageWords, latchedWords, type Behaviour } from '../behaviour/index.ts'
import type { Caution } from '../cautions/index.ts'
import type { JobData, Opening } from '../job/index.ts'
import type { SupplyPower } from '../power/index.ts'
import { devicesOf } from './volts.ts'

export const resultsFormat = 'lintelbook results'
export const resultsVersion = 1

/** A step of a proof as it stood. */
export interface SealedStep {
  readonly step: string
  readonly does: string
  readonly expected: string | null
  readonly state: string
  readonly reading: number | null
  readonly unit: string | null
  readonly who: string | null
  readonly at: string | null
}

export interface SealedOpening {
  readonly behaviour: Behaviour | null
  readonly cautions: readonly Caution[]
  readonly proved: boolean
  readonly steps: readonly SealedStep[]
}

/** Results as JSON text: the same job and instant give the same text. `sealedAt` is ISO 8601, UTC. */
export function resultsText(
  data: JobData,
  openings: readonly Opening[],
  of: (opening: Opening) => SealedOpening,
  supplies: readonly SupplyPower[],
  sealed: { readonly name: string; readonly at: string },
): string {
  const lines = openings.map((opening) => JSON.stringify(openingResults(opening, of(opening))))
  const head = {
    format: resultsFormat,
    version: resultsVersion,
    job: data.job.name,
    jobNumber: data.job.number,
    issue: sealed.name,
    sealedAt: sealed.at,
    whoDecides: 'Local codes and the authority having jurisdiction decide what each opening must do.',
  }
  const supplyLines = supplies.map((each) => JSON.stringify(supplyResults(each)))
  return [
    `${JSON.stringify(head).slice(0, -1)},`,
    `"openings":[\n${lines.join(',\n')}\n],`,
    `"supplies":[\n${supplyLines.join(',\n')}\n]}\n`,
  ].join('\n')
}

const openingResults = ({ id, mark }: Opening, { behaviour, cautions, proved, steps }: SealedOpening) => ({
  id,
  mark,
  behaviour:
    behaviour?.results.map(({ condition, in: into, out, leaves }) => ({
      condition: condition.name,
      of: condition.of?.name ?? null,
      in: passageWords(into),
      out: passageWords(out),
      leaves: leaves.map(({ latched }) => latchedWords(latched)),
    })) ?? null,
  cautions: cautions
    .filter(({ verdict }) => verdict !== 'does not apply')
    .map(({ rule, verdict, severity, sentences }) => ({ rule: rule.key, verdict, severity, sentences })),
  proved,
  proofs: steps,
})

const supplyResults = (power: SupplyPower) => ({
  mark: power.supply.name,
  verdict: power.verdict,
  devices: power.outputs.flatMap(({ study }) => devicesOf(study)),
})
