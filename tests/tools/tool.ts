// Runs the project's own tools with this runtime, whatever the machine's PATH says.
import { spawn } from 'node:child_process'
import { readFileSync } from 'node:fs'
import path from 'node:path'

export const root = path.resolve(import.meta.dirname, '../..')

export interface Outcome {
  readonly code: number
  /** Both streams, as they came. */
  readonly output: string
  readonly seconds: number
}

export interface RunOptions {
  readonly folder?: string
  /** Shows the output as it comes instead of keeping it. */
  readonly shown?: boolean
  readonly environment?: Readonly<Record<string, string>>
}

interface PackageFile {
  readonly name: string
  readonly bin?: string | Readonly<Record<string, string>>
}

/** The script behind a package's command, such as `tsc` of typescript. */
export function scriptOf(packageName: string, command = packageName): string {
  const folder = path.join(root, 'node_modules', packageName)
  const { bin } = JSON.parse(readFileSync(path.join(folder, 'package.json'), 'utf8')) as PackageFile
  const script = typeof bin === 'string' ? bin : bin?.[command]
  if (script === undefined) throw new Error(`${packageName} has no command ${command}`)
  return path.join(folder, script)
}

/** Runs a program to its end. Never rejects: a program that cannot be started has code 127. */
export function run(program: string, words: readonly string[], options: RunOptions = {}): Promise<Outcome> {
  const { folder = root, shown = false, environment = {} } = options
  const started = performance.now()
  return new Promise((resolve) => {
    const chunks: Buffer[] = []
    const end = (code: number, more = '') =>
      resolve({
        code,
        output: Buffer.concat(chunks).toString('utf8') + more,
        seconds: (performance.now() - started) / 1000,
      })
    const own = path.join(root, 'node_modules/.bin')
    const child = spawn(program, words, {
      cwd: folder,
      stdio: shown ? 'inherit' : ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, PATH: `${own}${path.delimiter}${process.env['PATH'] ?? ''}`, ...environment },
    })
    child.stdout?.on('data', (chunk: Buffer) => chunks.push(chunk))
    child.stderr?.on('data', (chunk: Buffer) => chunks.push(chunk))
    child.once('error', (error) => end(127, error.message))
    child.once('close', (code) => end(code ?? 1))
  })
}

/** Runs one of the project's own commands, such as vitest. */
export const runTool = (
  packageName: string,
  command: string,
  words: readonly string[],
  options: RunOptions = {},
): Promise<Outcome> => run(process.execPath, [scriptOf(packageName, command), ...words], options)
