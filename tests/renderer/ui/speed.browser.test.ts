import { loadavg } from 'node:os'
import type { CDPSession, Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openParts, type Parts } from './page/browser.ts'

let parts: Parts
let page: Page
let devtools: CDPSession

beforeAll(async () => {
  parts = await openParts()
  ;({ page } = await parts.open('?rows=10000'))
  devtools = await parts.context.newCDPSession(page)
  await devtools.send('Performance.enable', { timeDomain: 'threadTicks' })
}, 120_000)
afterAll(async () => {
  await parts.close()
})

const share = (values: readonly number[], part: number): number =>
  values.toSorted((one, other) => one - other)[
    Math.min(values.length - 1, Math.floor(values.length * part))
  ] ?? 0

const print = (what: string, values: readonly number[]): void => {
  const [middle, high] = [share(values, 0.5), share(values, 0.95)]
  const load = (loadavg()[0] ?? 0).toFixed(1)
  console.log(
    `${what}: median ${middle.toFixed(1)} ms, p95 ${high.toFixed(1)} ms, ${values.length} times, machine load ${load}`,
  )
}

declare global {
  interface Window {
    times: number[]
    blank: { longest: number; frames: number; blankFrames: number; stop: () => void }
  }
}

/** From the key to the task after the next frame was drawn. */
const watchKey = (key: string) =>
  page.evaluate((wanted) => {
    window.times = []
    window.addEventListener(
      'keydown',
      (event) => {
        if (event.key !== wanted) return
        const start = performance.now()
        requestAnimationFrame(() => {
          const channel = new MessageChannel()
          channel.port1.addEventListener('message', () => window.times.push(performance.now() - start), {
            once: true,
          })
          channel.port1.start()
          channel.port2.postMessage(null)
        })
      },
      true,
    )
  }, key)

/** Milliseconds of processor time of the page's main thread so far: others at work on the machine do not count. */
const processorTime = async (): Promise<number> => {
  const { metrics } = await devtools.send('Performance.getMetrics')
  return (metrics.find((metric) => metric.name === 'TaskDuration')?.value ?? 0) * 1000
}
/** Processor time of the main thread for one of `count` turns. */
const costOf = async (what: string, count: number, turn: () => Promise<void>): Promise<number> => {
  const before = await processorTime()
  for (let done = 0; done < count; done += 1) await turn()
  const cost = ((await processorTime()) - before) / count
  console.log(`${what}: ${cost.toFixed(1)} ms of processor time each`)
  return cost
}

/** How long, at most, any part of the body stood without rows. */
const watchBlank = () =>
  page.evaluate(() => {
    const table = document.querySelector('.table')
    const heading = document.querySelector('.table-heading')
    const watch = { longest: 0, frames: 0, blankFrames: 0, stop: () => {} }
    let running = true
    let since: number | null = null
    const look = (now: number): void => {
      if (!running || table === null || heading === null) return
      const top = heading.getBoundingClientRect().bottom
      const bottom = table.getBoundingClientRect().bottom
      const spans = [...document.querySelectorAll('.table-row, .table-group')]
        .map((row) => row.getBoundingClientRect())
        .filter((box) => box.bottom > top && box.top < bottom)
        .toSorted((one, other) => one.top - other.top)
      let covered = top
      for (const span of spans) if (span.top <= covered + 1) covered = Math.max(covered, span.bottom)
      watch.frames += 1
      if (covered < bottom - 1) {
        watch.blankFrames += 1
        since ??= now
      } else if (since !== null) {
        // Until the frame that has rows again: one blank frame counts with its whole length.
        watch.longest = Math.max(watch.longest, now - since)
        since = null
      }
      requestAnimationFrame(look)
    }
    watch.stop = () => {
      running = false
    }
    window.blank = watch
    requestAnimationFrame(look)
  })
