import { blockSize, type Block, type Places, type Spot } from './places.ts'
import type { CellEdit, EditHow, LeftOut, TableColumn } from './types.ts'

/** What is needed to work out the edits of a block. */
export interface Cells<Row> {
  readonly places: Places
  readonly columns: readonly TableColumn<Row>[]
  readonly rowAt: (row: number) => Row | undefined
  /** The text a person sees, typed text that waits for its answer included. */
  readonly textAt: (row: number, column: number) => string
}

export interface BlockEdits {
  readonly edits: readonly CellEdit[]
  readonly leftOut: LeftOut
  /** The cells that were written over, to be selected; null when there were none. */
  readonly block: Block | null
}

interface Gathered {
  readonly edits: CellEdit[]
  locked: number
}

const gather = <Row>(
  cells: Cells<Row>,
  block: Block,
  textFor: (row: number, column: number) => string | undefined,
): Gathered => {
  const found: Gathered = { edits: [], locked: 0 }
  for (let row = block.top; row <= block.bottom; row += 1) {
    const content = cells.rowAt(row)
    const rowKey = cells.places.rowKeys[row]
    if (content === undefined || rowKey === undefined) continue
    for (let at = block.left; at <= block.right; at += 1) {
      const column = cells.columns[at]
      const text = textFor(row, at)
      if (column === undefined || text === undefined) continue
      if (column.editable?.(content) !== true) found.locked += 1
      else if (text !== cells.textAt(row, at)) found.edits.push({ rowKey, columnKey: column.key, text })
    }
  }
  return found
}

const outcome = (
  found: Gathered,
  how: EditHow,
  block: Block | null,
  rowsBeyond = 0,
  columnsBeyond = 0,
): BlockEdits => ({
  edits: found.edits,
  leftOut: { how, locked: found.locked, rowsBeyond, columnsBeyond },
  block,
})

/** Rows of texts, as copied. */
export const copyBlock = <Row>(cells: Cells<Row>, block: Block): string[][] => {
  const rows: string[][] = []
  for (let row = block.top; row <= block.bottom; row += 1) {
    const texts: string[] = []
    for (let column = block.left; column <= block.right; column += 1) texts.push(cells.textAt(row, column))
    rows.push(texts)
  }
  return rows
}

/** Empties every cell of the block that may be edited. */
export const clearBlock = <Row>(cells: Cells<Row>, block: Block): BlockEdits =>
  outcome(
    gather(cells, block, () => ''),
    'clear',
    block,
  )

/** The block's first row down into its other rows; a block of one row is filled from the row above it. */
export const fillDown = <Row>(cells: Cells<Row>, block: Block): BlockEdits => {
  const oneRow = block.top === block.bottom
  const source = oneRow ? block.top - 1 : block.top
  if (source < 0) return outcome({ edits: [], locked: 0 }, 'fill', null)
  const target = oneRow ? block : { ...block, top: block.top + 1 }
  return outcome(
    gather(cells, target, (_row, column) => cells.textAt(source, column)),
    'fill',
    block,
  )
}

/** The block pulled out to a cell by its corner: in one direction alone, the one that leads further away. */
export const pulledTo = (block: Block, over: Spot): Block => {
  const down = Math.max(over.row - block.bottom, block.top - over.row, 0)
  const across = Math.max(over.column - block.right, block.left - over.column, 0)
  if (down === 0 && across === 0) return block
  return down >= across
    ? { ...block, top: Math.min(block.top, over.row), bottom: Math.max(block.bottom, over.row) }
    : { ...block, left: Math.min(block.left, over.column), right: Math.max(block.right, over.column) }
}

const beyond = (block: Block, pulled: Block): Block => {
  if (pulled.bottom > block.bottom) return { ...pulled, top: block.bottom + 1 }
  if (pulled.top < block.top) return { ...pulled, bottom: block.top - 1 }
  if (pulled.right > block.right) return { ...pulled, left: block.right + 1 }
  return { ...pulled, right: block.left - 1 }
}

/** Repeats a block over what it was pulled out to, from the edge it was pulled from. */
export const fillPulled = <Row>(cells: Cells<Row>, block: Block, pulled: Block): BlockEdits => {
  const { rows, columns } = blockSize(block)
  const within = (at: number, from: number, size: number): number =>
    from + ((((at - from) % size) + size) % size)
  return outcome(
    gather(cells, beyond(block, pulled), (row, column) =>
      cells.textAt(within(row, block.top, rows), within(column, block.left, columns)),
    ),
    'fill',
    pulled,
  )
}

/** One cell, or a piece that fits a whole number of times, fills the selection; else the piece is laid at its first cell. */
const pasteTarget = (block: Block, rows: number, columns: number): Block => {
  const size = blockSize(block)
  const repeats = size.rows % rows === 0 && size.columns % columns === 0
  return repeats ? block : { ...block, bottom: block.top + rows - 1, right: block.left + columns - 1 }
}

/** Lays copied rows over the table from the block's first cell. A short copied row leaves the cells it lacks alone. */
export const pasteOver = <Row>(
  cells: Cells<Row>,
  block: Block,
  copied: readonly (readonly string[])[],
): BlockEdits => {
  const rows = copied.length
  const columns = Math.max(0, ...copied.map((row) => row.length))
  if (rows === 0 || columns === 0) return outcome({ edits: [], locked: 0 }, 'paste', null)
  const wanted = pasteTarget(block, rows, columns)
  const target: Block = {
    ...wanted,
    bottom: Math.min(wanted.bottom, cells.places.rowKeys.length - 1),
    right: Math.min(wanted.right, cells.places.columnKeys.length - 1),
  }
  const found = gather(
    cells,
    target,
    (row, column) => copied[(row - target.top) % rows]?.[(column - target.left) % columns],
  )
  return outcome(found, 'paste', target, wanted.bottom - target.bottom, wanted.right - target.right)
}
