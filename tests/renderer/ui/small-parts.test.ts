import { describe, expect, it } from 'vitest'
import { likelyChoice, matchingChoices } from '../../../renderer/ui/table/cell-editor.tsx'
import { keyDeed, type KeyPress } from '../../../renderer/ui/table/keys.ts'
import { columnWidths, placeColumns } from '../../../renderer/ui/table/layout.ts'
import { revisePending, stillPending, type PendingCell } from '../../../renderer/ui/table/pending.ts'
import type { TableColumn } from '../../../renderer/ui/table/types.ts'
import { readNumber } from '../../../renderer/ui/field.tsx'

describe('keys', () => {
  const press = (text: string): KeyPress => {
    const parts = text.split('+')
    return {
      key: parts.at(-1) ?? '',
      ctrlKey: parts.includes('Ctrl'),
      shiftKey: parts.includes('Shift'),
      altKey: parts.includes('Alt'),
      metaKey: parts.includes('Meta'),
    }
  }
  const deeds: readonly [string, unknown][] = [
    ['ArrowDown', { do: 'move', to: 'down', extend: false }],
    ['Shift+ArrowDown', { do: 'move', to: 'down', extend: true }],
    ['Ctrl+ArrowDown', { do: 'move', to: 'bottom', extend: false }],
    ['Ctrl+Shift+End', { do: 'move', to: 'end', extend: true }],
    ['Meta+a', { do: 'selectAll' }],
    ['Ctrl+d', { do: 'fill' }],
    ['Tab', { do: 'next', by: 1 }],
    ['Shift+Tab', { do: 'next', by: -1 }],
    ['Enter', { do: 'commitLine', by: 1 }],
    ['a', { do: 'type', text: 'a' }],
    ['Shift+A', { do: 'type', text: 'A' }],
    ['Ctrl+Alt+@', { do: 'type', text: '@' }],
    ['Backspace', { do: 'type', text: '' }],
    ['Delete', { do: 'clear' }],
    ['Dead', { do: 'type', text: null }],
    [' ', { do: 'open' }],
    ['Shift+ ', { do: 'selectRows' }],
    ['Alt+ArrowRight', { do: 'resize', by: 8 }],
    // For others further out: undo, find, help, copy (its own event).
    ['Ctrl+z', null],
    ['Ctrl+k', null],
    ['Ctrl+c', null],
    ['F1', null],
    ['F10', null],
    ['Shift', null],
  ]
  it.each(deeds)('%s', (text, deed) => {
    expect(keyDeed(press(text))).toEqual(deed)
  })
})

describe('choices', () => {
  const hands = ['LH', 'RH', 'LHR', 'RHR']
  const cases: readonly [typed: string, shown: string[], taken: string | undefined][] = [
    ['', hands, undefined],
    ['l', ['LH', 'LHR'], 'LH'],
    ['lh', ['LH', 'LHR'], 'LH'],
    ['lhr', ['LHR'], 'LHR'],
    // In the middle of a choice: shown, never taken unasked.
    ['hr', ['LHR', 'RHR'], undefined],
    ['x', [], undefined],
  ]
  it.each(cases)('"%s"', (typed, shown, taken) => {
    const found = matchingChoices(hands, typed)
    expect(found).toEqual(shown)
    expect(found[likelyChoice(found, typed)]).toBe(taken)
  })
  it('takes the very text before a longer one that stands first', () => {
    const found = matchingChoices(['LHR', 'LH'], 'LH')
    expect(found[likelyChoice(found, 'LH')]).toBe('LH')
  })
})

describe('column widths', () => {
  const column = (key: string, width: number, more: Partial<TableColumn<null>> = {}): TableColumn<null> => ({
    key,
    heading: key,
    width,
    align: 'start',
    text: () => '',
    ...more,
  })
  it('shares free room among growing columns, and never shrinks', () => {
    const columns = [column('a', 50), column('b', 100, { grow: true }), column('c', 100, { grow: true })]
    expect(columnWidths(columns, {}, 350)).toEqual([50, 150, 150])
    expect(columnWidths(columns, {}, 200)).toEqual([50, 100, 100])
    expect(columnWidths(columns, { b: 80 }, 350)).toEqual([50, 80, 220])
    expect(columnWidths(columns, { a: 3 }, 0)).toEqual([32, 100, 100])
  })
  it('places columns side by side and knows the frozen edge', () => {
    const layout = placeColumns([column('a', 50, { frozen: true }), column('b', 90)], {}, 0)
    expect(layout.columns.map(({ left, edge }) => ({ left, edge }))).toEqual([
      { left: 0, edge: true },
      { left: 50, edge: false },
    ])
    expect(layout).toMatchObject({ frozenCount: 1, frozenWidth: 50, totalWidth: 140 })
  })
})

describe('typed text that waits', () => {
  const row = {}
  const cell: PendingCell = { text: 'new', before: 'old', row, settled: false, ticket: 1 }
  it.each([
    ['nothing came yet', cell, row, 'old', true],
    ['the row came again for another reason', cell, {}, 'old', true],
    ['the row came with the new text', cell, {}, 'new', false],
    ['the row came with the owner’s own writing of it', cell, {}, 'New', false],
    ['taken, the row is still the old one', { ...cell, settled: true }, row, 'old', true],
    ['taken, and the row came with the old text', { ...cell, settled: true }, {}, 'old', false],
  ])('%s', (_what, waiting, now, shown, stands) => {
    expect(stillPending(waiting, now, shown)).toBe(stands)
  })
  it('keeps the same maps where nothing changed', () => {
    const other = new Map([['b', cell]])
    const pending = new Map([
      ['1', new Map([['a', cell]])],
      ['2', other],
    ])
    expect(revisePending(pending, (kept) => kept)).toBe(pending)
    const next = revisePending(pending, (kept, rowKey) => (rowKey === '1' ? null : kept))
    expect([...next.keys()]).toEqual(['2'])
    expect(next.get('2')).toBe(other)
  })
})

describe('numbers as typed', () => {
  it.each([
    ['', null],
    [' 12 ', 12],
    ['1,5', 1.5],
    ['.5', 0.5],
    ['-3', -3],
    ['0', 0],
    ['3-0', undefined],
    ['1.5.2', undefined],
    ['1e3', undefined],
  ])('"%s"', (text, value) => {
    expect(readNumber(text)).toBe(value)
  })
})
