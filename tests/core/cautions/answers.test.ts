// Where an answer stands, which one holds, and what to ask of whom.
import { describe, expect, test } from 'vitest'
import {
  codeFacts,
  createJudge,
  factsFrom,
  factsResolver,
  openQuestions,
  rankOf,
  readAnswers,
  judgeOpening,
  acceptedArrangement,
  recogniseArrangement,
  type KeptAnswer,
} from '../../../core/cautions/index.ts'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import { trappedWithout } from '../../../core/behaviour/index.ts'
import { opening, doorways, nothingKnown, type DoorwayName } from './openings.ts'

const kept = (fact: string, value: string, place: Partial<KeptAnswer> = {}): KeptAnswer => ({
  fact,
  value,
  levelId: null,
  typicalId: null,
  openingId: null,
  who: 'Priya Hallam',
  at: '2025-10-06T10:30:00Z',
  ...place,
})

describe('the nearest answer holds', () => {
  const answers = readAnswers([
    kept('occupancy-groups', 'B'),
    kept('occupancy-groups', 'I-2', { levelId: 'level-2' }),
    kept('occupancy-groups', 'A-3', { typicalId: 'typical-hall' }),
    kept('occupancy-groups', 'E, A-2', { openingId: 'opening-9' }),
    kept('fire-label-minutes', '45', { openingId: 'opening-9' }),
  ])
  const factsAt = factsResolver(answers, codeFacts('IBC 2021'))

  test.each([
    ['job', 'level-1', null, 'opening-1', ['B']],
    ['level', 'level-2', null, 'opening-2', ['I-2']],
    ['typical', 'level-2', 'typical-hall', 'opening-3', ['A-3']],
    ['opening', 'level-2', 'typical-hall', 'opening-9', ['E', 'A-2']],
  ] as const)('%s', (at, levelId, typicalId, openingId, value) => {
    const answer = factsAt({ levelId, typicalId, openingId }).answer('occupancy-groups')
    expect(answer).toEqual({
      known: true,
      value,
      origin: { at, who: 'Priya Hallam', when: '2025-10-06T10:30:00Z' },
    })
  })

  test('what the opening itself says is nearest of all', () => {
    const place = { levelId: 'level-1', typicalId: null, openingId: 'opening-9' }
    const read = factsAt({ ...place, read: { 'fire-label-minutes': 90 } }).answer('fire-label-minutes')
    expect(read.known && read.value).toBe(90)
    const notRead = factsAt({ ...place, read: { 'fire-label-minutes': null } }).answer('fire-label-minutes')
    expect(notRead.known && notRead.value).toBe(45)
  })

  test('the chosen code answers its own edition and no other', () => {
    const facts = factsAt({ levelId: 'level-1', typicalId: null, openingId: 'opening-1' })
    expect(facts.answer('ibc-edition')).toMatchObject({ known: true, value: '2021' })
    expect(facts.answer('nfpa-101-edition')).toEqual({ known: false })
    expect(codeFacts('a code of another country')).toEqual({})
  })

  test('openings that share their answers share one value', () => {
    const one = factsAt({ levelId: 'level-1', typicalId: null, openingId: 'opening-1' })
    const other = factsAt({ levelId: 'level-1', typicalId: null, openingId: 'opening-2' })
    expect(other).toBe(one)
  })
})

test('an answer that cannot be understood counts as unanswered and is reported', () => {
  const answers = readAnswers([
    kept('sprinklered', 'maybe'),
    kept('occupancy-groups', 'B, Z'),
    kept('occupant-load', '-4'),
    kept('colour of the door', 'red'),
    kept('local:key-box', 'yes'),
  ])
  expect(answers.problems.map(({ code, fact }) => `${fact}: ${code}`)).toEqual([
    'sprinklered: not understood',
    'occupancy-groups: not understood',
    'occupant-load: not understood',
    'colour of the door: no such fact',
  ])
  const facts = factsResolver(answers)({ levelId: 'level-1', typicalId: null, openingId: 'opening-1' })
  expect(facts.answer('sprinklered')).toEqual({ known: false })
  expect(facts.local('key-box')).toMatchObject({ known: true, value: true })
})

