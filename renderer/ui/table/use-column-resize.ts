import { useCallback, useEffect, useRef, useState, type MouseEvent, type PointerEvent } from 'react'
import { LEAST_COLUMN_WIDTH, type ColumnLayout } from './layout.ts'

interface Drag {
  readonly key: string
  readonly startX: number
  readonly startWidth: number
}

interface ColumnResize {
  /** The width under the pointer, until it is let go. */
  readonly live: Readonly<Record<string, number>>
  readonly onGrip: (event: PointerEvent, column: number) => void
  /** Makes the column as wide as what is shown of it. */
  readonly onFit: (event: MouseEvent, column: number) => void
  /** True just after a drag, so that its click does not sort. */
  readonly justDragged: () => boolean
}

const mostFitted = 640

/** The width that the widest text in view asks for. */
function fittedWidth(grip: EventTarget, column: number): number {
  const table = grip instanceof Element ? grip.closest('[role=grid], [role=treegrid]') : null
  const cells = table?.querySelectorAll<HTMLElement>(`[aria-colindex="${column + 1}"]`) ?? []
  let widest = LEAST_COLUMN_WIDTH
  for (const cell of cells) {
    const range = document.createRange()
    range.selectNodeContents(cell)
    const style = getComputedStyle(cell)
    const room = Number.parseFloat(style.paddingLeft) + Number.parseFloat(style.paddingRight)
    widest = Math.max(widest, range.getBoundingClientRect().width + room + 4)
  }
  return Math.min(mostFitted, Math.ceil(widest))
}

/** Column width by dragging the right edge of a heading. */
export const useColumnResize = <Row>(
  layout: () => ColumnLayout<Row>,
  onResize: ((columnKey: string, width: number) => void) | undefined,
): ColumnResize => {
  const [live, setLive] = useState<Readonly<Record<string, number>>>({})
  const stop = useRef<() => void>(() => {})
  const dragged = useRef(false)
  useEffect(() => () => stop.current(), [])

  const onGrip = useCallback(
    (event: PointerEvent, index: number): void => {
      const placed = layout().columns[index]
      if (placed === undefined || event.button !== 0) return
      event.preventDefault()
      event.stopPropagation()
      const drag: Drag = { key: placed.column.key, startX: event.clientX, startWidth: placed.width }
      dragged.current = true
      const widthAt = (x: number): number =>
        Math.max(LEAST_COLUMN_WIDTH, Math.round(drag.startWidth + x - drag.startX))
      const move = (moved: globalThis.PointerEvent): void => setLive({ [drag.key]: widthAt(moved.clientX) })
      const finish = (): void => {
        window.removeEventListener('pointermove', move)
        window.removeEventListener('pointerup', up)
        window.removeEventListener('pointercancel', finish)
        setLive({})
        // The click that ends a drag comes after pointerup.
        setTimeout(() => (dragged.current = false), 0)
      }
      const up = (released: globalThis.PointerEvent): void => {
        const width = widthAt(released.clientX)
        if (width !== drag.startWidth) onResize?.(drag.key, width)
        finish()
      }
      window.addEventListener('pointermove', move)
      window.addEventListener('pointerup', up)
      window.addEventListener('pointercancel', finish)
      stop.current = finish
    },
    [layout, onResize],
  )
  const onFit = useCallback(
    (event: MouseEvent, index: number): void => {
      const placed = layout().columns[index]
      if (placed === undefined) return
      event.preventDefault()
      event.stopPropagation()
      onResize?.(placed.column.key, fittedWidth(event.currentTarget, index))
    },
    [layout, onResize],
  )
  return { live, onGrip, onFit, justDragged: () => dragged.current }
}
