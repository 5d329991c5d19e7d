// Answers as changes: one answer a place, changed where it stands, withdrawn, and read back as it was given.
import { describe, expect, test } from 'vitest'
import {
  answerCommand,
  expectedWords,
  factsResolver,
  formOfFact,
  keptWords,
  localFact,
  placeOfAnswer,
  readAnswers,
  withdrawCommand,
  type AnswerAt,
  type FactValue,
  type KeptAnswerRecord,
} from '../../../core/cautions/index.ts'

const kept = (id: string, more: Partial<KeptAnswerRecord> = {}): KeptAnswerRecord => ({
  id,
  fact: 'sprinklered',
  value: 'no',
  levelId: null,
  typicalId: null,
  openingId: null,
  who: 'Priya',
  at: null,
  ...more,
})

const give = (value: FactValue, at: AnswerAt, standing: readonly KeptAnswerRecord[] = []) =>
  answerCommand({ fact: 'sprinklered', value, at, placeWords: 'the job' }, standing)

describe('an answer', () => {
  test.each<[string, AnswerAt, Partial<KeptAnswerRecord>]>([
    ['the job', { at: 'job' }, {}],
    ['a level', { at: 'level', levelId: 'l2' }, { levelId: 'l2' }],
    ['a typical', { at: 'typical', typicalId: 't1' }, { typicalId: 't1' }],
    ['an opening', { at: 'openings', openingIds: ['o1'] }, { openingId: 'o1' }],
  ])('stands at %s, with who and when to be filled in', (_name, at, place) => {
    const change = give(true, at)
    expect(change.set).toEqual([])
    expect(change.add).toEqual([
      {
        kind: 'factAnswer',
        record: {
          id: 'new:1',
          fact: 'sprinklered',
          levelId: null,
          typicalId: null,
          openingId: null,
          ...place,
          value: 'yes',
          who: { stamped: 'who' },
          at: { stamped: 'at' },
          notes: null,
        },
      },
    ])
  })

  test('for several openings is one change with one record each', () => {
    const change = give(false, { at: 'openings', openingIds: ['o1', 'o2', 'o3'] }, [
      kept('a', { openingId: 'o2' }),
    ])
    expect(change.add.map(({ record }) => record['openingId'])).toEqual(['o1', 'o3'])
    expect(change.set.map(({ id }) => id)).toEqual(['a'])
    expect(new Set(change.add.map(({ record }) => record['id'])).size).toBe(2)
  })

  test('changes the one that stands there, and no other place or fact', () => {
    const change = give(true, { at: 'job' }, [
      kept('level', { levelId: 'l2' }),
      kept('job'),
      kept('other', { fact: 'fire-alarm' }),
    ])
    expect(change).toMatchObject({ add: [], remove: [] })
    expect(change.set.map(({ id }) => id)).toEqual(['job'])
  })

  test('leaves one where a file had two', () => {
    const change = give(true, { at: 'job' }, [kept('first'), kept('second')])
    expect(change.set.map(({ id }) => id)).toEqual(['second'])
    expect(change.remove).toEqual([{ kind: 'factAnswer', id: 'first' }])
  })

  test('is named as undo shall say it', () => {
    expect(give(true, { at: 'job' }).name).toBe('Answer sprinklered for the job')
    expect(withdrawCommand([kept('a')], 'Level 2')).toMatchObject({
      name: 'Withdraw sprinklered for Level 2',
      remove: [{ kind: 'factAnswer', id: 'a' }],
    })
  })

  test.each<[FactValue, string, string]>([
    [true, 'sprinklered', 'yes'],
    [12.5, 'hardware-height', '12.5'],
    ['battery or energy storage', 'electrical-room', 'battery or energy storage'],
    [['A-2', 'B'], 'occupancy-groups', 'A-2, B'],
    [false, localFact('rule-1'), 'no'],
  ])('%j to %s is kept as a text that means the same', (value, fact, text) => {
    const [added] = answerCommand({ fact, value, at: { at: 'job' }, placeWords: 'x' }, []).add
    expect(added?.record['value']).toBe(text)
    const { job, problems } = readAnswers([kept('a', { fact, value: text })])
    expect(problems).toEqual([])
    expect(job.get(fact)).toMatchObject({ known: true, value })
  })
})

test('the nearest place named counts, as when answers are read', () => {
  const both = kept('a', { levelId: 'l2', openingId: 'o1', value: 'yes' })
  expect(placeOfAnswer(both)).toBe('opening')
  const facts = factsResolver(readAnswers([both]))({ levelId: 'l2', typicalId: null, openingId: 'o2' })
  expect(facts.answer('sprinklered').known).toBe(false)
})

test.each([
  ['hardware-height', '40', '40 in.'],
  ['sprinklered', 'yes', 'yes'],
  ['sprinklered', 'perhaps', 'perhaps'],
  ['no-such-fact', 'yes', 'yes'],
])('%s kept as %s reads %s', (fact, text, words) => expect(keptWords(fact, text)).toBe(words))

test('what was expected is said with its unit or its words', () => {
  const form = (fact: string) => formOfFact(fact) ?? { form: 'yes or no' as const }
  expect(expectedWords(form('sprinklered'))).toBe('expected yes or no')
  expect(expectedWords(form('delay-effort-force'))).toBe('expected a number in lbf, such as 12 or 1.5')
  expect(expectedWords(form('manual-release-sign'))).toBe('expected one of PUSH TO EXIT, other words, none')
  expect(formOfFact('no-such-fact')).toBeNull()
})
