// The installers as data: what they hold, and that it is enough to run from. Electron's own binary, fuses, signing and the
// systems' installers are not tried here; packaging needs the network and each system.
import { spawnSync } from 'node:child_process'
import {
  cpSync,
  existsSync,
  globSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
} from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { jobFileAmong } from '../../../electron/guard.ts'
import { isStale } from '../../../electron/packaging/build.ts'
import { fuses, installers, packedFiles } from '../../../electron/packaging/installers.ts'
import { testWith } from '../../tools/skipping.ts'
import { root } from '../../tools/tool.ts'

const packageFile = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as {
  main: string
  dependencies: Record<string, string>
  devDependencies: Record<string, string>
}
const kept = packedFiles.filter((pattern) => !pattern.startsWith('!'))

describe('the configuration', () => {
  test('is plain data', () => {
    expect(JSON.parse(JSON.stringify(installers))).toEqual(installers)
  })

  // Electron documentation, "Security", 19: check which fuses you can change. "Electron Fuses" names them.
  test.each([
    ['runAsNode', false],
    ['enableCookieEncryption', true],
    ['enableNodeOptionsEnvironmentVariable', false],
    ['enableNodeCliInspectArguments', false],
    ['enableEmbeddedAsarIntegrityValidation', true],
    ['onlyLoadAppFromAsar', true],
    ['loadBrowserProcessSpecificV8Snapshot', false],
    ['grantFileProtocolExtraPrivileges', false],
  ] as const)('the fuse %s is %s', (fuse, value) => {
    expect(installers.electronFuses[fuse]).toBe(value)
    expect(Object.keys(fuses)).toHaveLength(8)
  })

  test('the archive is one, and what the fuses ask of it', () => {
    expect([fuses.onlyLoadAppFromAsar, installers.asar]).toEqual([true, true])
  })

  test('job files open with the program, by the ending that the shell looks for', () => {
    const [association] = installers.fileAssociations
    expect(jobFileAmong(['lintelbook', `clinic.${association.ext}`])).toBe('clinic.lintelbook')
    expect(association.role).toBe('Editor')
  })

  test('the native module is taken as it is, out of the archive, for the one system', () => {
    expect(installers.npmRebuild).toBe(false)
    expect(installers.asarUnpack).toContain('**/*.node')
    const binaries = globSync('node_modules/better-sqlite3/prebuilds/*.node', { cwd: root }).map((file) =>
      path.basename(file, '.node'),
    )
    // One for each system and processor that there is an installer for.
    expect(binaries).toEqual(
      expect.arrayContaining(['linux-x64', 'darwin-x64', 'darwin-arm64', 'win32-x64', 'win32-arm64']),
    )
  })

  test('removing the program removes no one’s preferences, and nothing is published or fetched by itself', () => {
    expect(installers.nsis.deleteAppDataOnUninstall).toBe(false)
    expect(installers.publish).toBeNull()
    expect(Object.keys(packageFile.dependencies)).not.toContain('electron-updater')
  })

  test('an installer is no dependency', () => {
    const all = { ...packageFile.dependencies, ...packageFile.devDependencies }
    expect(Object.keys(all).filter((name) => name.startsWith('electron-builder'))).toEqual([])
  })
})

describe('the files', () => {
  test.each(kept.filter((pattern) => !pattern.startsWith('dist/')))('%s is there', (pattern) => {
    expect(globSync(pattern, { cwd: root }).length).toBeGreaterThan(0)
  })

  test('hold no tests, sources, pictures or other jobs', () => {
    const files = kept.flatMap((pattern) => globSync(pattern, { cwd: root }))
    expect(
      files.filter((file) => /^(tests|core|renderer|electron)\/|\.(tsx?|lintelbook|png)$/.test(file)),
    ).toEqual([])
  })

  const lack = !existsSync(path.join(root, 'dist/electron/main.js'))
    ? 'dist/ is not there; npm run build makes it'
    : isStale()
      ? 'dist/ is older than the sources; npm run build makes it anew'
      : null
  testWith(lack, 'are enough: the program runs from them alone', () => {
    const folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-packed-'))
    try {
      const left = packedFiles.filter((pattern) => pattern.startsWith('!')).map((pattern) => pattern.slice(1))
      for (const file of kept.flatMap((pattern) => globSync(pattern, { cwd: root, exclude: left })))
        if (statSync(path.join(root, file)).isFile()) cpSync(path.join(root, file), path.join(folder, file))
      symlinkSync(path.join(root, 'node_modules'), path.join(folder, 'node_modules'), 'junction')
      expect(existsSync(path.join(folder, packageFile.main))).toBe(true)
      expect(existsSync(path.join(folder, 'dist/electron/preload.cjs'))).toBe(true)
      expect(existsSync(path.join(folder, 'dist/renderer/index.html'))).toBe(true)
      expect(globSync('**/*.map', { cwd: path.join(folder, 'dist') })).toEqual([])
      const program = path.join(folder, 'dist/electron/cli.js')
      const csv = path.join(root, 'fixtures/intake/bad-hands.csv')
      for (const words of [
        ['make', 'demo.lintelbook', '--demo'],
        ['make', 'new.lintelbook', '--name', 'New'],
        ['take', csv, '--into', 'new.lintelbook', '--accept'],
        ['print', 'demo.lintelbook', '--to', 'demo.pdf'],
      ]) {
        const ran = spawnSync(process.execPath, [program, ...words], {
          cwd: folder,
          env: { ...process.env, LINTELBOOK_HOME: folder },
          encoding: 'utf8',
        })
        expect([words[0], ran.status, ran.stderr]).toEqual([words[0], 0, ''])
      }
    } finally {
      rmSync(folder, { recursive: true })
    }
  })
})
