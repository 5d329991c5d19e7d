// The loop of a point, read from the records of a job: its contact, its jumper, and the cable that carries it.
import type { JobData, JobRecord } from '../job/index.ts'
import type { CableCelsius } from './cable.ts'
import { settingEffects, type EffectStage, type SettingFact } from './effects.ts'
import {
  loopStates,
  type ContactState,
  type LoopCable,
  type LoopContact,
  type LoopLeg,
  type LoopStates,
} from './loop.ts'
import { partBook, type PartBook } from './part-settings.ts'
import { fittingSettings } from './settings-of.ts'

type Run = JobRecord<'run'>
type Point = JobRecord<'point'>

/** What an input reckons with. Null is not known. */
export interface LoopTerms {
  readonly normally: ContactState | null
  readonly wiredTo: LoopContact['wiredTo']
  readonly tolerancePercent: number | null
  readonly closedBelowOhms: number | null
  readonly resistorTolerancePercent: number | null
  readonly celsius: CableCelsius
  /** Which settings count for a jumper that turns a contact round. */
  readonly stage: EffectStage
}

/** Nothing assumed but the warmth of an indoor cable, 0 to 50 °C: common practice, no source. */
export const nothingTold: LoopTerms = {
  normally: null,
  wiredTo: null,
  tolerancePercent: null,
  closedBelowOhms: null,
  resistorTolerancePercent: null,
  celsius: { lowest: 0, highest: 50 },
  stage: 'standing or designed',
}

/** As the records say of this point and of the job's warmth; what they do not say is as `nothingTold`. */
export function termsOfPoint(data: JobData, pointId: string): LoopTerms {
  const [terms] = data.referring('pointTerms', 'pointId', pointId)
  const [ofJob] = [...data.all('jobTerms')]
  const { lowest, highest } = nothingTold.celsius
  return {
    normally: terms?.normally ?? null,
    wiredTo: terms?.wiredTo ?? null,
    tolerancePercent: terms?.tolerancePercent ?? null,
    closedBelowOhms: terms?.closedBelowOhms ?? null,
    resistorTolerancePercent: terms?.resistorTolerancePercent ?? null,
    celsius: {
      lowest: ofJob?.coolestCelsius ?? lowest,
      highest: ofJob?.warmestCelsius ?? highest,
    },
    stage: nothingTold.stage,
  }
}

export type LoopOfPoint =
  | { readonly ok: true; readonly loop: LoopStates }
  | {
      readonly ok: false
      readonly problem: { readonly code: 'gone' | 'an output'; readonly sentence: string }
    }

/** The loop of one point. Refused only where there is no input. */
export function loopOfPoint(
  data: JobData,
  pointId: string,
  terms: LoopTerms = termsOfPoint(data, pointId),
  book: PartBook = partBook(data),
): LoopOfPoint {
  const point = data.get('point', pointId)
  if (point === undefined)
    return { ok: false, problem: { code: 'gone', sentence: 'That point is no longer there.' } }
  if (point.direction === 'output')
    return {
      ok: false,
      problem: { code: 'an output', sentence: `${point.name} is an output; only an input has a loop.` },
    }
  const { name, loop, seriesOhms, parallelOhms } = point
  const { normally, tolerancePercent, closedBelowOhms, resistorTolerancePercent } = terms
  return {
    ok: true,
    loop: loopStates(
      {
        name,
        loop,
        seriesOhms,
        parallelOhms,
        normally,
        tolerancePercent,
        closedBelowOhms,
        resistorTolerancePercent,
      },
      contactOf(data, book, point, terms),
      cableOf(data, point, terms.celsius),
    ),
  }
}

function contactOf(data: JobData, book: PartBook, point: Point, terms: LoopTerms): LoopContact | null {
  const contact = point.partContactId === null ? undefined : data.get('partContact', point.partContactId)
  if (contact === undefined) return null
  return {
    name: contact.name,
    form: contact.form,
    wiredTo: terms.wiredTo,
    states: data
      .referring('partContactState', 'partContactId', contact.id)
      .map(({ circumstance, closed }) => ({ circumstance, closed })),
    turnedRound: turnedRoundOf(data, book, point, contact.id, terms.stage),
  }
}

