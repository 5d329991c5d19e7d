// What a doorway does in each condition, as marks and reasons: the schedule's columns, the opening's page and paper.
import {
  hindranceOf,
  sentencesOf,
  trappedWithout,
  type Behaviour,
  type ConditionName,
  type ConditionResult,
} from '../behaviour/index.ts'
import { acceptedArrangement, type Recognition } from '../cautions/index.ts'
import { gateOf, type Gate } from './gate.ts'

export const gateColumns = [
  'secured',
  'exit asked',
  'fire alarm',
  'mains lost',
  'no power',
] as const satisfies readonly ConditionName[]
export type GateColumn = (typeof gateColumns)[number]

/** Null where the doorway has nothing of the kind, such as an exit device to ask. */
export type Gates = Readonly<Record<GateColumn, Gate | null>>

/** One condition in full, as the opening's page and the margin show it. */
export interface GateLine {
  readonly condition: ConditionName
  /** The device that is worked or lost. */
  readonly of: string | null
  readonly gate: Gate
  readonly latched: 'latched' | 'not latched' | 'not known'
  readonly because: readonly string[]
}

/** The whole doorway is latched when each of its leaves is. */
function latchedOf(result: ConditionResult): GateLine['latched'] {
  const forms = result.leaves.map((leaf) => leaf.latched.form)
  if (forms.includes('not latched')) return 'not latched'
  return forms.includes('not known') || forms.length === 0 ? 'not known' : 'latched'
}

/** Every condition of a doorway in the order in which people read them. */
export function gateLines({ results }: Behaviour, recognition: Recognition): readonly GateLine[] {
  return trappedWithout(acceptedArrangement(recognition), results).map(({ result, trapped }) => ({
    condition: result.condition.name,
    of: result.condition.of?.name ?? null,
    gate: gateOf(result, trapped),
    latched: latchedOf(result),
    because: [...new Set([...sentencesOf(result.in), ...sentencesOf(result.out)])],
  }))
}

/** The marks of the schedule. Where several devices can be asked, the one that lets out most easily counts. */
export function gatesOf(behaviour: Behaviour, recognition: Recognition): Gates {
  const marked = trappedWithout(acceptedArrangement(recognition), behaviour.results)
  const gate = (column: GateColumn): Gate | null => {
    const [first, ...rest] = marked.filter(({ result }) => result.condition.name === column)
    if (first === undefined) return null
    const easiest = rest.reduce(
      (best, each) => (outHindrance(each.result) < outHindrance(best.result) ? each : best),
      first,
    )
    return gateOf(easiest.result, easiest.trapped)
  }
  return {
    secured: gate('secured'),
    'exit asked': gate('exit asked'),
    'fire alarm': gate('fire alarm'),
    'mains lost': gate('mains lost'),
    'no power': gate('no power'),
  }
}

const outHindrance = ({ out }: ConditionResult): number =>
  hindranceOf(out.form === 'not known' ? out.atWorst : out)
