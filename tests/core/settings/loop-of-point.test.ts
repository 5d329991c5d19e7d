import { describe, expect, test } from 'vitest'
import type { Edit, JobData, JobRecord } from '../../../core/job/index.ts'
import {
  loopOfPoint,
  nothingTold,
  termsOfPoint,
  type LoopStates,
  type LoopTerms,
} from '../../../core/settings/index.ts'
import { partSettingId } from '../../../fixtures/parts-library/index.ts'
import { demoData, note, turnedRound } from './demo-settings.ts'

const terms: LoopTerms = { ...nothingTold, tolerancePercent: 10, resistorTolerancePercent: 1 }

const loop = (data: JobData, pointId: string, told = terms): LoopStates => {
  const found = loopOfPoint(data, pointId, told)
  if (!found.ok) throw new Error(found.problem.sentence)
  return found.loop
}
const questions = (of: LoopStates): string[] => of.questions.map(({ words }) => words)
const points = (data: JobData): JobRecord<'point'>[] => [...data.all('point')]
const contact = (data: JobData): JobRecord<'point'> => {
  const found = points(data).find(({ name }) => name.endsWith(' contact'))
  if (found === undefined) throw new Error('no point')
  return found
}
const put = (data: JobData, kind: 'run' | 'conductor', more: object): void => data.put(kind, more as never)

describe('the points of the demo job', () => {
  test('every contact and exit loop is known, and its four states are told apart', () => {
    const data = demoData()
    const found = points(data).filter(({ name }) => /contact|exit/.test(name))
    expect(found.length).toBeGreaterThan(30)
    for (const { id, name } of found) {
      const of = loop(data, id)
      expect([name, questions(of), of.disagreements, of.toldApart.answer]).toEqual([name, [], [], 'yes'])
      // 1 k + 1 k, 1 % each, and at most 190 ft of 22 AWG out and back.
      expect(of.whenClosed.form === 'ohms' ? of.whenClosed.markedOhms : 0).toBe(1000)
      expect(of.whenOpen.form === 'ohms' ? of.whenOpen.highOhms : 0).toBeLessThan(2030)
    }
  })

  test('a release has no run to its controller yet: that is the question', () => {
    const data = demoData()
    const release = points(data).find(({ name }) => name.endsWith(' release'))
    expect(questions(loop(data, release?.id ?? ''))).toContain(
      `Which run carries the loop of ${release?.name}?`,
    )
  })

  test.each([
    [
      'an output',
      (data: JobData) => points(data).find(({ direction }) => direction === 'output')?.id ?? '',
      'an output',
    ],
    ['one that is gone', () => 'nowhere', 'gone'],
  ])('%s has no loop', (_what, id, code) => {
    const data = demoData()
    const found = loopOfPoint(data, id(data), terms)
    expect(found.ok ? null : found.problem.code).toBe(code)
  })

  test('do not depend on the order of the records', () => {
    const data = demoData()
    const turned = turnedRound(data)
    for (const { id } of points(data))
      expect(loopOfPoint(turned, id, terms)).toEqual(loopOfPoint(data, id, terms))
  })
})