/** A part without such a jumper turns nothing round: that is known. */
function turnedRoundOf(
  data: JobData,
  book: PartBook,
  point: Point,
  contactId: string,
  stage: EffectStage,
): SettingFact<boolean> {
  const asMarked = { known: true, value: false, origin: null } as const
  const fitting = point.fittingId === null ? undefined : data.get('fitting', point.fittingId)
  if (fitting === undefined) return asMarked
  const slot = data.get('typicalFitting', fitting.typicalFittingId ?? '')
  const follows = slot?.typicalId === data.get('opening', fitting.openingId)?.typicalId
  const settings = fittingSettings(data, book, {
    openingId: fitting.openingId,
    fittingId: fitting.id,
    typicalFittingId: follows ? (slot?.id ?? null) : null,
    tag: fitting.tag ?? slot?.tag ?? '?',
    partId: fitting.partId ?? slot?.partId ?? null,
    serial: fitting.serial,
  })
  const effect = settingEffects(data, settings, stage).find(
    (each) => each.changes === 'turned round' && each.targetId === contactId,
  )
  return effect?.changes === 'turned round' ? effect.fact : asMarked
}

const whoKnowsRuns = 'the run list, or whoever pulled the cable'

/** The runs from the controller to the fitting; over other fittings, such as a door cord, where one run does not reach. */
function cableOf(data: JobData, point: Point, celsius: CableCelsius): LoopCable {
  const ask = (words: string): LoopCable => ({ known: false, question: { words, whoCanSay: whoKnowsRuns } })
  if (point.fittingId === null) return ask(`Which fitting is ${point.name} wired to?`)
  const ways = waysBetween(data, point.controllerId, point.fittingId)
  const [way] = ways
  if (way === undefined) return ask(`Which run carries the loop of ${point.name}?`)
  if (ways.length > 1)
    return ask(
      `Which of ${ways.map((each) => each.map(({ name }) => name).join(' and ')).join(', or ')} carries the loop of ${point.name}?`,
    )
  const legs: LoopLeg[] = []
  for (const run of way) {
    const leg = legOf(data, run)
    if (leg === null) return ask(`Which two conductors of ${run.name} carry the loop of ${point.name}?`)
    legs.push(leg)
  }
  return { known: true, legs, celsius }
}

const longestWay = 4

/** The shortest ways over runs, each a list of runs. Several where two are as short. */
function waysBetween(data: JobData, controllerId: string, fittingId: string): Run[][] {
  let front: { readonly at: string; readonly runs: readonly Run[] }[] = startsAt(data, controllerId)
  for (let length = 1; length <= longestWay && front.length > 0; length += 1) {
    const arrived = front.filter(({ at }) => at === fittingId)
    if (arrived.length > 0)
      return arrived
        .map(({ runs }) => [...runs])
        .toSorted((one, other) => ((one[0]?.id ?? '') < (other[0]?.id ?? '') ? -1 : 1))
    front = front.flatMap(({ at, runs }) =>
      runsAt(data, at)
        .filter(({ run }) => !runs.includes(run))
        .map(({ run, to }) => ({ at: to, runs: [...runs, run] })),
    )
  }
  return []
}

function startsAt(data: JobData, controllerId: string) {
  return [
    ...data.referring('run', 'fromControllerId', controllerId).map((run) => ({ run, to: run.toFittingId })),
    ...data.referring('run', 'toControllerId', controllerId).map((run) => ({ run, to: run.fromFittingId })),
  ].flatMap(({ run, to }) => (to === null ? [] : [{ at: to as string, runs: [run] }]))
}

const runsAt = (data: JobData, fittingId: string): { run: Run; to: string }[] =>
  [
    ...data.referring('run', 'fromFittingId', fittingId).map((run) => ({ run, to: run.toFittingId })),
    ...data.referring('run', 'toFittingId', fittingId).map((run) => ({ run, to: run.fromFittingId })),
  ].flatMap(({ run, to }) => (to === null ? [] : [{ run, to }]))

/** The two conductors of a loop: the only two, the two whose purpose says loop, or any two where all are alike. */
function legOf(data: JobData, run: Run): LoopLeg | null {
  const all = data
    .referring('conductor', 'runId', run.id)
    .toSorted((one, other) => one.position - other.position || (one.id < other.id ? -1 : 1))
  const named = all.filter(({ purpose }) => /\bloop\b/i.test(purpose ?? ''))
  const chosen = named.length === 2 ? named : all
  const [out, back] = chosen
  if (out === undefined || back === undefined) return null
  const isAlike = chosen.every(({ size, stranded }) => size === out.size && stranded === out.stranded)
  if (chosen.length > 2 && !isAlike) return null
  return {
    name: run.name,
    lengthMetres: run.lengthMetres,
    out: { size: out.size, stranded: out.stranded },
    back: { size: back.size, stranded: back.stranded },
  }
}
