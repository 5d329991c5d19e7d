import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { createServer, type Server } from 'node:http'
import { tmpdir } from 'node:os'
import { extname, join, resolve } from 'node:path'
import type { AddressInfo } from 'node:net'
import react from '@vitejs/plugin-react'
import { chromium, type BrowserContext, type Page } from 'playwright-core'
import { build } from 'vite'

const CHROMIUM = process.env['CHROMIUM'] ?? '/usr/bin/chromium'
const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** As the program's own hosts send it; the hash is that of the one style the menus' library writes into the page. */
export const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self' 'sha256-38RhXrc7EdReTKsOm23ZPOCUgniTUUcjky8QOOrQx6o='",
  "font-src 'self'",
  "img-src 'self' data:",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.ttf': 'font/ttf',
}

const serve = async (folder: string): Promise<Server> => {
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://localhost').pathname
    const file = join(folder, path === '/' ? 'index.html' : path)
    readFile(file).then(
      (bytes) => {
        response.setHeader('Content-Type', TYPES[extname(file)] ?? 'application/octet-stream')
        response.setHeader('Content-Security-Policy', CONTENT_POLICY)
        response.end(bytes)
      },
      () => {
        response.statusCode = 404
        response.end()
      },
    )
  })
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  return server
}

export interface Parts {
  readonly context: BrowserContext
  /** A fresh page; `trouble` gathers errors and what the content policy refused. */
  readonly open: (query?: string) => Promise<{ readonly page: Page; readonly trouble: readonly string[] }>
  readonly close: () => Promise<void>
}

/** Builds the page of parts into a temporary folder, serves it on loopback and starts Chromium with a fresh profile. */
export const openParts = async (): Promise<Parts> => {
  const folder = await mkdtemp(join(tmpdir(), 'lintelbook-parts-'))
  await build({
    configFile: false,
    root: resolve(import.meta.dirname),
    logLevel: 'error',
    plugins: [react()],
    build: { outDir: join(folder, 'site'), emptyOutDir: true, assetsInlineLimit: 0 },
  })
  const server = await serve(join(folder, 'site'))
  const { port } = server.address() as AddressInfo
  const origin = `http://127.0.0.1:${port}`
  const context = await chromium.launchPersistentContext(join(folder, 'profile'), {
    executablePath: CHROMIUM,
    args: FLAGS,
    viewport: { width: 1440, height: 900 },
    permissions: ['clipboard-read', 'clipboard-write'],
  })
  return {
    context,
    open: async (query = '') => {
      const page = await context.newPage()
      const trouble: string[] = []
      page.on('console', (message) => {
        if (message.type() === 'error') trouble.push(message.text())
      })
      page.on('pageerror', (error) => trouble.push(String(error)))
      await page.goto(`${origin}/${query}`)
      await page.waitForSelector('.table-heading .heading-cell')
      await page.evaluate(() => document.fonts.ready)
      return { page, trouble }
    },
    close: async () => {
      await context.close()
      server.close()
      await rm(folder, { recursive: true, force: true })
    },
  }
}
