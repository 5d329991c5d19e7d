// Three kinds of tests: quick ones, ones that use the disk and processes, and ones that drive a real browser.
import path from 'node:path'
import { defineConfig } from 'vitest/config'

const browser = ['tests/e2e/**/*.test.{ts,tsx}', 'tests/**/*.browser.test.{ts,tsx}']
const slow = [
  'tests/electron/*.test.ts',
  'tests/electron/{store,calls,intake,press,cli,packaging}/**/*.test.ts',
  'tests/outside/**/*.test.ts',
  'tests/renderer/paper/**/*.test.ts',
  'tests/**/*.process.test.ts',
]

// Tests never meet the real electron: its package would fetch its binary.
const alias = { electron: path.join(import.meta.dirname, 'tests/electron/hosts/fake-electron.ts') }
// One group after the other: a process test rebuilds what the browser tests look at.
const serial = { fileParallelism: false, maxWorkers: 1 }

export default defineConfig({
  test: {
    projects: [
      {
        resolve: { alias },
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [...slow, ...browser],
          // Far above what a quick test takes; the machine may be busy with the linter beside it.
          testTimeout: 20_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        resolve: { alias },
        test: {
          name: 'process',
          include: slow,
          exclude: browser,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 1 },
          ...serial,
        },
      },
      {
        resolve: { alias },
        test: {
          name: 'browser',
          include: browser,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 2 },
          ...serial,
        },
      },
    ],
  },
})
