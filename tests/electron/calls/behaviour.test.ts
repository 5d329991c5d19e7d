// What doorways do, as the window is told it: worked out from the demo job, never typed in.
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { gateColumns, gateWords, type Gates } from '../../../core/documents/index.ts'
import { start, temporaryFolder, type Running } from './support.ts'

let running: Running
beforeEach(async () => {
  running = await start(temporaryFolder())
})
afterEach(() => running.close())

const words = (gates: Gates | null | undefined): string[] =>
  gateColumns.map((column) => {
    const gate = gates?.[column]
    return gate == null ? 'none' : gateWords(gate)
  })

async function gatesOf(mark: string): Promise<Gates | null> {
  const { rows, gates } = await running.schedule()
  const id = rows.find((row) => row.mark === mark)?.id ?? ''
  return gates.sets[gates.of[id] ?? -1] ?? null
}

describe('the demo job', () => {
  // Common practice, no source: the check table of the trade for each arrangement. Batteries last as power works out.
  test.each([
    [
      '118, surface magnet with sensor, release and alarm relay',
      '118',
      [
        'in held, out held',
        'in free, out free',
        'in free, out free',
        'in held, out held',
        'in free, out free',
      ],
    ],
    [
      '105, fail-secure strike with a storeroom lever',
      '105',
      [
        'in held, out free by hardware',
        'none',
        'in held, out free by hardware',
        'in held, out free by hardware',
        'in held, out free by hardware',
      ],
    ],
    [
      '203, delayed exit device',
      '203',
      [
        'in held, out waits 15 seconds',
        'in held, out waits 15 seconds',
        'in held, out free by hardware',
        'in held, out waits 15 seconds',
        'in held, out free by hardware',
      ],
    ],
    [
      '210, the same magnet without release and alarm relay',
      '210',
      [
        'in held, out held',
        'in free, out free',
        'in held, out held: a person cannot get out',
        'in held, out held',
        'in free, out free',
      ],
    ],
  ])('%s', async (_name, mark, expected) => {
    expect(words(await gatesOf(mark))).toEqual(expected)
  })

  test('210 says why nobody gets out on alarm', async () => {
    const { rows } = await running.schedule()
    const page = await running.ask('opening.read', {
      openingId: rows.find((row) => row.mark === '210')?.id ?? '',
    })
    const line = page.behaviour.lines.find(({ condition }) => condition === 'fire alarm')
    expect(line?.because).toContain('Nothing that the fire alarm works reaches magnet M1.')
    expect(page.behaviour.arrangement?.name).toBe('sensor release')
  })
})

describe('a change', () => {
  test('of an opening’s typical changes what it does, and undo brings it back', async () => {
    const before = words(await gatesOf('118'))
    const { rows } = await running.schedule()
    const openingId = rows.find((row) => row.mark === '118')?.id ?? ''
    const outcome = await running.ask('change.make', {
      command: {
        does: 'set cells',
        how: 'type',
        unreadable: 'refuse',
        cells: [{ openingId, column: 'typical', text: '' }],
      },
    })
    // Its magnet no longer draws on the battery of PS2, so the others on it last longer; nothing else is touched.
    const touched = Object.keys(outcome.gates.of)
    expect(touched).toContain(openingId)
    expect(touched.length).toBeLessThan(rows.length / 2)
    expect(touched).not.toContain(rows.find((row) => row.mark === '203')?.id)
    expect(words(await gatesOf('118'))).not.toEqual(before)
    await running.ask('change.undo', {})
    expect(words(await gatesOf('118'))).toEqual(before)
  })

  test('of a typical reaches every opening that follows it', async () => {
    const { rows, frame } = await running.schedule()
    const typical = frame.typicals.find(({ name }) => name === 'Magnet + sensor')
    const { fittings } = await running.ask('typical.read', { typicalId: typical?.id ?? '' })
    const relay = fittings.find(({ part }) => part?.kind === 'alarm relay')
    const outcome = await running.ask('change.make', {
      command: { does: 'remove typical fitting', typicalFittingId: relay?.id ?? '' },
    })
    const followers = rows.filter((row) => row.typicalId === typical?.id).map((row) => row.id as string)
    expect(Object.keys(outcome.gates.of)).toEqual(expect.arrayContaining(followers))
    // Where nothing was fitted yet, the relay is gone and with it the release on alarm.
    const alarm = followers.map(
      (id) => outcome.gates.sets[outcome.gates.of[id] ?? -1]?.['fire alarm']?.out.form,
    )
    expect(alarm).toContain('held')
  })

  test('an opening without fittings gets a sentence, not a guess', async () => {
    const { frame } = await running.schedule()
    const outcome = await running.ask('change.make', {
      command: { does: 'add openings', levelId: frame.levels[0]?.id ?? '', firstMark: 'NEW', count: 1 },
    })
    const [openingId = ''] = outcome.reveal
    expect(outcome.gates.sets[outcome.gates.of[openingId] ?? -1]).toBeNull()
    const page = await running.ask('opening.read', { openingId })
    expect(page.behaviour.cannotTell).toEqual([
      'This opening has no fittings yet, so what it does is not known.',
    ])
  })
})
