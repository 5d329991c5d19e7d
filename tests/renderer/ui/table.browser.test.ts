import type { Page } from 'playwright-core'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { openParts, type Parts } from './page/browser.ts'

let parts: Parts
let page: Page
let trouble: readonly string[]

beforeAll(async () => {
  parts = await openParts()
}, 120_000)
afterAll(async () => {
  await parts.close()
})
beforeEach(async () => {
  await page?.close()
  ;({ page, trouble } = await parts.open())
})

/** Columns of the page: 0 mark, 1 where, 2 size, 3 hand (a pick list), 4 label, 5 typical, 6 to 10 drawn, 11 feed, 12 volts. */
const cell = (row: number, column: number) => page.locator(`[data-row="${row}"] [data-column="${column}"]`)
const click = (row: number, column: number) => cell(row, column).click()
const press = async (...keys: string[]): Promise<void> => {
  for (const key of keys) await page.keyboard.press(key)
}
const standing = (): Promise<string> =>
  page.evaluate(() => {
    const { selection } = window.probe
    if (selection === null) return 'none'
    if (selection.form === 'group') return `group ${selection.groupKey}`
    if (selection.form === 'heading') return `heading ${selection.columnKey}`
    return [selection.anchor, selection.focus]
      .map((place) => `${place.rowKey}.${place.columnKey}`)
      .join(' to ')
  })
const textOf = (mark: string, column: string): Promise<string> =>
  page.evaluate(([wanted, key]) => window.probe.text(wanted ?? '', key ?? ''), [mark, column])
const edits = () => page.evaluate(() => window.probe.edits)
const owner = (how: 'atOnce' | 'later' | 'refuses') =>
  page.evaluate((wanted) => {
    window.probe.owner = wanted
  }, how)

describe('moving by key', () => {
  it('walks, jumps, extends, and steps over group headings', async () => {
    await click(0, 2)
    expect(await standing()).toBe('101.size to 101.size')
    await press('ArrowDown', 'ArrowRight')
    expect(await standing()).toBe('102.hand to 102.hand')
    await press('Control+ArrowDown')
    expect(await standing()).toBe('242.hand to 242.hand')
    await press('Control+Home', 'End')
    expect(await standing()).toBe('101.cautions to 101.cautions')
    await press('Home', 'ArrowRight', 'Shift+ArrowDown', 'Shift+ArrowDown', 'Shift+ArrowRight')
    expect(await standing()).toBe('101.where to 103.size')
    await expect
      .poll(() => page.locator('.table-box > [role=status]').textContent())
      .toBe('3 rows by 2 columns')
    // Level 2 begins with 137: its heading is stepped over.
    await click(0, 2)
    await press('PageDown', 'PageDown')
    const { rowKey } = await page.evaluate(() => {
      const { selection } = window.probe
      return selection?.form === 'cells' ? selection.focus : { rowKey: '' }
    })
    expect(Number(rowKey)).toBeGreaterThan(130)
    await press('Control+a')
    expect(await standing()).toBe('101.mark to 242.cautions')
    expect(trouble).toEqual([])
  })
  it('keeps one tab stop, says where it stands, and lets Tab out after Escape', async () => {
    await click(0, 2)
    const active = await page.locator('[role=treegrid]').getAttribute('aria-activedescendant')
    expect(await page.locator(`[id="${active}"]`).getAttribute('data-column')).toBe('2')
    await press('Tab')
    expect(await standing()).toBe('101.hand to 101.hand')
    await press('Shift+Tab', 'Shift+Tab')
    expect(await standing()).toBe('101.where to 101.where')
    await press('Escape', 'Tab')
    expect(await page.evaluate(() => document.activeElement?.getAttribute('role'))).not.toBe('treegrid')
    expect(await standing()).toBe('101.where to 101.where')
  })
  it('goes to headings by key: sorts, and widens by Alt and arrows', async () => {
    await click(0, 2)
    await press('ArrowUp')
    expect(await standing()).toBe('heading size')
    const heading = page.locator('[data-heading="2"]')
    const before = (await heading.boundingBox())?.width ?? 0
    await press('Alt+ArrowRight')
    await expect.poll(async () => (await heading.boundingBox())?.width).toBe(before + 8)
    await press('Enter')
    await expect.poll(() => heading.getAttribute('aria-sort')).toBe('ascending')
    await press('Enter')
    await expect.poll(() => heading.getAttribute('aria-sort')).toBe('descending')
  })
  it('folds groups by key and by click', async () => {
    await click(0, 0)
    await press('ArrowRight', 'ArrowLeft', 'ArrowLeft')
    expect(await standing()).toBe('group Level 1')
    const group = page.locator('[data-group="Level 1"]')
    expect(await group.getAttribute('aria-expanded')).toBe('true')
    await press('ArrowLeft')
    await expect.poll(() => group.getAttribute('aria-expanded')).toBe('false')
    await expect
      .poll(() => page.locator('.table-row').first().locator('[data-column="0"]').textContent())
      .toBe('137')
    await press('ArrowRight')
    await expect.poll(() => group.getAttribute('aria-expanded')).toBe('true')
    await group.click()
    await expect.poll(() => group.getAttribute('aria-expanded')).toBe('false')
    expect(await page.locator('[role=treegrid]').getAttribute('aria-rowcount')).toBe(String(142 - 36 + 4 + 1))
  })
  it('opens by Space and by a double click on a frozen column', async () => {
    await click(2, 2)
    await press(' ')
    await cell(3, 0).dblclick()
    expect(await page.evaluate(() => window.probe.opened)).toEqual(['103', '104'])
  })
})

