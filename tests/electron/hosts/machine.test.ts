import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { jobFileAmong } from '../../../electron/guard.ts'
import { homeFolder, jobsFolder, programOptions, type Machine } from '../../../electron/machine.ts'
import { browserWords, electronBinary, findBrowser, hasScreen } from '../../../electron/packaging/browser.ts'
import { withSourcePlaces } from '../../../electron/packaging/build.ts'
import { startOptionsFrom } from '../../../electron/packaging/launch.ts'
import { readPages } from '../../../electron/pages.ts'
import { windowStateFrom } from '../../../electron/window.ts'

const machine = (platform: NodeJS.Platform, environment: Record<string, string> = {}): Machine => ({
  platform,
  environment,
  personFolder: '/people/bee',
})

describe('where the program keeps its own things', () => {
  // Sources: XDG Base Directory Specification 0.8; Apple, File System Programming Guide; Microsoft, KNOWNFOLDERID.
  test.each<[NodeJS.Platform, Record<string, string>, string]>([
    ['linux', {}, '/people/bee/.local/share/lintelbook'],
    ['linux', { XDG_DATA_HOME: '/data' }, '/data/lintelbook'],
    ['linux', { XDG_DATA_HOME: 'relative' }, '/people/bee/.local/share/lintelbook'],
    ['darwin', { XDG_DATA_HOME: '/data' }, '/people/bee/Library/Application Support/Lintelbook'],
    ['win32', { APPDATA: '/people/bee/Roaming' }, '/people/bee/Roaming/Lintelbook'],
    ['win32', {}, '/people/bee/AppData/Roaming/Lintelbook'],
    ['linux', { LINTELBOOK_HOME: '/own' }, '/own'],
    ['darwin', { LINTELBOOK_HOME: '/own' }, '/own'],
  ])('%s %j: %s', (platform, environment, folder) => {
    expect(homeFolder(machine(platform, environment))).toBe(folder)
  })

  test('jobs go to Documents where there is one, else beside the rest', () => {
    expect(jobsFolder(machine('linux'), () => true)).toBe('/people/bee/Documents/Lintelbook')
    expect(jobsFolder(machine('linux'), () => false)).toBe('/people/bee/.local/share/lintelbook/jobs')
    expect(jobsFolder(machine('linux', { LINTELBOOK_HOME: '/own' }), () => true)).toBe('/own/jobs')
  })

  test('the program is given time and ids of the machine', () => {
    const options = programOptions(machine('linux'), '/jobs/a.lintelbook')
    expect(options.openPath).toBe('/jobs/a.lintelbook')
    expect(options.now()).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/)
    expect(options.newId()).not.toBe(options.newId())
    expect(programOptions(machine('linux'), null)).not.toHaveProperty('openPath')
  })
})

test.each([
  [['lintelbook', 'clinic.lintelbook'], 'clinic.lintelbook'],
  [['lintelbook', '--flag', '/jobs/A.LINTELBOOK'], '/jobs/A.LINTELBOOK'],
  [['lintelbook', '--x=a.lintelbook'], null],
  [['lintelbook', 'notes.txt'], null],
  [['a.lintelbook', 'b.lintelbook'], 'b.lintelbook'],
  [[], null],
])('the job file among %j: %s', (words, file) => {
  expect(jobFileAmong(words)).toBe(file)
})

describe('where the window stood', () => {
  const screens = [{ x: 0, y: 0, width: 1920, height: 1080 }]
  const first = { width: 1440, height: 900, maximised: false }
  test.each([
    ['nothing kept', '', first],
    ['no JSON', '{', first],
    ['null', 'null', first],
    ['words for numbers', '{"width":"a","height":1}', first],
    [
      'a place on the screen',
      '{"x":10,"y":20,"width":1200,"height":800,"maximised":true}',
      { x: 10, y: 20, width: 1200, height: 800, maximised: true },
    ],
    [
      'a place on a screen that is gone',
      '{"x":4000,"y":20,"width":1200,"height":800}',
      { width: 1200, height: 800, maximised: false },
    ],
    ['too small', '{"width":10,"height":10}', { width: 1024, height: 700, maximised: false }],
  ])('%s', (_name, text, state) => {
    expect(windowStateFrom(text, screens)).toEqual(state)
  })
})

