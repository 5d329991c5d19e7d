import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openParts, type Parts } from './page/browser.ts'

let parts: Parts

beforeAll(async () => {
  parts = await openParts()
}, 120_000)
afterAll(async () => {
  await parts.close()
})

const violations = async (page: Page): Promise<string[]> => {
  const results = await new AxeBuilder({ page }).analyze()
  return results.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id}: ${node.html.slice(0, 160)}`),
  )
}

const states: readonly [name: string, make: (page: Page) => Promise<void>][] = [
  [
    'a selection',
    async (page) => {
      await page.locator('[data-row="3"] [data-column="2"]').click()
      await page.keyboard.press('Shift+ArrowDown')
    },
  ],
  [
    'a pick list',
    async (page) => {
      await page.locator('[data-row="3"] [data-column="3"]').click()
      await page.keyboard.press('F2')
      await page.locator('.cell-choice').first().waitFor()
    },
  ],
  [
    'a menu',
    async (page) => {
      await page.getByRole('button', { name: 'Show', exact: true }).click()
      await page.getByRole('menu').waitFor()
    },
  ],
  [
    'the box to find things',
    async (page) => {
      await page.locator('.find-opener').click()
      await page.locator('.find-entry').first().waitFor()
    },
  ],
  [
    'a dialog',
    async (page) => {
      await page.getByRole('button', { name: 'Add an opening' }).click()
      await page.getByRole('dialog').waitFor()
    },
  ],
]

describe.each(['light', 'dark'] as const)('%s', (scheme) => {
  it.each(states)(
    'axe finds nothing with %s open, and the content policy refuses nothing',
    async (_name, make) => {
      const { page, trouble } = await parts.open('?notice&rows=24')
      await page.emulateMedia({ colorScheme: scheme, reducedMotion: 'reduce' })
      await make(page)
      await page.waitForTimeout(100)
      expect(await violations(page)).toEqual([])
      expect(trouble).toEqual([])
      await page.close()
    },
  )
})

describe('an empty table', () => {
  it('says what to do first, shows where the focus is, and is clean', async () => {
    const { page, trouble } = await parts.open('?rows=0')
    await page.getByText('No openings yet.').waitFor()
    await page.locator('.table').focus()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Delete')
    expect(await violations(page)).toEqual([])
    expect(trouble).toEqual([])
    await page.close()
  })
})

describe('the window', () => {
  // 720 by 450 is 1440 by 900 at 200 % zoom (WCAG 2.2, 1.4.4).
  it.each([
    [1440, 900],
    [1024, 700],
    [720, 450],
  ])('cuts nothing off at %d by %d', async (width, height) => {
    const { page } = await parts.open('?notice')
    await page.setViewportSize({ width, height })
    await page.waitForTimeout(100)
    const found = await page.evaluate(() => {
      const sizes = [...document.querySelectorAll<HTMLElement>('[data-region], .frame-foot, .sheet-heading')]
      return {
        page: document.documentElement.scrollWidth - window.innerWidth,
        wide: sizes.filter((part) => part.getBoundingClientRect().right > window.innerWidth + 1).length,
        rows: document.querySelector('.table')?.clientHeight ?? 0,
      }
    })
    expect(found.page).toBeLessThanOrEqual(0)
    expect(found.wide).toBe(0)
    expect(found.rows).toBeGreaterThan(150)
    await page.close()
  })
  it('goes round its parts by F6', async () => {
    const { page } = await parts.open()
    const region = () =>
      page.evaluate(() => document.activeElement?.closest<HTMLElement>('[data-region]')?.dataset['region'])
    await page.locator('[data-row="0"] [data-column="2"]').click()
    const seen = [await region()]
    for (let turn = 0; turn < 4; turn += 1) {
      await page.keyboard.press('F6')
      seen.push(await region())
    }
    expect(seen).toEqual(['sheet', 'margin', 'top', 'side', 'sheet'])
    await page.close()
  })
  it('uses its own faces with figures of one width', async () => {
    const { page } = await parts.open()
    const faces = await page.evaluate(() =>
      [...document.fonts]
        .filter((face) => face.status === 'loaded')
        .map((face) => face.family.replaceAll('"', '')),
    )
    expect(new Set(faces)).toEqual(new Set(['Barlow', 'Barlow Semi Condensed', 'Source Serif 4']))
    const widths = await page.evaluate(() => {
      const measure = (text: string): number => {
        const span = document.createElement('span')
        span.textContent = text
        document.querySelector('.cell-text')?.append(span)
        const { width } = span.getBoundingClientRect()
        span.remove()
        return width
      }
      return [measure('1111'), measure('8888')]
    })
    expect(widths[0]).toBe(widths[1])
    await page.close()
  })
})

describe('menus', () => {
  it('shows keys, goes to the neighbour by Right, and acts by Enter', async () => {
    const { page, trouble } = await parts.open()
    await page.getByRole('button', { name: 'Job' }).focus()
    await page.keyboard.press('Enter')
    await page.getByRole('menu', { name: 'Job' }).waitFor()
    expect(await page.getByRole('menuitem', { name: 'New job' }).textContent()).toContain('Ctrl+N')
    await page.keyboard.press('ArrowRight')
    await page.getByRole('menu', { name: 'Edit' }).waitFor()
    await expect.poll(() => page.getByRole('menu').count()).toBe(1)
    await page.keyboard.press('ArrowLeft')
    await page.getByRole('menu', { name: 'Job' }).waitFor()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    await page.getByRole('dialog', { name: 'Add an opening' }).waitFor()
    expect(trouble).toEqual([])
    await page.close()
  })
})

describe('the box to find things', () => {
  it('finds as one types, goes by arrows through groups, and picks by Enter', async () => {
    const { page } = await parts.open()
    await page.locator('.find-opener').click()
    await page.keyboard.type('sche')
    await expect
      .poll(() => page.locator('.find-label').allTextContents())
      .toEqual(['Print the schedule', 'Take in a schedule'])
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    expect(await page.evaluate(() => window.probe.opened)).toEqual(['takeIn'])
    await expect.poll(() => page.getByRole('dialog').count()).toBe(0)
    await page.close()
  })
  it('says when nothing was found, and Escape closes it', async () => {
    const { page } = await parts.open()
    await page.locator('.find-opener').click()
    await page.keyboard.type('zzzz')
    await page.getByText('Nothing found.').waitFor()
    await page.keyboard.press('Escape')
    await expect.poll(() => page.getByRole('dialog').count()).toBe(0)
    await page.close()
  })
})

describe('fields', () => {
  it('names what a number expects, and takes no number for none', async () => {
    const { page } = await parts.open()
    await page.getByRole('button', { name: 'Add an opening' }).click()
    await page.getByLabel('Width').fill('3-0')
    await page.getByText('Width expects a number.').waitFor()
    await page.getByLabel('Width').fill('1,5')
    await expect.poll(() => page.getByText('Width expects a number.').count()).toBe(0)
    await page.getByRole('button', { name: /Hand$/ }).click()
    await page.getByRole('option', { name: 'Right hand' }).click()
    await expect.poll(() => page.getByRole('button', { name: /Hand$/ }).textContent()).toContain('Right hand')
    await page.close()
  })
})
