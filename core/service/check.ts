// One thing to look at, and how it comes to stand where it stands in the list.

export interface Check {
  /** The same each time for the same thing of this opening. */
  readonly key: string
  readonly form:
    | 'behaviour'
    | 'setting'
    | 'finding'
    | 'past'
    | 'look'
    | 'contact'
    | 'volts'
    | 'loop'
    | 'supply'
  /** What to do, as one reads it at the door. */
  readonly look: string
  /** The named terminal, switch or thing. */
  readonly at: string
  /** The reading or state that is right; null is not known, and `question` says what is missing. */
  readonly expected: string | null
  readonly question: string | null
  /** What was noted or read last. */
  readonly last: string | null
  /** Why it stands in this place. */
  readonly because: string
  /** What it means if it is otherwise. */
  readonly otherwise: string
  /** What could trap or hurt somebody while it is done. */
  readonly caution: string | null
  readonly fittingId: string | null
}

/** Something known of this very opening that makes a check more likely to be the one. */
export interface Evidence {
  readonly points: number
  /** A sentence. */
  readonly words: string
}

export interface Draft extends Omit<Check, 'because' | 'question' | 'last' | 'caution' | 'fittingId'> {
  /** Where it stands when nothing speaks for it: looks come before readings, what is near before what is far. */
  readonly usual: Evidence
  readonly evidence?: readonly Evidence[]
  readonly question?: string | null
  readonly last?: string | null
  readonly caution?: string | null
  readonly fittingId?: string | null
}

const pointsOf = ({ usual, evidence = [] }: Draft): number =>
  evidence.reduce((sum, { points }) => sum + points, usual.points)

/** Drafts in order, each once, with the reason for its place: what speaks for it most. */
export function inOrder(drafts: readonly Draft[]): Check[] {
  const once = new Map<string, Draft>()
  for (const draft of drafts) {
    const same = once.get(draft.key)
    if (same === undefined || pointsOf(draft) > pointsOf(same)) once.set(draft.key, draft)
  }
  return [...once.values()]
    .toSorted((one, other) => pointsOf(other) - pointsOf(one) || (one.key < other.key ? -1 : 1))
    .map(({ usual, evidence = [], ...rest }) => ({
      question: null,
      last: null,
      caution: null,
      fittingId: null,
      ...rest,
      because: [
        ...evidence.toSorted((one, other) => other.points - one.points),
        ...(evidence.length === 0 ? [usual] : []),
      ]
        .map(({ words }) => words)
        .join(' '),
    }))
}
