// What leaves the program, who holds the file, and what outlives a reload.
import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import type { Download } from 'playwright-core'
import { readFileBytes } from '../../electron/intake/index.ts'
import { missingNeeds } from '../tools/needs.ts'
import { describeWith, lacksBrowser, testWith } from '../tools/skipping.ts'
import {
  choose,
  clickCell,
  dialog,
  goToSheet,
  inDialog,
  marksShown,
  notice,
  press,
  standing,
} from './program.ts'
import { expectText, withProgram } from './together.ts'

const lacksPdfText = (): string | null =>
  missingNeeds().some(({ name }) => name.startsWith('pdftotext')) ? 'pdftotext is not there' : null

describeWith(lacksBrowser(), 'files and windows', () => {
  const stage = withProgram()
  const download = async (doing: () => Promise<unknown>): Promise<Download> => {
    const [made] = await Promise.all([stage.page.waitForEvent('download', { timeout: 60_000 }), doing()])
    return made
  }

  testWith(lacksPdfText(), 'the print dialog makes a PDF that holds every mark in view', async () => {
    const { page } = stage
    await goToSheet(page, 'Roof')
    await expect.poll(() => page.locator('.sheet-facts').textContent()).toMatch(/^7 of 148/)
    const marks = await marksShown(page)
    expect(marks).toHaveLength(7)
    await press(page, 'Control+p')
    expect(await dialog(page).textContent()).toContain('7 openings in view')
    const made = await download(() => inDialog(page, 'Make the PDF'))
    expect(made.suggestedFilename()).toBe('Harrow Street Clinic - opening schedule.pdf')
    const text = execFileSync('pdftotext', ['-layout', await made.path(), '-'], { encoding: 'utf8' })
    for (const mark of marks) expect(text).toContain(mark)
    expect(text).not.toContain('104A')
    await expect.poll(() => notice(page).textContent()).toMatch(/\.pdf, \d+ pages? was handed to you\./)
  })

  test.each([
    ['Save the schedule as a workbook', 'Harrow Street Clinic - opening schedule.xlsx'],
    ['Save the schedule as CSV', 'Harrow Street Clinic - opening schedule.csv'],
  ])('%s: its rows can be read again', async (entry, fileName) => {
    const made = await download(() => choose(stage.page, 'Job', entry))
    expect(made.suggestedFilename()).toBe(fileName)
    const read = await readFileBytes(fileName, readFileSync(await made.path()))
    if (!read.ok) throw new Error(read.problem.code)
    const text = JSON.stringify(read.file)
    for (const mark of ['101', '104A', 'A106', 'R07']) expect(text).toContain(`"${mark}"`)
  })

  test('the whole job as text', async () => {
    const made = await download(() => choose(stage.page, 'Job', 'Save the whole job as text'))
    const { records } = JSON.parse(readFileSync(await made.path(), 'utf8')) as {
      records: { opening: readonly unknown[] }
    }
    expect(records.opening).toHaveLength(148)
  })

  test('a second program on the same file reads, says who holds it, and sees what the first changes', async () => {
    const { page, running } = stage
    const jobFile = path.join(running.home, 'jobs', 'Harrow Street Clinic.lintelbook')
    const { page: second } = await stage.another({ openPath: jobFile, who: 'Ben' })
    await expect.poll(() => notice(second).textContent()).toMatch(/^Ada has had Harrow Street Clinic/)
    expect(await second.locator('.foot-end').textContent()).toContain('Reading only')
    await clickCell(second, '102', 'Hand')
    await second.keyboard.type('LH')
    expect(await second.locator('.cell-field').count()).toBe(0)
    await clickCell(page, '102', 'Hand')
    await page.keyboard.type('LHR')
    await press(page, 'Enter')
    await expectText(page, '102', 'Hand', 'LHR')
    await expectText(second, '102', 'Hand', 'LHR')
  })

  test('a reload keeps the session and the place; back and forward go as in any window', async () => {
    const { page } = stage
    await clickCell(page, '103', 'Where')
    await press(page, ' ')
    await expect.poll(() => page.locator('h1').textContent()).toBe('103')
    await page.reload()
    await expect.poll(() => page.locator('h1').textContent()).toBe('103')
    await goToSheet(page, 'Job details')
    await expect.poll(() => page.locator('h1').textContent()).toBe('Job details')
    await page.goBack()
    await expect.poll(() => page.locator('h1').textContent()).toBe('103')
    await page.goForward()
    await expect.poll(() => page.locator('h1').textContent()).toBe('Job details')
  })

  test('undo reaches back past a restart', async () => {
    const { page, running } = stage
    await clickCell(page, '102', 'Hand')
    await page.keyboard.type('LHR')
    await press(page, 'Enter')
    await expectText(page, '102', 'Hand', 'LHR')
    await choose(page, 'Job', 'Close and go to the shelf')
    await page.locator('.shelf').waitFor()
    const { page: later } = await stage.another({ home: running.home })
    await expectText(later, '102', 'Hand', 'LHR')
    await later.locator('.table').focus()
    await press(later, 'Control+z')
    await expectText(later, '102', 'Hand', 'RH')
    expect(await standing(later)).toMatch(/^101 /)
  })
})