describe('what npm start was asked', () => {
  const base = { jobFile: null, window: true, browser: false, fetch: false, port: 0 }
  test.each([
    [[], base],
    [['--no-window', '--port', '8080'], { ...base, window: false, port: 8080 }],
    [['--browser'], { ...base, browser: true }],
    [['--fetch'], { ...base, fetch: true }],
    [['a.lintelbook'], { ...base, jobFile: path.resolve('a.lintelbook') }],
    [['--help'], null],
  ])('%j', (words, options) => {
    expect(startOptionsFrom(words)).toEqual(options)
  })

  test.each([
    [['a', 'b'], /One job file/],
    [['--port', '70000'], /port 70000 is not/],
    [['--port', 'x'], /port x is not/],
    [['--widow'], /--widow/],
  ])('%j is answered with a sentence', (words, sentence) => {
    expect(startOptionsFrom(words)).toMatch(sentence)
  })
})

describe('finding a browser', () => {
  test.each<[NodeJS.Platform, Record<string, string>, string]>([
    ['linux', { PATH: '/usr/bin' }, '/usr/bin/chromium'],
    ['linux', { PATH: '' }, '/snap/bin/chromium'],
    ['darwin', {}, '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome'],
    ['win32', { ProgramFiles: 'C:\\Programs' }, 'C:\\Programs\\Microsoft\\Edge\\Application\\msedge.exe'],
    ['linux', { CHROMIUM: '/opt/own' }, '/opt/own'],
  ])('%s %j: %s', (platform, environment, place) => {
    expect(findBrowser(machine(platform, environment), (file) => file === place)).toBe(place)
  })

  test('none is none', () => {
    expect(findBrowser(machine('linux', { PATH: '/usr/bin' }), () => false)).toBeNull()
  })

  test('opens one address, in a profile of its own, with the sandbox unless root', () => {
    const words = browserWords('http://127.0.0.1:1/#launch=x', '/home-folder/browser', false)
    expect(words).toContain('--app=http://127.0.0.1:1/#launch=x')
    expect(words).toContain('--user-data-dir=/home-folder/browser')
    expect(words).not.toContain('--no-sandbox')
    expect(browserWords('x', 'y', true)).toContain('--no-sandbox')
  })

  test.each<[NodeJS.Platform, Record<string, string>, boolean]>([
    ['linux', {}, false],
    ['linux', { DISPLAY: ':0' }, true],
    ['linux', { WAYLAND_DISPLAY: 'wayland-0' }, true],
    ['darwin', {}, true],
    ['win32', {}, true],
  ])('%s %j has a screen: %s', (platform, environment, has) => {
    expect(hasScreen(machine(platform, environment))).toBe(has)
  })
})

describe('on disk', () => {
  let folder = ''
  beforeEach(() => {
    folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-machine-'))
  })
  afterEach(() => rmSync(folder, { recursive: true }))

  test("Electron's binary counts only when it is there; asking fetches nothing", () => {
    expect(electronBinary(folder)).toBeNull()
    writeFileSync(path.join(folder, 'path.txt'), 'electron\n')
    expect(electronBinary(folder)).toBeNull()
    mkdirSync(path.join(folder, 'dist'))
    writeFileSync(path.join(folder, 'dist/electron'), '')
    expect(electronBinary(folder)).toBe(path.join(folder, 'dist/electron'))
  })

  test('pages are the files of the built folder, by their request paths', () => {
    mkdirSync(path.join(folder, 'assets'))
    writeFileSync(path.join(folder, 'index.html'), '<!doctype html>')
    writeFileSync(path.join(folder, 'assets/a.js'), '1')
    writeFileSync(path.join(folder, 'assets/a.js.map'), '{}')
    symlinkSync('/etc/hostname', path.join(folder, 'leak.html'))
    const pages = readPages(folder)
    expect([...pages.keys()].sort()).toEqual(['/', '/assets/a.js', '/index.html'])
    expect(pages.get('/assets/a.js')?.type).toBe('text/javascript; charset=utf-8')
  })

  test('a folder without index.html was not built', () => {
    expect(() => readPages(folder)).toThrow(/no index\.html/)
  })
})

test.each([
  ["new URL('./reader-worker.ts', import.meta.url)", "new URL('./intake-reader-worker.js', import.meta.url)"],
  [
    "new URL(import.meta.url.endsWith('.ts') ? '../press.ts' : '../press.js', import.meta.url)",
    "new URL('./press.js', import.meta.url)",
  ],
  ["new URL('../press-worker.ts', import.meta.url)", "new URL('./press-worker.js', import.meta.url)"],
  [
    "path.join(import.meta.dirname, '../../migrations')",
    "path.join((import.meta.dirname + '/../../electron/intake'), '../../migrations')",
  ],
  [
    'createRequire(import.meta.url)',
    "createRequire(new URL('../../electron/intake/read.ts', import.meta.url).href)",
  ],
])('built modules find their places: %s', (source, built) => {
  expect(withSourcePlaces('electron/intake/read.ts', source)).toBe(built)
})
