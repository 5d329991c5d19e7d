import { useCallback, useEffect, useRef, useState, type PointerEvent } from 'react'
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
  /** True just after a drag, so that its click does not sort. */
  readonly justDragged: () => boolean
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
  return { live, onGrip, justDragged: () => dragged.current }
}
