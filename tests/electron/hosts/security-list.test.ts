// Electron documentation, "Security": its checklist, item by item, as of Electron 45. Most items are held by what the
// shell does (shell.test.ts) and what a real browser does (content-policy.browser.test.ts); here each one stands once.
import { readFileSync } from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import {
  appOrigin,
  contentPolicy,
  isAppAddress,
  mayLoad,
  mayOpenOutside,
  maySend,
  windowPreferences,
} from '../../../electron/guard.ts'
import { fuses } from '../../../electron/packaging/installers.ts'
import { root } from '../../tools/tool.ts'

const source = (file: string): string => readFileSync(path.join(root, file), 'utf8')
const shell = source('electron/main.ts') + source('electron/window.ts')
const electronVersion = (JSON.parse(source('package.json')) as { devDependencies: Record<string, string> })
  .devDependencies['electron']

// The number in the list, what it asks, what is so here.
const items: readonly [number, string, () => unknown, unknown][] = [
  [
    1,
    'only load secure content',
    () => ['http://a.example/', 'https://a.example/'].map(mayLoad),
    [false, false],
  ],
  [2, 'no Node.js integration for remote content', () => windowPreferences.nodeIntegration, false],
  [3, 'context isolation', () => windowPreferences.contextIsolation, true],
  [
    4,
    'process sandboxing',
    () => [windowPreferences.sandbox, shell.includes('app.enableSandbox()')],
    [true, true],
  ],
  [5, 'permission requests', () => shell.match(/setPermission(Request|Check)Handler/g)?.length, 2],
  [6, 'web security stays on', () => windowPreferences.webSecurity, true],
  [
    7,
    'a content security policy',
    () => contentPolicy.startsWith("default-src 'none'; script-src 'self'"),
    true,
  ],
  [8, 'no insecure content', () => windowPreferences.allowRunningInsecureContent, false],
  [9, 'no experimental features', () => windowPreferences.experimentalFeatures, false],
  [10, 'no enableBlinkFeatures', () => Object.keys(windowPreferences).includes('enableBlinkFeatures'), false],
  [11, 'no allowpopups for webviews', () => windowPreferences.webviewTag, false],
  [12, 'webview options verified: none is attached', () => shell.includes("'will-attach-webview'"), true],
  [13, 'navigation limited', () => shell.match(/'will-(navigate|frame-navigate|redirect)'/g)?.length, 3],
  [14, 'no new windows', () => shell.includes("{ action: 'deny' }"), true],
  [
    15,
    'openExternal not with untrusted content',
    () => ['file:///etc/passwd', 'javascript:x', 'smb://a/b', 'https://u:p@a.example/'].map(mayOpenOutside),
    [false, false, false, false],
  ],
  [16, 'a current version of Electron, pinned', () => /^4[5-9]\.\d+\.\d+$/.test(electronVersion ?? ''), true],
  [
    17,
    'the sender of every message is validated',
    () => [
      maySend({ url: `${appOrigin}/`, parent: null }),
      maySend({ url: `${appOrigin}/`, parent: {} }),
      maySend({ url: 'https://a.example/', parent: null }),
      maySend(null),
    ],
    [true, false, false, false],
  ],
  [
    18,
    'own protocol instead of file://',
    () => [isAppAddress('file:///a'), mayLoad('file:///a')],
    [false, false],
  ],
  [19, 'fuses', () => [fuses.runAsNode, fuses.onlyLoadAppFromAsar], [false, true]],
  [
    20,
    'no Electron API for web content: one frozen object with one function',
    () => source('electron/preload.ts').match(/exposeInMainWorld\(/g)?.length,
    1,
  ],
]

describe('the list', () => {
  test.each(items)('%i. %s', (_number, _asked, found, expected) => {
    expect(found()).toEqual(expected)
  })

  test('has its twenty items, each once', () => {
    expect(items.map(([number]) => number)).toEqual(Array.from({ length: 20 }, (_, index) => index + 1))
  })
})
