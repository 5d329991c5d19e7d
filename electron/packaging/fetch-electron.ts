// Electron's package fetches its binary at first use, not at install. This is that first use, tried once.
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { electronBinary } from './browser.ts'

const longestMilliseconds = 180_000

/** Runs the package's own installer, which checks what it fetched against its checksums. False when it cannot be had. */
export function runElectronInstaller(packageFolder: string): Promise<boolean> {
  const installer = path.join(packageFolder, 'install.js')
  if (!existsSync(installer)) return Promise.resolve(false)
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [installer], { stdio: 'ignore', timeout: longestMilliseconds })
    child.once('error', () => resolve(false))
    child.once('exit', (code) => resolve(code === 0))
  })
}

export interface DesktopAsked {
  readonly packageFolder: string
  /** The program's own folder: it is noted there when the binary could not be had. */
  readonly home: string
  /** Try again although it failed before. */
  readonly again: boolean
  readonly install: (packageFolder: string) => Promise<boolean>
  readonly say: (line: string) => void
}

const noteFile = (home: string): string => path.join(home, 'no-desktop-window.txt')

function failedBefore(home: string, version: string): boolean {
  try {
    return readFileSync(noteFile(home), 'utf8').trim() === version
  } catch {
    return false
  }
}

/** Electron's binary, fetched when it is not there yet; null where it cannot be had. */
export async function desktopBinary(asked: DesktopAsked): Promise<string | null> {
  const { packageFolder, home, say } = asked
  const present = electronBinary(packageFolder)
  if (present !== null) return present
  const { version } = JSON.parse(readFileSync(path.join(packageFolder, 'package.json'), 'utf8')) as {
    version: string
  }
  if (!asked.again && failedBefore(home, version)) return null
  say(`Fetching the desktop window, Electron ${version}, once. This can take a few minutes.`)
  const binary = (await asked.install(packageFolder)) ? electronBinary(packageFolder) : null
  if (binary !== null) return binary
  mkdirSync(home, { recursive: true })
  writeFileSync(noteFile(home), `${version}\n`)
  say(
    'It cannot be had on this machine, so the program opens in the browser. npm start -- --fetch tries again.',
  )
  return null
}
