// What a person meets: the file opened, edits, scrolling, and the memory of the host meanwhile.
import { fork, type ChildProcess } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { startChromium, type TestBrowser } from '../tools/chromium.ts'
import type { HostStarted } from './host-process.ts'
import { share, type BenchLine } from './lines.ts'
import { stopBlank, watchBlank, watchEdits, watchFirstRows } from './page-watch.ts'

export interface WindowBench {
  readonly jobFile: string
  readonly home: string
  readonly pagesFolder: string
  readonly openings: number
  readonly edits: number
  /** Times the file is opened; the middle one counts. */
  readonly opens: number
  readonly scrollMilliseconds: number
}

interface Host extends HostStarted {
  readonly child: ChildProcess
  readonly end: () => Promise<void>
}

async function startHost({ jobFile, home, pagesFolder }: WindowBench): Promise<Host> {
  const child = fork(path.join(import.meta.dirname, 'host-process.ts'), [jobFile, pagesFolder], {
    env: { ...process.env, LINTELBOOK_HOME: home },
    execArgv: [],
  })
  const started = await new Promise<HostStarted>((resolve, reject) => {
    child.once('message', (said) => resolve(said as HostStarted))
    child.once('exit', (code) => reject(new Error(`The host ended with ${code} before it served`)))
  })
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()))
  const end = async (): Promise<void> => {
    child.disconnect()
    await ended
  }
  return { ...started, child, end }
}

/** The most memory the process ever had, in MB of 1,000,000 bytes; null where the system does not say. */
export function peakMegabytes(pid: number | undefined): number | null {
  const file = `/proc/${pid}/status`
  if (pid === undefined || !existsSync(file)) return null
  const kibibytes = /^VmHWM:\s+(\d+) kB/m.exec(readFileSync(file, 'utf8'))?.[1]
  return kibibytes === undefined ? null : (Number(kibibytes) * 1024) / 1_000_000
}

/** From the start of openProgram, and then of the page, to the first rows painted. */
async function openOnce(
  page: Page,
  host: Host,
): Promise<{ readonly total: number; readonly pageOnly: number }> {
  const gone = Date.now()
  await page.goto(host.launchAddress)
  await page.waitForFunction(() => window.benchWatch.firstRows !== null)
  const pageOnly = (await page.evaluate(() => window.benchWatch.firstRows ?? 0)) - gone
  return { total: host.openMilliseconds + pageOnly, pageOnly }
}

async function timeEdits(page: Page, edits: number): Promise<readonly BenchLine[]> {
  await page.locator('.table').focus()
  await page.keyboard.press('Control+Home')
  await page.keyboard.press('ArrowRight')
  await page.evaluate(watchEdits)
  for (let turn = 1; turn <= edits; turn += 1) {
    await page.keyboard.type(`Room ${turn}`)
    await page.keyboard.press('Enter')
    await page.waitForFunction((wanted) => window.benchWatch.toKept.length >= wanted, turn)
  }
  const { toPaint, toKept } = await page.evaluate(() => window.benchWatch)
  const how = `Enter to paint, ${edits} edits, median ${share(toPaint, 0.5).toFixed(0)} ms`
  return [
    {
      what: 'b  one edit to paint, p95',
      measured: share(toPaint, 0.95),
      unit: 'ms',
      goal: { atMost: 50 },
      how,
    },
    {
      what: 'b  the same until it is kept in the file and drawn, p95',
      measured: share(toKept, 0.95),
      unit: 'ms',
      how: `median ${share(toKept, 0.5).toFixed(0)} ms`,
    },
  ]
}

const ways = [
  { words: 'slow, 40 pixels a frame', step: 40, jump: false, wheel: 0 },
  { words: 'quick, 400 pixels a frame', step: 400, jump: false, wheel: 0 },
  { words: 'very quick, 3,000 pixels a frame', step: 3000, jump: false, wheel: 0 },
  { words: 'dragging the bar to far places', step: 0, jump: true, wheel: 0 },
  { words: 'the wheel, 1,200 pixels a turn', step: 0, jump: false, wheel: 1200 },
] as const

async function timeScrolling(page: Page, milliseconds: number): Promise<readonly BenchLine[]> {
  const lines: BenchLine[] = []
  const box = await page.locator('.table').boundingBox()
  await page.mouse.move((box?.x ?? 0) + 300, (box?.y ?? 0) + 300)
  for (const { words, step, jump, wheel } of ways) {
    await page.keyboard.press('Control+Home')
    await page.waitForTimeout(200)
    await page.evaluate(watchBlank, { step, jump })
    const end = Date.now() + milliseconds
    while (Date.now() < end) {
      if (wheel > 0) await page.mouse.wheel(0, wheel)
      await page.waitForTimeout(16)
    }
    const { longest, frames, blankFrames } = await page.evaluate(stopBlank)
    lines.push({
      what: `c  scrolling, ${words}: longest blank`,
      measured: longest,
      unit: 'ms',
      goal: { atMost: 100 },
      how: `${frames} frames, ${blankFrames} scrolled past what was drawn`,
    })
  }
  return lines
}

/** Everything that goes through a window. Needs Chromium and built pages. */
export async function measureInWindow(bench: WindowBench): Promise<readonly BenchLine[]> {
  const totals: number[] = []
  const pages: number[] = []
  const hosts: number[] = []
  let lines: readonly BenchLine[] = []
  for (let turn = 1; turn <= bench.opens; turn += 1) {
    const browser: TestBrowser = await startChromium()
    const host = await startHost(bench)
    try {
      const page = await browser.context.newPage()
      await page.addInitScript(watchFirstRows)
      const { total, pageOnly } = await openOnce(page, host)
      totals.push(total)
      pages.push(pageOnly)
      hosts.push(host.openMilliseconds)
      if (turn === bench.opens) lines = await workIn(page, host, bench)
    } finally {
      await host.end()
      await browser.close()
    }
  }
  return [
    {
      what: 'a  file to usable schedule',
      measured: share(totals, 0.5),
      unit: 'ms',
      goal: { atMost: 2500 },
      how: `middle of ${bench.opens}: host ${share(hosts, 0.5).toFixed(0)} ms, then page ${share(pages, 0.5).toFixed(0)} ms`,
    },
    ...lines,
  ]
}

async function workIn(page: Page, { child }: Host, bench: WindowBench): Promise<readonly BenchLine[]> {
  const atStart = peakMegabytes(child.pid)
  const lines = [
    ...(await timeEdits(page, bench.edits)),
    ...(await timeScrolling(page, bench.scrollMilliseconds)),
  ]
  const peak = peakMegabytes(child.pid)
  return [
    ...lines,
    peak === null
      ? { what: 'd  memory of the host', because: 'this system keeps no peak of it in /proc' }
      : {
          what: 'd  memory of the host, peak',
          measured: peak,
          unit: 'MB',
          goal: { atMost: 400 },
          how: `resident; ${(atStart ?? 0).toFixed(0)} MB once the schedule stood`,
        },
  ]
}
