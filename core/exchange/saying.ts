// Puts problems into sentences that name the row, the field and what was expected.
import { sentenceAbout, type NotKnown } from '../job/index.ts'
import type { IntakeProblem } from './understanding.ts'

export interface Where {
  readonly row: number
  readonly place: string
  /** How the message begins: "Row 14" or the door's own name. */
  readonly called: string
}

/** Gathers the problems of one source. */
export interface Problems {
  readonly found: IntakeProblem[]
  readonly refuse: (where: Where, field: string, found: string, reading: NotKnown) => void
  readonly refuseSaying: (where: Where, field: string, found: string, expected: string, words: string) => void
  readonly ask: (where: Where, field: string, found: string, question: string) => void
}

export function problemList(): Problems {
  const found: IntakeProblem[] = []
  const add = (
    { row, place, called }: Where,
    field: string,
    text: string,
    expected: string,
    weight: IntakeProblem['weight'],
    words: string,
  ): void =>
    void found.push({
      row,
      place,
      field,
      found: text.trim(),
      expected,
      weight,
      sentence: `${called}, ${field}: ${words}`,
    })
  return {
    found,
    refuse: (where, field, text, reading) =>
      add(where, field, text, reading.expected, 'refused', sentenceAbout(text, reading)),
    refuseSaying: (where, field, text, expected, words) =>
      add(where, field, text, expected, 'refused', words),
    ask: (where, field, text, question) => add(where, field, text, question, 'question', question),
  }
}