test('what can trap someone is read first, what does not apply last', () => {
  for (const name of Object.keys(doorways) as readonly DoorwayName[]) {
    const ranks = judgeOpening(opening(name, { sprinklered: null, 'fire-label-minutes': 90 })).map(rankOf)
    expect(ranks).toEqual(ranks.toSorted((one, other) => one - other))
  }
})

describe('open questions', () => {
  const cautions = (name: DoorwayName, patch: Parameters<typeof opening>[1]) =>
    judgeOpening(opening(name, patch))
  const unlit = { 'emergency-lighting': null, 'delay-audible': null } as const

  test('one question answers many openings, grouped by who can answer', () => {
    const groups = openQuestions([
      ['101', cautions('delayed exit device, 15 s', unlit)],
      ['102', cautions('delayed exit device, 15 s', unlit)],
      ['103', cautions('passage lever alone', unlit)],
    ])
    expect(
      groups.map(({ answeredBy, questions }) => [
        answeredBy,
        questions.map(({ key, openings, rules }) => [key, openings.join(), rules.join()]),
      ]),
    ).toEqual([
      ['architect', [['emergency-lighting', '101,102', 'emergency-lighting']]],
      ['integrator on site', [['delay-audible', '101,102', 'delayed-signal']]],
    ])
  })

  test('a question about a thing stays with its opening', () => {
    const name = 'magnet, sensor whose jumper is not known'
    const groups = openQuestions([
      ['101', cautions(name, {})],
      ['102', cautions(name, {})],
    ])
    expect(groups.flatMap(({ questions }) => questions.map(({ openings }) => openings.join()))).toEqual([
      '101',
      '102',
    ])
  })

  test('every question is a sentence', () => {
    const names = Object.keys(doorways) as readonly DoorwayName[]
    const groups = openQuestions([
      ...names.map((name) => [name, judgeOpening({ ...opening(name), facts: factsFrom({}) })] as const),
      ['nothing known', judgeOpening(nothingKnown)] as const,
    ])
    for (const { questions } of groups)
      for (const { sentence } of questions) expect(sentence).toMatch(/^[A-Z].*[?.]$/)
  })
})

test('openings alike are judged once', () => {
  const judge = createJudge()
  const one = opening('passage lever alone')
  expect(judge({ ...one })).toBe(judge({ ...one }))
  const labelled = opening('passage lever alone', { 'fire-label-minutes': 90 })
  expect(judge({ ...one, facts: labelled.facts })).not.toBe(judge(one))
  expect(judge(one).cautions).toEqual(judgeOpening(one))
})

describe('a person who cannot get out', () => {
  const trapsIn = (name: DoorwayName): string => {
    const it = opening(name)
    return trappedWithout(acceptedArrangement(recogniseArrangement(it)), it.behaviour)
      .filter(({ trapped }) => trapped === 'yes')
      .map(({ result }) => result.condition.name)
      .join(', ')
  }
  // Common practice, no source.
  test.each([
    ['magnet, sensor, release, alarm', ''],
    ['delayed exit device, 15 s', ''],
    ['magnet, switch in the lever', ''],
    ['magnet, sensor that keeps its contact without power', 'sensor lost'],
    ['magnet, sensor, release, no alarm contact', 'fire alarm'],
    ['magnet, staff switch, no alarm contact', 'fire alarm'],
    ['magnet, exit button that only asks', 'secured, fire alarm, mains lost, controller silent'],
  ] as const)('%s: %s', (name, conditions) => {
    const found = trapsIn(name)
    expect(found.split(', ')).toEqual(expect.arrayContaining(conditions.split(', ')))
    if (conditions === '') expect(found).toBe('')
  })
})

test('every answer of the demo job is understood', () => {
  const file = path.join(import.meta.dirname, '../../../fixtures/demo/harrow-street-clinic.json')
  const answers = [...readFileSync(file, 'utf8').matchAll(/\{[^{}]*"fact":[^{}]*\}/g)].map(
    ([text]) => JSON.parse(text) as KeptAnswer,
  )
  expect(answers.length).toBeGreaterThan(5)
  expect(readAnswers(answers).problems).toEqual([])
})
