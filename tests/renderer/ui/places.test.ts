import { describe, expect, it } from 'vitest'
import {
  clearBlock,
  copyBlock,
  fillDown,
  fillPulled,
  pasteOver,
  pulledTo,
  type Cells,
} from '../../../renderer/ui/table/block-edits.ts'
import type { MoveTo } from '../../../renderer/ui/table/keys.ts'
import { groupAbove, moveSelection, nextCell } from '../../../renderer/ui/table/moves.ts'
import {
  blockOf,
  findPlaces,
  samePlaces,
  selectedRowKeys,
  selectionSentence,
} from '../../../renderer/ui/table/places.ts'
import type { TableColumn, TableItem, TableSelection } from '../../../renderer/ui/table/types.ts'

type Texts = Readonly<Record<string, string>>

const group = (key: string): TableItem<Texts> => ({ form: 'group', key, title: key, count: 2, level: 1 })
const row = (key: string): TableItem<Texts> => ({
  form: 'row',
  key,
  row: { a: key, b: `b${key}`, c: `c${key}` },
})
const items = [group('L1'), row('1'), row('2'), group('L2'), row('3'), row('4')]
const column = (key: string, editable: boolean): TableColumn<Texts> => ({
  key,
  heading: key,
  width: 80,
  align: 'start',
  text: (texts) => texts[key] ?? '',
  editable: () => editable,
})
const columns = [column('a', false), column('b', true), column('c', true)]
const places = findPlaces(items, columns)
const cells: Cells<Texts> = {
  places,
  columns,
  rowAt: (at) => {
    const item = items[places.itemOfRow[at] ?? -1]
    return item?.form === 'row' ? item.row : undefined
  },
  textAt: (at, index) => cells.rowAt(at)?.[columns[index]?.key ?? ''] ?? '',
}
const place = (text: string) => ({ rowKey: text.slice(1), columnKey: text.slice(0, 1) })
const from = (anchor: string, focus = anchor, form: 'cells' | 'rows' = 'cells'): TableSelection => ({
  form,
  anchor: place(anchor),
  focus: place(focus),
})
const shown = (selection: TableSelection | null): string => {
  if (selection === null) return 'none'
  if (selection.form === 'group') return `group ${selection.groupKey}`
  if (selection.form === 'heading') return `heading ${selection.columnKey}`
  const [anchor, focus] = [selection.anchor, selection.focus].map((at) => `${at.columnKey}${at.rowKey}`)
  return anchor === focus ? `${anchor}` : `${anchor}:${focus}`
}

describe('moving', () => {
  const moves: readonly [selection: TableSelection | null, to: MoveTo, extend: boolean, result: string][] = [
    [from('b2'), 'down', false, 'b3'],
    [from('b3'), 'up', false, 'b2'],
    [from('b4'), 'down', false, 'b4'],
    [from('b2'), 'right', false, 'c2'],
    [from('c2'), 'right', false, 'c2'],
    [from('b2'), 'last', false, 'c2'],
    [from('b2'), 'end', false, 'c4'],
    [from('c4'), 'start', false, 'a1'],
    [from('c4'), 'top', false, 'c1'],
    [from('b1'), 'pageDown', false, 'b4'],
    [from('b2'), 'down', true, 'b2:b3'],
    [from('b2', 'b3'), 'right', true, 'b2:c3'],
    [from('b2', 'b3'), 'down', false, 'b3'],
    [from('b1'), 'up', true, 'b1'],
    [from('b1'), 'up', false, 'heading b'],
    [{ form: 'heading', columnKey: 'b' }, 'right', false, 'heading c'],
    [{ form: 'heading', columnKey: 'b' }, 'down', false, 'b1'],
    [from('a3'), 'left', false, 'group L2'],
    [{ form: 'group', groupKey: 'L2' }, 'up', false, 'group L1'],
    [{ form: 'group', groupKey: 'L1' }, 'up', false, 'heading a'],
    [{ form: 'group', groupKey: 'L2' }, 'right', false, 'a3'],
    [null, 'down', false, 'a1'],
    // The row went away: one goes on from where it stood, here the second row.
    [from('b9'), 'down', false, 'b2'],
  ]
  it.each(moves)('%j %s (shift %s) leads to %s', (selection, to, extend, result) => {
    const lastSpot =
      selection?.form === 'cells' && selection.anchor.rowKey === '9'
        ? { row: 1, column: 1 }
        : { row: 0, column: 0 }
    expect(shown(moveSelection({ places, selection, lastSpot, pageRows: 10 }, to, extend))).toBe(result)
  })
  it('has headings alone when every group is folded', () => {
    const folded = findPlaces([group('L1'), group('L2')], columns)
    const request = { places: folded, selection: null, lastSpot: { row: 0, column: 0 }, pageRows: 1 }
    expect(shown(moveSelection(request, 'down', false))).toBe('group L1')
  })
  it('tabs over the end of a row and stops at both ends of the table', () => {
    expect(nextCell(places, { row: 0, column: 2 }, 1)).toEqual({ row: 1, column: 0 })
    expect(nextCell(places, { row: 1, column: 0 }, -1)).toEqual({ row: 0, column: 2 })
    expect(nextCell(places, { row: 3, column: 2 }, 1)).toBeNull()
    expect(nextCell(places, { row: 0, column: 0 }, -1)).toBeNull()
  })
  it('finds the heading above a row', () => {
    expect([0, 1, 2, 3].map((at) => groupAbove(places, at))).toEqual(['L1', 'L1', 'L2', 'L2'])
  })
})

