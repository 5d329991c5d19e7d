// What a rule cites: code, edition, section, and how far the number was confirmed.
import type { Facts } from './answers.ts'
import { years, type Year } from './facts.ts'
import type { SourceId } from './sources.ts'

export type Code = 'IBC' | 'NFPA 101' | 'NFPA 80' | 'NFPA 72' | 'ADA' | 'NEC'

export type Standing = 'verified' | 'from memory'

export interface CitedSection {
  readonly edition: string
  /** Null where that edition has no such section. */
  readonly section: string | null
  readonly standing: Standing
  /** Reasoned from its neighbours, not read. Always from memory. */
  readonly inferred: boolean
  readonly sources: readonly SourceId[]
}

export interface Citation {
  readonly code: Code
  readonly subject: string
  readonly sections: readonly [CitedSection, ...CitedSection[]]
}

type SectionOf = Omit<CitedSection, 'edition'>

/** A number that was read in these sources. */
export const verified = (section: string, ...sources: [SourceId, ...SourceId[]]): SectionOf => ({
  section,
  standing: 'verified',
  inferred: false,
  sources,
})
export const fromMemory = (section: string): SectionOf => ({
  section,
  standing: 'from memory',
  inferred: false,
  sources: [],
})
export const inferred = (section: string): SectionOf => ({
  section,
  standing: 'from memory',
  inferred: true,
  sources: [],
})
/** That edition has no such section, as these sources show. */
export const noSection = (...sources: readonly SourceId[]): SectionOf => ({
  section: null,
  standing: sources.length > 0 ? 'verified' : 'from memory',
  inferred: false,
  sources,
})

const byYear = (
  code: 'IBC' | 'NFPA 101',
  subject: string,
  sections: readonly [SectionOf, SectionOf, SectionOf],
): Citation => ({
  code,
  subject,
  sections: [
    { edition: years[0], ...sections[0] },
    { edition: years[1], ...sections[1] },
    { edition: years[2], ...sections[2] },
  ],
})

/** Sections of the 2018, 2021 and 2024 IBC, in that order. */
export const ibc = (subject: string, ...sections: readonly [SectionOf, SectionOf, SectionOf]): Citation =>
  byYear('IBC', subject, sections)

/** Sections of NFPA 101. No text of one edition was read: that numbers stay the same over the editions is from memory. */
export const nfpa101 = (subject: string, ...sections: readonly [SectionOf, SectionOf, SectionOf]): Citation =>
  byYear('NFPA 101', subject, sections)

/** Sections of a standard that a building code calls for; the edition that holds is the one it names. */
export const standard = (
  code: Exclude<Code, 'IBC' | 'NFPA 101'>,
  subject: string,
  ...sections: readonly [readonly [edition: string, SectionOf], ...(readonly [edition: string, SectionOf])[]]
): Citation => ({
  code,
  subject,
  sections: sections.map(([edition, section]) => ({ edition, ...section })) as [
    CitedSection,
    ...CitedSection[],
  ],
})

/** "IBC 2021, 1010.2.12 (verified)", as screens and paper show it. */
export function citationWords(citation: Citation, cited: CitedSection): string {
  const standing = cited.inferred ? 'from memory, inferred' : cited.standing
  const section = cited.section ?? 'no such section'
  return `${citation.code} ${cited.edition}, ${section} (${standing})`
}

/** The sections that hold under the chosen editions; every one of a standard, whose edition the code names. */
export function sectionsInForce(citation: Citation, ofFacts: Facts): readonly CitedSection[] {
  if (citation.code !== 'IBC' && citation.code !== 'NFPA 101') return citation.sections
  const edition = ofFacts.answer(citation.code === 'IBC' ? 'ibc-edition' : 'nfpa-101-edition')
  return edition.known
    ? citation.sections.filter((each) => each.edition === edition.value)
    : citation.sections
}

export type { Year }
