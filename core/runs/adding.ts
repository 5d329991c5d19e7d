// Many runs at once: from one output or controller to fittings of chosen openings, with one cable kind.
import {
  counted,
  compareMarks,
  effectiveFittings,
  type EffectiveFitting,
  type JobData,
  type Opening,
} from '../job/index.ts'
import { addConductors, wantedByKind } from './conductors.ts'
import { endFields, endName, fittingMaker, type Run, type RunEnd } from './ends.ts'
import { needsFeed } from './needs-feed.ts'
import { changeBuilder, type RecordsChange } from './records-change.ts'
import { usualName } from './typing.ts'
import { routeMetres } from './routes.ts'
import type { Source } from './rows.ts'

/** Where new runs start. */
export type RunStart = { readonly at: 'output' | 'controller'; readonly id: string }

/** Fittings of one tag over the chosen openings. */
export interface TagToWire {
  readonly tag: string
  readonly partName: string | null
  readonly openings: number
  /** Those to which no run from such a source goes yet. */
  readonly without: number
  /** It takes power from a supply and no run at all reaches it; from a controller: it has a contact, or speaks to one. */
  readonly usual: boolean
}

interface Candidate {
  readonly opening: Opening
  readonly fitting: EffectiveFitting
  readonly wired: boolean
}

function candidates(data: JobData, openingIds: readonly string[], start: RunStart): Candidate[] {
  const openings = openingIds
    .flatMap((id) => data.get('opening', id) ?? [])
    .toSorted((one, other) => compareMarks(one.mark, other.mark))
  return openings.flatMap((opening) =>
    effectiveFittings(data, opening)
      .filter(({ leftOut, part }) => !leftOut && part !== null)
      .map((fitting) => ({ opening, fitting, wired: hasRunFrom(data, fitting, start.at) })),
  )
}

const runsAt = (data: JobData, { fitting }: EffectiveFitting): readonly Run[] =>
  fitting === null
    ? []
    : [
        ...data.referring('run', 'toFittingId', fitting.id),
        ...data.referring('run', 'fromFittingId', fitting.id),
      ]

const hasRun = (data: JobData, fitting: EffectiveFitting): boolean => runsAt(data, fitting).length > 0

/** Whether a run of this sort already reaches a fitting: any run that is not to a controller, or one that is. */
const hasRunFrom = (data: JobData, fitting: EffectiveFitting, at: RunStart['at']): boolean =>
  runsAt(data, fitting).some(
    ({ fromControllerId, toControllerId }) =>
      (fromControllerId !== null || toControllerId !== null) === (at === 'controller'),
  )

/** The tags to choose from, those usually wired so first. */
export function tagsToWire(data: JobData, openingIds: readonly string[], start: RunStart): TagToWire[] {
  const found = Map.groupBy(candidates(data, openingIds, start), ({ fitting }) => fitting.tag)
  return [...found]
    .map(([tag, all]): TagToWire => {
      const parts = new Set(all.map(({ fitting }) => fitting.part?.name ?? null))
      return {
        tag,
        partName: parts.size === 1 ? ([...parts][0] ?? null) : 'several parts',
        openings: all.length,
        without: all.filter(({ wired }) => !wired).length,
        usual: all.some(({ fitting }) =>
          start.at === 'output'
            ? fitting.part !== null && needsFeed(data, fitting.part) && !hasRun(data, fitting)
            : speaks(data, fitting),
        ),
      }
    })
    .toSorted((one, other) => Number(other.usual) - Number(one.usual) || (one.tag < other.tag ? -1 : 1))
}

/** It has a contact, or a person shows it a credential: common practice, no source. */
function speaks(data: JobData, { part }: EffectiveFitting): boolean {
  if (part === null) return false
  const [declared] = data.referring('partBehaviour', 'partId', part.id)
  return declared?.workedAs === 'credential' || data.countReferring('partContact', 'partId', part.id) > 0
}

export interface RunsWanted {
  readonly openingIds: readonly string[]
  readonly start: RunStart
  readonly tags: readonly string[]
  readonly cableKindId: string | null
  /** Lengths from the routes; otherwise they stay not known. */
  readonly fillLengths: boolean
}

/** Adds a run to each of these fittings that has none of the sort yet. Null where all have. */
export function addRuns(data: JobData, wanted: RunsWanted): RecordsChange | null {
  const change = changeBuilder()
  const makeFitting = fittingMaker(data, change)
  const kind = data.get('cableKind', wanted.cableKindId ?? '')
  const { start, tags } = wanted
  const source = sourceOfStart(data, start)
  let position = 1 + Math.max(-1, ...Array.from(data.all('run'), (run) => run.position))
  let count = 0
  for (const { opening, fitting, wired } of candidates(data, wanted.openingIds, start)) {
    if (wired || !tags.includes(fitting.tag)) continue
    const to: RunEnd =
      fitting.fitting !== null
        ? { at: 'fitting', id: fitting.fitting.id }
        : { at: 'slot', openingId: opening.id, typicalFittingId: fitting.slot?.id ?? '' }
    const runId = change.add('run', {
      name: usualName(data, start, to),
      position,
      ...endFields('from', start, makeFitting),
      ...endFields('to', to, makeFitting),
      cable: kind?.name ?? null,
      lengthMetres: wanted.fillLengths && source !== null ? routeMetres(data, opening.levelId, source) : null,
      notes: null,
    })
    if (kind !== undefined) addConductors(change, runId, [start, to], wantedByKind(kind))
    position += 1
    count += 1
  }
  return change.done(`Add ${counted(count, 'run')} from ${startName(data, start)}`)
}

function sourceOfStart(data: JobData, { at, id }: RunStart): Source | null {
  const controller = at === 'controller' ? data.get('controller', id) : undefined
  if (controller !== undefined) return { form: 'controller', id, mark: controller.mark }
  const supply = data.get('supply', data.get('output', id)?.supplyId ?? '')
  return supply === undefined ? null : { form: 'supply', id: supply.id, mark: supply.mark }
}

const startName = (data: JobData, { at, id }: RunStart): string => endName(data, { at, id })
