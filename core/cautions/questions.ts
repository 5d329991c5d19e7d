// What to ask, of whom: one question answers many openings.
import { questionSentence } from '../behaviour/index.ts'
import type { Caution } from './judge.ts'
import { missingKey, type Missing } from './checks.ts'
import { answerers, facts, type Answerer, type FactForm, type FactPlace } from './facts.ts'
import { rankOf } from './judge.ts'

export interface OpenQuestion {
  readonly key: string
  readonly missing: Missing
  readonly sentence: string
  /** Null where it is answered by completing the drawing or the catalogue, not by words. */
  readonly answer: FactForm | null
  /** Where one answer usually does. */
  readonly belongsTo: FactPlace
  /** The openings it holds up, in the order given. */
  readonly openings: readonly string[]
  /** The rules it holds up. */
  readonly rules: readonly string[]
  /** The gravest of what can follow; lower is graver. */
  readonly rank: number
}

export interface QuestionsFor {
  readonly answeredBy: Answerer
  readonly questions: readonly OpenQuestion[]
}

interface Collected {
  readonly missing: Missing
  readonly openings: Set<string>
  readonly rules: Set<string>
  rank: number
}

/** All missing facts of a job, grouped by who can answer; graver first, then the one that settles more openings. */
export function openQuestions(
  cautionsOfOpenings: Iterable<readonly [opening: string, cautions: readonly Caution[]]>,
): readonly QuestionsFor[] {
  const found = new Map<string, Collected>()
  for (const [opening, cautions] of cautionsOfOpenings)
    for (const caution of cautions)
      for (const missing of caution.missing) collect(found, opening, caution, missing)
  const questions = [...found].map(([key, { missing, openings, rules, rank }]) => ({
    answeredBy: answererOf(missing),
    question: {
      key,
      missing,
      sentence: sentenceOf(missing),
      answer: formOf(missing),
      belongsTo: placeOf(missing),
      openings: [...openings],
      rules: [...rules],
      rank,
    },
  }))
  return answerers.flatMap((answeredBy) => {
    const theirs = questions
      .filter((each) => each.answeredBy === answeredBy)
      .map(({ question }) => question)
      .toSorted(
        (one, other) =>
          one.rank - other.rank ||
          other.openings.length - one.openings.length ||
          (one.key < other.key ? -1 : 1),
      )
    return theirs.length === 0 ? [] : [{ answeredBy, questions: theirs }]
  })
}

function collect(found: Map<string, Collected>, opening: string, caution: Caution, missing: Missing): void {
  // Behaviour and traits are named per thing; the same names on two openings may be two things.
  const own = missing.about === 'fact' || missing.about === 'local' ? '' : `${opening}: `
  const key = own + missingKey(missing)
  const rank = rankOf(caution)
  const same = found.get(key)
  if (same === undefined)
    found.set(key, { missing, openings: new Set([opening]), rules: new Set([caution.rule.key]), rank })
  else {
    same.openings.add(opening)
    same.rules.add(caution.rule.key)
    same.rank = Math.min(same.rank, rank)
  }
}

function answererOf(missing: Missing): Answerer {
  switch (missing.about) {
    case 'fact':
      return facts[missing.fact].answeredBy
    case 'local':
      return missing.answeredBy
    case 'trait':
      return 'door supplier'
    case 'behaviour':
    case 'condition':
    case 'fittings':
      return 'integrator on site'
  }
}

function placeOf(missing: Missing): FactPlace {
  switch (missing.about) {
    case 'fact':
      return facts[missing.fact].belongsTo
    case 'local':
      return 'job'
    case 'trait':
    case 'behaviour':
      return 'typical'
    case 'condition':
    case 'fittings':
      return 'opening'
  }
}

const formOf = (missing: Missing): FactForm | null =>
  missing.about === 'fact'
    ? facts[missing.fact].answer
    : missing.about === 'local'
      ? { form: 'yes or no' }
      : null

/** The question as a person asks it. */
export function sentenceOf(missing: Missing): string {
  switch (missing.about) {
    case 'fact':
      return facts[missing.fact].question
    case 'local':
      return missing.question
    case 'behaviour':
      return questionSentence(missing.question)
    case 'condition':
      return `What does the doorway do in the condition "${missing.condition}"? It was not worked out.`
    case 'fittings':
      return 'Which fittings does this opening have?'
    case 'trait':
      return missing.trait === 'how it is worked'
        ? `How is the ${missing.fitting} worked: does it sense people, or is it pressed?`
        : `Does the ${missing.fitting} hold with power or without?`
  }
}
