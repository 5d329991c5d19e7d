// Where a run ends: an output of a supply, a fitting of an opening, a controller. Written and read as people name them.
import {
  asId,
  effectiveFittings,
  type EffectiveFitting,
  type JobData,
  type JobRecord,
  type Opening,
} from '../job/index.ts'
import { followingFitting } from '../settings/index.ts'
import type { ChangeBuilder } from './records-change.ts'

export type Run = JobRecord<'run'>
export type Side = 'from' | 'to'

export type RunEnd =
  | { readonly at: 'output'; readonly id: string }
  | { readonly at: 'controller'; readonly id: string }
  | { readonly at: 'fitting'; readonly id: string }
  /** A fitting that only follows its typical and has no record of its own yet. */
  | { readonly at: 'slot'; readonly openingId: string; readonly typicalFittingId: string }
  | { readonly at: 'nothing' }

export type KeptEnd = Exclude<RunEnd, { readonly at: 'slot' }>

export function endOf(run: Run, side: Side): KeptEnd {
  const [output, fitting, controller] =
    side === 'from'
      ? [run.fromOutputId, run.fromFittingId, run.fromControllerId]
      : [run.toOutputId, run.toFittingId, run.toControllerId]
  if (output !== null) return { at: 'output', id: output }
  if (fitting !== null) return { at: 'fitting', id: fitting }
  return controller === null ? { at: 'nothing' } : { at: 'controller', id: controller }
}

/** "PS3 output 2". */
export function outputName(data: JobData, id: string): string {
  const output = data.get('output', id)
  const supply = data.get('supply', output?.supplyId ?? '')
  return `${supply?.mark ?? '?'} output ${output?.name ?? '?'}`
}

/** "M1", as the fitting or its typical says. */
export const tagOf = (data: JobData, fitting: JobRecord<'fitting'>): string =>
  fitting.tag ?? data.get('typicalFitting', fitting.typicalFittingId ?? '')?.tag ?? '?'

/** "118 M1". */
export function fittingName(data: JobData, id: string): string {
  const fitting = data.get('fitting', id)
  if (fitting === undefined) return '?'
  return `${data.get('opening', fitting.openingId)?.mark ?? '?'} ${tagOf(data, fitting)}`
}

/** As people name the end; empty where it is at nothing. */
export function endName(data: JobData, end: KeptEnd): string {
  switch (end.at) {
    case 'output':
      return outputName(data, end.id)
    case 'fitting':
      return fittingName(data, end.id)
    case 'controller':
      return data.get('controller', end.id)?.mark ?? '?'
    case 'nothing':
      return ''
  }
}

/** The opening at which a run ends, or null. */
export function openingAt(data: JobData, end: KeptEnd): Opening | null {
  const fitting = end.at === 'fitting' ? data.get('fitting', end.id) : undefined
  return fitting === undefined ? null : (data.get('opening', fitting.openingId) ?? null)
}

export type EndRead =
  | { readonly ok: true; readonly end: RunEnd }
  /** The rest of a sentence after its row and field. */
  | { readonly ok: false; readonly words: string }

const plain = (text: string): string => text.trim().replace(/\s+/g, ' ').toLowerCase()

const listed = (names: readonly string[]): string =>
  names.length <= 8 ? names.join(', ') : `${names.slice(0, 8).join(', ')} and ${names.length - 8} more`

const expectedForms = 'an output such as PS1 output 1, a fitting such as 118 M1, or a controller such as AC1'

