// Reading and adding in lists of numbers. One function for each kind of list, so that the engine compiles it once.

/** The number at a place that is surely there. */
export const at = (list: Float64Array, index: number): number => list[index] as number
/** The index at a place that is surely there. */
export const placeAt = (list: Int32Array, index: number): number => list[index] as number

export function add(list: Float64Array, index: number, amount: number): void {
  list[index] = (list[index] as number) + amount
}
