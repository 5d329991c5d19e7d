// What preparation is worked out from, and what it comes to. Plain data: lengths in whole micrometres, null is not known.
import type { FittingPlace, Hand, Units } from '../job/index.ts'

export type Side = 'keyed' | 'egress'
export type Swing = 'push side' | 'pull side'
export type Substrate = 'hollow metal' | 'solid wood' | 'aluminium' | 'glass'
export type LeftOrRight = 'left' | 'right'

export interface PatternHole {
  readonly id: string
  readonly name: string
  /** The two lines it is measured from, in words: "Strike edge of leaf, and top edge of leaf". */
  readonly datum: string
  /** From the first line: towards the hinges from a strike edge, towards the strike from a hinge edge. */
  readonly acrossMicrometres: number
  /** From the second line: away from the door from a stop, down from a head or a top edge, up from a floor. */
  readonly alongMicrometres: number
  /** Null is a cut-out, or not known. */
  readonly diameterMicrometres: number | null
  /** Null is through. */
  readonly depthMicrometres: number | null
  readonly face: string | null
  readonly fastener: string | null
  readonly drilledWith: string | null
  /** A pocket instead of a round hole, centred on its place. */
  readonly cutOut?: CutOut
}

export interface CutOut {
  readonly widthMicrometres: number
  readonly heightMicrometres: number
}

export interface Pattern {
  readonly id: string
  readonly name: string
  readonly substrate: Substrate
  readonly notes: string | null
  /** What it is for; null holds holes of both. */
  readonly on: 'frame' | 'door' | null
  /** Null is not known. */
  readonly swing: Swing | 'either' | null
  /** Null is not known. */
  readonly leaves: 'single' | 'pair' | 'either' | null
  /** The body that hangs on the holes with a fastener. */
  readonly bodyName: string | null
  /** The least from the middle of a hole to an edge. */
  readonly edgeMicrometres: number | null
  readonly holes: readonly PatternHole[]
}

/** Width is seen across the doorway, height up and down (on a head: from the stop outwards), depth away from the surface. */
export interface Body {
  readonly name: string
  readonly widthMicrometres: number | null
  readonly heightMicrometres: number | null
  readonly depthMicrometres: number | null
  /** Kept clear beside it, so that it can slide on and off; 0 is known to need none. */
  readonly clearMicrometres: number | null
  /** Which edge that is measured to, in words: "frame edge". */
  readonly clearSide: string | null
}

export interface FittingToPrepare {
  readonly key: string
  readonly tag: string
  readonly partName: string
  /** Of a pair; null is not known, and of no weight on a single leaf. */
  readonly leaf: 'active' | 'inactive' | null
  readonly place: FittingPlace | null
  readonly side: Side | null
  /** Of its middle, above the floor. */
  readonly heightMicrometres: number | null
  /** Of its middle, from the strike edge; null leaves it where its pattern puts it. */
  readonly acrossMicrometres: number | null
  readonly patterns: readonly Pattern[]
  readonly bodies: readonly Body[]
}

export interface LeafToPrepare {
  readonly role: 'only' | 'active' | 'inactive'
  /** Null shares the opening's width. */
  readonly widthMicrometres: number | null
  readonly material: string | null
}

export interface DoorToPrepare {
  readonly mark: string
  readonly units: Units
  readonly hand: Hand | null
  readonly widthMicrometres: number | null
  readonly heightMicrometres: number | null
  readonly thicknessMicrometres: number | null
  readonly frameMaterial: string | null
  /** 0 is known to bear no label. */
  readonly fireLabelMinutes: number | null
  /** Flat underside of the frame head, from the stop outwards, on the side of the work. */
  readonly headSoffitMicrometres: number | null
  readonly leaves: readonly LeafToPrepare[]
  readonly fittings: readonly FittingToPrepare[]
}

export interface PreparationQuestion {
  /** As a person would ask it. */
  readonly words: string
  readonly whoCanSay: string
}

export type SurfaceName =
  | 'frame head'
  | 'frame head face'
  | 'frame strike jamb'
  | 'frame hinge jamb'
  | 'leaf face'
  | 'leaf top edge'
  | 'leaf strike edge'
  | 'leaf hinge edge'

