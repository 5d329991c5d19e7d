// Labels, measured and read back. With LINTELBOOK_LOOK set to a folder, the sheets are left there.
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { copyFileSync } from 'node:fs'
import { join } from 'node:path'
import { Writable } from 'node:stream'
import { describe, expect, test } from 'vitest'
import { labelStocks, type Label, type LabelSheet, type LabelStock } from '../../../core/documents/index.ts'
import { pressFonts } from '../../../electron/press.ts'
import { codeShape } from '../../../renderer/paper/code-shape.ts'
import { writeLabels, type WrittenLabels } from '../../../renderer/paper/index.ts'
import { testWith } from '../../tools/skipping.ts'
import { createdAt, keep, missingTools, run } from './printed.ts'

const noTools = missingTools('pdftotext', 'pdfinfo', 'pdffonts', 'pdftoppm', 'qpdf').length > 0
const lacksReader =
  spawnSync('zbarimg', ['--version']).error === undefined
    ? null
    : 'zbarimg is not installed (Debian: zbar-tools)'

const stock = (key: string): LabelStock => {
  const found = labelStocks.find((each) => each.key === key)
  if (found === undefined) throw new Error(`no stock ${key}`)
  return found
}

const label = (number: number, different: Partial<Label> = {}): Label => ({
  name: `M1 of ${number}`,
  mark: String(number),
  lines: ['Surface magnet, 24 V', 'J2 relock 3 s', 'PS2 output 3'],
  codeText: `Lintelbook job 2231 opening ${number}`,
  ...different,
})

const sheetOf = (key: string, labels: readonly Label[], startAt = 1): LabelSheet => ({
  title: 'Setting labels',
  jobName: 'Harrow Street Clinic',
  stock: stock(key),
  startAt,
  labels,
})

async function printed(
  sheet: LabelSheet,
): Promise<{ path: string; written: WrittenLabels; bytes: Uint8Array }> {
  const chunks: Uint8Array[] = []
  const stream = new Writable({
    write(chunk: Uint8Array, _, done) {
      chunks.push(chunk)
      done()
    },
  })
  const written = await writeLabels(sheet, { fonts: await pressFonts(), createdAt, stream })
  const bytes = Buffer.concat(chunks)
  const path = keep(bytes)
  const look = process.env['LINTELBOOK_LOOK']
  if (look !== undefined) copyFileSync(path, join(look, `labels-${sheet.stock.key}.pdf`))
  return { path, written, bytes }
}

const numbered = (count: number): Label[] => Array.from({ length: count }, (_, at) => label(100 + at))

describe('label stocks', () => {
  test.each(labelStocks.map((each) => [each.name, each] as const))('%s stays on its page', (_, each) => {
    const right =
      each.leftMicrometres + each.acrossMicrometres * (each.columns - 1) + each.labelWidthMicrometres
    const foot = each.topMicrometres + each.downMicrometres * (each.rows - 1) + each.labelHeightMicrometres
    expect(each.leftMicrometres >= 0 && each.topMicrometres >= 0).toBe(true)
    expect(right).toBeLessThanOrEqual(each.pageWidthMicrometres)
    expect(foot).toBeLessThanOrEqual(each.pageHeightMicrometres)
    expect(each.acrossMicrometres).toBeGreaterThanOrEqual(each.labelWidthMicrometres)
    expect(each.downMicrometres).toBeGreaterThanOrEqual(each.labelHeightMicrometres)
  })

  // The first label's corner on common sheets. Common practice, no source.
  test.each([
    ['letter-30', 0.1875, 0.5, 25_400],
    ['letter-80', 0.3, 0.5, 25_400],
    ['a4-21', 7.25, 15.15, 1000],
    ['a4-65', 4.75, 10.7, 1000],
  ])('%s begins at %d, %d', (key, left, top, unit) => {
    expect(stock(key).leftMicrometres).toBeCloseTo(left * unit, -1)
    expect(stock(key).topMicrometres).toBeCloseTo(top * unit, -1)
  })
})

