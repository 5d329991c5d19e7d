/** By code units, so that the order is the same on every machine. */
export const compareText = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0)
