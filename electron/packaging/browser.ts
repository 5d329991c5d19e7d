// Finds Electron's binary, or a browser of this machine that can show one page as a window.
import { accessSync, constants, existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
import type { Machine } from '../machine.ts'

/**
 * Electron's binary, where it has been fetched before, or null.
 * Reads the files of its package. Importing the package would start a download.
 */
export function electronBinary(packageFolder: string): string | null {
  const nameFile = path.join(packageFolder, 'path.txt')
  if (!existsSync(nameFile)) return null
  const binary = path.join(packageFolder, 'dist', readFileSync(nameFile, 'utf8').trim())
  return existsSync(binary) ? binary : null
}

const isProgram = (file: string): boolean => {
  try {
    accessSync(file, constants.X_OK)
    return true
  } catch {
    return false
  }
}

const linuxNames = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
]
const linuxFolders = ['/usr/bin', '/usr/local/bin', '/snap/bin']
const macApplications = ['Google Chrome', 'Chromium', 'Microsoft Edge']
const windowsPlaces = [
  'Google\\Chrome\\Application\\chrome.exe',
  'Chromium\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
]

const placesOn = ({ platform, environment, personFolder }: Machine): readonly string[] => {
  if (platform === 'darwin')
    return ['/Applications', path.join(personFolder, 'Applications')].flatMap((folder) =>
      macApplications.map((name) => path.join(folder, `${name}.app`, 'Contents', 'MacOS', name)),
    )
  if (platform === 'win32')
    return [environment['ProgramFiles'], environment['ProgramFiles(x86)'], environment['LOCALAPPDATA']]
      .filter((folder) => folder !== undefined)
      .flatMap((folder) => windowsPlaces.map((place) => path.win32.join(folder, place)))
  const folders = [
    ...(environment['PATH'] ?? '').split(':').filter((folder) => path.isAbsolute(folder)),
    ...linuxFolders,
  ]
  return linuxNames.flatMap((name) => folders.map((folder) => path.join(folder, name)))
}

/** A Chromium browser in one of the usual places, or null. CHROMIUM names one of your own. */
export function findBrowser(machine: Machine, exists: (file: string) => boolean = isProgram): string | null {
  const own = machine.environment['CHROMIUM']
  if (own && exists(own)) return own
  return placesOn(machine).find(exists) ?? null
}

/** Whether this machine has a screen to open a window on. */
export const hasScreen = ({ platform, environment }: Machine): boolean =>
  platform !== 'linux' || Boolean(environment['DISPLAY'] || environment['WAYLAND_DISPLAY'])

/**
 * How a browser is started to show one address as a window of its own.
 * The profile is the program's own, so nothing of the person's browser is read or changed. Other accounts on the machine
 * can see these words while the browser runs; the token in the address has been used up by then.
 */
export const browserWords = (address: string, profileFolder: string, isRoot: boolean): readonly string[] => [
  `--app=${address}`,
  `--user-data-dir=${profileFolder}`,
  '--window-size=1440,900',
  '--no-first-run',
  '--no-default-browser-check',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-default-apps',
  '--disable-sync',
  '--disable-features=Translate',
  // Chromium refuses to start as root with its sandbox on.
  ...(isRoot ? ['--no-sandbox'] : []),
]
