import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { problemSentence, readFileBytes } from '../../../electron/intake/index.ts'
import { fixture, fixtureFolder, modelOf, sheetsOf, textsOf } from './support.ts'

interface Rows {
  readonly file: string
  readonly rows: readonly number[]
  readonly merges?: number
  readonly warnings?: number
}

const READ: readonly Rows[] = [
  { file: 'headings-in-three-rows.xlsx', rows: [7], merges: 8 },
  { file: 'repeated-page-headings.xlsx', rows: [30] },
  { file: 'blank-and-subtotal-rows.xlsx', rows: [8] },
  { file: 'level-title-rows.xlsx', rows: [8], merges: 3 },
  { file: 'marks-as-numbers.xlsx', rows: [7], warnings: 1 },
  { file: 'units-mixed.xlsx', rows: [13] },
  { file: 'sizes-in-one-number.xlsx', rows: [9] },
  { file: 'formulas.xlsx', rows: [4, 3], warnings: 3 },
  { file: 'sizes-turned-into-dates.xlsx', rows: [3] },
  { file: 'five-thousand-rows.xlsx', rows: [5001] },
  { file: 'whole-sheet-ranges.xlsx', rows: [2], merges: 1 },
  { file: 'prototype-headings.xlsx', rows: [3] },
  { file: 'duplicate-marks.csv', rows: [9] },
  { file: 'bad-hands.csv', rows: [13] },
  { file: 'umlauts-windows-1252.csv', rows: [4], warnings: 1 },
  { file: 'wide-text.txt', rows: [3] },
  { file: 'formula-injection.csv', rows: [6] },
  { file: 'unclosed-quote.csv', rows: [5], warnings: 2 },
  { file: 'named-delimiter.csv', rows: [3] },
  { file: 'csv-renamed.xlsx', rows: [9], warnings: 1 },
]

const REFUSED: readonly { readonly file: string; readonly code: string; readonly says: string }[] = [
  { file: 'empty-workbook.xlsx', code: 'empty', says: 'nothing in any sheet' },
  { file: 'empty.csv', code: 'empty', says: '"empty.csv" is empty.' },
  { file: 'only-blanks.csv', code: 'empty', says: 'holds no filled row' },
  {
    file: 'stray-corner.xlsx',
    code: 'stray-cell',
    says: 'Sheet "Doors" of "stray-corner.xlsx" has a cell far outside',
  },
  { file: 'prose-renamed.xlsx', code: 'not-a-workbook', says: 'plain text without columns' },
  { file: 'web-page-renamed.xlsx', code: 'not-a-workbook', says: 'is a web page' },
  { file: 'old-kind.xls', code: 'not-a-workbook', says: 'save it as .xlsx' },
  { file: 'password.xlsx', code: 'encrypted', says: 'protected by a password' },
  { file: 'cut-short.xlsx', code: 'truncated', says: 'breaks off before its end' },
  { file: 'flipped-bytes.xlsx', code: 'damaged', says: 'is damaged' },
  { file: 'bomb-overlapping.xlsx', code: 'too-big', says: 'unpacks to more than 256 MB' },
  { file: 'bomb-lying.xlsx', code: 'damaged', says: 'unpacks to more than it declares' },
  {
    file: 'two-models.ifczip',
    code: 'several-models-inside',
    says: 'holds 2 building models ("a.ifc", "b.ifc")',
  },
  { file: 'path-tricks.ifczip', code: 'unsafe-names', says: 'names that point outside it' },
  { file: 'cut-short.ifc', code: 'truncated', says: 'after record #24' },
  { file: 'no-schema.ifc', code: 'unknown-schema', says: 'does not say which IFC schema' },
  { file: 'unknown-schema.ifc', code: 'unknown-schema', says: 'follows the schema "AUTOMOTIVE_DESIGN"' },
]

const MODELS = [
  { file: 'clinic.ifczip', doors: 2, warnings: 0 },
  { file: 'clinic-in-feet.ifc', doors: 2, warnings: 0 },
  { file: 'ugly-records.ifc', doors: 4, warnings: 4 },
] as const

const LIMIT_MILLISECONDS = 2000

