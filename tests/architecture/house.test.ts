// The guards, over every file of the house.
import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { habitGuards, topLevelGuard } from './habits.ts'
import { coreOrderGuard, indexGuard, layersGuard } from './layers.ts'

const root = path.resolve(import.meta.dirname, '../..')
const codeFolders = ['core', 'electron', 'renderer', 'migrations', 'tests']
const isCode = (file: string) => /\.(ts|tsx|mjs)$/.test(file) && !file.startsWith('tests/output/')

const filesBelow = (folder: string): readonly string[] => {
  const entries = readdirSync(path.join(root, folder), { recursive: true, withFileTypes: true })
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(root, path.join(entry.parentPath, entry.name)).split(path.sep).join('/'))
}

const topFolders = readdirSync(root, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map((entry) => entry.name)

const house = codeFolders
  .filter((folder) => topFolders.includes(folder))
  .flatMap(filesBelow)
  .filter(isCode)
  .map((file) => ({ file, text: readFileSync(path.join(root, file), 'utf8') }))

test('the house has files to look at', () => {
  expect(house.length).toBeGreaterThan(20)
})

test.each([
  ['layers', [layersGuard]],
  ['order inside core', [coreOrderGuard]],
  ['folders are entered by their index', [indexGuard]],
  ['habits', habitGuards],
] as const)('%s', (_name, guards) => {
  expect(guards.flatMap((guard) => house.flatMap(({ file, text }) => guard(file, text)))).toEqual([])
})

test('top-level folders', () => {
  expect(topLevelGuard(topFolders)).toEqual([])
})
