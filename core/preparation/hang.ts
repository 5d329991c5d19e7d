// Left and right, push and pull, for a person who stands on one side. The same facts as `hangSeenFrom` of core/documents,
// which this folder may not know.
import type { Hand } from '../job/index.ts'
import type { LeftOrRight, Side, Swing } from './model.ts'

/** LH and RH push away from the keyed side; LHR and RHR pull towards it. Source: standards.md 11, [S136][S137]. */
export function swingAt(hand: Hand, side: Side): Swing {
  const pushesFromKeyed = hand === 'LH' || hand === 'RH'
  return pushesFromKeyed === (side === 'keyed') ? 'push side' : 'pull side'
}

/** Where the strike side of a leaf is; the inactive leaf of a pair hangs at the other jamb. */
export function strikeSeenFrom(hand: Hand, side: Side, isInactive: boolean): LeftOrRight {
  const hingesLeft = hand.startsWith('L') === (side === 'keyed')
  return hingesLeft === isInactive ? 'left' : 'right'
}
