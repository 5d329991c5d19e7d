// A code that phones read (ISO/IEC 18004), as rectangles.
import { encode } from 'uqr'

/** Left, top, width, height. */
export type Rectangle = readonly [number, number, number, number]

export interface CodeShape {
  readonly modulePoints: number
  readonly rectangles: readonly Rectangle[]
}

/** White on each side, in modules. Source: ISO/IEC 18004, 6.3.8. */
const quietModules = 4
/** Rows reach a little into the row below where that is dark too, so that no viewer shows a seam. */
const overlap = 0.04

/** The code in a square with its quiet zone inside; from the square's own corner. */
export function codeShape(text: string, side: number): CodeShape {
  const { data, size } = encode(text, { ecc: 'M', border: 0 })
  const modulePoints = side / (size + quietModules * 2)
  const at = (module: number): number => (module + quietModules) * modulePoints
  const rectangles: Rectangle[] = []
  data.forEach((row, y) => {
    const below = data[y + 1]
    for (let x = 0; x < size; x += 1) {
      if (row[x] !== true) continue
      const start = x
      const seam = below?.[x] === true
      while (x + 1 < size && row[x + 1] === true && (below?.[x + 1] === true) === seam) x += 1
      const height = modulePoints * (seam ? 1 + overlap : 1)
      rectangles.push([at(start), at(y), (x + 1 - start) * modulePoints, height])
    }
  })
  return { modulePoints, rectangles }
}