/** A length as a tape shows it, from a named edge. */
export interface Tape {
  readonly micrometres: number
  /** To the nearest 1/16 in. or 1 mm. */
  readonly text: string
  /** "the strike-side frame edge". */
  readonly from: string
  /** "towards the hinges". */
  readonly towards: string
}

export interface PlacedHole {
  /** In order of work, over the whole fitting. */
  readonly number: number
  readonly id: string
  readonly name: string
  readonly surface: SurfaceName
  /**
   * On its surface, in micrometres: `x` from the strike side towards the hinges (on a jamb: from the stop outwards; on a
   * leaf's edge: from its middle line), `y` from the stop outwards on a head, up from the lower edge on a head's face,
   * from the pull face on a leaf's top edge, else down from the top. Null where a fact is missing; the tape may still
   * be known.
   */
  readonly x: number | null
  readonly y: number | null
  /** Null where a fact is missing. */
  readonly across: Tape | null
  readonly along: Tape | null
  /** The same place from the opposite edge, to check the marking; null where the width is not known. */
  readonly acrossAgain: Tape | null
  readonly diameterMicrometres: number | null
  readonly cutOut: CutOut | null
  /** Null is through. */
  readonly depthMicrometres: number | null
  /** "3/8\"", "1/2\" by 2\" cut-out", or what is not known. */
  readonly sizeText: string
  /** "through" or "1\" deep, blind". */
  readonly depthText: string
  readonly face: string | null
  /** Drilled from the other face of the leaf. */
  readonly otherFace: boolean
  readonly fastener: string | null
  readonly drilledWith: string | null
}

export interface PlacedBody {
  readonly name: string
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** One flat face that is marked and drilled, with everything on it. */
export interface PreparedSurface {
  readonly name: SurfaceName
  /** "Frame head, seen from below". */
  readonly title: string
  readonly units: Units
  /** Whole extent; null is not known. A leaf's is nominal. */
  readonly widthMicrometres: number | null
  readonly heightMicrometres: number | null
  /** Where the strike side is for a person who stands at the work, facing the door; null while the hand is not known. */
  readonly strikeAt: LeftOrRight | null
  /** Names of the edges: at x 0, and at y 0. */
  readonly acrossFrom: string
  readonly alongFrom: string
  /** The edge at x 0 is the line where the leaves of a pair meet. */
  readonly meetsOtherLeaf: boolean
  readonly holes: readonly PlacedHole[]
  readonly bodies: readonly PlacedBody[]
}

export type Verdict = 'met' | 'caution' | 'does not apply' | 'not known'

/** Where a limit was read, and how far that was confirmed. */
export interface LimitSource {
  readonly words: string
  readonly standing: 'verified' | 'from memory'
}

export interface PreparationCheck {
  readonly key: string
  readonly verdict: Verdict
  readonly sentence: string
  /** Only where the verdict is not known. */
  readonly questions: readonly PreparationQuestion[]
  /** Null for plain geometry and what the pattern itself asks. */
  readonly source: LimitSource | null
}

export interface WorkStep {
  readonly words: string
  readonly cautions: readonly string[]
}

export interface PlacedPattern {
  readonly key: string
  readonly tag: string
  readonly partName: string
  readonly leaf: 'only' | 'active' | 'inactive' | null
  readonly side: Side | null
  readonly swing: Swing | null
  readonly surfaces: readonly PreparedSurface[]
  /** All holes in order of work. */
  readonly holes: readonly PlacedHole[]
  /** The patterns that were placed. */
  readonly patterns: readonly Pattern[]
  readonly bodies: readonly Body[]
  /** Why there is nothing, or not everything, to drill. */
  readonly checks: readonly PreparationCheck[]
}

export interface Preparation extends PlacedPattern {
  readonly mark: string
  readonly steps: readonly WorkStep[]
  /** False while anything is refused or not known. */
  readonly mayDrill: boolean
}

export interface Preparations {
  readonly mark: string
  readonly preparations: readonly Preparation[]
  /** Tags of fittings whose part keeps no pattern. */
  readonly withoutPattern: readonly string[]
}
