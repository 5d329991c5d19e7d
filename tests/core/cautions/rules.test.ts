// Every rule, every verdict it can give, as rows with their source; and a walk over the register.
import { describe, expect, test } from 'vitest'
import {
  citationWords,
  facts,
  factKeys,
  rules,
  sources,
  severities,
  verdicts,
  viewOf,
  type Rule,
} from '../../../core/cautions/index.ts'
import { cautionFor } from './openings.ts'
import { doorRows } from './rows-doors.ts'
import { wayOutRows } from './rows-way-out.ts'
import type { RuleRow } from './rows.ts'

const rows = [...wayOutRows, ...doorRows]

describe.each(rules)('$key', ({ key }) => {
  test.each(rows.filter(({ rule }) => rule === key))('$verdict: $why ($source)', (row) => {
    const caution = cautionFor(row.rule, row.opening)
    expect([caution.verdict, ...caution.sentences]).toEqual([row.verdict, ...caution.sentences])
    expect(caution.missing.length > 0).toBe(row.verdict === 'not known')
    const explains = row.verdict === 'caution' || row.verdict === 'does not apply'
    expect(caution.sentences.length > 0).toBe(explains)
    for (const sentence of caution.sentences) expect(sentence).toMatch(/^\S.* .*\.$/)
  })
})

/** What is wrong with a rule; empty where nothing is. */
function faultsOf(rule: Rule, tested: readonly RuleRow[]): readonly string[] {
  const own = tested.filter((row) => row.rule === rule.key)
  const sections = rule.citations.flatMap((citation) => citation.sections)
  return [
    ...(rule.citations.length === 0 ? ['no citation'] : []),
    ...(sections.length === 0 ? ['no edition'] : []),
    ...sections.flatMap(({ edition, section, standing, inferred, sources: from }) => [
      ...(edition === '' || section === '' ? ['an empty section'] : []),
      ...(section !== null && standing === 'verified' && from.length === 0
        ? ['verified without a source']
        : []),
      ...(inferred && standing === 'verified' ? ['inferred, yet verified'] : []),
    ]),
    ...(rule.leftToReader.length === 0 ? ['nothing left to the reader'] : []),
    ...(rule.content.standing === 'verified' && rule.content.sources.length === 0
      ? ['content without source']
      : []),
    ...(rule.gives.length === 0 ? ['gives no verdict'] : []),
    ...rule.gives
      .filter((verdict) => !own.some((row) => row.verdict === verdict))
      .map((verdict) => `no test for ${verdict}`),
    ...own
      .filter((row) => !rule.gives.includes(row.verdict))
      .map((row) => `${row.verdict} is not among what it gives`),
    ...own.filter((row) => row.source === '').map(() => 'a row without source'),
  ]
}

describe('the register', () => {
  test.each(rules)('$key has citation, editions, limits and a test for each verdict', (rule) => {
    expect(faultsOf(rule, rows)).toEqual([])
  })

  test('bites on a rule without citation, edition, limits or tests', () => {
    const [rule] = rules
    if (rule === undefined) throw new Error('no rules')
    const bad = (change: object): readonly string[] => faultsOf({ ...rule, ...change }, rows)
    expect(bad({ citations: [] })).toContain('no citation')
    expect(bad({ citations: [{ ...rule.citations[0], sections: [] }] })).toContain('no edition')
    expect(bad({ leftToReader: [] })).toContain('nothing left to the reader')
    expect(bad({ content: { standing: 'verified', sources: [], note: null } })).toContain(
      'content without source',
    )
    expect(bad({ key: 'without-tests' })).toContain('no test for met')
    expect(bad({ gives: ['met'] })).toContain('caution is not among what it gives')
  })

  test('keys are unique, and every row names a rule', () => {
    const keys = rules.map(({ key }) => key)
    expect(new Set(keys).size).toBe(keys.length)
    expect(rows.filter(({ rule }) => !keys.includes(rule))).toEqual([])
  })

  test('every severity and every verdict is used, and every source is cited', () => {
    expect(new Set(rules.flatMap(({ gives }) => gives))).toEqual(new Set(verdicts))
    for (const { severity } of rules) expect(severities).toContain(severity)
    const cited = new Set(
      rules.flatMap(({ citations, content }) => [
        ...content.sources,
        ...citations.flatMap(({ sections }) => sections.flatMap((section) => section.sources)),
      ]),
    )
    for (const id of cited) expect(Object.keys(sources)).toContain(id)
    expect(Object.keys(sources).filter((id) => !cited.has(id as keyof typeof sources))).toEqual([])
  })

  test('a rule reads each fact of the register, or else the fact is not asked', () => {
    const read = new Set<string>()
    for (const { opening } of rows)
      for (const { applies, asks } of rules) {
        const facts = {
          ...opening.facts,
          answer: ((key) => {
            read.add(key)
            return opening.facts.answer(key)
          }) as typeof opening.facts.answer,
        }
        const view = { ...viewOf(opening), facts }
        if (applies(view).is === 'yes') asks(view)
      }
    expect(factKeys.filter((key) => !read.has(key) && !readElsewhere.has(key))).toEqual([])
  })

  test('questions are sentences', () => {
    for (const key of factKeys) expect(facts[key].question).toMatch(/^[A-Z].*\?( 0 where .*\.)?$/)
    for (const { sentence } of rules) expect(sentence).toMatch(/^[A-Z].*\.$/)
  })
})

