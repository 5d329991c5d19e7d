// How a rule's table is written: rule, verdict, doorway, what is answered otherwise, why, source.
import type { OpeningToJudge, ReadFacts, Verdict } from '../../../core/cautions/index.ts'
import { nothingKnown, opening, type DoorwayName } from './openings.ts'

export interface RuleRow {
  readonly rule: string
  readonly verdict: Verdict
  readonly why: string
  readonly source: string
  readonly opening: OpeningToJudge
}

type Line = readonly [
  verdict: Verdict,
  doorway: DoorwayName | 'nothing known',
  answers: ReadFacts,
  why: string,
]

/** The rows of one rule, with the source that holds for them all. */
export const rowsOf = (rule: string, source: string, ...lines: readonly Line[]): readonly RuleRow[] =>
  lines.map(([verdict, doorway, answers, why]) => ({
    rule,
    verdict,
    why,
    source,
    opening: doorway === 'nothing known' ? nothingKnown : opening(doorway, answers),
  }))

export const sensorDoor = 'magnet, sensor, release, alarm'
export const switchDoor = 'magnet, switch in the lever'
export const delayDoor = 'delayed exit device, 15 s'
export const staffDoor = 'magnet, staff switch, alarm'
export const lobbyDoor = 'lobby magnet, alarm'
export const plainDoor = 'passage lever alone'
export const lobby: ReadFacts = { 'elevator-lobby-door': true, 'ibc-edition': '2024' }
export const care: ReadFacts = { 'occupancy-groups': ['I-2'] }
export const label: ReadFacts = { 'fire-label-minutes': 90 }