describe('typing', () => {
  it('replaces by typing; Enter goes down, Tab right, and Enter back to where Tab began', async () => {
    await click(0, 1)
    await page.keyboard.type('North porch')
    await press('Tab')
    await page.keyboard.type('4-0 x 7-0')
    await press('Enter')
    expect(await standing()).toBe('102.where to 102.where')
    expect(await textOf('101', 'where')).toBe('North porch')
    expect(await textOf('101', 'size')).toBe('4-0 x 7-0')
    expect(await edits()).toEqual([
      { how: 'type', cells: [{ rowKey: '101', columnKey: 'where', text: 'North porch' }] },
      { how: 'type', cells: [{ rowKey: '101', columnKey: 'size', text: '4-0 x 7-0' }] },
    ])
    expect(await page.evaluate(() => document.activeElement?.getAttribute('role'))).toBe('treegrid')
  })
  it('changes by F2 with the whole text taken, leaves by Escape, sends nothing for the same text', async () => {
    await click(0, 1)
    await press('F2', 'End')
    await page.keyboard.type(', left')
    await press('Escape', 'F2', 'Enter')
    expect(await edits()).toEqual([])
    await press('ArrowUp', 'F2', 'End')
    await page.keyboard.type(', left')
    await press('Enter')
    expect(await textOf('101', 'where')).toBe('Main lobby, from forecourt, left')
  })
  it('takes a typed text when another cell is clicked, or an arrow is pressed', async () => {
    await click(0, 1)
    await page.keyboard.type('A')
    await click(2, 1)
    expect(await textOf('101', 'where')).toBe('A')
    await page.keyboard.type('B')
    await press('ArrowDown')
    expect(await textOf('103', 'where')).toBe('B')
    expect(await standing()).toBe('104.where to 104.where')
  })
  it('refuses worked-out columns with a sentence', async () => {
    await click(0, 6)
    await page.keyboard.type('x')
    expect(await page.locator('.cell-field').count()).toBe(0)
    await expect
      .poll(() => page.locator('.table-box > [role=status]').textContent())
      .toContain('cannot be changed')
  })
  it('offers a pick list, by key and by click', async () => {
    await click(0, 3)
    await page.keyboard.type('r')
    await expect.poll(() => page.locator('.cell-choice').allTextContents()).toEqual(['RH', 'RHR', 'LHR'])
    await press('ArrowDown', 'Enter')
    expect(await textOf('101', 'hand')).toBe('RHR')
    await press('F2')
    await page.locator('.cell-choice', { hasText: /^LH$/ }).click()
    expect(await textOf('102', 'hand')).toBe('LH')
    await press('ArrowDown')
    expect(await standing()).toBe('103.hand to 103.hand')
    expect(trouble).toEqual([])
  })
  it('shows typed text greyed until the owner answers', async () => {
    await owner('later')
    await click(0, 1)
    await page.keyboard.type('Porch')
    await press('Enter')
    expect(await cell(0, 1).textContent()).toBe('Porch')
    expect(await cell(0, 1).getAttribute('class')).toContain('waiting')
    expect(await textOf('101', 'where')).toBe('Main lobby, from forecourt')
    await expect.poll(() => cell(0, 1).getAttribute('class')).not.toContain('waiting')
    expect(await cell(0, 1).textContent()).toBe('Porch')
  })
  it('brings the old text back when the owner refuses', async () => {
    await owner('refuses')
    await click(0, 1)
    await page.keyboard.type('Porch')
    await press('Enter')
    expect(await cell(0, 1).textContent()).toBe('Porch')
    await expect.poll(() => cell(0, 1).textContent()).toBe('Main lobby, from forecourt')
  })
})

