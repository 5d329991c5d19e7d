// The desktop window: how it is made, what it refuses, and where it stood last time.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { BrowserWindow, screen, session, shell, type App, type WebContents } from 'electron'
import { appOrigin, mayLoad, mayOpenOutside, windowPreferences } from './guard.ts'

export interface Place {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

export interface WindowState extends Partial<Pick<Place, 'x' | 'y'>> {
  readonly width: number
  readonly height: number
  readonly maximised: boolean
}

// The sandbox takes only a built file. Paths are those of the source tree; the build keeps them true.
const preloadFile = path.join(import.meta.dirname, '../dist/electron/preload.cjs')

const smallest = { width: 1024, height: 700 }
const firstState: WindowState = { width: 1440, height: 900, maximised: false }

const isWhole = (value: unknown): value is number => Number.isSafeInteger(value)

const overlaps = (a: Place, b: Place): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height

/** The remembered state; what cannot be read, or lies on a screen that is gone, falls back. */
export function windowStateFrom(text: string, screens: readonly Place[]): WindowState {
  let kept: Partial<Record<keyof Place | 'maximised', unknown>>
  try {
    kept = Object(JSON.parse(text)) as typeof kept
  } catch {
    return firstState
  }
  if (!isWhole(kept.width) || !isWhole(kept.height)) return firstState
  const width = Math.max(kept.width, smallest.width)
  const height = Math.max(kept.height, smallest.height)
  const state = { width, height, maximised: kept.maximised === true }
  if (!isWhole(kept.x) || !isWhole(kept.y)) return state
  const place = { x: kept.x, y: kept.y, width, height }
  return screens.some((one) => overlaps(place, one)) ? { ...place, maximised: state.maximised } : state
}

const readText = (file: string): string => {
  try {
    return readFileSync(file, 'utf8')
  } catch {
    return ''
  }
}

/** Refusals that hold for every page the program ever shows. */
export function hardenContents(contents: WebContents): void {
  contents.on('will-navigate', (event) => event.preventDefault())
  contents.on('will-frame-navigate', (event) => event.preventDefault())
  contents.on('will-redirect', (event) => event.preventDefault())
  contents.on('will-attach-webview', (event) => event.preventDefault())
  contents.setWindowOpenHandler(({ url }) => {
    if (mayOpenOutside(url)) setImmediate(() => void shell.openExternal(url))
    return { action: 'deny' }
  })
}

/** No permissions, no devices, nothing from the network; downloads ask where to go. */
export function hardenSession(app: App): void {
  const own = session.defaultSession
  own.setPermissionRequestHandler((_contents, _permission, decide) => decide(false))
  own.setPermissionCheckHandler(() => false)
  own.setDevicePermissionHandler(() => false)
  own.webRequest.onBeforeRequest((request, decide) => decide({ cancel: !mayLoad(request.url) }))
  own.on('will-download', (event, item) => {
    if (!mayLoad(item.getURL())) return event.preventDefault()
    // The name comes from a page: only its last part counts.
    const name = path.basename(item.getFilename())
    item.setSaveDialogOptions({ defaultPath: path.join(app.getPath('documents'), name) })
  })
}

/** Opens the window on the program's page. It shows once there is something to see, and remembers its place. */
export async function openWindow(home: string): Promise<BrowserWindow> {
  const stateFile = path.join(home, 'window.json')
  const screens = screen.getAllDisplays().map(({ workArea }) => workArea)
  const { maximised, ...place } = windowStateFrom(readText(stateFile), screens)
  const window = new BrowserWindow({
    ...place,
    minWidth: smallest.width,
    minHeight: smallest.height,
    show: false,
    title: 'Lintelbook',
    webPreferences: { ...windowPreferences, preload: preloadFile },
  })
  window.once('ready-to-show', () => {
    if (maximised) window.maximize()
    window.show()
  })
  window.on('close', () => {
    mkdirSync(home, { recursive: true })
    const state: WindowState = { ...window.getNormalBounds(), maximised: window.isMaximized() }
    writeFileSync(stateFile, `${JSON.stringify(state)}\n`)
  })
  await window.loadURL(`${appOrigin}/`)
  return window
}

/** Brings the window to the front, as a second start expects. */
export function showAgain(window: BrowserWindow): void {
  if (window.isMinimized()) window.restore()
  window.focus()
}
