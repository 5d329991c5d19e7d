import { describe, expect, test } from 'vitest'
import {
  arrangeRows,
  openingsTouched,
  plainArrangement,
  plan,
  scheduleFrame,
  scheduleRow,
  scheduleRows,
  type Command,
} from '../../../core/schedule/index.ts'
import { counter, largeJob, openingOf } from '../support/small-job.ts'

const count = 10_000
const data = largeJob(count)

/** The median time of a piece of work, in milliseconds, after one run to warm up. */
function median(times: number, work: (at: number) => void): number {
  work(0)
  const taken = Array.from({ length: times }, (_, at) => {
    const start = performance.now()
    work(at + 1)
    return performance.now() - start
  })
  return taken.toSorted((a, b) => a - b)[Math.floor(times / 2)] ?? Infinity
}

/** The same time again, printed. */
function printed(what: string, milliseconds: number): number {
  console.log(`${what}, ${count} openings: ${milliseconds.toFixed(2)} ms`)
  return milliseconds
}

const carryOut = (command: Command, newId = counter()): void => {
  const made = plan(command, data, newId)
  if (!made.ok) throw new Error(JSON.stringify(made.problems.slice(0, 3)))
  const { edits } = made.change
  data.apply(edits)
  const touched = openingsTouched(data, edits)
  for (const id of touched.openings) scheduleRow(data, openingOf(data, id))
  if (touched.frame) scheduleFrame(data)
}

describe('speed', () => {
  test('all rows', () => {
    expect(
      printed(
        'Rows',
        median(5, () => scheduleRows(data)),
      ),
    ).toBeLessThan(400)
  })

  test.each<[string, Partial<typeof plainArrangement>]>([
    ['by level and mark', {}],
    ['by size, down', { group: 'nothing', sort: { column: 'size', direction: 'down' } }],
    ['by place', { group: 'typical', sort: { column: 'where', direction: 'up' } }],
    ['by words', { words: 'room 99' }],
  ])('arranged %s', (what, wanted) => {
    const [rows, frame] = [scheduleRows(data), scheduleFrame(data)]
    const taken = median(5, () => arrangeRows(rows, frame, { ...plainArrangement, ...wanted }))
    expect(printed(`Arranged ${what}`, taken)).toBeLessThan(150)
  })

  test.each([
    ['notes', (at: number) => `Note ${at}`],
    ['typical', (at: number) => (at % 2 === 0 ? 'Office' : 'Store room')],
    ['mark', (at: number) => `X${at}`],
    ['size', (at: number) => (at % 2 === 0 ? 'PR 3-0 x 7-0' : '3-0 x 7-0')],
  ] as const)('one cell: %s', (column, textOf) => {
    const newId = counter()
    const taken = median(50, (at) => {
      const cells = [{ openingId: `opening ${at * 7}`, column, text: textOf(at) }]
      carryOut({ does: 'set cells', how: 'type', cells, unreadable: 'refuse' }, () => `${column} ${newId()}`)
    })
    expect(printed(`One cell of ${column}, planned, applied, its row made again`, taken)).toBeLessThan(5)
  })

  // In this order: each leaves the job for the next.
  const all = Array.from({ length: count }, (_, at) => `opening ${at}`)
  const cells = all.map((openingId, at) => ({ openingId, column: 'mark' as const, text: `R${at}` }))
  test.each<[string, Command]>([
    ['Renumbered', { does: 'renumber openings', openingIds: all, firstMark: 'A1' }],
    ['Marked', { does: 'set cells', how: 'paste', cells, unreadable: 'refuse' }],
    ['Moved', { does: 'move openings', openingIds: all, levelId: 'level 0' }],
    ['Duplicated a thousand', { does: 'duplicate openings', openingIds: all.slice(0, 1000) }],
    ['Removed', { does: 'remove openings', openingIds: all }],
  ])('%s', (what, command) => {
    const start = performance.now()
    carryOut(command)
    expect(printed(what, performance.now() - start)).toBeLessThan(3000)
  })
})
