// One browser for a file of tests, one program for each of them.
import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest'
import type { Page } from 'playwright-core'
import type { TestBrowser } from '../tools/chromium.ts'
import { startBrowser, startProgram, textOf, type Running, type StartWith } from './program.ts'

export interface Stage {
  readonly page: Page
  readonly running: Running
  /** Another program beside the first; closed with it. */
  readonly another: (rest: Omit<StartWith, 'browser'>) => Promise<Running>
}

/** Call inside describe. Every test gets a fresh program on a fresh demo job, and must leave no trouble behind. */
export function withProgram(): Stage {
  let browser: TestBrowser
  let running: Running
  let others: Running[] = []
  beforeAll(async () => {
    browser = await startBrowser()
  })
  afterAll(() => browser.close())
  beforeEach(async () => {
    others = []
    running = await startProgram({ browser })
  })
  afterEach(async () => {
    for (const each of [...others, running]) expect(each.trouble).toEqual([])
    for (const each of [...others, running]) await each.close()
  })
  return {
    get page() {
      return running.page
    },
    get running() {
      return running
    },
    another: async (rest) => {
      const other = await startProgram({ browser, ...rest })
      others.push(other)
      return other
    },
  }
}

/** Waits until a cell that is drawn says this. */
export const expectText = (page: Page, mark: string, heading: string, text: string): Promise<void> =>
  expect.poll(() => textOf(page, mark, heading), { timeout: 5000 }).toBe(text)
