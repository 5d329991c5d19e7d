// Answers with who, when and where they stand; and which of them holds for one opening.
import type { FactForm, FactKey, FactValue, ValueOf } from './facts.ts'
import { facts, isFactKey } from './facts.ts'

export type AnswerPlace = 'job' | 'level' | 'typical' | 'opening'

export interface AnswerOrigin {
  readonly at: AnswerPlace
  readonly who: string | null
  /** ISO 8601, UTC. */
  readonly when: string | null
}

export type Answer<T> =
  | { readonly known: true; readonly value: T; readonly origin: AnswerOrigin }
  | { readonly known: false }

const notAnswered: Answer<never> = { known: false }

/** A known answer that stands on the job; for facts the program reads from its own records. */
export const answered = <T>(value: T, at: AnswerPlace = 'job'): Answer<T> => ({
  known: true,
  value,
  origin: { at, who: null, when: null },
})

/** One kept answer, as the job file has it. At most one of the three places is named; none is the job. */
export interface KeptAnswer {
  readonly fact: string
  readonly levelId: string | null
  readonly typicalId: string | null
  readonly openingId: string | null
  readonly value: string
  readonly who: string | null
  readonly at: string | null
}

export type AnswerProblem =
  | { readonly code: 'no such fact'; readonly fact: string }
  | {
      readonly code: 'not understood'
      readonly fact: string
      readonly value: string
      readonly expected: FactForm
    }

/** The name under which the answer to a job's own rule is kept. */
export const localFact = (ruleKey: string): string => `local:${ruleKey}`

/** The text as it is kept for a value; `readValue` reads it back. */
export const writeValue = (value: FactValue): string =>
  value === true
    ? 'yes'
    : value === false
      ? 'no'
      : typeof value === 'object'
        ? value.join(', ')
        : String(value)

/** The value a kept text means, or null where it means none. Never a guess. */
export function readValue(form: FactForm, text: string): FactValue | null {
  const trimmed = text.trim()
  switch (form.form) {
    case 'yes or no':
      return trimmed === 'yes' ? true : trimmed === 'no' ? false : null
    case 'number': {
      const value = /^\d+(\.\d+)?$/.test(trimmed) ? Number(trimmed) : Number.NaN
      return Number.isFinite(value) ? value : null
    }
    case 'one of':
      return form.of.includes(trimmed) ? trimmed : null
    case 'some of': {
      const words = trimmed.split(',').map((word) => word.trim())
      return words.every((word) => form.of.includes(word)) ? words : null
    }
  }
}

type Answers = ReadonlyMap<string, Answer<FactValue>>
const none: Answers = new Map()

/** All answers of a job, by place. */
export interface AnswersByPlace {
  readonly job: Answers
  readonly levels: ReadonlyMap<string, Answers>
  readonly typicals: ReadonlyMap<string, Answers>
  readonly openings: ReadonlyMap<string, Answers>
  readonly problems: readonly AnswerProblem[]
}

/** Reads kept answers. One that cannot be understood is reported and counts as unanswered. */
export function readAnswers(kept: readonly KeptAnswer[]): AnswersByPlace {
  const job = new Map<string, Answer<FactValue>>()
  const levels = new Map<string, Map<string, Answer<FactValue>>>()
  const typicals = new Map<string, Map<string, Answer<FactValue>>>()
  const openings = new Map<string, Map<string, Answer<FactValue>>>()
  const problems: AnswerProblem[] = []
  const into = (
    places: Map<string, Map<string, Answer<FactValue>>>,
    id: string,
  ): Map<string, Answer<FactValue>> => {
    const found = places.get(id) ?? new Map<string, Answer<FactValue>>()
    places.set(id, found)
    return found
  }
  for (const one of kept) {
    const form: FactForm | null = isFactKey(one.fact)
      ? facts[one.fact].answer
      : one.fact.startsWith(localFact(''))
        ? { form: 'yes or no' }
        : null
    if (form === null) {
      problems.push({ code: 'no such fact', fact: one.fact })
      continue
    }
    const value = readValue(form, one.value)
    if (value === null) {
      problems.push({ code: 'not understood', fact: one.fact, value: one.value, expected: form })
      continue
    }
    const [at, place]: [AnswerPlace, Map<string, Answer<FactValue>>] =
      one.openingId !== null
        ? ['opening', into(openings, one.openingId)]
        : one.typicalId !== null
          ? ['typical', into(typicals, one.typicalId)]
          : one.levelId !== null
            ? ['level', into(levels, one.levelId)]
            : ['job', job]
    place.set(one.fact, { known: true, value, origin: { at, who: one.who, when: one.at } })
  }
  return { job, levels, typicals, openings, problems }
}

