// Rules of the job's own: read from records, and a sentence where one does not fit.
import { expect, test } from 'vitest'
import { localFact, factsFrom, judgeOpening, readLocalRules } from '../../../core/cautions/index.ts'
import { asId, type JobRecord } from '../../../core/job/index.ts'
import { opening } from './openings.ts'

const record = (more: Partial<JobRecord<'localRule'>> = {}): JobRecord<'localRule'> => ({
  id: asId<'localRule'>('rule-1'),
  position: 0,
  sentence: 'Magnets on way-out doors are shown to the fire marshal before they are fitted.',
  citation: 'City ordinance 12-4, 2023',
  question: 'Was this magnet shown to the fire marshal?',
  answeredBy: 'fire marshal',
  wanted: 'yes',
  severity: 'breaks a rule',
  appliesTo: 'every opening',
  fact: null,
  factIs: null,
  arrangement: null,
  ...more,
})

test.each<[string, Partial<JobRecord<'localRule'>>, object]>([
  ['every opening', {}, { to: 'every opening' }],
  [
    'openings where a fact is so',
    { appliesTo: 'openings where', fact: 'sprinklered', factIs: 'no' },
    { to: 'openings where', fact: 'sprinklered', is: false },
  ],
  [
    'openings of some groups',
    { appliesTo: 'openings where', fact: 'occupancy-groups', factIs: 'I-2, E' },
    { to: 'openings where', fact: 'occupancy-groups', is: ['I-2', 'E'] },
  ],
  [
    'ways out',
    { appliesTo: 'ways out', arrangement: 'sensor release' },
    { to: 'ways out', arrangement: 'sensor release' },
  ],
])('a rule for %s', (_name, more, appliesTo) => {
  const { rules, problems } = readLocalRules([record(more)])
  expect(problems).toEqual([])
  expect(rules).toMatchObject([{ key: 'rule-1', answeredBy: 'fire marshal', appliesTo }])
})

test.each<[Partial<JobRecord<'localRule'>>, string]>([
  [
    { answeredBy: 'the mayor' },
    'Rule 1 of the job’s own: who answers is "the mayor"; expected one of architect, fire marshal, owner, door supplier, fire alarm contractor, integrator on site.',
  ],
  [
    { severity: 'dangerous' },
    'Rule 1 of the job’s own: what follows is "dangerous"; expected one of can trap someone, breaks a rule, ask.',
  ],
  [
    { appliesTo: 'openings where', fact: 'colour', factIs: 'red' },
    'Rule 1 of the job’s own: the fact "colour" is not one that this program asks for.',
  ],
  [
    { appliesTo: 'openings where', fact: 'stories', factIs: 'many' },
    'Rule 1 of the job’s own: the answer "many" does not fit; expected a number in stories, such as 12 or 1.5.',
  ],
  [
    { appliesTo: 'ways out', arrangement: 'magic' },
    'Rule 1 of the job’s own: the way out is "magic"; expected',
  ],
  [{ citation: ' ' }, 'Rule 1 of the job’s own: the citation is empty; expected words.'],
])('%j is left out with a sentence', (more, sentence) => {
  const { rules, problems } = readLocalRules([record(more), record({ id: asId('rule-2'), position: 1 })])
  expect(rules.map(({ key }) => key)).toEqual(['rule-2'])
  expect(problems).toMatchObject([{ id: 'rule-1' }])
  expect(problems[0]?.sentence.startsWith(sentence)).toBe(true)
})

test('the answer under its own name decides it, and without one it is not known', () => {
  const { rules } = readLocalRules([record()])
  const verdict = (answer: boolean | null): string | undefined => {
    const locals = answer === null ? {} : { 'rule-1': answer }
    const judged = judgeOpening(
      { ...opening('passage lever alone'), facts: factsFrom({ 'ibc-edition': '2021' }, locals) },
      rules,
    )
    return judged.find(({ rule }) => rule.key === 'rule-1')?.verdict
  }
  expect(localFact('rule-1')).toBe('local:rule-1')
  expect([verdict(null), verdict(true), verdict(false)]).toEqual(['not known', 'met', 'caution'])
})
