// Builds dist/: the pages for the window, and the shell, the command line and the workers for Electron and for installing.
// The local host runs from source and needs only the pages.
import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import type { BuildOptions, Plugin } from 'esbuild'

export const root = path.resolve(import.meta.dirname, '../..')
export const builtPagesFolder = path.join(root, 'dist/renderer')

const sourceFolders = ['core', 'electron', 'renderer', 'migrations']
const otherSources = ['package.json', 'package-lock.json']
const stampFile = path.join(root, 'dist/built-from.txt')

const inProject = (file: string) => path.relative(root, file).split(path.sep).join('/')

const filesBelow = (folder: string): readonly string[] =>
  existsSync(path.join(root, folder))
    ? readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => inProject(path.join(entry.parentPath, entry.name)))
    : []

/** A digest of everything dist/ is made from. */
function sourceDigest(): string {
  const digest = createHash('sha256')
  const files = [...sourceFolders.flatMap(filesBelow), ...otherSources].sort()
  for (const file of files)
    digest
      .update(`${file}\0`)
      .update(readFileSync(path.join(root, file)))
      .update('\0')
  return digest.digest('hex')
}

/** Whether dist/ is what the sources say. */
export const isStale = (): boolean =>
  !existsSync(stampFile) || readFileSync(stampFile, 'utf8').trim() !== sourceDigest()

// Workers are named in the code as new URL('./worker.ts', import.meta.url), with or without the question whether the
// code is built yet. Each becomes a built file of its own.
const workerAddress =
  /new URL\(\s*(?:import\.meta\.url\.endsWith\('\.ts'\)\s*\?\s*)?'(\.{1,2}\/[^']+\.ts)'(?:\s*:\s*'[^']+')?\s*,\s*import\.meta\.url\s*,?\s*\)/g

const resolvedFrom = (file: string, specifier: string) => path.posix.join(path.posix.dirname(file), specifier)

/** All built modules lie side by side in dist/electron: electron/intake/worker.ts becomes intake-worker.js. */
const builtName = (file: string) =>
  file
    .replace(/^electron\//, '')
    .replace(/\.ts$/, '')
    .replaceAll('/', '-')

const workersNamedIn = (file: string): readonly string[] =>
  [...readFileSync(path.join(root, file), 'utf8').matchAll(workerAddress)].map((found) =>
    resolvedFrom(file, found[1] ?? ''),
  )

/**
 * A module's own place, as the source has it: a bundle in dist/electron finds migrations, fixtures and fonts where
 * they are kept, and workers beside itself.
 */
export const withSourcePlaces = (file: string, text: string): string => {
  const fromBundle = (target: string) => `../../${target}`
  const workers: string[] = []
  return text
    .replace(workerAddress, (_found, specifier: string) => {
      workers.push(`new URL('./${builtName(resolvedFrom(file, specifier))}.js', import.meta.url)`)
      return `@worker-${workers.length - 1}@`
    })
    .replaceAll(/\bimport\.meta\.url\b/g, `new URL('${fromBundle(file)}', import.meta.url).href`)
    .replaceAll(
      /\bimport\.meta\.dirname\b/g,
      `(import.meta.dirname + '/${fromBundle(path.posix.dirname(file))}')`,
    )
    .replaceAll(/\bimport\.meta\.filename\b/g, `(import.meta.dirname + '/${fromBundle(file)}')`)
    .replaceAll(/@worker-(\d+)@/g, (_found, place: string) => workers[Number(place)] ?? '')
}

const sourcePlaces: Plugin = {
  name: 'source-places',
  setup(build) {
    build.onLoad({ filter: /\.ts$/ }, ({ path: file }) => {
      if (file.includes('node_modules')) return null
      return { contents: withSourcePlaces(inProject(file), readFileSync(file, 'utf8')), loader: 'ts' }
    })
  },
}

async function buildPages(outFolder: string): Promise<void> {
  const [{ build }, { default: react }] = await Promise.all([import('vite'), import('@vitejs/plugin-react')])
  await build({
    configFile: false,
    envDir: false,
    publicDir: false,
    root: path.join(root, 'renderer'),
    base: './',
    plugins: [react()],
    logLevel: 'warn',
    build: {
      outDir: outFolder,
      emptyOutDir: true,
      // The content policy allows no fonts or scripts from data addresses.
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      chunkSizeWarningLimit: 4_000,
    },
  })
}

async function buildModules(options: BuildOptions): Promise<void> {
  // Looked for only now: a start that finds everything built loads no tools.
  const { build } = await import('esbuild')
  await build(options)
}

const common = { bundle: true, target: 'node22', logLevel: 'warning', absWorkingDir: root } as const

async function buildProgram(outFolder: string): Promise<void> {
  const sources = [...filesBelow('electron'), ...filesBelow('renderer/paper')].filter(
    (file) => file.endsWith('.ts') && !file.startsWith('electron/packaging/'),
  )
  const entries = ['electron/main.ts', 'electron/cli.ts', ...sources.flatMap(workersNamedIn)]
  await buildModules({
    ...common,
    platform: 'node',
    format: 'esm',
    packages: 'external',
    sourcemap: true,
    plugins: [sourcePlaces],
    entryPoints: Object.fromEntries(entries.map((file) => [builtName(file), path.join(root, file)])),
    outdir: outFolder,
  })
}

/** The sandbox takes one classic script that requires nothing but electron. */
async function buildPreload(outFolder: string): Promise<void> {
  await buildModules({
    ...common,
    platform: 'node',
    format: 'cjs',
    external: ['electron'],
    entryPoints: ['electron/preload.ts'],
    outExtension: { '.js': '.cjs' },
    outdir: outFolder,
  })
}

/** Builds everything. Throws with the tool's own words when the code does not build. */
export async function build(): Promise<void> {
  const digest = sourceDigest()
  const programFolder = path.join(root, 'dist/electron')
  rmSync(stampFile, { force: true })
  rmSync(programFolder, { recursive: true, force: true })
  // A test runner says NODE_ENV=test, and Vite would then build React's slow development form.
  const before = process.env['NODE_ENV']
  process.env['NODE_ENV'] = 'production'
  try {
    await Promise.all([
      buildPages(builtPagesFolder),
      buildProgram(programFolder),
      buildPreload(programFolder),
    ])
  } finally {
    if (before === undefined) delete process.env['NODE_ENV']
    else process.env['NODE_ENV'] = before
  }
  writeFileSync(stampFile, `${digest}\n`)
}

/** Builds when dist/ is not what the sources say. Tells whether it did. */
export async function buildStale(): Promise<boolean> {
  if (!isStale()) return false
  await build()
  return true
}

/** The same in a process of its own, so that the program carries no tools in its memory. Throws when it fails. */
export async function buildStaleApart(): Promise<boolean> {
  if (!isStale()) return false
  const child = spawn(process.execPath, [import.meta.filename], { stdio: ['ignore', 'ignore', 'inherit'] })
  const code = await new Promise((resolve, reject) => {
    child.once('error', reject)
    child.once('exit', resolve)
  })
  if (code !== 0) throw new Error('dist/ could not be built; the reason stands above')
  return true
}

if (process.argv[1] === import.meta.filename) {
  console.log((await buildStale()) ? 'Built dist/' : 'dist/ is up to date')
  const { stop } = await import('esbuild')
  await stop()
}