describe('places', () => {
  it('hold while only the content of rows changes', () => {
    const changed = items.map((item) => (item.key === '2' ? row('2') : item))
    expect(samePlaces(items, changed)).toBe(true)
    expect(samePlaces(items, items.slice(1))).toBe(false)
    expect(samePlaces(items, items.toReversed())).toBe(false)
    // A heading may bear the key of a row.
    expect(samePlaces(items, [group('1'), ...items.slice(1)])).toBe(false)
    expect(samePlaces([group('1')], [row('1')])).toBe(false)
  })
})

describe('selection', () => {
  it('says its size, and nothing for one cell', () => {
    expect(selectionSentence(places, from('b1'))).toBeNull()
    expect(selectionSentence(places, from('c3', 'b1'))).toBe('3 rows by 2 columns')
    expect(selectionSentence(places, from('b1', 'c1'))).toBe('1 row by 2 columns')
    expect(selectionSentence(places, from('b2', 'c1', 'rows'))).toBe('2 whole rows')
  })
  it('covers whole rows from the first column to the last', () => {
    expect(blockOf(places, from('b3', 'b2', 'rows'))).toEqual({ top: 1, bottom: 2, left: 0, right: 2 })
    expect(selectedRowKeys(places, from('b3', 'b2', 'rows'))).toEqual(['2', '3'])
  })
})

const block = (top: number, left: number, bottom: number, right: number) => ({ top, left, bottom, right })
const written = (edits: readonly { rowKey: string; columnKey: string; text: string }[]): string[] =>
  edits.map((edit) => `${edit.columnKey}${edit.rowKey}=${edit.text}`)

describe('edits of a block', () => {
  it('copies what is seen, over group headings', () => {
    expect(copyBlock(cells, block(1, 1, 2, 2))).toEqual([
      ['b2', 'c2'],
      ['b3', 'c3'],
    ])
  })
  it('pastes from the first cell on', () => {
    const made = pasteOver(cells, block(1, 1, 1, 1), [
      ['x', 'y'],
      ['z', 'w'],
    ])
    expect(written(made.edits)).toEqual(['b2=x', 'c2=y', 'b3=z', 'c3=w'])
    expect(made.block).toEqual(block(1, 1, 2, 2))
  })
  it('fills a selection with one copied cell', () => {
    expect(written(pasteOver(cells, block(0, 1, 2, 1), [['x']]).edits)).toEqual(['b1=x', 'b2=x', 'b3=x'])
  })
  it('repeats a piece that fits a whole number of times', () => {
    const made = pasteOver(cells, block(0, 1, 3, 1), [['x'], ['y']])
    expect(written(made.edits)).toEqual(['b1=x', 'b2=y', 'b3=x', 'b4=y'])
  })
  it('counts what is locked and what does not fit', () => {
    const made = pasteOver(cells, block(3, 0, 3, 0), [
      ['1', '2', '3', '4'],
      ['5', '6', '7', '8'],
    ])
    expect(written(made.edits)).toEqual(['b4=2', 'c4=3'])
    expect(made.leftOut).toEqual({ how: 'paste', locked: 1, rowsBeyond: 1, columnsBeyond: 1 })
  })
  it('leaves cells alone that a short copied row lacks', () => {
    const made = pasteOver(cells, block(0, 1, 0, 1), [['x', 'y'], ['z']])
    expect(written(made.edits)).toEqual(['b1=x', 'c1=y', 'b2=z'])
  })
  it('fills down from the first row, and one row from the row above', () => {
    expect(written(fillDown(cells, block(0, 1, 2, 1)).edits)).toEqual(['b2=b1', 'b3=b1'])
    expect(written(fillDown(cells, block(2, 2, 2, 2)).edits)).toEqual(['c3=c2'])
    expect(fillDown(cells, block(0, 1, 0, 1)).edits).toEqual([])
  })
  it('repeats a block over what it was pulled out to, down, up and across, and leaves locked cells', () => {
    const pull = (from: ReturnType<typeof block>, row: number, column: number) =>
      fillPulled(cells, from, pulledTo(from, { row, column }))
    expect(written(pull(block(0, 1, 1, 1), 3, 2).edits)).toEqual(['b3=b1', 'b4=b2'])
    expect(written(pull(block(2, 1, 3, 1), 0, 1).edits)).toEqual(['b1=b3', 'b2=b4'])
    expect(written(pull(block(0, 1, 1, 1), 0, 2).edits)).toEqual(['c1=b1', 'c2=b2'])
    expect(pull(block(0, 1, 0, 1), 0, 0)).toMatchObject({ edits: [], leftOut: { locked: 1 } })
    const one = block(1, 1, 2, 2)
    expect(pulledTo(one, { row: 2, column: 1 })).toBe(one)
  })
  it('clears what may be edited and sends nothing for what is the same', () => {
    expect(written(clearBlock(cells, block(0, 0, 0, 2)).edits)).toEqual(['b1=', 'c1='])
    expect(pasteOver(cells, block(0, 1, 0, 1), [['b1']]).edits).toEqual([])
  })
})