describe('keys that make their letter later', () => {
  it('opens the field in time for a dead key or an input method', async () => {
    await click(0, 1)
    const devtools = await parts.context.newCDPSession(page)
    await devtools.send('Input.dispatchKeyEvent', { type: 'rawKeyDown', key: 'Dead', code: 'Quote' })
    await devtools.send('Input.insertText', { text: 'é' })
    await press('Enter')
    expect(await textOf('101', 'where')).toBe('é')
  })
})

describe('cells and spreadsheets', () => {
  const clipboard = () => page.evaluate(() => navigator.clipboard.readText())
  const putOnClipboard = (text: string) =>
    page.evaluate((value) => navigator.clipboard.writeText(value), text)

  it('copies a block as tab-separated text', async () => {
    await click(0, 2)
    await press('Shift+ArrowDown', 'Shift+ArrowRight', 'Control+c')
    await expect
      .poll(async () => (await clipboard()).replaceAll('\r', ''))
      .toBe('PR 6-0 × 8-0\tLHR\n3-0 × 7-0\tRH')
  })
  it('pastes quoted cells with line breaks and tabs from the first cell on, and takes the block', async () => {
    await putOnClipboard('"Two\nlines"\t"4-0\tx"\r\n6\'-0"\tb\r\n')
    await click(0, 1)
    await press('Control+v')
    await expect.poll(() => textOf('101', 'where')).toBe('Two\nlines')
    expect(await textOf('101', 'size')).toBe('4-0\tx')
    expect(await textOf('102', 'where')).toBe('6\'-0"')
    expect(await standing()).toBe('101.where to 102.size')
    expect((await edits()).map(({ how, cells }) => [how, cells.length])).toEqual([['paste', 4]])
  })
  it('fills a selection with one copied cell, leaves locked cells alone and says so', async () => {
    await putOnClipboard('x')
    await click(0, 5)
    await press('Shift+ArrowDown', 'Shift+ArrowRight', 'Control+v')
    await expect.poll(() => textOf('102', 'typical')).toBe('x')
    expect(await page.evaluate(() => window.probe.leftOut)).toEqual([
      { how: 'paste', locked: 2, rowsBeyond: 0, columnsBeyond: 0 },
    ])
  })
  it('cuts, clears and fills down', async () => {
    await click(0, 1)
    await press('Shift+ArrowDown', 'Control+x')
    await expect.poll(() => textOf('102', 'where')).toBe('')
    expect((await clipboard()).replaceAll('\r', '')).toBe(
      'Main lobby, from forecourt\nRecords, from corridor 110',
    )
    await click(2, 2)
    await press('Shift+ArrowDown', 'Shift+ArrowDown', 'Control+d')
    expect(await textOf('105', 'size')).toBe('3-0 × 7-0')
    await press('Delete')
    expect(await textOf('103', 'size')).toBe('')
    expect((await edits()).map(({ how }) => how)).toEqual(['clear', 'fill', 'clear'])
  })
  it('brings its own copy back', async () => {
    await click(0, 1)
    await press('Shift+ArrowRight', 'Control+c')
    await click(5, 1)
    await press('Control+v')
    await expect.poll(() => textOf('106', 'where')).toBe('Main lobby, from forecourt')
  })
})

