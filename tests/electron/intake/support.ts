import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { PlainFile, PlainModel, PlainSheet } from '../../../core/exchange/plain.ts'
import type { FileResult } from '../../../electron/intake/index.ts'
import { problemSentence } from '../../../electron/intake/index.ts'

const root = join(import.meta.dirname, '../../..')
export const fixtureFolder = join(root, 'fixtures/intake')
const openFolder = join(root, '../shared/data')

/** Whether the open input files are at hand; when not, says so once, and the tests that need them skip. */
export const hasOpenFiles = existsSync(openFolder)
if (!hasOpenFiles) console.log('Skipped: ../shared/data with the open input files is not here.')

export function fixture(name: string): Uint8Array {
  return readFileSync(join(fixtureFolder, name))
}

export function openFile(name: string): Uint8Array {
  return readFileSync(join(openFolder, name))
}

export function expectedFile(name: string): Uint8Array {
  return readFileSync(join(openFolder, 'expected', name))
}

function fileOf(result: FileResult): PlainFile {
  if (!result.ok) throw new Error(problemSentence(result.problem))
  return result.file
}

export function sheetsOf(result: FileResult): readonly PlainSheet[] {
  const file = fileOf(result)
  if (file.form !== 'sheets') throw new Error('a workbook was expected')
  return file.sheets
}

export function sheetNamed(result: FileResult, name: string): PlainSheet {
  const sheet = sheetsOf(result).find((candidate) => candidate.name === name)
  if (sheet === undefined) throw new Error(`no sheet ${name}`)
  return sheet
}

export function modelOf(result: FileResult): PlainModel {
  const file = fileOf(result)
  if (file.form !== 'model') throw new Error('a model was expected')
  return file.model
}

/** Rows of a sheet as texts. */
export function textsOf(sheet: PlainSheet): string[][] {
  return sheet.rows.map((row) => row.cells.map((cell) => cell.text))
}

/** Rows under a row of headings, by heading. */
export function recordsOf(rows: readonly (readonly string[])[]): Record<string, string>[] {
  const [headings = [], ...rest] = rows
  return rest.map((row) => Object.fromEntries(headings.map((heading, index) => [heading, row[index] ?? ''])))
}
