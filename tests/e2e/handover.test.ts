// The person who assembles the binder: what is open, a seal that asks first, its files, what differs afterwards.
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { dialog, goToSheet, inDialog, notice, press } from './program.ts'
import { withProgram } from './together.ts'

describeWith(lacksBrowser(), 'handover', () => {
  const stage = withProgram()

  test('a handover issue is sealed from the sheet, named by itself, and its files stay at hand', async () => {
    const { page } = stage
    const show = (view: string): Promise<void> => page.locator('.show-choice', { hasText: view }).click()
    await goToSheet(page, 'Handover')
    await page.waitForSelector('.standing-table')
    await expect.poll(() => page.locator('.standing-table tr.stop').count()).toBe(2)

    // Few chapters, so that the seal is quick: the choice is kept for the issue.
    await show('Binder')
    for (const title of ['Openings', 'Cables and points', 'Power and batteries', 'Riser'])
      await page.locator('.chapter-list .checkbox', { hasText: title }).click()

    // Who signs comes from the contacts, not from typing.
    await show('Signatures')
    await page.getByLabel('Name who signs for acceptance').selectOption({ index: 1 })
    await expect.poll(() => page.locator('section[aria-label="Acceptance"] tbody tr').count()).toBe(1)

    await page.getByRole('button', { name: 'Seal an issue…' }).click()
    await inDialog(page, 'Seal')
    await expect.poll(() => dialog(page).textContent()).toContain('1 opening can trap someone.')
    await inDialog(page, 'Seal even so')
    await page.waitForSelector('.binder-strip.done', { timeout: 60_000 })
    await expect.poll(() => notice(page).textContent()).toContain('Handover issue 1 is sealed')

    await show('Issues')
    await expect.poll(() => page.locator('section[aria-label="Handover issue 1"] tbody tr').count()).toBe(7)
    await show('What differs')
    await expect
      .poll(() => page.locator('.page').textContent())
      .toContain('Nothing differs from Handover issue 1')

    await press(page, 'Control+z')
    await show('Issues')
    await expect.poll(() => page.locator('section[aria-label="Handover issue 1"]').count()).toBe(0)
  })

  test('the words of a label, pasted into the find box, open the page of their opening', async () => {
    const { page } = stage
    await press(page, 'Control+k')
    await page.locator('.find-field').fill('Lintelbook HSC-26 opening 118')
    await expect.poll(() => page.locator('.find-entry .find-label').first().textContent()).toBe('118')
    await press(page, 'Enter')
    await expect.poll(() => page.locator('h1').textContent()).toBe('118')
  })
})