/** The facts of one opening. */
export interface Facts {
  readonly answer: <K extends FactKey>(key: K) => Answer<ValueOf<K>>
  readonly local: (ruleKey: string) => Answer<boolean>
  /** The same text for the same answers, whatever their origin. */
  readonly key: string
}

/** Facts the program reads from its own records, such as the fire label. */
export type ReadFacts = { readonly [K in FactKey]?: ValueOf<K> | null }

const keyOf = (answers: Answers): string =>
  [...answers]
    .map(([key, answer]) => (answer.known ? `${key}=${writeValue(answer.value)}` : ''))
    .toSorted()
    .join('\n')

function factsOf(answers: Answers, key = keyOf(answers)): Facts {
  return {
    answer: <K extends FactKey>(key: K) => (answers.get(key) ?? notAnswered) as Answer<ValueOf<K>>,
    local: (ruleKey) => (answers.get(localFact(ruleKey)) ?? notAnswered) as Answer<boolean>,
    key,
  }
}

/** Facts from plain values, as if answered on the job. */
export function factsFrom(
  values: ReadFacts,
  locals: Readonly<Record<string, boolean>> = {},
  at: AnswerPlace = 'job',
): Facts {
  const map = new Map<string, Answer<FactValue>>()
  addRead(map, values, at)
  for (const [key, value] of Object.entries(locals)) map.set(localFact(key), answered(value, at))
  return factsOf(map)
}

function addRead(into: Map<string, Answer<FactValue>>, values: ReadFacts, at: AnswerPlace): void {
  for (const [key, value] of Object.entries(values))
    if (value !== null) into.set(key, answered<FactValue>(value, at))
}

export interface FactsPlace {
  readonly levelId: string
  readonly typicalId: string | null
  readonly openingId: string
  /** Read from the opening's own record: nearest of all. */
  readonly read?: ReadFacts
}

/**
 * Finds the facts of openings: the opening's answer overrides the typical's, the level's and the job's. Openings that
 * have the same answers around them and none of their own share one value.
 */
export function factsResolver(
  answers: AnswersByPlace,
  readForJob: ReadFacts = {},
): (place: FactsPlace) => Facts {
  const job = new Map<string, Answer<FactValue>>()
  addRead(job, readForJob, 'job')
  for (const [key, answer] of answers.job) job.set(key, answer)
  const wider = new Map<string, Wider>()
  const widerAt = (levelId: string, typicalId: string | null): Wider => {
    const level = answers.levels.get(levelId)
    const typical = typicalId === null ? undefined : answers.typicals.get(typicalId)
    const place = `${level === undefined ? '' : levelId}\n${typical === undefined ? '' : typicalId}`
    const same = wider.get(place)
    if (same !== undefined) return same
    const merged = new Map([...job, ...(level ?? none), ...(typical ?? none)])
    const fresh: Wider = { answers: merged, key: keyOf(merged), shared: new Map() }
    wider.set(place, fresh)
    return fresh
  }
  return ({ levelId, typicalId, openingId, read = {} }) => {
    const around = widerAt(levelId, typicalId)
    const own = answers.openings.get(openingId)
    if (own !== undefined) return nearer(around, own, read)
    const readKey = JSON.stringify(read)
    const found = around.shared.get(readKey) ?? nearer(around, none, read)
    around.shared.set(readKey, found)
    return found
  }
}

interface Wider {
  readonly answers: Answers
  readonly key: string
  /** Facts of openings without an answer of their own, by what their records say. */
  readonly shared: Map<string, Facts>
}

function nearer(around: Wider, ofOpening: Answers, read: ReadFacts): Facts {
  const own = new Map(ofOpening)
  addRead(own, read, 'opening')
  // What is nearer stands after what it overrides, so that the same text still means the same answers.
  return factsOf(new Map([...around.answers, ...own]), `${around.key}\n\n${keyOf(own)}`)
}

/** What the job's chosen building code answers. A code of another name answers nothing. */
export function codeFacts(buildingCode: string | null): ReadFacts {
  switch (buildingCode) {
    case 'IBC 2018':
      return { 'ibc-edition': '2018' }
    case 'IBC 2021':
      return { 'ibc-edition': '2021' }
    case 'IBC 2024':
      return { 'ibc-edition': '2024' }
    case 'NFPA 101 2018':
      return { 'nfpa-101-edition': '2018' }
    case 'NFPA 101 2021':
      return { 'nfpa-101-edition': '2021' }
    case 'NFPA 101 2024':
      return { 'nfpa-101-edition': '2024' }
    default:
      return {}
  }
}
