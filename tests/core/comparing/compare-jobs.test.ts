import { describe, expect, test } from 'vitest'
import { compareJobs, type StateOfJob, type WorkedOut } from '../../../core/comparing/index.ts'
import { asId, JobData, recordKinds, type Opening } from '../../../core/job/index.ts'
import { plan, type Command } from '../../../core/schedule/index.ts'
import { counter, everything, smallJob } from '../support/small-job.ts'

const nothing: WorkedOut = { results: [], cautions: [], lowDevices: [] }

function copyOf(data: JobData): JobData {
  const copy = new JobData()
  const all = everything(data)
  for (const kind of recordKinds) for (const each of all[kind] ?? []) copy.put(kind, each as never)
  return copy
}

const stateOf = (data: JobData, workedOut: (opening: Opening) => WorkedOut = () => nothing): StateOfJob => ({
  data,
  workedOut,
})

function after(...commands: readonly Command[]): JobData {
  const data = copyOf(smallJob())
  const ids = counter()
  for (const command of commands) {
    const made = plan(command, data, ids)
    if (!made.ok) throw new Error(made.problems[0]?.sentence)
    data.apply(made.change.edits)
  }
  return data
}

const setMark = (openingId: string, text: string): Command => ({
  does: 'set cells',
  how: 'type',
  cells: [{ openingId, column: 'mark', text }],
  unreadable: 'refuse',
})

describe('two states of a job', () => {
  test('that are the same differ in nothing', () => {
    expect(compareJobs(stateOf(smallJob()), stateOf(copyOf(smallJob())))).toEqual({ openings: [], job: [] })
  })

  test('name each cell that is otherwise, under the opening as it is now', () => {
    const { openings } = compareJobs(stateOf(smallJob()), stateOf(after(setMark('a', '900Z'))))
    expect(openings).toHaveLength(1)
    expect(openings[0]).toMatchObject({
      openingId: 'a',
      mark: '900Z',
      change: 'changed',
      differences: [{ what: 'Mark', before: smallJob().get('opening', 'a')?.mark, after: '900Z' }],
    })
  })

  test('tell openings that came and went', () => {
    const later = after({ does: 'remove openings', openingIds: ['b'] })
    expect(compareJobs(stateOf(smallJob()), stateOf(later)).openings).toMatchObject([
      { openingId: 'b', change: 'removed' },
    ])
    expect(compareJobs(stateOf(later), stateOf(smallJob())).openings).toMatchObject([
      { openingId: 'b', change: 'added' },
    ])
  })

  test('say what follows, also where no cell of the opening itself differs', () => {
    const low =
      (names: readonly string[]) =>
      (opening: Opening): WorkedOut =>
        opening.id === 'a' ? { ...nothing, lowDevices: names } : nothing
    const { openings } = compareJobs(
      stateOf(smallJob(), low([])),
      stateOf(copyOf(smallJob()), low(['101 M1'])),
    )
    expect(openings).toMatchObject([
      {
        openingId: 'a',
        differences: [],
        consequences: ['101 M1 no longer has the volts it works with.'],
      },
    ])
  })

  test('name each rule that is broken now, and only count those that wait for facts', () => {
    const caution = (key: string, verdict: 'met' | 'caution' | 'not known' | 'does not apply') =>
      ({ rule: { key, sentence: `Rule ${key}.` }, verdict }) as WorkedOut['cautions'][number]
    const judged =
      (cautions: WorkedOut['cautions']) =>
      (opening: Opening): WorkedOut =>
        opening.id === 'a' ? { ...nothing, cautions } : nothing
    const { openings } = compareJobs(
      stateOf(smallJob(), judged([caution('a', 'met'), caution('b', 'caution'), caution('c', 'not known')])),
      stateOf(
        copyOf(smallJob()),
        judged([
          caution('a', 'caution'),
          caution('b', 'met'),
          caution('c', 'does not apply'),
          caution('d', 'not known'),
          caution('e', 'not known'),
        ]),
      ),
    )
    expect(openings[0]?.consequences).toEqual([
      'Rule a. Was met; is not met.',
      'Rule b. Was not met; is met.',
      '2 more rules wait for facts.',
      '1 rule no longer waits for facts.',
    ])
  })

  test('tell what the whole job rests on', () => {
    const data = copyOf(smallJob())
    data.put('factAnswer', {
      id: asId<'factAnswer'>('answer-new'),
      fact: 'high-rise',
      levelId: null,
      typicalId: null,
      openingId: null,
      value: 'yes',
      who: null,
      at: null,
      notes: null,
    })
    expect(compareJobs(stateOf(smallJob()), stateOf(data)).job).toEqual([
      { what: 'Answer to high rise for the job', before: null, after: 'yes' },
    ])
  })
})
