// A schedule received as a file: looked at, corrected, decided, accepted, taken back; then its newer revision.
import path from 'node:path'
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { root } from '../tools/tool.ts'
import { choose, dialog, inDialog, notice, press, rowOf } from './program.ts'
import { expectText, withProgram } from './together.ts'

const fixture = (name: string): string => path.join(root, 'fixtures/intake', name)

const received = [
  'Door,Level,Room,Size,Swing,Fire',
  'K1,Level 1,Kitchen,3-0 x 7-0,LH,20',
  'K2,Level 1,Scullery,3-0 x 7-0,RH,none',
  'K3,Level 1,Cold store,4-0 x 7-0,LHR,none',
].join('\r\n')
/** K2 wider, K3 gone, K4 new. */
const revised = [
  'Door,Level,Room,Size,Swing,Fire',
  'K1,Level 1,Kitchen,3-0 x 7-0,LH,20',
  'K2,Level 1,Scullery,3-6 x 7-0,RH,none',
  'K4,Level 1,Waste,3-0 x 7-0,RH,none',
].join('\r\n')

describeWith(lacksBrowser(), 'taking in', () => {
  const stage = withProgram()
  const facts = (): Promise<string | null> => stage.page.locator('.sheet-facts').first().textContent()
  const file = (name: string, text: string) => ({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })
  const takeIn = async (given: Parameters<ReturnType<typeof stage.page.locator>['setInputFiles']>[0]) => {
    await stage.page.locator('input[type=file]').setInputFiles(given)
    await stage.page.locator('.intake-table').waitFor()
  }
  const accept = () => stage.page.getByRole('button', { name: /^Accept/ })

  test('shows what each row was understood as, takes a corrected column, writes once, and one undo takes it back', async () => {
    const { page } = stage
    await takeIn(fixture('level-title-rows.xlsx'))
    const added = await page.locator('.intake-table tbody tr').count()
    expect(added).toBeGreaterThan(0)
    expect(await page.locator('.sheet-facts').first().textContent()).toContain('understood')
    const columns = page.locator('.column-matcher')
    if ((await columns.getAttribute('open')) === null) await columns.locator('summary').click()
    const selects = columns.locator('select')
    const uses = await selects.evaluateAll((all) => all.map((each) => (each as HTMLSelectElement).value))
    expect(uses).toContain('mark')
    const at = uses.findIndex((use) => !['mark', 'level', 'cells'].includes(use))
    await selects.nth(at).selectOption('notes')
    await expect
      .poll(() => selects.nth(at).evaluate((each) => (each as HTMLSelectElement).value))
      .toBe('notes')
    // The first new one is left out.
    await page.locator('.show-choice', { hasText: 'New' }).click()
    const before = await accept().textContent()
    await page.locator('.intake-table tbody .checkbox').first().click()
    await expect.poll(() => accept().textContent()).not.toBe(before)
    await accept().click()
    await expect.poll(() => notice(page).textContent()).toContain('One undo takes it back.')
    await expect.poll(facts).not.toMatch(/^148 openings/)
    await page.locator('.table').focus()
    await press(page, 'Control+z')
    await expect.poll(facts).toMatch(/^148 openings/)
  })

  test('a newer revision is shown as new, changed and gone, and the choice is the person’s', async () => {
    const { page } = stage
    await takeIn(file('kitchen.csv', received))
    expect(await accept().textContent()).toBe('Accept: add 3')
    await accept().click()
    await expect.poll(facts).toMatch(/^151 openings/)
    await takeIn(file('kitchen.csv', revised))
    expect(await accept().textContent()).toBe('Accept: add 1, change 1')
    await page.locator('.show-choice', { hasText: 'Changed' }).click()
    expect(await page.locator('.intake-table').textContent()).toMatch(/K2.*Width3-03-6/)
    await page.locator('.show-choice', { hasText: 'No longer in the file' }).click()
    const gone = page.locator('.intake-table tbody tr', { hasText: 'K3' })
    await gone.locator('.checkbox').click()
    expect(await accept().textContent()).toBe('Accept: add 1, change 1, remove 1')
    await accept().click()
    await expect.poll(facts).toMatch(/^151 openings/)
    await page.locator('.filter-words input').fill('scullery')
    await expectText(page, 'K2', 'Size', '3-6 × 7-0')
    await page.locator('.filter-words input').fill('cold store')
    expect(await rowOf(page, 'K3').count()).toBe(0)
  })

  test('rows pasted from a spreadsheet go the same way', async () => {
    const { page } = stage
    await choose(page, 'Job', 'Take in pasted rows')
    await dialog(page).locator('textarea').fill(received.replaceAll(',', '\t'))
    await inDialog(page, 'Read the rows')
    await page.locator('.intake-table').waitFor()
    expect(await accept().textContent()).toBe('Accept: add 3')
    await page.getByRole('button', { name: 'Leave it all' }).click()
    await expect.poll(facts).toMatch(/^148 openings/)
  })

  // The words come from the problem's own sentence.
  test.each(['password.xlsx', 'cut-short.xlsx', 'empty.csv', 'prose-renamed.xlsx', 'bomb-overlapping.xlsx'])(
    '%s gets a sentence, and nothing is written',
    async (name) => {
      const { page } = stage
      await page.locator('input[type=file]').setInputFiles(fixture(name))
      await expect.poll(() => notice(page).textContent(), { timeout: 15_000 }).toMatch(/\w+ .*\./)
      expect(await facts()).toMatch(/^148 openings/)
    },
  )
})
