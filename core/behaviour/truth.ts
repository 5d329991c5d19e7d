// Three-valued logic (Kleene's): what is not known stays not known unless the known part decides alone.
import type { ContactState, Fact, Path, Question } from './model.ts'

export type Truth = 'yes' | 'no' | 'unknown'

export const truthOf = (value: boolean): Truth => (value ? 'yes' : 'no')

export const not = (truth: Truth): Truth => (truth === 'yes' ? 'no' : truth === 'no' ? 'yes' : 'unknown')

export const both = (one: Truth, other: Truth): Truth =>
  one === 'no' || other === 'no' ? 'no' : one === 'yes' && other === 'yes' ? 'yes' : 'unknown'

export const either = (one: Truth, other: Truth): Truth =>
  one === 'yes' || other === 'yes' ? 'yes' : one === 'no' && other === 'no' ? 'no' : 'unknown'

/** What holds whichever of the two is the case. */
export const whichever = (one: Truth, other: Truth): Truth => (one === other ? one : 'unknown')

/** `yes` gives the first, `no` the second, and not knowing gives what both agree on. */
export const choose = (truth: Truth, whenYes: Truth, whenNo: Truth): Truth =>
  truth === 'yes' ? whenYes : truth === 'no' ? whenNo : whichever(whenYes, whenNo)

export const known = <T>(value: T, origin: string | null = null): Fact<T> => ({ known: true, value, origin })
export const unknown = (question: Question): Fact<never> => ({ known: false, question })

/** Whether a fact has this value. */
export const isTruth = <T>(fact: Fact<T>, value: T): Truth =>
  fact.known ? truthOf(fact.value === value) : 'unknown'

export const isClosed = (fact: Fact<ContactState>): Truth => isTruth(fact, 'closed')

/** A wire with nothing in it. */
export const wire: Path = { form: 'series', of: [] }
