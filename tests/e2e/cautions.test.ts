// The project manager's hour: questions answered at different places, verdicts that move, own rules, undo, and both schemes.
import { mkdirSync } from 'node:fs'
import path from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { root } from '../tools/tool.ts'
import { faults } from './looking.ts'
import { clickCell, choose, dialog, goToSheet, inDialog, pick, press, textOf } from './program.ts'
import { withProgram } from './together.ts'

const shots = path.join(root, 'tests/output/shots')

const line = (page: Page, question: string): Locator =>
  page.locator('.questions tbody tr', { hasText: question })
const waiting = (page: Page, question: string): Promise<string | null> =>
  line(page, question).locator('td').nth(2).textContent()
const show = (page: Page, view: RegExp): Promise<void> =>
  page.locator('.show-choice', { hasText: view }).click()

async function toCautions(page: Page): Promise<void> {
  await goToSheet(page, 'Cautions')
  await page.waitForSelector('.questions')
}

describeWith(lacksBrowser(), 'cautions', () => {
  const stage = withProgram()

  test('a question is answered for the job, a level, a typical and chosen openings; each is taken back', async () => {
    const { page } = stage
    await toCautions(page)

    // Whole job: where there can be no doubt, the place is chosen already.
    await line(page, 'Does sprinkler flow').getByRole('button', { name: 'Yes' }).click()
    await expect.poll(() => line(page, 'Does sprinkler flow').count()).toBe(0)

    // A level.
    const series = 'Do people pass a second door right after this one?'
    await line(page, series).locator('.place-choice').selectOption({ label: 'Roof (7)' })
    await line(page, series).getByRole('button', { name: 'No' }).click()
    await expect.poll(() => waiting(page, series)).toBe('141')

    // A typical.
    const height = 'How high above the floor is the hardware'
    await line(page, height).locator('.place-choice').selectOption({ label: 'Strike, secure (57)' })
    await line(page, height).locator('.answer-input').fill('40')
    await press(page, 'Enter')
    await expect.poll(() => waiting(page, height)).toBe('69')

    // Chosen openings.
    const way = 'Is this door in a required way out?'
    await line(page, way).locator('.place-choice').selectOption({ label: 'Chosen openings…' })
    await dialog(page).locator('.checkbox', { hasText: '107' }).click()
    await dialog(page).locator('.checkbox', { hasText: '108' }).click()
    await inDialog(page, 'Answer for 2 openings')
    await line(page, way).getByRole('button', { name: 'Yes' }).click()
    await expect.poll(() => waiting(page, way)).toBe('24')

    for (let each = 0; each < 4; each += 1) await press(page, 'Control+z')
    await expect.poll(() => waiting(page, way)).toBe('26')
    await expect.poll(() => waiting(page, series)).toBe('148')
    await expect.poll(() => waiting(page, 'Does sprinkler flow')).toBe('22')
  })

  test('an answer moves what the schedule says; the margin gives the reasons', async () => {
    const { page } = stage
    await clickCell(page, '105', 'Cautions')
    const before = await textOf(page, '105', 'Cautions')
    expect(before).toMatch(/^\d+ to ask$/)
    await expect.poll(() => page.locator('.frame-margin').textContent()).toContain('facts are missing')
    await toCautions(page)
    await line(page, 'Does this door lead from a floor').locator('.place-choice').selectOption('job')
    await line(page, 'Does this door lead from a floor').getByRole('button', { name: 'No' }).click()
    await expect.poll(() => line(page, 'Does this door lead from a floor').count()).toBe(0)
    await goToSheet(page, 'Schedule')
    expect(parseInt(await textOf(page, '105', 'Cautions'), 10)).toBe(parseInt(before, 10) - 1)
  })

  test('a wrong number is said, with what was expected, and changes nothing', async () => {
    const { page } = stage
    await toCautions(page)
    const question = 'How many delayed doors does a person pass'
    await line(page, question).locator('.place-choice').selectOption('job')
    await line(page, question).locator('.answer-input').fill('two')
    await press(page, 'Enter')
    expect(await line(page, question).locator('.answer-problem').textContent()).toBe(
      '“two” does not fit; expected a number in doors, such as 12 or 1.5.',
    )
    await line(page, question).locator('.answer-input').fill('2')
    await press(page, 'Enter')
    await expect.poll(() => line(page, question).count()).toBe(0)
  })

  test('an answer is changed and withdrawn where it stands', async () => {
    const { page } = stage
    await toCautions(page)
    await show(page, /^Answers given/)
    const row = page.locator('.answers tr', { hasText: 'Is the building a high-rise?' })
    await row.getByRole('button', { name: 'Yes' }).click()
    await expect.poll(() => row.textContent()).toContain('Ada')
    await row.getByRole('button', { name: /^Withdraw/ }).click()
    await expect.poll(() => row.count()).toBe(0)
    await press(page, 'Control+z', 'Control+z')
    await expect.poll(() => row.textContent()).toContain('Priya Hallam')
  })

  test('the list by rule leads to the opening, where a fact is answered and overridden', async () => {
    const { page } = stage
    await toCautions(page)
    await show(page, /^Cautions/)
    await page.locator('.group-title', { hasText: 'Can trap someone, caution: When the fire alarm' }).click()
    await press(page, 'ArrowRight')
    await expect.poll(() => page.locator('.frame-margin').textContent()).toContain('still held or delayed')
    await press(page, ' ')
    await page.waitForSelector('.opening-page .cautions-table')
    expect(await page.locator('h1').textContent()).toBe('210')
    const missing = line(page, 'Is the electric locking of this door listed')
    await missing.locator('.place-choice').selectOption({ label: '210 only' })
    await missing.getByRole('button', { name: 'Yes' }).click()
    await expect.poll(() => missing.count()).toBe(0)
    const known = page.locator('.answers tr', { hasText: 'listed to UL 294' })
    await expect.poll(() => known.textContent()).toContain('this opening')
    await page.locator('.answers tr', { hasText: 'sprinklered' }).getByRole('button').click()
    await page.locator('.answers tr', { hasText: 'sprinklered' }).getByRole('button', { name: 'No' }).click()
    await expect
      .poll(() => page.locator('.answers tr', { hasText: 'sprinklered' }).textContent())
      .toContain('this opening')
  })

  test('a rule of the job’s own is made, asks its question, is changed and removed', async () => {
    const { page } = stage
    await toCautions(page)
    await show(page, /^Rules of/)
    await page.getByRole('button', { name: 'Add a rule' }).click()
    await dialog(page)
      .getByLabel('What is asked for')
      .fill('A key switch stands outside each sensor release.')
    await dialog(page).getByLabel('Citation').fill('City ordinance 12-4, 2023')
    expect(await dialog(page).getByRole('button', { name: 'Add the rule' }).isDisabled()).toBe(true)
    await dialog(page).getByLabel('Question').fill('Is there a key switch outside?')
    await pick(page, 'For which openings', 'Ways out of one arrangement')
    await pick(page, 'Way out by', 'sensor release')
    await inDialog(page, 'Add the rule')
    await page.locator('.plain-table td', { hasText: 'City ordinance' }).waitFor()
    await show(page, /^Questions/)
    await line(page, 'Is there a key switch outside?').waitFor()
    await show(page, /^Rules of/)
    await page.getByRole('button', { name: /^Remove the rule/ }).click()
    await show(page, /^Questions/)
    await expect.poll(() => line(page, 'Is there a key switch outside?').count()).toBe(0)
  })

  test('questions and sheets are printed from the sheet and from the menu', async () => {
    const { page } = stage
    await toCautions(page)
    const download = page.waitForEvent('download')
    await page.getByRole('button', { name: 'Print…' }).click()
    await inDialog(page, 'Make the PDF')
    expect((await download).suggestedFilename()).toBe('Harrow Street Clinic - questions to answer.pdf')
    await goToSheet(page, 'Schedule')
    await clickCell(page, '105', 'Where')
    await press(page, ' ')
    await page.waitForSelector('.opening-page .cautions-table')
    const sheet = page.waitForEvent('download')
    await choose(page, 'Job', 'Print behaviour and cautions')
    await inDialog(page, 'Make the PDF')
    expect((await sheet).suggestedFilename()).toBe('Harrow Street Clinic - behaviour and cautions 105.pdf')
  })

  test.each([
    ['light', 1440, 900],
    ['dark', 1440, 900],
    ['light', 1024, 700],
    ['dark', 1024, 700],
  ] as const)(
    '%s at %i by %i: every view is clean',
    async (scheme, width, height) => {
      const { page } = stage
      mkdirSync(shots, { recursive: true })
      await page.setViewportSize({ width, height })
      await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' })
      const found: string[] = []
      const look = async (name: string): Promise<void> => {
        await page.waitForTimeout(250)
        await page.screenshot({ path: path.join(shots, `cautions-${name}-${width}-${scheme}.png`) })
        for (const each of await faults(page)) found.push(`${name}, ${each}`)
      }
      await toCautions(page)
      await line(page, 'Do people pass a second door').hover()
      await look('questions')
      await show(page, /^Cautions/)
      await page.locator('.group-title').first().click()
      await look('list')
      await show(page, /^Answers given/)
      await look('answers')
      await show(page, /^Rules of/)
      await page.getByRole('button', { name: 'Add a rule' }).click()
      await look('own-rule')
      await press(page, 'Escape')
      await goToSheet(page, 'Schedule')
      await clickCell(page, '117', 'Cautions')
      await look('schedule')
      await press(page, ' ')
      await page.waitForSelector('.opening-page .cautions-table')
      await page.locator('.cautions-table').first().scrollIntoViewIfNeeded()
      await line(page, 'Do people pass a second door').hover()
      await look('opening')
      expect(found).toEqual([])
    },
    120_000,
  )
})
