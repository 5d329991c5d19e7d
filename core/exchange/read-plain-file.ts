// From rows or doors to what they mean: which sheets hold a schedule, which column is which, and every opening understood.
import { z } from 'zod'
import type { Units } from '../job/index.ts'
import { recogniseCobie, understandCobie } from './cobie.ts'
import { targetFields } from './headings.ts'
import {
  correctColumn,
  matchColumns,
  type ColumnMatching,
  type ColumnUse,
  type RememberedMatching,
} from './matching.ts'
import type { PlainFile, PlainSheet } from './plain.ts'
import { proposeMarkSource, understandModel, type MarkProposal } from './understand-model.ts'
import { understandSheet } from './understand-sheet.ts'
import { joinUnderstandings, type Understanding } from './understanding.ts'

const columnUse = z.enum([...targetFields, 'cells'])
const placeName = z.string().min(1).max(400).nullable()

export const intakeChoices = z.strictObject({
  /** The sheets that hold openings; null lets the program propose. */
  sheets: z.array(z.string().max(400)).max(500).nullable(),
  /** Corrected columns, by sheet: place of the column from 0, and what it is for. */
  uses: z.array(
    z.strictObject({ sheet: z.string().max(400), column: z.int().min(0).max(20_000), use: columnUse }),
  ),
  /** Used where the source names none. */
  building: placeName,
  level: placeName,
  units: z.enum(['imperial', 'metric']).nullable(),
  /** Where a model's marks stand; null lets the program propose. */
  markFrom: z
    .union([
      z.enum(['name', 'tag']),
      z.strictObject({ set: z.string().max(400), property: z.string().max(400) }),
    ])
    .nullable(),
})
/** What a person chose while looking at the preview. */
export type IntakeChoices = z.infer<typeof intakeChoices>

export const noChoices: IntakeChoices = {
  sheets: null,
  uses: [],
  building: null,
  level: null,
  units: null,
  markFrom: null,
}

/** One sheet as the preview shows it. */
export interface SheetView {
  readonly name: string
  readonly rows: number
  /** Whether its rows are taken in. */
  readonly chosen: boolean
  readonly matching: ColumnMatching
  /** The first rows under the headings, as text. */
  readonly samples: readonly (readonly string[])[]
}

export interface IntakeReading {
  readonly form: 'sheet' | 'cobie' | 'model'
  /** Empty for a model and for a COBie workbook, whose sheets are known. */
  readonly sheets: readonly SheetView[]
  readonly marks: MarkProposal | null
  readonly understanding: Understanding
}

export interface ReadingOptions {
  readonly units: Units
  readonly choices: IntakeChoices
  /** What people corrected when headings came before, by their shape. */
  readonly remembered: readonly RememberedMatching[]
}

/** Understands a whole file. Nothing is written; the same file and choices give the same reading. */
export function readPlainFile(file: PlainFile, options: ReadingOptions): IntakeReading {
  const { choices } = options
  const units = choices.units ?? options.units
  if (file.form === 'model') {
    const understanding = understandModel(file.model, {
      units,
      building: choices.building,
      ...(choices.markFrom === null ? {} : { markFrom: choices.markFrom }),
    })
    const none = file.model.doors.length === 0 ? ['There is no door (IfcDoor) in this model.'] : []
    const said = withWarnings(understanding, none)
    return { form: 'model', sheets: [], marks: proposeMarkSource(file.model), understanding: said }
  }
  if (recogniseCobie(file.sheets))
    return {
      form: 'cobie',
      sheets: [],
      marks: null,
      understanding: withWarnings(understandCobie(file.sheets, { units }), file.warnings),
    }
  const views = file.sheets.map((sheet) => viewOf(sheet, options))
  const chosen = views.map((view) => choices.sheets?.includes(view.name) ?? mayHoldOpenings(view))
  const parts = file.sheets.flatMap((sheet, index) => {
    const view = views[index]
    return view !== undefined && chosen[index] === true
      ? [understandSheet(sheet, view.matching, { units, building: choices.building, level: choices.level })]
      : []
  })
  return {
    form: 'sheet',
    sheets: views.map((view, index) => ({ ...view, chosen: chosen[index] === true })),
    marks: null,
    understanding: withWarnings(
      joinUnderstandings(parts),
      choices.sheets === null && parts.length === 0 ? [...file.warnings, noSchedule] : file.warnings,
    ),
  }
}

const noSchedule =
  'No sheet was recognised as a schedule: a column headed as the mark (door number) is missing. Choose the column that holds it.'

const sampleRows = 4

function viewOf(sheet: PlainSheet, options: ReadingOptions): SheetView {
  const proposed = matchColumns(sheet, options.remembered)
  const matching = options.choices.uses
    .filter((each) => each.sheet === sheet.name)
    .reduce((before, each) => correctColumn(before, each.column, each.use as ColumnUse), proposed)
  const last = matching.headerRows.at(-1) ?? 0
  const samples = sheet.rows
    .filter((row) => row.number > last)
    .slice(0, sampleRows)
    .map((row) => row.cells.map((cell) => cell.text))
  return { name: sheet.name, rows: sheet.rows.length, chosen: false, matching, samples }
}

/** A schedule names its doors and says something of them. */
function mayHoldOpenings({ matching }: SheetView): boolean {
  const uses = new Set(matching.columns.map((column) => column.use))
  uses.delete('cells')
  return uses.has('mark') && uses.size > 1
}

const withWarnings = (understanding: Understanding, warnings: readonly string[]): Understanding => ({
  ...understanding,
  warnings: [...new Set([...warnings, ...understanding.warnings])],
})
