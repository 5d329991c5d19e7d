// What each opening does, worked out from the job in hand. Openings that are arranged alike share one result.
import {
  batteryFromRecord,
  behaviourMemo,
  declaredInJob,
  doorwayOf,
  doorwayProblemSentence,
  sequenceOf,
  unknown,
  type Behaviour,
  type DeclaredParts,
  type Doorway,
} from '../../core/behaviour/index.ts'
import {
  factsResolver,
  readAnswers,
  recogniseArrangement,
  traitsOf,
  type DeclaredTraits,
  type Listing,
  type Recognition,
} from '../../core/cautions/index.ts'
import type { BehaviourPage, GatesByOpening } from '../../core/contract/index.ts'
import { gateLines, gatesOf, type Gates } from '../../core/documents/index.ts'
import {
  effectiveFittings,
  type Edit,
  type JobData,
  type JobRecord,
  type Opening,
  type RecordKind,
} from '../../core/job/index.ts'

export interface BehaviourDesk {
  readonly gates: (data: JobData, openings: Iterable<Opening>) => GatesByOpening
  readonly page: (data: JobData, opening: Opening) => BehaviourPage
  /** Tells what was changed. True when every opening may behave otherwise now. */
  readonly changed: (edits: readonly Edit[]) => boolean
  /** Another job is in hand. */
  readonly forget: () => void
}

/** Kinds that many openings rest on at once. */
const shared: ReadonlySet<RecordKind> = new Set<RecordKind>([
  'part',
  'partSetting',
  'partPosition',
  'partSettingTable',
  'partSettingTableRow',
  'partContact',
  'partContactState',
  'partContactTiming',
  'partBehaviour',
  'partHardware',
  'partElement',
  'settingEffect',
  'typicalFittingLeaf',
  'leafOverlap',
  'link',
  'supply',
  'output',
  'run',
  'controller',
  'point',
  'factAnswer',
])

interface Readings {
  readonly declared: DeclaredParts
  readonly traits: ReadonlyMap<string, JobRecord<'partBehaviour'>>
  readonly facts: ReturnType<typeof factsResolver>
}

type Found =
  | { readonly ok: true; readonly behaviour: Behaviour; readonly recognition: Recognition }
  | { readonly ok: false; readonly sentences: readonly string[] }

export function behaviourDesk(): BehaviourDesk {
  let readings: Readings | null = null
  let memo = behaviourMemo()
  const read = (data: JobData): Readings => {
    readings ??= {
      declared: declaredInJob(data),
      traits: new Map(Array.from(data.all('partBehaviour'), (each) => [each.partId, each])),
      facts: factsResolver(readAnswers([...data.all('factAnswer')])),
    }
    return readings
  }
  const find = (data: JobData, opening: Opening): Found => {
    const { declared, traits, facts } = read(data)
    const answer = doorwayOf(data, opening, {
      declared,
      stage: 'designed',
      batterySeconds: batteryFromRecord,
      fireAlarmBatterySeconds: unknown({ about: 'battery', thing: 'the fire alarm system' }),
    })
    if (!answer.ok) return { ok: false, sentences: answer.problems.map(doorwayProblemSentence) }
    const behaviour = memo(answer.doorway)
    const recognition = recogniseArrangement({
      facts: facts({
        levelId: opening.levelId,
        typicalId: opening.typicalId,
        openingId: opening.id,
      }),
      behaviour: behaviour.results,
      fittings: traitsOf(answer.doorway, traitsDeclared(data, opening, answer.doorway, traits)),
    })
    return { ok: true, behaviour, recognition }
  }
  return {
    gates: (data, openings) => {
      const sets: (Gates | null)[] = []
      const places = new Map<string, number>()
      const of: Record<string, number> = {}
      for (const opening of openings) {
        const found = find(data, opening)
        const gates = found.ok ? gatesOf(found.behaviour, found.recognition) : null
        const key = JSON.stringify(gates)
        let place = places.get(key)
        if (place === undefined) {
          place = sets.push(gates) - 1
          places.set(key, place)
        }
        of[opening.id] = place
      }
      return { sets, of }
    },
    page: (data, opening) => {
      const found = find(data, opening)
      if (!found.ok) return { lines: [], sequence: [], arrangement: null, cannotTell: found.sentences }
      return {
        lines: gateLines(found.behaviour, found.recognition),
        sequence: sequenceOf(found.behaviour).map(({ sentences }) => sentences.join(' ')),
        arrangement: { name: found.recognition.wayOut, reasons: found.recognition.reasons },
        cannotTell: [],
      }
    },
    changed: (edits) => {
      const all = edits.some((edit) => shared.has(edit.kind))
      if (all) readings = null
      return all
    },
    forget: () => {
      readings = null
      memo = behaviourMemo()
    },
  }
}

/** What the parts of an opening's fittings say about listing and about how they are worked, by the doorway's ids. */
function traitsDeclared(
  data: JobData,
  opening: Opening,
  doorway: Doorway,
  traits: ReadonlyMap<string, JobRecord<'partBehaviour'>>,
): ReadonlyMap<string, DeclaredTraits> {
  const byTag = new Map<string, DeclaredTraits>()
  for (const { tag, part } of effectiveFittings(data, opening)) {
    const declared = part === null ? undefined : traits.get(part.id)
    if (declared === undefined) continue
    byTag.set(tag, {
      listedAs: declared.listedAs as readonly Listing[] | null,
      ...(declared.howWorked === null ? {} : { worked: declared.howWorked }),
    })
  }
  const things = [...doorway.devices, ...doorway.elements, ...doorway.hardware]
  return new Map(
    things.flatMap(({ id }) => {
      // A thing is named by its fitting's tag, with what it is of that fitting behind it.
      const found = byTag.get(id) ?? byTag.get(id.split(' ')[0] ?? '')
      return found === undefined ? [] : [[id, found] as const]
    }),
  )
}
