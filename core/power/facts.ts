// Known or not known. A missing fact never becomes a zero, a default or a pass.

/** What a question asks for. Its sentence is in sentences.ts. */
export type Asked =
  | 'length'
  | 'wire size'
  | 'stranding'
  | 'conductors'
  | 'feed'
  | 'return'
  | 'load form'
  | 'holding current'
  | 'in-rush current'
  | 'stated volts'
  | 'working window'
  | 'voltage setting'
  | 'drawing at rest'
  | 'drawing on alarm'
  | 'nominal volts'
  | 'lowest volts'
  | 'highest volts'
  | 'rated current'
  | 'fuse'
  | 'class 2'
  | 'own current'
  | 'efficiency'
  | 'battery'
  | 'battery temperature'
  | 'standby hours'
  | 'alarm minutes'
  | 'charging current'
  | 'power at device'
  | 'type and class'
  | 'budget'

/** One missing fact; the thing is named as people name it. */
export interface Question {
  readonly about: Asked
  readonly thing: string
}

export type Fact<T> =
  | { readonly known: true; readonly value: T; readonly origin: string | null }
  | { readonly known: false; readonly question: Question }

export const known = <T>(value: T, origin: string | null = null): Fact<T> => ({ known: true, value, origin })
export const unknown = (about: Asked, thing: string): Fact<never> => ({
  known: false,
  question: { about, thing },
})

/** Known when the value is there. */
export const factOf = <T>(value: T | null | undefined, about: Asked, thing: string): Fact<T> =>
  value === null || value === undefined ? unknown(about, thing) : known(value)

/** Four answers. Not known names the questions and never counts as met. */
export type Verdict = 'met' | 'not met' | 'not known' | 'does not apply'

/** Questions in order, each once. */
export function distinct(questions: readonly Question[]): readonly Question[] {
  if (questions.length < 2) return questions
  const found = new Map<string, Question>()
  for (const question of questions) {
    const key = `${question.about} ${question.thing}`
    if (!found.has(key)) found.set(key, question)
  }
  return [...found.values()]
}

/** Adds the question of a fact that is missing. */
export function ask(questions: Question[], fact: Fact<unknown>): void {
  if (!fact.known) questions.push(fact.question)
}

/** The questions of the facts that are missing. */
export function questionsOf(...facts: readonly Fact<unknown>[]): readonly Question[] {
  const questions: Question[] = []
  for (const fact of facts) ask(questions, fact)
  return distinct(questions)
}

type Values<F extends readonly Fact<unknown>[]> = {
  -readonly [K in keyof F]: F[K] extends Fact<infer T> ? T : never
}

/** All values, or the questions of those that are missing. */
export function together<const F extends readonly Fact<unknown>[]>(
  ...facts: F
):
  | { readonly known: true; readonly values: Values<F> }
  | { readonly known: false; readonly questions: readonly Question[] } {
  const questions = questionsOf(...facts)
  if (questions.length > 0) return { known: false, questions }
  const values = facts.map((fact) => (fact.known ? fact.value : undefined)) as Values<F>
  return { known: true, values }
}
