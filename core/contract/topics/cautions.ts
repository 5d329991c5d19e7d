// Cautions, facts and who can answer them.
import { z } from 'zod'
import type {
  AnswerOrigin,
  CautionCount,
  CautionsInFull,
  CautionsOverview,
  FactForm,
  KeptAnswerRecord,
} from '../../cautions/index.ts'
import type { JobRecord } from '../../job/index.ts'
import { call } from '../call.ts'
import type { MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

/** How openings stand. Openings that stand alike share one count. */
export interface CautionsByOpening {
  readonly sets: readonly CautionCount[]
  /** Opening id to its place in `sets`. */
  readonly of: Readonly<Record<string, number>>
}

/** What the job's facts say of the code in force. */
export interface CodeInForce {
  /** Null: nobody has said. 'none': it does not apply. */
  readonly ibc: string | null
  readonly nfpa101: string | null
}

/** A rule of the job's own, with the sentence that says why it cannot be judged, if so. */
export interface OwnRule {
  readonly record: JobRecord<'localRule'>
  readonly trouble: string | null
}

export interface CautionsSheetData extends CautionsOverview {
  readonly code: CodeInForce
  readonly answers: readonly KeptAnswerRecord[]
  readonly ownRules: readonly OwnRule[]
}

/** What is answered at one opening. */
export interface FactHere {
  readonly fact: string
  readonly question: string
  readonly answer: FactForm
  /** As it is kept. */
  readonly value: string
  readonly origin: AnswerOrigin
  /** Read from the opening's own record, or chosen with the job's building code: answered there, not here. */
  readonly isRead: boolean
}

export interface OpeningCautions extends CautionsInFull {
  readonly facts: readonly FactHere[]
  /** Answers that stand at this opening, its typical, its level and the job. */
  readonly answers: readonly KeptAnswerRecord[]
}

export const cautionsContract = {
  'cautions.read': call(z.strictObject({}), told<CautionsSheetData>()),
  'cautions.opening': call(z.strictObject({ openingId: id }), told<OpeningCautions>()),
  /** Behaviour and cautions, a sheet for each opening: these, those of a level, or all. */
  'print.cautions': call(
    z.union([
      z.strictObject({ openingIds: z.array(id).min(1).max(10_000) }),
      z.strictObject({ levelId: id.nullable() }),
    ]),
    told<MadeFile>(),
  ),
  /** What to ask, by who can answer, for the coordination meeting. */
  'print.questions': call(z.strictObject({}), told<MadeFile>()),
} as const
