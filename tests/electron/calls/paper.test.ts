// What leaves the program, read back: pages with pdftotext, workbooks with our own reader, text twins by making a job.
import { execFileSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import path from 'node:path'
import { strFromU8, unzipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import type { MadeFile } from '../../../core/contract/index.ts'
import { columnKeys, plainArrangement, scheduleColumns, usualColumns } from '../../../core/schedule/index.ts'
import { readFileBytes } from '../../../electron/intake/index.ts'
import { missingTools } from '../../renderer/paper/printed.ts'
import {
  asBase64,
  bytesOf,
  fixture,
  start,
  startEmpty,
  temporaryFolder,
  textOf,
  type Running,
} from './support.ts'

const cannotRead = missingTools('pdftotext').length > 0
const paper = { arrangement: plainArrangement, columns: [...usualColumns] }
const everything = { arrangement: plainArrangement, columns: [...columnKeys] }

function printedText(made: MadeFile): string {
  const file = path.join(temporaryFolder(), 'printed.pdf')
  writeFileSync(file, bytesOf(made))
  return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8', maxBuffer: 1 << 26 })
}

async function sheetOf(made: MadeFile): Promise<string[][]> {
  const read = await readFileBytes(made.fileName, bytesOf(made))
  if (!read.ok || read.file.form !== 'sheets') throw new Error('a sheet was expected')
  expect(read.file.sheets).toHaveLength(1)
  return (read.file.sheets[0]?.rows ?? []).map((row) => row.cells.map((cell) => cell.text))
}

/** A job whose notes a spreadsheet would run. */
async function startInjected(): Promise<Running> {
  const running = await startEmpty()
  const seen = await running.ask('intake.file', fixture('formula-injection.csv'))
  await running.ask('intake.accept', {
    intakeId: seen.intakeId,
    choices: seen.choices,
    decisions: { items: {}, fields: {} },
  })
  return running
}

describe.skipIf(cannotRead)('the printed schedule', () => {
  test.each(['letter', 'tabloid', 'a3', 'a4'] as const)('%s: every mark stands on it', async (pageSize) => {
    const running = await start(temporaryFolder())
    const { rows } = await running.schedule()
    const made = await running.ask('print.schedule', { pageSize, ...paper })
    expect(made).toMatchObject({
      fileName: 'Harrow Street Clinic - opening schedule.pdf',
      mediaType: 'application/pdf',
      warnings: [],
    })
    const text = printedText(made)
    // A mark stands at the start of its line.
    const firsts = new Set(text.split('\n').map((line) => line.trim().split(/\s{2,}|\s/)[0]))
    expect(rows.map((row) => row.mark).filter((mark) => !firsts.has(mark))).toEqual([])
    expect(text).toContain('Harrow Street Clinic')
    expect(text.split('\f').length - 1).toBe(made.pages)
  })

  test('chosen levels only, grouped by typical', async () => {
    const running = await start(temporaryFolder())
    const { rows, frame } = await running.schedule()
    const level = frame.levels.find((each) => each.name === 'Roof')
    const made = await running.ask('print.schedule', {
      pageSize: 'letter',
      arrangement: { ...plainArrangement, group: 'typical', levelIds: [level?.id ?? ''] },
      columns: [...usualColumns],
    })
    const text = printedText(made)
    for (const row of rows.filter((each) => each.levelId === level?.id)) expect(text).toContain(row.mark)
    expect(text).not.toMatch(/^\s*101\s/m)
  })

  test('an empty job prints a page that says so', async () => {
    const running = await startEmpty()
    const made = await running.ask('print.schedule', { pageSize: 'letter', ...paper })
    expect(made.pages).toBe(1)
    expect(printedText(made)).toContain('Ward block')
  })
})

describe('the schedule for a spreadsheet', () => {
  test.each(['xlsx', 'csv'] as const)('%s: every opening with every column, as on screen', async (form) => {
    const running = await start(temporaryFolder())
    const { rows, frame } = await running.schedule()
    const made = await running.ask('export.schedule', { form, ...everything })
    const sheet = await sheetOf(made)
    const at = sheet.findIndex((cells) => cells.includes('Mark'))
    const headings = sheet[at] ?? []
    expect(headings.toSorted()).toEqual(scheduleColumns.map((column) => column.heading).toSorted())
    const written = new Map(sheet.slice(at + 1).map((cells) => [cells[headings.indexOf('Mark')], cells]))
    expect(written.size).toBe(rows.length)
    const context = { units: frame.job.units, frame }
    for (const row of rows) {
      const cells = written.get(row.mark) ?? []
      for (const column of scheduleColumns) {
        const text = cells[headings.indexOf(column.heading)] ?? ''
        expect(text).toBe(column.text(row, context))
      }
    }
  })

  // Source: OWASP, "CSV Injection".
  test('text a spreadsheet could run is neutralised in CSV, and stored as text in a workbook', async () => {
    const running = await startInjected()
    const plain = ['=1+1', '+1234', '-5', '@SUM(1)', '=HYPERLINK("http://example.invalid","open")']
    const written = textOf(await running.ask('export.schedule', { form: 'csv', ...paper }))
    for (const text of plain) expect(written).toContain(`'${text.replaceAll('"', '""')}`)
    // No cell begins with what a spreadsheet runs.
    expect(written.replace(/^\ufeff/, '')).not.toMatch(/(^|[,\n])"?[=+\-@\t]/)
    const book = await running.ask('export.schedule', { form: 'xlsx', ...paper })
    const sheet = await sheetOf(book)
    const at = sheet.findIndex((cells) => cells.includes('Mark'))
    const column = sheet[at]?.indexOf('Notes') ?? -1
    expect(sheet.slice(at + 1).map((cells) => cells[column])).toEqual(plain)
    const parts = unzipSync(bytesOf(book))
    const sheets = Object.keys(parts).filter((name) => name.startsWith('xl/worksheets/'))
    expect(sheets).toHaveLength(1)
    // No formula element in any sheet.
    expect(sheets.map((name) => strFromU8(parts[name] ?? new Uint8Array())).join('')).not.toMatch(/<f[ >/]/)
  })

  test.each([
    ['xlsx', 'the demo', () => start(temporaryFolder())],
    ['csv', 'the demo', () => start(temporaryFolder())],
    ['xlsx', 'a job of formula text', startInjected],
    ['csv', 'a job of formula text', startInjected],
  ] as const)('%s of %s can be taken in again: everything the same', async (form, _, begin) => {
    const running = await begin()
    const made = await running.ask('export.schedule', { form, ...everything })
    const seen = await running.ask('intake.file', { fileName: made.fileName, base64: made.base64 })
    expect(seen.comparison.counts.added).toBe(0)
    expect(seen.comparison.counts.gone).toBe(0)
    const changes = seen.comparison.items.flatMap((item) =>
      item.changes.map((change) => [item.mark, change.field, change.was, change.becomes]),
    )
    expect(changes).toEqual([])
  })
})

describe('the text twin', () => {
  test('of the demo, with changes, attachments and a take-in: out, back, and out again the same to the byte', async () => {
    const running = await start(temporaryFolder())
    const row = await running.row('101')
    await running.change({
      does: 'set cells',
      how: 'type',
      unreadable: 'refuse',
      cells: [{ openingId: row.id, column: 'notes', text: 'Ålesund “ß” 𝄞 \u0007' }],
    })
    await running.change({ does: 'add building', name: 'Gate house' })
    await running.ask('change.undo', {})
    const made = await running.ask('twin.write', {})
    expect(made).toMatchObject({ fileName: 'Harrow Street Clinic.json', mediaType: 'application/json' })
    expect(textOf(await running.ask('twin.write', {}))).toBe(textOf(made))

    const state = await running.ask('twin.read', { fileName: made.fileName, base64: made.base64 })
    expect(state).toMatchObject({
      fileName: 'Harrow Street Clinic 2',
      jobName: 'Harrow Street Clinic',
      undoName: 'Set notes of 101',
      redoName: 'Add building Gate house',
      readOnly: null,
    })
    expect(textOf(await running.ask('twin.write', {}))).toBe(textOf(made))
    // The journal came with it: what was done before can still be taken back.
    await running.ask('change.undo', {})
    expect((await running.row('101')).notes).toBe('Open hours 07:00 to 19:00, Monday to Saturday.')
  })

  test('whatever its file is called, the job goes into the jobs folder', async () => {
    const running = await startEmpty()
    const { base64 } = await running.ask('twin.write', {})
    const state = await running.ask('twin.read', { fileName: '../../else where.json', base64 })
    expect(path.dirname(state.path)).toBe((await running.ask('shelf.read', {})).folder)
    expect(state.fileName).toBe('else where')
  })

  test.each([
    ['a letter', 'Dear all,'],
    ['other JSON', '{"rows":[]}'],
    ['a twin of a newer program', '{"format":"lintelbook job","version":99}'],
    ['nothing', ''],
  ])('%s is refused with a sentence, makes no file, and leaves the open job open', async (_, text) => {
    const running = await startEmpty()
    const before = await running.ask('shelf.read', {})
    const problem = await running.refusal('twin.read', { fileName: 'strange.json', base64: asBase64(text) })
    expect(problem).toMatchObject({ code: 'twin', sentence: expect.stringMatching(/^[^\n]{15,300}\.$/) })
    const after = await running.ask('shelf.read', {})
    expect(after.entries.map((entry) => entry.path)).toEqual(before.entries.map((entry) => entry.path))
    expect(after.open).toEqual(before.open)
  })
})

describe('finding', () => {
  test.each([
    ['101', 'opening', '101'],
    ['2604-1203', 'fitting', '101'],
    ['26041203', 'fitting', '101'],
    ['quiet strike', 'opening', '226'],
    ['waste contractor', 'opening', '138'],
  ])('%s finds the %s of %s first', async (words, kind, mark) => {
    const running = await start(temporaryFolder())
    const { hits } = await running.ask('find.words', { words, limit: 10 })
    expect(hits[0]).toMatchObject({ kind, title: expect.stringMatching(new RegExp(`^${mark}\\b`)) })
    expect(hits[0]?.openingId).toBe((await running.row(mark)).id)
  })

  test('what is nowhere finds nothing; a word that is everywhere finds no more than asked for', async () => {
    const running = await start(temporaryFolder())
    expect((await running.ask('find.words', { words: 'xyzzy', limit: 10 })).hits).toEqual([])
    expect((await running.ask('find.words', { words: '  ', limit: 10 })).hits).toEqual([])
    expect((await running.ask('find.words', { words: 'level', limit: 7 })).hits).toHaveLength(7)
  })
})
