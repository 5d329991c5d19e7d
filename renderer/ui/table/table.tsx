import {
  useCallback,
  useEffect,
  useId,
  useImperativeHandle,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  type ClipboardEvent,
  type KeyboardEvent,
  type MouseEvent,
  type PointerEvent,
} from 'react'
import { flushSync } from 'react-dom'
import { ContextMenu } from '../menu.tsx'
import {
  clearBlock,
  copyBlock,
  fillDown,
  fillPulled,
  pasteOver,
  pulledTo,
  type BlockEdits,
  type Cells,
} from './block-edits.ts'
import type { AfterEdit, EditMode } from './cell-editor.tsx'
import { groupId, GroupView } from './group-view.tsx'
import { headingId, HeadingRow } from './heading-view.tsx'
import { keyDeed, type KeyDeed } from './keys.ts'
import { placeColumns } from './layout.ts'
import { moveSelection, nextCell, selectSpot } from './moves.ts'
import { usePendingEdits } from './pending.ts'
import {
  blockOf,
  clamp,
  placeAt,
  selectedRowKeys,
  selectionSentence,
  shownColumns,
  spotOf,
  type Block,
  type Spot,
} from './places.ts'
import { cellId, RowView, type EditState, type RowDeeds } from './row-view.tsx'
import { readTabbed, writeMarkup, writeTabbed } from './tabbed.ts'
import type { CellPlace, EditHow, TableDeed, TableItem, TableProps, TableSelection } from './types.ts'
import { useColumnResize } from './use-column-resize.ts'
import { useDragSelect } from './use-drag-select.ts'
import { usePlaces } from './use-places.ts'
import { useColumnWindow, useRoom, useRowWindow } from './use-windows.ts'

const HEADING_LINE_PIXELS = 15
const HEADING_EDGE_PIXELS = 16
const NO_WIDTHS: Readonly<Record<string, number>> = {}
const HELP =
  'Arrow keys move. Type to replace, F2 to change. Space opens. Escape, then Tab, leaves the table.'

const sameSelection = (one: TableSelection | null, other: TableSelection | null): boolean =>
  JSON.stringify(one) === JSON.stringify(other)

/** One deeper than the deepest heading; undefined without headings. */
const levelOfRows = <Row,>(items: readonly TableItem<Row>[]): number | undefined => {
  let deepest = 0
  for (const item of items) if (item.form === 'group') deepest = Math.max(deepest, item.level)
  return deepest === 0 ? undefined : deepest + 1
}

const leftOutSentence = (edits: BlockEdits): string => {
  const { locked, rowsBeyond, columnsBeyond } = edits.leftOut
  const parts: string[] = []
  if (locked > 0) parts.push(locked === 1 ? '1 cell cannot be changed' : `${locked} cells cannot be changed`)
  if (rowsBeyond > 0) parts.push(rowsBeyond === 1 ? '1 row did not fit' : `${rowsBeyond} rows did not fit`)
  if (columnsBeyond > 0) {
    parts.push(columnsBeyond === 1 ? '1 column did not fit' : `${columnsBeyond} columns did not fit`)
  }
  return parts.length === 0 ? '' : ` ${parts.join(', ')}.`
}

const doneWords: Readonly<Record<EditHow, string>> = {
  type: 'Changed',
  paste: 'Pasted into',
  fill: 'Filled',
  clear: 'Cleared',
}

/**
 * The grid every schedule stands on: rows under group headings, keyboard first, cells exchanged with spreadsheets.
 * Selection and items belong to the owner; what is typed is shown greyed until the owner's new row comes.
 */
