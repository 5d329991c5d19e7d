import { describe, expect, test } from 'vitest'
import { asId, type JobRecord } from '../../../core/job/index.ts'
import {
  openingProof,
  proofSteps,
  readingPasses,
  recordProofs,
  type OpeningToProve,
  type ProofResult,
  type ProofStep,
} from '../../../core/proving/index.ts'
import { smallJob } from '../support/small-job.ts'

const nothing: OpeningToProve = { settings: [], devices: [], loops: [], results: [], facts: [] }

const magnet = {
  fittingId: 'fitting-1',
  name: '118 M1',
  volts: 22.84,
  window: { minimumVolts: 19.2, maximumVolts: 28.8 },
  questions: [],
}
const loop = {
  pointId: 'point-1',
  pointName: '118 contact',
  controller: 'AC1',
  fittingId: null,
  circumstance: 'door shut',
  reading: { form: 'ohms', lowOhms: 1001.6, highOhms: 1003.2 },
} as const

const stepOf = (opening: Partial<OpeningToProve>): ProofStep => {
  const [step] = proofSteps({ ...nothing, ...opening })
  if (step === undefined) throw new Error('no step')
  return step
}

describe('a step', () => {
  test('of volts says the window it must read inside, and what was worked out', () => {
    expect(stepOf({ devices: [magnet] })).toMatchObject({
      expected: 'between 19.2 and 28.8 V; worked out 22.84 V',
      measured: { unit: 'V', low: 19.2, high: 28.8 },
    })
  })

  test('whose facts are missing expects nothing, and says which', () => {
    const questions = ['Between what volts does 118 M1 work?']
    expect(stepOf({ devices: [{ ...magnet, window: null, questions }] })).toMatchObject({
      expected: null,
      because: questions,
    })
    expect(stepOf({ facts: [{ key: 'sign', question: 'Is there a sign?', answer: null }] })).toMatchObject({
      expected: null,
    })
  })

  test('of a loop says its ohms and takes the conductors off first', () => {
    const step = stepOf({ loops: [loop] })
    expect(step.expected).toBe('1002 to 1003 ohm')
    expect(step.caution).toContain('Take the conductors off')
  })

  test('keeps its key when something else is expected of it', () => {
    const other = { ...magnet, window: { minimumVolts: 10, maximumVolts: 14 } }
    expect(stepOf({ devices: [other] }).key).toBe(stepOf({ devices: [magnet] }).key)
  })
})

test.each<[number | null, boolean | null]>([
  [19.2, true],
  [28.8, true],
  [19.1, false],
  [28.9, false],
  [null, null],
])('a reading of %s passes: %s', (reading, passes) => {
  expect(readingPasses(stepOf({ devices: [magnet] }), reading)).toBe(passes)
})

const result = (more: Partial<ProofResult> = {}): ProofResult => ({
  openingId: 'a',
  mark: '118',
  step: stepOf({ devices: [magnet] }),
  result: 'passed',
  reading: 22.7,
  notes: null,
  who: null,
  at: null,
  ...more,
})

describe('what was found', () => {
  test('is refused as passed outside its limits, or where nobody knows what to expect', () => {
    expect(recordProofs([result({ reading: 18 })])).toMatchObject({ ok: false })
    const open = stepOf({ devices: [{ ...magnet, window: null }] })
    expect(recordProofs([result({ step: open })])).toMatchObject({ ok: false })
    expect(recordProofs([result({ step: open, result: 'failed' })])).toMatchObject({ ok: true })
  })

  test('that failed makes a finding with what was read', () => {
    const made = recordProofs([result({ result: 'failed', reading: 18, notes: 'At the end of the run.' })])
    expect(made).toMatchObject({ ok: true })
    const finding = made.ok ? made.command.add.find(({ kind }) => kind === 'finding') : undefined
    expect(finding?.record['words']).toMatch(
      /Expected: between 19.2 and 28.8 V.*Read: 18 V.*At the end of the run/,
    )
    expect(finding?.record['proofId']).toBe(made.ok ? made.command.add[0]?.record['id'] : '')
  })
})

describe('the proof of an opening', () => {
  const kept = (more: Partial<JobRecord<'proof'>>): JobRecord<'proof'> => ({
    id: asId('proof-1'),
    openingId: asId('a'),
    fittingId: null,
    step: 'volts 118 M1',
    condition: null,
    expected: 'between 19.2 and 28.8 V; worked out 22.84 V',
    result: 'passed',
    reading: 22.7,
    unit: 'V',
    notes: null,
    who: 'Ada',
    at: '2026-03-03T14:00:00Z',
    ...more,
  })
  const proofWith = (...records: readonly JobRecord<'proof'>[]) => {
    const data = smallJob()
    for (const each of data.referring('proof', 'openingId', 'a'))
      data.apply([{ does: 'remove', kind: 'proof', record: each }])
    for (const each of records) data.put('proof', each)
    return openingProof(data, 'a', proofSteps({ ...nothing, devices: [magnet] }))
  }

  test.each<[string, readonly JobRecord<'proof'>[], string]>([
    ['nothing noted', [], 'not done'],
    ['passed as expected', [kept({})], 'passed'],
    ['passed when something else was expected', [kept({ expected: 'between 10 and 14 V' })], 'stale'],
    ['failed', [kept({ result: 'failed' })], 'failed'],
    [
      'failed, then passed later',
      [kept({ result: 'failed' }), kept({ id: asId('proof-2'), at: '2026-03-04T08:00:00Z' })],
      'passed',
    ],
    ['left open', [kept({ result: 'not done' })], 'not done'],
  ])('with %s is %s', (_what, records, state) => {
    const proof = proofWith(...records)
    expect(proof.lines[0]?.state).toBe(state)
    expect(proof.proved).toBe(state === 'passed')
    expect(proof.lines[0]?.staleBecause === null).toBe(state !== 'stale')
  })

  test('keeps what was proved of things that are gone', () => {
    const proof = proofWith(kept({}), kept({ id: asId('proof-2'), step: 'volts 118 M9' }))
    expect(proof.gone.map(({ step }) => step)).toEqual(['volts 118 M9'])
  })
})
