// How open the way in and the way out are in one condition, as the gate mark shows it, and what it says in words.
import type { Answer, Truth } from '../behaviour/index.ts'

export type GatePassage =
  | { readonly form: 'free' }
  /** One motion of ordinary hardware, or several. */
  | { readonly form: 'free by hardware'; readonly motions: number }
  | { readonly form: 'waits'; readonly seconds: number }
  | { readonly form: 'held' }
  | { readonly form: 'not known' }

export interface Gate {
  readonly in: GatePassage
  readonly out: GatePassage
  /** Whether a person cannot get out and no accepted arrangement covers it; `unknown` while missing facts decide. */
  readonly trapped: Truth
}

function gatePassage(answer: Answer): GatePassage {
  switch (answer.form) {
    case 'free':
    case 'held':
      return { form: answer.form }
    case 'not known':
      return { form: 'not known' }
    case 'free by hardware':
      return { form: 'free by hardware', motions: Math.max(1, answer.by.length) }
    case 'waits':
      return { form: 'waits', seconds: answer.seconds }
  }
}

/** What the gate mark shows of a result: a condition's, or one leaf's. */
export const gateOf = (passages: { readonly in: Answer; readonly out: Answer }, trapped: Truth): Gate => ({
  in: gatePassage(passages.in),
  out: gatePassage(passages.out),
  trapped,
})

/** One passage in words: "free", "waits 15 seconds". */
export function passageWords(passage: GatePassage): string {
  switch (passage.form) {
    case 'free':
    case 'held':
    case 'not known':
      return passage.form
    case 'free by hardware':
      return passage.motions === 1 ? 'free by hardware' : `free by ${passage.motions} motions of hardware`
    case 'waits':
      return `waits ${passage.seconds} ${passage.seconds === 1 ? 'second' : 'seconds'}`
  }
}

/** A gate in words, for ears, for search and for copying: "in held, out free by hardware". */
export function gateWords(gate: Gate): string {
  const words = `in ${passageWords(gate.in)}, out ${passageWords(gate.out)}`
  switch (gate.trapped) {
    case 'no':
      return words
    case 'yes':
      return `${words}: a person cannot get out`
    case 'unknown':
      return `${words}: not known whether a person can get out`
  }
}
