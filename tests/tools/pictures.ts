// Renews the pictures of the README from the demo job: node tests/tools/pictures.ts
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Page } from 'playwright-core'
import { openProgram } from '../../electron/calls/index.ts'
import { startLocalHost } from '../../electron/local-host.ts'
import { buildStaleApart, builtPagesFolder } from '../../electron/packaging/build.ts'
import { readPages } from '../../electron/pages.ts'
import type { Answer, MadeFile } from '../../core/contract/index.ts'
import { plainArrangement, usualColumns } from '../../core/schedule/index.ts'
import { startChromium } from './chromium.ts'
import { root } from './tool.ts'

const pictures = path.join(root, 'fixtures/pictures')
const home = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-pictures-'))
await buildStaleApart()
let made = 0
const program = await openProgram({
  home,
  jobsFolder: path.join(home, 'jobs'),
  who: 'Project manager',
  // Pictures do not change because a day went by.
  now: () => '2026-03-14T09:00:00Z',
  newId: () => `picture-${(made += 1)}`,
})
const host = await startLocalHost({ answer: program.answer, pages: readPages(builtPagesFolder) })
const browser = await startChromium({ width: 1440, height: 900 })

const shoot = (page: Page, name: string) => page.screenshot({ path: path.join(pictures, `${name}.png`) })

async function shootPaper(): Promise<void> {
  const answer = (await program.answer({
    call: 'print.schedule',
    input: { pageSize: 'tabloid', arrangement: plainArrangement, columns: [...usualColumns] },
  })) as Answer<MadeFile>
  if (!answer.ok) throw new Error(answer.problem.sentence)
  const pdf = path.join(home, 'schedule.pdf')
  writeFileSync(pdf, Buffer.from(answer.value.base64, 'base64'))
  execFileSync('pdftoppm', [
    '-r',
    '80',
    '-f',
    '1',
    '-l',
    '1',
    '-singlefile',
    '-png',
    pdf,
    path.join(pictures, 'paper'),
  ])
}

try {
  const page = await browser.context.newPage()
  await page.goto(host.launchAddress)
  await page.getByRole('treegrid').waitFor()
  await page.evaluate(() => document.fonts.ready)
  // Down to an opening whose hand nobody has said, so that the margin has something to ask.
  await page.getByText('Imaging control, from 127').click()
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('ArrowRight')
  await page.waitForTimeout(300)
  await shoot(page, 'schedule')

  await page.getByText('Pharmacy store, from 117').click()
  await page.keyboard.press('Space')
  await page.getByRole('heading', { name: 'Fittings' }).waitFor()
  await shoot(page, 'opening')

  const shootPlace = async (place: string, name: string): Promise<void> => {
    await page.evaluate((hash) => (location.hash = hash), `#/${place}`)
    await page.waitForTimeout(1200)
    await shoot(page, name)
  }
  await shootPlace('cautions', 'cautions')
  await shootPlace('supply/supply-ps3', 'power')
  await shootPlace('proof/opening-223', 'proof')
  await shootPlace('call/opening-118', 'call')
  await shootPlace('handover', 'handover')

  await page
    .locator('input[type=file][accept*=xlsx]')
    .setInputFiles(path.join(root, 'fixtures/intake/units-mixed.xlsx'))
  await page.getByRole('heading', { name: 'Take in' }).waitFor()
  await shoot(page, 'take-in')
  await shootPaper()
} finally {
  await browser.close()
  await host.close()
  await program.close()
  rmSync(home, { recursive: true, force: true })
}
