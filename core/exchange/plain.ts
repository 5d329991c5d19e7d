// What the byte readers hand over: nothing but rows and doors as they stood in the file. Meaning comes after.

/** How a cell was stored. A size such as 3-4 that a spreadsheet turned into a date shows as `date`. */
export type CellForm = 'empty' | 'text' | 'number' | 'date' | 'yes-no' | 'error'

export interface PlainCell {
  /** As a person reads it: 101 and not 101.0, dates as ISO, formulas by their last result. Trimmed by nobody. */
  readonly text: string
  readonly form: CellForm
}

export interface PlainRow {
  /** The row's number in its source, from 1, as a spreadsheet shows it. */
  readonly number: number
  readonly cells: readonly PlainCell[]
}

/** A merged block, rows and columns from 1, both ends included. */
export interface Merge {
  readonly top: number
  readonly left: number
  readonly bottom: number
  readonly right: number
}

export interface PlainSheet {
  readonly name: string
  /** Rows that hold something; empty rows are left out, numbers keep their place. */
  readonly rows: readonly PlainRow[]
  readonly merges: readonly Merge[]
}

/** One door of a building model. Lengths are millimetres rounded to 0.1, null where the file has none. */
export interface PlainDoor {
  readonly globalId: string
  readonly name: string | null
  readonly tag: string | null
  readonly storey: string | null
  readonly building: string | null
  readonly widthMillimetres: number | null
  readonly heightMillimetres: number | null
  /** SINGLE_SWING_LEFT and so on, from the door or its type. */
  readonly operation: string | null
  /** Rooms the door bounds, in file order; the file does not say which is inside. */
  readonly spaces: readonly { readonly number: string; readonly name: string | null }[]
  /** Set name to property name to value; the type's, overlaid by the door's own. */
  readonly properties: Readonly<Record<string, Readonly<Record<string, string>>>>
}

export interface PlainStorey {
  readonly globalId: string
  readonly name: string
  readonly building: string | null
  readonly elevationMetres: number | null
}

export interface PlainModel {
  readonly schema: string
  readonly storeys: readonly PlainStorey[]
  readonly doors: readonly PlainDoor[]
  /** Sentences about what was read with doubt. */
  readonly warnings: readonly string[]
}

/** What a file turned out to be. */
export type PlainFile =
  | { readonly form: 'sheets'; readonly sheets: readonly PlainSheet[]; readonly warnings: readonly string[] }
  | { readonly form: 'model'; readonly model: PlainModel }
