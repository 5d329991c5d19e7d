// How many openings wait for each question, by level and by typical, worked out in one pass over the openings.
import type { CautionsOverview, QuestionAsked } from '../../../core/cautions/index.ts'
import type { ScheduleRow } from '../../../core/schedule/index.ts'
import { jobPlace, levelPlace, openingPlace, typicalPlace } from './places.ts'

export interface Waiting {
  readonly openings: readonly string[]
  /** Counts by place key. */
  readonly at: ReadonlyMap<string, number>
}

type Overview = Pick<CautionsOverview, 'lines' | 'sets' | 'of' | 'questions'>

/** Who waits for each question, by its key. */
export function waitingFor(
  { lines, sets, of, questions }: Overview,
  rows: ReadonlyMap<string, ScheduleRow>,
): ReadonlyMap<string, Waiting> {
  const ofSet = sets.map((set) => {
    const missing = new Set(set.flatMap((at) => lines[at]?.missing ?? []))
    return questions.filter(({ key, after }) => missing.has(key) && !(after !== null && missing.has(after)))
  })
  const found = new Map<string, { openings: string[]; at: Map<string, number> }>()
  for (const [openingId, set] of Object.entries(of)) {
    const row = rows.get(openingId)
    if (row === undefined) continue
    const places = [jobPlace, levelPlace(row.levelId)]
    if (row.typicalId !== null) places.push(typicalPlace(row.typicalId))
    for (const { key } of ofSet[set] ?? []) {
      let waiting = found.get(key)
      if (waiting === undefined) found.set(key, (waiting = { openings: [], at: new Map() }))
      waiting.openings.push(openingId)
      for (const place of places) waiting.at.set(place, (waiting.at.get(place) ?? 0) + 1)
    }
  }
  return found
}

/** Where an answer stands when nobody chose: only where there can be no doubt. */
export function usualPlace(
  { belongsTo }: QuestionAsked,
  scope: string,
  waiting: Waiting | undefined,
): string {
  if (scope !== jobPlace) return scope
  if (belongsTo === 'job') return jobPlace
  const [first] = waiting?.openings ?? []
  if (belongsTo === 'opening' && first !== undefined && waiting?.openings.length === 1)
    return openingPlace(first)
  const only = [...(waiting?.at ?? [])].filter(([place]) => place.startsWith(belongsTo))
  return only.length === 1 && only[0]?.[1] === waiting?.openings.length ? (only[0]?.[0] ?? '') : ''
}
