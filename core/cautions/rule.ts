// What a rule is. The type makes citation, editions and limits compulsory.
import type { Check, Missing } from './checks.ts'
import type { Citation, Standing } from './citations.ts'
import type { SourceId } from './sources.ts'
import type { OpeningView } from './view.ts'

/** What follows where the rule is not kept. */
export const severities = ['can trap someone', 'breaks a rule', 'ask'] as const
export type Severity = (typeof severities)[number]

export const verdicts = ['met', 'caution', 'does not apply', 'not known'] as const
export type Verdict = (typeof verdicts)[number]

export type AtLeastOne<T> = readonly [T, ...T[]]

/** How far what the rule says was confirmed, apart from the numbers of its sections. */
export interface Content {
  readonly standing: Standing
  readonly sources: readonly SourceId[]
  /** Which part is weaker than the rest, or what the sources do not say. */
  readonly note: string | null
}

/** The part of a rule that people read: plain data. */
export interface RuleText {
  readonly key: string
  /** What is asked for, in our own words. */
  readonly sentence: string
  readonly severity: Severity
  readonly citations: AtLeastOne<Citation>
  readonly content: Content
  /** What the reader must judge: local amendments, listing documents, what the rule leaves out. */
  readonly leftToReader: AtLeastOne<string>
}

export interface Rule extends RuleText {
  /** The verdicts this rule can give; tests show each. */
  readonly gives: AtLeastOne<Verdict>
  /** Judged whichever code is chosen, even before one is: what it warns of can trap someone anywhere. */
  readonly whateverCode?: true
  /** `no` where the rule asks nothing of this opening; its words say why. */
  readonly applies: (view: OpeningView) => Check
  /** What is asked for, each apart, so that every failing point is named. */
  readonly asks: (view: OpeningView) => readonly Check[]
}

export interface Decision {
  readonly verdict: Verdict
  readonly sentences: readonly string[]
  readonly missing: readonly Missing[]
}

export const allVerdicts = verdicts as AtLeastOne<Verdict>

/** Read in these sources. */
export const readIn = (...sources: AtLeastOne<SourceId>): Content => ({
  standing: 'verified',
  sources,
  note: null,
})
/** Read in these sources, but for what the note names. */
export const readBut = (note: string, ...sources: AtLeastOne<SourceId>): Content => ({
  standing: 'verified',
  sources,
  note,
})
/** Not confirmed; screens and paper show the words. */
export const remembered = (note: string | null = null, ...sources: readonly SourceId[]): Content => ({
  standing: 'from memory',
  sources,
  note,
})

export const localAmendments =
  'Local amendments and the edition adopted can change this; the authority having jurisdiction decides.'
export const listingDocuments =
  "What the listing documents and the maker's instructions of these fittings allow."
/** Holds for every rule; stands wherever cautions do. */
export const evidenceLimit =
  'The 2018 IBC was read in adopted texts. No full text of IBC 2021 or 2024, NFPA 101, NFPA 72, NFPA 80 or UL 294 was read: ' +
  'what is marked verified for these rests on secondary sources at best.'
