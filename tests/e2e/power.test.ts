// A project manager on the demo job: the two planted faults are found, explained, put right on screen and taken back.
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { goToSheet, notice, press } from './program.ts'
import { withProgram } from './together.ts'

const minute = 60_000

const margin = (page: Page): Promise<string> => page.locator('.frame-margin').innerText()

/** What axe finds, as short sentences. */
async function faults(page: Page): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze()
  return violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(' | ')}`,
  )
}

async function toPower(page: Page): Promise<void> {
  await goToSheet(page, 'Power')
  await page.waitForSelector('.power-page')
}

describeWith(lacksBrowser(), 'power', () => {
  const stage = withProgram()

  test('both faults are found, explained and put right in under a minute, and taken back', async () => {
    const { page } = stage
    const start = Date.now()
    await toPower(page)
    expect(await page.locator('.sheet-facts').first().textContent()).toContain('2 not met')
    const marks = await page.locator('.power-table tr.not-met .link').allTextContents()
    expect(marks).toEqual(['PS2', 'PS3'])

    // The battery, by the figure and its sum.
    await page.getByRole('button', { name: /^PS2: battery lasts/ }).hover()
    await expect.poll(() => margin(page)).toContain('Fit a battery of 18 Ah')
    expect(await margin(page)).toContain('Peukert')
    await page.locator('.power-table .link', { hasText: 'PS2' }).click()
    await page.getByRole('button', { name: /^Do it: Fit a battery of 18 Ah/ }).click()
    await expect.poll(() => notice(page).textContent()).toContain('Done: Give PS2 a battery of 18 Ah')

    // The long thin run, from its figure to its cable.
    await toPower(page)
    await page.getByRole('button', { name: /^18\.\d 210 M1, V, not met/ }).click()
    await page.getByRole('button', { name: /^Do it: Pull 210 feed in 14 AWG/ }).waitFor()
    await page.getByRole('button', { name: /^210 M1 at the end of the battery/ }).hover()
    await expect.poll(() => margin(page)).toContain('95 ft of 22 AWG stranded')
    await page.getByRole('button', { name: /^Do it: Pull 210 feed in 14 AWG/ }).click()
    await expect.poll(() => notice(page).textContent()).toContain('Done: Pull 210 feed in 14 AWG')
    await toPower(page)
    await expect
      .poll(() => page.locator('.sheet-facts').first().textContent())
      .toContain('nothing outside its limits')
    expect(Date.now() - start).toBeLessThan(minute)

    await press(page, 'Control+z')
    await expect.poll(() => page.locator('.sheet-facts').first().textContent()).toContain('1 not met')
    await press(page, 'Control+z')
    await expect.poll(() => page.locator('.sheet-facts').first().textContent()).toContain('2 not met')
  })

  test('an output is chosen and its device explained from the keyboard', async () => {
    const { page } = stage
    await toPower(page)
    await page.getByRole('button', { name: 'Outputs of PS3' }).focus()
    await press(page, 'Enter')
    await page.getByRole('button', { name: 'PS3 output 4', exact: true }).focus()
    await press(page, 'Enter')
    await page.getByRole('heading', { name: 'PS3 output 4: volts along the run' }).waitFor()
    const first = page.locator('.tree-table .explained').first()
    await first.focus()
    await expect.poll(() => margin(page)).toContain('PS3 output 4 gives')
  })

  test('a length that is typed changes the volts; one that cannot be read is refused in words', async () => {
    const { page } = stage
    await page.evaluate(() => {
      location.hash = '#/supply/supply-ps3'
    })
    await page.getByRole('button', { name: 'PS3 output 2', exact: true }).click()
    const length = page.getByLabel('Length of 210 feed')
    await length.fill('ten')
    await press(page, 'Enter')
    await expect.poll(() => notice(page).textContent()).toContain('expected feet, such as 95 ft')
    await length.fill('10')
    await press(page, 'Enter')
    await expect.poll(() => length.inputValue()).toBe('10 ft')
    await expect.poll(() => page.locator('.power-troubles').count()).toBe(0)
    await page.locator('.foot-button').click()
    await expect.poll(() => page.locator('.power-troubles').count()).toBe(1)
  })

  test.each(['light', 'dark'])('nothing for axe to complain about in the %s scheme', async (scheme) => {
    const { page } = stage
    await page.evaluate((name) => {
      document.documentElement.dataset['scheme'] = name
    }, scheme)
    await toPower(page)
    expect(await faults(page)).toEqual([])
    await page.evaluate(() => {
      location.hash = '#/supply/supply-ps3'
    })
    await page.waitForSelector('.tree-table')
    expect(await faults(page)).toEqual([])
  })
})
