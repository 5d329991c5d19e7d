// Who may know whom. Reads import specifiers; the compiler's project references hold the same walls from the other side.
import path from 'node:path'
import { importsOf } from './source-text.ts'

/** A guard says in a sentence what is wrong with a file, or nothing. Paths are relative to the project, with `/`. */
export type Guard = (file: string, text: string) => readonly string[]

/** Each folder of core may import those of a lower rank. A new folder takes its place here. */
export const rankInCore: Readonly<Record<string, number>> = {
  job: 0,
  behaviour: 1,
  settings: 1,
  library: 1,
  preparation: 2,
  cautions: 2,
  handover: 2,
  schedule: 2,
  power: 3,
  exchange: 3,
  runs: 4,
  service: 4,
  comparing: 4,
  documents: 5,
  parts: 6,
  proving: 6,
  contract: 7,
}

interface Packages {
  readonly only?: readonly RegExp[]
  readonly never?: readonly RegExp[]
}

interface Layer {
  readonly name: string
  readonly holds: RegExp
  readonly mayKnow: readonly RegExp[]
  readonly packages: Packages
}

const core = /^core\//
const drawing = /^renderer\/drawing\//
const paper = /^renderer\/paper\//
const screens = /^renderer\/(?!paper\/)/
const electron = /^electron\//
const migrations = /^migrations\//

const machineOnly = [/^electron$/, /^node:/, /^better-sqlite3$/, /^drizzle-orm/, /^pdfkit/, /^fontkit$/]
const shellFiles = /^electron\/(main|preload|window)\.ts$/
const pressFile = /^electron\/press\.ts$/
const buildPackages = [/^vite$/, /^esbuild$/, /^@vitejs\//]

/** The first that holds a file is its layer. */
const layers: readonly Layer[] = [
  { name: 'core', holds: core, mayKnow: [core], packages: { only: [/^zod$/] } },
  { name: 'renderer/drawing', holds: drawing, mayKnow: [core, drawing], packages: { only: [] } },
  {
    name: 'renderer/paper',
    holds: paper,
    mayKnow: [core, drawing, paper],
    packages: {
      only: [
        /^pdfkit/,
        /^@cantoo\/pdf-lib$/,
        /^uqr$/,
        /^fontkit$/,
        /^node:/,
        /^dejavu-fonts-ttf/,
        /^@expo-google-fonts\//,
      ],
    },
  },
  {
    name: 'renderer',
    holds: /^renderer\//,
    mayKnow: [core, screens],
    packages: { never: [...machineOnly, ...buildPackages] },
  },
  { name: 'migrations', holds: migrations, mayKnow: [], packages: { only: [] } },
  {
    name: 'electron (the shell)',
    holds: shellFiles,
    mayKnow: [core, electron, migrations],
    packages: { only: [/^electron$/, /^node:/] },
  },
  {
    name: 'electron/press.ts',
    holds: pressFile,
    mayKnow: [core, electron, migrations, paper],
    packages: { only: [/^node:/] },
  },
  {
    name: 'electron/packaging',
    holds: /^electron\/packaging\//,
    mayKnow: [core, electron, migrations],
    packages: { never: [/^electron$/] },
  },
  {
    name: 'electron/store and electron/library',
    holds: /^electron\/(store|library)\//,
    mayKnow: [core, electron, migrations],
    packages: { never: [/^electron$/, /^pdfkit/, ...buildPackages] },
  },
  {
    name: 'electron',
    holds: electron,
    mayKnow: [core, electron, migrations],
    packages: { never: [/^electron$/, /^better-sqlite3$/, /^drizzle-orm/, /^pdfkit/, ...buildPackages] },
  },
  { name: 'tests', holds: /^tests\//, mayKnow: [/^/], packages: { never: [] } },
]

const matchesOne = (patterns: readonly RegExp[], text: string) =>
  patterns.some((pattern) => pattern.test(text))

const isRelative = (specifier: string) => specifier.startsWith('.')

const refusedPackage = ({ only, never }: Packages, specifier: string): boolean =>
  (only !== undefined && !matchesOne(only, specifier)) ||
  (never !== undefined && matchesOne(never, specifier))

/** Imports that cross a wall of the house. */
export const layersGuard: Guard = (file, text) => {
  const layer = layers.find(({ holds }) => holds.test(file))
  if (layer === undefined) return [`${file} stands in no layer of the house`]
  return importsOf(text).flatMap((specifier) => {
    if (!isRelative(specifier))
      return refusedPackage(layer.packages, specifier)
        ? [`${file} imports ${specifier}, which ${layer.name} may not know`]
        : []
    const target = path.posix.join(path.posix.dirname(file), specifier)
    return matchesOne(layer.mayKnow, target)
      ? []
      : [`${file} imports ${target}, which ${layer.name} may not know`]
  })
}

const folderInCore = (file: string) => /^core\/([^/]+)\//.exec(file)?.[1]

/** Imports inside core that point upwards. */
export const coreOrderGuard: Guard = (file, text) => {
  const own = folderInCore(file)
  if (own === undefined) return []
  const ownRank = rankInCore[own]
  if (ownRank === undefined)
    return [`core/${own} has no rank: give it its place in tests/architecture/layers.ts`]
  return importsOf(text)
    .filter(isRelative)
    .map((specifier) => path.posix.join(path.posix.dirname(file), specifier))
    .flatMap((target) => {
      const other = folderInCore(target)
      if (other === undefined || other === own) return []
      const otherRank = rankInCore[other]
      return otherRank !== undefined && otherRank < ownRank
        ? []
        : [`${file} imports ${target}, but core/${other} stands no lower than core/${own}`]
    })
}

/** The part of the house a file belongs to: core/job, electron/store, renderer/screens/schedule. */
const partOf = (file: string): string => {
  const folders = path.posix.dirname(file).split('/')
  return folders.slice(0, folders[1] === 'screens' ? 3 : 2).join('/')
}

/** A part is entered by its index from other parts. Its own files, and files further up, are free. */
export const indexGuard: Guard = (file, text) => {
  if (file.startsWith('tests/')) return []
  const ownFolder = path.posix.dirname(file)
  const ownPart = partOf(file)
  return importsOf(text)
    .filter((specifier) => isRelative(specifier) && /\.tsx?$/.test(specifier))
    .map((specifier) => path.posix.join(ownFolder, specifier))
    .filter((target) => {
      const isAbove = `${ownFolder}/`.startsWith(`${path.posix.dirname(target)}/`)
      return !isAbove && partOf(target) !== ownPart && path.posix.basename(target) !== 'index.ts'
    })
    .map((target) => `${file} imports ${target}: enter that folder by its index.ts`)
}
