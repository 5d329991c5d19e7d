// npm start, as a process: what it prints, what it serves, how it ends.
import { spawn, type ChildProcess } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import net from 'node:net'
import os from 'node:os'
import path from 'node:path'
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest'
import { build, buildStale, isStale, root } from '../../../electron/packaging/build.ts'
import { electronFile, lacksElectron, testWith } from '../../tools/skipping.ts'

const home = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-start-'))
const running: ChildProcess[] = []

interface Started {
  readonly child: ChildProcess
  readonly said: () => string
  readonly code: Promise<number | null>
}

function start(
  words: readonly string[],
  before: readonly string[] = [],
  environment: Readonly<Record<string, string>> = {},
): Started {
  const child = spawn(process.execPath, [...before, 'electron/packaging/start.ts', ...words], {
    cwd: root,
    env: { ...process.env, LINTELBOOK_HOME: home, ...environment },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  running.push(child)
  let text = ''
  child.stdout.on('data', (chunk: Buffer) => (text += chunk.toString('utf8')))
  child.stderr.on('data', (chunk: Buffer) => (text += chunk.toString('utf8')))
  return {
    child,
    said: () => text,
    code: new Promise((resolve) => child.once('close', resolve)),
  }
}

const addressIn = (text: string) => /http:\/\/127\.0\.0\.1:\d+\/#launch=[\w-]{43}/.exec(text)?.[0]

beforeAll(async () => {
  await buildStale()
})
afterEach(() => {
  for (const child of running.splice(0)) child.kill('SIGKILL')
})
afterAll(() => rmSync(home, { recursive: true, force: true }))

describe('npm start', () => {
  test.each(['SIGINT', 'SIGTERM'] as const)(
    'serves, prints its address and ends well at %s',
    async (signal) => {
      const { child, said, code } = start(['--no-window'])
      await vi.waitFor(() => expect(addressIn(said())).toBeDefined(), { timeout: 30_000 })
      const { origin } = new URL(addressIn(said()) ?? '')
      const page = await fetch(origin)
      expect(page.status).toBe(200)
      expect(await page.text()).toContain('<div id="root">')
      expect((await fetch(`${origin}/ask`, { method: 'POST', body: '{}' })).status).toBe(403)
      child.kill(signal)
      expect(await code).toBe(0)
      expect(said()).toContain('Lintelbook has ended.')
      await expect(fetch(origin)).rejects.toThrow(/fetch failed/)
    },
  )

  test('a port that is taken gets a sentence', async () => {
    const taken = net.createServer().listen(0, '127.0.0.1')
    await new Promise((resolve) => taken.once('listening', resolve))
    const address = taken.address()
    const port = typeof address === 'object' && address !== null ? address.port : 0
    const { said, code } = start(['--no-window', '--port', String(port)])
    expect(await code).toBe(1)
    expect(said()).toContain(`Port ${port} is taken.`)
    taken.close()
  })

  test.each([
    [['--widow'], 2],
    [['--help'], 0],
  ])('%j prints how it is used, code %i', async (words, expected) => {
    const { said, code } = start(words)
    expect(await code).toBe(expected)
    expect(said()).toContain('Usage: npm start')
  })
})

// A stand-in for the machine's browser, so that the window's life can be told from outside.
describe.skipIf(process.platform === 'win32')('the window in the browser of this machine', () => {
  const wordsFile = path.join(home, 'browser-words.json')
  const startWithBrowser = (stays: string) => {
    const file = path.join(home, 'browser-stand-in.mjs')
    const text = `#!${process.execPath}
      import { writeFileSync } from 'node:fs'
      writeFileSync(${JSON.stringify(wordsFile)}, JSON.stringify(process.argv.slice(2)))
      ${stays}`
    writeFileSync(file, text, { mode: 0o755 })
    rmSync(wordsFile, { force: true })
    return start(['--browser'], [], { CHROMIUM: file, DISPLAY: ':0' })
  }
  const browserIsOpen = () =>
    vi.waitFor(() => expect(existsSync(wordsFile) && readFileSync(wordsFile, 'utf8')).toBeTruthy(), {
      timeout: 30_000,
    })

  test('gets the address and a profile of its own, and ends with the program', async () => {
    const { child, said, code } = startWithBrowser("setInterval(() => {}, 1000)\nconsole.log('open')")
    await browserIsOpen()
    const words = JSON.parse(readFileSync(wordsFile, 'utf8')) as string[]
    expect(addressIn(words[0] ?? '')).toBeDefined()
    expect(words).toContain(`--user-data-dir=${path.join(home, 'browser')}`)
    // The address with its token is for the window alone.
    expect(addressIn(said())).toBeUndefined()
    child.kill('SIGINT')
    expect(await code).toBe(0)
  })

  test('ends the program when it is closed', async () => {
    const { said, code } = startWithBrowser('setTimeout(() => {}, 6000)')
    await browserIsOpen()
    expect(await code).toBe(0)
    expect(said()).toContain('Lintelbook has ended.')
  })
})

describe('the runtime', () => {
  const oldNode =
    'data:text/javascript,Object.defineProperty(process,"versions",{value:{node:"20.20.2",napi:"9"}})'

  test('one that is too old gets a sentence instead of a crash', async () => {
    const { said, code } = start([], ['--import', oldNode, 'electron/packaging/run.mjs'])
    expect(await code).toBe(1)
    expect(said()).toMatch(/^Lintelbook needs Node 22\.18 or newer; this is Node 20\.20\.2\./)
  })

  test('a good one runs the program with its words', async () => {
    const { said, code } = start(['--help'], ['electron/packaging/run.mjs'])
    expect(await code).toBe(0)
    expect(said()).toContain('Usage: npm start')
  })
})

describe('the build', () => {
  test('runs only when sources are newer', async () => {
    await build()
    expect(isStale()).toBe(false)
    expect(await buildStale()).toBe(false)
  })
})

testWith(lacksElectron(), 'the desktop window opens on its page in the real Electron', async () => {
  const { _electron } = await import('playwright-core')
  const isRoot = process.getuid?.() === 0
  const program = await _electron.launch({
    executablePath: electronFile() ?? '',
    args: [...(isRoot ? ['--no-sandbox'] : []), root],
    env: { ...process.env, LINTELBOOK_HOME: home } as Record<string, string>,
  })
  const page = await program.firstWindow()
  expect(page.url()).toBe('app://lintelbook/')
  const seen = await page.evaluate(() => ({
    bridge: Object.keys((globalThis as { lintelbook?: object }).lintelbook ?? {}),
    require: typeof (globalThis as { require?: unknown }).require,
  }))
  expect(seen).toEqual({ bridge: ['ask'], require: 'undefined' })
  await program.close()
})
