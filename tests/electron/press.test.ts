import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { labelStocks, type LabelSheet } from '../../core/documents/index.ts'
import {
  press,
  pressBook,
  pressLabels,
  type PressBookOptions,
  type PressOptions,
} from '../../electron/press.ts'
import { attachment, makersPart, openingPart, png, printBook, sampleBook } from '../renderer/paper/books.ts'
import { createdAt, print, schedule } from '../renderer/paper/printed.ts'

const folder = mkdtempSync(join(tmpdir(), 'lintelbook-press-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const options: PressOptions = { pageSize: 'letter', createdAt: createdAt.toISOString() }
const short = schedule([12])
const long = schedule(Array.from({ length: 20 }, () => 100))

describe('the press', () => {
  test('gives the bytes that paper writes on this thread', async () => {
    const pressed = await press(short, options)
    if (!pressed.ok) throw new Error(pressed.problem.sentence)
    const { bytes, written } = await print(short)
    expect(Buffer.from(pressed.bytes ?? []).equals(bytes)).toBe(true)
    expect(pressed).toMatchObject({ path: null, pages: written.pages, tagged: true, leftOutColumns: [] })
  })

  test('writes a file whole, tells how far it is, and leaves the main thread free', async () => {
    const path = join(folder, 'schedule.pdf')
    const heard: string[] = []
    let turns = 0
    const timer = setInterval(() => (turns += 1), 5)
    const pressed = await press(long, {
      ...options,
      path,
      onProgress: (done, of) => heard.push(`${done}/${of}`),
    })
    clearInterval(timer)
    if (!pressed.ok) throw new Error(pressed.problem.sentence)
    expect(pressed).toMatchObject({ bytes: null, path })
    expect(readFileSync(path).subarray(-6).toString()).toBe('%%EOF\n')
    expect(existsSync(`${path}.part`)).toBe(false)
    expect(heard.at(-1)).toBe(`${pressed.pages}/${pressed.pages}`)
    expect(turns).toBeGreaterThan(10)
  })

  test('stopped half way it leaves nothing', async () => {
    const path = join(folder, 'stopped.pdf')
    const stop = new AbortController()
    const pressed = await press(long, {
      ...options,
      path,
      signal: stop.signal,
      onProgress: () => stop.abort(),
    })
    expect(pressed).toMatchObject({ ok: false, problem: { code: 'cancelled' } })
    expect(existsSync(path)).toBe(false)
    expect(existsSync(`${path}.part`)).toBe(false)
  })

  test('stopped before it starts it does not start', async () => {
    expect(await press(short, { ...options, signal: AbortSignal.abort() })).toMatchObject({
      ok: false,
      problem: { code: 'cancelled' },
    })
  })

  test.each([
    ['a folder that is not there', 'none/schedule.pdf', /the folder does not exist/],
    ['a folder of that name', 'taken.pdf', /a folder of that name is in the way/],
  ])('%s is a sentence', async (_, name, sentence) => {
    mkdirSync(join(folder, 'taken.pdf', 'full'), { recursive: true })
    const pressed = await press(short, { ...options, path: join(folder, name) })
    expect(pressed).toMatchObject({ ok: false, problem: { code: 'cannot-write' } })
    if (!pressed.ok) expect(pressed.problem.sentence).toMatch(sentence)
    expect(existsSync(`${join(folder, name)}.part`)).toBe(false)
  })
})

describe('the press with a book', () => {
  const openings = (count: number) => ({
    *[Symbol.iterator]() {
      for (let at = 1; at <= count; at += 1) yield openingPart(String(at))
    },
  })
  const book = sampleBook({
    chapters: [
      { title: 'Opening pages', parts: openings(24) },
      { title: 'Makers’ documents', parts: [makersPart('sheet', 'Surface magnet')] },
    ],
    attachments: [attachment('sheet', 'magnet.pdf')],
  })
  let sheet: Uint8Array
  const read = async (key: string): Promise<Uint8Array | null> => {
    sheet ??= (await print(short)).bytes
    return key === 'sheet' ? sheet : key === 'door' ? png(40, 30, 2, 8) : null
  }
  const bookOptions: PressBookOptions = {
    pageSize: 'letter',
    createdAt: createdAt.toISOString(),
    copies: [{ copy: 'archive' }, { copy: 'reading' }],
    read,
  }

  test('makes both copies in one action, with the bytes that paper writes on this thread', async () => {
    const heard: string[] = []
    const pressed = await pressBook(book, {
      ...bookOptions,
      onProgress: ({ copy, chapter, chapterNumber, chapters }) =>
        heard.push(`${copy}: ${chapter} ${chapterNumber}/${chapters}`),
    })
    if (!pressed.ok) throw new Error(pressed.problem.sentence)
    expect(pressed.copies.map(({ copy, pages }) => [copy, pages])).toEqual([
      ['archive', 29],
      ['reading', 30],
    ])
    for (const { copy, bytes } of pressed.copies) {
      const here = await printBook(book, { copy, read })
      expect(Buffer.from(bytes ?? []).equals(here.bytes)).toBe(true)
    }
    expect(heard).toContain('archive: Opening pages 1/2')
    expect(heard).toContain('reading: Makers’ documents 2/2')
  })

  test('writes files whole, and leaves the main thread free', async () => {
    const [archive, reading] = [join(folder, 'archive.pdf'), join(folder, 'reading.pdf')]
    let turns = 0
    const timer = setInterval(() => (turns += 1), 5)
    const pressed = await pressBook(book, {
      ...bookOptions,
      copies: [
        { copy: 'archive', path: archive },
        { copy: 'reading', path: reading },
      ],
    })
    clearInterval(timer)
    expect(pressed.ok).toBe(true)
    for (const path of [archive, reading]) {
      expect(readFileSync(path).subarray(-6).toString()).toBe('%%EOF\n')
      expect(existsSync(`${path}.part`)).toBe(false)
    }
    expect(turns).toBeGreaterThan(10)
  })

  test('stopped in the second copy it leaves neither', async () => {
    const [archive, reading] = [join(folder, 'a.pdf'), join(folder, 'r.pdf')]
    const stop = new AbortController()
    const pressed = await pressBook(book, {
      ...bookOptions,
      copies: [
        { copy: 'archive', path: archive },
        { copy: 'reading', path: reading },
      ],
      signal: stop.signal,
      onProgress: ({ copy, pagesDone }) => {
        if (copy === 'reading' && pagesDone > 8) stop.abort()
      },
    })
    expect(pressed).toMatchObject({ ok: false, problem: { code: 'cancelled' } })
    for (const path of [archive, reading])
      for (const each of [path, `${path}.part`]) expect(existsSync(each)).toBe(false)
  })

  test('a folder that is not there is a sentence', async () => {
    const path = join(folder, 'none', 'binder.pdf')
    const pressed = await pressBook(book, { ...bookOptions, copies: [{ copy: 'archive', path }] })
    expect(pressed).toMatchObject({ ok: false, problem: { code: 'cannot-write' } })
    if (!pressed.ok)
      expect(pressed.problem.sentence).toBe(
        `The file ${path} could not be written: the folder does not exist.`,
      )
  })

  test('what its parts or its files throw is thrown', async () => {
    const broken = {
      [Symbol.iterator]: (): Iterator<never> => {
        throw new Error('no such opening')
      },
    }
    const parts = pressBook({ ...book, chapters: [{ title: 'Opening pages', parts: broken }] }, bookOptions)
    await expect(parts).rejects.toMatchObject({ cause: { message: 'no such opening' } })
    const files = pressBook(book, { ...bookOptions, read: () => Promise.reject(new Error('no such file')) })
    await expect(files).rejects.toMatchObject({ cause: { message: 'no such file' } })
  })

  test('photographs of a single document are asked for too', async () => {
    const pressed = await press(
      {
        facts: short.facts,
        blocks: [
          {
            form: 'photographs',
            title: null,
            photographs: [
              { key: 'door', caption: 'The door', textAlternative: 'The door' },
              { key: 'gone', caption: 'The frame', textAlternative: 'The frame' },
            ],
          },
        ],
      },
      { ...options, read },
    )
    if (!pressed.ok) throw new Error(pressed.problem.sentence)
    expect(pressed.problems).toEqual([
      'The photograph "The frame" is not shown: there is no file of that name.',
    ])
  })
})

test('the press makes labels', async () => {
  const [stock] = labelStocks
  if (stock === undefined) throw new Error('there are label stocks')
  const labels = Array.from({ length: 40 }, (_, at) => ({
    name: `${at}`,
    mark: `${at}`,
    lines: [],
    codeText: null,
  }))
  const sheet: LabelSheet = { title: 'Labels', jobName: 'Harrow Street Clinic', stock, startAt: 1, labels }
  const path = join(folder, 'labels.pdf')
  const pressed = await pressLabels(sheet, { createdAt: createdAt.toISOString(), path })
  expect(pressed).toMatchObject({ ok: true, pages: 2, warnings: [], bytes: null, path })
  expect(readFileSync(path).subarray(0, 5).toString()).toBe('%PDF-')
})
