// What an elevation is drawn from, and what it says in words. Nothing here knows how a line is drawn.
import { writeLength, type Hand, type Leaf, type Units } from '../job/index.ts'

/** Where a kind of part usually stands. Shapes and heights belong to the drawing. */
export const placements = [
  'head at the lock side',
  'head at the hinge side',
  'head contact',
  'head hold-open',
  'wall hold-open',
  'over the door',
  'lock stile',
  'lock jamb',
  'hinge jamb',
  'across the leaf',
  'bolt at the head',
  'bolt at the floor',
  'reader beside the door',
  'release beside the door',
  'elsewhere',
] as const
export type Placement = (typeof placements)[number]

export type Side = 'keyed' | 'egress'

/** On one leaf as it hangs, in micrometres: `x` from its strike edge towards its hinges, `y` down from the head. */
export interface ElevationBox {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  readonly solid: boolean
}

export interface ElevationFitting {
  readonly tag: string
  /** Null is not known. */
  readonly placement: Placement | null
  /** The face it stands on; `within` the leaf or the frame it shows on both. Null is not known. */
  readonly side: Side | 'within' | null
  /** The leaf it belongs to; of no weight on a single leaf. */
  readonly leaf: 'active' | 'inactive'
  /** Of its middle above the floor; left out or null, the usual one. */
  readonly heightMicrometres?: number | null
  /** Its bodies where they stand, to scale; none, and the symbol of its placement is drawn. */
  readonly boxes?: readonly ElevationBox[]
}

/** Null shares the opening's width: what the other leaf leaves, or half. */
export type ElevationLeaves =
  | { readonly form: 'single' }
  | {
      readonly form: 'pair'
      readonly activeWidthMicrometres: number | null
      readonly inactiveWidthMicrometres: number | null
    }
  | { readonly form: 'not known' }

export interface ElevationInput {
  readonly units: Units
  readonly seenFrom: Side
  readonly widthMicrometres: number | null
  readonly heightMicrometres: number | null
  /** Of the only or the active leaf, judged standing at the keyed side. */
  readonly hand: Hand | null
  readonly leaves: ElevationLeaves
  readonly fittings: readonly ElevationFitting[]
}

/** The leaves of an opening's records; none, or a number that no elevation shows, is not known. */
export function elevationLeaves(leaves: readonly Pick<Leaf, 'role' | 'widthMicrometres'>[]): ElevationLeaves {
  if (leaves.length === 1) return { form: 'single' }
  const active = leaves.find((leaf) => leaf.role === 'active')
  const inactive = leaves.find((leaf) => leaf.role === 'inactive')
  if (leaves.length !== 2 || active === undefined || inactive === undefined) return { form: 'not known' }
  return {
    form: 'pair',
    activeWidthMicrometres: active.widthMicrometres,
    inactiveWidthMicrometres: inactive.widthMicrometres,
  }
}

export type LeftOrRight = 'left' | 'right'

export interface Hang {
  /** Hinge side of the only or the active leaf, as this viewer sees it. */
  readonly hinges: LeftOrRight
  readonly opens: 'away' | 'towards'
}

/** How a hand looks from either side: from the egress side both turn round. Common practice, no source. */
export function hangSeenFrom(hand: Hand, side: Side): Hang {
  const left = hand.startsWith('L') === (side === 'keyed')
  const away = (hand === 'LH' || hand === 'RH') === (side === 'keyed')
  return { hinges: left ? 'left' : 'right', opens: away ? 'away' : 'towards' }
}

export interface LeafWidths {
  readonly activeMicrometres: number
  readonly inactiveMicrometres: number
}

/** Widths of a pair's leaves; null where the opening's width is not known or the leaves do not add up to it. */
export function leafWidths(input: Pick<ElevationInput, 'leaves' | 'widthMicrometres'>): LeafWidths | null {
  const { leaves, widthMicrometres: whole } = input
  if (leaves.form !== 'pair' || whole === null) return null
  const active =
    leaves.activeWidthMicrometres ??
    (leaves.inactiveWidthMicrometres === null ? whole / 2 : whole - leaves.inactiveWidthMicrometres)
  const inactive = leaves.inactiveWidthMicrometres ?? whole - active
  return active > 0 && inactive > 0 && active + inactive === whole
    ? { activeMicrometres: active, inactiveMicrometres: inactive }
    : null
}

export type ElevationFact = 'width' | 'height' | 'hand' | 'leaves' | 'leaf widths'

