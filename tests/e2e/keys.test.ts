// A day at the keyboard: moving, typing, taking back, filling, copying and pasting, pages of openings.
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { clickCell, notice, openMenu, press, standing, textOf } from './program.ts'
import { expectText, withProgram } from './together.ts'

describeWith(lacksBrowser(), 'the schedule by keyboard', () => {
  const stage = withProgram()

  const clipboard = (): Promise<string> => stage.page.evaluate(() => navigator.clipboard.readText())
  const putOnClipboard = (text: string): Promise<void> =>
    stage.page.evaluate((value) => navigator.clipboard.writeText(value), text)

  test('the first start shows the demo job, with the cursor in its schedule', async () => {
    const { page } = stage
    expect(await page.title()).toBe('Harrow Street Clinic · Lintelbook')
    expect(await page.locator('.sheet-facts').textContent()).toContain('148 openings')
    expect(await page.evaluate(() => location.hash)).not.toContain('launch')
    expect(await standing(page)).toBe('101 Mark')
    await press(page, 'ArrowDown', 'ArrowRight')
    expect(await standing(page)).toBe('102 Where')
    await press(page, 'Control+End')
    expect(await standing(page)).toMatch(/^A106 /)
  })

  test('a hand is typed, Enter goes down, and undo and redo say its name', async () => {
    const { page } = stage
    await clickCell(page, '102', 'Hand')
    await page.keyboard.type('lh')
    await press(page, 'Enter')
    expect(await standing(page)).toBe('103 Hand')
    await expectText(page, '102', 'Hand', 'LH')
    const menu = await openMenu(page, 'Change')
    expect(await menu.locator('.menu-line').first().textContent()).toContain('Undo: Set hand of 102')
    await press(page, 'Escape')
    await page.locator('.table').focus()
    await press(page, 'Control+z')
    await expectText(page, '102', 'Hand', 'RH')
    await expect.poll(() => notice(page).textContent()).toContain('Taken back: Set hand of 102.')
    const again = await openMenu(page, 'Change')
    expect(await again.locator('.menu-line').nth(1).textContent()).toContain('Redo: Set hand of 102')
    await press(page, 'Escape')
    await page.locator('.table').focus()
    await press(page, 'Control+y')
    await expectText(page, '102', 'Hand', 'LH')
  })

  test('a hand that is none is refused with row, field and what was expected', async () => {
    const { page } = stage
    await clickCell(page, '105', 'Hand')
    await page.keyboard.type('QQ')
    await press(page, 'Enter')
    await expect
      .poll(() => notice(page).textContent())
      .toContain('105, hand: "QQ" is not a hand; expected LH, RH, LHR or RHR')
    await expectText(page, '105', 'Hand', 'LH')
  })

  test('fill down reaches the selected rows as one change', async () => {
    const { page } = stage
    await clickCell(page, '104B', 'Hand')
    await press(page, 'Shift+ArrowDown', 'Shift+ArrowDown', 'Shift+ArrowDown', 'Control+d')
    for (const mark of ['105', '106', '107']) await expectText(page, mark, 'Hand', 'LH')
    await press(page, 'Control+z')
    await expectText(page, '106', 'Hand', 'RH')
  })

  test('copied cells are a spreadsheet’s, and its cells are pasted from the cursor on', async () => {
    const { page } = stage
    await clickCell(page, '102', 'Size')
    await press(page, 'Shift+ArrowDown', 'Shift+ArrowRight', 'Control+c')
    await expect
      .poll(async () => (await clipboard()).replaceAll('\r', '').trim())
      .toBe('3-0 × 7-0\tRH\nPR 6-0 × 7-0\tLH')
    await putOnClipboard('3-6 x 7-0\tRHR\r\n"PR 6\'-0"" x 7\'-0"""\tlh\r\n1067 x 2134\tRight\r\n')
    await clickCell(page, '105', 'Size')
    await press(page, 'Control+v')
    await expectText(page, '105', 'Size', '3-6 × 7-0')
    await expectText(page, '106', 'Size', 'PR 6-0 × 7-0')
    // 1067 mm is not quite 3-6, and is kept as it was written.
    await expectText(page, '107', 'Size', '1067 mm × 2134 mm')
    expect([await textOf(page, '105', 'Hand'), await textOf(page, '106', 'Hand')]).toEqual(['RHR', 'LH'])
    await press(page, 'Control+z')
    await expectText(page, '106', 'Size', '3-0 × 7-0')
    await expectText(page, '105', 'Hand', 'LH')
  })

  test('unreadable pasted cells stop the whole, and can be left out', async () => {
    const { page } = stage
    await putOnClipboard('3-6 x 7-0\tLHR\r\n900\tsideways\r\n3-0 x 7-0\tRHR\r\n')
    await clickCell(page, '105', 'Size')
    await press(page, 'Control+v')
    await expect.poll(() => notice(page).textContent()).toContain('106, size: "900" is not a size')
    expect(await notice(page).textContent()).toContain('106, hand: "sideways" is not a hand')
    await expectText(page, '105', 'Hand', 'LH')
    await notice(page).getByRole('button', { name: 'Leave them out and set the other' }).click()
    await expectText(page, '105', 'Hand', 'LHR')
    await expectText(page, '107', 'Hand', 'RHR')
    expect(await textOf(page, '106', 'Hand')).toBe('RH')
    await expect.poll(() => notice(page).textContent()).toContain('2 cells were left out.')
  })

  test('Space opens the page, PageDown turns it, Escape goes back to that row', async () => {
    const { page } = stage
    await clickCell(page, '107', 'Where')
    await press(page, ' ')
    await expect.poll(() => page.locator('h1').textContent()).toBe('107')
    await press(page, 'PageDown')
    await expect.poll(() => page.locator('h1').textContent()).toBe('108')
    await press(page, 'Escape')
    await expect.poll(() => page.locator('h1').textContent()).toBe('Opening schedule')
    expect(await standing(page)).toMatch(/^108 /)
    await press(page, 'ArrowDown')
    expect(await standing(page)).toMatch(/^109 /)
  })

  test('the page of an opening changes the same facts', async () => {
    const { page } = stage
    await clickCell(page, '107', 'Where')
    await press(page, ' ')
    const hand = page.locator('.fact-grid').getByLabel('Hand', { exact: true })
    await hand.fill('rhr')
    await press(page, 'Enter')
    await expect.poll(() => hand.inputValue()).toBe('RHR')
    await press(page, 'Escape')
    await expectText(page, '107', 'Hand', 'RHR')
  })
})
