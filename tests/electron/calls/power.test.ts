// Power as a window asks for it: the two faults of the demo job found, explained, put right and taken back.
import { describe, expect, test } from 'vitest'
import type { RecordsChange, SupplyLine } from '../../../core/power/index.ts'
import { start, temporaryFolder, type Running } from './support.ts'

async function demo(): Promise<Running> {
  const running = await start(temporaryFolder())
  await running.ask('job.openDemo', {})
  return running
}

const lineOf = async ({ ask }: Running, mark: string): Promise<SupplyLine> => {
  const { overview } = await ask('power.read', {})
  const line = overview.supplies.find((each) => each.mark === mark)
  if (line === undefined) throw new Error(`no ${mark}`)
  return line
}

const recordsOf = (twin: string): unknown => (JSON.parse(twin) as { records: unknown }).records

const does = (command: RecordsChange | null | undefined): RecordsChange => {
  if (command == null) throw new Error('expected a change')
  return command
}

describe('the demo job', () => {
  test('has two faults, and says them in sentences', async () => {
    const running = await demo()
    const { overview } = await running.ask('power.read', {})
    expect(overview.supplies.map(({ mark, verdict }) => [mark, verdict])).toEqual([
      ['PS1', 'met'],
      ['PS2', 'not met'],
      ['PS3', 'not met'],
      ['PS4', 'not known'],
      ['PS5', 'met'],
    ])
    const sentences = overview.supplies.flatMap(({ troubles }) => troubles.map(({ sentence }) => sentence))
    expect(sentences).toHaveLength(2)
    expect(sentences[0]).toMatch(
      /^PS2 is short of battery: its 7 Ah last 1\.\d h of 4 h wanted; it takes 16\.\d Ah\.$/,
    )
    expect(sentences[1]).toMatch(/^210 M1 gets 18\.\d\d V, 0\.\d\d V outside what it works with\.$/)
  })

  test('every answer travels as JSON without losing anything', async () => {
    const { ask } = await demo()
    const answers = [
      await ask('power.read', {}),
      await ask('power.supply', { supplyId: 'supply-ps4' }),
      await ask('power.output', { outputId: 'output-ps3-2' }),
      await ask('power.feeds', { after: null }),
      await ask('power.opening', { openingId: 'opening-210' }),
    ]
    for (const answer of answers) expect(JSON.parse(JSON.stringify(answer))).toEqual(answer)
  })

  test('the long thin run is explained line by line, put right by each remedy, and taken back without a trace', async () => {
    const running = await demo()
    const { ask, change, twin } = running
    const before = recordsOf(await twin())
    const page = await ask('power.output', { outputId: 'output-ps3-2' })
    const device = page.devices.find(({ name }) => name === '210 M1')
    expect(device?.battery?.verdict).toBe('not met')
    const { lines } = await ask('power.working', {
      outputId: 'output-ps3-2',
      load: device?.load ?? '',
      scenario: device!.battery!.scenario,
    })
    expect(lines[0]).toBe('PS3 output 2 gives 21.00 V on battery at the end of discharge.')
    expect(lines).toEqual(
      expect.arrayContaining([expect.stringMatching(/^210 feed, out: 95 ft of 22 AWG stranded/)]),
    )
    expect(page.remedies.length).toBeGreaterThan(1)
    for (const { command, works, volts } of page.remedies) {
      expect(works).toBe(true)
      await change(does(command))
      const after = await lineOf(running, 'PS3')
      expect(after.troubles).toEqual([])
      // What was promised is what it gives: no other device of the supply has less to spare than before.
      const now = await ask('power.output', { outputId: 'output-ps3-2' })
      const all = now.devices.flatMap(({ worst, battery }) => [worst?.volts, battery?.volts])
      expect(all).toContainEqual(expect.closeTo(volts ?? Number.NaN, 6))
      await ask('change.undo', {})
      expect(recordsOf(await twin())).toEqual(before)
    }
  })

  test('the short battery is put right in one change', async () => {
    const running = await demo()
    const page = await running.ask('power.supply', { supplyId: 'supply-ps2' })
    const [remedy] = page.remedies
    expect(remedy?.sentence).toMatch(/^Fit a battery of 18 Ah: it lasts 4\.\d h/)
    const { name } = await running.change(does(remedy?.command))
    expect(name).toBe('Give PS2 a battery of 18 Ah')
    expect(await lineOf(running, 'PS2')).toMatchObject({ verdict: 'met', troubles: [] })
  })

  test('a usual route length lets an output of another supply be offered, and moved to', async () => {
    const running = await demo()
    const { ask, change } = running
    const { routesAsked } = await ask('power.output', { outputId: 'output-ps3-2' })
    expect(routesAsked.map(({ supplyMark }) => supplyMark)).toContain('PS1')
    const near = routesAsked.find(({ supplyMark }) => supplyMark === 'PS1')!
    await change({
      does: 'change records',
      name: 'Say how far',
      add: [
        {
          kind: 'routeLength',
          record: {
            id: 'new:r',
            levelId: near.levelId,
            supplyId: near.supplyId,
            controllerId: null,
            metres: 10,
          },
        },
      ],
      set: [],
      remove: [],
    })
    const { remedies } = await ask('power.output', { outputId: 'output-ps3-2' })
    const move = remedies.find(({ deed }) => deed.startsWith('Move the feed to PS1'))
    await change(does(move?.command))
    const opening = await ask('power.opening', { openingId: 'opening-210' })
    expect(opening.devices.find(({ tag }) => tag === 'M1')).toMatchObject({
      supplyMark: 'PS1',
      verdict: 'met',
    })
  })
})

