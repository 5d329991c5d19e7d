// The desktop shell: joins Electron to the program, and nothing more.
import path from 'node:path'
import { app, crashReporter, dialog, ipcMain, Menu, protocol, type BrowserWindow } from 'electron'
import { openProgram } from './calls/index.ts'
import { crashFolder, noteCrash } from './crash-notes.ts'
import {
  appHost,
  appScheme,
  askChannel,
  jobFileAmong,
  maySend,
  refusedSender,
  securityHeaders,
} from './guard.ts'
import { homeFolder, programOptions, thisMachine, type Program } from './machine.ts'
import { readPages } from './pages.ts'
import { hardenContents, hardenSession, openWindow, showAgain } from './window.ts'

const machine = thisMachine()
const home = homeFolder(machine)
const pagesFolder = path.join(import.meta.dirname, '../dist/renderer')

/** The program may be replaced when another job file is opened; calls wait for the new one. */
let program: Promise<Program>
let window: BrowserWindow | null = null
let askedFor = jobFileAmong(process.argv.slice(1))

async function chooseJobFile(): Promise<string | null> {
  const { filePaths } = await dialog.showOpenDialog({
    properties: ['openFile'],
    filters: [{ name: 'Lintelbook jobs', extensions: ['lintelbook'] }],
  })
  const file = filePaths[0] ?? null
  showAsRecent(file)
  return file
}

/** In the system's own list of recent files, where it has one. */
function showAsRecent(file: string | null): void {
  if (file !== null) app.addRecentDocument(path.resolve(file))
}

const startProgram = async (): Promise<Program> => {
  showAsRecent(askedFor)
  return openProgram({ ...programOptions(machine, askedFor), chooseJobFile })
}

/** Another job file was asked for while the program runs: close the one, open the other, show it. */
async function openFile(file: string | null): Promise<void> {
  if (window === null) {
    askedFor = file ?? askedFor
    return
  }
  showAgain(window)
  if (file === null) return
  askedFor = file
  program = program.then(async ({ close }) => {
    await close()
    return startProgram()
  })
  await program
  window.reload()
}

/** Crashes are kept on this machine and sent nowhere. */
function keepCrashes(): void {
  app.setPath('crashDumps', crashFolder(home))
  crashReporter.start({ submitURL: '', uploadToServer: false })
  process.on('uncaughtException', giveUp)
  app.on('render-process-gone', (_event, _contents, { reason }) => {
    if (reason !== 'clean-exit')
      noteCrash(home, 'The window ended', reason, programOptions(machine, null).now())
  })
}

/** For what must not happen: one sentence on screen, the error on the console and in a note, and the end. */
function giveUp(error: unknown): void {
  console.error(error)
  noteCrash(home, 'The program ended', error, programOptions(machine, null).now())
  const sentence = error instanceof Error ? error.message : 'The reason is not known.'
  dialog.showErrorBox('Lintelbook could not start', sentence)
  app.exit(1)
}

function servePages(): void {
  const pages = readPages(pagesFolder)
  protocol.handle(appScheme, (request) => {
    const url = new URL(request.url)
    const page = url.host === appHost && request.method === 'GET' ? pages.get(url.pathname) : undefined
    if (page === undefined) return new Response('', { status: 404, headers: securityHeaders })
    return new Response(page.bytes, { headers: { ...securityHeaders, 'Content-Type': page.type } })
  })
}

/** The window draws its own menus. macOS takes copy and paste from the menu bar, so there it has one. */
function setMenu(): void {
  const roles = (['appMenu', 'editMenu', 'windowMenu'] as const).map((role) => ({ role }))
  Menu.setApplicationMenu(process.platform === 'darwin' ? Menu.buildFromTemplate(roles) : null)
}

/** Quitting waits until the job file is closed. */
function closeBeforeQuitting(): void {
  let closed = false
  app.on('will-quit', (event) => {
    if (closed) return
    event.preventDefault()
    void program
      .then(({ close }) => close())
      .catch((error: unknown) => console.error(error))
      .finally(() => {
        closed = true
        app.quit()
      })
  })
}

function listen(): void {
  app.on('second-instance', (_event, words, folder) => {
    const file = jobFileAmong(words.slice(1))
    openFile(file === null ? null : path.resolve(folder, file)).catch(giveUp)
  })
  app.on('open-file', (event, file) => {
    event.preventDefault()
    openFile(file).catch(giveUp)
  })
  app.on('web-contents-created', (_event, contents) => hardenContents(contents))
  app.on('window-all-closed', () => app.quit())
  ipcMain.handle(askChannel, async (event, raw: unknown) =>
    maySend(event.senderFrame) ? (await program).answer(raw) : refusedSender,
  )
}

async function run(): Promise<void> {
  await app.whenReady()
  hardenSession(app)
  servePages()
  setMenu()
  program = startProgram()
  await program
  closeBeforeQuitting()
  window = await openWindow(home)
}

// All of this before Electron is ready, and never awaited: ready waits for the end of this module
// (electron/electron#40719).
app.enableSandbox()
protocol.registerSchemesAsPrivileged([
  { scheme: appScheme, privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
])
app.setPath('userData', path.join(home, 'window'))
keepCrashes()
if (app.requestSingleInstanceLock()) {
  listen()
  run().catch(giveUp)
} else app.quit()
