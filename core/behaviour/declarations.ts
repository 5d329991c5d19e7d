// What parts declare about behaviour, as flat rows that a job file can keep. Null is not known, never a default.
import type { Grip, Motion, WorkedAs } from './model.ts'

/** One row for each part that was declared; a part without a row may hold anything, and is a question. */
export interface PartDeclaration {
  readonly partId: string
  /** How people work it; null where nobody does. */
  readonly workedAs: WorkedAs | null
  /** The name of the hardware of this part that works its switches; null where it has none. */
  readonly workedWith: string | null
  /** What its contacts need to change. A lamp counts for nothing: a pressed button opens with its lamp dark. */
  readonly power: 'none' | 'from a supply' | 'from the fire alarm' | 'from the mains' | null
  readonly shutsLeaf: boolean
  readonly opensLeaf: boolean
}

/** Something of a part that a hand works. */
export interface HardwareDeclaration {
  readonly id: string
  readonly partId: string
  readonly position: number
  /** As in "the inner lever of L1". */
  readonly name: string
  readonly side: 'keyed' | 'egress'
  readonly motion: Motion | 'key'
}

/** Something of a part that holds. Hardware is named as the same part declares it. */
export interface ElementDeclaration {
  readonly id: string
  readonly partId: string
  readonly position: number
  /** As in "magnet M1" or "the latch of L1". */
  readonly name: string
  readonly grip: Grip['form']
  /** Null where a setting decides, or nobody told. */
  readonly engaged:
    | 'always'
    | 'by hand'
    | 'while the active leaf is shut'
    | 'while fed'
    | 'while not fed'
    | null
  readonly drawnBy: readonly string[]
  readonly blocks: readonly string[]
  /** Empty where it has no delay. */
  readonly delayStartedBy: readonly string[]
  /** Null where a setting decides, or nobody told. */
  readonly delaySeconds: number | null
  /** For latches: whether it latches by itself when the leaf shuts. */
  readonly relatches: boolean | null
}

/** How long a contact of a part stays changed. No row is not known; it changes no answer, only the sentence. */
export interface ContactDeclaration {
  readonly partContactId: string
  readonly lasts: 'as long as its cause' | 'until reset' | 'seconds'
  /** Null where a setting decides. */
  readonly seconds: number | null
}

/**
 * What one position of a setting, or one row of a bank's table, changes. Exactly one of the first two and exactly one of
 * the next two is there. `value`: `yes` or `no` for turned round, `closed` or `open` without power, `while fed` or
 * `while not fed` for engaged, a number of seconds for a delay or for how long a contact stays changed.
 */
export interface SettingEffect {
  readonly id: string
  readonly partPositionId: string | null
  readonly partSettingTableRowId: string | null
  readonly partContactId: string | null
  readonly partElementId: string | null
  readonly changes: 'turned round' | 'without power' | 'engaged' | 'delay seconds' | 'lasts seconds'
  readonly value: string
}

/** On which leaf of a pair a fitting of a typical goes. */
export interface SlotLeaf {
  readonly typicalFittingId: string
  readonly leaf: 'active' | 'inactive'
}

/** Whether an inactive leaf can open before the active one. No row is not known. */
export interface LeafOverlap {
  readonly leafId: string
  readonly opensAfterActive: boolean
}

export interface Declarations {
  readonly parts: readonly PartDeclaration[]
  readonly hardware: readonly HardwareDeclaration[]
  readonly elements: readonly ElementDeclaration[]
  readonly contacts: readonly ContactDeclaration[]
  readonly effects: readonly SettingEffect[]
  readonly slotLeaves: readonly SlotLeaf[]
  readonly overlaps: readonly LeafOverlap[]
}

/** Declarations by what they are about. */
export interface DeclaredParts {
  readonly part: ReadonlyMap<string, PartDeclaration>
  readonly hardware: ReadonlyMap<string, readonly HardwareDeclaration[]>
  readonly elements: ReadonlyMap<string, readonly ElementDeclaration[]>
  readonly contact: ReadonlyMap<string, ContactDeclaration>
  /** By the contact or element that is changed. */
  readonly effects: ReadonlyMap<string, readonly SettingEffect[]>
  readonly slotLeaf: ReadonlyMap<string, SlotLeaf['leaf']>
  readonly overlap: ReadonlyMap<string, boolean>
}

function grouped<T>(list: readonly T[], key: (each: T) => string): ReadonlyMap<string, readonly T[]> {
  const found = new Map<string, T[]>()
  for (const each of list) {
    const group = found.get(key(each))
    if (group === undefined) found.set(key(each), [each])
    else group.push(each)
  }
  return found
}

/** Looks up declarations once for a whole job. */
export const declaredParts = (declarations: Declarations): DeclaredParts => ({
  part: new Map(declarations.parts.map((each) => [each.partId, each])),
  hardware: grouped(declarations.hardware, ({ partId }) => partId),
  elements: grouped(declarations.elements, ({ partId }) => partId),
  contact: new Map(declarations.contacts.map((each) => [each.partContactId, each])),
  effects: grouped(
    declarations.effects,
    ({ partContactId, partElementId }) => partContactId ?? partElementId ?? '',
  ),
  slotLeaf: new Map(declarations.slotLeaves.map((each) => [each.typicalFittingId, each.leaf])),
  overlap: new Map(declarations.overlaps.map((each) => [each.leafId, each.opensAfterActive])),
})
