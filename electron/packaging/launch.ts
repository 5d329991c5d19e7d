// npm start: the desktop window where Electron's binary is present, otherwise the same program on loopback in a window
// of this machine's browser.
import { spawn, type ChildProcess } from 'node:child_process'
import path from 'node:path'
import { parseArgs } from 'node:util'
import { startLocalHost } from '../local-host.ts'
import { homeFolder, programOptions, type Machine, type Program, type ProgramOptions } from '../machine.ts'
import { readPages } from '../pages.ts'
import { browserWords, findBrowser, hasScreen } from './browser.ts'
import { desktopBinary } from './fetch-electron.ts'

export const usage = `Usage: npm start -- [JOB.lintelbook] [--browser | --no-window] [--fetch] [--port NUMBER]

  JOB.lintelbook   the job file to open
  --browser        in a window of this machine's browser, even where the desktop window can be had
  --no-window      only serve, and print the address to open
  --fetch          try again to fetch the desktop window, where that failed before
  --port NUMBER    the port to serve on; a free one when left out

Examples:
  npm start
  npm start -- ~/Documents/clinic.lintelbook
  npm start -- --no-window --port 8080`

export interface StartOptions {
  readonly jobFile: string | null
  readonly window: boolean
  readonly browser: boolean
  readonly fetch: boolean
  readonly port: number
}

/** What was asked for, or the sentence that says what is wrong with it; null asks for the usage. */
export function startOptionsFrom(words: readonly string[]): StartOptions | string | null {
  let parsed
  try {
    parsed = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: {
        'no-window': { type: 'boolean' },
        browser: { type: 'boolean' },
        fetch: { type: 'boolean' },
        port: { type: 'string' },
        help: { type: 'boolean', short: 'h' },
      },
    })
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
  const { values, positionals } = parsed
  if (values.help) return null
  if (positionals.length > 1) return 'One job file can be opened at a start.'
  const port = values.port === undefined ? 0 : Number(values.port)
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    return `The port ${values.port} is not a whole number from 0 to 65535.`
  const [jobFile] = positionals
  return {
    jobFile: jobFile === undefined ? null : path.resolve(jobFile),
    window: values['no-window'] !== true,
    browser: values.browser === true,
    fetch: values.fetch === true,
    port,
  }
}

export interface LaunchParts {
  readonly machine: Machine
  readonly root: string
  readonly pagesFolder: string
  readonly build: () => Promise<boolean>
  readonly openProgram: (options: ProgramOptions) => Promise<Program>
  /** Fetches Electron's binary into its package; false where that is not possible. */
  readonly installElectron: (packageFolder: string) => Promise<boolean>
  readonly say: (line: string) => void
}

const isRoot = () => process.getuid?.() === 0

/** Settles when Ctrl+C, or whoever started this, asks for the end. */
const askedToEnd = (): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => resolve())
  })

const exitOf = (child: ChildProcess): Promise<number> =>
  new Promise((resolve) => {
    child.once('error', () => resolve(1))
    child.once('exit', (code) => resolve(code ?? 0))
  })

async function startDesktop(binary: string, options: StartOptions, parts: LaunchParts): Promise<number> {
  parts.say('Lintelbook opens in its desktop window.')
  const { ELECTRON_RUN_AS_NODE: _unwanted, ...environment } = process.env
  const words = [
    ...(isRoot() ? ['--no-sandbox'] : []),
    parts.root,
    ...(options.jobFile === null ? [] : [options.jobFile]),
  ]
  const child = spawn(binary, words, { stdio: 'inherit', env: environment })
  // Ctrl+C reaches the window too; this waits for it to close its job file.
  void askedToEnd().then(() => child.kill('SIGTERM'))
  return exitOf(child)
}

// A browser that hands its page to one already running ends at once; that is no closed window.
const shortestWindowMilliseconds = 5_000

/** Opens the address in a window of the machine's browser. Settles when that window is closed; never, if unknown. */
function openBrowserWindow(
  address: string,
  browser: string,
  home: string,
): { closed: Promise<void>; end: () => void } {
  const started = Date.now()
  const words = browserWords(address, path.join(home, 'browser'), isRoot())
  const child = spawn(browser, words, { stdio: 'ignore' })
  const closed = exitOf(child).then(() =>
    Date.now() - started < shortestWindowMilliseconds ? new Promise<never>(() => {}) : undefined,
  )
  return { closed, end: () => void child.kill('SIGTERM') }
}

async function startInBrowser(options: StartOptions, parts: LaunchParts): Promise<number> {
  const { machine, say } = parts
  const program = await parts.openProgram(programOptions(machine, options.jobFile))
  const browser = options.window && hasScreen(machine) ? findBrowser(machine) : null
  const host = await startLocalHost({
    answer: program.answer,
    pages: readPages(parts.pagesFolder),
    port: options.port,
    ...(browser === null ? {} : { quietMinutes: 10 }),
    log: (error) => console.error(error),
  }).catch(async (error: unknown) => {
    await program.close()
    throw error
  })
  const window = browser === null ? null : openBrowserWindow(host.launchAddress, browser, homeFolder(machine))
  if (window === null)
    say(`Open this address in a browser on this machine; it works once:\n${host.launchAddress}`)
  else say(`Lintelbook opens in a window, served from ${host.origin}`)
  say('Ctrl+C ends it.')
  await Promise.race([askedToEnd(), host.ended, ...(window === null ? [] : [window.closed])])
  window?.end()
  await host.close()
  await program.close()
  say('Lintelbook has ended. Everything is saved.')
  return 0
}

/** Electron's binary where a desktop window is wanted and can be had. */
async function desktopBinaryFor(options: StartOptions, parts: LaunchParts): Promise<string | null> {
  if (!options.window || options.browser || !hasScreen(parts.machine)) return null
  return desktopBinary({
    packageFolder: path.join(parts.root, 'node_modules/electron'),
    home: homeFolder(parts.machine),
    again: options.fetch,
    install: parts.installElectron,
    say: parts.say,
  })
}

const startTrouble = (error: unknown, { port }: StartOptions): string | null => {
  const code = error instanceof Error && 'code' in error ? error.code : null
  if (code === 'EADDRINUSE') return `Port ${port} is taken. Leave --port out, or name another.`
  if (code === 'EACCES') return `Port ${port} may not be used by this account. Name one above 1023.`
  return null
}

/** Runs npm start to its end. Gives the exit code: 0 ended well, 1 could not start, 2 not understood. */
export async function launch(words: readonly string[], parts: LaunchParts): Promise<number> {
  const options = startOptionsFrom(words)
  if (options === null || typeof options === 'string') {
    parts.say(options === null ? usage : `${options}\n\n${usage}`)
    return options === null ? 0 : 2
  }
  if (await parts.build()) parts.say('Built what was new.')
  const binary = await desktopBinaryFor(options, parts)
  if (binary !== null) return startDesktop(binary, options, parts)
  try {
    return await startInBrowser(options, parts)
  } catch (error) {
    const sentence = startTrouble(error, options)
    if (sentence === null) throw error
    parts.say(sentence)
    return 1
  }
}
