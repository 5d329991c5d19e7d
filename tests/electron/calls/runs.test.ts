import { describe, expect, test } from 'vitest'
import { readFileBytes } from '../../../electron/intake/index.ts'
import { bytesOf, start, temporaryFolder, textOf, type Running } from './support.ts'

async function demo(): Promise<Running> {
  const running = await start(temporaryFolder())
  await running.ask('job.openDemo', {})
  return running
}
const recordsOf = (twin: string): unknown => (JSON.parse(twin) as { records: unknown }).records

describe('runs of the demo job', () => {
  test('twenty pasted rows become twenty runs in one change, taken back as one', async () => {
    const { ask, change, twin } = await demo()
    const before = await twin()
    const known = (await ask('runs.read', {})).rows.length
    const cells = Array.from({ length: 20 }, (_, index) => [
      { rowKey: `blank ${index + 1}`, column: 'from' as const, text: `PS4 output ${(index % 7) + 1}` },
      { rowKey: `blank ${index + 1}`, column: 'to' as const, text: index % 2 === 0 ? '318 K1' : '331 M1' },
      { rowKey: `blank ${index + 1}`, column: 'cable' as const, text: 'lock feed 16/2' },
      { rowKey: `blank ${index + 1}`, column: 'length' as const, text: index < 12 ? String(60 + index) : '' },
    ]).flat()
    const { command, problems } = await ask('runs.type', { cells, how: 'paste', unreadable: 'refuse' })
    expect(problems).toEqual([])
    if (command === null) throw new Error('nothing to change')
    const { name } = await change(command)
    expect(name).toBe('Add 20 runs')
    const after = await ask('runs.read', {})
    expect(after.rows.length).toBe(known + 20)
    expect(after.rows.at(-1)).toMatchObject({ cable: 'Lock feed 16/2', count: 2, size: '16 AWG' })
    const filled = await ask('runs.fill', {})
    if (filled.command === null) throw new Error('nothing to fill')
    // The eight without a length and those of the job that had none.
    expect(filled.command.set.length).toBeGreaterThanOrEqual(8)
    await change(filled.command)
    expect((await ask('runs.read', {})).fillable).toBe(0)
    await ask('change.undo', {})
    await ask('change.undo', {})
    expect(recordsOf(await twin())).toEqual(recordsOf(before))
  })

  test('runs from one output to the openings of a level', async () => {
    const { ask, change, schedule } = await demo()
    const { rows, frame } = await schedule()
    const level = frame.levels.find(({ name }) => name === 'Roof')
    const openingIds = rows.filter(({ levelId }) => levelId === level?.id).map(({ id }) => id as string)
    const start_ = { at: 'output' as const, id: 'output-ps4-7' }
    const { tags } = await ask('runs.tags', { openingIds, start: start_ })
    const wanted = tags.filter(({ usual, without }) => usual && without > 0)
    const { command } = await ask('runs.add', {
      openingIds,
      start: start_,
      tags: wanted.map(({ tag }) => tag),
      cableKindId: 'cable-kind-1',
      fillLengths: true,
    })
    if (command === null) throw new Error('nothing to add')
    const before = (await ask('runs.read', {})).rows.length
    await change(command)
    const after = (await ask('runs.read', {})).rows
    expect(after.length - before).toBe(wanted.reduce((sum, { without }) => sum + without, 0))
    expect(after.at(-1)?.from).toBe('PS4 output 7')
  })

  test('an opening tells its runs and its points', async () => {
    const { ask, row } = await demo()
    const { runs, points } = await ask('runs.opening', { openingId: (await row('118')).id })
    expect(runs.map(({ name }) => name)).toContain('118 feed')
    expect(points.map(({ name }) => name)).toEqual(expect.arrayContaining(['118 contact', '118 lock']))
    expect(points.find(({ name }) => name === '118 contact')?.loop?.toldApart.answer).toBe('yes')
  })
})

describe('points', () => {
  test('a relay said wrong changes what its doorway does', async () => {
    const { ask, change, row } = await demo()
    const { id } = await row('102')
    const secured = async (): Promise<string> => {
      const { behaviour } = await ask('opening.read', { openingId: id })
      return JSON.stringify(behaviour.lines[0]?.gate)
    }
    const before = await secured()
    const { points } = await ask('runs.opening', { openingId: id })
    const lock = points.find(({ direction }) => direction === 'output')
    if (lock === undefined) throw new Error('no output at 102')
    const record = {
      id: 'new:1',
      pointId: lock.id,
      contact: 'normally closed',
      energised: 'to release',
      releasedInOpenHours: null,
      unlockSeconds: null,
    }
    const outcome = await change({
      does: 'change records',
      name: 'Say the relay of 102',
      add: [{ kind: 'pointRelay', record }],
      set: [],
      remove: [],
    })
    expect(await secured()).not.toBe(before)
    expect(Object.keys(outcome.gates.of)).toContain(id)
    await ask('change.undo', {})
    expect(await secured()).toBe(before)
  })

  test('a point is wired by the name of its fitting, or refused with what was expected', async () => {
    const { ask, refusal } = await demo()
    const [controller] = (await ask('runs.controllers', {})).controllers
    const { points } = await ask('runs.points', { controllerId: controller?.id ?? '' })
    const [point] = points
    if (point === undefined) throw new Error('no point')
    const { sentence } = await refusal('runs.wirePoint', { pointId: point.id, text: '118 Q7' })
    expect(sentence).toMatch(/wired to: “118 Q7” is not there; expected a fitting of 118/)
    const { command } = await ask('runs.wirePoint', { pointId: point.id, text: '' })
    expect(command?.name).toBe(`Take ${point.name} off its fitting`)
  })
})

describe('lists', () => {
  test.each([
    [{ list: 'cables', by: 'level' }, 'cable list'],
    [{ list: 'cables', by: 'source' }, 'cable list'],
    [{ list: 'points', controllerId: null }, 'point list'],
    [{ list: 'quantities' }, 'quantities of cable'],
  ] as const)('on paper: %o', async (wanted, name) => {
    const { ask } = await demo()
    const made = await ask('print.runs', wanted)
    expect(made.fileName).toBe(`Harrow Street Clinic - ${name}.pdf`)
    expect(made.pages).toBeGreaterThan(0)
    expect(made.warnings).toEqual([])
  })

  test('two labels for each run', async () => {
    const { ask } = await demo()
    const { rows } = await ask('runs.read', {})
    const made = await ask('print.cableLabels', { runIds: [], stock: 'letter-30', startAt: 1 })
    expect(made.pages).toBe(Math.ceil((rows.length * 2) / 30))
    expect(made.warnings).toEqual([])
  })

  test('a workbook of every list, and a CSV that can be pasted back', async () => {
    const { ask } = await demo()
    const { rows } = await ask('runs.read', {})
    for (const list of ['cables', 'conductors', 'points', 'quantities'] as const) {
      const made = await ask('export.runs', { list, form: 'xlsx' })
      const read = await readFileBytes(made.fileName, bytesOf(made))
      expect([list, read.ok]).toEqual([list, true])
    }
    const lines = textOf(await ask('export.runs', { list: 'cables', form: 'csv' }))
      .trim()
      .split('\r\n')
    expect(lines.length).toBe(rows.length + 1)
    expect(lines[0]).toContain('Name,From,To,Cable,Conductors,Size,Solid or stranded,Length ft,Notes')
  })
})
