// A real Chromium for tests, quiet and with a profile that is thrown away.
import { mkdtempSync, rmSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { chromium, type BrowserContext } from 'playwright-core'
import { browserFile } from './skipping-reasons.ts'

export interface TestBrowser {
  readonly context: BrowserContext
  readonly close: () => Promise<void>
}

const quietWords = [
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

/** Starts Chromium. Throws where there is none: see lacksBrowser. */
export async function startChromium(size = { width: 1440, height: 900 }): Promise<TestBrowser> {
  const executablePath = browserFile()
  if (executablePath === null) throw new Error('No Chromium browser was found')
  const profile = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-chromium-'))
  const isRoot = process.getuid?.() === 0
  const context = await chromium.launchPersistentContext(profile, {
    executablePath,
    headless: true,
    viewport: size,
    args: [...quietWords, ...(isRoot ? ['--no-sandbox'] : [])],
  })
  return {
    context,
    close: async () => {
      await context.close()
      rmSync(profile, { recursive: true, force: true })
    },
  }
}