describe('pointer', () => {
  it('takes whole rows at the mark, and hands Delete to the owner', async () => {
    await click(1, 0)
    await cell(3, 0).click({ modifiers: ['Shift'] })
    expect(await page.evaluate(() => window.probe.selection?.form)).toBe('rows')
    expect(await page.locator('[data-row="2"] .cell.selected').count()).toBe(
      await page.locator('[data-row="2"] .cell').count(),
    )
    await press('Delete')
    expect(await page.evaluate(() => window.probe.removed)).toEqual([['102', '103', '104']])
    expect(await edits()).toEqual([])
  })
  it('selects by dragging', async () => {
    await cell(0, 2).hover()
    await page.mouse.down()
    await cell(2, 4).hover()
    await expect.poll(standing).toBe('101.size to 103.label')
    await page.mouse.up()
    await cell(5, 5).hover()
    expect(await standing()).toBe('101.size to 103.label')
  })
  it('widens a column by its edge without sorting', async () => {
    const heading = page.locator('[data-heading="2"]')
    const box = await heading.boundingBox()
    if (box === null) throw new Error('the heading is not drawn')
    await page.mouse.move(box.x + box.width - 3, box.y + 20)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width + 37, box.y + 20, { steps: 4 })
    await page.mouse.up()
    await expect.poll(async () => (await heading.boundingBox())?.width).toBe(box.width + 40)
    expect(await heading.getAttribute('aria-sort')).toBe('none')
  })
  it('fits a column to what is shown of it by a double click on its edge', async () => {
    const heading = page.locator('[data-heading="1"]')
    const widthNow = async () => (await heading.boundingBox())?.width ?? 0
    const before = await widthNow()
    await heading.locator('.grip').dblclick()
    await expect.poll(widthNow).not.toBe(before)
    const spare = await page.locator('[data-column="1"] .cell-text').evaluateAll((texts) =>
      texts.map((text) => {
        const range = document.createRange()
        range.selectNodeContents(text)
        return text.clientWidth - range.getBoundingClientRect().width
      }),
    )
    // Nothing is cut off, and the widest text leaves next to nothing over.
    expect(Math.min(...spare)).toBeGreaterThan(-1)
    expect(Math.min(...spare)).toBeLessThan(12)
    expect(await heading.getAttribute('aria-sort')).toBe('none')
  })
  it('fills by the corner of the selection: down, repeating what is selected, as one change', async () => {
    await click(0, 1)
    await press('Shift+ArrowDown')
    const corner = (await page.locator('.fill-handle').boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 }
    await page.mouse.move(corner.x + corner.width / 2, corner.y + corner.height / 2)
    await page.mouse.down()
    await cell(4, 2).hover()
    await expect.poll(() => page.locator('.cell.to-fill').count()).toBe(5)
    await page.mouse.up()
    await expect.poll(() => textOf('105', 'where')).toBe('Main lobby, from forecourt')
    expect(await textOf('104', 'where')).toBe('Records, from corridor 110')
    expect(await standing()).toBe('101.where to 105.where')
    expect((await edits()).map(({ how, cells }) => [how, cells.length])).toEqual([['fill', 3]])
    expect(await page.locator('.cell.to-fill').count()).toBe(0)
  })
  it('leaves everything alone when the corner is let go where it was, or by Escape; locked cells have none', async () => {
    await click(0, 1)
    const pull = async (): Promise<void> => {
      const corner = (await page.locator('.fill-handle').boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 }
      await page.mouse.move(corner.x + corner.width / 2, corner.y + corner.height / 2)
      await page.mouse.down()
    }
    await pull()
    await page.mouse.up()
    await pull()
    await cell(3, 1).hover()
    await expect.poll(() => page.locator('.cell.to-fill').count()).toBe(4)
    await press('Escape')
    await page.mouse.up()
    expect(await page.locator('.cell.to-fill').count()).toBe(0)
    expect(await edits()).toEqual([])
    await click(0, 6)
    expect(await page.locator('.fill-handle').count()).toBe(0)
  })
  it('keeps frozen columns and the heading in place', async () => {
    await page.setViewportSize({ width: 1024, height: 700 })
    const left = async (row: number, column: number) => (await cell(row, column).boundingBox())?.x
    const before = [await left(1, 0), await left(1, 1)]
    await click(0, 2)
    await press('End')
    await expect.poll(() => page.locator('.table').evaluate((table) => table.scrollLeft)).toBeGreaterThan(300)
    expect([await left(1, 0), await left(1, 1)]).toEqual(before)
    // Back to the second column after the frozen ones: it comes out from behind them.
    await press('Home', 'ArrowRight', 'ArrowRight')
    const frozenEnd = (await cell(1, 1).boundingBox()) ?? { x: 0, width: 0 }
    expect((await cell(0, 2).boundingBox())?.x).toBeGreaterThanOrEqual(frozenEnd.x + frozenEnd.width)
    await press('Control+End')
    const top = async () => (await page.locator('.table-heading').boundingBox())?.y
    const table = await page.locator('.table').boundingBox()
    expect(await top()).toBe(table?.y)
  })
  it('opens a menu for what is selected, by right click and by key', async () => {
    await cell(4, 2).click({ button: 'right' })
    await page.getByRole('menuitem', { name: 'Clear' }).click()
    await expect.poll(() => textOf('105', 'size')).toBe('')
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.getAttribute('role')))
      .toBe('treegrid')
    await press('ArrowDown', 'Shift+F10')
    await page.getByRole('menuitem', { name: 'Open the page' }).waitFor()
    await press('Escape')
    await expect.poll(() => page.getByRole('menu').count()).toBe(0)
    expect(trouble).toEqual([])
  })
})
