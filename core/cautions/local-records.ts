// Rules of the job's own as records keep them, read into values; what does not fit is said in a sentence.
import type { JobRecord } from '../job/index.ts'
import { readValue } from './answers.ts'
import { expectedWords } from './answering.ts'
import { arrangements } from './arrangement.ts'
import { answerers, facts, isFactKey } from './facts.ts'
import type { LocalRule, LocalScope } from './local-rule.ts'
import { severities } from './rule.ts'

export interface LocalRules {
  readonly rules: readonly LocalRule[]
  /** Sentences about rules that cannot be judged as they stand. */
  readonly problems: readonly { readonly id: string; readonly sentence: string }[]
}

type LocalRecord = JobRecord<'localRule'>
type Read<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly sentence: string }

const oneOf = <T extends string>(field: string, text: string | null, of: readonly T[]): Read<T> => {
  const value = of.find((each) => each === text)
  return value === undefined
    ? { ok: false, sentence: `${field} is "${text ?? ''}"; expected one of ${of.join(', ')}.` }
    : { ok: true, value }
}

/** Reads the job's own rules in their order. One that does not fit is left out and named. */
export function readLocalRules(records: Iterable<LocalRecord>): LocalRules {
  const rules: LocalRule[] = []
  const problems: { id: string; sentence: string }[] = []
  const inOrder = [...records].toSorted((a, b) => a.position - b.position || (a.id < b.id ? -1 : 1))
  for (const [place, record] of inOrder.entries()) {
    const read = readLocalRule(record)
    if (read.ok) rules.push(read.value)
    else problems.push({ id: record.id, sentence: `Rule ${place + 1} of the job’s own: ${read.sentence}` })
  }
  return { rules, problems }
}

/** One rule of the job's own, or what is wrong with it. */
export function readLocalRule(record: LocalRecord): Read<LocalRule> {
  const { id, sentence, citation, question, wanted } = record
  const answeredBy = oneOf('who answers', record.answeredBy, answerers)
  if (!answeredBy.ok) return answeredBy
  const severity = oneOf('what follows', record.severity, severities)
  if (!severity.ok) return severity
  const appliesTo = readScope(record)
  if (!appliesTo.ok) return appliesTo
  for (const [field, text] of [
    ['what is asked for', sentence],
    ['the citation', citation],
    ['the question', question],
  ] as const)
    if (text.trim() === '') return { ok: false, sentence: `${field} is empty; expected words.` }
  return {
    ok: true,
    value: {
      key: id,
      sentence,
      citation,
      question,
      answeredBy: answeredBy.value,
      wanted,
      severity: severity.value,
      appliesTo: appliesTo.value,
    },
  }
}

function readScope({ appliesTo, fact, factIs, arrangement }: LocalRecord): Read<LocalScope> {
  switch (appliesTo) {
    case 'every opening':
      return { ok: true, value: { to: appliesTo } }
    case 'ways out': {
      const read = oneOf('the way out', arrangement, arrangements)
      return read.ok ? { ok: true, value: { to: appliesTo, arrangement: read.value } } : read
    }
    case 'openings where': {
      if (fact === null || !isFactKey(fact))
        return { ok: false, sentence: `the fact "${fact ?? ''}" is not one that this program asks for.` }
      const form = facts[fact].answer
      const is = readValue(form, factIs ?? '')
      return is === null
        ? { ok: false, sentence: `the answer "${factIs ?? ''}" does not fit; ${expectedWords(form)}.` }
        : { ok: true, value: { to: appliesTo, fact, is } }
    }
  }
}
