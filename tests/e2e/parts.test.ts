// Parts and typicals as a project manager works with them: found, copied, changed, compared, wired wrongly and undone.
import { AxeBuilder } from '@axe-core/playwright'
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { choose, dialog, goToSheet, inDialog, notice, press } from './program.ts'
import { withProgram } from './together.ts'

/** What axe finds; as looks.test.ts does it, which tells why a key beside words does not count. */
async function faults(page: Page): Promise<readonly string[]> {
  const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze()
  return violations.flatMap(({ id, nodes }) => {
    const counted = nodes.filter(
      ({ html }) => id !== 'label-content-name-mismatch' || !/<kbd|"menu-line"/.test(html),
    )
    return counted.length === 0 ? [] : [`${id}: ${counted[0]?.html.slice(0, 200)}`]
  })
}

describeWith(lacksBrowser(), 'parts and typicals', () => {
  const stage = withProgram()
  const title = (): Promise<string | null> => stage.page.locator('h1').textContent()
  const changed = (): Promise<string[]> => stage.page.locator('.doing.changed .doing-when').allTextContents()
  const exactly = (label: string): Locator => stage.page.getByLabel(label, { exact: true })
  const openPart = async (name: string): Promise<void> => {
    await goToSheet(stage.page, 'Parts')
    await stage.page.getByRole('link', { name, exact: true }).click()
    await expect.poll(title).toBe(name)
  }
  const openTypical = async (name: string): Promise<void> => {
    await goToSheet(stage.page, name)
    await stage.page.locator('.typical-page .behaviour').waitFor()
  }
  const safeStrike = 'Electric strike, fail safe, 12/24 V'

  test('found by typing, and two compared: only what differs, then all', async () => {
    const { page } = stage
    await goToSheet(page, 'Parts')
    const rows = page.locator('.parts-page tbody tr')
    await expect.poll(() => rows.count()).toBe(36)
    await page.locator('.parts-find input').fill('keeps latch')
    await expect.poll(() => rows.count()).toBe(2)
    await exactly(`Tick ${safeStrike}`).check()
    await exactly('Tick Electric strike, fail secure, 12/24 V').check()
    await page.getByRole('button', { name: 'Compare 2' }).click()
    const compared = page.locator('.compared')
    await expect.poll(() => compared.textContent()).toContain('keeps the latch while not fed')
    expect(await compared.textContent()).not.toContain('Kind')
    await page.getByText('Only what differs', { exact: true }).click()
    await expect.poll(() => compared.textContent()).toContain('Kind')
  })

  test('a strike made like another, one setting of it changed, put into a typical: what it does changes at once', async () => {
    const { page } = stage
    await openPart(safeStrike)
    await page.getByRole('button', { name: 'Copy' }).click()
    await dialog(page).getByLabel('Name').fill('Our strike')
    await inDialog(page, 'Make the part')
    await expect.poll(title).toBe('Our strike')
    expect(await page.locator('.sheet-facts').first().textContent()).toBe(
      'Nothing uses it: a change here reaches no opening',
    )
    await exactly('Engaged of the strike').selectOption('while not fed')
    await expect.poll(() => page.locator('.part-does').textContent()).toBe('Keeps the latch while not fed.')
    await openTypical('Strike, safe')
    await exactly('What is taken for granted of the feed').selectOption('with a battery')
    await exactly('Part of K1').selectOption({ label: 'Our strike' })
    await expect.poll(changed).toEqual(['Fire alarm', 'No power'])
    expect(await page.locator('.doing-words').textContent()).toContain('No power: In was free, now held.')
    await press(page, 'Control+z')
    await expect.poll(() => notice(page).textContent()).toContain('Taken back')
    await expect
      .poll(() => page.locator('.doing-words').textContent())
      .toContain('No power: In was held, now free.')
  })

  test('without the alarm relay in the feed a magnet holds people on alarm, with the reason; undone it lets go', async () => {
    const { page } = stage
    await openTypical('Magnet + sensor')
    await page.getByRole('button', { name: /^Take out: Alarm relay F1 breaks the feed of M1/ }).click()
    await expect.poll(changed).toEqual(['Fire alarm'])
    const row = page.locator('.behaviour tr', { hasText: /^Fire alarm/ })
    expect(await row.textContent()).toContain('Out was free, now held.')
    expect(await row.textContent()).toContain('Nothing that the fire alarm works reaches magnet M1.')
    await row.hover()
    await expect
      .poll(() => page.locator('.frame-margin').textContent())
      .toContain('Fire alarm: in held, out held: a person cannot get out')
    await page.locator('h1').click()
    await press(page, 'Control+z')
    await expect.poll(() => row.textContent()).toContain('Out was held, now free.')
  })

  test('tried without writing, dropped, tried again and kept as one change', async () => {
    const { page } = stage
    await openTypical('Lever, safe')
    const mode = exactly('Mode of L1, as designed')
    await page.getByRole('button', { name: 'Try without writing' }).click()
    await mode.selectOption('fail secure')
    await expect.poll(changed).toContain('No power')
    expect(await page.locator('.foot-end').textContent()).not.toContain('Mode')
    await page.getByRole('button', { name: 'Drop what was tried' }).click()
    await expect.poll(() => mode.inputValue()).toBe('fail safe')
    expect(await changed()).toEqual([])
    await page.getByRole('button', { name: 'Try without writing' }).click()
    await mode.selectOption('fail secure')
    await page.getByRole('button', { name: 'Keep 1 change' }).click()
    await expect.poll(() => page.locator('.foot-end').textContent()).toContain('Mode')
    expect(await mode.inputValue()).toBe('fail secure')
    expect(await changed()).toContain('No power')
  })

  test('a link is added in words and says so', async () => {
    const { page } = stage
    await openTypical('Strike, secure')
    await exactly('From which fitting').selectOption({ label: 'C1 door contact' })
    await exactly('To which fitting').selectOption({ label: 'K1 strike' })
    await exactly('By which of its contacts').selectOption({ label: 'Leaf' })
    await page.getByRole('button', { name: 'Add the link' }).click()
    await expect
      .poll(() => page.locator('.typical-links').textContent())
      .toContain('Door contact C1 breaks the feed of K1 itself by its contact Leaf.')
  })

  test('wrong input is one sentence, and nothing changes; a part in use says where', async () => {
    const { page } = stage
    await openPart(safeStrike)
    await exactly('Holding').fill('a quarter')
    await press(page, 'Enter')
    await expect
      .poll(() => notice(page).textContent())
      .toContain('Holding: “a quarter” is not understood; expected a number in A, such as 0.25.')
    await expect.poll(() => exactly('Holding').inputValue()).toBe('0.25')
    await exactly('Drawn by of the strike').fill('handle')
    await press(page, 'Enter')
    await expect.poll(() => notice(page).textContent()).toContain('this part has no “handle”')
    await page.getByRole('button', { name: 'Remove', exact: true }).first().click()
    await expect.poll(() => notice(page).textContent()).toContain('is used by typical Strike, safe; opening')
  })

  test('by the menu: a new part from nothing, declared, and everything about it added; then removed', async () => {
    const { page } = stage
    await choose(page, 'Change', 'Add a part')
    await dialog(page).getByLabel('Name').fill('Gate bolt')
    await dialog(page).getByLabel('Kind').fill('electric bolt')
    await inDialog(page, 'Make the part')
    await expect.poll(title).toBe('Gate bolt')
    await page.getByRole('button', { name: 'Declare what it does' }).click()
    for (const words of [
      'Add something that holds',
      'Add hardware',
      'Add a contact',
      'Add a setting',
      'Add figures for a position',
      'Add a body',
      'Add a document',
      'Add spares',
    ]) {
      await page.getByRole('button', { name: words, exact: true }).click()
      await expect.poll(() => page.locator('.foot-end').textContent()).toContain('Gate bolt')
    }
    await exactly('Grip of the lock').selectOption('latches')
    await exactly('Drawn by of the lock').fill('lever')
    await press(page, 'Enter')
    await expect
      .poll(() => page.locator('.part-does').textContent())
      .toBe('Lock latches while fed, drawn by lever.')
    await page.getByLabel('Name: lever', { exact: true }).fill('thumb turn')
    await press(page, 'Enter')
    await expect.poll(() => exactly('Drawn by of the lock').inputValue()).toBe('thumb turn')
    await page.getByRole('button', { name: 'Remove', exact: true }).first().click()
    await expect.poll(title).toBe('Parts and typicals')
  })

  test('a typical removed is brought in again', async () => {
    const { page } = stage
    await openTypical('Delayed magnet')
    await page.getByRole('button', { name: 'Remove', exact: true }).click()
    await goToSheet(page, 'Parts')
    await page.getByRole('button', { name: 'Bring in' }).click()
    await dialog(page).getByText('Delayed magnet', { exact: true }).click()
    await inDialog(page, 'Bring in 1')
    await expect.poll(() => notice(page).textContent()).toContain('Bring in typical Delayed magnet')
    await openTypical('Delayed magnet')
  })

  test.each(['light', 'dark'] as const)('%s: every one of these pages is clean for axe', async (scheme) => {
    const { page } = stage
    await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' })
    const found: string[] = []
    const look = async (name: string): Promise<void> => {
      for (const each of await faults(page)) found.push(`${name}: ${each}`)
    }
    await goToSheet(page, 'Parts')
    await page.locator('.parts-page tbody tr').first().waitFor()
    await look('parts')
    await page.getByRole('button', { name: /^Typicals/ }).click()
    await look('typicals')
    await exactly('Tick Strike, safe').check()
    await exactly('Tick Strike, secure').check()
    await page.getByRole('button', { name: 'Compare 2' }).click()
    await page.locator('.compared-gate').first().waitFor()
    await look('typicals compared')
    await page.getByRole('button', { name: 'Back to the list' }).click()
    await page
      .getByRole('button', { name: /^Parts/ })
      .last()
      .click()
    await openPart('Surface magnet, 600 lbf class, 12/24 V')
    await look('part')
    await openTypical('Magnet + sensor')
    await page.getByRole('button', { name: /^Take out: Alarm relay F1 breaks/ }).click()
    await expect.poll(changed).toEqual(['Fire alarm'])
    await look('typical')
    expect(found).toEqual([])
  })
})
