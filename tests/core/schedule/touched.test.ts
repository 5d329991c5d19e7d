import { describe, expect, test } from 'vitest'
import { removeRecords, setFields, type Edit, type JobData } from '../../../core/job/index.ts'
import { openingsTouched, plan, type Command } from '../../../core/schedule/index.ts'
import { counter, openingOf, smallJob } from '../support/small-job.ts'

// That no row is missed is a property in plan-properties.test.ts; here, that no more is named than need be.
const planned =
  (command: Command) =>
  (data: JobData): readonly Edit[] => {
    const made = plan(command, data, counter())
    if (!made.ok) throw new Error(JSON.stringify(made.problems))
    return made.change.edits
  }
const set =
  (kind: Edit['kind'], id: string, to: Record<string, unknown>) =>
  (data: JobData): readonly Edit[] => {
    const before = data.get(kind, id) as unknown as Record<string, unknown>
    const from = Object.fromEntries(Object.keys(to).map((field) => [field, before[field]]))
    return [{ does: 'set', kind, id, from, to }]
  }

describe('what a change reaches', () => {
  test.each<[string, (data: JobData) => readonly Edit[], string, string, boolean]>([
    [
      'a cell',
      (data) => [setFields('opening', openingOf(data, 'a'), { notes: 'x' }) as Edit],
      'a',
      '',
      false,
    ],
    ['a typical chosen', set('opening', 'a', { typicalId: 'office' }), 'a', '', true],
    ['a level chosen', set('opening', 'a', { levelId: 'yard' }), 'a', '', true],
    ['a leaf', set('leaf', 'c leaf 1', { material: 'WD' }), 'c', '', false],
    ['a fitting', set('fitting', 'b-lock', { tag: null }), 'b', '', false],
    ['a setting of a fitting', set('settingValue', 'b-relock', { value: '5' }), 'b', '', false],
    ['a setting of a typical', set('settingValue', 'store-relock', { value: '9' }), 'abcfi', '', false],
    ['a room', set('space', 'r102', { name: 'Canteen' }), 'ab', '', false],
    ['a typical', set('typical', 'office', { name: 'Study' }), 'dg', '', true],
    ['a typical fitting', set('typicalFitting', 'store-lock', { tag: 'L2' }), 'abcfi', '', true],
    ['a level’s name', set('level', 'yard', { name: 'Court' }), '', '', true],
    ['a level’s building', set('level', 'yard', { buildingId: 'main' }), 'ij', '', true],
    ['a building', set('building', 'main', { name: 'House' }), '', '', true],
    ['a part', set('part', 'lock', { name: 'Lock' }), '', '', true],
    ['the job', set('job', 'job', { units: 'metric' }), '', '', true],
    ['a run, where it ends', set('run', 'run', { lengthMetres: 3 }), 'a', '', false],
    ['openings removed', planned({ does: 'remove openings', openingIds: ['a', 'c'] }), '', 'ac', true],
    ['a room removed', (data) => removeRecords(data, 'space', ['r201']).edits, 'g', '', false],
    ['a copy', planned({ does: 'duplicate openings', openingIds: ['a'] }), 'n1', '', true],
  ])('%s', (_what, editsOf, openings, removed, frame) => {
    const data = smallJob()
    const edits = editsOf(data)
    data.apply(edits)
    const touched = openingsTouched(data, edits)
    expect([...touched.openings].toSorted().join('')).toBe(openings)
    expect([...touched.removed].toSorted().join('')).toBe(removed)
    expect(touched.frame).toBe(frame)
  })
})
