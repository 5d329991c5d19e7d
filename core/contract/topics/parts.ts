// Parts and typicals: what they are, where they are used, side by side, and trying a change before it is kept.
import { z } from 'zod'
import type { Gates } from '../../documents/index.ts'
import type { JobRecord } from '../../job/index.ts'
import {
  fedBys,
  renamedKinds,
  type ComparedSection,
  type ComparedTypicals,
  type FedBy,
  type LibraryOffers,
  type PartRecords,
  type PartUse,
  type TypicalFittingView,
  type TypicalLink,
} from '../../parts/index.ts'
import { command } from '../../schedule/index.ts'
import { call } from '../call.ts'
import type { BehaviourPage, ChangeOutcome } from '../contract.ts'
import { id, told } from './shapes.ts'

/** A part in one line of the list. */
export interface PartInShort {
  readonly id: string
  readonly kind: string
  readonly name: string
  readonly model: string | null
  /** What it holds and does. */
  readonly does: string
  readonly volts: string
  readonly holding: string
  readonly typicals: number
  readonly openings: number
  /** "9 controllers": where it stands beside no doorway; null where it does not. */
  readonly elsewhere: string | null
  readonly spares: number
}

/** A typical in one line of the list. */
export interface TypicalInShort {
  readonly id: string
  readonly name: string
  /** Kinds of its parts, in its order. */
  readonly parts: string
  readonly openings: number
  /** What it does by itself; null where nobody can tell. */
  readonly gates: Gates | null
}

export interface PartsList {
  readonly parts: readonly PartInShort[]
  readonly typicals: readonly TypicalInShort[]
}

export interface PartPage {
  readonly records: PartRecords
  readonly does: string
  readonly use: PartUse
  /** Kinds that parts of this job are of, for choosing. */
  readonly kinds: readonly string[]
  readonly documents: readonly JobRecord<'document'>[]
  readonly spares: readonly JobRecord<'spare'>[]
}

export interface TypicalLook {
  /** What was taken for granted of the feed. */
  readonly fedBy: FedBy
  /** How many changes were tried; 0 is as it is written. */
  readonly tried: number
  /** Why something that was tried cannot be done. */
  readonly refused: readonly string[]
  readonly fittings: readonly TypicalFittingView[]
  readonly links: readonly TypicalLink[]
  readonly behaviour: BehaviourPage
}

/** A change with the part or typical that was made by it. */
export interface Made {
  readonly outcome: ChangeOutcome
  readonly id: string | null
  readonly leftOut: readonly string[]
}

const name = z.string().max(400)
const fedBy = z.enum(fedBys)

export const partsContract = {
  'parts.read': call(z.strictObject({}), told<PartsList>()),
  'part.read': call(z.strictObject({ partId: id }), told<PartPage>()),
  'parts.compare': call(
    z.strictObject({ partIds: z.array(id).min(2).max(4) }),
    told<{ readonly names: readonly string[]; readonly sections: readonly ComparedSection[] }>(),
  ),
  /** A new part: of a kind, or like another. */
  'part.make': call(z.strictObject({ name, kind: name, likePartId: id.nullable() }), told<Made>()),
  /** Renames what other records call by name, with everything that calls it so. */
  'part.rename': call(z.strictObject({ kind: z.enum(renamedKinds), id, name }), told<ChangeOutcome>()),
  /** Refused while the part’s own declarations name it, with where. */
  'part.removeHardware': call(z.strictObject({ hardwareId: id }), told<ChangeOutcome>()),
  /** Refused where it is used, with where. */
  'part.remove': call(z.strictObject({ partId: id }), told<ChangeOutcome>()),
  'starter.read': call(z.strictObject({}), told<LibraryOffers>()),
  'starter.bringIn': call(
    z.strictObject({ partIds: z.array(id).max(500), typicalIds: z.array(id).max(500) }),
    told<Made>(),
  ),
  /** A typical as it is, or as it would be with these changes. Nothing is written. */
  'typical.look': call(
    z.strictObject({ typicalId: id, trying: z.array(command).max(50), fedBy }),
    told<TypicalLook>(),
  ),
  'typicals.compare': call(
    z.strictObject({ typicalIds: z.array(id).min(2).max(3), fedBy }),
    told<ComparedTypicals & { readonly names: readonly string[] }>(),
  ),
} as const