export interface ElevationQuestion {
  readonly fact: ElevationFact
  /** Few words, for the drawing itself. */
  readonly short: string
  readonly sentence: string
}

const isKnown = (micrometres: number | null): micrometres is number => micrometres !== null && micrometres > 0

/** The facts that a true elevation still needs. */
export function elevationQuestions(input: ElevationInput): readonly ElevationQuestion[] {
  const questions: ElevationQuestion[] = []
  const ask = (fact: ElevationFact, short: string, sentence: string): void => {
    questions.push({ fact, short, sentence })
  }
  if (!isKnown(input.widthMicrometres))
    ask('width', 'width not known', 'The width is not known, so it is not drawn to scale.')
  if (!isKnown(input.heightMicrometres))
    ask('height', 'height not known', 'The height is not known, so it is not drawn to scale.')
  if (input.leaves.form === 'not known')
    ask('leaves', 'leaves not known', 'The number of leaves is not known.')
  if (input.leaves.form === 'pair' && isKnown(input.widthMicrometres) && leafWidths(input) === null)
    ask(
      'leaf widths',
      'leaves do not add up',
      'The widths of the leaves do not add up to the width of the opening.',
    )
  if (input.hand === null)
    ask('hand', 'hand not known', 'The hand is not known, so hinges and swing are not drawn.')
  return questions
}

/** Placements that can be drawn before the hinge side and the leaves are known. */
const needNoHand: ReadonlySet<Placement> = new Set(['over the door'])

/** What stands in the way of drawing a fitting; `elsewhere` belongs on no elevation. */
export function whyNotDrawn(
  input: ElevationInput,
  fitting: ElevationFitting,
): 'elsewhere' | 'placement' | 'hand' | 'leaves' | null {
  if (fitting.placement === null) return 'placement'
  if (fitting.placement === 'elsewhere') return 'elsewhere'
  if (needNoHand.has(fitting.placement)) return null
  if (input.hand === null) return 'hand'
  return input.leaves.form === 'not known' ? 'leaves' : null
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`

function notDrawnSentences(input: ElevationInput): string[] {
  const { fittings } = input
  const tags = (why: ReturnType<typeof whyNotDrawn>): string[] =>
    fittings.filter((fitting) => whyNotDrawn(input, fitting) === why).map(({ tag }) => tag)
  const say = (names: string[], sentence: (names: string, is: string) => string): string[] =>
    names.length === 0 ? [] : [sentence(listed(names), names.length === 1 ? 'is' : 'are')]
  const sideless = fittings
    .filter((fitting) => fitting.side === null && whyNotDrawn(input, fitting) === null)
    .map(({ tag }) => tag)
  return [
    ...say(tags('elsewhere'), (names, is) => `${names} ${is} not at the door.`),
    ...say(tags('placement'), (names, is) => `Where ${names} ${is} placed is not known.`),
    ...say(tags('hand'), (names, is) => `${names} ${is} not drawn until the hand is known.`),
    ...say(tags('leaves'), (names, is) => `${names} ${is} not drawn until the leaves are known.`),
    ...say(sideless, (names, is) => `Which side ${names} ${is} on is not known.`),
  ]
}

/** What the elevation shows, in sentences: the side, hinges and swing, and the facts it lacks. */
export function elevationWords(input: ElevationInput): string {
  const sentences = [`Seen from the ${input.seenFrom} side.`]
  if (input.hand !== null) {
    const { hinges, opens } = hangSeenFrom(input.hand, input.seenFrom)
    const swing = opens === 'away' ? 'opens away' : 'opens towards you'
    sentences.push(
      input.leaves.form === 'pair'
        ? `Pair; the active leaf is on the ${hinges}. Hinges on both sides; ${swing}.`
        : `Hinges on the ${hinges}; ${swing}.`,
    )
  }
  sentences.push(...elevationQuestions(input).map(({ sentence }) => sentence), ...notDrawnSentences(input))
  return sentences.join(' ')
}

/** "3-0 by 7-0"; a size that is not known is left to the words. */
export function elevationSize(input: ElevationInput): {
  readonly width: string | null
  readonly height: string | null
} {
  const text = (micrometres: number | null): string | null =>
    isKnown(micrometres) ? writeLength(micrometres, input.units, { style: 'trade', nearest: true }) : null
  return { width: text(input.widthMicrometres), height: text(input.heightMicrometres) }
}