describe('the way of the loop', () => {
  const runOf = (data: JobData, point: JobRecord<'point'>): JobRecord<'run'> => {
    const run = data.referring('run', 'toFittingId', point.fittingId ?? '')[0]
    if (run === undefined) throw new Error('no run')
    return run
  }

  test('over another fitting, lengths add up', () => {
    const data = demoData()
    const point = contact(data)
    const run = runOf(data, point)
    const before = loop(data, point.id).whenClosed
    const via = [
      ...data.referring('fitting', 'openingId', data.get('fitting', point.fittingId ?? '')?.openingId ?? ''),
    ].find(({ id }) => id !== point.fittingId && data.referring('run', 'toFittingId', id).length === 0)
    put(data, 'run', { ...run, toFittingId: via?.id })
    put(data, 'run', {
      ...run,
      id: 'last',
      name: 'last',
      fromControllerId: null,
      fromFittingId: via?.id,
      lengthMetres: 100,
    })
    for (const place of [0, 1])
      put(data, 'conductor', {
        id: `last-${place}`,
        runId: 'last',
        position: place,
        size: '22 AWG',
        stranded: true,
        colour: null,
        purpose: null,
        fromTerminal: null,
        toTerminal: null,
      })
    const after = loop(data, point.id).whenClosed
    if (before.form !== 'ohms' || after.form !== 'ohms') throw new Error('not known')
    // At 0 °C, 1 - 20 x 0.00393: 100 m out and back of 52.96 ohm per km, strands 2 %.
    expect(after.lowOhms - before.lowOhms).toBeCloseTo(0.2 * 52.96 * 1.02 * (1 - 20 * 0.00393), 1)
  })

  test('two runs of which either may be it are a question', () => {
    const data = demoData()
    const point = contact(data)
    put(data, 'run', { ...runOf(data, point), id: 'second', name: 'second' })
    expect(questions(loop(data, point.id))).toContainEqual(
      expect.stringMatching(/^Which of .*second.* carries the loop of/),
    )
  })

  test.each([
    ['an unknown length', { run: { lengthMetres: null } }, /^How long is/],
    ['an unknown size', { conductor: { size: null } }, /^Which size are the conductors of/],
    [
      'three conductors that are not alike',
      { third: { size: '18 AWG', purpose: 'spare' }, conductor: { purpose: 'pair' } },
      /^Which two conductors of/,
    ],
  ])(
    '%s is a question',
    (
      _what,
      { run = {}, conductor = {}, third }: { run?: object; conductor?: object; third?: object },
      question,
    ) => {
      const data = demoData()
      const point = contact(data)
      const of = runOf(data, point)
      put(data, 'run', { ...of, ...run })
      for (const each of data.referring('conductor', 'runId', of.id)) {
        put(data, 'conductor', { ...each, ...conductor })
        if (third !== undefined) put(data, 'conductor', { ...each, ...third, id: 'third' })
      }
      expect(questions(loop(data, point.id))).toContainEqual(expect.stringMatching(question))
      expect(loop(data, point.id).whenClosed.form).toBe('not known')
    },
  )
})

test('a jumper that turns a contact round turns its loop round', () => {
  const data = demoData()
  const point = data.get('point', 'point-118-exit')
  if (point === undefined) throw new Error('no point')
  // On the demo parts the jumper bears on the feed contact.
  data.put('point', { ...point, partContactId: 'contact-exit-sensor-feed' } as never)
  const seen = (): string[] =>
    loop(data, point.id)
      .states.slice(0, 2)
      .map((each) => `${each.circumstance} ${each.contact}`)
  expect(seen()).toEqual(['at rest closed', 'exit asked open'])
  note(
    data,
    { fittingId: point.fittingId ?? '' },
    partSettingId('exit-sensor', 'Contact'),
    'set',
    'closes on motion',
    { at: '2027-01-01T00:00:00Z' },
  )
  expect(seen()).toEqual(['at rest open', 'exit asked closed'])
  expect(loop(data, point.id, { ...terms, stage: 'designed' }).states[0]?.contact).toBe('closed')
})

describe('what the records say of an input', () => {
  const withRecords = (add: (data: JobData, pointId: string) => void): LoopTerms => {
    const data = demoData()
    const { id } = contact(data)
    for (const each of data.referring('pointTerms', 'pointId', id)) data.apply([removed('pointTerms', each)])
    for (const each of Array.from(data.all('jobTerms'))) data.apply([removed('jobTerms', each)])
    add(data, id)
    return termsOfPoint(data, id)
  }
  const removed = (kind: 'pointTerms' | 'jobTerms', record: { readonly id: string }) =>
    ({ does: 'remove', kind, record }) as Edit

  test('nothing said is nothing told', () => {
    expect(withRecords(() => {})).toEqual(nothingTold)
  })

  test('its own terms, and the warmth of the job, reach the loop', () => {
    const told = withRecords((data, pointId) => {
      data.put('pointTerms', {
        id: 'terms',
        pointId,
        normally: 'closed',
        wiredTo: 'normally closed',
        tolerancePercent: 12,
        closedBelowOhms: 500,
        resistorTolerancePercent: 5,
      } as never)
      data.put('jobTerms', { id: 'job-terms', coolestCelsius: -5, warmestCelsius: null } as never)
    })
    expect(told).toEqual({
      normally: 'closed',
      wiredTo: 'normally closed',
      tolerancePercent: 12,
      closedBelowOhms: 500,
      resistorTolerancePercent: 5,
      celsius: { lowest: -5, highest: 50 },
      stage: nothingTold.stage,
    })
  })
})
