// A job's cautions told once: counts, questions, who waits, and follow-ups that wait for another answer.
import { describe, expect, test } from 'vitest'
import {
  cautionsInFull,
  cautionsOverview,
  countCautions,
  countWords,
  factsFrom,
  judgeOpening,
  openQuestions,
  openingsWaiting,
  ruleByKey,
  ruleWords,
  worstWords,
  type Caution,
  type ReadFacts,
} from '../../../core/cautions/index.ts'
import { nothingKnown, opening, type DoorwayName } from './openings.ts'

const judged = (name: DoorwayName, patch: ReadFacts = {}): readonly Caution[] =>
  judgeOpening(opening(name, patch))
const jobFacts = factsFrom({ 'ibc-edition': '2021', 'nfpa-101-edition': '2021' })

test.each<[string, readonly Caution[], string]>([
  ['a lever that keeps every rule', judged('lever, fail-secure strike'), 'none'],
  ['a magnet that the alarm does not reach', judged('magnet, sensor, release, no alarm contact'), 'can trap'],
  ['a lever without one answer', judged('passage lever alone', { 'emergency-lighting': null }), 'none'],
  [
    'a magnet without one answer',
    judged('magnet, sensor, release, alarm', { 'listed-ul-294': null }),
    '1 to ask',
  ],
])('%s says %s', (_name, cautions, words) => expect(worstWords(countCautions(cautions))).toContain(words))

test('the worst comes first in words, and the rest in the sentence', () => {
  const none = { canTrap: 0, breaks: 0, asks: 0, missing: 0 }
  expect(worstWords({ ...none, canTrap: 1, breaks: 2, missing: 4 })).toBe('1 can trap')
  expect(worstWords({ ...none, breaks: 1 })).toBe('1 breaks a rule')
  expect(worstWords({ ...none, breaks: 2, missing: 4 })).toBe('2 break a rule')
  expect(worstWords({ ...none, asks: 1, missing: 3 })).toBe('4 to ask')
  expect(countWords({ ...none, canTrap: 1, missing: 1 })).toBe('1 can trap someone, 1 fact is missing.')
  expect(countWords(none)).toBe('No caution, and no fact is missing.')
})

describe('an overview', () => {
  const magnet = judged('magnet, sensor, release, alarm', { 'listed-ul-294': null, sprinklered: null })
  const lever = judged('passage lever alone', { 'electrical-room': null, 'equipment-amps': null })
  const overview = cautionsOverview(
    [
      ['o1', magnet],
      ['o2', lever],
      ['o3', magnet],
    ],
    jobFacts,
  )

  test('keeps alike openings together, and says only what wants attention', () => {
    expect(overview.sets).toHaveLength(2)
    expect(overview.of).toEqual({ o1: 0, o2: 1, o3: 0 })
    for (const { verdict } of overview.lines) expect(['caution', 'not known']).toContain(verdict)
    const lines = magnet.filter(({ verdict }) => verdict === 'caution' || verdict === 'not known')
    expect(overview.sets[0]).toHaveLength(lines.length)
  })

  test('asks each question once, with all that wait', () => {
    const listed = overview.questions.filter(({ fact }) => fact === 'listed-ul-294')
    expect(listed).toMatchObject([{ openings: 2, answeredBy: 'door supplier', severity: 'breaks a rule' }])
    for (const question of overview.questions)
      expect(openingsWaiting(overview, question)).toHaveLength(question.openings)
    expect(openingsWaiting(overview, listed[0] ?? { key: '', after: null })).toEqual(['o1', 'o3'])
  })

  test('puts off what another answer may spare', () => {
    const room = overview.questions.find(({ fact }) => fact === 'electrical-room')
    expect(overview.questions.some(({ fact }) => fact === 'equipment-amps')).toBe(false)
    expect(room?.leadsTo).toContain('What is the largest rating of the equipment in that room?')
    const answered = judged('passage lever alone', {
      'electrical-room': 'electrical equipment',
      'equipment-amps': null,
    })
    const { questions } = cautionsInFull(answered, jobFacts)
    expect(questions.map(({ fact }) => fact)).toContain('equipment-amps')
  })

  test('asks no less than the plain questions do, but for what is put off', () => {
    const plain = openQuestions([['o2', lever]]).flatMap(({ questions }) => questions)
    const { questions } = cautionsInFull(lever, jobFacts)
    const told = new Set(questions.flatMap(({ sentence, leadsTo }) => [sentence, ...leadsTo]))
    for (const { sentence } of plain) expect(told).toContain(sentence)
  })

  test('the gravest consequence comes first within one who answers', () => {
    const { questions } = cautionsOverview([['o', judgeOpening(nothingKnown)]], factsFrom({}))
    expect(questions.length).toBeGreaterThan(10)
    const rank = { 'can trap someone': 0, 'breaks a rule': 1, ask: 2 }
    for (const [index, question] of questions.entries()) {
      const next = questions[index + 1]
      if (next?.answeredBy === question.answeredBy)
        expect(rank[question.severity]).toBeLessThanOrEqual(rank[next.severity])
    }
  })
})

describe('a rule in words', () => {
  const words = (key: string, facts: ReadFacts): readonly string[] => {
    const rule = ruleByKey.get(key)
    if (rule === undefined) throw new Error(`no rule ${key}`)
    return ruleWords({ rule, isLocal: false }, factsFrom(facts)).citations
  }

  test('cites the edition in force with its standing, sections of one standing together', () => {
    const cited = words('alarm-release', { 'ibc-edition': '2021', 'nfpa-101-edition': 'none' })
    expect(cited).toEqual(['IBC 2021, 1010.2.12, 1010.2.13, 1010.2.14 (verified)'])
  })

  test('says that no edition is chosen, and is then no surer than its weakest', () => {
    const cited = words('alarm-release', { 'ibc-edition': '2021' })
    const open = cited.filter((each) => each.startsWith('NFPA 101, edition not chosen'))
    expect(open).toHaveLength(1)
    expect(open[0]).toContain('(from memory)')
  })

  test('every rule has something cited, standing and left to the reader', () => {
    for (const rule of ruleByKey.values()) {
      const told = ruleWords({ rule, isLocal: false }, factsFrom({}))
      expect(told.citations.length, rule.key).toBeGreaterThan(0)
      expect(told.citations.join(' '), rule.key).toMatch(/\((verified|from memory)/)
      expect(told.standing, rule.key).toMatch(/^Content (read in sources|from memory)\./)
      expect(told.leftToReader.length, rule.key).toBeGreaterThan(0)
    }
  })
})
