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
export function drawingByBehaviour(data: JobData): DrawingOf {
  const declared = declaredInJob(data)
  const groups = new Map(Array.from(data.all('firingGroup'), (each) => [each.fittingId as string, each.name]))
  const known = new Map<string, Fed | null>()
  return (fittingId) => {
    const firesWith = groups.get(fittingId) ?? null
    const fitting = data.get('fitting', fittingId)
    const opening = fitting === undefined ? undefined : data.get('opening', fitting.openingId)
    if (opening === undefined) return { atRest: null, onAlarm: null, firesWith }
    let fed = known.get(opening.id)
    if (fed === undefined) known.set(opening.id, (fed = fedOf(data, opening, declared)))
    const tag = effectiveFittings(data, opening).find((each) => each.fitting?.id === fittingId)?.tag
    if (fed === null || tag === undefined) return { atRest: null, onAlarm: null, firesWith }
    return { atRest: anyFed(fed.atRest, tag), onAlarm: anyFed(fed.onAlarm, tag), firesWith }
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
