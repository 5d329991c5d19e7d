// What is looked for on every sheet: what axe finds, and what stands where nobody can reach it.
import { AxeBuilder } from '@axe-core/playwright'
import type { Page } from 'playwright-core'

/** What axe finds, as short sentences. */
export async function faults(page: Page): Promise<readonly string[]> {
  // The other way opens a tab of its own, and this one loses the focus and closes its menus.
  const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze()
  return violations.flatMap(({ id, nodes }) => {
    // A key shown beside the words is told as a description, not in the name (WCAG 2.5.3 asks for the words).
    const counted = nodes.filter(
      ({ html }) => id !== 'label-content-name-mismatch' || !/<kbd|"menu-line"/.test(html),
    )
    const where = counted.slice(0, 3).map(({ html }) => html.slice(0, 160))
    return counted.length === 0 ? [] : [`${id}: ${where.join(' | ')}`]
  })
}

/** What stands outside the window and cannot be scrolled to. */
export const cutOff = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const out: string[] = []
    const { scrollWidth, clientWidth, scrollHeight, clientHeight } = document.documentElement
    if (scrollWidth > clientWidth) out.push(`the page is ${scrollWidth - clientWidth} pixels too wide`)
    if (scrollHeight > clientHeight) out.push(`the page is ${scrollHeight - clientHeight} pixels too high`)
    const scrolls = (element: Element): boolean => {
      for (let at = element.parentElement; at !== null; at = at.parentElement)
        if (/auto|scroll/.test(getComputedStyle(at).overflow) && at !== document.documentElement) return true
      return false
    }
    for (const each of document.querySelectorAll('button, input, select, textarea')) {
      const box = each.getBoundingClientRect()
      if (box.width === 0 || each.closest('.for-ears, [hidden]') !== null) continue
      const outside =
        box.left < -1 || box.top < -1 || box.right > innerWidth + 1 || box.bottom > innerHeight + 1
      if (outside && !scrolls(each))
        out.push(`outside: ${each.textContent || each.getAttribute('aria-label')}`)
    }
    return out
  })
