import { describe, expect, test } from 'vitest'
import { invert } from '../../../core/job/index.ts'
import { command, plan, type Command } from '../../../core/schedule/index.ts'
import { counter, smallJob } from '../support/small-job.ts'

type RecordsCommand = Extract<Command, { does: 'change records' }>

const stamp = { who: 'Ada Fitter', at: '2026-03-05T12:00:00Z' }
const asked = (parts: Partial<RecordsCommand>): RecordsCommand => ({
  does: 'change records',
  name: 'Change something',
  add: [],
  set: [],
  remove: [],
  ...parts,
})

const supply = {
  id: 'new:supply',
  mark: 'PS9',
  position: 0,
  partId: null,
  spaceId: null,
  whereText: null,
  ratedVolts: 24,
  ratedAmps: 4,
  batteryVolts: null,
  batteryAmpHours: null,
  standbyHours: null,
  alarmMinutes: null,
  batteryInstalledOn: null,
  notes: null,
}
const output = {
  id: 'new:output',
  supplyId: 'new:supply',
  position: 0,
  name: '1',
  ratedVolts: null,
  ratedAmps: 1,
  fuseAmps: null,
  notes: null,
}
const answer = {
  id: 'new:answer',
  fact: 'sprinklered',
  levelId: null,
  typicalId: null,
  openingId: null,
  value: 'yes',
  who: { stamped: 'who' },
  at: { stamped: 'at' },
  notes: null,
}

describe('records changed together', () => {
  test('are added parents first, under new ids that they share, and can be taken back', () => {
    const data = smallJob()
    const made = plan(
      asked({
        add: [
          { kind: 'output', record: output },
          { kind: 'supply', record: supply },
        ],
      }),
      data,
      counter(),
    )
    if (!made.ok) throw new Error(made.problems[0]?.sentence)
    const before = data.count('supply')
    data.apply(made.change.edits)
    const [fresh] = [...data.all('supply')].filter(({ mark }) => mark === 'PS9')
    expect(fresh?.id).not.toContain('new:')
    expect(data.referring('output', 'supplyId', fresh?.id ?? '')).toHaveLength(1)
    data.apply(invert(made.change.edits))
    expect(data.count('supply')).toBe(before)
  })

  test('say who and when as the host knows it', () => {
    const wanted = command.parse(asked({ add: [{ kind: 'factAnswer', record: answer }] }))
    const made = plan(wanted, smallJob(), counter(), stamp)
    expect(made.ok && made.change.edits[0]).toMatchObject({ record: { ...stamp, value: 'yes' } })
    expect(() => plan(wanted, smallJob(), counter())).toThrow('without either')
  })

  test.each<[string, Partial<RecordsCommand>, string]>([
    [
      'a field of the wrong form',
      { add: [{ kind: 'supply', record: { ...supply, ratedVolts: 'much' } }] },
      'The supply, field rated volts: expected a number, found text.',
    ],
    [
      'a reference to nothing',
      { add: [{ kind: 'output', record: { ...output, supplyId: 'nobody' } }] },
      'The output, field supply id: that supply is no longer there.',
    ],
    ['an id of its own making', { add: [{ kind: 'supply', record: { ...supply, id: 'mine' } }] }, 'new:'],
    [
      'a kind with a plan of its own',
      { set: [{ kind: 'opening', id: 'a', fields: { mark: '7' } }] },
      'not changed in this way',
    ],
    ['something that is gone', { remove: [{ kind: 'supply', id: 'nobody' }] }, 'no longer there'],
    ['a part that is still used', { remove: [{ kind: 'part', id: 'lock' }] }, 'is still used by a'],
  ])('are refused with %s', (_what, parts, words) => {
    const made = plan(asked(parts), smallJob(), counter(), stamp)
    expect(made.ok ? '' : made.problems[0]?.sentence).toContain(words)
  })

  test('never bear one name twice', () => {
    const data = smallJob()
    const add = asked({ add: [{ kind: 'supply', record: supply }] })
    const first = plan(add, data, counter())
    if (!first.ok) throw new Error(first.problems[0]?.sentence)
    data.apply(first.change.edits)
    const again = plan(add, data, () => 'another')
    expect(again.ok ? '' : again.problems[0]?.sentence).toBe('The job already has a supply called PS9.')
  })
})
