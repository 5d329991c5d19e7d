import { describe, expect, test } from 'vitest'
import {
  correctColumn,
  headerShape,
  matchColumns,
  meaningOf,
  pastedCells,
  pastedSheet,
  rememberMatching,
  type ColumnMatching,
  type TargetField,
} from '../../../core/exchange/index.ts'
import { sheetOf, sheetOfLines } from './intake-fixtures.ts'

const usesOf = (matching: ColumnMatching): string[] => matching.columns.map((each) => each.use)

describe('headings', () => {
  // The trade's headings and short forms: common practice, no source.
  test.each<[string, TargetField | null]>([
    ['DOOR NO.', 'mark'],
    ['Door #', 'mark'],
    ['OPENING MARK', 'mark'],
    ['Mark', 'mark'],
    ['DOOR', 'mark'],
    ['No', 'mark'],
    ['ROOM NAME', 'where'],
    ['Location', 'where'],
    ['TO', 'toRoom'],
    ['From Room', 'fromRoom'],
    ['ROOM NO.', 'toRoom'],
    ['BLDG', 'building'],
    ['FLR', 'level'],
    ['Door Size (W x H)', 'size'],
    ['WIDTH', 'width'],
    ['W', 'width'],
    ['Leaf width (mm)', 'width'],
    ['HGT.', 'height'],
    ['THK', 'thickness'],
    ['Single/Pair', 'leaves'],
    ['Handing', 'hand'],
    ["DOOR MAT'L", 'doorMaterial'],
    ['FRAME MATL', 'frameMaterial'],
    ['FIRE RATING (MIN)', 'fireLabel'],
    ['LABEL', 'fireLabel'],
    ['DOOR TYPE', 'doorType'],
    ['HDW SET', 'hardwareSet'],
    ['HW', 'hardwareSet'],
    ['HardwareSet', 'hardwareSet'],
    ['Furnished by', 'furnishedBy'],
    ['Installed by', 'fittedBy'],
    ['Wired By', 'wiredBy'],
    ['Serial Number', 'serial'],
    ['Barcode', 'assetTag'],
    ['Date installed', 'installedOn'],
    ['REMARKS', 'notes'],
    ['GlobalId', 'sourceId'],
    ['FRAME TYPE', null],
    ['HEAD DETAIL', null],
    ['GLAZING', null],
    ['', null],
  ])('%s is %s', (heading, field) => {
    expect(meaningOf(heading).field).toBe(field)
  })

  test('a unit in the heading is kept', () => {
    expect(meaningOf('Width (mm)')).toMatchObject({ field: 'width', unit: 'mm' })
    expect(meaningOf('Leaf width [in]')).toMatchObject({ field: 'width', unit: 'in', ofLeaf: true })
  })
})