/** Reads ends by the names in a job. Made once for many texts. */
export function endReader(data: JobData): (text: string) => EndRead {
  const controllers = byPlainName(data.all('controller'), ({ mark }) => mark)
  const supplies = byPlainName(data.all('supply'), ({ mark }) => mark)
  const openings = byPlainName(data.all('opening'), ({ mark }) => mark)
  const fittingsOf = new Map<string, readonly EffectiveFitting[]>()
  const fittings = (opening: Opening): readonly EffectiveFitting[] => {
    const found =
      fittingsOf.get(opening.id) ?? effectiveFittings(data, opening).filter(({ leftOut }) => !leftOut)
    fittingsOf.set(opening.id, found)
    return found
  }

  const readOutput = (supply: JobRecord<'supply'>, rest: string, text: string): EndRead => {
    const outputs = data.referring('output', 'supplyId', supply.id).toSorted(byPosition)
    const wanted = rest.replace(/^(?:outputs?|out|o)\.?\s*(?=\S)/, '').replace(/^#/, '')
    const found = outputs.filter(({ name }) => plain(name) === wanted || plain(name) === rest)
    const [only] = found
    if (only !== undefined && found.length === 1) return { ok: true, end: { at: 'output', id: only.id } }
    const names = outputs.map(({ name }) => name)
    return {
      ok: false,
      words:
        outputs.length === 0
          ? `“${text}” is not there; ${supply.mark} has no outputs yet.`
          : `“${text}” is not there; expected an output of ${supply.mark}: ${listed(names)}.`,
    }
  }

  const readFitting = (opening: Opening, rest: string, text: string): EndRead => {
    const there = fittings(opening)
    const found = there.filter(({ tag }) => plain(tag) === rest)
    const [only] = found
    if (only === undefined || found.length > 1)
      return {
        ok: false,
        words:
          there.length === 0
            ? `“${text}” is not there; ${opening.mark} has no fittings yet.`
            : found.length > 1
              ? `“${text}” could be ${found.length} fittings of ${opening.mark}; give them tags that differ first.`
              : `“${text}” is not there; expected a fitting of ${opening.mark}: ${listed(there.map(({ tag }) => tag))}.`,
      }
    return {
      ok: true,
      end:
        only.fitting !== null
          ? { at: 'fitting', id: only.fitting.id }
          : { at: 'slot', openingId: opening.id, typicalFittingId: only.slot?.id ?? '' },
    }
  }

  return (text) => {
    const wanted = plain(text)
    if (wanted === '' || wanted === '-' || wanted === '—') return { ok: true, end: { at: 'nothing' } }
    const [controller, ...others] = controllers.get(wanted) ?? []
    if (controller !== undefined && others.length === 0)
      return { ok: true, end: { at: 'controller', id: controller.id } }
    // The longest name before a gap counts: marks may hold blanks themselves.
    for (const [head, rest] of splits(wanted)) {
      const supply = supplies.get(head)?.[0]
      if (supply !== undefined) return readOutput(supply, rest, text.trim())
      const named = openings.get(head) ?? []
      const [opening] = named
      if (opening === undefined) continue
      if (named.length > 1) {
        const levels = named.map(({ levelId }) => data.get('level', levelId)?.name ?? '?')
        return {
          ok: false,
          words: `“${text.trim()}” could be one of ${named.length} openings called ${opening.mark} (${listed(levels)}); give them marks that differ first.`,
        }
      }
      return readFitting(opening, rest, text.trim())
    }
    const alone = supplies.get(wanted)?.[0]
    if (alone !== undefined) return readOutput(alone, '', text.trim())
    const bare = openings.get(wanted)?.[0]
    if (bare !== undefined) return readFitting(bare, '', text.trim())
    return { ok: false, words: `“${text.trim()}” is nothing a run ends at; expected ${expectedForms}.` }
  }
}

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : 1)

function byPlainName<T>(all: Iterable<T>, nameOf: (each: T) => string): ReadonlyMap<string, readonly T[]> {
  const found = new Map<string, T[]>()
  for (const each of all) {
    const name = plain(nameOf(each))
    found.set(name, [...(found.get(name) ?? []), each])
  }
  return found
}

/** Every way to part a name from what follows it, longest first: "ps3 output 2", "ps3/2", "118-m1". */
function splits(text: string): readonly (readonly [string, string])[] {
  const found: (readonly [string, string])[] = []
  for (let at = text.length - 1; at > 0; at -= 1)
    if (/[\s/.:-]/.test(text[at] ?? '')) {
      const head = text.slice(0, at).replace(/[\s/.:-]+$/, '')
      const rest = text.slice(at + 1).replace(/^[\s/.:-]+/, '')
      if (head !== '' && rest !== '') found.push([head, rest])
    }
  return found
}

/** Makes the record of a fitting that only followed its typical; each one once a change. */
export type FittingMaker = (openingId: string, typicalFittingId: string) => string

export function fittingMaker(data: JobData, change: ChangeBuilder): FittingMaker {
  const made = new Map<string, string>()
  return (openingId, typicalFittingId) => {
    const key = `${openingId} ${typicalFittingId}`
    const there = made.get(key)
    if (there !== undefined) return there
    const slot = data.get('typicalFitting', typicalFittingId)
    if (slot === undefined) throw new Error('a fitting that follows nothing')
    const { id: _, ...record } = followingFitting('', asId(openingId), slot)
    const id = change.add('fitting', record)
    made.set(key, id)
    return id
  }
}

type EndFields<S extends Side> = Record<`${S}OutputId` | `${S}FittingId` | `${S}ControllerId`, string | null>

/** The fields of a run that say where this side of it ends. */
export function endFields<S extends Side>(side: S, end: RunEnd, makeFitting: FittingMaker): EndFields<S> {
  const fittingId =
    end.at === 'fitting'
      ? end.id
      : end.at === 'slot'
        ? makeFitting(end.openingId, end.typicalFittingId)
        : null
  return {
    [`${side}OutputId`]: end.at === 'output' ? end.id : null,
    [`${side}FittingId`]: fittingId,
    [`${side}ControllerId`]: end.at === 'controller' ? end.id : null,
  } as EndFields<S>
}
