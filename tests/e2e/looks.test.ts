// Every sheet and dialog in both schemes and two sizes: nothing for axe to complain about, nothing cut off, and a picture.
import { mkdirSync } from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { TestBrowser } from '../tools/chromium.ts'
import { describeWith, lacksBrowser } from '../tools/skipping.ts'
import { root } from '../tools/tool.ts'
import { cutOff, faults } from './looking.ts'
import {
  choose,
  clickCell,
  dialog,
  goToSheet,
  notice,
  press,
  startBrowser,
  startProgram,
  type Running,
} from './program.ts'

const shots = path.join(root, 'tests/output/shots')
const fixture = (name: string) => path.join(root, 'fixtures/intake', name)

interface Sheet {
  readonly name: string
  readonly open: (page: Page) => Promise<unknown>
}

const dialogSheet = (name: string, menu: string, entry: string): Sheet => ({
  name: `dialog-${name}`,
  open: async (page) => {
    await goToSheet(page, 'Schedule')
    await clickCell(page, '102', 'Where')
    await choose(page, menu, entry)
    await dialog(page).waitFor()
  },
})

const sheets: readonly Sheet[] = [
  {
    name: 'schedule',
    open: async (page) => {
      await goToSheet(page, 'Schedule')
      await clickCell(page, '104A', 'Hand')
    },
  },
  {
    name: 'schedule-notice',
    open: async (page) => {
      await clickCell(page, '105', 'Hand')
      await page.keyboard.type('QQ')
      await press(page, 'Enter')
      await notice(page).waitFor()
    },
  },
  {
    name: 'schedule-menu',
    open: async (page) => {
      await notice(page).getByRole('button', { name: 'Close' }).click()
      await clickCell(page, '105', 'Where')
      await press(page, 'Shift+ArrowDown', 'Shift+ArrowDown')
      await page.locator('.menu-opener', { hasText: 'Change' }).click()
      await page.locator('.menu-popover').waitFor()
    },
  },
  {
    name: 'opening',
    open: async (page) => {
      await press(page, 'Escape')
      await clickCell(page, '104A', 'Where')
      await press(page, ' ')
      await page.waitForSelector('.opening-page .plain-table')
    },
  },
  {
    name: 'typical',
    open: (page) => goToSheet(page, 'Storeroom').then(() => page.waitForSelector('.plain-table tbody tr')),
  },
  { name: 'job', open: (page) => goToSheet(page, 'Job details') },
  {
    name: 'history',
    open: (page) => goToSheet(page, 'What was changed').then(() => page.waitForSelector('h1')),
  },
  {
    name: 'intake',
    open: async (page) => {
      await page.locator('input[type=file]').setInputFiles(fixture('units-mixed.xlsx'))
      await page.waitForSelector('.intake-table')
    },
  },
  {
    name: 'intake-questions',
    open: (page) => page.locator('.show-choice', { hasText: 'Questions' }).click(),
  },
  {
    name: 'find',
    open: async (page) => {
      await page.getByRole('button', { name: 'Leave it all' }).click()
      await goToSheet(page, 'Schedule')
      await press(page, 'Control+k')
      await page.keyboard.type('records')
      await page.waitForSelector('.find-entry')
    },
  },
  dialogSheet('add', 'Change', 'Add openings'),
  dialogSheet('level', 'Change', 'Add a level'),
  dialogSheet('typical', 'Change', 'Add a typical'),
  dialogSheet('renumber', 'Change', 'Renumber'),
  dialogSheet('move', 'Change', 'Move'),
  dialogSheet('remove', 'Change', 'Remove'),
  dialogSheet('columns', 'View', 'Columns'),
  dialogSheet('print', 'Job', 'Print'),
  dialogSheet('paste', 'Job', 'Take in pasted rows'),
  dialogSheet('new-job', 'Job', 'New job'),
  {
    name: 'shelf',
    open: async (page) => {
      await choose(page, 'Job', 'Close and go to the shelf')
      await page.waitForSelector('.shelf')
    },
  },
]

describeWith(lacksBrowser(), 'how it looks', () => {
  let browser: TestBrowser
  beforeAll(async () => {
    mkdirSync(shots, { recursive: true })
    browser = await startBrowser()
  })
  afterAll(() => browser.close())

  test.each([
    ['light', 1440, 900],
    ['dark', 1440, 900],
    ['light', 1024, 700],
    ['dark', 1024, 700],
  ] as const)(
    '%s at %i by %i: every sheet and dialog is clean and whole',
    async (scheme, width, height) => {
      const running: Running = await startProgram({ browser })
      const { page, trouble } = running
      const found: string[] = []
      try {
        await page.setViewportSize({ width, height })
        await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' })
        for (const { name, open } of sheets) {
          await open(page).catch((error: unknown) => found.push(`${name}: ${String(error).slice(0, 200)}`))
          await page.waitForTimeout(150)
          await page.screenshot({ path: path.join(shots, `${name}-${width}-${scheme}.png`) })
          for (const each of await cutOff(page)) found.push(`${name}: ${each}`)
          // Widths change nothing that axe looks at, but what is hidden at one may show at the other.
          for (const each of await faults(page)) found.push(`${name}: ${each}`)
          if (/dialog|find/.test(name)) {
            await press(page, 'Escape')
            await page.waitForSelector('.dialog-cover', { state: 'detached' })
          }
        }
        expect(found).toEqual([])
        expect(trouble).toEqual([])
      } finally {
        await running.close()
      }
    },
    180_000,
  )
})
