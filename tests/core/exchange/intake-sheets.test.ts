import { describe, expect, test } from 'vitest'
import {
  matchColumns,
  understandSheet,
  type PlainSheet,
  type SheetOptions,
  type UnderstoodFields,
  type Understanding,
} from '../../../core/exchange/index.ts'
import { asText, dated, sheetOf, sheetOfLines } from './intake-fixtures.ts'

const foot = 304_800
const inch = 25_400
const mm = 1_000

const understand = (sheet: PlainSheet, options: Partial<SheetOptions> = {}): Understanding =>
  understandSheet(sheet, matchColumns(sheet), { units: 'imperial', ...options })

/** The fields of a one-row sheet. */
const fieldsOf = (
  headings: string,
  row: string,
  options: Partial<SheetOptions> = {},
): UnderstoodFields | undefined =>
  understand(sheetOfLines(`${headings}\n${row}`), options).openings[0]?.fields

const sentences = (understanding: Understanding): string[] =>
  understanding.problems.map((each) => each.sentence)

describe('a plain schedule', () => {
  const understanding = understand(
    sheetOfLines(`
      Door No | Room name | To | From | Size | Hand | Door matl | Frame matl | Label | HDW | Typical | Furnished by | Glazing | Remarks
      101 | Entry | 101 Lobby | 100 Vestibule | PR 3-0 x 7-0 x 1-3/4 | RHRA | AL | AL | NR | 4 | Entrance | Integrator | tempered | with sidelight
      104A | Store | 104 | | 3070 | L.H. | HM | HM | 1-1/2 HR (B) | 12 | | TBC | none |
    `),
    { building: 'Main', level: 'Level 1' },
  )

  test('every field is read', () => {
    expect(understanding.problems).toEqual([])
    expect(
      understanding.openings.map(({ row, building, level, fields }) => ({ row, building, level, fields })),
    ).toEqual([
      {
        row: 2,
        building: 'Main',
        level: 'Level 1',
        fields: {
          mark: '101',
          whereText: 'Entry',
          toRoom: { number: '101', name: 'Lobby' },
          fromRoom: { number: '100', name: 'Vestibule' },
          leaves: 2,
          widthMicrometres: 6 * foot,
          heightMicrometres: 7 * foot,
          thicknessMicrometres: 1.75 * inch,
          hand: 'RHR',
          doorMaterial: 'AL',
          frameMaterial: 'AL',
          fireLabelMinutes: 0,
          fireLabelClass: null,
          hardwareSet: '4',
          typical: 'Entrance',
          furnishedBy: 'Integrator',
          notes: 'with sidelight',
        },
      },
      {
        row: 3,
        building: 'Main',
        level: 'Level 1',
        fields: {
          mark: '104A',
          whereText: 'Store',
          toRoom: { number: '104', name: null },
          fromRoom: null,
          leaves: 1,
          widthMicrometres: 3 * foot,
          heightMicrometres: 7 * foot,
          hand: 'LH',
          doorMaterial: 'HM',
          frameMaterial: 'HM',
          fireLabelMinutes: 90,
          fireLabelClass: 'B',
          hardwareSet: '12',
          typical: null,
          furnishedBy: null,
          notes: null,
        },
      },
    ])
  })

  test('cells are kept as read, also those that no field takes', () => {
    expect(understanding.openings[0]?.cells).toMatchObject({ Glazing: 'tempered', Hand: 'RHRA', Label: 'NR' })
    expect(understanding.openings[1]?.cells).not.toHaveProperty('From')
    expect(understanding.openings[1]?.place).toBe('Doors, row 3')
  })
})

