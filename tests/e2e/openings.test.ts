// Openings come, go and move; typicals reach their openings; every one of these is taken back.
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
  rowOf,
  standing,
  textOf,
} from './program.ts'
import { expectText, withProgram } from './together.ts'

describeWith(lacksBrowser(), 'openings and typicals', () => {
  const stage = withProgram()
  const facts = (): Promise<string | null> => stage.page.locator('.sheet-facts').first().textContent()
  const takeBack = async (): Promise<void> => {
    await stage.page.locator('.table').focus()
    await press(stage.page, 'Control+z')
  }
  const shows = (mark: string, count: number) =>
    expect.poll(() => rowOf(stage.page, mark).count(), { timeout: 5000 }).toBe(count)

  test('are added after the last of their level', async () => {
    const { page } = stage
    await clickCell(page, '102', 'Where')
    await choose(page, 'Change', 'Add openings')
    await dialog(page).getByLabel('How many').fill('3')
    await press(page, 'Enter')
    await expect.poll(facts).toMatch(/^151 openings/)
    await expect.poll(() => standing(page)).toBe('148 Mark')
    expect(await textOf(page, '150', 'Typical')).toBe('')
    await takeBack()
    await expect.poll(facts).toMatch(/^148 openings/)
    await press(page, 'Control+y')
    await expect.poll(facts).toMatch(/^151 openings/)
  })

  test('are duplicated with everything that stands in their row', async () => {
    const { page } = stage
    await clickCell(page, '103', 'Where')
    await press(page, 'Control+Shift+D')
    await expect.poll(facts).toMatch(/^149 openings/)
    const [mark = ''] = (await standing(page)).split(' ')
    expect(mark).not.toBe('103')
    for (const heading of ['Size', 'Hand', 'Typical'])
      expect(await textOf(page, mark, heading)).toBe(await textOf(page, '103', heading))
    await takeBack()
    await expect.poll(facts).toMatch(/^148 openings/)
  })

  test('are renumbered in the order shown', async () => {
    const { page } = stage
    await clickCell(page, '105', 'Where')
    await press(page, 'Shift+ArrowDown', 'Shift+ArrowDown')
    await choose(page, 'Change', 'Renumber')
    await dialog(page).getByLabel('First mark').fill('X7')
    expect(await dialog(page).locator('.dialog-list li').allTextContents()).toEqual([
      '105 becomes X7',
      '106 becomes X8',
      '107 becomes X9',
    ])
    await inDialog(page, 'Renumber')
    await shows('X8', 1)
    await takeBack()
    await shows('106', 1)
  })

  test('are moved to another level', async () => {
    const { page } = stage
    await clickCell(page, '105', 'Where')
    await choose(page, 'Change', 'Move')
    await pick(page, 'Level', 'Main building, Roof')
    await inDialog(page, 'Move')
    await expect.poll(() => page.locator('.side-entry', { hasText: 'Roof' }).textContent()).toContain('8')
    await takeBack()
    await expect.poll(() => page.locator('.side-entry', { hasText: 'Roof' }).textContent()).toContain('7')
  })

  test('are removed after a question that names them', async () => {
    const { page } = stage
    await clickCell(page, '105', 'Where')
    await press(page, 'Shift+ArrowDown')
    await choose(page, 'Change', 'Remove')
    expect(await dialog(page).textContent()).toContain('105, 106')
    await inDialog(page, 'Remove 2 openings')
    await expect.poll(facts).toMatch(/^146 openings/)
    expect(await marksShown(page)).not.toContain('105')
    await takeBack()
    await expect.poll(facts).toMatch(/^148 openings/)
    await shows('105', 1)
  })

  test('follow a new typical that begins like another', async () => {
    const { page } = stage
    await choose(page, 'Change', 'Add a typical')
    await dialog(page).getByLabel('Name').fill('Strike, kitchen')
    await pick(page, 'Begin like', 'Strike, secure')
    await inDialog(page, 'Add')
    await page.locator('.side-entry', { hasText: 'Strike, kitchen' }).waitFor()
    await goToSheet(page, 'Schedule')
    await clickCell(page, '105', 'Typical')
    await page.keyboard.type('strike, kit')
    await press(page, 'Enter')
    await expectText(page, '105', 'Typical', 'Strike, kitchen')
  })

  test('a change of the typical reaches its openings, and one that differs on purpose stays and shows', async () => {
    const { page } = stage
    // Without the columns that are worked out, who furnishes stands in view.
    await choose(page, 'View', 'What each doorway does')
    await press(page, 'Escape')
    // 224 furnishes its storeroom hardware otherwise: see the demo job.
    await goToSheet(page, 'Storeroom')
    await expect.poll(() => page.locator('.frame-margin').textContent()).toContain('224')
    await page.locator('.typical-page').getByLabel('Furnished by', { exact: true }).fill('Owner')
    await press(page, 'Enter')
    await page.getByRole('button', { name: 'Show its openings' }).click()
    await expectText(page, '136', 'Furnished by', 'Owner')
    await expectText(page, '224', 'Furnished by', 'Door supplier')
    const own = rowOf(page, '224').locator('.corner.own')
    expect(await own.count()).toBe(1)
    await takeBack()
    await expectText(page, '136', 'Furnished by', 'Div 08')
  })

  test('a fitting left out of one opening marks it as different', async () => {
    const { page } = stage
    await clickCell(page, '102', 'Where')
    await press(page, ' ')
    await page
      .getByRole('button', { name: /^Leave out here/ })
      .first()
      .click()
    await page.locator('tr.left-out').waitFor()
    await press(page, 'Escape')
    await expect.poll(() => rowOf(page, '102').locator('.corner.own').count()).toBe(1)
    await takeBack()
    await expect.poll(() => rowOf(page, '102').locator('.corner.own').count()).toBe(0)
  })
})