export const Table = <Row,>(props: TableProps<Row>) => {
  const { items, selection, onSelect, onEdit, onOpen, onToggle, onSort, sort, menu } = props
  const rowHeight = props.rowHeight ?? 34
  const headingHeight = HEADING_EDGE_PIXELS + HEADING_LINE_PIXELS * (props.headingLines ?? 2)
  const tableId = useId()
  const scroller = useRef<HTMLDivElement>(null)
  const [edit, setEdit] = useState<EditState | null>(null)
  const [menuAt, setMenuAt] = useState<{ x: number; y: number } | null>(null)
  const [said, setSaid] = useState('')
  const [pulled, setPulled] = useState<Block | null>(null)
  const lastSpot = useRef<Spot>({ row: 0, column: 0 })
  const tabStart = useRef<string | null>(null)
  const leaving = useRef(false)
  const keepScroll = useRef(false)
  // Whoever comes back to the table finds where one stood, not the far end of what was taken.
  const comingBack = useRef(true)

  const columns = useMemo(() => shownColumns(props.columns), [props.columns])
  const places = usePlaces(items, columns)
  const { pending, send } = usePendingEdits(items, places, columns, onEdit)
  const room = useRoom(scroller)
  const layoutNow = useRef(placeColumns(columns, NO_WIDTHS, 0))
  const resize = useColumnResize(
    useCallback(() => layoutNow.current, []),
    props.onResize,
  )
  const layout = useMemo(
    () => placeColumns(columns, { ...props.widths, ...resize.live }, room),
    [columns, props.widths, resize.live, room],
  )
  useLayoutEffect(() => {
    layoutNow.current = layout
  }, [layout])

  const rowLevel = useMemo(() => levelOfRows(items), [items])
  const block = blockOf(places, selection)
  const standing = selection?.form === 'cells' || selection?.form === 'rows' ? selection.anchor : null
  const active = standing === null ? null : spotOf(places, standing)
  const activeItem =
    selection?.form === 'group'
      ? (places.itemOfGroup.get(selection.groupKey) ?? -1)
      : active === null
        ? -1
        : (places.itemOfRow[active.row] ?? -1)
  const editRow = edit === null ? undefined : places.rowByKey.get(edit.rowKey)
  const editItem = editRow === undefined ? -1 : (places.itemOfRow[editRow] ?? -1)
  const editColumn = edit === null ? -1 : (places.columnByKey.get(edit.columnKey) ?? -1)
  const headingColumn =
    selection?.form === 'heading' ? (places.columnByKey.get(selection.columnKey) ?? -1) : -1

  const rowWindow = useRowWindow(scroller, items, places, rowHeight, headingHeight, [activeItem, editItem])
  const columnWindow = useColumnWindow(scroller, layout, [
    active === null ? headingColumn : active.column,
    editColumn,
  ])

  const rowAt = (row: number): Row | undefined => {
    const item = items[places.itemOfRow[row] ?? -1]
    return item?.form === 'row' ? item.row : undefined
  }
  const textAt = (row: number, column: number): string => {
    const content = rowAt(row)
    const shown = columns[column]
    const key = places.rowKeys[row]
    if (content === undefined || shown === undefined || key === undefined) return ''
    return pending.get(key)?.get(shown.key)?.text ?? shown.text(content)
  }
  const cells: Cells<Row> = { places, columns, rowAt, textAt }

  const select = (next: TableSelection | null): void => {
    if (next !== null && !sameSelection(next, selection)) onSelect(next)
  }
  const selectAt = (spot: Spot): void => select(selectSpot(places, spot))

  const selectBlock = (wanted: Block | null): void => {
    if (wanted === null) return
    const anchor = placeAt(places, { row: wanted.top, column: wanted.left })
    const focus = placeAt(places, { row: wanted.bottom, column: wanted.right })
    if (anchor === null || focus === null || selection?.form === 'rows') return
    keepScroll.current = true
    select({ form: 'cells', anchor, focus })
  }

  const sendBlock = (made: BlockEdits, how: EditHow): void => {
    send(made.edits, how)
    const { locked, rowsBeyond, columnsBeyond } = made.leftOut
    if (locked + rowsBeyond + columnsBeyond > 0) props.onLeftOut?.(made.leftOut)
    const count = made.edits.length
    setSaid(`${doneWords[how]} ${count} ${count === 1 ? 'cell' : 'cells'}.${leftOutSentence(made)}`)
  }

  const beginEdit = (mode: EditMode, typed: string): boolean => {
    if (active === null || standing === null) return false
    const row = rowAt(active.row)
    const column = columns[active.column]
    if (row === undefined || column === undefined) return false
    if (onEdit === undefined || column.editable?.(row) !== true) {
      setSaid(`${column.heading} cannot be changed here.`)
      return false
    }
    const waiting = pending.get(standing.rowKey)?.get(column.key)?.text
    const start = mode === 'replace' ? typed : (waiting ?? column.editText?.(row) ?? column.text(row))
    rowWindow.reveal(activeItem)
    columnWindow.reveal(active.column)
    setEdit({ rowKey: standing.rowKey, columnKey: column.key, start, mode })
    return true
  }

  const goOn = (after: AfterEdit): void => {
    if (active === null || after === 'stay') return
    if (after === 'next' || after === 'previous') {
      tabStart.current ??= standing?.columnKey ?? null
      const next = nextCell(places, active, after === 'next' ? 1 : -1)
      if (next !== null) selectAt(next)
      return
    }
    const backTo =
      after === 'down' && tabStart.current !== null ? places.columnByKey.get(tabStart.current) : undefined
    tabStart.current = null
    if (after === 'up' || after === 'down') {
      const row = clamp(active.row + (after === 'down' ? 1 : -1), 0, places.rowKeys.length - 1)
      selectAt({ row, column: backTo ?? active.column })
    } else selectAt({ row: active.row, column: active.column + (after === 'right' ? 1 : -1) })
  }

  const take = (taken: EditState, text: string, after: AfterEdit): void => {
    const typing = scroller.current?.contains(document.activeElement) === true
    setEdit(null)
    if (typing) scroller.current?.focus({ preventScroll: true })
    const row = places.rowByKey.get(taken.rowKey)
    const content = row === undefined ? undefined : rowAt(row)
    const column = columns[places.columnByKey.get(taken.columnKey) ?? -1]
    if (row !== undefined && content !== undefined && column !== undefined) {
      const waiting = pending.get(taken.rowKey)?.get(taken.columnKey)?.text
      const now = waiting ?? column.editText?.(content) ?? column.text(content)
      if (text !== now) send([{ rowKey: taken.rowKey, columnKey: taken.columnKey, text }], 'type')
    }
    goOn(after)
  }
  const cancel = (): void => {
    setEdit(null)
    scroller.current?.focus({ preventScroll: true })
  }
  const deedsNow = useRef({ take, cancel })
  useLayoutEffect(() => {
    deedsNow.current = { take, cancel }
  })
  const rowDeeds = useMemo<RowDeeds>(
    () => ({
      take: (taken, text, after) => deedsNow.current.take(taken, text, after),
      cancel: () => deedsNow.current.cancel(),
    }),
    [],
  )

  const clear = (): void => {
    if (block === null) return
    const rowKeys = selectedRowKeys(places, selection)
    if (selection?.form === 'rows' && props.onRemoveRows !== undefined) props.onRemoveRows(rowKeys)
    else if (onEdit !== undefined) sendBlock(clearBlock(cells, block), 'clear')
  }
  const fill = (): void => {
    if (block !== null && onEdit !== undefined) sendBlock(fillDown(cells, block), 'fill')
  }
  const selectAll = (): void => {
    const anchor = placeAt(places, { row: 0, column: 0 })
    const focus = placeAt(places, { row: Infinity, column: Infinity })
    if (anchor === null || focus === null) return
    keepScroll.current = true
    select({ form: 'cells', anchor, focus })
  }
  const selectRows = (): void => {
    if (selection?.form === 'cells') select({ ...selection, form: 'rows' })
  }
  const open = (): void => {
    if (standing !== null && active !== null) onOpen?.(standing.rowKey)
  }
  const copy = (data: DataTransfer): boolean => {
    if (block === null) return false
    const texts = copyBlock(cells, block)
    data.setData('text/plain', writeTabbed(texts))
    data.setData('text/html', writeMarkup(texts))
    setSaid(`Copied ${selectionSentence(places, selection) ?? '1 cell'}.`)
    return true
  }

  const openMenuAt = (x: number, y: number): void => {
    if (menu !== undefined) setMenuAt({ x, y })
  }
  const activeId =
    headingColumn >= 0
      ? headingId(tableId, headingColumn)
      : selection?.form === 'group' && activeItem >= 0
        ? groupId(tableId, activeItem)
        : active !== null
          ? cellId(tableId, activeItem, active.column)
          : undefined
  const openMenuByKey = (): void => {
    const box = (activeId === undefined ? null : document.getElementById(activeId))?.getBoundingClientRect()
    if (box !== undefined) openMenuAt(box.left + 8, box.bottom - 4)
  }

  const resizeBy = (by: number): void => {
    const column = headingColumn >= 0 ? headingColumn : active?.column
    const placed = column === undefined ? undefined : layout.columns[column]
    if (placed !== undefined) props.onResize?.(placed.column.key, Math.max(32, placed.width + by))
  }
  const sortBy = (index: number): void => {
    const column = columns[index]
    if (column !== undefined && column.sortable !== false) onSort?.(column.key)
  }
  const foldBy = (deed: KeyDeed): boolean => {
    if (selection?.form !== 'group') return false
    const item = items[activeItem]
    if (item?.form !== 'group') return false
    const collapsed = item.collapsed === true
    const turns =
      deed.do === 'commitLine' ||
      deed.do === 'open' ||
      (deed.do === 'move' && ((deed.to === 'left' && !collapsed) || (deed.to === 'right' && collapsed)))
    if (turns) onToggle?.(item.key)
    // Left on a folded heading stays where it is.
    return turns || (deed.do === 'move' && deed.to === 'left')
  }
  const move = (deed: KeyDeed & { readonly do: 'move' }): void => {
    tabStart.current = null
    const request = { places, selection, lastSpot: lastSpot.current, pageRows: rowWindow.pageRows() }
    select(moveSelection(request, deed.to, deed.extend))
  }
  /** True when a larger selection shrank to one cell; else the key may mean more further out (a dialog closes). */
  const leave = (): boolean => {
    leaving.current = true
    setSaid('Tab leaves the table.')
    if (standing === null || block === null) return false
    if (block.top === block.bottom && block.left === block.right) return false
    select({ form: 'cells', anchor: standing, focus: standing })
    return true
  }

  /** True when the key was used up. */
  const perform = (deed: KeyDeed): boolean => {
    if (foldBy(deed)) return true
    if (headingColumn >= 0 && (deed.do === 'commitLine' || deed.do === 'open')) {
      sortBy(headingColumn)
      return true
    }
    switch (deed.do) {
      case 'move':
        move(deed)
        return true
      case 'next':
        if (leaving.current || active === null || nextCell(places, active, deed.by) === null) return false
        goOn(deed.by === 1 ? 'next' : 'previous')
        return true
      case 'commitLine':
        goOn(deed.by === 1 ? 'down' : 'up')
        return true
      case 'edit':
        beginEdit('change', '')
        return true
      case 'type':
        if (deed.text !== null) return beginEdit('replace', deed.text)
        // The letter comes after this event and goes to whatever has the focus by then.
        flushSync(() => beginEdit('replace', ''))
        return false
      case 'leave':
        return leave()
      case 'clear':
        clear()
        return true
      case 'selectAll':
        selectAll()
        return true
      case 'selectRows':
        selectRows()
        return true
      case 'fill':
        fill()
        return true
      case 'open':
        open()
        return true
      case 'menu':
        openMenuByKey()
        return true
      case 'resize':
        resizeBy(deed.by)
        return true
    }
  }

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.target !== scroller.current) return
    const deed = keyDeed(event)
    if (deed === null) return
    if (perform(deed)) {
      event.preventDefault()
      if (deed.do === 'leave') event.stopPropagation()
    }
    if (deed.do !== 'leave') leaving.current = false
  }
  const onCopy = (event: ClipboardEvent, cut: boolean): void => {
    if (event.target instanceof HTMLInputElement) return
    if (!copy(event.clipboardData)) return
    event.preventDefault()
    if (cut && block !== null && onEdit !== undefined) send(clearBlock(cells, block).edits, 'clear')
  }
  const onPaste = (event: ClipboardEvent): void => {
    if (event.target instanceof HTMLInputElement || block === null || onEdit === undefined) return
    event.preventDefault()
    const copied = readTabbed(event.clipboardData.getData('text/plain'))
    if (copied.length === 0) return setSaid('There is no text to paste.')
    const made = pasteOver(cells, block, copied)
    sendBlock(made, 'paste')
    selectBlock(made.block)
  }

  const onDragOver = (over: { readonly row: number; readonly column: number }): void => {
    const focus = placeAt(places, over)
    if (focus !== null && (selection?.form === 'cells' || selection?.form === 'rows'))
      select({ ...selection, focus })
  }
  const dragNow = useRef(onDragOver)
  useLayoutEffect(() => {
    dragNow.current = onDragOver
  })
  const startDrag = useDragSelect(
    useCallback(() => scroller.current, []),
    useCallback((over) => dragNow.current(over), []),
  )

  const lastBlockRow = block === null ? undefined : rowAt(block.bottom)
  const handleColumn =
    block !== null &&
    selection?.form === 'cells' &&
    onEdit !== undefined &&
    edit === null &&
    lastBlockRow !== undefined &&
    columns[block.right]?.editable?.(lastBlockRow) === true &&
    // A mark stands once: filling it down can only be refused.
    columns[block.right]?.marksRow !== true
      ? block.right
      : -1
  const onPull = (over: Spot): void => {
    if (block === null) return
    const next = pulledTo(block, over)
    setPulled(next === block ? null : next)
  }
  const onPulled = (letGo: boolean): void => {
    setPulled(null)
    if (!letGo || pulled === null || block === null || onEdit === undefined) return
    const made = fillPulled(cells, block, pulled)
    sendBlock(made, 'fill')
    selectBlock(made.block)
  }
  const pullNow = useRef({ onPull, onPulled })
  useLayoutEffect(() => {
    pullNow.current = { onPull, onPulled }
  })
  const startPull = useDragSelect(
    useCallback(() => scroller.current, []),
    useCallback((over) => pullNow.current.onPull(over), []),
    useCallback((letGo) => pullNow.current.onPulled(letGo), []),
  )

  const pressCell = (place: CellPlace, column: number, extend: boolean): void => {
    const whole = columns[column]?.marksRow === true
    tabStart.current = null
    if (extend && standing !== null && active !== null) {
      select({ form: whole || selection?.form === 'rows' ? 'rows' : 'cells', anchor: standing, focus: place })
    } else select({ form: whole ? 'rows' : 'cells', anchor: place, focus: place })
  }
  const onPointerDown = (event: PointerEvent): void => {
    const target = event.target as HTMLElement
    if (target.closest('.cell-field, .cell-choices') !== null) return
    if (target.closest('.fill-handle') !== null && event.button === 0) return startPull()
    const group = target.closest<HTMLElement>('[data-group]')?.dataset['group']
    const heading = target.closest<HTMLElement>('[data-heading]')?.dataset['heading']
    const column = Number(target.closest<HTMLElement>('[data-column]')?.dataset['column'] ?? -1)
    const row = Number(target.closest<HTMLElement>('[data-row]')?.dataset['row'] ?? -1)
    if (group !== undefined) select({ form: 'group', groupKey: group })
    else if (heading !== undefined) {
      const columnKey = columns[Number(heading)]?.key
      if (event.button === 2 && columnKey !== undefined) select({ form: 'heading', columnKey })
    } else if (row >= 0 && column >= 0) {
      const place = placeAt(places, { row, column })
      const inside =
        block !== null &&
        row >= block.top &&
        row <= block.bottom &&
        column >= block.left &&
        column <= block.right
      if (place === null || (event.button === 2 && inside)) return
      pressCell(place, column, event.shiftKey)
      if (event.button === 0) startDrag()
    }
  }
  const onClick = (event: MouseEvent): void => {
    const target = event.target as HTMLElement
    const group = target.closest<HTMLElement>('[data-group]')?.dataset['group']
    const heading = target.closest<HTMLElement>('[data-heading]')?.dataset['heading']
    if (group !== undefined) onToggle?.(group)
    else if (heading !== undefined && !resize.justDragged() && target.closest('.grip') === null) {
      sortBy(Number(heading))
    }
  }
  const onDoubleClick = (event: MouseEvent): void => {
    const target = event.target as HTMLElement
    if (target.closest('.cell-field, .cell-choices, .fill-handle') !== null) return
    const column = target.closest<HTMLElement>('[data-column]')?.dataset['column']
    if (column === undefined) return
    if (columns[Number(column)]?.frozen === true && onOpen !== undefined) open()
    else beginEdit('change', '')
  }
  const onContextMenu = (event: MouseEvent): void => {
    if (menu === undefined || event.target instanceof HTMLInputElement) return
    event.preventDefault()
    openMenuAt(event.clientX, event.clientY)
  }
  const onFocus = (): void => {
    if (active === null && headingColumn < 0 && activeItem < 0) {
      select(moveSelection({ places, selection, lastSpot: lastSpot.current, pageRows: 1 }, 'first', false))
    }
  }

  useLayoutEffect(() => {
    if (active !== null) lastSpot.current = active
  })
  const editLost = edit !== null && editItem < 0
  useLayoutEffect(() => {
    // The row went away under the field: the keys go on to the table.
    if (editLost) deedsNow.current.cancel()
  }, [editLost])
  const farCorner = selection?.form === 'cells' || selection?.form === 'rows' ? selection.focus : null
  const revealSelection = (): void => {
    const corner = farCorner === null || comingBack.current ? active : (spotOf(places, farCorner) ?? active)
    if (corner !== null) {
      rowWindow.reveal(places.itemOfRow[corner.row] ?? -1)
      columnWindow.reveal(corner.column)
    } else if (headingColumn >= 0) columnWindow.reveal(headingColumn)
    else if (activeItem >= 0) rowWindow.reveal(activeItem)
  }
  const revealNow = useRef(revealSelection)
  useLayoutEffect(() => {
    revealNow.current = revealSelection
  })
  // Only a new selection moves the window; new items must not make it jump.
  useLayoutEffect(() => {
    if (!keepScroll.current) revealNow.current()
    keepScroll.current = false
    comingBack.current = false
  }, [selection])
  const sentence = selectionSentence(places, selection)
  useEffect(() => {
    const timer = setTimeout(() => setSaid(sentence ?? ''), 250)
    return () => clearTimeout(timer)
  }, [sentence, selection])

  useImperativeHandle(props.handle, () => ({
    focus: () => scroller.current?.focus({ preventScroll: true }),
    reveal: (place) => {
      const spot = spotOf(places, place)
      if (spot === null) return
      rowWindow.reveal(places.itemOfRow[spot.row] ?? -1)
      columnWindow.reveal(spot.column)
    },
    perform: (deed: TableDeed) => {
      scroller.current?.focus({ preventScroll: true })
      if (deed === 'copy' || deed === 'cut' || deed === 'paste') return document.execCommand(deed)
      if (deed === 'edit') return beginEdit('change', '')
      perform({ do: deed })
      return true
    },
  }))

  const grouped = places.groupKeys.length > 0
  return (
    <div className="table-box">
      <div
        ref={scroller}
        role={grouped ? 'treegrid' : 'grid'}
        aria-label={props.label}
        aria-describedby={`${tableId}-help`}
        aria-rowcount={items.length + 1}
        aria-colcount={columns.length}
        aria-multiselectable="true"
        aria-activedescendant={edit === null ? activeId : undefined}
        tabIndex={0}
        className={activeId === undefined ? 'table unplaced' : 'table'}
        onKeyDown={onKeyDown}
        onCopy={(event) => onCopy(event, false)}
        onCut={(event) => onCopy(event, true)}
        onPaste={onPaste}
        onPointerDown={onPointerDown}
        onClick={onClick}
        onDoubleClick={onDoubleClick}
        onContextMenu={onContextMenu}
        onFocus={onFocus}
        onScroll={(event) => {
          // Past React: a mark for the style sheet alone, on every scroll.
          event.currentTarget.dataset['moved'] = String(event.currentTarget.scrollLeft > 0)
        }}
      >
        <HeadingRow
          table={tableId}
          layout={layout}
          shown={columnWindow.shown}
          height={headingHeight}
          activeColumn={headingColumn}
          sort={sort}
          sorts={onSort !== undefined}
          onGrip={props.onResize === undefined ? undefined : resize.onGrip}
          onFit={resize.onFit}
        />
        <div
          role={items.length === 0 ? undefined : 'rowgroup'}
          className="table-body"
          style={{ height: rowWindow.totalHeight, width: layout.totalWidth }}
        >
          {rowWindow.shown.map(({ index, top, height }) => {
            const item = items[index]
            if (item === undefined) return null
            if (item.form === 'group') {
              return (
                <GroupView
                  key={`group ${item.key}`}
                  table={tableId}
                  group={item}
                  itemIndex={index}
                  columnCount={columns.length}
                  top={top}
                  height={height}
                  width={layout.totalWidth}
                  active={index === activeItem}
                  canToggle={onToggle !== undefined}
                />
              )
            }
            const row = places.rowByKey.get(item.key) ?? 0
            const selected = block !== null && row >= block.top && row <= block.bottom
            return (
              <RowView
                key={item.key}
                table={tableId}
                row={item.row}
                rowKey={item.key}
                itemIndex={index}
                rowNumber={row}
                level={rowLevel}
                top={top}
                height={height}
                layout={layout}
                shown={columnWindow.shown}
                selectedFrom={selected ? block.left : -1}
                selectedTo={selected ? block.right : -1}
                activeColumn={active?.row === row ? active.column : -1}
                fillFrom={pulled !== null && row >= pulled.top && row <= pulled.bottom ? pulled.left : -1}
                fillTo={pulled !== null && row >= pulled.top && row <= pulled.bottom ? pulled.right : -1}
                handleColumn={block?.bottom === row ? handleColumn : -1}
                pending={pending.get(item.key)}
                edit={edit?.rowKey === item.key ? edit : null}
                deeds={rowDeeds}
              />
            )
          })}
        </div>
      </div>
      {items.length === 0 && props.empty !== undefined && (
        <div className="table-empty" style={{ top: headingHeight }}>
          {props.empty}
        </div>
      )}
      <p id={`${tableId}-help`} hidden>
        {HELP}
      </p>
      <div role="status" className="for-ears">
        {said}
      </div>
      <ContextMenu
        label={props.label}
        at={menuAt}
        entries={menuAt === null || selection === null ? [] : (menu?.(selection) ?? [])}
        onClose={() => {
          setMenuAt(null)
          scroller.current?.focus({ preventScroll: true })
        }}
      />
    </div>
  )
}
