// Which piece stands on which page, and how far down.
import type { Piece } from './pieces.ts'

export interface Place {
  readonly piece: Piece
  readonly top: number
  /** Stands there again, above a piece that starts a page. */
  readonly repeated: boolean
}

export type PlannedPage = readonly Place[]

export interface PageRoom {
  readonly firstTop: number
  /** Later pages carry a running head. */
  readonly nextTop: number
  readonly bottom: number
}

/** Pieces from top to bottom, page after page. Always gives at least one page. */
export function planPages(pieces: readonly Piece[], page: PageRoom): PlannedPage[] {
  let current: Place[] = []
  const pages: Place[][] = [current]
  let y = page.firstTop
  let filled = false
  pieces.forEach((piece, index) => {
    let together = 0
    for (let at = index; at < pieces.length; at += 1) {
      const each = pieces[at] as Piece
      together += each.height
      // Room between two pieces does not part what belongs together.
      if (!each.keepWithNext && each.onlyRoom !== true) break
    }
    if (filled && (piece.startsPage === true || y + together > page.bottom + 0.01)) {
      current = []
      pages.push(current)
      y = page.nextTop
      filled = false
      for (const repeated of piece.above) {
        current.push({ piece: repeated, top: y, repeated: true })
        y += repeated.height
      }
    }
    if (piece.onlyRoom === true) {
      if (filled) y += piece.height
      return
    }
    current.push({ piece, top: y, repeated: false })
    y += piece.height
    filled = true
  })
  return pages
}
