// The program as a person has it: the real host with the real job files in a folder of its own, in a real Chromium.
import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { randomUUID } from 'node:crypto'
import type { Locator, Page } from 'playwright-core'
import { openProgram } from '../../electron/calls/index.ts'
import { startLocalHost } from '../../electron/local-host.ts'
import { buildStaleApart, builtPagesFolder } from '../../electron/packaging/build.ts'
import { readPages } from '../../electron/pages.ts'
import { startChromium, type TestBrowser } from '../tools/chromium.ts'

export interface Running {
  readonly page: Page
  readonly home: string
  readonly origin: string
  /** Console errors, page errors and what the content policy refused, since the start. */
  readonly trouble: readonly string[]
  readonly close: () => Promise<void>
}

export interface StartWith {
  readonly browser: TestBrowser
  /** Taken over from an earlier start; a fresh one when left out, which brings the demo job. */
  readonly home?: string
  readonly openPath?: string
  readonly who?: string
}

/** A browser with built pages at hand. */
export async function startBrowser(size?: { width: number; height: number }): Promise<TestBrowser> {
  await buildStaleApart()
  return startChromium(size)
}

/** Starts the program and waits for its first sheet. */
export async function startProgram({
  browser,
  home: given,
  openPath,
  who = 'Ada',
}: StartWith): Promise<Running> {
  const home = given ?? mkdtempSync(path.join(os.tmpdir(), 'lintelbook-e2e-'))
  const program = await openProgram({
    home,
    jobsFolder: path.join(home, 'jobs'),
    who,
    now: () => new Date().toISOString(),
    newId: randomUUID,
    checkAnswers: true,
    ...(openPath === undefined ? {} : { openPath }),
  })
  const trouble: string[] = []
  const host = await startLocalHost({
    answer: program.answer,
    pages: readPages(builtPagesFolder),
    log: (error) => trouble.push(`host: ${String(error)}`),
  })
  await browser.context.grantPermissions(['clipboard-read', 'clipboard-write'], { origin: host.origin })
  const page = await browser.context.newPage()
  page.setDefaultTimeout(10_000)
  page.on('console', (message) => {
    if (message.type() === 'error') trouble.push(message.text())
  })
  page.on('pageerror', (error) => trouble.push(String(error)))
  await page.addInitScript(() =>
    document.addEventListener('securitypolicyviolation', (event) =>
      console.error(`content policy: ${event.violatedDirective} ${event.blockedURI}`),
    ),
  )
  await page.goto(host.launchAddress)
  await page.waitForSelector('h1')
  await page.evaluate(() => document.fonts.ready)
  return {
    page,
    home,
    origin: host.origin,
    trouble,
    close: async () => {
      await page.close()
      await host.close()
      await program.close()
      if (given === undefined) rmSync(home, { recursive: true, force: true })
    },
  }
}

export const press = async (page: Page, ...keys: readonly string[]): Promise<void> => {
  for (const key of keys) await page.keyboard.press(key)
}

const exactly = (text: string): RegExp => new RegExp(`^${text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`)

export const rowOf = (page: Page, mark: string): Locator =>
  page.locator('.table-row').filter({ has: page.locator('.row-mark', { hasText: exactly(mark) }) })

async function columnOf(page: Page, heading: string): Promise<string> {
  const found = page.locator('.heading-cell', {
    has: page.locator('.heading-text', { hasText: exactly(heading) }),
  })
  return (await found.getAttribute('data-heading')) ?? ''
}

/** A cell that is drawn, by its opening's mark and its heading. */
export const cellOf = async (page: Page, mark: string, heading: string): Promise<Locator> =>
  rowOf(page, mark).locator(`[data-column="${await columnOf(page, heading)}"]`)

export const textOf = async (page: Page, mark: string, heading: string): Promise<string> =>
  (await (await cellOf(page, mark, heading)).textContent()) ?? ''

export const clickCell = async (page: Page, mark: string, heading: string): Promise<void> =>
  (await cellOf(page, mark, heading)).click()

/** Where the cursor stands, as "mark heading". */
export const standing = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const id = document.querySelector('.table')?.getAttribute('aria-activedescendant') ?? ''
    const cell = document.getElementById(id)
    const mark = cell?.closest('.table-row')?.querySelector('.row-mark')?.textContent ?? ''
    const column = cell?.getAttribute('data-column') ?? ''
    const heading = document.querySelector(`[data-heading="${column}"] .heading-text`)?.textContent ?? ''
    return `${mark} ${heading}`
  })

export const notice = (page: Page): Locator => page.locator('.frame-sheet > .notice')

/** The marks drawn, in their order. */
export const marksShown = (page: Page): Promise<string[]> =>
  page.locator('.table-row .row-mark').allTextContents()

/** Opens a menu of the top bar and gives it. */
export async function openMenu(page: Page, label: string): Promise<Locator> {
  await page.locator('.menu-opener', { hasText: exactly(label) }).click()
  const menu = page.locator('.menu-popover')
  await menu.waitFor()
  return menu
}

/** Opens a menu and takes an entry whose words begin so. */
export async function choose(page: Page, menu: string, entry: string | RegExp): Promise<void> {
  const open = await openMenu(page, menu)
  await open.locator('.menu-line', { hasText: entry }).first().click()
}

/** Takes one of the options of a choice. */
export async function pick(page: Page, label: string, option: string): Promise<void> {
  // What stands behind an open dialog cannot be pressed.
  const field = page.locator('.dialog .field, :root:not(:has(.dialog)) .field', { hasText: label })
  await field.locator('.choice-button').first().click()
  await page.locator('.choice-popover .menu-line', { hasText: exactly(option) }).click()
}

export const dialog = (page: Page): Locator => page.locator('.dialog')

/** Presses a button of the open dialog by its words. */
export const inDialog = (page: Page, button: string | RegExp): Promise<void> =>
  dialog(page).locator('.dialog-actions').getByRole('button', { name: button }).click()

export const goToSheet = (page: Page, label: string): Promise<void> =>
  page.locator('.side-entry', { hasText: label }).first().click()
