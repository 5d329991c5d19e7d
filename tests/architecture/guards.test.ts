// Shows that each guard bites on bad code and lets good code pass.
import { describe, expect, test } from 'vitest'
import { coreOrderGuard, indexGuard, layersGuard, type Guard } from './layers.ts'
import {
  anyGuard,
  clockGuard,
  defaultExportGuard,
  domGuard,
  enumGuard,
  fileNameGuard,
  machinePathGuard,
  randomnessGuard,
  topLevelGuard,
} from './habits.ts'
import { codeOf, importsOf } from './source-text.ts'

type Row = readonly [verdict: 'bites' | 'passes', file: string, text: string]

const rows: Readonly<Record<string, readonly [Guard, readonly Row[]]>> = {
  layers: [
    layersGuard,
    [
      ['passes', 'core/job/records.ts', "import { z } from 'zod'"],
      ['passes', 'core/power/solve.ts', "import type { Id } from '../job/index.ts'"],
      ['bites', 'core/job/records.ts', "import fs from 'node:fs'"],
      ['bites', 'core/job/records.ts', "import { Pool } from '../../electron/store/index.ts'"],
      ['bites', 'core/job/records.ts', "import type { Row } from '../../renderer/ui/index.ts'"],
      ['bites', 'core/job/records.ts', "export * from '../../electron/store/index.ts'"],
      ['bites', 'core/job/records.ts', "const later = await import('../../electron/store/index.ts')"],
      ['bites', 'core/job/records.ts', "import {\n  useState,\n} from 'react'"],
      ['passes', 'renderer/screens/schedule/page.tsx', "import { useState } from 'react'"],
      ['passes', 'renderer/screens/schedule/page.tsx', "import { gateMark } from '../../drawing/index.ts'"],
      ['bites', 'renderer/screens/schedule/page.tsx', "import { ipcRenderer } from 'electron'"],
      [
        'bites',
        'renderer/screens/schedule/page.tsx',
        "import { openJob } from '../../../electron/store/index.ts'",
      ],
      ['bites', 'renderer/screens/schedule/page.tsx', "import { printSchedule } from '../../paper/index.ts'"],
      ['passes', 'renderer/paper/page.ts', "import PDFDocument from 'pdfkit'"],
      ['bites', 'renderer/paper/page.ts', "import { createElement } from 'react'"],
      ['bites', 'renderer/drawing/gate-mark.ts', "import { createElement } from 'react'"],
      ['passes', 'electron/press.ts', "import { printSchedule } from '../renderer/paper/index.ts'"],
      ['bites', 'electron/cli.ts', "import { printSchedule } from '../renderer/paper/index.ts'"],
      ['bites', 'electron/press.ts', "import { gateMark } from '../renderer/drawing/index.ts'"],
      ['passes', 'electron/window.ts', "import type { BrowserWindow } from 'electron'"],
      ['bites', 'electron/guard.ts', "import type { BrowserWindow } from 'electron'"],
      ['bites', 'electron/calls/jobs.ts', "import { app } from 'electron'"],
      ['passes', 'electron/store/open.ts', "import Database from 'better-sqlite3'"],
      ['bites', 'electron/calls/jobs.ts', "import Database from 'better-sqlite3'"],
      ['bites', 'migrations/index.ts', "import { records } from '../core/job/index.ts'"],
      ['bites', 'helpers/anything.ts', ''],
    ],
  ],
  'order inside core': [
    coreOrderGuard,
    [
      ['passes', 'core/contract/contract.ts', "import { records } from '../job/index.ts'"],
      ['passes', 'core/job/records.ts', "import type { Id } from './ids.ts'"],
      ['bites', 'core/job/records.ts', "import { columns } from '../schedule/index.ts'"],
      ['bites', 'core/behaviour/judge.ts', "import { solve } from '../power/index.ts'"],
      ['bites', 'core/utilities/text.ts', ''],
    ],
  ],
  'entered by its index': [
    indexGuard,
    [
      ['passes', 'core/power/solve.ts', "import type { Id } from '../job/index.ts'"],
      ['passes', 'electron/calls/jobs.ts', "import { blockedName } from '../guard.ts'"],
      ['passes', 'core/power/solve.ts', "import { ohms } from './ohms.ts'"],
      ['passes', 'renderer/ui/index.ts', "export * from './table/types.ts'"],
      ['bites', 'renderer/screens/index.ts', "import { Page } from './schedule/page.tsx'"],
      ['bites', 'renderer/screens/opening/page.tsx', "import { Page } from '../schedule/page.tsx'"],
      ['passes', 'tests/core/job/ids.test.ts', "import { asId } from '../../../core/job/ids.ts'"],
      ['bites', 'core/power/solve.ts', "import type { Id } from '../job/ids.ts'"],
      ['bites', 'electron/main.ts', "import { openProgram } from './calls/program.ts'"],
    ],
  ],
  clock: [
    clockGuard,
    [
      ['passes', 'core/job/edits.ts', 'const day = new Date(instant)'],
      ['passes', 'core/job/edits.ts', 'const updateLog = toDate(instant)'],
      ['passes', 'core/job/edits.ts', '// Date.now() would make two runs differ\nconst words = "Date.now()"'],
      ['passes', 'electron/store/backup.ts', 'const now = Date.now()'],
      ['bites', 'core/job/edits.ts', 'const now = Date.now()'],
      ['bites', 'core/job/edits.ts', 'const now = new Date()'],
      ['bites', 'core/job/edits.ts', 'const now = new Date ( ).toISOString()'],
      ['bites', 'core/job/edits.ts', 'const now = new Date'],
      ['bites', 'core/job/edits.ts', 'const now = Date()'],
      ['bites', 'core/job/edits.ts', 'const label = `${Date.now()}`'],
      ['bites', 'renderer/paper/page.ts', 'const start = performance.now()'],
      ['bites', 'renderer/drawing/mark.ts', 'setTimeout(draw, 10)'],
    ],
  ],
  randomness: [
    randomnessGuard,
    [
      ['passes', 'core/job/edits.ts', 'const id = newId()'],
      ['passes', 'electron/cli.ts', 'const id = crypto.randomUUID()'],
      ['bites', 'core/job/edits.ts', 'const id = Math.random()'],
      ['bites', 'renderer/paper/page.ts', 'const id = crypto.randomUUID()'],
      ['bites', 'renderer/drawing/mark.ts', 'crypto.getRandomValues(bytes)'],
    ],
  ],
  'no window in paper and drawings': [
    domGuard,
    [
      ['passes', 'renderer/paper/page.ts', 'const title = document.blocks[0]'],
      ['passes', 'renderer/screens/page.tsx', 'document.querySelector(name)'],
      ['bites', 'renderer/paper/page.ts', 'const page = document.createElement(name)'],
      ['bites', 'renderer/drawing/mark.ts', 'const width = window.innerWidth'],
      ['bites', 'renderer/drawing/mark.ts', 'let target: SVGPathElement'],
    ],
  ],
  any: [
    anyGuard,
    [
      ['passes', 'core/job/edits.ts', "const words = 'as any'; const first = Promise.any([])"],
      ['passes', 'renderer/ui/note.tsx', 'const note = <p>Note: any opening, in any building</p>'],
      ['bites', 'core/job/edits.ts', 'const value: any = 1'],
      ['bites', 'core/job/edits.ts', 'const value = raw as any'],
      ['bites', 'core/job/edits.ts', 'const value = new Map<string, any>()'],
      ['bites', 'core/job/edits.ts', 'const value: any[] = []'],
      ['bites', 'tests/core/job/edits.test.ts', 'type Row = Record<string, any>'],
    ],
  ],
  'default export': [
    defaultExportGuard,
    [
      ['passes', 'core/job/edits.ts', 'export const apply = 1'],
      ['bites', 'core/job/edits.ts', 'export default function apply() {}'],
      ['bites', 'core/job/edits.ts', 'const apply = 1\nexport { apply as default }'],
    ],
  ],
  enum: [
    enumGuard,
    [
      ['passes', 'core/job/edits.ts', "export const hands = ['LH', 'RH'] as const"],
      ['passes', 'core/job/edits.ts', "z.enum(['LH', 'RH'])"],
      ['bites', 'core/job/edits.ts', 'export enum Hand { Left }'],
      ['bites', 'core/job/edits.ts', 'const enum Hand { Left }'],
    ],
  ],
  'file names': [
    fileNameGuard,
    [
      ['passes', 'core/job/job-data.ts', ''],
      ['passes', 'tests/e2e/schedule.browser.test.ts', ''],
      ['bites', 'core/job/JobData.ts', ''],
      ['bites', 'core/job/job_data.ts', ''],
    ],
  ],
  'paths of one machine': [
    machinePathGuard,
    [
      ['passes', 'tests/e2e/start.ts', "const data = path.join(import.meta.dirname, '../../../shared/data')"],
      ['bites', 'tests/e2e/start.ts', `const data = '${'/wo'}rk/shared/data'`],
    ],
  ],
}

