// The desktop window's binary: fetched once where it can be had, and not asked for again where it cannot.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeEach, expect, test } from 'vitest'
import { desktopBinary, runElectronInstaller } from '../../../electron/packaging/fetch-electron.ts'

const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-fetch-'))
const packageFolder = path.join(folder, 'electron')
const home = path.join(folder, 'home')
afterAll(() => rmSync(folder, { recursive: true, force: true }))
beforeEach(() => {
  rmSync(packageFolder, { recursive: true, force: true })
  rmSync(home, { recursive: true, force: true })
  mkdirSync(packageFolder, { recursive: true })
  writeFileSync(path.join(packageFolder, 'package.json'), '{"version":"45.4.1"}')
})

function bring(): void {
  mkdirSync(path.join(packageFolder, 'dist'), { recursive: true })
  writeFileSync(path.join(packageFolder, 'path.txt'), 'electron')
  writeFileSync(path.join(packageFolder, 'dist/electron'), '')
}

function asking(can: boolean) {
  const said: string[] = []
  let tries = 0
  const ask = (again = false) =>
    desktopBinary({
      packageFolder,
      home,
      again,
      say: (line) => said.push(line),
      install: () => {
        tries += 1
        if (can) bring()
        return Promise.resolve(can)
      },
    })
  return { ask, said, tries: () => tries }
}

test('one that is there is used without a word', async () => {
  bring()
  const { ask, said, tries } = asking(false)
  expect(await ask()).toBe(path.join(packageFolder, 'dist/electron'))
  expect([tries(), said]).toEqual([0, []])
})

test('one that can be had is fetched and used', async () => {
  const { ask, said } = asking(true)
  expect(await ask()).toBe(path.join(packageFolder, 'dist/electron'))
  expect(said[0]).toMatch(/^Fetching the desktop window, Electron 45\.4\.1, once\./)
})

test('one that cannot be had is tried once, said, and tried again only when asked', async () => {
  const { ask, said, tries } = asking(false)
  expect([await ask(), await ask(), tries()]).toEqual([null, null, 1])
  expect(said.at(-1)).toContain('opens in the browser')
  expect([await ask(true), tries()]).toEqual([null, 2])
})

test('another version of Electron is tried anew', async () => {
  const { ask, tries } = asking(false)
  await ask()
  writeFileSync(path.join(packageFolder, 'package.json'), '{"version":"46.0.0"}')
  await ask()
  expect(tries()).toBe(2)
})

test('a package without an installer, and an installer that fails, are no window', async () => {
  expect(await runElectronInstaller(packageFolder)).toBe(false)
  writeFileSync(path.join(packageFolder, 'install.js'), 'process.exit(3)')
  expect(await runElectronInstaller(packageFolder)).toBe(false)
})
