// Which leaf a fitting goes on, and how wide it is.
import type { DoorToPrepare, FittingToPrepare, LeafToPrepare, PreparationQuestion } from './model.ts'

export const onSite = 'whoever measures on site'
export const scheduler = 'whoever keeps the door schedule'

export interface ChosenLeaf {
  readonly leaf: LeafToPrepare
  readonly isPair: boolean
}

/** The leaf, or the question that must be answered first. */
export function leafOf(door: DoorToPrepare, fitting: FittingToPrepare): ChosenLeaf | PreparationQuestion {
  const [first, second] = door.leaves
  if (first === undefined || door.leaves.length > 2)
    return { words: `How many leaves has ${door.mark}, and which is active?`, whoCanSay: scheduler }
  if (second === undefined) return { leaf: first, isPair: false }
  const role = fitting.leaf
  const found = role === null ? undefined : door.leaves.find((each) => each.role === role)
  return found === undefined
    ? { words: `On which leaf of the pair does ${fitting.tag} go?`, whoCanSay: scheduler }
    : { leaf: found, isPair: true }
}

/**
 * Width of a leaf: its own, else its share of the opening, which is nominal. Null where neither is known, or the leaves
 * of a pair do not add up to the opening. The same sharing as `leafWidths` of core/documents, which this folder may not know.
 */
export function leafWidth(door: DoorToPrepare, leaf: LeafToPrepare): number | null {
  const whole = door.widthMicrometres
  const other = door.leaves.find((each) => each !== leaf)
  if (other === undefined) return leaf.widthMicrometres ?? whole
  if (leaf.widthMicrometres !== null) {
    const adds =
      whole === null ||
      other.widthMicrometres === null ||
      leaf.widthMicrometres + other.widthMicrometres === whole
    return adds ? leaf.widthMicrometres : null
  }
  if (whole === null) return null
  const share = other.widthMicrometres === null ? whole / 2 : whole - other.widthMicrometres
  return share > 0 ? share : null
}
