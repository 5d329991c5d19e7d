// A project manager's first day with a schedule of 60 openings: taken in, given typicals, asked about, answered, printed,
// closed and opened again, and all of it taken back.
import path from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { expect, test } from 'vitest'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { depotDoors, depotName, depotWorkbook } from './bellweather-depot.ts'
import { cutOff, faults } from './looking.ts'
import {
  choose,
  clickCell,
  dialog,
  goToSheet,
  inDialog,
  notice,
  pick,
  press,
  standing,
  textOf,
} from './program.ts'
import { expectText, withProgram } from './together.ts'

const depotFile = 'A-601 door schedule.xlsx'

interface Said {
  readonly question: string
  readonly holdsFor?: string
  readonly answer: string
}

/** What the architect and the others say, in the order it is asked; `holdsFor` where the place is not chosen already. */
const said: readonly Said[] = [
  { question: 'Is the building a high-rise', answer: 'No' },
  { question: 'Has the building a fire alarm', answer: 'Yes' },
  { question: 'swing (not slide', holdsFor: 'Whole job', answer: 'Yes' },
  { question: 'in high-hazard contents', holdsFor: 'Whole job', answer: '0' },
  { question: 'How many people does this door serve', holdsFor: 'Whole job', answer: '30' },
  { question: 'lead from a floor into a stair', holdsFor: 'Stair re-entry (8)', answer: 'Yes' },
  { question: 'lead from a floor into a stair', holdsFor: 'Whole job', answer: 'No' },
  { question: 'pass a second door right after', holdsFor: 'ROOF (4)', answer: 'No' },
  { question: 'pass a second door right after', holdsFor: 'Whole job', answer: 'No' },
  { question: 'is the hardware that opens the door', holdsFor: 'Whole job', answer: '40' },
]

const line = (page: Page, question: string): Locator =>
  page.locator('.questions tbody tr', { hasText: question })

/** How many openings wait for an answer; 0 when it is asked no more. */
const waiting = (page: Page, question: string): Promise<number> =>
  page
    .locator('.questions tbody tr')
    .evaluateAll(
      (rows, words) =>
        Number(
          (rows as HTMLTableRowElement[]).find((row) => row.textContent.includes(words))?.cells[2]
            ?.textContent ?? 0,
        ),
      question,
    )

async function answer(page: Page, { question, holdsFor, answer: words }: Said): Promise<void> {
  const asked = line(page, question)
  const before = await waiting(page, question)
  expect(before, question).toBeGreaterThan(0)
  if (holdsFor !== undefined) await asked.locator('.place-choice').selectOption({ label: holdsFor })
  if (words === 'Yes' || words === 'No') await asked.getByRole('button', { name: words }).click()
  else {
    await asked.locator('.answer-input').fill(words)
    await press(page, 'Enter')
  }
  await expect.poll(() => waiting(page, question), { timeout: 5000 }).toBeLessThan(before)
}

