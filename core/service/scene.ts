// All that is known of an opening when somebody calls about it, gathered once: the ground that checks stand on.
import type {
  Behaviour,
  Contact,
  ContactState,
  Device,
  Doorway,
  Fact,
  HoldingElement,
  Path,
} from '../behaviour/index.ts'
import {
  effectiveFittings,
  type EffectiveFitting,
  type JobData,
  type JobRecord,
  type Opening,
} from '../job/index.ts'
import { batteryAges, type BatteryAge } from '../handover/index.ts'
import {
  declaredEffects,
  loopOfPoint,
  nothingTold,
  partBook,
  settingsOf,
  type DeclaredEffect,
  type FittingSettings,
  type LoopStates,
} from '../settings/index.ts'
import { fedDevices, type FedDevice, type PowerOf } from './fed.ts'

/** A contact that stands between the source and what holds. */
export interface ChainContact {
  readonly device: Device
  /** The fitting it is on; null for a relay of the controller, and for one of another opening. */
  readonly fitting: EffectiveFitting | null
  /** As a sentence may begin with it: "S1", "AC3", "The relay for M1". */
  readonly called: string
  readonly contact: string
  readonly terminals: string | null
  /** How it is with nobody at the door; null is not known. */
  readonly atRest: ContactState | null
  /** Seconds it stays changed, `until reset`, or null where it goes back with its cause or nobody knows. */
  readonly lasts: number | 'until reset' | null
  /** A relay of a controller, whichever output it is. */
  readonly isRelay: boolean
  /** The output of a controller whose relay it is; null where it is none, or no point says. */
  readonly output: { readonly controller: string; readonly point: string } | null
  readonly howWorked: JobRecord<'partBehaviour'>['howWorked']
}

/** Something that holds, with what stands in its feed. */
export interface Holder {
  readonly element: HoldingElement
  readonly fitting: EffectiveFitting | null
  readonly called: string
  /** Null holds by no feed, or nobody knows which way. */
  readonly holdsWhile: 'fed' | 'not fed' | null
  /** From the source to the device. */
  readonly chain: readonly ChainContact[]
  readonly fed: FedDevice | null
}

export interface InputLoop {
  readonly point: JobRecord<'point'>
  readonly controller: string
  readonly fitting: EffectiveFitting
  readonly loop: LoopStates
}

/** A fitting's settings with what each of them was declared to change. */
export interface SettingsHere {
  readonly fitting: FittingSettings
  /** As whom somebody works it; null is nobody, or not known. */
  readonly workedAs: JobRecord<'partBehaviour'>['workedAs']
  readonly effects: readonly DeclaredEffect[]
}

/** A change of the journal that reached this opening. */
export interface ChangeHere {
  readonly name: string
  readonly who: string
  readonly at: string
}

export interface Scene {
  readonly data: JobData
  readonly opening: Opening
  readonly today: string
  readonly fittings: readonly EffectiveFitting[]
  /** As it stands: settings as found, else set, else designed. Null where nobody can tell. */
  readonly behaviour: Behaviour | null
  readonly holders: readonly Holder[]
  readonly settings: readonly SettingsHere[]
  readonly fed: readonly FedDevice[]
  readonly loops: readonly InputLoop[]
  /** Of the supplies that feed it. */
  readonly batteries: readonly BatteryAge[]
  readonly findings: readonly JobRecord<'finding'>[]
  /** Oldest first. */
  readonly visits: readonly JobRecord<'visit'>[]
  /** When a step was last proved; null was never. */
  readonly provedAt: string | null
  /** Newest first, since it was proved. */
  readonly changedSince: readonly ChangeHere[]
}

export interface SceneSources {
  /** yyyy-mm-dd. */
  readonly today: string
  readonly behaviour: Behaviour | null
  readonly powerOf: PowerOf
  /** Newest first. */
  readonly changes: readonly ChangeHere[]
}

export function sceneOf(data: JobData, opening: Opening, sources: SceneSources): Scene {
  const fittings = effectiveFittings(data, opening).filter(({ leftOut }) => !leftOut)
  const fed = fedDevices(data, opening, sources.powerOf)
  const supplies = new Set(fed.flatMap(({ from }) => from?.supplyId ?? []))
  const book = partBook(data)
  const provedAt = lastProved(data, opening)
  return {
    data,
    opening,
    today: sources.today,
    fittings,
    behaviour: sources.behaviour,
    holders: sources.behaviour === null ? [] : holdersOf(data, sources.behaviour.doorway, fittings, fed),
    settings: settingsOf(data, { openingId: opening.id }, book).map((fitting) => ({
      fitting,
      workedAs: data.referring('partBehaviour', 'partId', fitting.partId ?? '')[0]?.workedAs ?? null,
      effects: declaredEffects(data, fitting),
    })),
    fed,
    loops: loopsOf(data, fittings, book),
    batteries: batteryAges(data, sources.today).filter(({ supplyId }) => supplies.has(supplyId)),
    findings: data.referring('finding', 'openingId', opening.id),
    visits: visitsOf(data, opening.id),
    provedAt,
    changedSince: provedAt === null ? [] : sources.changes.filter(({ at }) => at > provedAt),
  }
}

