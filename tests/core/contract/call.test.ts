import fc from 'fast-check'
import { expect, test } from 'vitest'
import { z } from 'zod'
import { answering, call, done, refused, type Handlers } from '../../../core/contract/call.ts'

const contract = {
  'opening.rename': call(
    z.strictObject({
      id: z.string().min(1).max(64),
      mark: z.string().min(1).max(40),
      count: z.int().default(1),
    }),
    z.strictObject({ mark: z.string(), count: z.int() }),
  ),
  'job.lose': call(z.strictObject({}), z.null()),
  'job.lie': call(z.strictObject({}), z.strictObject({ openings: z.int() })),
  'job.refuse': call(z.strictObject({}), z.null()),
}

const handlers: Handlers<typeof contract> = {
  'opening.rename': ({ mark, count }) => done({ mark: mark.trim(), count }),
  'job.lose': () => {
    throw new Error('disk on fire at /secret/path')
  },
  'job.lie': async () => done({ openings: 'many' as unknown as number }),
  'job.refuse': () => refused('read-only', 'This job is open in another window.', { holder: 'Bee' }),
}

const logged: [string, unknown][] = []
const log = (callName: string, error: unknown) => logged.push([callName, error])
const answer = answering(contract, handlers, { log })
const strictAnswer = answering(contract, handlers, { log, checkAnswers: true })
const nothing = {}

test('a good call is answered, with defaults filled in', async () => {
  expect(await answer({ call: 'opening.rename', input: { id: 'a', mark: ' 101 ' } })).toEqual({
    ok: true,
    value: { mark: '101', count: 1 },
  })
})

test('expected trouble passes through as it is', async () => {
  expect(await answer({ call: 'job.refuse', input: {} })).toEqual({
    ok: false,
    problem: {
      code: 'read-only',
      sentence: 'This job is open in another window.',
      details: { holder: 'Bee' },
    },
  })
})

test.each([
  ['field missing', { id: 'a' }, 'mark'],
  ['wrong kind', { id: 'a', mark: 101 }, 'mark'],
  ['too long', { id: 'a', mark: 'x'.repeat(41) }, 'mark'],
  ['a field too many', { id: 'a', mark: '1', admin: true }, ''],
  ['no object', 'opening', ''],
  ['nothing', undefined, ''],
])('input is refused with its field: %s', async (_name, input, field) => {
  const refusal = await answer({ call: 'opening.rename', input })
  expect(refusal).toMatchObject({
    ok: false,
    problem: { code: 'input-not-understood', details: { faults: [{ field }] } },
  })
  expect(refusal.ok || refusal.problem.sentence).toMatch(/^The request opening\.rename was not understood/)
})

test.each([
  '__proto__',
  'constructor',
  'toString',
  'hasOwnProperty',
  'valueOf',
  'opening.Rename',
  '',
  'x'.repeat(101),
])('%s is not a call', async (name) => {
  expect(await answer({ call: name, input: {} })).toMatchObject({
    ok: false,
    problem: { code: 'not-a-call' },
  })
})

test.each([
  ['null', null],
  ['a list', []],
  ['a word', 'opening.rename'],
  ['no input', { call: 'job.refuse', input: {}, extra: 1 }],
  ['a name that is no text', { call: ['job.refuse'], input: {} }],
  ['a polluted object', JSON.parse('{"__proto__":{"call":"job.refuse"},"input":{}}') as unknown],
])('an envelope of another form is not a call: %s', async (_name, raw) => {
  expect(await answer(raw)).toMatchObject({ ok: false, problem: { code: 'not-a-call' } })
})

test('an error is told to the log alone', async () => {
  logged.length = 0
  const refusal = await answer({ call: 'job.lose', input: {} })
  expect(refusal).toMatchObject({ ok: false, problem: { code: 'unexpected' } })
  expect(JSON.stringify(refusal)).not.toMatch(/fire|secret/)
  expect(logged).toEqual([['job.lose', new Error('disk on fire at /secret/path')]])
})

test('a value that throws when it is read is answered too', async () => {
  const hostile = {
    get call(): string {
      throw new Error('gotcha')
    },
    input: nothing,
  }
  expect(await answer(hostile)).toMatchObject({ ok: false, problem: { code: 'unexpected' } })
})

test('answers are checked in tests, and not in use', async () => {
  const lie = { call: 'job.lie', input: {} }
  expect(await answer(lie)).toEqual({ ok: true, value: { openings: 'many' } })
  expect(await strictAnswer(lie)).toMatchObject({ ok: false, problem: { code: 'unexpected' } })
})

test('any JSON gets a refusal and never an error', async () => {
  await fc.assert(
    fc.asyncProperty(fc.jsonValue(), fc.constantFrom(...Object.keys(contract)), async (value, name) => {
      expect((await answer(value)).ok).toBe(false)
      const inside = await answer({ call: name, input: value })
      expect(typeof inside.ok).toBe('boolean')
    }),
    { numRuns: 500 },
  )
})