describe('heading rows', () => {
  test('one row under a title', () => {
    const matching = matchColumns(
      sheetOfLines(`
        DOOR SCHEDULE
        Mark | Where | Width | Height | Hand | Glazing
        101 | Lobby | 3-0 | 7-0 | LH | none
      `),
    )
    expect(matching.headerRows).toEqual([2])
    expect(usesOf(matching)).toEqual(['mark', 'where', 'width', 'height', 'hand', 'cells'])
    expect(matching.columns[5]).toMatchObject({ heading: 'Glazing', because: 'not recognised' })
  })

  test('several rows with groups merged across and marks merged down', () => {
    const rows = [
      ['HARROW STREET CLINIC'],
      ['MARK', 'DOOR', '', '', '', 'FRAME', '', 'HDW'],
      ['', 'WIDTH', 'HEIGHT', 'MATL', 'TYPE', 'MATL', 'TYPE', 'SET'],
      ['101', '3-0', '7-0', 'WD', 'F', 'HM', 'F1', '12'],
    ]
    const merges = [
      { top: 2, left: 1, bottom: 3, right: 1 },
      { top: 2, left: 2, bottom: 2, right: 5 },
      { top: 2, left: 6, bottom: 2, right: 7 },
    ]
    const expected = [
      'mark',
      'width',
      'height',
      'doorMaterial',
      'doorType',
      'frameMaterial',
      'cells',
      'hardwareSet',
    ]
    const merged = matchColumns(sheetOf(rows, merges))
    expect(merged.headerRows).toEqual([2, 3])
    expect(usesOf(merged)).toEqual(expected)
    expect(merged.columns[6]?.heading).toBe('FRAME TYPE')
    // The same sheet as comma-separated text has no merges: a group heading reaches over the blanks beside it.
    expect(usesOf(matchColumns(sheetOf(rows)))).toEqual(expected)
  })

  test('any column order, and one field once', () => {
    const matching = matchColumns(
      sheetOfLines(`
        Remarks | Hand | Door No | Type | Height | Width | Number | Comments
        x | RH | 7 | A | 84 | 36 | 12 | y
      `),
    )
    expect(usesOf(matching)).toEqual([
      'notes',
      'hand',
      'mark',
      'doorType',
      'height',
      'width',
      'cells',
      'notes',
    ])
  })

  test('a sheet without headings proposes nothing', () => {
    const matching = matchColumns(sheetOfLines('101 | Lobby | 3-0\n102 | Store | 3-0'))
    expect(matching.headerRows).toEqual([])
    expect(usesOf(matching)).toEqual(['cells', 'cells', 'cells'])
  })

  test('unknown headings still name their columns, so that a person can match them', () => {
    const matching = matchColumns(
      sheetOfLines('A title\nCODE | ENTRANCE | READER\n7 | east | yes\n8 | west | no'),
    )
    expect(matching.headerRows).toEqual([2])
    expect(matching.columns.map((each) => [each.heading, each.use])).toEqual([
      ['CODE', 'cells'],
      ['ENTRANCE', 'cells'],
      ['READER', 'cells'],
    ])
  })

  test('an empty sheet is no trouble', () => {
    expect(matchColumns(sheetOf([]))).toMatchObject({ headerRows: [], columns: [] })
  })
})

describe('corrections', () => {
  const sheet = sheetOfLines('Mark | Zone | Width\n101 | Lobby | 3-0')

  test('a field given to another column moves there', () => {
    const corrected = correctColumn(matchColumns(sheet), 1, 'mark')
    expect(usesOf(corrected)).toEqual(['cells', 'mark', 'width'])
  })

  test('a corrected matching is proposed again for the same headings, in whatever case', () => {
    const remembered = rememberMatching(correctColumn(matchColumns(sheet), 1, 'where'))
    const again = sheetOfLines('MARK | ZONE | WIDTH\n7 | Store | 2-8\n8 | Store | 2-8')
    expect(headerShape(again)).toBe(remembered.shape)
    const proposed = matchColumns(again, [remembered])
    expect(usesOf(proposed)).toEqual(['mark', 'where', 'width'])
    expect(proposed.columns[1]).toMatchObject({ because: 'remembered' })
    expect(JSON.parse(JSON.stringify(remembered))).toEqual(remembered)
  })

  test('other headings are another shape', () => {
    const remembered = rememberMatching(correctColumn(matchColumns(sheet), 1, 'where'))
    expect(usesOf(matchColumns(sheetOfLines('Mark | Zone | Height\n1 | a | 7-0'), [remembered]))).toEqual([
      'mark',
      'cells',
      'height',
    ])
  })
})

describe('pasted cells', () => {
  test.each([
    [
      'a\tb\nc\td',
      [
        ['a', 'b'],
        ['c', 'd'],
      ],
    ],
    [
      'a\tb\r\nc\td\r\n',
      [
        ['a', 'b'],
        ['c', 'd'],
      ],
    ],
    ['"two\nlines"\tb', [['two\nlines', 'b']]],
    ['"say ""yes"""\tb', [['say "yes"', 'b']]],
    ['3\'-0"\t7\'-0"', [['3\'-0"', '7\'-0"']]],
    ['"3\'-0"""\tb', [['3\'-0"', 'b']]],
    ['"open\tb', [['"open', 'b']]],
    ['"a" b\tc', [['"a" b', 'c']]],
    ['a\t\tb', [['a', '', 'b']]],
    ['a\n\nb', [['a'], [''], ['b']]],
    ['\uFEFFa', [['a']]],
  ])('%j', (text, rows) => {
    expect(pastedCells(text)).toEqual(rows)
  })

  test('a pasted sheet keeps row numbers over blank rows', () => {
    const sheet = pastedSheet('Mark\tWidth\n\n101\t3-0\n')
    expect(sheet.rows.map((row) => row.number)).toEqual([1, 3])
    expect(matchColumns(sheet).headerRows).toEqual([1])
  })
})
