import { beforeAll, describe, expect, test } from 'vitest'
import type { TableBlock, TableColumn } from '../../../core/documents/index.ts'
import { pressFonts } from '../../../electron/press.ts'
import { columnGap, fitColumns, type FittedColumns } from '../../../renderer/paper/columns.ts'
import { openFaces } from '../../../renderer/paper/faces.ts'
import { openSetter, type Setter } from '../../../renderer/paper/setting.ts'

let setter: Setter
beforeAll(async () => {
  setter = openSetter(openFaces(await pressFonts()))
})

const column = (key: string, priority: number, widthWeight = 0): TableColumn => ({
  key,
  heading: key,
  unit: null,
  align: 'left',
  priority,
  widthWeight,
})
const table = (columns: TableColumn[], rows: string[][]): TableBlock => ({
  form: 'table',
  title: '',
  columns,
  emptyText: '',
  groups: [{ title: '', within: null, countText: null, rows: rows.map((cells) => ({ cells, marks: {} })) }],
})
const style = { face: 'table', size: 8 } as const
const strong = { face: 'tableStrong', size: 8 } as const
const fit = (block: TableBlock, room: number): FittedColumns =>
  fitColumns(block, setter, style, strong, 0, room)
const endOf = (fitted: FittedColumns): number =>
  Math.max(...fitted.fitted.map((each) => each.left + each.width))

const columns = [
  column('Mark', 0),
  column('Where', 1, 1),
  column('Fitted', 5),
  column('Serial', 9),
  column('Tag', 7),
]
const rows = Array.from({ length: 20 }, (_, at) => [
  String(100 + at),
  'Pharmacy store, from corridor 117',
  'Lock contractor',
  `S-${at}00000000`,
  '',
])

describe('columns fitted to their contents', () => {
  test('on a wide page all fit on one line and the room left goes to those that want it', () => {
    const fitted = fit(table(columns, rows), 700)
    expect(fitted.leftOut).toEqual([])
    expect(endOf(fitted)).toBeCloseTo(700, 3)
    for (const { place, width } of fitted.fitted)
      for (const row of rows)
        expect(setter.width(row[place] ?? '', place === 0 ? strong : style)).toBeLessThanOrEqual(width)
  })

  test('on a narrow page a column nobody filled goes first, then the least needed, never the mark', () => {
    const gone = [300, 150, 110, 60, 20].map((room) =>
      fit(table(columns, rows), room).leftOut.map((each) => each.key),
    )
    expect(gone[0]).toEqual([])
    expect(gone[1]).toEqual(['Serial', 'Tag'])
    expect(gone.at(-1)).toEqual(['Where', 'Fitted', 'Serial', 'Tag'])
  })

  test('what is left never reaches past the edge', () => {
    for (let room = 15; room < 400; room += 5) {
      const fitted = fit(table(columns, rows), room)
      expect(endOf(fitted)).toBeLessThanOrEqual(room + 0.001)
      fitted.fitted.forEach((each, index) => {
        const before = fitted.fitted[index - 1]
        if (before !== undefined) expect(each.left - before.left - before.width).toBeCloseTo(columnGap, 6)
      })
    }
  })

  test('one very long cell does not starve the others', () => {
    const long = rows.map((row, at) =>
      at === 3 ? [...row.slice(0, 1), 'a word after a word '.repeat(40), ...row.slice(2)] : row,
    )
    const fitted = fit(
      table(
        columns.map((each) => ({ ...each, widthWeight: 0 })),
        long,
      ),
      700,
    )
    expect(fitted.fitted[1]?.width).toBeLessThan(250)
  })
})
