// What fittings declare about themselves. A rule reads these and never asks which kind of part it looks at.
import type { Doorway, HoldingElement, Motion } from '../behaviour/index.ts'

export type Listing = 'UL 294' | 'UL 1034' | 'UL 305' | 'UL 10C'

export interface Hold {
  readonly grip: HoldingElement['grip']['form']
  readonly holdsWhile: 'fed' | 'not fed' | 'always' | 'by hand' | 'not known'
}

/** How a person works it. `approach`: it senses somebody coming. */
export type Worked = 'approach' | 'press' | 'hardware' | 'key' | 'credential' | 'staff' | 'not known'

export interface FittingTraits {
  /** The key of its device, element or hardware in the doorway. */
  readonly id: string
  readonly name: string
  readonly holds: readonly Hold[]
  readonly worked: Worked | null
  readonly hardware: { readonly motion: Motion | 'key'; readonly side: 'keyed' | 'egress' } | null
  /** Null is not known; empty is known to bear none. */
  readonly listedAs: readonly Listing[] | null
}

export interface DeclaredTraits {
  readonly listedAs?: readonly Listing[] | null
  readonly worked?: Worked
}

/** What a doorway's things declare, with what their parts say about listing and about how they are worked. */
export function traitsOf(
  doorway: Doorway,
  declared: ReadonlyMap<string, DeclaredTraits> = new Map(),
): readonly FittingTraits[] {
  const listedAs = (id: string): readonly Listing[] | null => declared.get(id)?.listedAs ?? null
  return [
    ...doorway.elements.map((element) => ({
      id: element.id,
      name: element.name,
      holds: [{ grip: element.grip.form, holdsWhile: holdsWhile(element) }],
      worked: null,
      hardware: null,
      listedAs: listedAs(element.id),
    })),
    ...doorway.devices
      .filter((device) => device.workedAs !== null)
      .map((device) => ({
        id: device.id,
        name: device.name,
        holds: [],
        worked: declared.get(device.id)?.worked ?? workedBy(device),
        hardware: null,
        listedAs: listedAs(device.id),
      })),
    ...doorway.hardware.map((hardware) => ({
      id: hardware.id,
      name: hardware.name,
      holds: [],
      worked: null,
      hardware: { motion: hardware.motion, side: hardware.side },
      listedAs: listedAs(hardware.id),
    })),
  ]
}

function holdsWhile({ engaged }: HoldingElement): Hold['holdsWhile'] {
  switch (engaged.when) {
    case 'always':
    case 'while a leaf is shut':
      return 'always'
    case 'by hand':
      return 'by hand'
    case 'by its feed':
      return engaged.holdsWhile.known ? engaged.holdsWhile.value : 'not known'
  }
}

/** An exit device may sense or be pressed; only its part can say which. */
function workedBy(device: Doorway['devices'][number]): Worked | null {
  switch (device.workedAs) {
    case null:
      return null
    case 'exit':
      return device.workedWith === null ? 'not known' : 'hardware'
    case 'manual release':
      return 'press'
    case 'credential':
    case 'key':
    case 'staff':
      return device.workedAs
  }
}
