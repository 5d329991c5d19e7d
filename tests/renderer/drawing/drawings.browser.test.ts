// The painted drawings in Chromium. With LINTELBOOK_LOOK set to a folder, pictures of both schemes are left there.
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { AddressInfo } from 'node:net'
import { AxeBuilder } from '@axe-core/playwright'
import react from '@vitejs/plugin-react'
import { chromium, type BrowserContext, type Page } from 'playwright-core'
import { build, preview, type PreviewServer } from 'vite'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { gateMarkName } from '../../../renderer/drawing/index.ts'
import { elevations, gates } from './samples.ts'

const CHROMIUM = process.env['CHROMIUM'] ?? '/usr/bin/chromium'
const LOOK = process.env['LINTELBOOK_LOOK']

let folder: string
let server: PreviewServer
let context: BrowserContext
let page: Page

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'lintelbook-drawings-'))
  const site = { outDir: join(folder, 'site'), emptyOutDir: true, assetsInlineLimit: 0 }
  const root = resolve(import.meta.dirname, 'page')
  await build({ configFile: false, root, logLevel: 'error', plugins: [react()], build: site })
  server = await preview({
    configFile: false,
    root,
    logLevel: 'error',
    build: site,
    preview: { port: 0, host: '127.0.0.1' },
  })
  context = await chromium.launchPersistentContext(join(folder, 'profile'), {
    executablePath: CHROMIUM,
    args: ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking'],
    viewport: { width: 1440, height: 900 },
  })
  page = await context.newPage()
  const { port } = server.httpServer.address() as AddressInfo
  await page.goto(`http://127.0.0.1:${port}/`)
  await page.waitForSelector('.doors svg')
  await page.evaluate(() => document.fonts.ready)
}, 120_000)

afterAll(async () => {
  await context.close()
  await server.close()
  await rm(folder, { recursive: true, force: true })
})

test('every drawing is an image with its name, or hidden from ears', async () => {
  for (const gate of gates)
    await expect
      .soft(page.getByRole('img', { name: gateMarkName(gate), exact: true }).count())
      .resolves.toBe(1)
  await expect(page.locator('.doors svg[role=img]').count()).resolves.toBe(elevations.length)
  await expect(page.locator('svg:not([role=img]):not([aria-hidden=true])').count()).resolves.toBe(0)
})

test.each(['light', 'dark'])('keeps to the colours of the %s scheme and to its own size', async (scheme) => {
  await page.evaluate((name) => document.documentElement.setAttribute('data-scheme', name), scheme)
  const wrong = await page.evaluate(() => {
    const style = getComputedStyle(document.documentElement)
    const probe = document.createElement('span')
    document.body.append(probe)
    const known = ['ink', 'soft', 'rule', 'blue', 'brass', 'red', 'sheet'].map((name) => {
      probe.style.color = style.getPropertyValue(`--${name}`)
      return getComputedStyle(probe).color
    })
    probe.remove()
    return [...document.querySelectorAll('svg *')].flatMap((element) => {
      const { fill, stroke } = getComputedStyle(element)
      const painted = [element.getAttribute('fill') === null ? 'none' : fill, stroke]
      return painted.filter((colour) => colour !== 'none' && !known.includes(colour))
    })
  })
  expect(wrong).toEqual([])
  if (LOOK !== undefined)
    await page.screenshot({ path: join(LOOK, `drawings-${scheme}.png`), fullPage: true })
})

test('no text of a drawing is wider than the room it was given, nor outside the drawing', async () => {
  const outside = await page.evaluate(() =>
    [...document.querySelectorAll('svg')].flatMap((svg) => {
      const whole = svg.getBoundingClientRect()
      return [...svg.querySelectorAll('text')]
        .filter((text) => {
          const box = text.getBoundingClientRect()
          return box.left < whole.left - 0.5 || box.right > whole.right + 0.5
        })
        .map((text) => text.textContent)
    }),
  )
  expect(outside).toEqual([])
})

test('nothing for a checker of accessibility to object to', async () => {
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(({ id }) => id)).toEqual([])
})
