// A doorway as the engine sees it: what holds, what feeds it, what changes a contact. Nothing here knows how a job is kept.

/** One question whose answer is missing. The thing is named as people name it. */
export type Question =
  | { readonly about: 'battery'; readonly thing: string }
  | { readonly about: 'feed'; readonly thing: string }
  | { readonly about: 'contact'; readonly thing: string; readonly contact: string; readonly when: string }
  | { readonly about: 'setting'; readonly thing: string; readonly setting: string }
  | { readonly about: 'part'; readonly thing: string }
  | { readonly about: 'hold'; readonly thing: string }
  | { readonly about: 'thrown'; readonly thing: string }
  | { readonly about: 'delay'; readonly thing: string }
  | { readonly about: 'closer'; readonly thing: string }
  | { readonly about: 'relatching'; readonly thing: string }
  | { readonly about: 'overlap'; readonly thing: string }
  | { readonly about: 'input'; readonly thing: string; readonly input: string }
  | { readonly about: 'output'; readonly thing: string; readonly output: string }
  /** The circuit feeds back on itself, so that what it did before decides. */
  | { readonly about: 'circuit'; readonly thing: string }
  /** Two causes at once would put one contact in two states. */
  | { readonly about: 'conflict'; readonly thing: string; readonly contact: string }

/** Known, with where it comes from when that is worth saying, or not known with the question. Never a default. */
export type Fact<T> =
  | { readonly known: true; readonly value: T; readonly origin: string | null }
  | { readonly known: false; readonly question: Question }

/** From the keyed side, and from the egress side. */
export type Direction = 'in' | 'out'
export const directions: readonly Direction[] = ['in', 'out']

/** What a reason says about a thing: its key in this doorway, and its name as people read it. */
export interface Thing {
  readonly id: string
  readonly name: string
}

export type Leaf = Thing & {
  /** Whether something shuts the leaf after use: a closer, spring hinges, an operator's spring. */
  readonly shutsItself: Fact<boolean>
} & (
    | { readonly role: 'only' | 'active' }
    /** The leaf over whose edge this one cannot pass until that one is open; null where they are independent. */
    | { readonly role: 'inactive'; readonly opensAfter: Fact<string | null> }
  )

/** One ordinary motion: never two hands, never a tool. A key is no ordinary motion and is told apart. */
export type Motion =
  | 'lever'
  | 'exit device'
  | 'push pad'
  | 'thumb turn'
  | 'push on the leaf'
  | 'pull on the leaf'

/** What a hand works on one side of one leaf. */
export interface Hardware extends Thing {
  readonly leaf: string
  readonly side: 'keyed' | 'egress'
  readonly motion: Motion | 'key'
}

export type ContactState = 'closed' | 'open'

export interface ContactOf {
  readonly device: string
  readonly contact: string
}

/** Where current goes. Series with nothing in it is a plain wire; parallel with nothing in it is a gap. */
export type Path =
  | ({ readonly form: 'contact' } & ContactOf)
  | { readonly form: 'series'; readonly of: readonly Path[] }
  | { readonly form: 'parallel'; readonly of: readonly Path[] }
  | { readonly form: 'not told'; readonly question: Question }

export interface Feed {
  readonly from: Fact<string>
  readonly through: Path
}

/** A pair of terminals that acts on the state of what is wired to it. `never`: it is set to do nothing. */
export interface Input {
  readonly name: string
  readonly of: Path
  readonly actsWhen: Fact<ContactState | 'never'>
}

/** When an element is engaged. */
export type Engagement =
  | { readonly when: 'always' }
  | { readonly when: 'by hand'; readonly thrown: Fact<boolean> }
  /** An automatic bolt: out while that leaf is shut, drawn when it opens. */
  | { readonly when: 'while a leaf is shut'; readonly leaf: string }
  | {
      readonly when: 'by its feed'
      readonly holdsWhile: Fact<'fed' | 'not fed'>
      readonly feed: Feed
      /**
       * Terminals of the lock itself. One that holds while fed lets go when any acts. One that holds while not fed
       * lets go while it is fed and, where it has such terminals, only when one acts.
       */
      readonly releasedBy: readonly Input[]
    }

