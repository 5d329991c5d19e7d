// What a supply and each of its outputs carry, against ratings, the job's loading limit, fuses and Class 2; and heat.
import { checkClassTwo, type ClassTwoCheck, type Limiting } from './class-two.ts'
import { distinct, questionsOf, type Fact, type Question, type Verdict } from './facts.ts'
import { ratingOf, type Load } from './network.ts'
import type { Condition, FedNetwork, OutputStudy } from './scenarios.ts'

/** 80 % of the rating for a load that stays on. A design practice, not a Class 2 rule: standards.md 6.1. */
export const usualLoadingLimitPercent = 80

export interface Output extends FedNetwork {
  readonly ratedAmps: Fact<number>
  /** Known to be null where there is no fuse. */
  readonly fuseAmps: Fact<number | null>
  /** Known to be null where the output is not wired as Class 2. */
  readonly classTwo: Fact<Limiting | null>
}

export interface OutputLoading {
  readonly output: string
  readonly name: string
  /** Everything holding at nominal volts; null where it is not known. */
  readonly holdingAmps: number | null
  /** With the group fired whose in-rush is greatest. */
  readonly worstAmps: number | null
  readonly ratedAmps: number | null
  readonly limitAmps: number | null
  /** Holding within the loading limit. */
  readonly withinLimit: Verdict
  /** Worst moment within the rating. */
  readonly withinRating: Verdict
  readonly fuse: FuseCheck
  readonly classTwo: ClassTwoCheck
  readonly questions: readonly Question[]
}

export interface FuseCheck {
  readonly verdict: Verdict
  readonly findings: readonly FuseFinding[]
  /** The smallest usual fuse that carries the holding load at the loading limit. */
  readonly wouldCarryAmps: number | null
}

export type FuseFinding =
  | { readonly code: 'holding over the fuse'; readonly holdingAmps: number; readonly fuseAmps: number }
  | {
      readonly code: 'holding over the loading limit of the fuse'
      readonly holdingAmps: number
      readonly fuseAmps: number
    }
  /** A fuse may carry it for its short time; its curve decides. */
  | {
      readonly code: 'in-rush over the fuse'
      readonly amps: number
      readonly seconds: number | null
      readonly fuseAmps: number
    }
  | {
      readonly code: 'fuse over the rating of the output'
      readonly fuseAmps: number
      readonly ratedAmps: number
    }

/** Fuses as stocked. Common practice, no source. */
export const usualFuses: readonly number[] = [0.5, 0.75, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5, 6, 7.5, 10, 15]

/** A comparison that is not known while either side is not. */
export const isWithin = (value: number | null, limit: number | null): Verdict =>
  value === null || limit === null ? 'not known' : value <= limit + 1e-9 ? 'met' : 'not met'

const ampsAt = (
  study: OutputStudy,
  condition: Condition,
  moment: 'holding' | 'worst moment',
): number | null => {
  let most: number | null = null
  for (const { scenario, sourceAmps } of study.results) {
    if (scenario.condition !== condition || scenario.moment !== moment) continue
    if (sourceAmps === null) return null
    most = Math.max(most ?? 0, sourceAmps)
  }
  return most
}

/** What an output gives while everything holds, at most over the cable temperatures; null where it is not known. */
export const holdingAmpsOf = (study: OutputStudy, condition: Condition = 'nominal'): number | null =>
  ampsAt(study, condition, 'holding')

