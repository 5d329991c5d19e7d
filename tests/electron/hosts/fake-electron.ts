// Stands in for Electron in tests: records what the shell asks of it, and lets a test play the user and the attacker.
type Listener = (...words: never[]) => unknown

/** Listeners by name, called in order as Electron would. */
export class Listeners {
  readonly #byName = new Map<string, Listener[]>()

  on = (name: string, listener: Listener) => {
    this.#byName.set(name, [...(this.#byName.get(name) ?? []), listener])
  }

  has = (name: string) => this.#byName.has(name)

  emit = (name: string, ...words: unknown[]): unknown[] =>
    (this.#byName.get(name) ?? []).map((listener) => listener(...(words as never[])))
}

/** An event that remembers whether it was stopped. */
export class FakeEvent {
  stopped = false
  preventDefault = () => {
    this.stopped = true
  }
}

export interface FakeWindowOptions {
  readonly width: number
  readonly height: number
  readonly show: boolean
  readonly webPreferences: Readonly<Record<string, unknown>>
}

type Handler = (event: unknown, raw: unknown) => Promise<unknown>

export const recorded = {
  windows: [] as FakeBrowserWindow[],
  channels: new Map<string, Handler>(),
  schemes: [] as unknown[],
  protocols: new Map<string, (request: Request) => Response | Promise<Response>>(),
  openedOutside: [] as string[],
  exposed: new Map<string, Readonly<Record<string, unknown>>>(),
  invoked: [] as unknown[][],
  paths: new Map<string, string>(),
  recentDocuments: [] as string[],
  crashReporter: undefined as unknown,
  errorBoxes: [] as string[][],
  menu: undefined as unknown,
  sandboxed: false,
  quits: 0,
  permissionRequest: undefined as
    | ((contents: unknown, name: string, decide: (yes: boolean) => void) => void)
    | undefined,
  permissionCheck: undefined as (() => boolean) | undefined,
  deviceCheck: undefined as (() => boolean) | undefined,
  beforeRequest: undefined as
    | ((request: { url: string }, decide: (verdict: { cancel: boolean }) => void) => void)
    | undefined,
}

export const appEvents = new Listeners()
export const sessionEvents = new Listeners()

export const app = {
  on: appEvents.on,
  enableSandbox: () => {
    recorded.sandboxed = true
  },
  setPath: (name: string, folder: string) => recorded.paths.set(name, folder),
  getPath: (name: string) => recorded.paths.get(name) ?? `/somewhere/${name}`,
  requestSingleInstanceLock: () => true,
  addRecentDocument: (file: string) => recorded.recentDocuments.push(file),
  whenReady: async () => {},
  quit: () => {
    recorded.quits += 1
  },
  exit: () => {},
}

export class FakeBrowserWindow {
  readonly events = new Listeners()
  readonly options: FakeWindowOptions
  readonly loaded: string[] = []
  reloads = 0
  focused = 0
  minimised = false

  constructor(options: FakeWindowOptions) {
    this.options = options
    recorded.windows.push(this)
  }
  on = this.events.on
  once = this.events.on
  show = () => {}
  maximize = () => {}
  isMaximized = () => true
  isMinimized = () => this.minimised
  restore = () => {
    this.minimised = false
  }
  focus = () => {
    this.focused += 1
  }
  reload = () => {
    this.reloads += 1
  }
  getNormalBounds = () => ({ x: 10, y: 20, width: 1200, height: 800 })
  loadURL = async (address: string) => {
    this.loaded.push(address)
  }
}
export { FakeBrowserWindow as BrowserWindow }

export const ipcMain = {
  handle: (channel: string, handler: Handler) => recorded.channels.set(channel, handler),
}

export const protocol = {
  registerSchemesAsPrivileged: (schemes: readonly unknown[]) => recorded.schemes.push(...schemes),
  handle: (scheme: string, handler: (request: Request) => Response | Promise<Response>) =>
    recorded.protocols.set(scheme, handler),
}

export const session = {
  defaultSession: {
    on: sessionEvents.on,
    setPermissionRequestHandler: (handler: NonNullable<typeof recorded.permissionRequest>) => {
      recorded.permissionRequest = handler
    },
    setPermissionCheckHandler: (handler: () => boolean) => {
      recorded.permissionCheck = handler
    },
    setDevicePermissionHandler: (handler: () => boolean) => {
      recorded.deviceCheck = handler
    },
    webRequest: {
      onBeforeRequest: (handler: NonNullable<typeof recorded.beforeRequest>) => {
        recorded.beforeRequest = handler
      },
    },
  },
}

export const screen = {
  getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1080 } }],
}

export const shell = {
  openExternal: async (address: string) => {
    recorded.openedOutside.push(address)
  },
}

export const crashReporter = {
  start: (options: unknown) => {
    recorded.crashReporter = options
  },
}

export const dialog = {
  showOpenDialog: async () => ({ filePaths: ['/jobs/chosen.lintelbook'] }),
  showErrorBox: (...words: string[]) => recorded.errorBoxes.push(words),
}

export const Menu = {
  setApplicationMenu: (menu: unknown) => {
    recorded.menu = menu
  },
  buildFromTemplate: (entries: unknown) => entries,
}

export const contextBridge = {
  exposeInMainWorld: (name: string, value: Readonly<Record<string, unknown>>) =>
    recorded.exposed.set(name, value),
}

export const ipcRenderer = {
  invoke: async (...words: unknown[]) => {
    recorded.invoked.push(words)
    return { ok: true, value: 'asked' }
  },
}
