// What every plan gives back, and the small words they share.
import { counted } from '../../job/index.ts'
import type { Change, Edit, JobData, Level, Opening } from '../../job/index.ts'
import type { CommandProblem } from '../commands.ts'

/** A command turned into edits, or why it cannot be. `leftOut` holds cells a person agreed to leave out. */
export type Planned =
  | {
      readonly ok: true
      readonly change: Change
      readonly reveal: readonly string[]
      readonly leftOut: readonly CommandProblem[]
    }
  | { readonly ok: false; readonly problems: readonly CommandProblem[] }

/** Makes ids that no record has; given by the host, since the core draws no lots. */
export type NewId = () => string

/** Who asks for a change and when; given by the host. */
export interface Stamp {
  readonly who: string
  /** ISO 8601, UTC. */
  readonly at: string
}

export const planned = (name: string, edits: readonly Edit[], reveal: readonly string[] = []): Planned => ({
  ok: true,
  change: { name, edits },
  reveal,
  leftOut: [],
})

export const impossible = (sentence: string): Planned => ({
  ok: false,
  problems: [{ openingId: null, column: null, sentence }],
})

/** "118", or "3 openings" when there are several. */
export const openingsNamed = (openings: readonly Opening[]): string => {
  const [only] = openings
  return openings.length === 1 && only !== undefined ? only.mark : counted(openings.length, 'opening')
}

export const levelName = (level: Level | undefined): string => level?.name ?? 'the level'

/** The marks on a level, without case, with whose they are. */
export const marksOn = (data: JobData, levelId: string): Map<string, string> =>
  new Map(data.referring('opening', 'levelId', levelId).map((each) => [each.mark.toLowerCase(), each.id]))

/** A mark as the mark column takes it, trimmed, or the sentence that refuses it. */
export function markWanted(text: string): { mark: string } | { sentence: string } {
  const mark = text.trim()
  if (mark === '') return { sentence: 'No mark was given; expected a door number such as 104A.' }
  if (mark.length > 60)
    return { sentence: `"${clipped(mark)}" is not a mark; expected at most 60 characters.` }
  return { mark }
}

/** Long text cut short for a sentence. */
export const clipped = (text: string): string => (text.length > 40 ? `${text.slice(0, 40)}…` : text)

/** Why a name cannot stand, or null. */
export const nameless = (name: string, of: string): string | null =>
  name.trim() === '' ? `No name was given; expected a name for the ${of}.` : null

/** The openings of these ids; a plan stops with this sentence when one is gone. */
export function openingsOf(data: JobData, ids: readonly string[]): Opening[] | null {
  const found: Opening[] = []
  for (const id of new Set(ids)) {
    const opening = data.get('opening', id)
    if (opening === undefined) return null
    found.push(opening)
  }
  return found
}

export const openingGone = 'An opening named in this change is no longer there; look at the schedule again.'

export const nextPosition = (records: Iterable<{ readonly position: number }>): number => {
  let highest = -1
  for (const { position } of records) highest = Math.max(highest, position)
  return highest + 1
}
