import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { makeJobFromTwin, writeJobAsTwin } from '../../../electron/store/index.ts'
import { fileOf, optionsAt, smallJob, temporaryFolder } from './support.ts'

const shipped = path.resolve(import.meta.dirname, '../../../fixtures/shipped-schemas/0001.twin.json')
const text = fs.readFileSync(shipped, 'utf8')
const somewhere = (): string => path.join(temporaryFolder(), 'again.lintelbook')

describe('the twin of a job file', () => {
  test('becomes the same job again: records, journal, attachments, undo and redo', () => {
    const file = fileOf(makeJobFromTwin(somewhere(), text, optionsAt()))
    expect(writeJobAsTwin(file)).toBe(text)
    expect(file.check().findings.filter((finding) => !finding.includes('not in the file'))).toEqual([])
    expect([file.undoName, file.redoName]).toEqual([
      'Set notes of 2 otherwise',
      'Set notes of 2 for the last time',
    ])
    expect(file.redo().ok).toBe(true)
    expect(file.data.get('opening', 'opening-2')?.notes).toBe('last')
    for (let count = 0; count < 3; count++) expect(file.undo().ok).toBe(true)
    expect(file.data.get('opening', 'opening-2')?.notes).toBeNull()
  })

  test('is the same twice, and does not depend on the order in which things were made', () => {
    const file = smallJob()
    const first = writeJobAsTwin(file)
    expect(writeJobAsTwin(file)).toBe(first)
    const backwards = first.replace(/"opening":\[\n([\s\S]*?)\n\]/, (_all, lines: string) => {
      const turned = lines.split(',\n').toReversed().join(',\n')
      return `"opening":[\n${turned}\n]`
    })
    expect(backwards).not.toBe(first)
    expect(writeJobAsTwin(fileOf(makeJobFromTwin(somewhere(), backwards, optionsAt())))).toBe(first)
  })

  test.each([
    [
      'an attachment whose bytes were changed',
      (twin: string) => twin.replace('"YSBkcmF3aW5n', '"YSBkcmF3aW5m'),
      'is not what its name says',
    ],
    ['no JSON', () => 'hello', 'not whole JSON'],
    ['cut short', (twin: string) => twin.slice(0, -200), 'not whole JSON'],
    [
      'a bad field',
      (twin: string) => twin.replace('"units":"metric"', '"units":"cubits"'),
      'The job job-1, field units: expected one of imperial, metric, found "cubits".',
    ],
  ])('with %s is refused with a sentence, and no file is made', (_what, spoil, words) => {
    const jobPath = somewhere()
    const result = makeJobFromTwin(jobPath, spoil(text), optionsAt())
    expect(result.ok ? '' : result.sentence).toContain(words)
    expect(fs.readdirSync(path.dirname(jobPath))).toEqual([])
  })
})