/** The visits of an opening, oldest first; those still open last. */
export const visitsOf = (data: JobData, openingId: string): JobRecord<'visit'>[] =>
  data
    .referring('visit', 'openingId', openingId)
    .toSorted((one, other) => compare(momentOf(one), momentOf(other)) || compare(one.id, other.id))

const momentOf = ({ at, reportedAt }: JobRecord<'visit'>): string =>
  at === null ? `9 ${reportedAt ?? ''}` : at
const compare = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)

function lastProved(data: JobData, opening: Opening): string | null {
  let last: string | null = null
  for (const { at, result } of data.referring('proof', 'openingId', opening.id))
    if (result !== 'not done' && at !== null && (last === null || at > last)) last = at
  return last
}

/** Things of a doorway are named by the tag of their fitting, with its key where two share a tag. */
function fittingOf(fittings: readonly EffectiveFitting[], thingId: string): EffectiveFitting | null {
  const isOf = (name: string): boolean => thingId === name || thingId.startsWith(`${name} `)
  return (
    fittings.find(({ tag, key }) => isOf(`${tag} ${key}`)) ?? fittings.find(({ tag }) => isOf(tag)) ?? null
  )
}

const known = <T>(fact: Fact<T>): T | null => (fact.known ? fact.value : null)

function contactsIn(path: Path): readonly { readonly device: string; readonly contact: string }[] {
  if (path.form === 'contact') return [path]
  return path.form === 'not told' ? [] : path.of.flatMap(contactsIn)
}

function holdersOf(
  data: JobData,
  doorway: Doorway,
  fittings: readonly EffectiveFitting[],
  fed: readonly FedDevice[],
): Holder[] {
  return doorway.elements.map((element): Holder => {
    const fitting = fittingOf(fittings, element.id)
    const { engaged } = element
    const byFeed = engaged.when === 'by its feed'
    return {
      element,
      fitting,
      called: fitting?.tag ?? element.name,
      holdsWhile: byFeed ? known(engaged.holdsWhile) : null,
      chain: byFeed
        ? contactsIn(engaged.feed.through).flatMap(
            (of) => chainContact(data, doorway, fittings, fitting, of) ?? [],
          )
        : [],
      fed: fed.find(({ fittingId }) => fittingId === fitting?.fitting?.id) ?? null,
    }
  })
}

function chainContact(
  data: JobData,
  doorway: Doorway,
  fittings: readonly EffectiveFitting[],
  holder: EffectiveFitting | null,
  of: { readonly device: string; readonly contact: string },
): ChainContact | null {
  const device = doorway.devices.find(({ id }) => id === of.device)
  if (device === undefined) return null
  const contact = device.contacts.find(({ name }) => name === of.contact)
  const fitting = fittingOf(fittings, device.id)
  const part = fitting?.part ?? null
  const record = part === null ? [] : data.referring('partContact', 'partId', part.id)
  const [does] = part === null ? [] : data.referring('partBehaviour', 'partId', part.id)
  const output = fitting === null ? outputOf(data, holder) : null
  return {
    device,
    fitting,
    called:
      fitting?.tag ??
      output?.controller ??
      capital(device.name.replace(/^the relay for .*/, 'the controller')),
    contact: of.contact,
    terminals: record.find(({ name }) => name === of.contact)?.terminals ?? null,
    atRest: contact === undefined ? null : restOf(contact),
    lasts: contact === undefined ? null : lastsOf(contact),
    isRelay: contact?.changes.some(({ cause }) => cause.on === 'ordered') === true,
    output,
    howWorked: does?.howWorked ?? null,
  }
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

const otherState: Readonly<Record<ContactState, ContactState>> = { closed: 'open', open: 'closed' }

function restOf({ atRest, turnedRound }: Contact): ContactState | null {
  if (!atRest.known || !turnedRound.known) return null
  return turnedRound.value ? otherState[atRest.value] : atRest.value
}

function lastsOf({ changes }: Contact): ChainContact['lasts'] {
  for (const { lasting } of changes) {
    if (lasting.form === 'until reset') return 'until reset'
    if (lasting.form === 'seconds' && lasting.seconds.known) return lasting.seconds.value
  }
  return null
}

/** The controller's output that lets a fitting go. */
function outputOf(data: JobData, holder: EffectiveFitting | null): ChainContact['output'] {
  if (holder?.fitting == null) return null
  const point = data
    .referring('point', 'fittingId', holder.fitting.id)
    .find(({ direction }) => direction === 'output')
  if (point === undefined) return null
  return { controller: data.get('controller', point.controllerId)?.mark ?? '?', point: point.name }
}

function loopsOf(
  data: JobData,
  fittings: readonly EffectiveFitting[],
  book: ReturnType<typeof partBook>,
): InputLoop[] {
  return fittings.flatMap((fitting) =>
    fitting.fitting === null
      ? []
      : data
          .referring('point', 'fittingId', fitting.fitting.id)
          .filter(({ direction }) => direction === 'input')
          .flatMap((point): InputLoop[] => {
            const [terms] = data.referring('pointTerms', 'pointId', point.id)
            const found = loopOfPoint(
              data,
              point.id,
              terms === undefined ? nothingTold : { ...nothingTold, ...terms },
              book,
            )
            if (!found.ok) return []
            const controller = data.get('controller', point.controllerId)?.mark ?? 'its controller'
            return [{ point, controller, fitting, loop: found.loop }]
          }),
  )
}
