// Everything one process may ask of another. Inputs are checked on arrival; answers are the core's own values.
import { z } from 'zod'
import type { IntakeChoices, IntakePreview } from './intake.ts'
import type { GateLine, Gates } from '../documents/index.ts'
import type { ColumnKey, ScheduleFrame, ScheduleRow } from '../schedule/index.ts'
import { arrangement, columnKeys, command } from '../schedule/index.ts'
import type { EffectiveFitting, Leaf, OpeningSource, Part } from '../job/index.ts'
import { call } from './call.ts'
import { intakeChoices, intakeDecisions } from './intake.ts'
import {
  cautionsContract,
  partsContract,
  settingsContract,
  powerContract,
  runsContract,
  preparationContract,
  provingContract,
  handoverContract,
  serviceContract,
  libraryContract,
  type CautionsByOpening,
} from './topics/index.ts'
import { id, told } from './topics/shapes.ts'

const nothing = z.strictObject({})
const path = z.string().min(1).max(4096)

/** The job file a window works on. */
export interface JobState {
  readonly path: string
  readonly fileName: string
  readonly jobName: string
  readonly openings: number
  readonly revision: number
  readonly undoName: string | null
  readonly redoName: string | null
  /** Null where this window may write; else one sentence that says why not and who holds the file. */
  readonly readOnly: string | null
}

/** A job file on the shelf. */
export interface ShelfEntry {
  readonly path: string
  readonly fileName: string
  readonly folder: string
  readonly modifiedAt: string
  readonly bytes: number
}

export interface Shelf {
  readonly folder: string
  readonly entries: readonly ShelfEntry[]
  readonly open: JobState | null
  /** Why the file asked for at the start could not be opened. */
  readonly trouble: string | null
  /** Whether the machine can show a file dialog for `job.choose`. */
  readonly hasFileDialog: boolean
}

/** What one opening does in every condition, with the reasons. */
export interface BehaviourPage {
  readonly lines: readonly GateLine[]
  readonly sequence: readonly string[]
  /** The accepted arrangement behind the way out; null where the doorway cannot be judged. */
  readonly arrangement: { readonly name: string; readonly reasons: readonly string[] } | null
  /** Why nobody can tell. */
  readonly cannotTell: readonly string[]
}

/** The passages of openings. Openings arranged alike share one set; null where nobody can tell. */
export interface GatesByOpening {
  readonly sets: readonly (Gates | null)[]
  /** Opening id to its place in `sets`. */
  readonly of: Readonly<Record<string, number>>
}

export interface ScheduleSnapshot {
  readonly gates: GatesByOpening
  readonly cautions: CautionsByOpening
  readonly state: JobState
  readonly frame: ScheduleFrame
  readonly rows: readonly ScheduleRow[]
  readonly parts: readonly { readonly id: string; readonly name: string; readonly kind: string }[]
  readonly preferences: WindowPreferences
}

/** What a change did, as far as the window must know. */
export interface ChangeOutcome {
  readonly state: JobState
  readonly name: string
  readonly changed: readonly ScheduleRow[]
  /** The passages that were worked out anew. */
  readonly gates: GatesByOpening
  /** How the openings stand that were judged anew. */
  readonly cautions: CautionsByOpening
  readonly removed: readonly string[]
  /** Null where levels, typicals and job stayed as they were. */
  readonly frame: ScheduleFrame | null
  /** The parts to choose from; null where the frame stayed as it was. */
  readonly parts: ScheduleSnapshot['parts'] | null
  /** Openings the person will want to see: those made new. */
  readonly reveal: readonly string[]
  /** Cells that could not be read and were left out. */
  readonly leftOut: readonly CellRefusal[]
}

export interface CellRefusal {
  readonly openingId: string | null
  readonly column: ColumnKey | null
  readonly sentence: string
}

export interface HistoryEntry {
  readonly seq: number
  readonly name: string
  readonly who: string
  readonly at: string
  readonly state: 'done' | 'undone' | 'dropped'
}

export interface OpeningPage {
  readonly row: ScheduleRow
  readonly leaves: readonly Leaf[]
  readonly fittings: readonly EffectiveFitting[]
  readonly behaviour: BehaviourPage
  readonly source: OpeningSource | null
  readonly history: readonly HistoryEntry[]
}

export interface TypicalPage {
  readonly id: string
  readonly fittings: readonly {
    readonly id: string
    readonly tag: string
    readonly part: Part | null
    readonly furnishedBy: string | null
    readonly fittedBy: string | null
    readonly wiredBy: string | null
    readonly terminatedBy: string | null
    readonly notes: string | null
  }[]
  readonly notes: string | null
  /** Openings that differ from it on purpose, with what differs. */
  readonly differing: readonly {
    readonly openingId: string
    readonly mark: string
    readonly words: readonly string[]
  }[]
}

export interface FindHit {
  readonly kind: string
  readonly id: string
  readonly openingId: string | null
  readonly title: string
  readonly detail: string
}

