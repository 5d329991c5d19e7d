// Finding one opening, and seeing only some of them, in an order and under headings of one's choice.
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import {
  choose,
  clickCell,
  dialog,
  goToSheet,
  inDialog,
  marksShown,
  pick,
  press,
  standing,
} from './program.ts'
import { withProgram } from './together.ts'

describeWith(lacksBrowser(), 'finding and arranging', () => {
  const stage = withProgram()
  const facts = (): Promise<string | null> => stage.page.locator('.sheet-facts').textContent()

  // From the demo job's records: fittings' serials and rooms' names.
  test.each([
    ['a room', 'pharmacy store', '118'],
    ['a serial', '2604-1203', '101'],
    ['a serial without its dash', '26041203', '101'],
    ['a mark', 'a103', 'A103'],
  ])('Ctrl+K finds %s and opens the page', async (_what, words, mark) => {
    const { page } = stage
    await press(page, 'Control+k')
    await page.locator('.find-field').fill(words)
    await expect.poll(() => page.locator('.find-entry .find-label').first().textContent()).toContain(mark)
    await press(page, 'Enter')
    await expect.poll(() => page.locator('h1').textContent()).toBe(mark)
    await press(page, 'Escape')
    await expect.poll(() => standing(page)).toMatch(new RegExp(`^${mark} `))
  })

  test('words, levels, typicals and questions narrow what is shown', async () => {
    const { page } = stage
    await press(page, 'Control+f')
    await page.keyboard.type('pharmacy')
    await expect.poll(facts).toMatch(/^\d of 148 openings/)
    expect(await marksShown(page)).toContain('117')
    await press(page, 'Escape')
    await expect.poll(facts).toMatch(/^148 openings/)

    await goToSheet(page, 'Roof')
    await expect.poll(facts).toMatch(/^7 of 148 openings/)
    expect((await marksShown(page)).every((mark) => mark.startsWith('R'))).toBe(true)
    await page.getByRole('button', { name: 'Show more than Roof' }).click()
    await expect.poll(facts).toMatch(/^148 openings/)

    await pick(page, 'Show', 'With open questions')
    await expect.poll(facts).toMatch(/^9 of 148 openings/)
    expect(await marksShown(page)).toEqual(['129', '138', '237', '242', '247', '319', '338', 'A105', 'A106'])
    await goToSheet(page, 'Schedule')
    await expect.poll(facts).toMatch(/^148 openings/)

    await goToSheet(page, 'Hold-open pair')
    await expect.poll(() => page.locator('h1').textContent()).toBe('Hold-open pair')
    await page.getByRole('button', { name: 'Show its openings' }).click()
    await expect.poll(facts).toMatch(/^8 of 148 openings/)
  })

  test('nothing that answers says so, and shows everything again', async () => {
    const { page } = stage
    await page.locator('.filter-words input').fill('no such thing')
    await page.getByRole('button', { name: 'Show everything' }).click()
    await expect.poll(facts).toMatch(/^148 openings/)
  })

  test('headings sort, up and down, in people’s order', async () => {
    const { page } = stage
    const heading = page.locator('.heading-cell', { hasText: 'Mark' })
    await heading.click()
    await expect.poll(() => heading.getAttribute('aria-sort')).toBe('descending')
    expect((await marksShown(page)).slice(0, 3)).toEqual(['147', '146', '145'])
    await heading.click()
    await expect
      .poll(async () => (await marksShown(page)).slice(0, 5))
      .toEqual(['101', '102', '103', '104A', '104B'])
  })

  test('groups by typical, in the typicals’ order, and stays so after a reload', async () => {
    const { page } = stage
    await pick(page, 'Group by', 'Typical')
    const first = page.locator('.table-group').first()
    await expect.poll(() => first.textContent()).toContain('Magnet + sensor')
    await page.waitForTimeout(600)
    await page.reload()
    await expect.poll(() => first.textContent()).toContain('Magnet + sensor')
  })

  test('columns come, go and move', async () => {
    const { page } = stage
    const headings = (): Promise<string[]> => page.locator('.heading-text').allTextContents()
    await choose(page, 'View', 'Columns')
    await dialog(page).locator('label', { hasText: 'Size' }).first().click()
    await dialog(page).getByRole('button', { name: 'Hand earlier' }).click()
    await inDialog(page, 'Done')
    await expect.poll(headings).not.toContain('Size')
    expect((await headings()).slice(0, 3)).toEqual(['Mark', 'Hand', 'Where'])
    await clickCell(page, '102', 'Hand')
    await choose(page, 'View', 'Columns')
    await inDialog(page, 'The usual ones')
    await inDialog(page, 'Done')
    await expect.poll(async () => (await headings()).slice(0, 4)).toEqual(['Mark', 'Where', 'Size', 'Hand'])
  })
})
