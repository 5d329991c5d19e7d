// What this machine may lack, as sentences. Apart from skipping.ts, so that npm test can say them without vitest.
import { existsSync } from 'node:fs'
import path from 'node:path'
import { thisMachine } from '../../electron/machine.ts'
import { electronBinary, findBrowser } from '../../electron/packaging/browser.ts'
import { root } from './tool.ts'

/** Null when it is there, else the sentence to print. */
export type Lack = string | null

/** The open data beside the project. */
export const openDataFolder = path.resolve(root, '../shared/data')

export const lacksOpenData = (): Lack =>
  existsSync(openDataFolder) ? null : 'the open data is not there: ../shared/data, beside the project'

export const browserFile = (): string | null => findBrowser(thisMachine())

export const lacksBrowser = (): Lack =>
  browserFile() === null ? 'no Chromium browser was found: install one, or name it in CHROMIUM' : null

export const electronFile = (): string | null => electronBinary(path.join(root, 'node_modules/electron'))

export const lacksElectron = (): Lack =>
  electronFile() === null
    ? "Electron's binary is not there: npx install-electron fetches it where its host can be reached"
    : null