describeWith(lacksBrowser(), 'the first day', () => {
  const stage = withProgram()
  const facts = (page: Page) => page.locator('.sheet-facts').first().textContent()
  const questionsLeft = async (page: Page): Promise<number> =>
    Number(/(\d+) questions? to answer/.exec((await facts(page)) ?? '')?.[1])

  async function newJob(page: Page): Promise<void> {
    await choose(page, 'Job', 'New job')
    await page.keyboard.type(depotName)
    await press(page, 'Enter')
    await page.locator('.empty-sheet').waitFor()
  }
  async function takeIn(page: Page): Promise<void> {
    await page.locator('input[type=file]').setInputFiles({
      name: depotFile,
      mimeType: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
      buffer: Buffer.from(await depotWorkbook()),
    })
    await page.locator('.intake-table').waitFor()
  }
  const accept = async (page: Page): Promise<void> => {
    await page.getByRole('button', { name: 'Accept: add 60' }).click()
    await expect.poll(() => facts(page)).toMatch(/^60 openings/)
  }
  /** The whole schedule as a spreadsheet would get it. */
  async function copied(page: Page): Promise<readonly (readonly string[])[]> {
    const read = () => page.evaluate(() => navigator.clipboard.readText())
    await page.evaluate(() => navigator.clipboard.writeText('nothing copied yet'))
    await page.locator('.table').focus()
    await press(page, 'Control+a', 'Control+c')
    await expect.poll(async () => (await read()).trimEnd().split('\n').length).toBe(60)
    const text = await read()
    return text
      .trimEnd()
      .split(/\r?\n/)
      .map((row) => row.split('\t'))
  }
  /** Typicals go in as one pasted column, in the order the schedule shows. */
  async function giveTypicals(page: Page): Promise<void> {
    const byMark = new Map(depotDoors.map(({ mark, typical }) => [mark, typical ?? '']))
    const column = (await copied(page)).map(([mark = '']) => byMark.get(mark) ?? 'no such mark')
    await page.evaluate((text) => navigator.clipboard.writeText(text), column.join('\r\n'))
    await press(page, 'Control+Home')
    while (!(await standing(page)).endsWith(' Typical')) await press(page, 'ArrowRight')
    await press(page, 'Control+v')
    await expect.poll(() => facts(page)).toMatch(/^60 openings, 6 need answers/)
  }

  test('from the architect’s workbook to answered cautions, closed and opened again, and taken back', async () => {
    const { page, running } = stage
    await newJob(page)

    await takeIn(page)
    expect(await facts(page)).toContain('60 openings understood')
    expect(await page.locator('.column-matcher summary').textContent()).toContain('12 of 13 understood')
    await page.locator('.show-choice', { hasText: 'Questions' }).click()
    expect(await page.locator('.intake-table').textContent()).toContain('see code plan')
    // The one heading that means nothing here is told to be a note; it is remembered for the next revision.
    await page.locator('.column-matcher summary').click()
    await page.getByLabel('ELEC? is').selectOption('doorType')
    await expect
      .poll(() => page.locator('.column-matcher summary').textContent())
      .toContain('13 of 13 understood')
    await accept(page)

    await clickCell(page, '103', 'Typical')
    await page.keyboard.type('strike, sec')
    await press(page, 'Enter')
    await expectText(page, '103', 'Typical', 'Strike, secure')
    await press(page, 'ArrowUp', 'Shift+ArrowDown', 'Shift+ArrowDown', 'Control+d')
    await expectText(page, '105', 'Typical', 'Strike, secure')
    await giveTypicals(page)
    await expectText(page, '105', 'Typical', 'Hold-open pair')
    const rows = await copied(page)
    const typicals = new Map(rows.map((row) => [row[0], row[5]]))
    expect(typicals.size).toBe(60)
    for (const { mark, typical } of depotDoors) expect(typicals.get(mark) ?? '', mark).toBe(typical ?? '')
    const toAskBefore = parseInt(await textOf(page, '103', 'Cautions'), 10)

    await goToSheet(page, 'Cautions')
    await page.locator('.questions').first().waitFor()
    await pick(page, 'Building code', 'IBC 2021')
    await pick(page, 'NFPA 101 too', 'Does not apply')
    await expect.poll(() => waiting(page, 'NFPA 101')).toBe(0)
    const before = await questionsLeft(page)
    for (const each of said) await answer(page, each)
    // Answers bring questions of their own, so fewer is not certain on the way; what was said is asked no more.
    for (const { question } of said) expect(await waiting(page, question), question).toBe(0)
    expect(await questionsLeft(page)).not.toBe(before)
    await page.locator('.show-choice', { hasText: 'Answers given' }).click()
    expect(await page.locator('.answers tbody tr').count()).toBeGreaterThanOrEqual(said.length)

    await goToSheet(page, 'Schedule')
    await clickCell(page, '103', 'Cautions')
    expect(parseInt(await textOf(page, '103', 'Cautions'), 10)).toBeLessThan(toAskBefore)
    await press(page, ' ')
    await page.locator('.opening-page .cautions-table').first().waitFor()
    await press(page, 'Escape')
    for (const [menu, what, fileName] of [
      ['Print the schedule', null, `${depotName} - opening schedule.pdf`],
      [
        'Print behaviour and cautions',
        'Questions to answer, by who can answer',
        `${depotName} - questions to answer.pdf`,
      ],
      ['Print behaviour and cautions', null, `${depotName} - behaviour and cautions 103.pdf`],
    ] as const) {
      const download = page.waitForEvent('download', { timeout: 30_000 })
      await choose(page, 'Job', menu)
      if (what !== null) await pick(page, 'What', what)
      await inDialog(page, 'Make the PDF')
      expect((await download).suggestedFilename()).toBe(fileName)
    }

    const left = await copied(page)
    await choose(page, 'Job', 'Close and go to the shelf')
    await page.locator('.shelf').waitFor()
    const { page: again } = await stage.another({
      home: running.home,
      openPath: path.join(running.home, 'jobs', `${depotName}.lintelbook`),
    })
    expect(await copied(again)).toEqual(left)
    const undo = again.locator('.foot-button')
    let steps = 0
    for (; (await undo.count()) > 0 && steps < 60; steps += 1) {
      const name = (await undo.textContent()) ?? ''
      await again.locator('.table').focus()
      await press(again, 'Control+z')
      await expect.poll(() => notice(again).textContent()).toContain(name.replace('Undo: ', 'Taken back: '))
      if (name.includes(depotFile)) break
    }
    await again.locator('.empty-sheet').waitFor()
    for (let step = 0; step <= steps; step += 1) await press(again, 'Control+y')
    await expect.poll(() => facts(again), { timeout: 15_000 }).toMatch(/^60 openings, 6 need answers/)
    await expect.poll(() => copied(again), { timeout: 15_000 }).toEqual(left)
  }, 90_000)

  test('without the mouse: found, typed, answered from line to line, printed', async () => {
    const { page } = stage
    await newJob(page)
    await takeIn(page)
    await page.getByRole('button', { name: 'Accept: add 60' }).focus()
    await press(page, 'Enter')
    await expect.poll(() => standing(page)).toBe('101 Mark')
    await giveTypicals(page)
    const findAndGo = async (words: string): Promise<void> => {
      await press(page, 'Control+k')
      await page.keyboard.type(words)
      await page.locator('.find-entry', { hasText: words }).first().waitFor()
      await press(page, 'Enter')
    }
    await press(page, 'Control+k')
    await page.locator('.find-entry', { hasText: 'Cautions' }).waitFor()
    await press(page, 'ArrowDown', 'Enter')
    await page.locator('.questions').first().waitFor()
    const focused = () => page.evaluate(() => document.activeElement?.className ?? '')
    for (let tabs = 0; tabs < 60 && !(await focused()).includes('place-choice'); tabs += 1)
      await press(page, 'Tab')
    const lines = await page.locator('.questions tbody tr').count()
    await page.keyboard.type('Whole')
    await press(page, 'Tab')
    // The answers of the first question are a list: the first of them that can be typed.
    await page.keyboard.type('n')
    await expect.poll(() => page.locator('.questions tbody tr').count()).toBeLessThan(lines)
    // The line that came in its place has the keyboard.
    expect(await page.evaluate(() => document.activeElement?.closest('tr')?.rowIndex ?? -1)).toBeGreaterThan(
      0,
    )
    await press(page, 'Control+z')
    await expect.poll(() => page.locator('.questions tbody tr').count()).toBe(lines)
    await press(page, 'Escape')
    await expect.poll(() => page.locator('h1').textContent()).toBe('Opening schedule')
    await findAndGo('Paint store')
    await expect.poll(() => page.locator('h1').textContent()).toBe('120')
    await press(page, 'Escape', 'Control+p')
    await dialog(page).waitFor()
    const download = page.waitForEvent('download', { timeout: 30_000 })
    for (
      let tabs = 0;
      tabs < 12 && !/Make the PDF/.test(await page.evaluate(() => document.activeElement?.textContent ?? ''));
      tabs += 1
    )
      await press(page, 'Tab')
    await press(page, 'Enter')
    expect((await download).suggestedFilename()).toContain('opening schedule')
  }, 60_000)

  // Twice the size in a window of 1440 by 900 leaves 720 by 450 (WCAG 2.2, 1.4.4).
  test.each(['light', 'dark'] as const)(
    '%s, at twice the size, without motion: nothing for axe, nothing out of reach',
    async (scheme) => {
      const { page } = stage
      await page.setViewportSize({ width: 720, height: 450 })
      await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' })
      const found: string[] = []
      const look = async (name: string): Promise<void> => {
        await page.waitForTimeout(150)
        for (const each of await faults(page)) found.push(`${name}: ${each}`)
        for (const each of await cutOff(page))
          // One column at this size: the page itself scrolls down, as it should.
          if (!/too high|^outside/.test(each)) found.push(`${name}: ${each}`)
      }
      await newJob(page)
      await look('empty')
      await takeIn(page)
      await look('take-in')
      await accept(page)
      await giveTypicals(page)
      await look('schedule')
      await goToSheet(page, 'Cautions')
      await page.locator('.questions').first().waitFor()
      await look('cautions')
      await goToSheet(page, 'Parts')
      await page.locator('.plain-table tbody tr').first().waitFor()
      await look('parts')
      await goToSheet(page, 'Job details')
      await look('job')
      expect(found).toEqual([])
    },
    60_000,
  )
})