describe.skipIf(noTools)('labels on paper', () => {
  test.each(labelStocks.map(({ key }) => key))(
    'on %s: clean, fonts inside, every word within its label',
    async (key) => {
      const { columns, rows, ...each } = stock(key)
      const { path, written } = await printed(sheetOf(key, numbered(35), 3))
      const skipped = Math.min(2, columns * rows - 1)
      expect(written.pages).toBe(Math.ceil((35 + skipped) / (columns * rows)))
      expect(written.missingCharacters).toEqual([])
      expect(run('qpdf', '--check', path)).toContain('No syntax or stream encoding errors')
      for (const font of run('pdffonts', path).trim().split('\n').slice(2))
        expect(font).toMatch(/yes yes yes/)
      const points = (micrometres: number): number => (micrometres / 25_400) * 72
      const size = /Page size: +([\d.]+) x ([\d.]+)/.exec(run('pdfinfo', path))
      expect(Number(size?.[1])).toBeCloseTo(points(each.pageWidthMicrometres), 1)
      expect(Number(size?.[2])).toBeCloseTo(points(each.pageHeightMicrometres), 1)
      const words = [
        ...run('pdftotext', '-bbox', path, '-').matchAll(
          /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">([^<]*)/g,
        ),
      ]
      expect(words.length).toBeGreaterThanOrEqual(35)
      for (const [, left, , right, bottom, word] of words) {
        const column = Math.floor(
          (Number(left) - points(each.leftMicrometres)) / points(each.acrossMicrometres) + 0.001,
        )
        const row = Math.floor(
          (Number(bottom) - 2 - points(each.topMicrometres)) / points(each.downMicrometres),
        )
        const labelRight = points(
          each.leftMicrometres + column * each.acrossMicrometres + each.labelWidthMicrometres,
        )
        const labelFoot = points(
          each.topMicrometres + row * each.downMicrometres + each.labelHeightMicrometres,
        )
        expect(Number(right), word).toBeLessThanOrEqual(labelRight)
        expect(Number(bottom), word).toBeLessThanOrEqual(labelFoot + 2.5)
      }
    },
  )

  test('starts at the place asked for on a part-used sheet', async () => {
    const { path } = await printed(sheetOf('letter-30', [label(118)], 5))
    const word = /<word xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>118/.exec(run('pdftotext', '-bbox', path, '-'))
    const middle = stock('letter-30')
    // The fifth of three columns: second row, second column.
    expect(Number(word?.[1])).toBeGreaterThan(
      ((middle.leftMicrometres + middle.acrossMicrometres) / 25_400) * 72,
    )
    expect(Number(word?.[1])).toBeLessThan(
      ((middle.leftMicrometres + 1.2 * middle.acrossMicrometres) / 25_400) * 72,
    )
    expect(Number(word?.[2])).toBeGreaterThan(1.45 * 72)
    expect(Number(word?.[2])).toBeLessThan(1.8 * 72)
  })

  test('what does not fit is made smaller, then cut, and the warning names the label', async () => {
    const long = 'A note of many words that goes on. '.repeat(12)
    const { written, path } = await printed(
      sheetOf('letter-30', [
        label(1, { mark: 'Pharmacy store 118A' }),
        label(2, { lines: [long] }),
        label(3, { mark: 'A mark of so many words that no label has room for it' }),
      ]),
    )
    expect(written.warnings).toEqual([
      'Label M1 of 2: its lines are cut; they have no room.',
      'Label M1 of 3: the mark "A mark of so many words that no label has room for it" is cut; it has no room.',
    ])
    const text = run('pdftotext', path, '-').replace(/\s+/g, ' ')
    expect(text).toContain('Pharmacy store 118A')
    expect(text).toContain('…')
  })

  test('a code too small for a phone is left out and said', async () => {
    const { written } = await printed(sheetOf('roll-cable', [label(7, { codeText: 'x'.repeat(60) })]))
    expect(written.warnings).toContain(
      'Label M1 of 7: its code is left out; at this size no phone would read it.',
    )
  })

  test('no labels are still one page', async () => {
    expect((await printed(sheetOf('a4-21', []))).written).toMatchObject({ pages: 1, warnings: [] })
  })

  test('the same labels and date give the same bytes', async () => {
    const hash = async (): Promise<string> =>
      createHash('sha256')
        .update((await printed(sheetOf('a4-21', numbered(9)))).bytes)
        .digest('hex')
    expect(await hash()).toBe(await hash())
  })

  // One label at a time, as a phone sees it: of many in one picture the reader now and then overlooks one.
  testWith(lacksReader, 'every code is read as its plain text', async () => {
    const dotsPerInch = 300
    const dots = (micrometres: number): string => String(Math.round((micrometres / 25_400) * dotsPerInch))
    for (const key of ['letter-30', 'letter-80', 'a4-21', 'a4-65', 'roll-62x29']) {
      const labels = numbered(6)
      const { path } = await printed(sheetOf(key, labels))
      const { columns, rows, ...each } = stock(key)
      for (const [at, { codeText }] of labels.entries()) {
        const place = at % (columns * rows)
        const page = String(Math.floor(at / (columns * rows)) + 1)
        const left = dots(each.leftMicrometres + (place % columns) * each.acrossMicrometres)
        const top = dots(each.topMicrometres + Math.floor(place / columns) * each.downMicrometres)
        const size = ['-W', dots(each.labelWidthMicrometres), '-H', dots(each.labelHeightMicrometres)]
        const picture = `${path}.${at}`
        const part = ['-r', String(dotsPerInch), '-f', page, '-l', page, '-x', left, '-y', top, ...size]
        run('pdftoppm', ...part, '-png', '-singlefile', path, picture)
        const read = spawnSync('zbarimg', ['--quiet', '--raw', `${picture}.png`], { encoding: 'utf8' })
        expect(read.stdout.trim(), key).toBe(codeText)
      }
    }
  })
})

// Quiet zone of four modules on each side. Source: ISO/IEC 18004, 6.3.8.
test('a code keeps its quiet zone', () => {
  const side = 100
  const { modulePoints, rectangles } = codeShape('Lintelbook job 2231 opening 118', side)
  const quiet = 4 * modulePoints
  for (const [left, top, width, height] of rectangles) {
    expect(Math.min(left, top)).toBeGreaterThanOrEqual(quiet - 1e-9)
    expect(Math.max(left + width, top + height)).toBeLessThanOrEqual(side - quiet + 1e-9)
  }
})
