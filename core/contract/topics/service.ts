// The call years later: pages for a call and visits.
import { z } from 'zod'
import type { GateLine } from '../../documents/index.ts'
import type { BatteryAge, Warranty } from '../../handover/index.ts'
import type { EffectiveFitting, JobRecord } from '../../job/index.ts'
import type {
  Check,
  DueMonth,
  FedDevice,
  PersonToAsk,
  ReleaseTime,
  SinceHandover,
  Symptom,
} from '../../service/index.ts'
import type { FittingSettings } from '../../settings/index.ts'
import { call } from '../call.ts'
import type { ChangeOutcome, HistoryEntry, MadeFile } from '../contract.ts'
import { id, told } from './shapes.ts'

/** A visit with what belongs to it. */
export interface VisitInFull {
  readonly visit: JobRecord<'visit'>
  readonly parts: readonly (JobRecord<'visitPart'> & {
    readonly tag: string | null
    readonly partName: string | null
  })[]
  /** "S1 Hold time: found 5 s". */
  readonly settings: readonly string[]
  readonly photographs: readonly JobRecord<'document'>[]
  readonly findings: readonly JobRecord<'finding'>[]
}

/** What an opening does in each condition at one stage of its settings. */
export interface CallBehaviour {
  readonly lines: readonly GateLine[]
  readonly cannotTell: readonly string[]
}

export interface SymptomChecks {
  readonly symptom: Symptom
  readonly caution: string | null
  readonly checks: readonly Check[]
}

export interface CallPage {
  readonly openingId: string
  readonly mark: string
  readonly where: string
  readonly behaviour: { readonly designed: CallBehaviour; readonly found: CallBehaviour }
  /** What the settings as they stand change against those designed. */
  readonly consequences: readonly string[]
  readonly times: readonly ReleaseTime[]
  readonly settings: readonly FittingSettings[]
  readonly fed: readonly FedDevice[]
  readonly fittings: readonly EffectiveFitting[]
  /** Only symptoms that this opening can have. */
  readonly checks: readonly SymptomChecks[]
  readonly warranties: readonly Warranty[]
  readonly batteries: readonly BatteryAge[]
  readonly findings: readonly JobRecord<'finding'>[]
  /** Newest first, those still open before all. */
  readonly visits: readonly VisitInFull[]
  readonly sinceHandover: SinceHandover
  readonly people: readonly PersonToAsk[]
  readonly history: readonly HistoryEntry[]
  readonly provedAt: string | null
  /** yyyy-mm-dd, as the program's clock has it. */
  readonly today: string
}

/** An open visit in one line. */
export interface OpenVisit {
  readonly visit: JobRecord<'visit'>
  readonly mark: string | null
  readonly where: string
}

export interface ServiceOverview {
  readonly openVisits: readonly OpenVisit[]
  /** Newest first. */
  readonly lastVisits: readonly OpenVisit[]
  readonly openFindings: number
  readonly due: readonly DueMonth[]
  readonly tasks: readonly JobRecord<'maintenanceTask'>[]
  readonly supplies: readonly { readonly id: string; readonly mark: string }[]
  readonly today: string
}

export const serviceContract = {
  'service.read': call(z.strictObject({}), told<ServiceOverview>()),
  'service.call': call(z.strictObject({ openingId: id }), told<CallPage>()),
  /** A photograph of a visit. JPEG or PNG. */
  'service.photograph': call(
    z.strictObject({
      visitId: id,
      fileName: z.string().min(1).max(255),
      base64: z.string().max(134_217_728),
      caption: z.string().max(400),
    }),
    told<ChangeOutcome>(),
  ),
  /** What is due, as a calendar to keep. */
  'service.calendar': call(z.strictObject({}), told<MadeFile>()),
  /** A sheet for the van. */
  'print.service': call(z.strictObject({ openingIds: z.array(id).min(1).max(2_000) }), told<MadeFile>()),
} as const
