import { useCallback, useLayoutEffect, useMemo, useRef, useState, type RefObject } from 'react'
import { defaultRangeExtractor, useVirtualizer, type Range } from '@tanstack/react-virtual'
import type { ColumnLayout } from './layout.ts'
import type { Places } from './places.ts'
import type { TableItem } from './types.ts'

export const GROUP_HEIGHT = 30
/** Rows kept ready above and below the window, so that fast scrolling finds them drawn. */
const ROWS_READY = 16
/** As many when the window leaps to a far place: what is in sight comes first, the rest when the scrolling rests. */
const ROWS_READY_AFTER_LEAP = 2

/** The scroller's inner width in CSS pixels; 0 until it is laid out. */
export const useRoom = (scroller: RefObject<HTMLElement | null>): number => {
  const [room, setRoom] = useState(0)
  useLayoutEffect(() => {
    const element = scroller.current
    if (element === null) return
    const measure = (): void => setRoom(element.clientWidth)
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [scroller])
  return room
}

const including = (range: Range, wanted: readonly number[]): number[] => {
  const shown = defaultRangeExtractor(range)
  const missing = wanted.filter((index) => index >= 0 && index < range.count && !shown.includes(index))
  return missing.length === 0 ? shown : [...shown, ...missing].toSorted((one, other) => one - other)
}

/** A new function for each change named: the virtualiser measures anew when its key function is another one. */
const keysFor =
  (..._changes: readonly unknown[]) =>
  (index: number): number =>
    index

export interface RowWindow {
  readonly shown: readonly { readonly index: number; readonly top: number; readonly height: number }[]
  readonly totalHeight: number
  readonly reveal: (itemIndex: number) => void
  readonly pageRows: () => number
}

/** The items near the window. `keep`: items that stay drawn wherever one scrolls (the active cell, the open field). */
export const useRowWindow = <Row>(
  scroller: RefObject<HTMLElement | null>,
  items: readonly TableItem<Row>[],
  places: Places,
  rowHeight: number,
  headingHeight: number,
  keep: readonly number[],
): RowWindow => {
  const getItemKey = useMemo(() => keysFor(places, rowHeight), [places, rowHeight])
  const kept = keep.join(',')
  const [rests, setRests] = useState(0)
  const last = useRef({ start: 0, leapt: false, rests })
  const rangeExtractor = useCallback(
    (range: Range) => {
      const far = Math.abs(range.startIndex - last.current.start) > range.endIndex - range.startIndex
      // Asked anew after a rest: the window stands where it landed.
      const leapt = far && last.current.rests === rests
      last.current = { start: range.startIndex, leapt, rests }
      const overscan = leapt ? ROWS_READY_AFTER_LEAP : range.overscan
      return including({ ...range, overscan }, kept.split(',').map(Number))
    },
    [kept, rests],
  )
  // Without the scrollend event a timer ends the scroll; coming late on a busy machine it takes a new place in
  // before the scroll event does, and the rows are drawn a frame too late.
  const rows = useVirtualizer({
    count: items.length,
    getScrollElement: () => scroller.current,
    useScrollendEvent: true,
    estimateSize: (index) => (items[index]?.form === 'group' ? GROUP_HEIGHT : rowHeight),
    getItemKey,
    rangeExtractor,
    overscan: ROWS_READY,
    scrollMargin: headingHeight,
    scrollPaddingStart: headingHeight,
    onChange: ({ isScrolling }) => {
      if (!isScrolling && last.current.leapt) setRests((count) => count + 1)
    },
  })
  const reveal = (itemIndex: number): void => {
    const target = rows.getOffsetForIndex(itemIndex, 'auto')
    // Setting it to what it is would lay the page out at once, for nothing.
    if (target === undefined || target[0] === rows.scrollOffset || scroller.current === null) return
    scroller.current.scrollTop = target[0]
  }
  return {
    shown: rows
      .getVirtualItems()
      .map(({ index, start, size }) => ({ index, top: start - headingHeight, height: size })),
    totalHeight: rows.getTotalSize(),
    reveal,
    pageRows: () => {
      const height = scroller.current?.clientHeight ?? 0
      return Math.max(1, Math.floor((height - headingHeight) / rowHeight) - 1)
    },
  }
}

export interface ColumnWindow {
  /** Column indices: the frozen ones, then those near the window. The same array while nothing changed. */
  readonly shown: readonly number[]
  readonly reveal: (column: number) => void
}

export const useColumnWindow = <Row>(
  scroller: RefObject<HTMLElement | null>,
  layout: ColumnLayout<Row>,
  keep: readonly number[],
): ColumnWindow => {
  const { frozenCount, frozenWidth } = layout
  const kept = keep.map((column) => column - frozenCount).join(',')
  const rangeExtractor = useCallback((range: Range) => including(range, kept.split(',').map(Number)), [kept])
  const getItemKey = useMemo(() => keysFor(layout), [layout])
  const columns = useVirtualizer({
    horizontal: true,
    count: layout.columns.length - frozenCount,
    getScrollElement: () => scroller.current,
    useScrollendEvent: true,
    estimateSize: (index) => layout.columns[index + frozenCount]?.width ?? 0,
    getItemKey,
    rangeExtractor,
    overscan: 2,
    paddingStart: frozenWidth,
    scrollPaddingStart: frozenWidth,
  })
  const near = columns
    .getVirtualItems()
    .map(({ index }) => index + frozenCount)
    .join(',')
  const shown = useMemo(() => {
    const frozen = Array.from({ length: frozenCount }, (_, index) => index)
    return near === '' ? frozen : [...frozen, ...near.split(',').map(Number)]
  }, [near, frozenCount])
  const reveal = (column: number): void => {
    if (column < frozenCount || scroller.current === null) return
    const target = columns.getOffsetForIndex(column - frozenCount, 'auto')
    if (target === undefined || target[0] === columns.scrollOffset) return
    scroller.current.scrollLeft = target[0]
  }
  return { shown, reveal }
}
