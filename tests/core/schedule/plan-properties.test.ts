import fc from 'fast-check'
import { expect, test } from 'vitest'
import { invert, records, type Edit, type JobData } from '../../../core/job/index.ts'
import {
  command,
  openingsTouched,
  plan,
  scheduleFrame,
  scheduleRow,
  type Command,
  type ScheduleRow,
} from '../../../core/schedule/index.ts'
import { commandSequence } from '../support/random-commands.ts'
import { brokenReferences, counter, everything, smallJob } from '../support/small-job.ts'

/** Records changed by these edits that their own shape refuses. */
function misshapen(data: JobData, edits: readonly Edit[]): string[] {
  return edits.flatMap((edit) => {
    const id = edit.does === 'set' ? edit.id : (edit.record['id'] as string)
    const record = data.get(edit.kind, id)
    if (record === undefined) return []
    const read = records[edit.kind].safeParse(record)
    return read.success ? [] : [`${edit.kind} ${id}: ${read.error.message}`]
  })
}

function marksTwice(data: JobData): string[] {
  const found = new Set<string>()
  return [...data.all('opening')].flatMap(({ levelId, mark }) => {
    const key = `${levelId} ${mark.toLowerCase()}`
    if (found.has(key)) return [key]
    found.add(key)
    return []
  })
}

const rowsOf = (data: JobData): Map<string, ScheduleRow> =>
  new Map(Array.from(data.all('opening'), (opening) => [opening.id, scheduleRow(data, opening)]))

// Deeds that chance alone seldom gets to, since they need something made just before.
const seldom: Command[][] = [
  [
    { does: 'add typical', name: 'Like it', likeTypicalId: 'store' },
    { does: 'remove typical', typicalId: 'n1' },
  ],
  [
    { does: 'add building', name: 'Shed' },
    { does: 'rename building', buildingId: 'n1', name: 'Sheds' },
    { does: 'remove building', buildingId: 'n1' },
  ],
  [
    { does: 'add level', buildingId: 'main', name: 'Roof' },
    { does: 'move level', levelId: 'n1', by: -1 },
    { does: 'rename level', levelId: 'n1', name: 'Loft' },
    { does: 'remove level', levelId: 'n1' },
  ],
]

test('whatever is asked, the job stays whole and can be taken back', () => {
  const carriedOut = new Map<string, number>()
  fc.assert(
    fc.property(commandSequence, (commands) => {
      const data = smallJob()
      const newId = counter()
      const start = everything(data)
      const done: (readonly Edit[])[] = []
      for (const each of commands) {
        expect(command.safeParse(each).success).toBe(true)
        const before = everything(data)
        const planned = plan(each, data, newId)
        expect(everything(data)).toEqual(before)
        if (!planned.ok) {
          expect(planned.problems.length).toBeGreaterThan(0)
          for (const { sentence } of planned.problems) expect(sentence).toMatch(/^\S.*[.?]$/s)
          continue
        }
        const { name, edits } = planned.change
        expect(name).toMatch(/^[A-Z].*\S$/)
        if (edits.length > 0) carriedOut.set(each.does, (carriedOut.get(each.does) ?? 0) + 1)
        for (const edit of edits) {
          data.apply([edit])
          expect(brokenReferences(data)).toEqual([])
        }
        expect(misshapen(data, edits)).toEqual([])
        expect(marksTwice(data)).toEqual([])
        for (const opening of data.all('opening')) {
          const leaves = data.referring('leaf', 'openingId', opening.id)
          const roles = leaves.toSorted((a, b) => a.position - b.position).map((leaf) => leaf.role)
          expect(['only', 'active inactive']).toContain(roles.join(' '))
        }
        const after = everything(data)
        data.apply(invert(edits))
        expect(everything(data)).toEqual(before)
        data.apply(edits)
        expect(everything(data)).toEqual(after)
        done.push(edits)
      }
      for (const edits of done.toReversed()) data.apply(invert(edits))
      expect(everything(data)).toEqual(start)
    }),
    { numRuns: 400, examples: seldom.map((each) => [each]) },
  )
  // The property says something only if every command was really carried out.
  expect(carriedOut.size).toBe(23)
  expect(Math.min(...carriedOut.values())).toBeGreaterThan(0)
})

test('the openings a change reaches hold every row that reads differently, there and back', () => {
  const reached = { differing: 0, named: 0 }
  fc.assert(
    fc.property(commandSequence, (commands) => {
      const data = smallJob()
      const newId = counter()
      for (const each of commands) {
        const planned = plan(each, data, newId)
        if (!planned.ok) continue
        for (const edits of [planned.change.edits, invert(planned.change.edits), planned.change.edits]) {
          const [before, frame] = [rowsOf(data), scheduleFrame(data)]
          data.apply(edits)
          const touched = openingsTouched(data, edits)
          const after = rowsOf(data)
          for (const [id, row] of after) {
            if (JSON.stringify(row) === JSON.stringify(before.get(id))) continue
            reached.differing += 1
            expect(touched.openings).toContain(id)
          }
          const gone = [...before.keys()].filter((id) => !after.has(id))
          expect(touched.removed).toEqual(new Set(gone))
          for (const id of touched.openings) expect(after.has(id)).toBe(true)
          if (JSON.stringify(scheduleFrame(data)) !== JSON.stringify(frame)) expect(touched.frame).toBe(true)
          reached.named += touched.openings.size
        }
      }
    }),
    { numRuns: 300 },
  )
  expect(reached.differing).toBeGreaterThan(500)
  // Naming everything would pass too, and would be no use.
  expect(reached.named).toBeLessThan(3 * reached.differing)
})
