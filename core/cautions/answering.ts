// Answering: what a given answer changes in the job, as one named change that can be taken back.
import type { AnswerPlace, KeptAnswer } from './answers.ts'
import { localFact, readValue, writeValue } from './answers.ts'
import { facts, isFactKey, type FactForm, type FactValue } from './facts.ts'

/** Where an answer shall stand. */
export type AnswerAt =
  | { readonly at: 'job' }
  | { readonly at: 'level'; readonly levelId: string }
  | { readonly at: 'typical'; readonly typicalId: string }
  | { readonly at: 'openings'; readonly openingIds: readonly string[] }

/** An answer as the job keeps it. */
export interface KeptAnswerRecord extends KeptAnswer {
  readonly id: string
}

type FieldValue = string | null | { readonly stamped: 'who' | 'at' }
type Fields = Record<string, FieldValue>

/** A command of the schedule, as `change records` takes it. */
export interface AnswerChange {
  readonly does: 'change records'
  readonly name: string
  readonly add: { readonly kind: 'factAnswer'; readonly record: Fields }[]
  readonly set: { readonly kind: 'factAnswer'; readonly id: string; readonly fields: Fields }[]
  readonly remove: { readonly kind: 'factAnswer'; readonly id: string }[]
}

export interface AnswerGiven {
  /** A fact's key, or `localFact` of a rule of the job's own. */
  readonly fact: string
  readonly value: FactValue
  readonly at: AnswerAt
  /** The place as undo names it: "the job", "Level 2", "118". */
  readonly placeWords: string
}

/** The form an answer to this fact takes; null where there is no such fact. */
export const formOfFact = (fact: string): FactForm | null =>
  isFactKey(fact) ? facts[fact].answer : fact.startsWith(localFact('')) ? { form: 'yes or no' } : null

/** A fact in few words, for the name of a change: "occupancy groups". */
export const factWords = (fact: string): string =>
  fact.startsWith(localFact('')) ? 'a rule of the job’s own' : fact.replaceAll('-', ' ')

/** A value as people read it: "yes", "30 s", "A-2, B". */
export function valueWords(form: FactForm, value: FactValue): string {
  const text = writeValue(value)
  return form.form === 'number' ? `${text} ${form.unit}` : text
}

/** A kept text as people read it; a text that means nothing stays as it is. */
export function keptWords(fact: string, text: string): string {
  const form = formOfFact(fact)
  const value = form === null ? null : readValue(form, text)
  return form === null || value === null ? text : valueWords(form, value)
}

/** Why a text is no answer to a question of this form. */
export function expectedWords(form: FactForm): string {
  switch (form.form) {
    case 'yes or no':
      return 'expected yes or no'
    case 'number':
      return `expected a number in ${form.unit}, such as 12 or 1.5`
    case 'one of':
      return `expected one of ${form.of.join(', ')}`
    case 'some of':
      return `expected some of ${form.of.join(', ')}, with commas between`
  }
}

interface Place {
  readonly levelId: string | null
  readonly typicalId: string | null
  readonly openingId: string | null
}

const nowhere: Place = { levelId: null, typicalId: null, openingId: null }

function placesOf(at: AnswerAt): readonly Place[] {
  switch (at.at) {
    case 'job':
      return [nowhere]
    case 'level':
      return [{ ...nowhere, levelId: at.levelId }]
    case 'typical':
      return [{ ...nowhere, typicalId: at.typicalId }]
    case 'openings':
      return at.openingIds.map((openingId) => ({ ...nowhere, openingId }))
  }
}

/** Where a kept answer stands; the nearest place named counts, as when it is read. */
export const placeOfAnswer = ({ openingId, typicalId, levelId }: Place): AnswerPlace =>
  openingId !== null ? 'opening' : typicalId !== null ? 'typical' : levelId !== null ? 'level' : 'job'

const placeKey = (place: Place): string => {
  const at = placeOfAnswer(place)
  return at === 'job' ? 'job' : `${at} ${place[`${at}Id`]}`
}

/** Answers a fact at a place. An answer that stands there is changed; who and when are filled in by the host. */
export function answerCommand(
  { fact, value, at, placeWords }: AnswerGiven,
  kept: Iterable<KeptAnswerRecord>,
): AnswerChange {
  const standing = Map.groupBy(
    [...kept].filter((each) => each.fact === fact),
    placeKey,
  )
  const said: Fields = { value: writeValue(value), who: { stamped: 'who' }, at: { stamped: 'at' } }
  const change: AnswerChange = {
    does: 'change records',
    name: `Answer ${factWords(fact)} for ${placeWords}`,
    add: [],
    set: [],
    remove: [],
  }
  for (const [index, place] of placesOf(at).entries()) {
    const here = standing.get(placeKey(place)) ?? []
    const last = here.at(-1)
    if (last === undefined)
      change.add.push({
        kind: 'factAnswer',
        record: { id: `new:${index + 1}`, fact, ...place, ...said, notes: null },
      })
    else change.set.push({ kind: 'factAnswer', id: last.id, fields: said })
    // Two answers at one place can only come from a file made elsewhere; the one that counted is kept.
    for (const { id } of here.slice(0, -1)) change.remove.push({ kind: 'factAnswer', id })
  }
  return change
}

/** Withdraws answers: what they answered is asked again, or answered by a wider place. */
export const withdrawCommand = (answers: readonly KeptAnswerRecord[], placeWords: string): AnswerChange => ({
  does: 'change records',
  name: `Withdraw ${factWords(answers[0]?.fact ?? '')} for ${placeWords}`,
  add: [],
  set: [],
  remove: answers.map(({ id }) => ({ kind: 'factAnswer', id })),
})
