import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { press, type PressOptions } from '../../electron/press.ts'
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