/** One output's load against its rating, its fuse, the loading limit and Class 2. */
export function outputLoading(output: Output, study: OutputStudy, limitPercent: number): OutputLoading {
  const holdingAmps = holdingAmpsOf(study)
  const worstAmps = ampsAt(study, 'nominal', 'worst moment')
  const ratedAmps = output.ratedAmps.known ? output.ratedAmps.value : null
  const limitAmps = ratedAmps === null ? null : (ratedAmps * limitPercent) / 100
  const fuse = checkFuse(output, holdingAmps, worstAmps, limitPercent)
  const { classTwo: limiting } = output
  const none: ClassTwoCheck = { verdict: 'does not apply', limits: null, findings: [], questions: [] }
  const classTwo = !limiting.known
    ? { ...none, verdict: 'not known' as const, questions: questionsOf(limiting) }
    : limiting.value === null
      ? none
      : checkClassTwo({
          name: output.name,
          limiting: limiting.value,
          highestVolts: output.volts.highest,
          ratedAmps: output.ratedAmps,
          fuseAmps: output.fuseAmps,
        })
  return {
    output: output.id,
    name: output.name,
    holdingAmps,
    worstAmps,
    ratedAmps,
    limitAmps,
    withinLimit: isWithin(holdingAmps, limitAmps),
    withinRating: isWithin(worstAmps, ratedAmps),
    fuse,
    classTwo,
    questions: distinct([
      ...questionsOf(output.ratedAmps, output.fuseAmps),
      ...classTwo.questions,
      ...study.questions,
    ]),
  }
}

function checkFuse(
  { fuseAmps, ratedAmps, loads }: Output,
  holdingAmps: number | null,
  worstAmps: number | null,
  limitPercent: number,
): FuseCheck {
  const needed = holdingAmps === null ? null : holdingAmps / (limitPercent / 100)
  const wouldCarryAmps = needed === null ? null : (usualFuses.find((size) => size >= needed - 1e-9) ?? null)
  if (!fuseAmps.known) return { verdict: 'not known', findings: [], wouldCarryAmps }
  const fuse = fuseAmps.value
  if (fuse === null) return { verdict: 'does not apply', findings: [], wouldCarryAmps }
  const findings: FuseFinding[] = []
  if (ratedAmps.known && fuse > ratedAmps.value + 1e-9)
    findings.push({ code: 'fuse over the rating of the output', fuseAmps: fuse, ratedAmps: ratedAmps.value })
  if (holdingAmps !== null && holdingAmps > fuse)
    findings.push({ code: 'holding over the fuse', holdingAmps, fuseAmps: fuse })
  else if (holdingAmps !== null && holdingAmps > (fuse * limitPercent) / 100 + 1e-9)
    findings.push({ code: 'holding over the loading limit of the fuse', holdingAmps, fuseAmps: fuse })
  if (worstAmps !== null && worstAmps > fuse + 1e-9)
    findings.push({
      code: 'in-rush over the fuse',
      amps: worstAmps,
      seconds: longestInrush(loads),
      fuseAmps: fuse,
    })
  if (findings.length > 0) return { verdict: 'not met', findings, wouldCarryAmps }
  return {
    verdict: holdingAmps === null || worstAmps === null ? 'not known' : 'met',
    findings,
    wouldCarryAmps,
  }
}

/** The longest in-rush among the loads; null where one is not known or there is none. */
function longestInrush(loads: readonly Load[]): number | null {
  let longest: number | null = null
  for (const load of loads) {
    const rating = ratingOf(load)
    if (!rating.known || !rating.value.inrush.known) return null
    const inrush = rating.value.inrush.value
    if (inrush === null) continue
    if (inrush.seconds === null) return null
    longest = Math.max(longest ?? 0, inrush.seconds)
  }
  return longest
}

export interface SupplyLoading {
  readonly holdingAmps: number | null
  /** The worst moment of one output while all others hold. Groups that cross outputs are not added. */
  readonly worstAmps: number | null
  readonly ratedAmps: number | null
  readonly limitAmps: number | null
  readonly withinLimit: Verdict
  readonly withinRating: Verdict
  readonly heat: Heat
  readonly outputs: readonly OutputLoading[]
  readonly questions: readonly Question[]
}

