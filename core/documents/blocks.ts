// What a document says, as data. Screen and paper show the same blocks; neither works anything out.
import type { ElevationInput } from './elevation-input.ts'
import type { Figure } from './figures.ts'
import type { Gate, GatePassage } from './gate.ts'

/** What stands on a cell beside its words: a fact nobody gave, a difference made on purpose, a question, a limit broken. */
export type CellMark = 'not known' | 'own' | 'question' | 'broken'

export interface DocumentFacts {
  /** What the document is: "Opening schedule". */
  readonly title: string
  readonly jobName: string
  readonly jobNumber: string | null
  readonly client: string | null
  readonly address: string | null
  readonly preparedBy: string | null
  readonly issueName: string | null
  /** The date as people read it; nothing here is worked out from a clock. */
  readonly dateText: string | null
  /** Stands at the foot of every page. */
  readonly pageNote: string | null
}

/** The head of a document: its title, whose it is, and a few facts with their names. */
export interface TitleBlock {
  readonly form: 'title'
  readonly title: string
  /** Under the title, most important first: job, address. */
  readonly lines: readonly string[]
  readonly facts: readonly { readonly name: string; readonly text: string }[]
  /** Begins a page: one sheet of several that are printed together. */
  readonly startsPage?: boolean
}

/** How many of what, in one line. */
export interface CountsBlock {
  readonly form: 'counts'
  readonly counts: readonly { readonly count: number; readonly words: string }[]
}

export interface TableColumn {
  readonly key: string
  readonly heading: string
  /** Stands under the heading; null where the cells carry none. */
  readonly unit: string | null
  /** Share of the room left over when every cell fits; 0 never grows. */
  readonly widthWeight: number
  readonly align: 'left' | 'right' | 'centre'
  /** When the page is too narrow the highest goes first; 0 never goes. */
  readonly priority: number
}

export interface TableRow {
  /** One text for each column, in the columns' order. Lines may be parted by a line feed. */
  readonly cells: readonly string[]
  /** Marks by column key. */
  readonly marks: Readonly<Record<string, CellMark>>
  /** Gate marks by column key, before the cell's words; such a cell has no other mark. */
  readonly gates?: Readonly<Record<string, Gate>>
}

export interface TableGroup {
  readonly title: string
  /** What the group is part of, for bookmarks: the building of a level. */
  readonly within: string | null
  /** "46 openings". */
  readonly countText: string | null
  readonly rows: readonly TableRow[]
}

export interface TableBlock {
  readonly form: 'table'
  /** For those who cannot see it, and for the note about what was left out. */
  readonly title: string
  readonly columns: readonly TableColumn[]
  readonly groups: readonly TableGroup[]
  /** Said instead of rows when there are none. */
  readonly emptyText: string
}

export interface LegendEntry {
  readonly sign:
    | { readonly mark: CellMark }
    | { readonly text: string }
    /** One half of a gate mark. */
    | { readonly passage: GatePassage | 'trapped' }
  readonly meaning: string
}

export interface LegendBlock {
  readonly form: 'legend'
  readonly title: string
  readonly sections: readonly { readonly heading: string; readonly entries: readonly LegendEntry[] }[]
}

/** Sentences. Cautions stand apart: they say who decides. */
export interface WordsBlock {
  readonly form: 'words'
  readonly title: string | null
  readonly paragraphs: readonly string[]
  readonly cautions: readonly string[]
}

/** A door to scale. It names what shall be drawn; whoever shows it makes the lines. */
export interface ElevationBlock {
  readonly form: 'elevation'
  readonly title: string
  readonly input: ElevationInput
}

export interface BehaviourRow {
  /** When: "Secured", "Fire alarm". */
  readonly condition: string
  readonly gate: Gate
  /** Sentences, from cause to passage. */
  readonly because: readonly string[]
}

/** What a doorway does in each condition, and why. */
export interface BehaviourBlock {
  readonly form: 'behaviour'
  readonly title: string
  readonly rows: readonly BehaviourRow[]
  /** Said instead of rows when there are none. */
  readonly emptyText: string
}

/** A drawing of any kind. It names what shall be drawn; whoever shows it makes the lines. */
export interface FigureBlock {
  readonly form: 'figure'
  readonly title: string | null
  readonly figure: Figure
  /** The room it may take, in points; `fit` is what the page has. */
  readonly size: 'fit' | { readonly widthPoints: number; readonly heightPoints: number }
  /** Never scaled: what it shows measures on paper what it is. Where the page is too small, words say so instead. */
  readonly trueSize: boolean
  /** For those who cannot see it. */
  readonly textAlternative: string
  /** Stands at the foot of each page that shows it, in place of the document's own note. */
  readonly pageCaution: string | null
}

/** Photographs with their captions. The bytes, JPEG or PNG, are asked for by key. */
export interface PhotographsBlock {
  readonly form: 'photographs'
  readonly title: string | null
  readonly photographs: readonly {
    readonly key: string
    readonly caption: string
    /** For those who cannot see it. */
    readonly textAlternative: string
  }[]
}

/** Lines to sign on. */
export interface SignaturesBlock {
  readonly form: 'signatures'
  readonly title: string | null
  /** What is signed for. */
  readonly paragraphs: readonly string[]
  /** A name that is null is left to be written. */
  readonly lines: readonly { readonly role: string; readonly name: string | null }[]
}

export type Block =
  | TitleBlock
  | CountsBlock
  | TableBlock
  | LegendBlock
  | WordsBlock
  | ElevationBlock
  | BehaviourBlock
  | FigureBlock
  | PhotographsBlock
  | SignaturesBlock

/** One document: what it is, and what it says from top to end. */
export interface DocumentBlocks {
  readonly facts: DocumentFacts
  readonly blocks: readonly Block[]
}
