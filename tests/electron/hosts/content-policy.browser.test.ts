// The local host, its content policy and the bridge in a real Chromium.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { build } from 'esbuild'
import type { Page as BrowserPage } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest'
import { startLocalHost, type LocalHost } from '../../../electron/local-host.ts'
import { readPages, type Pages } from '../../../electron/pages.ts'
import { startChromium, type TestBrowser } from '../../tools/chromium.ts'
import { describeWith, lacksBrowser } from '../../tools/skipping.ts'

const pageText = `<!doctype html><html lang="en"><head><title>Waiting</title><link rel="icon" href="data:," /></head>
<body><div id="root"></div><script type="module" src="./page.js"></script></body></html>`

async function buildTestPage(folder: string): Promise<Pages> {
  await build({
    entryPoints: [path.join(import.meta.dirname, 'test-page.tsx')],
    outfile: path.join(folder, 'page.js'),
    bundle: true,
    format: 'esm',
    jsx: 'automatic',
    define: { 'process.env.NODE_ENV': '"production"' },
    logLevel: 'warning',
  })
  writeFileSync(path.join(folder, 'index.html'), pageText)
  return readPages(folder)
}

describeWith(lacksBrowser(), 'the local host in Chromium', () => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-page-'))
  let pages: Pages
  let browser: TestBrowser
  let host: LocalHost
  const asked: unknown[] = []

  beforeAll(async () => {
    mkdirSync(folder, { recursive: true })
    pages = await buildTestPage(folder)
    browser = await startChromium()
  })
  afterAll(async () => {
    await host.close()
    await browser.close()
    rmSync(folder, { recursive: true })
  })
  beforeEach(async () => {
    await host?.close()
    asked.length = 0
    host = await startLocalHost({
      pages,
      answer: async (raw) => {
        asked.push(raw)
        return { ok: true, value: { shelf: 'empty' } }
      },
    })
  })

  const open = async (address: string) => {
    const page = await browser.context.newPage()
    const complaints: string[] = []
    page.on('console', (message) => {
      if (message.type() !== 'log') complaints.push(message.text())
    })
    page.on('pageerror', (error) => complaints.push(error.message))
    await page.goto(address)
    return { page, complaints }
  }
  const titled = (page: BrowserPage, start: string) =>
    page.waitForFunction((words) => document.title.startsWith(words), start, { timeout: 10_000 })

  test('the page asks and is answered, and the token leaves the address', async () => {
    const { page } = await open(host.launchAddress)
    await titled(page, 'answered')
    expect(await page.title()).toBe('answered {"shelf":"empty"}')
    expect(asked).toEqual([{ call: 'shelf.read', input: {} }])
    expect(page.url()).toBe(`${host.origin}/`)
    await page.reload()
    await titled(page, 'answered')
    await page.close()
  })

  test('a launch address that was used is refused with words to start again', async () => {
    const first = await open(host.launchAddress)
    await titled(first.page, 'answered')
    const second = await open(host.launchAddress)
    await titled(second.page, 'refused')
    expect(await second.page.title()).toBe('refused start-again')
    expect(asked).toHaveLength(1)
    await first.page.close()
    await second.page.close()
  })

  test('a page without a token is refused', async () => {
    const { page } = await open(host.origin)
    await titled(page, 'refused start-again')
    expect(asked).toEqual([])
    await page.close()
  })

  test('a host that has ended is said plainly', async () => {
    const { page } = await open(host.launchAddress)
    await titled(page, 'answered')
    await host.close()
    await page.getByRole('button', { name: 'Ask' }).click()
    await titled(page, 'refused')
    expect(await page.title()).toBe('refused unreachable')
    await page.close()
  })

  // Fails when react-aria-components changes the style it writes: put the hash of Chromium's message into electron/guard.ts.
  test('dialogs and lists of react-aria-components make no complaint under the policy', async () => {
    const { page, complaints } = await open(host.launchAddress)
    await titled(page, 'answered')
    await page.getByRole('button', { name: 'Open' }).click()
    await page.getByRole('dialog').waitFor()
    await page.getByRole('button', { name: 'Close' }).click()
    await page.getByRole('button', { name: 'Hand' }).click()
    await page.getByRole('option', { name: 'RH', exact: true }).click()
    expect(await page.getByText('kinds of record').isVisible()).toBe(true)
    expect(complaints).toEqual([])
    // The style is really there, so that the test above looked at something.
    expect(await page.evaluate(() => document.head.querySelectorAll('style').length)).toBeGreaterThan(0)
    await page.close()
  })

  test('inline script, text as script and outside addresses are blocked', async () => {
    const { page } = await open(host.launchAddress)
    await titled(page, 'answered')
    const attempts = await page.evaluate(async () => {
      const outcome: Record<string, string> = {}
      const attempt = async (name: string, work: () => unknown) => {
        try {
          outcome[name] = String(await work())
        } catch (error) {
          outcome[name] = error instanceof Error ? error.name : 'refused'
        }
      }
      // A test's own words may be evaluated; what runs after this pause is held like the page's.
      await new Promise((resolve) => setTimeout(resolve, 0))
      await attempt('inline script', () => {
        const script = document.createElement('script')
        script.append('document.body.dataset.reached = "inline"')
        document.body.append(script)
        return document.body.dataset['reached'] ?? 'blocked'
      })
      await attempt('handler in markup', () => {
        document.body.setAttribute('onclick', 'document.body.dataset.reached = "handler"')
        document.body.click()
        return document.body.dataset['reached'] ?? 'blocked'
      })
      await attempt('text as markup', () => {
        document.createElement('div').innerHTML = '<b>x</b>'
        return 'ran'
      })
      await attempt('text as code', () => window.eval('1'))
      await attempt('fetch elsewhere', () => fetch('http://127.0.0.1:9/'))
      await attempt('frame', async () => {
        const frame = document.createElement('iframe')
        frame.src = '/'
        const refused = new Promise((resolve) =>
          document.addEventListener('securitypolicyviolation', ({ effectiveDirective }) => {
            if (effectiveDirective === 'frame-src') resolve('refused')
          }),
        )
        document.body.append(frame)
        return refused
      })
      return outcome
    })
    expect(attempts).toEqual({
      'inline script': expect.stringMatching(/blocked|TypeError/),
      'handler in markup': expect.stringMatching(/blocked|TypeError/),
      'text as markup': 'TypeError',
      'text as code': 'EvalError',
      'fetch elsewhere': 'TypeError',
      frame: 'refused',
    })
    await page.close()
  })

  test('a page from elsewhere cannot ask, read or frame', async () => {
    const stranger = await startLocalHost({
      answer: async () => ({ ok: true, value: null }),
      // The stranger's page has no policy of ours to hold it back.
      pages: new Map([['/', { bytes: new TextEncoder().encode('<h1>Elsewhere</h1>'), type: 'text/html' }]]),
    })
    const page = await browser.context.newPage()
    await page.route('**/*', async (route) => {
      if (!route.request().url().startsWith(stranger.origin)) return route.continue()
      await route.fulfill({ status: 200, contentType: 'text/html', body: '<h1>Elsewhere</h1>' })
    })
    await page.goto(stranger.origin)
    const outcomes = await page.evaluate(async (target) => {
      const tried = (options: RequestInit, path = '/ask') =>
        fetch(target + path, { method: 'POST', body: '{}', ...options }).then(
          (response) => `${response.type} ${response.status}`,
          () => 'refused',
        )
      return {
        simple: await tried({}),
        blind: await tried({ mode: 'no-cors' }),
        json: await tried({ headers: { 'content-type': 'application/json' } }),
        session: await tried({ mode: 'no-cors' }, '/session'),
        page: await tried({ method: 'GET', body: null }, '/'),
      }
    }, host.origin)
    expect(outcomes).toEqual({
      simple: 'refused',
      blind: 'refused',
      json: 'refused',
      session: 'refused',
      page: 'refused',
    })
    expect(asked).toEqual([])
    await page.close()
    await stranger.close()
  })

  test('a name of somebody else that leads to this machine (rebinding) gets nothing, not even the page', async () => {
    // Browsers lead every name under localhost to this machine, without asking anybody.
    const rebound = host.origin.replace('127.0.0.1', 'evil.localhost')
    const page = await browser.context.newPage()
    // The stranger's page comes from the stranger; from then on its name leads here.
    let isRebound = false
    await page.route('**/*', async (route) => {
      if (isRebound) return route.continue()
      await route.fulfill({ status: 200, contentType: 'text/html', body: '<h1>Elsewhere</h1>' })
    })
    await page.goto(rebound)
    isRebound = true
    const outcomes = await page.evaluate(async () => {
      const tried = (path: string) =>
        fetch(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: '{}' }).then(
          (response) => response.status,
          () => 0,
        )
      const pageItself = await fetch('/').then((response) => response.status)
      return [await tried('/ask'), await tried('/session'), pageItself]
    })
    // To the browser it is one origin, so it asks and reads; to the host it is a stranger's name.
    expect(outcomes).toEqual([421, 421, 421])
    expect(asked).toEqual([])
    await page.close()
  })
})
