// The wiring as a project manager enters it: rows pasted, lengths filled, a terminal used twice found, lists printed.
import { AxeBuilder } from '@axe-core/playwright'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { TestBrowser } from '../tools/chromium.ts'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import {
  dialog,
  goToSheet,
  inDialog,
  notice,
  pick,
  press,
  startBrowser,
  startProgram,
  type Running,
} from './program.ts'

const rows = (page: Page): Locator => page.locator('.runs-table .table-row')
/** Columns are counted from 0 as they stand: run, from, to. */
const cell = (page: Page, run: string, column: number): Locator =>
  rows(page)
    .filter({ has: page.locator('.row-mark', { hasText: new RegExp(`^${run}$`) }) })
    .locator(`[data-column="${column}"]`)
const facts = (page: Page): Promise<string | null> =>
  page.locator('.runs-sheet .sheet-facts').first().textContent()

const pasted = Array.from({ length: 20 }, (_, index) =>
  ['', `PS4 output ${(index % 7) + 1}`, index % 2 === 0 ? '318 K1' : '331 M1', 'Lock feed 16/2'].join('\t'),
).join('\n')

describeWith(lacksBrowser(), 'runs and points', () => {
  let browser: TestBrowser
  let running: Running
  beforeAll(async () => {
    browser = await startBrowser()
    running = await startProgram({ browser })
    await goToSheet(running.page, 'Runs & points')
    await rows(running.page).first().waitFor()
  })
  afterAll(async () => {
    expect(running.trouble).toEqual([])
    await running.close()
    await browser.close()
  })

  test('twenty rows pasted below the last become runs, and their lengths are filled only when asked', async () => {
    const { page } = running
    const before = Number.parseInt((await facts(page)) ?? '', 10)
    await page.getByRole('button', { name: 'New run', exact: true }).click()
    await page.evaluate((text) => navigator.clipboard.writeText(text), pasted)
    await press(page, 'Control+v')
    await page.waitForFunction(
      (wanted) =>
        document.querySelector('.runs-sheet .sheet-facts')?.textContent?.startsWith(`${wanted} runs`),
      before + 20,
    )
    const fill = page.getByRole('button', { name: /^Fill \d+ lengths from the routes$/ })
    const count = Number.parseInt(((await fill.textContent()) ?? '').slice(5), 10)
    expect(count).toBeGreaterThanOrEqual(20)
    await fill.click()
    await page.getByRole('button', { name: 'No length is missing' }).waitFor()
    await press(page, 'Control+z')
    await page.getByRole('button', { name: `Fill ${count} lengths from the routes` }).waitFor()
    await press(page, 'Control+z')
    await page.waitForFunction(
      (wanted) =>
        document.querySelector('.runs-sheet .sheet-facts')?.textContent?.startsWith(`${wanted} runs`),
      before,
    )
  })

  test('an end nobody knows is refused in a sentence', async () => {
    const { page } = running
    await page.locator('.runs-table .table-scroller, .runs-table [role=grid]').first().focus()
    await press(page, 'Control+Home')
    await cell(page, '101 feed', 1).click()
    await page.keyboard.type('PS9 output 1')
    await press(page, 'Enter')
    await notice(page).waitFor()
    expect(await notice(page).textContent()).toContain(
      '101 feed, from: “PS9 output 1” is nothing a run ends at',
    )
    expect(await cell(page, '101 feed', 1).textContent()).toContain('PS1 output 2')
  })

  test('a terminal used twice leads to its run', async () => {
    const { page } = running
    await page.getByRole('button', { name: /terminals used twice$/ }).click()
    await page.getByRole('button', { name: 'Show the run' }).first().click()
    await page.locator('.conductors').waitFor()
    expect(await page.locator('.conductors h2').textContent()).toContain('reader: conductors')
    await page.getByRole('button', { name: /terminals used twice$/ }).click()
  })

  test('the loop of an input is told in every circumstance, with its working in the margin', async () => {
    const { page } = running
    await page.getByRole('button', { name: 'Points', exact: true }).click()
    await page
      .getByRole('button', { name: /^Show the loop of/ })
      .first()
      .click()
    const table = page.locator('.loop-table')
    await table.waitFor()
    expect(await table.textContent()).toContain('door shut')
    expect(await page.locator('.frame-margin').textContent()).toContain('ASTM B258')
  })

  test.each(['light', 'dark'] as const)('nothing for axe to complain about, %s', async (colorScheme) => {
    const { page } = running
    await page.emulateMedia({ colorScheme })
    for (const view of ['Runs', 'Points', 'Cables']) {
      await page.getByRole('button', { name: view, exact: true }).click()
      await page.waitForTimeout(300)
      const { violations } = await new AxeBuilder({ page }).analyze()
      expect([view, violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)]).toEqual([view, []])
    }
  })

  test('the cable list is printed', async () => {
    const { page } = running
    await page.getByRole('button', { name: 'Print', exact: true }).click()
    await dialog(page).waitFor()
    await pick(page, 'List', 'Cable list by supply and controller')
    const download = page.waitForEvent('download', { timeout: 60_000 })
    await inDialog(page, 'Make the PDF')
    expect((await download).suggestedFilename()).toBe('Harrow Street Clinic - cable list.pdf')
  })
})
