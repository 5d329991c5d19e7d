import { useCallback, useEffect, useRef } from 'react'

const EDGE_PIXELS = 24
const EDGE_TICK_MILLISECONDS = 40

/** The cell under a point of the window, as row number and column index; null beside the cells. */
export const cellUnder = (x: number, y: number): { readonly row: number; readonly column: number } | null => {
  const cell = document.elementFromPoint(x, y)?.closest<HTMLElement>('[data-column]')
  const row = cell?.closest<HTMLElement>('[data-row]')
  if (cell === null || cell === undefined || row === null || row === undefined) return null
  return { row: Number(row.dataset['row']), column: Number(cell.dataset['column']) }
}

/**
 * Calls back with the cell under the pointer until it is let go; scrolls when the pointer nears an edge. `onEnd` is told
 * whether the pointer was let go (true) or taken away (false).
 */
export const useDragSelect = (
  scroller: () => HTMLElement | null,
  onOver: (cell: { readonly row: number; readonly column: number }) => void,
  onEnd?: (letGo: boolean) => void,
): (() => void) => {
  const stop = useRef<() => void>(() => {})
  useEffect(() => () => stop.current(), [])
  return useCallback(() => {
    stop.current()
    let pointer: { x: number; y: number } | null = null
    const tick = (): void => {
      const element = scroller()
      if (element === null || pointer === null) return
      const box = element.getBoundingClientRect()
      const down = pointer.y > box.bottom - EDGE_PIXELS ? 1 : pointer.y < box.top + EDGE_PIXELS ? -1 : 0
      const right = pointer.x > box.right - EDGE_PIXELS ? 1 : pointer.x < box.left ? -1 : 0
      if (down !== 0 || right !== 0) element.scrollBy(right * 40, down * 34)
      const cell = cellUnder(
        Math.min(Math.max(pointer.x, box.left + 2), box.right - EDGE_PIXELS),
        Math.min(Math.max(pointer.y, box.top + 2), box.bottom - EDGE_PIXELS),
      )
      if (cell !== null) onOver(cell)
    }
    const timer = setInterval(tick, EDGE_TICK_MILLISECONDS)
    const move = (event: PointerEvent): void => {
      pointer = { x: event.clientX, y: event.clientY }
    }
    const finish = (): void => {
      clearInterval(timer)
      window.removeEventListener('pointermove', move)
      window.removeEventListener('pointerup', up)
      window.removeEventListener('pointercancel', away)
      window.removeEventListener('keydown', escape, true)
    }
    const up = (): void => {
      finish()
      onEnd?.(true)
    }
    const away = (): void => {
      finish()
      onEnd?.(false)
    }
    const escape = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || onEnd === undefined) return
      event.stopPropagation()
      away()
    }
    window.addEventListener('pointermove', move)
    window.addEventListener('pointerup', up)
    window.addEventListener('pointercancel', away)
    window.addEventListener('keydown', escape, true)
    stop.current = finish
  }, [scroller, onOver, onEnd])
}
