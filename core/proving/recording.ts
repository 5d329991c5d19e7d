// What was found at the door, as one change that can be taken back. A failed step makes a finding of its own.
import type { Command } from '../schedule/index.ts'
import { readingPasses } from './standing.ts'
import type { ProofStep } from './steps.ts'

type RecordsCommand = Extract<Command, { does: 'change records' }>

export interface ProofResult {
  readonly openingId: string
  readonly mark: string
  readonly step: ProofStep
  readonly result: 'passed' | 'failed' | 'not done'
  readonly reading: number | null
  readonly notes: string | null
  /** On paper somebody else did it, at another time; null is who asks, now. */
  readonly who: string | null
  readonly at: string | null
}

export type Recording =
  | { readonly ok: true; readonly command: RecordsCommand }
  | { readonly ok: false; readonly sentence: string }

/** One change for these results. Refused where one cannot stand: passed against its limits, or without an expectation. */
export function recordProofs(results: readonly ProofResult[]): Recording {
  for (const each of results) {
    const sentence = refusal(each)
    if (sentence !== null) return { ok: false, sentence }
  }
  const [only] = results
  if (only === undefined) return { ok: false, sentence: 'No step was named.' }
  return {
    ok: true,
    command: {
      does: 'change records',
      name: results.length === 1 ? nameOf(only) : `Note ${results.length} steps of the proof`,
      add: results.flatMap((each, index) => recordsOf(each, index)),
      set: [],
      remove: [],
    },
  }
}

function refusal({ mark, step, result, reading }: ProofResult): string | null {
  if (result !== 'passed') return null
  if (step.expected === null)
    return `${mark}: “${step.does}” cannot be passed while it is not known what to expect.`
  if (readingPasses(step, reading) === false)
    return `${mark}: ${reading} ${step.measured?.unit ?? ''} is outside ${step.expected}; the step did not pass.`
  return null
}

const resultWords = { passed: 'Pass', failed: 'Fail', 'not done': 'Leave out' } as const
const nameOf = ({ mark, step, result }: ProofResult): string =>
  `${resultWords[result]} on ${mark}: ${step.does}`.slice(0, 200)

function recordsOf(each: ProofResult, index: number): RecordsCommand['add'] {
  const { openingId, step, result, reading, notes, who, at } = each
  const id = `new:proof ${index}`
  const proof = {
    kind: 'proof' as const,
    record: {
      id,
      openingId,
      fittingId: step.fittingId,
      step: step.key,
      condition: step.condition,
      expected: step.expected ?? 'not known',
      result,
      reading,
      unit: reading === null ? null : (step.measured?.unit ?? null),
      notes,
      who: who ?? { stamped: 'who' as const },
      at: at ?? { stamped: 'at' as const },
    },
  }
  if (result !== 'failed') return [proof]
  return [
    proof,
    {
      kind: 'finding',
      record: {
        id: `new:finding ${index}`,
        openingId,
        fittingId: step.fittingId,
        proofId: id,
        visitId: null,
        words: findingWords(each),
        owner: null,
        state: 'open',
        raisedAt: at ?? { stamped: 'at' },
        closedAt: null,
      },
    },
  ]
}

function findingWords({ step, reading, notes }: ProofResult): string {
  const read = reading === null ? '' : ` Read: ${reading} ${step.measured?.unit ?? ''}.`
  return `${step.does} Expected: ${step.expected ?? 'not known'}.${read}${notes === null ? '' : ` ${notes}`}`
}
