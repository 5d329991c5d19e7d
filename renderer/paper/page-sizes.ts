// Sheets of paper and how a document sits on them. Everything in points, 72 to the inch.

export const pageSizes = ['letter', 'tabloid', 'a4', 'a3'] as const
export type PageSize = (typeof pageSizes)[number]
export type Orientation = 'landscape' | 'portrait'

/** Short side, long side. ANSI A and B; ISO 216 A4 and A3, millimetres turned into points. */
const sides: Readonly<Record<PageSize, readonly [number, number]>> = {
  letter: [612, 792],
  tabloid: [792, 1224],
  a4: [595.28, 841.89],
  a3: [841.89, 1190.55],
}

/** Where things stand on each page, and how large the writing is. */
export interface PageLook {
  readonly width: number
  readonly height: number
  readonly left: number
  readonly right: number
  readonly top: number
  /** Nothing but the foot stands below this. */
  readonly bottom: number
  readonly footBaseline: number
  readonly tableSize: number
  readonly tableLeading: number
  readonly rowPadding: number
}

/** The look of a page. Large sheets are read from further away, so their writing is larger. */
export function pageLook(size: PageSize, orientation: Orientation): PageLook {
  const [short, long] = sides[size]
  const [width, height] = orientation === 'landscape' ? [long, short] : [short, long]
  const large = size === 'tabloid' || size === 'a3'
  const margin = large ? 45 : 36
  return {
    width,
    height,
    left: margin,
    right: width - margin,
    top: margin,
    bottom: height - margin - 20,
    footBaseline: height - margin,
    tableSize: large ? 8.8 : 7.8,
    tableLeading: large ? 10.8 : 9.5,
    rowPadding: large ? 2.3 : 1.9,
  }
}