const readElsewhere = new Set(['nfpa-101-edition', 'elevator-lobby-door'])

describe('words of a citation', () => {
  const wordsOf = (key: string, place: number, edition: string): string => {
    const citation = rules.find((rule) => rule.key === key)?.citations[place]
    const section = citation?.sections.find((each) => each.edition === edition)
    if (citation === undefined || section === undefined) throw new Error(`no ${key} ${edition}`)
    return citationWords(citation, section)
  }
  // From table 1.1 of the design's standards sheet, row by row.
  test.each([
    ['sensor-unlocks', 0, '2018', 'IBC 2018, 1010.1.9.9 (verified)'],
    ['sensor-unlocks', 0, '2021', 'IBC 2021, 1010.2.12 (verified)'],
    ['sensor-unlocks', 0, '2024', 'IBC 2024, 1010.2.11 (from memory, inferred)'],
    ['hardware-release-direct', 0, '2018', 'IBC 2018, 1010.1.9.10 (verified)'],
    ['hardware-release-direct', 0, '2021', 'IBC 2021, 1010.2.11 (verified)'],
    ['hardware-release-direct', 0, '2024', 'IBC 2024, 1010.2.10 (from memory, inferred)'],
    ['delayed-time', 0, '2018', 'IBC 2018, 1010.1.9.8 (verified)'],
    ['delayed-time', 0, '2021', 'IBC 2021, 1010.2.13 (verified)'],
    ['delayed-time', 0, '2024', 'IBC 2024, 1010.2.12 (from memory, inferred)'],
    ['controlled-switch', 0, '2018', 'IBC 2018, 1010.1.9.7 (verified)'],
    ['controlled-switch', 0, '2021', 'IBC 2021, 1010.2.14 (verified)'],
    ['controlled-switch', 0, '2024', 'IBC 2024, 1010.2.13 (from memory, inferred)'],
    ['elevator-lobby-alarm', 0, '2021', 'IBC 2021, no such section (verified)'],
    ['elevator-lobby-alarm', 0, '2024', 'IBC 2024, 1010.2.14 (verified)'],
    ['panic-hardware-ibc', 0, '2018', 'IBC 2018, 1010.1.10 (verified)'],
    ['panic-hardware-ibc', 0, '2021', 'IBC 2021, 1010.2.9 (verified)'],
    ['panic-hardware-ibc', 0, '2024', 'IBC 2024, 1010.2.8 (verified)'],
    ['stair-way-in', 0, '2018', 'IBC 2018, 1010.1.9.12 (verified)'],
    ['stair-way-in', 0, '2021', 'IBC 2021, 1010.2.7 (verified)'],
    ['stair-way-in', 0, '2024', 'IBC 2024, 1010.2.6 (from memory, inferred)'],
    ['one-motion', 0, '2018', 'IBC 2018, 1010.1.9.6 (verified)'],
    ['one-motion', 0, '2021', 'IBC 2021, 1010.2.1 (verified)'],
    ['hardware-height', 0, '2018', 'IBC 2018, 1010.1.9.2 (from memory)'],
    ['hardware-height', 0, '2021', 'IBC 2021, 1010.2.3 (verified)'],
    ['stair-way-in-nfpa-101', 0, '2021', 'NFPA 101 2021, 7.2.1.5.8 (from memory)'],
    ['alarm-connection', 0, '2010 and later', 'NFPA 72 2010 and later, 21.9.1 and 21.9.2 (verified)'],
    ['fire-door-holes', 0, '2022', 'NFPA 80 2022, 5.1.5.2 (verified)'],
    ['control-height', 0, '2010 Standards', 'ADA 2010 Standards, 308.2 (from memory)'],
  ])('%s, citation %i, %s', (key, place, edition, words) => {
    expect(wordsOf(key, place, edition)).toBe(words)
  })
})