const blank = () =>
  page.evaluate(() => {
    window.blank.stop()
    const { longest, frames, blankFrames } = window.blank
    return { longest, frames, blankFrames }
  })

describe('10,000 rows by 20 columns', () => {
  it('draws an edit soon, and only the rows it concerns', async () => {
    const table = page.locator('.table')
    expect(await table.getAttribute('aria-rowcount')).toBe(String(10_000 + 4 + 1))
    expect(await table.getAttribute('aria-colcount')).toBe('20')
    await page.locator('[data-row="0"] [data-column="1"]').click()
    await watchKey('Enter')
    const cost = await costOf('a letter and Enter', 60, async () => {
      await page.keyboard.type('x')
      await page.keyboard.press('Enter')
    })
    await expect.poll(() => page.evaluate(() => window.times.length)).toBe(60)
    const times = await page.evaluate(() => window.times)
    print('edit to paint', times)
    // The goal, 50 ms from key to paint, is for a quiet machine and the bench's to judge; here the work itself is
    // judged: two keys, each with its own frame.
    expect(cost).toBeLessThan(2 * 50)

    await page.keyboard.type('y')
    const drawnBefore = await page.evaluate(() => window.probe.drawn)
    await page.keyboard.press('Enter')
    await page.waitForTimeout(300)
    const drawn = (await page.evaluate(() => window.probe.drawn)) - drawnBefore
    console.log(`rows drawn for one edit and the step down: ${drawn}`)
    expect(drawn).toBeLessThanOrEqual(12)
  })
  it('moves by arrow soon', async () => {
    await page.keyboard.press('Control+Home')
    await watchKey('ArrowDown')
    const cost = await costOf('an arrow', 60, () => page.keyboard.press('ArrowDown'))
    print('arrow to paint', await page.evaluate(() => window.times))
    expect(cost).toBeLessThan(50)
  })
  it('fills 500 cells soon', async () => {
    await page.keyboard.press('Control+Home')
    await page.keyboard.press('ArrowRight')
    await page.evaluate(() => navigator.clipboard.writeText('pasted\n'.repeat(500)))
    await watchKey('v')
    await page.keyboard.press('Control+v')
    await expect.poll(() => page.evaluate(() => window.probe.text('600', 'where'))).toBe('pasted')
    await expect.poll(() => page.evaluate(() => window.times.length)).toBe(1)
    print('500 cells pasted', await page.evaluate(() => window.times))
  })
  it('never stands blank while one scrolls fast, by wheel or by jumps', async () => {
    const box = await page.locator('.table').boundingBox()
    if (box === null) throw new Error('the table is not drawn')
    await page.mouse.move(box.x + 300, box.y + 300)
    await watchBlank()
    const start = Date.now()
    for (let turn = 0; turn < 80; turn += 1) await page.mouse.wheel(0, 400)
    const seconds = (Date.now() - start) / 1000
    await page.waitForTimeout(200)
    const wheel = await blank()
    const speed = Math.round((80 * 400) / seconds)
    console.log(
      `wheel at ${speed} px/s: blank at most ${wheel.longest.toFixed(0)} ms, ${wheel.blankFrames} of ${wheel.frames} frames`,
    )
    // The goal is 100 ms on a quiet machine; the bench holds to it.
    expect(wheel.longest).toBeLessThan(250)
    await watchBlank()
    await page.evaluate(async () => {
      const table = document.querySelector('.table')
      for (let jump = 0; jump < 20 && table !== null; jump += 1) {
        table.scrollTop = ((jump * 7919) % 9000) * 34
        await new Promise((resolve) => setTimeout(resolve, 60))
      }
    })
    const jumps = await blank()
    console.log(
      `20 jumps: blank at most ${jumps.longest.toFixed(0)} ms, ${jumps.blankFrames} of ${jumps.frames} frames`,
    )
    expect(jumps.longest).toBeLessThan(250)
    expect(jumps.frames).toBeGreaterThan(5)
  })
})
