// What each opening does and what the rules say of it, worked out from the job in hand and kept by what openings share.
import { doorwayProblemSentence, sequenceOf, type TouchedOpenings } from '../../core/behaviour/index.ts'
import {
  codeFacts,
  countCautions,
  factsResolver,
  readAnswers,
  readFactsOf,
  readLocalRules,
  reviewsOf,
  type Facts,
  type FactsPlace,
  type LocalRules,
  type Review,
  type Reviews,
} from '../../core/cautions/index.ts'
import type { BehaviourPage, CautionsByOpening, GatesByOpening } from '../../core/contract/index.ts'
import { gateLines, gatesOf, type Gates } from '../../core/documents/index.ts'
import type { Edit, JobData, Opening } from '../../core/job/index.ts'
import {
  batterySecondsByPower,
  fireAlarmBatterySeconds,
  powerOfSupply,
  type JobPower,
  type SupplyPower,
} from '../../core/power/index.ts'

export interface BehaviourDesk {
  readonly gates: (data: JobData, openings: Iterable<Opening>) => GatesByOpening
  readonly cautions: (data: JobData, openings: Iterable<Opening>) => CautionsByOpening
  readonly page: (data: JobData, opening: Opening) => BehaviourPage
  readonly review: (data: JobData, opening: Opening) => Review
  /** The same with every setting as it was last set or found. */
  readonly reviewAsItStands: (data: JobData, opening: Opening) => Review
  /** What is answered at an opening, or for the job as a whole. */
  readonly facts: (data: JobData, opening: Opening | null) => Facts
  readonly localRules: (data: JobData) => LocalRules
  /** Tells what was changed, after the data took it. Gives the openings that may behave or be judged otherwise now. */
  readonly changed: (data: JobData, edits: readonly Edit[]) => TouchedOpenings
  /** Tells that power was worked out anew. Gives the openings fed by a battery that lasts otherwise now. */
  readonly batteriesChanged: (data: JobData) => ReadonlySet<string>
  /** Another job is in hand. */
  readonly forget: () => void
}

interface InHand {
  readonly data: JobData
  readonly reviews: Reviews
  /** Made when somebody first asks how things stand. */
  standing: Reviews | null
  readonly localRules: LocalRules
  facts: ((place: FactsPlace) => Facts) | null
  batteries: ReadonlyMap<string, string>
}

/** Reads the power of a job as it is now. */
export type PowerOf = (data: JobData) => JobPower

/** How long each battery lasts, as text, by supply. */
const batteriesIn = (data: JobData, powerOf: PowerOf): ReadonlyMap<string, string> => {
  const seconds = batterySecondsByPower(() => powerOf(data))
  return new Map(Array.from(data.all('supply'), (supply) => [supply.id, JSON.stringify(seconds(supply))]))
}

/** The openings that have a load on a supply. */
const openingsFedBy = (data: JobData, power: SupplyPower): string[] =>
  power.outputs.flatMap(({ study }) =>
    study.output.loads.flatMap(({ id }) => data.get('fitting', id)?.openingId ?? []),
  )

function reviewsAt(
  stage: 'designed' | 'found',
  data: JobData,
  powerOf: PowerOf,
  localRules: LocalRules,
): Reviews {
  return reviewsOf(data, {
    stage,
    batterySeconds: batterySecondsByPower(() => powerOf(data)),
    fireAlarmBatterySeconds: fireAlarmBatterySeconds(data),
    localRules: localRules.rules,
  })
}

function takeInHand(data: JobData, powerOf: PowerOf): InHand {
  const localRules = readLocalRules(data.all('localRule'))
  const reviews = reviewsAt('designed', data, powerOf, localRules)
  const batteries = batteriesIn(data, powerOf)
  return { data, reviews, standing: null, localRules, facts: null, batteries }
}