describe('rows that are no openings', () => {
  const understanding = understand(
    sheetOfLines(`
      DOOR SCHEDULE
      Mark | Width | Height | Hand | Remarks
      BUILDING A
      LEVEL 1
      101 | 3-0 | 7-0 | LH |
      102 | 3-0 | 7-0 | RH |
      Subtotal | 2 | | |

      Mark | Width | Height | Hand | Remarks
      LEVEL 1 (continued)
      103 | 3-0 | 7-0 | RH |
      SECOND FLOOR
      201 | 3-0 | 7-0 | LHR |
      | 3-0 | 7-0 | LHR | mark missing
      Total | 4 | | |
      NOTES
      1. | All doors to be checked on site before hardware is ordered and before frames are set.
    `),
  )

  test('each is set aside with its reason', () => {
    expect(understanding.setAside.map(({ row, why }) => [row, why])).toEqual([
      [1, 'note'],
      [3, 'building title'],
      [4, 'level title'],
      [7, 'subtotal'],
      [9, 'heading repeated'],
      [10, 'level title'],
      [12, 'level title'],
      [14, 'no mark'],
      [15, 'subtotal'],
      [16, 'note'],
      [17, 'note'],
    ])
  })

  test('level and building titles hold for the rows that follow', () => {
    expect(
      understanding.openings.map(({ building, level, fields }) => [building, level, fields.mark]),
    ).toEqual([
      ['BUILDING A', 'LEVEL 1', '101'],
      ['BUILDING A', 'LEVEL 1', '102'],
      ['BUILDING A', 'LEVEL 1', '103'],
      ['BUILDING A', 'SECOND FLOOR', '201'],
    ])
    expect(understanding.levels.map((level) => level.name)).toEqual(['LEVEL 1', 'SECOND FLOOR'])
  })

  test('a row without a mark is said by row and field', () => {
    expect(sentences(understanding)).toEqual([
      'Row 14, Mark: there is no mark; expected a door number such as 104A.',
    ])
  })
})

describe('faults, by row and field', () => {
  const understanding = understand(
    sheetOf([
      ['Mark', 'Width', 'Height', 'Hand', 'Label', 'Leaves', 'Installed on'],
      ['101', '3-x', '7-0', 'DIN L', 'Fire Rating', 'three', '2026-13-45'],
      ['102', dated('2026-03-04'), '7-0', 'LH', '20', '1', dated('2026-03-04T00:00:00')],
      [dated('2026-01-02'), '3-0', '7-0', 'LH', '20', '1', ''],
      ['103', { text: '#REF!', form: 'error' }, '7-0', 'LH', '20', 'PR', '03/04/2026'],
    ]),
  )

  test('each says what was found and what was expected', () => {
    expect(sentences(understanding)).toEqual([
      'Row 2, Leaves: "three" is not a number of leaves; expected 1 or 2, single or pair.',
      'Row 2, Width: "3-x" is not a width; expected feet-inches such as 3-0, inches such as 36, or millimetres such as 914.',
      'Row 2, Hand: "DIN L" is not a hand; expected LH, RH, LHR or RHR, judged from the keyed side (DIN left and right do not say which side is keyed).',
      'Row 2, Label: "Fire Rating" is not a fire label; expected minutes such as 90, hours such as 1-1/2 HR, a class A to E, or none.',
      'Row 2, Installed on: "2026-13-45" is not a day; expected a day such as 2026-01-31.',
      'Row 3, Width: the spreadsheet turned this into the date 2026-03-04; was 3-4 meant? Expected a size kept as text, such as 3-0.',
      'Row 4, Mark: the spreadsheet turned this mark into the date 2026-01-02; expected a door number such as 104A, stored as text.',
      'Row 5, Width: the cell holds the error #REF!; its value was left out.',
      'Row 5, Installed on: "03/04/2026" is not a day that can be read one way only; expected a day such as 2026-01-31.',
    ])
    expect(understanding.problems.every((each) => each.weight === 'refused')).toBe(true)
  })

  test('what could not be read is not said, so nothing is overwritten by it; the rest of the row is kept', () => {
    const [first, second] = understanding.openings
    expect(first?.fields).toEqual({ mark: '101', heightMicrometres: 7 * foot })
    expect(second?.fields).toMatchObject({ mark: '102', installedOn: '2026-03-04', fireLabelMinutes: 20 })
    expect(second?.fields).not.toHaveProperty('widthMicrometres')
  })
})