async function timed(file: string) {
  const bytes = fixture(file)
  const start = performance.now()
  const result = await readFileBytes(file, bytes)
  return { result, milliseconds: performance.now() - start }
}

test('every fixture stands in exactly one table and in the README', () => {
  const tabled = [...READ, ...REFUSED, ...MODELS].map(({ file }) => file).sort()
  const made = readdirSync(fixtureFolder).filter((name) => !/^\.|\.(ts|md)$/.test(name))
  expect(tabled).toEqual(made.sort())
  const readme = readFileSync(join(fixtureFolder, 'README.md'), 'utf8')
  expect(made.filter((name) => !readme.includes(`| ${name} `))).toEqual([])
})

test('made again, the fixtures are the same byte for byte', () => {
  const folder = mkdtempSync(join(tmpdir(), 'intake-'))
  try {
    execFileSync(process.execPath, [join(fixtureFolder, 'make.ts'), folder])
    for (const name of readdirSync(folder)) {
      expect(Buffer.compare(readFileSync(join(folder, name)), fixture(name)), name).toBe(0)
    }
  } finally {
    rmSync(folder, { recursive: true })
  }
})

describe('read', () => {
  test.each(READ)('$file', async ({ file, rows, merges = 0, warnings = 0 }) => {
    const { result, milliseconds } = await timed(file)
    const sheets = sheetsOf(result)
    expect(sheets.map((sheet) => sheet.rows.length)).toEqual(rows)
    expect(sheets.flatMap((sheet) => sheet.merges)).toHaveLength(merges)
    if (result.ok && result.file.form === 'sheets') expect(result.file.warnings).toHaveLength(warnings)
    expect(milliseconds).toBeLessThan(LIMIT_MILLISECONDS)
  })

  test.each(MODELS)('$file', async ({ file, doors, warnings }) => {
    const { result, milliseconds } = await timed(file)
    const model = modelOf(result)
    expect(model.doors).toHaveLength(doors)
    expect(model.warnings).toHaveLength(warnings)
    expect(milliseconds).toBeLessThan(LIMIT_MILLISECONDS)
  })
})

