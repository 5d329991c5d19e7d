// Shows that the linter, with the project's own settings, reports what it should. A linter that finds no files also passes.
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { root, runTool } from '../tools/tool.ts'

interface Report {
  readonly diagnostics: readonly { readonly code: string; readonly filename: string }[]
}

const planted: readonly (readonly [file: string, text: string, code: string])[] = [
  [
    'core/power/promise.ts',
    'const later = async () => 1\nexport const lose = () => {\n  later()\n}\n',
    'typescript(no-floating-promises)',
  ],
  ['core/power/loose.ts', 'export const loose = (value: any) => value\n', 'typescript(no-explicit-any)'],
  [
    'core/power/machine.ts',
    "import fs from 'node:fs'\nexport const read = fs.readFileSync\n",
    'eslint(no-restricted-imports)',
  ],
  ['core/power/nameless.ts', 'export default 1\n', 'import(no-default-export)'],
  [
    'core/power/round.ts',
    "import { back } from './and-round.ts'\nexport const round: number = back\n",
    'import(no-cycle)',
  ],
  [
    'core/power/and-round.ts',
    "import { round } from './round.ts'\nexport const back: number = round\n",
    'import(no-cycle)',
  ],
  [
    'renderer/screens/upward.ts',
    "import { open } from '../../electron/store/index.ts'\nexport const x = open\n",
    'eslint(no-restricted-imports)',
  ],
  [
    'renderer/drawing/shell.ts',
    "import { useState } from 'react'\nexport const x = useState\n",
    'eslint(no-restricted-imports)',
  ],
  [
    'electron/calls/paper.ts',
    "import { print } from '../../renderer/paper/index.ts'\nexport const x = print\n",
    'eslint(no-restricted-imports)',
  ],
  [
    'renderer/screens/hook.tsx',
    "import { useState } from 'react'\nexport function Page({ on }: { on: boolean }) {\n  if (on) useState(1)\n  return null\n}\n",
    'react-hooks(rules-of-hooks)',
  ],
  [
    'renderer/screens/picture.tsx',
    'export const Picture = () => <img src="a.png" />\n',
    'jsx-a11y(alt-text)',
  ],
  [
    'core/power/open-switch.ts',
    "export function name(hand: 'LH' | 'RH'): number {\n  switch (hand) {\n    case 'LH':\n      return 1\n  }\n  return 0\n}\n",
    'typescript(switch-exhaustiveness-check)',
  ],
]
const good = ['core/power/good.ts', "import { z } from 'zod'\n\nexport const ohms = z.number()\n"] as const

let folder = ''
let found: readonly string[] = []

beforeAll(async () => {
  folder = mkdtempSync(path.join(os.tmpdir(), 'lintelbook-lint-'))
  copyFileSync(path.join(root, '.oxlintrc.json'), path.join(folder, '.oxlintrc.json'))
  const options = {
    strict: true,
    module: 'nodenext',
    target: 'es2024',
    jsx: 'react-jsx',
    allowImportingTsExtensions: true,
    noEmit: true,
  }
  writeFileSync(path.join(folder, 'tsconfig.json'), JSON.stringify({ compilerOptions: options }))
  for (const [file, text] of [...planted, good]) {
    mkdirSync(path.join(folder, path.dirname(file)), { recursive: true })
    writeFileSync(path.join(folder, file), text)
  }
  const { output } = await runTool('oxlint', 'oxlint', ['--type-aware', '--format', 'json'], { folder })
  const report = JSON.parse(output) as Report
  found = report.diagnostics.map(({ filename, code }) => `${filename.replaceAll('\\', '/')} ${code}`)
}, 60_000)
afterAll(() => rmSync(folder, { recursive: true }))

test.each(planted)('%s is reported', (file, _text, code) => {
  expect(found.filter((line) => line.startsWith(file))).toContain(`${file} ${code}`)
})

test('good code is left alone', () => {
  expect(found.filter((line) => line.startsWith(good[0]))).toEqual([])
})