describe('sizes in columns', () => {
  test.each([
    ['Mark | Width | Height', '1 | 3-0 | 7-0', 1, 3 * foot, 7 * foot],
    ['Mark | Width | Height', '1 | 36 | 84', 1, 36 * inch, 84 * inch],
    ['Mark | Width | Height', '1 | 914 | 2134', 1, 914 * mm, 2134 * mm],
    ['Mark | Width | Height', '1 | 3070 |', 1, 3 * foot, 7 * foot],
    ['Mark | Width | Hand', '1 | 3-0 x 7-0 | LH', 1, 3 * foot, 7 * foot],
    ['Mark | Width | Height | Leaves', '1 | 3-0 | 7-0 | PR', 2, 6 * foot, 7 * foot],
    ['Mark | Width | Height | Leaves', '1 | 6-0 | 7-0 | 2', 2, 6 * foot, 7 * foot],
    ['Mark | Leaf width | Height | Leaves', '1 | 4-6 | 7-0 | 2', 2, 9 * foot, 7 * foot],
    ['Mark | Size | Leaves', '1 | 3070 | PAIR', 2, 6 * foot, 7 * foot],
    ['Mark | Width (mm) | Height (mm)', '1 | 94 | 2134', 1, 94 * mm, 2134 * mm],
    ['Mark | Width (in) | Height (in)', '1 | 36 | 84', 1, 36 * inch, 84 * inch],
  ] as const)('%s: %s', (headings, row, leaves, width, height) => {
    expect(fieldsOf(headings, row)).toMatchObject({
      leaves,
      widthMicrometres: width,
      heightMicrometres: height,
    })
  })

  test('blank sizes are nothing, not zero', () => {
    expect(fieldsOf('Mark | Width | Height', '1 | | TBC')).toEqual({
      mark: '1',
      widthMicrometres: null,
      heightMicrometres: null,
    })
  })

  test('units mixed in a column are asked about', () => {
    const understanding = understand(
      sheetOfLines('Mark | Width | Height\n1 | 36 | 84\n2 | 36 | 84\n3 | 914 | 84'),
    )
    expect(sentences(understanding)).toEqual([
      'Row 4, Width: "914" was read as millimetres, while most of this column was read as inches.',
    ])
  })

  test('a slip is asked about', () => {
    const understanding = understand(sheetOfLines('Mark | Width (mm) | Height (mm)\n1 | 94 | 2134'), {
      units: 'metric',
    })
    expect(understanding.problems).toMatchObject([
      {
        row: 2,
        field: 'Width (mm)',
        found: '94',
        weight: 'question',
        expected: expect.stringContaining('940 mm meant') as string,
      },
    ])
  })
})

describe('marks', () => {
  test('stay text, whatever they were stored as', () => {
    const understanding = understand(
      sheetOf([
        ['Mark', 'Width'],
        ['101', '3-0'],
        [asText('007'), '3-0'],
        [' B2-03 ', '3-0'],
        ['TBC', '3-0'],
      ]),
    )
    expect(understanding.openings.map((each) => each.fields.mark)).toEqual(['101', '007', 'B2-03'])
    expect(understanding.setAside).toMatchObject([{ row: 5, why: 'no mark' }])
  })

  test('twice on one level are asked about, on two levels are not', () => {
    const understanding = understand(
      sheetOfLines('Mark | Level | Width\n1 | L1 | 3-0\n1 | L2 | 3-0\n2 | L1 | 3-0\n2 | l1 | 2-8'),
    )
    expect(sentences(understanding)).toEqual([
      'Row 4, Mark: 2 stands 2 times on L1, in rows 4, 5.',
      'Row 5, Mark: 2 stands 2 times on l1, in rows 4, 5.',
    ])
    expect(understanding.openings).toHaveLength(4)
  })

  test('without a column for them, the sheet says so', () => {
    const sheet = sheetOfLines('Zone | Width | Height | Hand\na | 3-0 | 7-0 | LH')
    const understanding = understand(sheet)
    expect(understanding.warnings).toEqual([
      'No column was found for the mark (door number). Say which column holds it.',
    ])
    expect(understanding.problems).toEqual([])
    expect(understanding.setAside).toMatchObject([{ row: 2, why: 'no mark' }])
  })
})

test('a heading that names no safe key cannot reach a prototype', () => {
  const understanding = understand(sheetOfLines('Mark | __proto__ | Width\n1 | x | 3-0'))
  expect(understanding.openings[0]?.cells).toEqual({ Mark: '1', 'Column 2': 'x', Width: '3-0' })
})

test('5,000 rows are understood in well under two seconds', () => {
  const rows = Array.from({ length: 5000 }, (_, index) => [`${index}`, '3-0', '7-0', 'LH', '90 MIN', 'Store'])
  const sheet = sheetOf([['Mark', 'Width', 'Height', 'Hand', 'Label', 'Where'], ...rows])
  const start = performance.now()
  expect(understand(sheet).openings).toHaveLength(5000)
  expect(performance.now() - start).toBeLessThan(2000)
})
