// What the engine answers, with reasons as coded steps. Sentences are made from them in sentences.ts.
import type { Condition } from './conditions.ts'
import type { ContactState, Direction, Grip, Motion, Question, Thing, WorkedAs } from './model.ts'

/** How open a passage is, from the freest. */
export type Ease =
  | { readonly form: 'free' }
  /** The hardware to work. More than one is more than one motion. */
  | { readonly form: 'free by hardware'; readonly by: readonly UsedHardware[] }
  | { readonly form: 'waits'; readonly seconds: number; readonly by: readonly UsedHardware[] }
  | { readonly form: 'held' }

export interface UsedHardware extends Thing {
  readonly motion: Motion
}

/** An answer that is certain, or the range that the missing facts leave open. */
export type Answer =
  | Ease
  | {
      readonly form: 'not known'
      readonly atBest: Ease
      readonly atWorst: Ease
      readonly missing: readonly Question[]
    }

export type Passage = Answer & { readonly reasons: readonly Reason[] }

export interface Passages {
  readonly in: Passage
  readonly out: Passage
}

export type Latched = (
  | { readonly form: 'latched' }
  | { readonly form: 'not latched' }
  | { readonly form: 'not known'; readonly missing: readonly Question[] }
) & { readonly reasons: readonly Reason[] }

/** Where a leaf with hold-open magnets stands. `left open`: let go, and nothing shuts it. */
export type Standing = 'shut' | 'held open' | 'left open' | 'not known'

export interface LeafResult extends Passages {
  readonly leaf: Thing
  readonly standing: Standing
  /** As if the leaf were shut, by hand if need be; the same as its passages where it stands shut. */
  readonly whenShut: Passages
  readonly latched: Latched
}

export interface OperatorResult {
  readonly operator: Thing
  /** `pushes against a lock`: asked to open a leaf that is still held. */
  readonly does: 'rests' | 'opens the leaf' | 'pushes against a lock' | 'not known'
}

/** The doorway is as open as its freer leaf. */
export interface ConditionResult extends Passages {
  readonly condition: Condition
  readonly leaves: readonly LeafResult[]
  readonly operators: readonly OperatorResult[]
}

/** Why a contact is as it is. */
export type Because =
  | { readonly why: 'at rest' }
  | { readonly why: 'worked'; readonly as: WorkedAs | null }
  | { readonly why: 'motion'; readonly hardware: Thing }
  | { readonly why: 'no power of its own'; readonly setting: string | null }
  | { readonly why: 'fire alarm' | 'mains lost' | 'leaf open' | 'coil fed' }
  | { readonly why: 'other opening open'; readonly opening: string }
  | { readonly why: 'ordered'; readonly by: readonly OrderedBy[] }
  | { readonly why: 'controller silent'; readonly controller: Thing }

export type OrderedBy =
  | { readonly order: 'open hours' }
  | { readonly order: 'device'; readonly device: Thing; readonly as: WorkedAs | null }

/** How long a contact stays changed. */
export type HowLong = { readonly seconds: number } | 'until reset' | null

export type GripForm = Grip['form']

/** One step of a reason. `thing` is what is held or fed; the chain reads from cause to passage. */
export type Reason =
  | { readonly step: 'nothing holds'; readonly leaf: Thing; readonly direction: Direction }
  | { readonly step: 'fed and holds'; readonly thing: Thing; readonly supply: Thing; readonly grip: GripForm }
  | { readonly step: 'not fed and holds'; readonly thing: Thing }
  | {
      readonly step: 'fed and lets go'
      readonly thing: Thing
      readonly supply: Thing
      readonly grip: GripForm
    }
  | { readonly step: 'not fed and lets go'; readonly thing: Thing; readonly grip: GripForm }
  | { readonly step: 'released at its terminals'; readonly thing: Thing; readonly input: string }
  | { readonly step: 'lets both go'; readonly thing: Thing }
  | {
      readonly step: 'thrown'
      readonly thing: Thing
      readonly how: 'always' | 'by hand' | 'while a leaf is shut'
    }
  | { readonly step: 'withdrawn'; readonly thing: Thing; readonly how: 'by hand' | 'while a leaf is shut' }
  | { readonly step: 'key only'; readonly thing: Thing }
  | { readonly step: 'drawn'; readonly thing: Thing; readonly hardware: UsedHardware }
  | { readonly step: 'motions'; readonly count: number }
  | {
      readonly step: 'waits'
      readonly thing: Thing
      readonly hardware: UsedHardware
      readonly seconds: number
    }
  | { readonly step: 'caught'; readonly thing: Thing; readonly keeper: Thing }
  | { readonly step: 'keeper lets pass'; readonly thing: Thing; readonly keeper: Thing }
  | { readonly step: 'keeper lets in only'; readonly keeper: Thing }
  | {
      readonly step: 'contact'
      readonly thing: Thing
      readonly device: Thing
      readonly contact: string
      readonly state: ContactState
      readonly because: Because
      readonly howLong: HowLong
    }
  | {
      readonly step: 'supply off'
      readonly thing: Thing
      readonly supply: Thing
      readonly because: SupplyOff
    }
  | { readonly step: 'on battery'; readonly supply: Thing; readonly seconds: number }
  | { readonly step: 'path has a gap'; readonly thing: Thing }
  /** It opens its contact in vain: another way around it keeps the feed. */
  | { readonly step: 'bypassed'; readonly thing: Thing; readonly device: Thing }
  | { readonly step: 'nothing asks'; readonly thing: Thing }
  | { readonly step: 'no alarm contact'; readonly thing: Thing }
  | { readonly step: 'only asks'; readonly device: Thing; readonly controller: Thing }
  | { readonly step: 'order does not reach'; readonly device: Thing | null; readonly thing: Thing }
  | { readonly step: 'not asked'; readonly device: Thing; readonly controller: Thing }
  | { readonly step: 'only shunts'; readonly device: Thing }
  | { readonly step: 'only watched'; readonly device: Thing }
  | { readonly step: 'only asks an operator'; readonly device: Thing }
  | { readonly step: 'reaches nothing'; readonly device: Thing }
  | { readonly step: 'held open'; readonly leaf: Thing; readonly thing: Thing }
  | { readonly step: 'shuts'; readonly leaf: Thing }
  | { readonly step: 'nothing shuts it'; readonly leaf: Thing }
  | { readonly step: 'latched by'; readonly thing: Thing }
  | { readonly step: 'does not relatch'; readonly thing: Thing }
  | { readonly step: 'no positive latch'; readonly leaf: Thing }
  | { readonly step: 'not latched'; readonly thing: Thing }
  | { readonly step: 'opens after'; readonly leaf: Thing; readonly first: Thing }
  | { readonly step: 'freer leaf'; readonly leaf: Thing }
  | { readonly step: 'not known'; readonly question: Question }

export type SupplyOff = 'no power' | 'mains lost, no battery' | 'taken off at its terminals'
