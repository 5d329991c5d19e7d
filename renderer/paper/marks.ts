// Marks on paper: how large they are, how much room they take, and where they stand beside words.
import type { CellMark, Gate, GatePassage, TableRow } from '../../core/documents/index.ts'
import { cellMark, gateHalf, gateMark, type Drawing } from '../drawing/index.ts'

/** Capitals of the table face stand 0.7 em high. */
const capitalsInSizes = 0.7
const gapInSizes = 0.35

/** A gate mark stands as high as a line of the table. */
const gateInSizes = 1.35

export type RowMark = CellMark | Gate

/** What stands on a cell beside its words. */
export const markOfCell = (row: TableRow, columnKey: string): RowMark | undefined =>
  row.gates?.[columnKey] ?? row.marks[columnKey]

export const markDrawing = (mark: RowMark, size: number): Drawing =>
  typeof mark === 'string'
    ? cellMark(mark, size * capitalsInSizes)
    : gateMark(mark, { height: size * gateInSizes })

export const passageDrawing = (passage: GatePassage | 'trapped', size: number): Drawing =>
  gateHalf(passage, { height: size * gateInSizes })

/** The top of a mark whose middle is that of the capitals beside it. */
export const markTop = (drawing: Drawing, baseline: number, size: number): number =>
  baseline - (size * capitalsInSizes + drawing.height) / 2

/** The mark and the gap to the words after it, in points. */
export const markRoom = (mark: RowMark, size: number): number =>
  markDrawing(mark, size).width + size * gapInSizes
