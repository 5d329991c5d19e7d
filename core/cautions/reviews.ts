// A whole job reviewed: what each opening does and what the rules say of it, in one pass, kept by what openings share.
import {
  behaviourMemo,
  doorwaysOf,
  type Behaviour,
  type Doorway,
  type DoorwayAnswer,
  type DoorwayOptions,
  type DoorwayProblem,
  type TouchedOpenings,
} from '../behaviour/index.ts'
import type { Edit, JobData, JobRecord, Opening } from '../job/index.ts'
import { codeFacts, factsResolver, readAnswers, type Facts, type ReadFacts } from './answers.ts'
import type { Recognition } from './arrangement.ts'
import { createJudge, type Caution } from './judge.ts'
import type { LocalRule } from './local-rule.ts'
import { traitsOf, type DeclaredTraits, type FittingTraits, type Listing } from './traits.ts'

export interface Review {
  /** Null where the doorway cannot be built; `problems` says why, and the rules take its behaviour as not known. */
  readonly behaviour: Behaviour | null
  readonly problems: readonly DoorwayProblem[]
  readonly arrangement: Recognition
  readonly cautions: readonly Caution[]
}

export interface ReviewOptions extends Omit<DoorwayOptions, 'declared'> {
  readonly localRules?: readonly LocalRule[]
}

export interface Reviews {
  /** What an opening does and its cautions. Worked out when asked for; alike openings share every value in it. */
  readonly of: (opening: Opening) => Review
  /** Tells what was changed, after the data took it. Gives the openings whose review may be otherwise. */
  readonly changed: (edits: readonly Edit[]) => TouchedOpenings
  /** What the options say may be otherwise: batteries were worked out anew. */
  readonly renew: () => void
}

/** What the record of an opening answers by itself. */
export const readFactsOf = ({ fireLabelMinutes }: Opening): ReadFacts => ({
  'fire-label-minutes': fireLabelMinutes,
})

const noResults: Behaviour['forCautions'] = []

/** Reviews the openings of a job. Local rules are fixed for its life: make it anew when they change. */
export function reviewsOf(data: JobData, { localRules, ...options }: ReviewOptions): Reviews {
  const doorways = doorwaysOf(data, options)
  const behaviourIn = behaviourMemo()
  const judge = createJudge(localRules)
  const traits = new WeakMap<Doorway, readonly FittingTraits[]>()
  const traitsByText = new Map<string, readonly FittingTraits[]>()
  let facts: JobFacts | null = null

  // What was judged is found again by the very list, so the same traits stay the same list.
  const traitsIn = (answer: DoorwayAnswer & { readonly ok: true }): readonly FittingTraits[] => {
    const found = traits.get(answer.doorway)
    if (found !== undefined) return found
    const fresh = traitsOf(answer.doorway, declaredTraits(data, answer))
    const text = JSON.stringify(fresh)
    const same = traitsByText.get(text) ?? fresh
    traitsByText.set(text, same)
    traits.set(answer.doorway, same)
    return same
  }

  const factsOf = (opening: Opening): Facts => {
    facts ??= factsIn(data)
    return facts.at({
      levelId: opening.levelId,
      typicalId: opening.typicalId,
      openingId: opening.id,
      read: readFactsOf(opening),
    })
  }

  return {
    of: (opening) => {
      const answer = doorways.of(opening)
      const known = factsOf(opening)
      if (!answer.ok) {
        const judged = judge({ behaviour: noResults, fittings: null, facts: known })
        return { behaviour: null, problems: answer.problems, ...judged }
      }
      const behaviour = behaviourIn(answer.doorway)
      const judged = judge({ behaviour: behaviour.forCautions, fittings: traitsIn(answer), facts: known })
      return { behaviour, problems: [], ...judged }
    },
    changed: (edits) => {
      const answers = answersTouched(data, edits)
      if (answers.wider) facts = null
      else facts?.readAgain(answers.openings)
      const byDoorways = doorways.changed(edits)
      if (answers.all || byDoorways === 'all') return 'all'
      return answers.openings.size === 0 ? byDoorways : new Set([...answers.openings, ...byDoorways])
    },
    renew: doorways.renew,
  }
}

/** What parts say about listing and about how they are worked, by the keys of a doorway. */
function declaredTraits(
  data: JobData,
  { partOf }: DoorwayAnswer & { readonly ok: true },
): ReadonlyMap<string, DeclaredTraits> {
  const found = new Map<string, DeclaredTraits>()
  for (const [id, part] of partOf) {
    const [declared] = data.referring('partBehaviour', 'partId', part.id)
    if (declared === undefined) continue
    found.set(id, {
      listedAs: declared.listedAs as readonly Listing[] | null,
      ...(declared.howWorked === null ? {} : { worked: declared.howWorked }),
    })
  }
  return found
}

interface JobFacts {
  readonly at: ReturnType<typeof factsResolver>
  /** Reads the own answers of these openings again; what stands around them is kept. */
  readonly readAgain: (openings: ReadonlySet<string>) => void
}

function factsIn(data: JobData): JobFacts {
  const answers = readAnswers([...data.all('factAnswer')])
  const openings = new Map(answers.openings)
  return {
    at: factsResolver({ ...answers, openings }, codeFacts(data.job.buildingCode)),
    readAgain: (touched) => {
      for (const id of touched) {
        const own = readAnswers(data.referring('factAnswer', 'openingId', id)).openings.get(id)
        if (own === undefined) openings.delete(id)
        else openings.set(id, own)
      }
    },
  }
}

interface AnswersTouched {
  /** The openings for which an edited answer counts; with `all`, every one. */
  readonly openings: ReadonlySet<string>
  readonly all: boolean
  /** Whether an answer was edited that stands wider than one opening. */
  readonly wider: boolean
}

function answersTouched(data: JobData, edits: readonly Edit[]): AnswersTouched {
  const openings = new Set<string>()
  let all = false
  let wider = false
  for (const edit of edits) {
    if (edit.kind === 'job') all = wider = true
    if (edit.kind !== 'factAnswer') continue
    for (const { openingId, typicalId, levelId } of answersBeforeAndAfter(data, edit)) {
      if (openingId != null) openings.add(openingId)
      else {
        wider = true
        if (typicalId == null && levelId == null) all = true
      }
      if (openingId == null && typicalId != null)
        for (const { id } of data.referring('opening', 'typicalId', typicalId)) openings.add(id)
      else if (openingId == null && levelId != null)
        for (const { id } of data.referring('opening', 'levelId', levelId)) openings.add(id)
    }
  }
  return { openings, all, wider }
}

type PlaceOfAnswer = Partial<Pick<JobRecord<'factAnswer'>, 'openingId' | 'typicalId' | 'levelId'>>

function answersBeforeAndAfter(data: JobData, edit: Edit): readonly PlaceOfAnswer[] {
  if (edit.does !== 'set') return [edit.record]
  const now = data.get('factAnswer', edit.id)
  return [
    { ...now, ...edit.from },
    { ...now, ...edit.to },
  ]
}
