// The call years later: from the start of the program to the right page, the visit, and what is left of it.
import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { expect, test } from 'vitest'
import type { Page } from 'playwright-core'
import { openProgram } from '../../electron/calls/index.ts'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { cutOff, faults } from './looking.ts'
import { choose, goToSheet, press } from './program.ts'
import { withProgram } from './together.ts'

/** A home whose shelf has the demo job and another one, which was open last. */
async function homeWithTwoJobs(): Promise<string> {
  const home = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-calls-'))
  const program = await openProgram({
    home,
    jobsFolder: path.join(home, 'jobs'),
    who: 'Ada',
    now: () => new Date().toISOString(),
    newId: randomUUID,
  })
  const ask = async (call: string, input: unknown): Promise<void> => {
    const answer = await program.answer({ call, input })
    if (!answer.ok) throw new Error(answer.problem.sentence)
  }
  await ask('job.make', { name: 'Ward block' })
  await ask('library.refresh', {})
  for (;;) {
    const answer = await program.answer({ call: 'library.read', input: {} })
    if (answer.ok && !(answer.value as { refreshing: boolean }).refreshing) break
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
  await program.close()
  return home
}

const first = (page: Page): Promise<string | null> =>
  page
    .locator('.find-list:not(.waiting) .find-label')
    .first()
    .textContent({ timeout: 500 })
    .catch(() => null)

const toCall = async (page: Page, words: string): Promise<void> => {
  await goToSheet(page, 'Service')
  const field = page.locator('.shelf-search .find-field')
  await field.fill(words)
  await page.locator('.shelf-found:not(.waiting) .find-entry').first().waitFor()
  await press(page, 'Enter')
  await page.waitForSelector('.call-page')
}

/** What callers say, and the opening of the demo job they mean: as in tests/electron/library/callers.test.ts. */
const callers: readonly (readonly [string, string])[] = [
  ['the store room door on three will not lock again', '324'],
  ['hsc 118', '118'],
  ['pharmasy store', '118'],
  ['2604-1203', '101'],
  ['sounder too loud', '203'],
  ['annexe entrance', 'A101'],
  ['controlled medicines', '118'],
  ['clinic two oh four', '204'],
  ['104A contact', '104A'],
  ['no manual release out of use', '210'],
]

describeWith(lacksBrowser(), 'a call', () => {
  const stage = withProgram()

  test('from the start of the program to the page, in ten seconds and six keystrokes besides the words', async () => {
    const home = await homeWithTwoJobs()
    for (const [words, mark] of callers) {
      const began = performance.now()
      const { page, close } = await stage.another({ home })
      let keys = 0
      const key = async (name: string): Promise<void> => {
        keys += 1
        await press(page, name)
      }
      await key('Control+k')
      await page.keyboard.type(words)
      await expect.poll(() => first(page)).toMatch(new RegExp(`^${mark}\\b`))
      await key('Enter')
      await expect.poll(() => page.locator('.call-page h1').textContent(), { timeout: 10_000 }).toBe(mark)
      await page.waitForSelector('.call-facts')
      const seconds = (performance.now() - began) / 1000
      expect(seconds, words).toBeLessThan(10)
      expect(keys, words).toBeLessThanOrEqual(6)
      console.log(`“${words}”: ${mark} after ${seconds.toFixed(1)} s and ${keys} keystrokes`)
      // The next start finds the other job open again.
      await choose(page, 'Job', 'Close and go to the shelf')
      await page.locator('.shelf .link', { hasText: 'Ward block' }).click()
      await page.waitForSelector('.schedule-sheet')
      await close()
    }
    rmSync(home, { recursive: true, force: true })
  }, 180_000)

  test('what was found in another job is open for reading, until one asks for more', async () => {
    const home = await homeWithTwoJobs()
    const { page, close } = await stage.another({ home })
    await toCall(page, 'store room on three')
    await expect.poll(() => page.locator('h1').textContent()).toBe('324')
    expect(await page.locator('.job-fact').allTextContents()).toContain('Reading only')
    await press(page, 'v')
    expect(await page.locator('.visit.open').count()).toBe(0)
    await page.locator('.call-page').getByRole('button', { name: 'Open for changes' }).click()
    await page.getByRole('button', { name: 'Start a visit' }).waitFor()
    expect(await page.locator('h1').textContent()).toBe('324')
    await close()
    rmSync(home, { recursive: true, force: true })
  }, 60_000)

  test('the desk reads what to check first, starts a visit, notes the time as found, changes a part and closes', async () => {
    const { page } = stage
    await toCall(page, 'the pharmacy store will not lock again')
    await expect.poll(() => page.locator('h1').textContent()).toBe('118')
    // The symptom is the caller's own, and the list begins with what is known to differ.
    expect(await page.getByRole('radio', { name: 'Will not lock' }).isChecked()).toBe(true)
    expect(await page.locator('.check').first().textContent()).toContain('Hold time of S1')
    expect(await page.locator('.call-facts').textContent()).toContain('PS2 output 1, fuse 3 A')

    await press(page, 'v')
    const visit = page.locator('.visit.open')
    await visit.waitFor()
    await visit.getByLabel('Found, open visit').fill('S1 sees the fan')
    await press(page, 'Tab')
    await visit.locator('.field', { hasText: 'Setting as found' }).locator('.choice-button').click()
    await page.locator('.choice-popover .menu-line', { hasText: 'S1 Hold time' }).click()
    await visit.getByLabel('Hold time of S1, as found on this visit').fill('10 s')
    await press(page, 'Enter')
    await expect.poll(() => visit.locator('.visit-facts').textContent()).toContain('S1 Hold time: found 10 s')
    await visit.getByRole('button', { name: 'Change a part' }).click()
    await visit.locator('.boxed .choice-button').first().click()
    await page.locator('.choice-popover .menu-line', { hasText: /^S1,/ }).click()
    await visit.getByLabel(/^New serial/).fill('2611-0999')
    await press(page, 'Enter')
    await expect.poll(() => visit.locator('.visit-facts').textContent()).toContain('2608-1190 to 2611-0999')
    await visit.getByRole('button', { name: 'Close the visit' }).click()
    await expect.poll(() => page.locator('.visit.open').count()).toBe(0)

    const differs = page.locator('section[aria-label="What differs from handover"] tbody tr')
    await expect
      .poll(() => differs.allTextContents())
      .toEqual(['S1Hold time2 s10 s', 'S1serial2608-11902611-0999'])
    expect(await page.locator('.call-facts').textContent()).toContain('S1 sees the fan')
    await page.locator('.foot-button', { hasText: 'Undo: Close the visit at 118' }).click()
    await page.locator('.visit.open').waitFor()
  })

  test('every symptom is reached by keyboard, and the margin says why a line stands there', async () => {
    const { page } = stage
    await toCall(page, 'pharmacy store')
    await page.getByRole('radio').first().focus()
    await press(page, 'ArrowRight')
    expect(await page.getByRole('radio', { name: 'Will not release' }).isChecked()).toBe(true)
    await expect
      .poll(() => page.locator('.check-caution').first().textContent())
      .toContain('may not be able to get out')
    for (let tabs = 0; tabs < 2; tabs += 1) await press(page, 'Tab')
    await expect.poll(() => page.locator('.frame-margin').textContent()).toContain('If it is otherwise:')
  })

  test('a task is added, done and taken off the list of what is due', async () => {
    const { page } = stage
    await goToSheet(page, 'Service')
    await page.getByLabel('New task').fill('Test the manual releases')
    await press(page, 'Enter')
    const task = page.locator('section[aria-label="Maintenance tasks"] tbody tr')
    await expect.poll(() => task.count()).toBe(1)
    await expect
      .poll(() => page.locator('.due').textContent())
      .toContain('When is "Test the manual releases" next due?')
    await page.getByRole('button', { name: 'Done today: Test the manual releases' }).click()
    await expect.poll(() => task.textContent()).toMatch(/12 months20\d\d-\d\d-\d\d/)
    await page.getByRole('button', { name: 'Remove Test the manual releases' }).click()
    await expect.poll(() => task.count()).toBe(0)
  })

  test.each(['light', 'dark'])('nothing for axe to complain about in the %s scheme', async (scheme) => {
    const { page } = stage
    await page.evaluate((name) => {
      document.documentElement.dataset['scheme'] = name
    }, scheme)
    await goToSheet(page, 'Service')
    await page.locator('.shelf-search .find-field').fill('pharmacy')
    await page.locator('.shelf-found:not(.waiting) .find-entry').first().waitFor()
    expect(await faults(page)).toEqual([])
    await toCall(page, 'pharmacy store will not lock')
    await press(page, 'v')
    await page.locator('.visit.open').waitFor()
    await page.locator('.check-look').first().hover()
    expect(await faults(page)).toEqual([])
    expect(await cutOff(page)).toEqual([])
    await choose(page, 'Job', 'Close and go to the shelf')
    await page.waitForSelector('.shelf')
    await page.locator('section[aria-label="Folders searched"]').waitFor()
    expect(await faults(page)).toEqual([])
  })
})
