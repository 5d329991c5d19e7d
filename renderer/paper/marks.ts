// Cell marks on paper: how much room they take, and how they are painted.
import type { CellMark } from '../../core/documents/index.ts'
import { cellMark, type Drawing } from '../drawing/index.ts'

/** Capitals of the table face stand 0.7 em high. */
const capitalsInSizes = 0.7
const gapInSizes = 0.35

export const markDrawing = (mark: CellMark, size: number): Drawing => cellMark(mark, size * capitalsInSizes)

/** The mark and the gap to the words after it, in points. */
export const markRoom = (mark: CellMark, size: number): number =>
  markDrawing(mark, size).width + size * gapInSizes