describe.each(Object.entries(rows))('guard: %s', (_name, [guard, cases]) => {
  test.each(cases)('%s on %s: %s', (verdict, file, text) => {
    expect(guard(file, text).length > 0 ? 'bites' : 'passes').toBe(verdict)
  })
})

test('top-level folders: only those of the house', () => {
  expect(topLevelGuard(['core', 'electron', 'node_modules'])).toEqual([])
  expect(topLevelGuard(['core', 'utils'])).toEqual(['utils/ is no part of the house'])
})

test.each([
  ['comments go', "a() // b('c')\n/* d */ e", 'a() \n e'],
  ['strings are emptied', `say('Date.now()', "x")`, `say('', "")`],
  [
    'a quote inside a pattern opens no string',
    "text.replace(/'/g, one) // 'two'\nthree",
    'text.replace(/./g, one) \nthree',
  ],
  ['division is no pattern', "width / 2 + height / 3 // 'half'", 'width / 2 + height / 3 '],
  ['code inside a template counts', '`a ${b(`c ${d}`, {})} e`', '`${b(`${d}`, {})}`'],
  ['a closing tag is no pattern', '<p>it</p>\nnext', '<p>it</p>\nnext'],
])('reading text: %s', (_name, text, code) => {
  expect(codeOf(text, 'emptied')).toBe(code)
})

test('every form of import is seen', () => {
  const text = `import a from './a.ts'
    import type { B } from './b.ts'
    import './c.ts'
    export { d } from './d.ts'
    export * from './e.ts'
    const f = await import('./f.ts')
    // import g from './g.ts'
    const h = "from './h.ts'"`
  expect([...importsOf(text)].sort()).toEqual(['./a.ts', './b.ts', './c.ts', './d.ts', './e.ts', './f.ts'])
})
