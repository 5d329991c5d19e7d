import { describe, expect, test } from 'vitest'
import { start, temporaryFolder, type Running } from './support.ts'

async function demo(): Promise<Running> {
  const running = await start(temporaryFolder())
  await running.ask('job.openDemo', {})
  return running
}

describe('proving the demo job', () => {
  test('finds what was planted: three failures, all with their findings, and nothing stale', async () => {
    const { ask } = await demo()
    const { progress, openings, findings } = await ask('proving.read', {})
    expect(progress.steps).toMatchObject({ failed: 3, stale: 0 })
    expect(progress.steps.passed).toBeGreaterThan(1000)
    const failed = openings.filter(({ counts }) => counts.failed > 0).map(({ mark }) => mark)
    expect(failed).toEqual(['210', '223'])
    for (const mark of failed)
      expect(findings.some((each) => each.mark === mark && each.finding.state === 'open')).toBe(true)
  })

  test('an opening nobody gets out of on alarm cannot be proved so', async () => {
    const { ask, row } = await demo()
    const { proof } = await ask('proving.opening', { openingId: (await row('210')).id })
    const alarm = proof.lines.find(({ step }) => step.condition === 'fire alarm')
    expect(alarm?.step.expected).toBeNull()
    expect(alarm?.step.because.join(' ')).toContain('a person cannot get out')
  })

  test('a changed setting makes the steps that rest on it no longer count, and says why', async () => {
    const { ask, change, row } = await demo()
    const { id } = await row('118')
    const before = await ask('proving.opening', { openingId: id })
    const { fittings } = await ask('settings.opening', { openingId: id })
    const sensor = fittings.find(({ tag }) => tag === 'S1')
    const hold = sensor?.settings.find(({ setting }) => setting.name === 'Hold time')
    await change({
      does: 'set settings',
      stage: 'designed',
      sets: [
        {
          values: [{ settingId: hold?.setting.id ?? '', value: '5 s' }],
          targets: [{ openingId: id, fittingId: sensor?.fittingId ?? '' }],
        },
      ],
      visitId: null,
    })
    const { proof } = await ask('proving.opening', { openingId: id })
    const stale = proof.lines.filter(({ state }) => state === 'stale')
    expect(before.proof.counts.stale).toBe(0)
    expect(stale.map(({ step }) => step.does)).toEqual(['Look at Hold time of S1.'])
    expect(stale[0]?.staleBecause).toBe('It passed when “2 s” was expected; now “5 s” is.')
    await ask('change.undo', {})
    expect((await ask('proving.opening', { openingId: id })).proof.counts.stale).toBe(0)
  })

  test('a failed step makes a finding, in one change that is taken back as one', async () => {
    const { ask, row, twin } = await demo()
    const { id } = await row('304')
    const { proof } = await ask('proving.opening', { openingId: id })
    const [line] = proof.lines
    const before = await twin()
    const recorded = { openingId: id, stepKey: line?.step.key ?? '', reading: null, who: null, at: null }
    const { name } = await ask('proving.record', {
      results: [{ ...recorded, result: 'failed', notes: 'Jumper missing.' }],
    })
    expect(name).toMatch(/^Fail on 304/)
    const after = await ask('proving.opening', { openingId: id })
    expect(after.proof.counts.failed).toBe(1)
    expect(after.findings.some(({ words }) => words.includes('Jumper missing.'))).toBe(true)
    await ask('change.undo', {})
    const records = (text: string): unknown => (JSON.parse(text) as { records: unknown }).records
    expect(records(await twin())).toEqual(records(before))
  })

  test('a reading outside its limits is not taken as passed', async () => {
    const { ask, refusal, row } = await demo()
    const { id } = await row('118')
    const { proof } = await ask('proving.opening', { openingId: id })
    const volts = proof.lines.find(({ step }) => step.key === 'volts 118 M1')
    const problem = await refusal('proving.record', {
      results: [
        {
          openingId: id,
          stepKey: volts?.step.key ?? '',
          result: 'passed',
          reading: 3,
          notes: null,
          who: null,
          at: null,
        },
      ],
    })
    expect(problem.sentence).toMatch(/118: 3 V is outside between .* Nothing was changed/)
  })

  test('a photograph is kept by its hash; what is no picture is refused', async () => {
    const { ask, refusal, row } = await demo()
    const { id } = await row('118')
    const picture = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 1, 2, 3]).toString('base64')
    const given = { openingId: id, stepKey: null, fileName: 'lock.jpg', caption: 'The lock' }
    await ask('proving.photograph', { ...given, base64: picture })
    const { photographs } = await ask('proving.opening', { openingId: id })
    expect(photographs.map(({ name, mediaType }) => [name, mediaType])).toEqual([['The lock', 'image/jpeg']])
    const { base64 } = await ask('attachment.read', { sha256: photographs[0]?.sha256 ?? '' })
    expect(base64).toBe(picture)
    const problem = await refusal('proving.photograph', {
      ...given,
      base64: Buffer.from('<svg onload=alert(1)>').toString('base64'),
    })
    expect(problem.sentence).toContain('expected a JPEG or PNG file')
  })

  test('has test sheets to fill by hand', async () => {
    const { ask, row } = await demo()
    const made = await ask('print.proofs', { openingIds: [(await row('118')).id, (await row('207')).id] })
    expect(made.pages).toBeGreaterThan(2)
    expect(made.warnings).toEqual([])
  })
})
