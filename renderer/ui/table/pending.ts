import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import type { Places } from './places.ts'
import type { CellEdit, EditAnswer, EditHow, TableColumn, TableItem } from './types.ts'

/** Typed text that stands greyed until the owner's new row comes. */
export interface PendingCell {
  readonly text: string
  readonly before: string
  readonly row: unknown
  readonly settled: boolean
  readonly ticket: number
}

export type PendingRow = ReadonlyMap<string, PendingCell>
export type PendingRows = ReadonlyMap<string, PendingRow>

/** How long a taken edit may stand without a new row before the row's own text returns. */
const PATIENCE_MILLISECONDS = 2000

/** Changes or drops (null) single cells; rows and maps in which nothing changed stay the same objects. */
export const revisePending = (
  pending: PendingRows,
  revise: (cell: PendingCell, rowKey: string, columnKey: string) => PendingCell | null,
): PendingRows => {
  let changed = false
  const next = new Map<string, PendingRow>()
  for (const [rowKey, cells] of pending) {
    let rowChanged = false
    const revised = new Map<string, PendingCell>()
    for (const [columnKey, cell] of cells) {
      const result = revise(cell, rowKey, columnKey)
      if (result !== cell) rowChanged = true
      if (result !== null) revised.set(columnKey, result)
    }
    changed ||= rowChanged
    if (revised.size > 0) next.set(rowKey, rowChanged ? revised : cells)
  }
  return changed ? next : pending
}

/** True while typed text is still to be shown: the row has not been replaced, or was replaced for another reason. */
export const stillPending = (cell: PendingCell, row: unknown, shownText: string): boolean =>
  row === cell.row || (!cell.settled && shownText === cell.before)

const added = (pending: PendingRows, cells: readonly (CellEdit & PendingCell)[]): PendingRows => {
  const next = new Map<string, PendingRow>(pending)
  for (const { rowKey, columnKey, ...cell } of cells) {
    next.set(rowKey, new Map(next.get(rowKey)).set(columnKey, cell))
  }
  return next
}

interface PendingEdits {
  readonly pending: PendingRows
  readonly send: (edits: readonly CellEdit[], how: EditHow) => void
}

/** Sends edits to the owner and keeps what was typed in sight until it answers. */
export const usePendingEdits = <Row>(
  items: readonly TableItem<Row>[],
  places: Places,
  columns: readonly TableColumn<Row>[],
  onEdit: ((cells: readonly CellEdit[], how: EditHow) => EditAnswer) | undefined,
): PendingEdits => {
  const [held, setHeld] = useState<PendingRows>(() => new Map())
  const tickets = useRef(0)
  const pending = useMemo(
    () =>
      revisePending(held, (cell, rowKey, columnKey) => {
        const row = places.rowByKey.get(rowKey)
        const item = row === undefined ? undefined : items[places.itemOfRow[row] ?? -1]
        const column = columns[places.columnByKey.get(columnKey) ?? -1]
        if (item?.form !== 'row' || column === undefined) return null
        return stillPending(cell, item.row, column.text(item.row)) ? cell : null
      }),
    [held, items, places, columns],
  )
  useEffect(() => {
    if (pending !== held) setHeld(pending)
  }, [pending, held])

  const send = useCallback(
    (edits: readonly CellEdit[], how: EditHow): void => {
      if (edits.length === 0 || onEdit === undefined) return
      tickets.current += 1
      const ticket = tickets.current
      const drop = (): void =>
        setHeld((now) => revisePending(now, (cell) => (cell.ticket === ticket ? null : cell)))
      const settle = (taken: void | boolean): void => {
        if (taken === false) return drop()
        setHeld((now) =>
          revisePending(now, (cell) => (cell.ticket === ticket ? { ...cell, settled: true } : cell)),
        )
        setTimeout(drop, PATIENCE_MILLISECONDS)
      }
      const cells = edits.flatMap((edit) => {
        const row = places.rowByKey.get(edit.rowKey)
        const item = row === undefined ? undefined : items[places.itemOfRow[row] ?? -1]
        const column = columns[places.columnByKey.get(edit.columnKey) ?? -1]
        if (item?.form !== 'row' || column === undefined) return []
        return [{ ...edit, before: column.text(item.row), row: item.row, settled: false, ticket }]
      })
      setHeld((now) => added(now, cells))
      const answer = onEdit(edits, how)
      if (answer instanceof Promise) answer.then(settle, drop)
      else settle(answer)
    },
    [onEdit, items, places, columns],
  )
  return { pending, send }
}
