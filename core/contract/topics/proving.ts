// What is to be proved, and what was.
import { z } from 'zod'
import type { JobRecord } from '../../job/index.ts'
import type { OpeningProof, ProofCounts, Progress } from '../../proving/index.ts'
import { call } from '../call.ts'
import type { ChangeOutcome, MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

export interface OpeningToWalk {
  readonly openingId: string
  readonly mark: string
  readonly where: string
  readonly levelId: string
  readonly counts: ProofCounts
  readonly proved: boolean
}

export interface FindingLine {
  readonly finding: JobRecord<'finding'>
  readonly mark: string | null
}

export interface ProvingOverview {
  readonly progress: Progress
  readonly levels: readonly { readonly levelId: string; readonly name: string; readonly progress: Progress }[]
  /** In the order of the levels, then as people count marks. */
  readonly openings: readonly OpeningToWalk[]
  readonly findings: readonly FindingLine[]
}

export interface ProofPage {
  readonly openingId: string
  readonly mark: string
  readonly where: string
  readonly proof: OpeningProof
  readonly findings: readonly JobRecord<'finding'>[]
  readonly photographs: readonly JobRecord<'document'>[]
  /** The openings before and after it in the order of the walk. */
  readonly before: string | null
  readonly after: string | null
}

const recordedProof = z.strictObject({
  openingId: id,
  stepKey: z.string().min(1).max(400),
  result: z.enum(['passed', 'failed', 'not done']),
  reading: z.number().nullable(),
  notes: z.string().max(20_000).nullable(),
  /** Who did it and when, where that is not the one who asks, now. */
  who: z.string().min(1).max(200).nullable(),
  at: z
    .string()
    .regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/)
    .nullable(),
})
export type RecordedProof = z.infer<typeof recordedProof>

export const provingContract = {
  'proving.read': call(z.strictObject({}), told<ProvingOverview>()),
  'proving.opening': call(z.strictObject({ openingId: id }), told<ProofPage>()),
  'proving.record': call(
    z.strictObject({ results: z.array(recordedProof).min(1).max(10_000) }),
    told<ChangeOutcome>(),
  ),
  /** A photograph of a step, or of the opening. JPEG or PNG. */
  'proving.photograph': call(
    z.strictObject({
      openingId: id,
      stepKey: z.string().max(400).nullable(),
      fileName: z.string().min(1).max(255),
      base64: z.string().max(134_217_728),
      caption: z.string().max(400),
    }),
    told<ChangeOutcome>(),
  ),
  /** The bytes of an attachment, by its hash. */
  'attachment.read': call(
    z.strictObject({ sha256: z.string().regex(/^[0-9a-f]{64}$/) }),
    told<{ readonly base64: string }>(),
  ),
  /** Test sheets to fill by hand. */
  'print.proofs': call(z.strictObject({ openingIds: z.array(id).min(1).max(10_000) }), told<MadeFile>()),
} as const