describe('the feeds of the schedule', () => {
  test('tell only what differs after a change', async () => {
    const { ask, change } = await demo()
    const first = await ask('power.feeds', { after: null })
    expect(first.all).toBe(true)
    expect(first.rows['opening-210']).toMatchObject({
      feed: 'PS3 / 2',
      feedInFull: ['PS3 output 2, 305 ft'],
      device: 'M1',
      verdict: 'not met',
    })
    expect(first.rows['opening-246']).toMatchObject({ feed: '', verdict: 'not known' })
    const second = await ask('power.feeds', { after: first.version })
    expect(second).toMatchObject({ all: false, rows: {} })
    await change({
      does: 'change records',
      name: 'Shorten',
      add: [],
      set: [{ kind: 'run', id: 'run-216-feed', fields: { lengthMetres: 1 } }],
      remove: [],
    })
    const third = await ask('power.feeds', { after: second.version })
    // 207 stands before the run, but less drawn beyond it changes its volts too.
    expect(Object.keys(third.rows).toSorted()).toEqual(['opening-207', 'opening-210', 'opening-216'])
    await ask('change.undo', {})
    const back = await ask('power.feeds', { after: third.version })
    expect(back.rows['opening-210']).toEqual(first.rows['opening-210'])
  })
})

describe('terms', () => {
  test('the loading limit and the hours of the job are heard at once', async () => {
    const running = await demo()
    await running.change({ does: 'set job', fields: { loadingLimitPercent: 60 } })
    const { overview } = await running.ask('power.read', {})
    expect(overview.loadingLimitPercent).toBe(60)
    expect(overview.supplies.find(({ mark }) => mark === 'PS1')?.load.withinLimit).toBe('not met')
  })
})

describe('paper and lists', () => {
  test.each([
    [{ what: 'supplies', supplyIds: ['supply-ps3'] }, 'power sheet PS3'],
    [{ what: 'batteries' }, 'battery sheet'],
    [{ what: 'risers' }, 'riser diagram'],
  ] as const)('%j is set', async (asked, name) => {
    const { ask } = await demo()
    const made = await ask('print.power', asked as never)
    expect(made.fileName).toBe(`Harrow Street Clinic - ${name}.pdf`)
    expect(made.warnings).toEqual([])
    expect(made.pages).toBeGreaterThan(0)
  })

  test('the CSV has a row for each device', async () => {
    const { ask } = await demo()
    const made = await ask('export.power', { form: 'csv' })
    const rows = Buffer.from(made.base64, 'base64').toString('utf8').trim().split('\r\n')
    const { overview } = await ask('power.read', {})
    expect(rows).toHaveLength(1 + overview.supplies.reduce((sum, { devices }) => sum + devices, 0))
    expect(rows.find((row) => row.startsWith('210 M1,'))).toMatch(/not met$/)
  })

  test('a supply that is gone is refused in words', async () => {
    const { refusal } = await demo()
    expect(await refusal('power.supply', { supplyId: 'nobody' })).toMatchObject({ code: 'gone' })
  })
})
