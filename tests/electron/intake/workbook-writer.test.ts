// What is written is read back by a second reader: fflate and plain looks at the XML, not by hucre alone.

import { strFromU8, unzipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { readFileBytes, writeCsv, writeWorkbook } from '../../../electron/intake/index.ts'
import type { SheetToWrite } from '../../../electron/intake/index.ts'
import { sheetsOf, textsOf } from './support.ts'

const DOORS: SheetToWrite = {
  name: 'Doors',
  columns: [
    { heading: 'Mark', width: 10, form: 'text' },
    { heading: 'Room', width: 24, form: 'text' },
    { heading: 'Quantity', width: 8, form: 'number' },
  ],
  rows: [
    ['007', '=1+1', -5],
    ['101', '+cmd & <b> "q"', 2.5],
    [null, ' two\nlines ', null],
    ['@x', '_x0041_ \u0001 \ud83d\udeaa', Number.NaN],
  ],
}

interface XmlCell {
  readonly type: string | undefined
  readonly value: string
}

function unescaped(text: string): string {
  return text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&amp;', '&')
    .replace(/_x([0-9A-F]{4})_/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
}

/** A reader of our own for what we write: cells by name, straight from the XML. */
function secondReader(bytes: Uint8Array, sheet = 1) {
  const parts = unzipSync(bytes)
  const text = (name: string): string => strFromU8(parts[name] ?? new Uint8Array())
  const strings = [...text('xl/sharedStrings.xml').matchAll(/<si><t[^>]*>([\s\S]*?)<\/t><\/si>/g)].map(
    (match) => unescaped(match[1] ?? ''),
  )
  const xml = text(`xl/worksheets/sheet${sheet}.xml`)
  const cells = new Map<string, XmlCell>()
  for (const match of xml.matchAll(/<c r="([A-Z]+\d+)"(?: t="(\w+)")?(?: s="\d+")?><v>([^<]*)<\/v><\/c>/g)) {
    const [, name = '', type, value = ''] = match
    cells.set(name, { type, value: type === 's' ? (strings[Number(value)] ?? '') : value })
  }
  return { cells, xml, workbook: text('xl/workbook.xml') }
}

describe('workbooks', () => {
  test('text is stored as text, numbers as numbers, nothing as a formula', async () => {
    const { cells, xml } = secondReader(await writeWorkbook([DOORS]))
    expect(Object.fromEntries(cells)).toEqual({
      A1: { type: 's', value: 'Mark' },
      B1: { type: 's', value: 'Room' },
      C1: { type: 's', value: 'Quantity' },
      A2: { type: 's', value: '007' },
      B2: { type: 's', value: '=1+1' },
      C2: { type: undefined, value: '-5' },
      A3: { type: 's', value: '101' },
      B3: { type: 's', value: '+cmd & <b> "q"' },
      C3: { type: undefined, value: '2.5' },
      B4: { type: 's', value: ' two\nlines ' },
      A5: { type: 's', value: '@x' },
      B5: { type: 's', value: '_x0041_ \u0001 \ud83d\udeaa' },
    })
    expect(xml).not.toContain('<f>')
  })

  test('headings stay in view, have filter buttons and widths', async () => {
    const { xml } = secondReader(
      await writeWorkbook([{ ...DOORS, titles: ['Harrow Street Clinic'], frozenColumns: 1 }]),
    )
    expect(xml).toMatch(/<pane [^>]*xSplit="1"[^>]*ySplit="2"|<pane [^>]*ySplit="2"[^>]*xSplit="1"/)
    expect(xml).toContain('<autoFilter ref="A2:C6"')
    expect(xml).toContain('width="24"')
    expect(xml).toContain('orientation="landscape"')
  })

  test('sheet names are made legal and different', async () => {
    const names = ['Doors', 'doors', 'a/b:c*[d]?', '', 'x'.repeat(40), 'x'.repeat(50)]
    const bytes = await writeWorkbook(names.map((name) => ({ ...DOORS, name })))
    const written = [...secondReader(bytes).workbook.matchAll(/<sheet name="([^"]*)"/g)].map(
      (match) => match[1],
    )
    expect(written).toEqual([
      'Doors',
      'doors (2)',
      'a b c  d',
      'Sheet 4',
      'x'.repeat(31),
      `${'x'.repeat(27)} (2)`,
    ])
  })

  test('the same sheets give the same bytes', async () => {
    expect(Buffer.compare(await writeWorkbook([DOORS]), await writeWorkbook([DOORS]))).toBe(0)
  })

  test('our own reader reads it back', async () => {
    const sheet = sheetsOf(await readFileBytes('d.xlsx', await writeWorkbook([DOORS])))[0]
    expect(sheet && textsOf(sheet)).toEqual([
      ['Mark', 'Room', 'Quantity'],
      ['007', '=1+1', '-5'],
      ['101', '+cmd & <b> "q"', '2.5'],
      ['', ' two\nlines '],
      ['@x', '_x0041_ \u0001 \ud83d\udeaa'],
    ])
  })

  test('5,000 rows of 20 columns in good time', async () => {
    const columns = Array.from({ length: 20 }, (_, index) => ({
      heading: `H${index}`,
      width: 12,
      form: 'text' as const,
    }))
    const rows = Array.from({ length: 5000 }, (_, row) =>
      columns.map((_column, column) => `${row}-${column}`),
    )
    const start = performance.now()
    const bytes = await writeWorkbook([{ name: 'Doors', columns, rows }])
    expect(performance.now() - start).toBeLessThan(5000)
    expect(secondReader(bytes).cells.get('T5001')).toEqual({ type: 's', value: '4999-19' })
  }, 20_000)
})

describe('CSV', () => {
  test('has a byte order mark, CRLF, and quotation marks where needed', () => {
    const bytes = writeCsv(DOORS)
    expect([...bytes.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf])
    expect(Buffer.from(bytes).toString('utf8').slice(1).split('\r\n')).toEqual([
      'Mark,Room,Quantity',
      "007,'=1+1,-5",
      `101,"'+cmd & <b> ""q""",2.5`,
      '," two\nlines ",',
      "'@x,_x0041_ \u0001 \ud83d\udeaa,",
      '',
    ])
  })

  // Which starts can be run as formulas: OWASP, "CSV Injection".
  test.each([
    ['=1+1', 'text', "'=1+1"],
    ['+1', 'text', "'+1"],
    ['-5', 'text', "'-5"],
    ['@a', 'text', "'@a"],
    ['\ta', 'text', "'\ta"],
    ['\ra', 'text', `"'\ra"`],
    ['a=1', 'text', 'a=1'],
    ['3\'-0"', 'text', `"3'-0"""`],
    [-5, 'text', '-5'],
    [-5, 'number', '-5'],
    ['-5', 'number', '-5'],
    ['+1.5', 'number', '+1.5'],
    ['-1+cmd', 'number', "'-1+cmd"],
    ['=1', 'number', "'=1"],
  ] as const)('%j in a %s column', (value, form, written) => {
    const bytes = writeCsv({ columns: [{ heading: 'h', width: 5, form }], rows: [[value]] })
    expect(Buffer.from(bytes).toString('utf8')).toBe(`\ufeffh\r\n${written}\r\n`)
  })

  test('headings are neutralised too', () => {
    const bytes = writeCsv({ columns: [{ heading: '=h', width: 5, form: 'number' }], rows: [] })
    expect(Buffer.from(bytes).toString('utf8')).toBe("\ufeff'=h\r\n")
  })
})
