// Rules of the job's own, for what a city, a state or an owner asks beyond the model codes.
import type { Arrangement } from './arrangement.ts'
import type { Answerer, FactKey, FactValue } from './facts.ts'
import type { Severity } from './rule.ts'

/** A rule of the job's own, for a local amendment. Unanswered is not known, like any other rule. */
export interface LocalRule {
  readonly key: string
  readonly sentence: string
  /** As the user writes it: the ordinance, its section, its date. */
  readonly citation: string
  readonly question: string
  readonly answeredBy: Answerer
  readonly wanted: 'yes' | 'no'
  readonly severity: Severity
  readonly appliesTo: LocalScope
}

export type LocalScope =
  | { readonly to: 'every opening' }
  | { readonly to: 'openings where'; readonly fact: FactKey; readonly is: FactValue }
  | { readonly to: 'ways out'; readonly arrangement: Arrangement }