/** A file made for the person to keep. */
export interface MadeFile {
  readonly fileName: string
  readonly mediaType: string
  readonly base64: string
  readonly pages: number | null
  /** Sentences about anything that could not be shown as it is. */
  readonly warnings: readonly string[]
}

const chapterChoice = z.array(z.string().max(40)).max(40).nullable()

export const windowPreferences = z.strictObject({
  columns: z.array(z.enum(columnKeys)).max(100).nullable(),
  widths: z.record(z.string().max(40), z.number().min(20).max(2000)),
  arrangement: arrangement.nullable(),
  scheme: z.enum(['light', 'dark', 'system']),
  /** Whether the schedule shows what each doorway does. */
  gates: z.boolean().default(true),
  /** The chapters of a binder in their order, by the form of issue; null is the usual ones. */
  binder: z
    .strictObject({ schedule: chapterChoice, handover: chapterChoice })
    .default({ schedule: null, handover: null }),
})
/** How this person likes the schedule shown; kept beside the program, not in the job. */
export type WindowPreferences = z.infer<typeof windowPreferences>
export const plainPreferences: WindowPreferences = {
  columns: null,
  widths: {},
  arrangement: null,
  scheme: 'system',
  gates: true,
  binder: { schedule: null, handover: null },
}

export const pageSizes = ['letter', 'tabloid', 'a4', 'a3'] as const

/** A file's bytes as base64: 96 MiB of file at most. */
const fileBytes = z.string().max(134_217_728)
const fileName = z.string().min(1).max(255)

export const contract = {
  'shelf.read': call(nothing, told<Shelf>()),
  'job.make': call(z.strictObject({ name: z.string().min(1).max(200) }), told<JobState>()),
  'job.open': call(z.strictObject({ path, readOnly: z.boolean() }), told<JobState>()),
  'job.openDemo': call(nothing, told<JobState>()),
  /** Only where the machine has a file dialog; null when the person chose nothing. */
  'job.choose': call(nothing, told<{ state: JobState | null }>()),
  'job.close': call(nothing, told<Record<string, never>>()),
  'job.backUp': call(nothing, told<{ path: string }>()),
  'schedule.read': call(nothing, told<ScheduleSnapshot>()),
  /** For windows that look on: null while nothing changed since this revision. */
  'schedule.since': call(
    z.strictObject({ revision: z.int() }),
    told<{ snapshot: ScheduleSnapshot | null }>(),
  ),
  'change.make': call(z.strictObject({ command }), told<ChangeOutcome>()),
  'change.undo': call(nothing, told<ChangeOutcome>()),
  'change.redo': call(nothing, told<ChangeOutcome>()),
  'history.read': call(
    z.strictObject({ limit: z.int().min(1).max(2000) }),
    told<{ entries: readonly HistoryEntry[] }>(),
  ),
  'opening.read': call(z.strictObject({ openingId: id }), told<OpeningPage>()),
  'typical.read': call(z.strictObject({ typicalId: id }), told<TypicalPage>()),
  'find.words': call(
    z.strictObject({ words: z.string().max(400), limit: z.int().min(1).max(200) }),
    told<{ hits: readonly FindHit[] }>(),
  ),
  'intake.file': call(z.strictObject({ fileName, base64: fileBytes }), told<IntakePreview>()),
  'intake.paste': call(z.strictObject({ text: z.string().max(50_000_000) }), told<IntakePreview>()),
  'intake.choose': call(z.strictObject({ intakeId: id, choices: intakeChoices }), told<IntakePreview>()),
  'intake.accept': call(
    z.strictObject({ intakeId: id, choices: intakeChoices, decisions: intakeDecisions }),
    told<ChangeOutcome>(),
  ),
  'intake.drop': call(z.strictObject({ intakeId: id }), told<Record<string, never>>()),
  'print.schedule': call(
    z.strictObject({
      pageSize: z.enum(pageSizes),
      arrangement,
      columns: z.array(z.enum(columnKeys)).max(100),
    }),
    told<MadeFile>(),
  ),
  'export.schedule': call(
    z.strictObject({
      form: z.enum(['xlsx', 'csv']),
      arrangement,
      columns: z.array(z.enum(columnKeys)).max(100),
    }),
    told<MadeFile>(),
  ),
  'twin.write': call(nothing, told<MadeFile>()),
  'twin.read': call(z.strictObject({ fileName, base64: fileBytes }), told<JobState>()),
  ...cautionsContract,
  ...partsContract,
  ...settingsContract,
  ...powerContract,
  ...runsContract,
  ...preparationContract,
  ...provingContract,
  ...handoverContract,
  ...serviceContract,
  ...libraryContract,
  'preferences.set': call(z.strictObject({ preferences: windowPreferences }), told<Record<string, never>>()),
} as const

export type LintelbookContract = typeof contract
export type { IntakeChoices, IntakePreview }
