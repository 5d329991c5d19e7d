// A state of a job with what its engines make of it: the job in hand, or a state that was frozen for an issue.
import { cautionsOverview, type Facts, type Review } from '../../core/cautions/index.ts'
import { lowNames, voltsByOpening, type DeviceVolts, type StateOfJob } from '../../core/comparing/index.ts'
import { readTwin } from '../../core/exchange/index.ts'
import { openingsInOrder, type StandingFacts } from '../../core/handover/index.ts'
import {
  effectiveFittings,
  JobData,
  recordKinds,
  type JobRecord,
  type Opening,
} from '../../core/job/index.ts'
import { keptPower, type JobPower, type SupplyPower } from '../../core/power/index.ts'
import { provingOf, type Proving } from '../../core/proving/index.ts'
import type { JobFile } from '../store/index.ts'
import { behaviourDesk, type BehaviourDesk } from './behaviour-desk.ts'
import type { Desk } from './desk.ts'
import { provingDesk } from './proving-desk.ts'

export interface WorkedOutJob {
  readonly data: JobData
  readonly behaviour: BehaviourDesk
  readonly proving: Proving
  readonly power: () => JobPower
  readonly supplies: () => readonly SupplyPower[]
  readonly volts: () => ReadonlyMap<string, readonly DeviceVolts[]>
  readonly review: (opening: Opening) => Review
  readonly facts: (opening: Opening | null) => Facts
  /** By building, level and mark. */
  readonly openings: () => readonly Opening[]
}

function once<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | null = null
  return () => (made ??= { value: make() }).value
}

function workedOut(
  data: JobData,
  behaviour: BehaviourDesk,
  proving: Proving,
  power: () => JobPower,
): WorkedOutJob {
  const supplies = (): readonly SupplyPower[] => power().supplies
  return {
    data,
    behaviour,
    proving,
    power,
    supplies,
    volts: once(() => voltsByOpening(data, supplies())),
    review: (opening) => behaviour.review(data, opening),
    facts: (opening) => behaviour.facts(data, opening),
    openings: once(() => openingsInOrder(data)),
  }
}

const kept = new WeakMap<JobData, { readonly revision: number; readonly worked: WorkedOutJob }>()

/** The job in hand, worked out once for each revision. */
export function handoverDesk(desk: Desk, { data, revision }: JobFile): WorkedOutJob {
  const found = kept.get(data)
  if (found?.revision === revision) return found.worked
  const worked = workedOut(data, desk.behaviour, provingDesk(desk, data, revision), () =>
    desk.power.read(data),
  )
  kept.set(data, { revision, worked })
  return worked
}

/** The same records in hands of their own: what is changed in the job afterwards does not reach them. */
export function frozen(data: JobData): JobData {
  const copy = new JobData()
  for (const kind of recordKinds) for (const record of data.all(kind)) copy.put(kind, record as never)
  return copy
}

/** A state that no window works on. */
export function workOut(data: JobData): WorkedOutJob {
  const power = once(keptPower(data).read)
  const behaviour = behaviourDesk(power)
  return workedOut(
    data,
    behaviour,
    provingOf(data, {
      review: (opening) => behaviour.review(data, opening),
      facts: (opening) => behaviour.facts(data, opening),
      power,
    }),
    power,
  )
}

/** For comparing two states. */
export const stateOfJob = ({ data, review, volts }: WorkedOutJob): StateOfJob => ({
  data,
  workedOut: (opening) => {
    const { behaviour, cautions } = review(opening)
    return {
      results: behaviour?.results ?? [],
      cautions,
      lowDevices: lowNames(volts().get(opening.id) ?? []),
    }
  },
})

/** The state that an issue was sealed in; a sentence where it cannot be read. */
export function sealedState(
  file: JobFile,
  issue: JobRecord<'issue'>,
): { readonly ok: true; readonly data: JobData } | { readonly ok: false; readonly sentence: string } {
  if (issue.twinSha256 === null)
    return {
      ok: false,
      sentence: `${issue.name} kept no state of the job; there is nothing to compare with.`,
    }
  const bytes = file.attachment(issue.twinSha256)
  if (!bytes.ok) return { ok: false, sentence: bytes.sentence }
  const read = readTwin(Buffer.from(bytes.bytes).toString('utf8'))
  return read.ok
    ? { ok: true, data: read.twin.data }
    : { ok: false, sentence: `The state of ${issue.name} cannot be read: ${read.problem.sentence}` }
}

/** What stands between the job and a seal. */
export function standingFacts(worked: WorkedOutJob): StandingFacts {
  const { data, proving, review, volts, supplies, openings } = worked
  const all = openings()
  const named = (list: readonly Opening[]) => list.map(({ id, mark }) => ({ id: id as string, mark }))
  const proofs = new Map(all.map((opening) => [opening.id, proving.proofOf(opening)]))
  const withCount = (state: 'failed' | 'stale' | 'cannot be proved'): readonly Opening[] =>
    all.filter(({ id }) => (proofs.get(id)?.counts[state] ?? 0) > 0)
  const withCaution = (severity: 'can trap someone' | 'breaks a rule'): readonly Opening[] =>
    all.filter((opening) =>
      review(opening).cautions.some((each) => each.verdict === 'caution' && each.severity === severity),
    )
  const overview = cautionsOverview(
    all.map((opening) => [opening.id as string, review(opening).cautions] as const),
    worked.facts(null),
  )
  const missing = all.map((opening) => ({
    opening,
    fittings: effectiveFittings(data, opening).filter(({ leftOut, serial }) => !leftOut && serial === null)
      .length,
  }))
  const signatures = [...data.all('signature')]
  const marksOf = (verdict: 'not met' | 'not known') =>
    supplies()
      .filter((each) => each.verdict === verdict)
      .map(({ supply }) => ({ id: supply.id, mark: supply.name }))
  return {
    openings: all.length,
    notProved: named(all.filter(({ id }) => proofs.get(id)?.proved !== true)),
    failed: named(withCount('failed')),
    stale: named(withCount('stale')),
    cannotBeProved: named(withCount('cannot be proved')),
    canTrap: named(withCaution('can trap someone')),
    breaksRule: named(withCaution('breaks a rule')),
    questions: overview.questions.length,
    lowDevices: [...volts()].flatMap(([openingId, devices]) =>
      lowNames(devices).map((name) => ({ name, openingId: openingId === '' ? null : openingId })),
    ),
    suppliesNotMet: marksOf('not met'),
    suppliesNotKnown: marksOf('not known'),
    openFindings: [...data.all('finding')]
      .filter(({ state }) => state === 'open')
      .map(({ words, openingId }) => ({ words, mark: data.get('opening', openingId ?? '')?.mark ?? null })),
    serialsMissing: {
      fittings: missing.reduce((sum, { fittings }) => sum + fittings, 0),
      openings: named(missing.filter(({ fittings }) => fittings > 0).map(({ opening }) => opening)),
    },
    installedNotKnown: named(all.filter(({ installedOn }) => installedOn === null)),
    signaturesMissing: (['training', 'acceptance'] as const).filter(
      (what) => !signatures.some(({ signsFor }) => signsFor === what),
    ),
    unsigned: signatures.filter(({ signedOn }) => signedOn === null).map(({ name }) => name),
    buildingCode: data.job.buildingCode,
    hasEmail: [...data.all('contact')].some(({ email }) => email?.includes('@') === true),
  }
}