/** How an element holds, so that what cannot exist cannot be written: a magnet for one way, a strike without a latch. */
export type Grip =
  /** Friction or field, no bolt: a magnet, and it holds both ways or neither. */
  | { readonly form: 'holds the leaf' }
  /** Keeps hardware from working: an outer lever, or the pad of a delayed device. What holds the leaf is another element. */
  | { readonly form: 'blocks hardware'; readonly hardware: readonly string[] }
  /** A positive latch or bolt, caught by the frame or by an electric keeper. */
  | { readonly form: 'latches'; readonly keeper: string | null; readonly relatches: Fact<boolean> }
  /** An electric strike: it catches a latch. Let go, it lets that latch pass for the way in only. */
  | { readonly form: 'keeps a latch' }
  | { readonly form: 'holds the leaf open' }

export interface HoldingElement extends Thing {
  readonly leaf: string
  readonly grip: Grip
  readonly engaged: Engagement
  /** The hardware whose one motion withdraws it. */
  readonly drawnBy: readonly string[]
  /** Lets go some seconds after this hardware is pushed and held; null lets go by its engagement alone. */
  readonly delay: { readonly seconds: Fact<number>; readonly startedBy: readonly string[] } | null
}

/** What makes a contact change. */
export type Cause =
  /** A person works the device that owns the contact: walks up, presses, turns a key, works the hardware it sits in. */
  | { readonly on: 'worked' }
  | { readonly on: 'fire alarm' }
  | { readonly on: 'mains lost' }
  | { readonly on: 'leaf open'; readonly leaf: string }
  /** The other door of an interlock, by its mark. */
  | { readonly on: 'other opening open'; readonly opening: string }
  /** The coil of a relay is fed. */
  | { readonly on: 'coil fed'; readonly feed: Feed }
  | { readonly on: 'ordered'; readonly controller: string; readonly output: string }

export type Lasting =
  | { readonly form: 'as long as its cause' }
  | { readonly form: 'until reset' }
  | { readonly form: 'seconds'; readonly seconds: Fact<number> }

export interface Change {
  readonly cause: Cause
  readonly to: Fact<ContactState>
  readonly lasting: Lasting
}

export interface Contact {
  readonly name: string
  readonly atRest: Fact<ContactState>
  readonly changes: readonly Change[]
  /** A jumper turns rest and change round. What it does without power is said outright and is not turned. */
  readonly turnedRound: Fact<boolean>
}

export interface PoweredContact extends Contact {
  readonly withoutPower: Fact<ContactState>
}

/** In which condition a person works a device; null where nobody does. */
export type WorkedAs = 'exit' | 'manual release' | 'credential' | 'key' | 'staff'

export type Device = Thing & {
  readonly workedAs: WorkedAs | null
  /** The hardware whose motion works this switch; it is a switch in hardware. */
  readonly workedWith: string | null
} & (
    | { readonly needsPower: false; readonly contacts: readonly Contact[] }
    | { readonly needsPower: true; readonly feed: Feed; readonly contacts: readonly PoweredContact[] }
  )

/** What makes a controller release. */
export type Order =
  | { readonly on: 'open hours' }
  /** A reader, or another device that speaks to the controller without a contact. */
  | { readonly on: 'worked'; readonly device: string }
  | ({ readonly on: 'input'; readonly asksWhen: Fact<ContactState> } & ContactOf)

export interface ControllerOutput extends Thing {
  readonly energised: Fact<'to release' | 'while secured'>
  readonly orders: readonly Order[]
  readonly releaseSeconds: Fact<number>
}

export interface Controller extends Thing {
  readonly feed: Feed
  readonly outputs: readonly ControllerOutput[]
}

export interface Supply extends Thing {
  /** How long its battery carries the load; 0 is known to have none. */
  readonly batterySeconds: Fact<number>
  /** Terminals that take its outputs off, such as a fire alarm input. */
  readonly cutBy: readonly Input[]
}

/** A contact that tells and releases nothing. */
export interface Watch extends ContactOf {
  readonly does: 'shunts the forced-door alarm' | 'is only watched'
}

/** Opens a leaf by power when asked. It holds nothing. */
export interface Operator extends Thing {
  readonly leaf: string
  readonly feed: Feed
  readonly orders: readonly (
    | Order
    | { readonly on: 'output'; readonly controller: string; readonly output: string }
  )[]
  /** Terminals that keep it from opening, such as a fire alarm input. */
  readonly stoppedBy: readonly Input[]
}

/** One doorway. Keys are unique over the whole doorway; the order of every list means nothing. */
export interface Doorway {
  readonly leaves: readonly Leaf[]
  readonly hardware: readonly Hardware[]
  readonly elements: readonly HoldingElement[]
  readonly devices: readonly Device[]
  readonly controllers: readonly Controller[]
  readonly supplies: readonly Supply[]
  readonly operators: readonly Operator[]
  readonly watches: readonly Watch[]
}
