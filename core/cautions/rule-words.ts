// A rule as screens and paper show it: what is asked for, where that stands, how far it was confirmed, what is left.
import type { Facts } from './answers.ts'
import { sectionsInForce, type Citation } from './citations.ts'
import type { Caution } from './judge.ts'
import type { LocalRule } from './local-rule.ts'
import { localAmendments, type Content, type RuleText, type Severity } from './rule.ts'

export interface RuleWords {
  readonly key: string
  readonly sentence: string
  readonly severity: Severity
  readonly isLocal: boolean
  /** "IBC 2021, 1010.2.12 (verified)". */
  readonly citations: readonly string[]
  /** How far what the rule says was confirmed, apart from the numbers of sections. */
  readonly standing: string
  /** What holds for every rule, `localAmendments`, is left out where there is more to say. */
  readonly leftToReader: readonly string[]
}

const leftOfLocal = ['Whether the amendment still stands as it was written down here.']

/** The words of a rule under the editions these facts choose. */
export function ruleWords({ rule, isLocal }: Pick<Caution, 'rule' | 'isLocal'>, facts: Facts): RuleWords {
  if (isLocal) {
    const { key, sentence, severity, citation } = rule as LocalRule
    return {
      key,
      sentence,
      severity,
      isLocal,
      citations: [citation],
      standing: 'A rule of the job’s own, as it was written down here; not checked.',
      leftToReader: leftOfLocal,
    }
  }
  const { key, sentence, severity, citations, content, leftToReader } = rule as RuleText
  const own = leftToReader.filter((each) => each !== localAmendments)
  return {
    key,
    sentence,
    severity,
    isLocal,
    citations: citationsInForce(citations, facts),
    standing: contentWords(content),
    leftToReader: own.length > 0 ? own : leftToReader,
  }
}

interface Cited {
  /** "IBC 2021". */
  readonly from: string
  readonly section: string
  readonly standing: string
}

function citedInForce(citation: Citation, facts: Facts): readonly Cited[] {
  const { code } = citation
  const isByYear = code === 'IBC' || code === 'NFPA 101'
  const isChosen = isByYear && facts.answer(code === 'IBC' ? 'ibc-edition' : 'nfpa-101-edition').known
  return sectionsInForce(citation, facts).flatMap(({ edition, section, standing, inferred }) =>
    section === null
      ? []
      : [
          {
            from: isByYear && !isChosen ? `${code}, edition not chosen` : `${code} ${edition}`,
            section,
            standing: inferred ? 'from memory, inferred' : standing,
          },
        ],
  )
}

/** While no edition is chosen, a section is as well confirmed as in the edition where it is least. */
function asConfirmed(alike: readonly Cited[]): string {
  const standings = new Set(alike.map(({ standing }) => standing))
  return standings.size === 1 ? (alike[0]?.standing ?? '') : 'from memory'
}

/** "IBC 2021, 1010.2.12, 1010.2.13 (verified)": sections of one edition that were confirmed alike stand together. */
function citationsInForce(citations: readonly Citation[], facts: Facts): readonly string[] {
  const cited = citations.flatMap((citation) => citedInForce(citation, facts))
  const bySection = Map.groupBy(cited, ({ from, section }) => `${from}\n${section}`)
  const once = [...bySection.values()].flatMap((alike) =>
    alike.slice(0, 1).map((first) => ({ ...first, standing: asConfirmed(alike) })),
  )
  const together = Map.groupBy(once, ({ from, standing }) => `${from}\n${standing}`)
  return [...together.values()].flatMap((alike) =>
    alike.slice(0, 1).map(({ from, standing }) => {
      const sections = alike.map(({ section }) => section).join(', ')
      return `${from}, ${sections} (${standing})`
    }),
  )
}

function contentWords({ standing, note }: Content): string {
  const plain = standing === 'verified' ? 'Content read in sources.' : 'Content from memory.'
  return note === null ? plain : `${plain} ${/[.!?]$/.test(note) ? note : `${note}.`}`
}
