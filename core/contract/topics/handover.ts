// Issues, the binder, labels and the open workbook.
import { z } from 'zod'
import type { IssueForm, JobDifference } from '../../comparing/index.ts'
import { chapterKeys, labelForms, labelStocks, type ChapterKey } from '../../documents/index.ts'
import type { DueItem, PartQuantity, StandingLine } from '../../handover/index.ts'
import type { JobRecord } from '../../job/index.ts'
import { call } from '../call.ts'
import type { ChangeOutcome, MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

export interface IssueLine {
  readonly issue: JobRecord<'issue'>
  /** Whether its state was kept, so that the job can be compared with it. */
  readonly isSealed: boolean
  readonly documents: readonly JobRecord<'issueDocument'>[]
}

export interface KeptDocument {
  readonly document: JobRecord<'document'>
  /** What it covers: "118", "Surface magnet". */
  readonly covers: string
}

export interface HandoverRead {
  readonly standing: readonly StandingLine[]
  /** The latest first. */
  readonly issues: readonly IssueLine[]
  readonly nextNames: Readonly<Record<IssueForm, string>>
  /** Whether differences can be shown. */
  readonly lastSealedId: string | null
  readonly signatures: readonly JobRecord<'signature'>[]
  readonly contacts: readonly JobRecord<'contact'>[]
  readonly quantities: readonly PartQuantity[]
  readonly spares: readonly JobRecord<'spare'>[]
  readonly tasks: readonly JobRecord<'maintenanceTask'>[]
  readonly due: readonly DueItem[]
  readonly documents: readonly KeptDocument[]
  readonly supplies: readonly { readonly id: string; readonly mark: string }[]
  /** What is being made now. */
  readonly underWay: string | null
}

/** How far a binder is. */
export interface BinderProgress {
  readonly jobId: string
  readonly title: string
  readonly state: 'under way' | 'done' | 'stopped' | 'failed'
  /** "Archive copy, Openings". */
  readonly words: string
  readonly pagesDone: number
  /** From 0 to 1, by chapters; null while nobody knows. */
  readonly share: number | null
  /** What was made, when it is done. */
  readonly made: readonly {
    readonly fileName: string
    readonly mediaType: string
    readonly pages: number | null
    readonly byteCount: number
  }[]
  readonly warnings: readonly string[]
  /** Why it failed. */
  readonly trouble: string | null
  /** What sealing changed in the job. */
  readonly outcome: ChangeOutcome | null
}

export interface ProblemGroup {
  readonly sheet: string
  readonly field: string
  readonly count: number
  /** One of them in full. */
  readonly example: string
}

const chapters = z.array(z.enum(chapterKeys)).min(1).max(chapterKeys.length)
const stockKeys = labelStocks.map(({ key }) => key)

export const binderWanted = z.discriminatedUnion('does', [
  z.strictObject({
    does: z.literal('seal'),
    form: z.enum(['schedule', 'handover']),
    name: z.string().trim().min(1).max(200),
    notes: z.string().max(20_000).nullable(),
    chapters,
    /** Sealed although something failed or can trap someone; the binder says so. */
    evenSo: z.boolean(),
  }),
  z.strictObject({
    does: z.literal('print'),
    of: z.union([
      z.strictObject({ job: z.literal(true) }),
      z.strictObject({ levelId: id }),
      z.strictObject({ openingId: id }),
    ]),
    chapters,
    copies: z
      .array(z.enum(['archive', 'reading']))
      .min(1)
      .max(2),
  }),
])
export type BinderWanted = z.infer<typeof binderWanted>
export type { ChapterKey }

export const handoverContract = {
  'handover.read': call(z.strictObject({}), told<HandoverRead>()),
  /** The job as it is now beside an issue; null where that issue is gone, as after an undo. */
  'handover.differences': call(
    z.strictObject({ issueId: id }),
    told<{ readonly since: string; readonly difference: JobDifference } | null>(),
  ),
  /** Begins to make a binder; refused with `asks-first` where something stands in the way of a seal. */
  'handover.start': call(z.strictObject({ wanted: binderWanted }), told<{ readonly jobId: string }>()),
  'handover.progress': call(z.strictObject({ jobId: id }), told<BinderProgress>()),
  'handover.stop': call(z.strictObject({ jobId: id }), told<Record<string, never>>()),
  /** One file of what was made; it is let go with the next binder. */
  'handover.file': call(z.strictObject({ jobId: id, index: z.int().min(0).max(1000) }), told<MadeFile>()),
  /** A document of an issue, out of the job file. */
  'handover.kept': call(z.strictObject({ issueDocumentId: id }), told<MadeFile>()),
  /** A maker's document: its bytes are kept by hash. */
  'handover.document': call(
    z.strictObject({
      name: z.string().trim().min(1).max(400),
      fileName: z.string().min(1).max(255),
      base64: z.string().max(134_217_728),
      partId: id.nullable(),
      openingId: id.nullable(),
    }),
    told<ChangeOutcome>(),
  ),
  'print.labels': call(
    z.strictObject({
      form: z.enum(labelForms),
      stock: z.enum(stockKeys as [string, ...string[]]),
      startAt: z.int().min(1).max(1000),
      of: z.union([
        z.strictObject({ levelId: id.nullable() }),
        z.strictObject({ openingIds: z.array(id).min(1).max(50_000) }),
      ]),
    }),
    told<MadeFile>(),
  ),
  /** One workbook for each building. */
  'handover.workbooks': call(
    z.strictObject({}),
    told<{ readonly files: readonly MadeFile[]; readonly problems: readonly ProblemGroup[] }>(),
  ),
  'handover.calendar': call(z.strictObject({}), told<MadeFile>()),
} as const
