import { describe, expect, test } from 'vitest'
import { start, temporaryFolder, type Running } from './support.ts'

async function demo(): Promise<Running> {
  const running = await start(temporaryFolder())
  await running.ask('job.openDemo', {})
  return running
}

describe('the bench of the demo job', () => {
  test('counts every device once, and finds those set otherwise', async () => {
    const { ask } = await demo()
    const { batches, findings } = await ask('settings.read', { levelId: null })
    for (const { counts, fittingCount } of batches)
      expect(Object.values(counts).reduce((sum, each) => sum + each, 0)).toBe(fittingCount)
    expect(findings.map(({ mark }) => mark)).toEqual(['118', '203'])
    expect(findings[0]?.words).toContain('found at 5 s')
  })

  test('of one level holds fewer than the whole', async () => {
    const { ask, schedule } = await demo()
    const [level] = (await schedule()).frame.levels
    const all = await ask('settings.read', { levelId: null })
    const some = await ask('settings.read', { levelId: level?.id ?? '' })
    const count = (each: typeof all): number =>
      each.batches.reduce((sum, batch) => sum + batch.fittingCount, 0)
    expect(count(some)).toBeGreaterThan(0)
    expect(count(some)).toBeLessThan(count(all))
  })

  test('notes a batch as set in one change that is taken back as one', async () => {
    const { ask, change, twin } = await demo()
    const { batches } = await ask('settings.read', { levelId: null })
    const open = batches.find(({ counts }) => counts['not set'] > 1)
    const { batch } = await ask('settings.batch', { levelId: null, key: open?.key ?? '' })
    const toSet = batch?.fittings.filter(({ state }) => state === 'not set') ?? []
    const values = (batch?.choices ?? []).flatMap(({ settingId, choose }) =>
      choose === null ? [] : [{ settingId, value: choose }],
    )
    const before = await twin()
    const { name } = await change({
      does: 'set settings',
      stage: 'set',
      sets: [{ values, targets: toSet.map(({ target }) => target) }],
      visitId: null,
    })
    expect(name).toContain('Note as set')
    const after = await ask('settings.batch', { levelId: null, key: open?.key ?? '' })
    expect(after.batch?.counts['not set']).toBe(0)
    expect(after.batch?.counts['as designed']).toBeGreaterThanOrEqual(toSet.length)
    await ask('change.undo', {})
    expect(recordsOf(await twin())).toEqual(recordsOf(before))
  })
})

const recordsOf = (twin: string): unknown => (JSON.parse(twin) as { records: unknown }).records

describe('one opening', () => {
  test('says what a setting found otherwise changes in what the doorway does', async () => {
    const { ask, change, row } = await demo()
    const { id } = await row('118')
    const { fittings } = await ask('settings.opening', { openingId: id })
    const sensor = fittings.find(({ tag }) => tag === 'S1')
    const power = sensor?.settings.find(({ setting }) => setting.name === 'Power lost')
    // An exit sensor whose feed contact stays closed without its power no longer lets anybody out then.
    await change({
      does: 'set settings',
      stage: 'found',
      sets: [
        {
          values: [{ settingId: power?.setting.id ?? '', value: 'keeps the feed' }],
          targets: [{ openingId: id, fittingId: sensor?.fittingId ?? '' }],
        },
      ],
      visitId: null,
    })
    const { findings, consequences } = await ask('settings.opening', { openingId: id })
    expect(findings.some(({ words }) => words.includes('Power lost'))).toBe(true)
    expect(consequences.join(' ')).toMatch(/Sensor lost.*out free; as it stands .*out held/)
  })

  test('is refused a value that its setting does not have, and nothing is changed', async () => {
    const { ask, refusal, row, twin } = await demo()
    const { id } = await row('118')
    const { fittings } = await ask('settings.opening', { openingId: id })
    const sensor = fittings.find(({ tag }) => tag === 'S1')
    const before = await twin()
    const problem = await refusal('change.make', {
      command: {
        does: 'set settings',
        stage: 'designed',
        sets: [
          {
            values: [{ settingId: sensor?.settings[1]?.setting.id ?? '', value: 'sideways' }],
            targets: [{ openingId: id, fittingId: sensor?.fittingId ?? '' }],
          },
        ],
        visitId: null,
      },
    })
    expect(problem.sentence).toMatch(/sideways.*Contact.*Nothing was changed/)
    expect(await twin()).toBe(before)
  })

  test('has a setting sheet of one page, and the job a bench sheet', async () => {
    const { ask, row } = await demo()
    const { id } = await row('118')
    const sheet = await ask('print.settings', { openingIds: [id] })
    expect(sheet).toMatchObject({
      pages: 1,
      warnings: [],
      fileName: expect.stringContaining('opening 118') as string,
    })
    const bench = await ask('print.settings', { benchOfLevelId: null })
    expect(bench.pages).toBeGreaterThan(3)
  })
})
