// What a sheet, a workbook or a model was understood to say, before any of it is written into a job.
import type { Hand, LabelClass } from '../job/index.ts'

/** A room as the source names it. */
export interface UnderstoodRoom {
  readonly number: string
  readonly name: string | null
  /** Where the source gives it; else the room is on its opening's level. */
  readonly level?: string | null
  readonly sourceId?: string | null
}

/** What an opening's record can be given. A field left out was not said; null was said to be nothing. */
export interface UnderstoodFields {
  readonly mark: string
  readonly whereText?: string | null
  readonly toRoom?: UnderstoodRoom | null
  readonly fromRoom?: UnderstoodRoom | null
  readonly leaves?: 1 | 2 | null
  readonly widthMicrometres?: number | null
  readonly heightMicrometres?: number | null
  readonly thicknessMicrometres?: number | null
  readonly hand?: Hand | null
  readonly doorMaterial?: string | null
  readonly frameMaterial?: string | null
  readonly fireLabelMinutes?: number | null
  readonly fireLabelClass?: LabelClass | null
  readonly doorType?: string | null
  readonly hardwareSet?: string | null
  /** The name of a typical of the job. */
  readonly typical?: string | null
  readonly furnishedBy?: string | null
  readonly fittedBy?: string | null
  readonly wiredBy?: string | null
  readonly terminatedBy?: string | null
  readonly serial?: string | null
  readonly assetTag?: string | null
  readonly installedOn?: string | null
  readonly notes?: string | null
  readonly sourceId?: string | null
}
export type UnderstoodField = keyof UnderstoodFields

export interface UnderstoodOpening {
  /** Its row in its sheet; for a model its place in file order, from 1. */
  readonly row: number
  /** Where to look in the source: "Doors, row 14". */
  readonly place: string
  readonly building: string | null
  readonly level: string | null
  readonly fields: UnderstoodFields
  /** The cells as read, by heading; also those no field takes. */
  readonly cells: Readonly<Record<string, string>>
}

export interface UnderstoodLevel {
  readonly building: string | null
  readonly name: string
  readonly elevationMetres: number | null
  readonly sourceId: string | null
}

export type AsideWhy =
  | 'heading repeated'
  | 'subtotal'
  | 'level title'
  | 'building title'
  | 'note'
  | 'blank'
  | 'no mark'
  | 'repeated'
  | 'not readable'

/** A row that became no opening, and why. */
export interface SetAside {
  readonly row: number
  readonly place: string
  readonly why: AsideWhy
  readonly text: string
}

/** `refused`: the value was not taken. `question`: it was taken, and a person should look. */
export interface IntakeProblem {
  readonly row: number
  readonly place: string
  /** The heading or field a person knows. */
  readonly field: string
  readonly found: string
  readonly expected: string
  readonly weight: 'refused' | 'question'
  /** The whole message: Row 14, Width: "3-x" is not a width; expected ... */
  readonly sentence: string
}

export interface Understanding {
  readonly form: 'sheet' | 'cobie' | 'model'
  /** The sheet's or the model's own name; the file's name is known to the caller. */
  readonly name: string
  /** In the source's order; also levels that hold no opening. */
  readonly levels: readonly UnderstoodLevel[]
  readonly openings: readonly UnderstoodOpening[]
  readonly setAside: readonly SetAside[]
  readonly problems: readonly IntakeProblem[]
  /** Sentences about the whole. */
  readonly warnings: readonly string[]
}

/** Several sheets of one workbook as one, so that they are compared and taken in together. */
export function joinUnderstandings(parts: readonly Understanding[]): Understanding {
  const [first] = parts
  if (first !== undefined && parts.length === 1) return first
  return {
    form: first?.form ?? 'sheet',
    name: parts.map((part) => part.name).join(', '),
    levels: parts.flatMap((part) => part.levels),
    openings: parts.flatMap((part) => part.openings),
    setAside: parts.flatMap((part) => part.setAside),
    problems: parts.flatMap((part) => part.problems),
    warnings: [...new Set(parts.flatMap((part) => part.warnings))],
  }
}

/** Text that is the same place or key whatever its case and blanks. */
export const sameKey = (text: string): string => text.trim().replace(/\s+/g, ' ').toLowerCase()

/** Trimmed text, or null when nothing is left. */
export const wordsOrNull = (text: string): string | null => {
  const words = text.trim()
  return words === '' ? null : words
}

/** A heading fit to name a cell: some names would be lost as keys of a plain object. */
export const cellKey = (heading: string, column: number): string => {
  const words = heading.trim().replace(/\s+/g, ' ')
  return words === '' || words === '__proto__' ? `Column ${column + 1}` : words
}

const letter = /\p{L}/u
/** "101 Lobby" and "101 - Lobby" as number and name; a room without any digit keeps its whole text as its number. */
export function roomOf(text: string): UnderstoodRoom | null {
  const words = text.trim().replace(/\s+/g, ' ').slice(0, 400)
  if (words === '') return null
  const found = /^(\S*\d\S*?)[:,]?(?: [-–—:]| ) ?(.+)$/u.exec(words)
  const [number, name] = [found?.[1], found?.[2]]
  if (number === undefined || name === undefined || !letter.test(name)) return { number: words, name: null }
  return { number, name }
}