export interface Heat {
  /** Given to the outputs and to the supply's own circuits, while everything holds. */
  readonly outputWatts: number | null
  /** Lost inside the supply; null where its efficiency is not known. */
  readonly supplyWatts: number | null
  /** Lost in the cables at the warmest of their temperatures. */
  readonly cableWatts: number | null
  readonly supplyBtuPerHour: number | null
}

/** 1 W is 3.412 142 BTU/h: the international table BTU of 1055.055 852 62 J. */
export const btuPerHourPerWatt = 3600 / 1055.055_852_62

export interface SupplyFacts {
  readonly name: string
  readonly ratedVolts: Fact<number>
  readonly ratedAmps: Fact<number>
  /** What the supply and the boards in its case draw from its own direct current. */
  readonly ownAmps: Fact<number>
  /** Of the mains side, above 0 and at most 1. */
  readonly efficiency: Fact<number>
}

/** A whole supply against its rating, with heat. */
export function supplyLoading(
  supply: SupplyFacts,
  loadings: readonly OutputLoading[],
  studies: readonly OutputStudy[],
  limitPercent: number,
): SupplyLoading {
  const own = supply.ownAmps.known ? supply.ownAmps.value : null
  const held = total(loadings.map(({ holdingAmps }) => holdingAmps))
  const holdingAmps = held === null || own === null ? null : held + own
  const worstAmps = holdingAmps === null ? null : worstOver(loadings, holdingAmps)
  const ratedAmps = supply.ratedAmps.known ? supply.ratedAmps.value : null
  const limitAmps = ratedAmps === null ? null : (ratedAmps * limitPercent) / 100
  return {
    holdingAmps,
    worstAmps,
    ratedAmps,
    limitAmps,
    withinLimit: isWithin(holdingAmps, limitAmps),
    withinRating: isWithin(worstAmps, ratedAmps),
    heat: heatOf(supply, holdingAmps, studies),
    outputs: loadings,
    questions: distinct([
      ...questionsOf(supply.ratedAmps, supply.ownAmps),
      ...loadings.flatMap(({ questions }) => questions),
    ]),
  }
}

/** The sum, or null where any is not known. */
export function total(values: readonly (number | null)[]): number | null {
  let all = 0
  for (const value of values) {
    if (value === null) return null
    all += value
  }
  return all
}

function worstOver(loadings: readonly OutputLoading[], holdingAmps: number): number | null {
  let over = 0
  for (const loading of loadings) {
    if (loading.worstAmps === null || loading.holdingAmps === null) return null
    over = Math.max(over, loading.worstAmps - loading.holdingAmps)
  }
  return holdingAmps + over
}

function heatOf(supply: SupplyFacts, amps: number | null, studies: readonly OutputStudy[]): Heat {
  const volts = supply.ratedVolts.known ? supply.ratedVolts.value : null
  const outputWatts = amps === null || volts === null ? null : amps * volts
  const { efficiency } = supply
  const sound = efficiency.known && efficiency.value > 0 && efficiency.value <= 1
  const supplyWatts = outputWatts === null || !sound ? null : outputWatts * (1 / efficiency.value - 1)
  return {
    outputWatts,
    supplyWatts,
    cableWatts: total(studies.map(cableWatts)),
    supplyBtuPerHour: supplyWatts === null ? null : supplyWatts * btuPerHourPerWatt,
  }
}

function cableWatts({ results, output }: OutputStudy): number | null {
  if (output.loads.length === 0) return 0
  let most: number | null = null
  for (const { scenario, lostWatts } of results) {
    if (scenario.condition !== 'nominal' || scenario.moment !== 'holding') continue
    if (lostWatts === null) return null
    most = Math.max(most ?? 0, lostWatts)
  }
  return most
}

/** The rating a supply would need for what it holds, at the loading limit; null where that is not known. */
export const neededAmps = (holdingAmps: number | null, limitPercent: number): number | null =>
  holdingAmps === null ? null : holdingAmps / (limitPercent / 100)
