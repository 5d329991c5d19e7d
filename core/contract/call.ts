// How one process asks another: a named call, its shapes, and an answer that never throws. The list of calls is contract.ts.
import { z } from 'zod'

/** One call: what it is given and what it answers. */
export interface Call<Input extends z.ZodType = z.ZodType, Output extends z.ZodType = z.ZodType> {
  readonly input: Input
  readonly output: Output
}

/** Calls by name. */
export type Contract = Readonly<Record<string, Call>>
export type CallName<Calls extends Contract> = keyof Calls & string

/** What the asking side hands over, before defaults are filled in. */
export type Given<Calls extends Contract, Name extends CallName<Calls>> = z.input<Calls[Name]['input']>
/** What the answering side gets, after validation. */
export type In<Calls extends Contract, Name extends CallName<Calls>> = z.output<Calls[Name]['input']>
/** The value of a good answer. */
export type Out<Calls extends Contract, Name extends CallName<Calls>> = z.output<Calls[Name]['output']>

/** Expected trouble: a code for programs, a sentence for people, and whatever helps to put it right. */
export interface Problem {
  readonly code: string
  readonly sentence: string
  readonly details?: unknown
}

export interface Done<Value> {
  readonly ok: true
  readonly value: Value
}

export interface Refused {
  readonly ok: false
  readonly problem: Problem
}

export type Answer<Value = unknown> = Done<Value> | Refused

/** A function that answers anything that arrives, known or hostile. It never throws. */
export type Answering = (raw: unknown) => Promise<Answer>

/** One function per call of the contract. */
export type Handlers<Calls extends Contract> = {
  readonly [Name in CallName<Calls>]: (
    input: In<Calls, Name>,
  ) => Answer<Out<Calls, Name>> | Promise<Answer<Out<Calls, Name>>>
}

export interface AnsweringOptions {
  /** Gets the error behind an `unexpected` answer; nothing of it reaches the asking side. */
  readonly log: (callName: string, error: unknown) => void
  /** Tests check answers too. Off in use, because a schedule of 10,000 openings is large. */
  readonly checkAnswers?: boolean
}

/** Names the two shapes of a call. */
export const call = <Input extends z.ZodType, Output extends z.ZodType>(
  input: Input,
  output: Output,
): Call<Input, Output> => ({ input, output })

export const done = <Value>(value: Value): Done<Value> => ({ ok: true, value })

export const refused = (code: string, sentence: string, details?: unknown): Refused => ({
  ok: false,
  problem: details === undefined ? { code, sentence } : { code, sentence, details },
})

const envelopeShape = z.strictObject({ call: z.string().max(100), input: z.unknown() })

/** What travels: the name of the call and its input. */
export interface Envelope {
  readonly call: string
  readonly input: unknown
}

/** Where an input differs from what the call takes; `field` is a path such as `rows.3.mark`, or empty for the whole. */
export interface InputFault {
  readonly field: string
  readonly expected: string
}

const notACall = () => refused('not-a-call', 'The request was not understood. Nothing was changed.')

const unexpected = () =>
  refused(
    'unexpected',
    'Something unexpected went wrong. What was saved before is safe. If it happens again, start the program anew.',
  )

function inputNotUnderstood(callName: string, error: z.ZodError): Refused {
  const faults: InputFault[] = error.issues.map((issue) => ({
    field: issue.path.map(String).join('.'),
    expected: issue.message,
  }))
  const first = faults[0]
  const where = first === undefined || first.field === '' ? 'the input' : `the field ${first.field}`
  const what = first === undefined ? '' : ` (${first.expected})`
  return refused(
    'input-not-understood',
    `The request ${callName} was not understood because of ${where}${what}. Nothing was changed.`,
    { faults: faults.slice(0, 20) },
  )
}

/**
 * Joins a contract to the functions that answer it.
 * The input is validated on arrival, unknown names are refused, and an error becomes the answer `unexpected`.
 */
export function answering<Calls extends Contract>(
  contract: Calls,
  handlers: Handlers<Calls>,
  { log, checkAnswers = false }: AnsweringOptions,
): Answering {
  // A map holds only what was put in, so `__proto__` and `constructor` are not calls.
  const known = new Map<string, Call>(Object.entries(contract))
  const functions = new Map<string, (input: never) => Answer | Promise<Answer>>(Object.entries(handlers))

  async function answerKnown(callName: string, shapes: Call, rawInput: unknown): Promise<Answer> {
    const input = shapes.input.safeParse(rawInput)
    if (!input.success) return inputNotUnderstood(callName, input.error)
    const handle = functions.get(callName)
    if (handle === undefined) throw new Error(`The call ${callName} has no handler`)
    const answer = await handle(input.data as never)
    if (checkAnswers && answer.ok) shapes.output.parse(answer.value)
    return answer
  }

  return async (raw) => {
    let callName = 'an unreadable call'
    try {
      const envelope = envelopeShape.safeParse(raw)
      const shapes = envelope.success ? known.get(envelope.data.call) : undefined
      if (!envelope.success || shapes === undefined) return notACall()
      callName = envelope.data.call
      return await answerKnown(callName, shapes, envelope.data.input)
    } catch (error) {
      log(callName, error)
      return unexpected()
    }
  }
}