describe('refused with a sentence', () => {
  test.each(REFUSED)('$file: $code', async ({ file, code, says }) => {
    const { result, milliseconds } = await timed(file)
    expect(result.ok).toBe(false)
    if (result.ok) return
    expect(result.problem.code).toBe(code)
    const sentence = problemSentence(result.problem)
    expect(sentence).toContain(says)
    expect(sentence).toMatch(/^["A-Z].*\.$/)
    expect(milliseconds).toBeLessThan(LIMIT_MILLISECONDS)
  })
})

async function cellsOf(file: string): Promise<string[][]> {
  return textsOf(sheetsOf(await readFileBytes(file, fixture(file)))[0] ?? { name: '', rows: [], merges: [] })
}

async function formsOf(file: string, row: number): Promise<string[]> {
  const sheet = sheetsOf(await readFileBytes(file, fixture(file)))[0]
  return sheet?.rows.find(({ number }) => number === row)?.cells.map(({ form }) => form) ?? []
}

describe('cells as a person reads them', () => {
  test('marks stored as numbers, padded, as text; yes-no and errors keep their form', async () => {
    const rows = await cellsOf('marks-as-numbers.xlsx')
    expect(rows.slice(1).map(([mark]) => mark)).toEqual(['101', '102', '007', '007', '10.1', '103A'])
    expect(rows[5]?.[2]).toBe('0.3')
    expect(await formsOf('marks-as-numbers.xlsx', 2)).toEqual(['number', 'text', 'number', 'yes-no'])
    expect(await formsOf('marks-as-numbers.xlsx', 5)).toEqual(['text', 'text', 'number', 'yes-no', 'text'])
    expect(await formsOf('marks-as-numbers.xlsx', 7)).toEqual(['text', 'text', 'number', 'yes-no', 'error'])
  })

  test('dates are ISO, whole days without time, times of day without date, 0:00 among them', async () => {
    expect((await cellsOf('sizes-turned-into-dates.xlsx')).slice(1)).toEqual([
      ['101', '2026-03-04', '7-0', '2026-02-01T09:00:00', '07:30:00'],
      ['102', '3-0', '2026-07-09', '2026-02-01', '00:00:00'],
    ])
    expect(await formsOf('sizes-turned-into-dates.xlsx', 3)).toEqual(['text', 'text', 'date', 'date', 'date'])
  })

  test('formulas give their last result; none is counted in a warning', async () => {
    const result = await readFileBytes('formulas.xlsx', fixture('formulas.xlsx'))
    expect(textsOf(sheetsOf(result)[0] ?? { name: '', rows: [], merges: [] })).toEqual([
      ['Mark', 'Room', 'Width', 'Height', 'Area'],
      ['101', 'Waiting', '915', '2134', '1.95261'],
      ['102', 'RECORDS', '', '2134', ''],
      ['103', '', '', '2134', '#DIV/0!'],
    ])
    if (!result.ok || result.file.form !== 'sheets') throw new Error('not read')
    expect(result.file.warnings[0]).toBe(
      'Sheet "Doors": 3 cells (first C3) with a formula and no stored result; read as empty. Open and save the workbook in a spreadsheet.',
    )
    expect(result.file.warnings[2]).toBe('Sheet "Lists" is hidden in the workbook.')
  })

  test('row numbers are the sheet’s own', async () => {
    const sheet = sheetsOf(await readFileBytes('x', fixture('blank-and-subtotal-rows.xlsx')))[0]
    expect(sheet?.rows.map(({ number }) => number)).toEqual([3, 5, 6, 7, 8, 12, 13, 15])
    const named = sheetsOf(await readFileBytes('n.csv', fixture('named-delimiter.csv')))[0]
    expect(named?.rows.map(({ number }) => number)).toEqual([2, 3, 4])
  })

  test('text in other codings and delimiters', async () => {
    expect((await cellsOf('umlauts-windows-1252.csv'))[2]).toEqual([
      '102',
      'Büro Süd',
      '0,915',
      '2,135',
      'Schlüssel; siehe Liste',
    ])
    expect((await cellsOf('wide-text.txt'))[1]).toEqual(['101', 'Büro', 'LH'])
    expect((await cellsOf('bad-hands.csv'))[6]).toEqual(['106', 'Dispensary', 'LHA/RHA'])
  })

  test('an open quotation mark costs its own row only, and is named by row', async () => {
    expect(await cellsOf('unclosed-quote.csv')).toEqual([
      ['Mark', 'Room', 'Width', 'Remarks'],
      ['101', 'Entrance lobby', `3'-0"`, 'pair'],
      ['102', '"Waiting', '36', 'as built'],
      ['103', 'Records', '36', 'door, with closer'],
      ['104', 'Exam 1', '36', '"last'],
    ])
    const result = await readFileBytes('q.csv', fixture('unclosed-quote.csv'))
    if (!result.ok || result.file.form !== 'sheets') throw new Error('not read')
    expect(result.file.warnings.map((warning) => warning.slice(0, 6))).toEqual(['Row 3:', 'Row 5:'])
  })

  test('names of the language stay names', async () => {
    expect((await cellsOf('prototype-headings.xlsx'))[1]).toEqual(['101', 'polluted', 'a', 'b', 'c'])
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined()
    const model = modelOf(await readFileBytes('u.ifc', fixture('ugly-records.ifc')))
    const properties = model.doors[0]?.properties ?? {}
    expect(Object.entries(properties)).toEqual([['__proto__', { ['__proto__']: 'kept as a name' }]])
  })
})

test('a CSV of 5,000 rows', async () => {
  const lines = ['Mark,Room,Width,Height,Hand,Remarks']
  for (let index = 1; index <= 5000; index++) lines.push(`${1000 + index},"Room ${index}, east",3-0,7-0,LH,`)
  const bytes = new TextEncoder().encode(lines.join('\r\n'))
  const start = performance.now()
  const rows = textsOf(
    sheetsOf(await readFileBytes('big.csv', bytes))[0] ?? { name: '', rows: [], merges: [] },
  )
  expect(performance.now() - start).toBeLessThan(LIMIT_MILLISECONDS)
  expect(rows).toHaveLength(5001)
  expect(rows[5000]).toEqual(['6000', 'Room 5000, east', '3-0', '7-0', 'LH'])
})
