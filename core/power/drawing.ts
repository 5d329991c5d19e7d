// When a fitting draws, as the behaviour of its doorway has it.
import {
  declaredInJob,
  doorwayOf,
  feedsIn,
  fireAlarm,
  secured,
  unknown,
  type DeclaredParts,
  type Truth,
} from '../behaviour/index.ts'
import { effectiveFittings, type JobData, type Opening } from '../job/index.ts'
import type { Drawing, DrawingOf } from './from-job.ts'

interface Fed {
  readonly atRest: ReadonlyMap<string, Truth>
  readonly onAlarm: ReadonlyMap<string, Truth>
}

/**
 * Asks behaviour whether a fitting has current while its door is secured, and while the alarm lasts. What a doorway does
 * is worked out once for each opening asked about. Null where nobody can tell.
 */
export const drawingByBehaviour = (data: JobData): DrawingOf => keptDrawing(data).of

export interface KeptDrawing {
  readonly of: DrawingOf
  /** These openings may do otherwise now, or fire with others. */
  readonly forget: (openingIds: Iterable<string>) => void
}

/** As `drawingByBehaviour`, kept over changes that leave the parts as they are. */
export function keptDrawing(data: JobData): KeptDrawing {
  const declared = declaredInJob(data)
  const known = new Map<string, { readonly fed: Fed | null; readonly tags: ReadonlyMap<string, string> }>()
  const ofOpening = (opening: Opening) => {
    let found = known.get(opening.id)
    if (found === undefined) {
      const tags = effectiveFittings(data, opening).flatMap(({ fitting, tag }) =>
        fitting === null ? [] : [[fitting.id as string, tag] as const],
      )
      known.set(opening.id, (found = { fed: fedOf(data, opening, declared), tags: new Map(tags) }))
    }
    return found
  }
  return {
    of: (fittingId) => {
      const firesWith = data.referring('firingGroup', 'fittingId', fittingId)[0]?.name ?? null
      const fitting = data.get('fitting', fittingId)
      const opening = fitting === undefined ? undefined : data.get('opening', fitting.openingId)
      if (opening === undefined) return { atRest: null, onAlarm: null, firesWith }
      const { fed, tags } = ofOpening(opening)
      const tag = tags.get(fittingId)
      if (fed === null || tag === undefined) return { atRest: null, onAlarm: null, firesWith }
      return { atRest: anyFed(fed.atRest, tag), onAlarm: anyFed(fed.onAlarm, tag), firesWith }
    },
    forget: (openingIds) => {
      for (const id of openingIds) known.delete(id)
    },
  }
}

function fedOf(data: JobData, opening: Opening, declared: DeclaredParts): Fed | null {
  const answer = doorwayOf(data, opening, {
    declared,
    stage: 'designed',
    // Neither condition asks for a battery: mains are on in both.
    batterySeconds: ({ mark }) => unknown({ about: 'battery', thing: mark }),
    fireAlarmBatterySeconds: unknown({ about: 'battery', thing: 'the fire alarm system' }),
  })
  if (!answer.ok) return null
  return { atRest: feedsIn(answer.doorway, secured), onAlarm: feedsIn(answer.doorway, fireAlarm) }
}

/** Things of a fitting are named by its tag. True where any is fed; null where none is and one is not known, or none is there. */
function anyFed(fed: ReadonlyMap<string, Truth>, tag: string): Drawing['atRest'] {
  const own = [...fed].filter(([id]) => id === tag || id.startsWith(`${tag} `)).map(([, truth]) => truth)
  if (own.includes('yes')) return true
  return own.length === 0 || own.includes('unknown') ? null : false
}