export function behaviourDesk(powerOf: PowerOf): BehaviourDesk {
  let inHand: InHand | null = null
  const of = (data: JobData): InHand => {
    if (inHand?.data !== data) inHand = takeInHand(data, powerOf)
    return inHand
  }
  const review = (data: JobData, opening: Opening): Review => of(data).reviews.of(opening)
  return {
    gates: (data, openings) => sharedBy(openings, (opening) => gatesIn(review(data, opening))),
    cautions: (data, openings) =>
      sharedBy(openings, (opening) => countCautions(review(data, opening).cautions)),
    page: (data, opening) => pageOf(review(data, opening)),
    review,
    reviewAsItStands: (data, opening) => {
      const job = of(data)
      job.standing ??= reviewsAt('found', data, powerOf, job.localRules)
      return job.standing.of(opening)
    },
    facts: (data, opening) => {
      const job = of(data)
      job.facts ??= factsResolver(readAnswers([...data.all('factAnswer')]), codeFacts(data.job.buildingCode))
      return job.facts(
        opening === null
          ? { levelId: '', typicalId: null, openingId: '' }
          : {
              levelId: opening.levelId,
              typicalId: opening.typicalId,
              openingId: opening.id,
              read: readFactsOf(opening),
            },
      )
    },
    localRules: (data) => of(data).localRules,
    changed: (data, edits) => {
      // Both are fixed for the life of what is in hand.
      if (edits.some(({ kind }) => kind === 'localRule' || kind === 'jobTerms')) {
        inHand = null
        return 'all'
      }
      const job = of(data)
      job.facts = null
      job.standing?.changed(edits)
      return job.reviews.changed(edits)
    },
    batteriesChanged: (data) => {
      const job = of(data)
      const before = job.batteries
      job.batteries = batteriesIn(data, powerOf)
      const otherwise = [...job.batteries].filter(([id, lasts]) => before.get(id) !== lasts)
      if (otherwise.length === 0) return new Set()
      job.reviews.renew()
      job.standing?.renew()
      const power = powerOf(data)
      return new Set(
        otherwise.flatMap(([id]) => {
          const ofSupply = powerOfSupply(power, id)
          return ofSupply === null ? [] : openingsFedBy(data, ofSupply)
        }),
      )
    },
    forget: () => {
      inHand = null
    },
  }
}

/** Each value once, with the place of each opening's own. */
function sharedBy<Value>(
  openings: Iterable<Opening>,
  valueOf: (opening: Opening) => Value,
): { readonly sets: readonly Value[]; readonly of: Readonly<Record<string, number>> } {
  const sets: Value[] = []
  const byValue = new Map<Value, number>()
  const byKey = new Map<string, number>()
  const of: Record<string, number> = {}
  for (const opening of openings) {
    const value = valueOf(opening)
    let place = byValue.get(value)
    if (place === undefined) {
      const key = JSON.stringify(value)
      place = byKey.get(key) ?? sets.push(value) - 1
      byKey.set(key, place)
      byValue.set(value, place)
    }
    of[opening.id] = place
  }
  return { sets, of }
}

const knownGates = new WeakMap<object, WeakMap<object, Gates>>()

/** The marks of a review; reviews that share behaviour and arrangement share them. */
function gatesIn({ behaviour, arrangement }: Review): Gates | null {
  if (behaviour === null) return null
  const byArrangement = knownGates.get(behaviour) ?? new WeakMap<object, Gates>()
  knownGates.set(behaviour, byArrangement)
  const gates = byArrangement.get(arrangement) ?? gatesOf(behaviour, arrangement)
  byArrangement.set(arrangement, gates)
  return gates
}

function pageOf({ behaviour, problems, arrangement }: Review): BehaviourPage {
  if (behaviour === null)
    return { lines: [], sequence: [], arrangement: null, cannotTell: problems.map(doorwayProblemSentence) }
  return {
    lines: gateLines(behaviour, arrangement),
    sequence: sequenceOf(behaviour).map(({ sentences }) => sentences.join(' ')),
    arrangement: { name: arrangement.wayOut, reasons: arrangement.reasons },
    cannotTell: [],
  }
}
