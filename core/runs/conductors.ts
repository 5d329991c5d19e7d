// The conductors of a run: what they are, and how they are made from a cable kind, a count, or the trade's 18/2.
import type { ConductorRole, JobData, JobRecord } from '../job/index.ts'
import { roleOf } from '../power/index.ts'
import type { ChangeBuilder } from './records-change.ts'
import type { KeptEnd, RunEnd } from './ends.ts'

export type Conductor = JobRecord<'conductor'>
export type CableKind = JobRecord<'cableKind'>

const byPosition = (one: { position: number; id: string }, other: { position: number; id: string }): number =>
  one.position - other.position || (one.id < other.id ? -1 : 1)

export const conductorsOf = (data: JobData, runId: string): Conductor[] =>
  data.referring('conductor', 'runId', runId).toSorted(byPosition)

export const cableKindsOf = (data: JobData): CableKind[] => [...data.all('cableKind')].toSorted(byPosition)

const guessed: Readonly<Record<ReturnType<typeof roleOf>, ConductorRole | null>> = {
  out: 'feed',
  back: 'return',
  spare: 'spare',
  other: null,
}

/** What a conductor is for, and whether somebody said so or it was read from its purpose. */
export function conductorUseOf(
  data: JobData,
  conductor: Conductor,
): { readonly role: ConductorRole | null; readonly said: boolean } {
  const [use] = data.referring('conductorUse', 'conductorId', conductor.id)
  if (use !== undefined) return { role: use.role, said: true }
  const read = guessed[roleOf(data, conductor)]
  const isSignal = read === null && (conductor.purpose ?? '').trim() !== ''
  return { role: isSignal ? 'signal' : read, said: false }
}

/** How a cable is written when no kind is named. Null stranded is not said. */
export interface CableWritten {
  readonly count: number
  readonly size: string
  readonly stranded: boolean | null
}

/** Reads the trade's short form: "18/2", "22/6 stranded", "16/2C". Null for anything else. */
export function readCableShort(text: string): CableWritten | null {
  const found = /^#?(\d{1,2})\s*\/\s*(\d{1,2})\s*c?(?=$|[\s,])(.*)$/i.exec(text.trim())
  if (found === null) return null
  const [gauge, count] = [Number(found[1]), Number(found[2])]
  if (gauge < 4 || gauge > 30 || count < 1 || count > 60) return null
  const rest = (found[3] ?? '').toLowerCase()
  const stranded = /\bstr/.test(rest) ? true : /\bsolid/.test(rest) ? false : null
  return { count, size: `${gauge} AWG`, stranded }
}

/** What the conductors of a run shall be. Colours in order; fewer colours than conductors leaves the rest not known. */
export interface Wanted {
  readonly count: number
  readonly size: string | null
  readonly stranded: boolean | null
  readonly colours: readonly string[]
}

export const wantedByKind = ({ conductorCount, size, stranded, colours }: CableKind): Wanted => ({
  count: conductorCount,
  size,
  stranded,
  colours,
})

const isShield = (colour: string | undefined): boolean =>
  /^(?:shield|screen|drain|bare)\b/i.test(colour ?? '')

/**
 * What each conductor of a new cable is for: from a controller all carry signals; elsewhere the first feeds, the second
 * returns and the others are spare. Common practice, no source; each can be said otherwise.
 */
export function usualRole(
  from: RunEnd,
  to: RunEnd,
  place: number,
  colour: string | undefined,
): ConductorRole {
  if (isShield(colour)) return 'shield'
  if (from.at === 'controller' || to.at === 'controller') return 'signal'
  return place === 0 ? 'feed' : place === 1 ? 'return' : 'spare'
}

/** Adds conductors from `first` on to a run, with their uses. */
export function addConductors(
  change: ChangeBuilder,
  runId: string,
  ends: readonly [from: RunEnd, to: RunEnd],
  wanted: Wanted,
  first = 0,
): void {
  for (let place = first; place < wanted.count; place += 1) {
    const colour = wanted.colours[place]
    const conductorId = change.add('conductor', {
      runId,
      position: place,
      colour: colour ?? null,
      size: wanted.size,
      stranded: wanted.stranded,
      purpose: null,
      fromTerminal: null,
      toTerminal: null,
    })
    change.add('conductorUse', { conductorId, role: usualRole(ends[0], ends[1], place, colour) })
  }
}

const isTerminated = ({ fromTerminal, toTerminal }: Conductor): boolean =>
  fromTerminal !== null || toTerminal !== null

/**
 * Makes the conductors of a run be as wanted: keeps the terminals of those that stay, adds what is missing, takes away
 * what is over. Those that stay keep their size or stranding where nothing was said of it. Gives the number that is over
 * and yet landed on a terminal; then nothing is changed.
 */
export function conform(
  data: JobData,
  change: ChangeBuilder,
  run: { readonly id: string; readonly ends: readonly [KeptEnd, KeptEnd] },
  wanted: Wanted,
  said: { readonly size: boolean; readonly stranded: boolean },
): number {
  const there = conductorsOf(data, run.id)
  const over = there.slice(wanted.count)
  const landed = over.filter(isTerminated).length
  if (landed > 0) return landed
  for (const [place, each] of there.slice(0, wanted.count).entries()) {
    const after = {
      colour: wanted.colours[place] ?? each.colour,
      size: said.size ? wanted.size : each.size,
      stranded: said.stranded ? wanted.stranded : each.stranded,
    }
    if (each.colour !== after.colour || each.size !== after.size || each.stranded !== after.stranded)
      change.set('conductor', each.id, after)
  }
  for (const { id } of over) change.remove('conductor', id)
  addConductors(change, run.id, run.ends, wanted, there.length)
  return 0
}
