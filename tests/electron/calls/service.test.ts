import { describe, expect, test } from 'vitest'
import { isOpen, noteOnVisit, startVisit, type Symptom } from '../../../core/service/index.ts'
import { changePart, closeVisit } from '../../../core/service/index.ts'
import type { CallPage } from '../../../core/contract/index.ts'
import { bytesOf, start, temporaryFolder, textOf, type Running } from './support.ts'

async function demo(): Promise<Running> {
  let seconds = 0
  // After all that stands in the demo job; the very first start brings it.
  const now = (): string => new Date(Date.UTC(2026, 10, 25, 9, 0, (seconds += 1))).toISOString()
  return start(temporaryFolder(), { now })
}

const pageOf = async ({ ask, row }: Running, mark: string): Promise<CallPage> => {
  const { id } = await row(mark)
  return ask('service.call', { openingId: id })
}

const firstOf = (page: CallPage, symptom: Symptom): string | undefined =>
  page.checks.find((each) => each.symptom === symptom)?.checks[0]?.at

// What stands in the demo job about 118.
describe('the page for a call', () => {
  test('tells how it is set, where it is fed, what it had when proved, and what to check first', async () => {
    const page = await pageOf(await demo(), '118')
    expect(page).toMatchObject({ mark: '118', provedAt: '2026-03-03T14:00:00Z' })
    expect(page.times).toContainEqual({ what: 'S1 Hold time', stands: '5 s', designed: '2 s' })
    expect(page.times).toContainEqual({
      what: 'M1 Relock delay',
      stands: 'relocks after 2 s',
      designed: null,
    })
    const magnet = page.fed.find(({ tag }) => tag === 'M1')
    expect(magnet).toMatchObject({
      from: { supply: 'PS2', output: '1', fuse: { amps: 3 }, sharedWith: ['107', '122'] },
      terminals: '+ and -',
      window: { minimumVolts: 19.2, maximumVolts: 28.8 },
      proved: { reading: 23.6, result: 'passed' },
    })
    expect(magnet?.route.map(({ from, to }) => [from, to])).toEqual([
      ['PS2 output 1', 'B1'],
      ['B1', 'M1'],
    ])
    expect(firstOf(page, 'will not lock')).toBe('S1, dial Hold time')
    expect(page.findings.map(({ state }) => state)).toEqual(['open'])
    expect(page.visits.map(({ visit }) => visit.id)).toEqual(['visit-118-sensor'])
    expect(page.sinceHandover.differences).toEqual([
      { tag: 'S1', what: 'Hold time', atHandover: '2 s', now: '5 s' },
    ])
    expect(page.warranties.length).toBeGreaterThan(3)
    expect(page.batteries).toMatchObject([{ mark: 'PS2', replaceBy: '2030-02-02' }])
  })

  test('shows what it does as it stands beside what was designed', async () => {
    const running = await demo()
    const before = await pageOf(running, '118')
    const lost = (page: CallPage, stage: 'designed' | 'found'): string | undefined =>
      page.behaviour[stage].lines.find(({ condition }) => condition === 'sensor lost')?.gate.out.form
    const sensor = before.settings.find(({ tag }) => tag === 'S1')
    const setting = sensor?.settings.find((each) => each.setting.name === 'Power lost')?.setting
    await running.change({
      does: 'set settings',
      stage: 'found',
      sets: [
        {
          values: [{ settingId: setting?.id ?? '', value: 'keeps the feed' }],
          targets: [{ openingId: before.openingId, fittingId: sensor?.fittingId ?? '' }],
        },
      ],
      visitId: null,
    })
    const page = await pageOf(running, '118')
    expect([lost(page, 'designed'), lost(page, 'found')]).toEqual(['free', 'held'])
    expect(page.consequences.join(' ')).toContain('Sensor lost')
    expect(firstOf(page, 'will not release')).toBe('S1, jumper Power lost')
  })

  test('is refused for an opening that is gone', async () => {
    const { refusal } = await demo()
    expect((await refusal('service.call', { openingId: 'nothing' })).code).toBe('gone')
  })
})

describe('a visit', () => {
  test('is reported, found, photographed, has a part changed, is closed, and can be taken back to nothing', async () => {
    const running = await demo()
    const { ask, change, twin } = running
    const before = await twin()
    const { openingId, mark, today } = await pageOf(running, '118')
    await change(
      startVisit({ id: openingId as never, mark }, { by: 'Tomas Ellery', symptom: 'will not lock' }),
    )
    let page = await pageOf(running, '118')
    const visit = page.visits.map((each) => each.visit).find(isOpen)
    if (visit === undefined) throw new Error('no open visit')
    expect((await ask('service.read', {})).openVisits.map((each) => each.mark)).toEqual(['118'])
    await change(noteOnVisit(visit.id, mark, 'found', 'Fan in its view'))
    const sensor = page.fittings.find(({ tag }) => tag === 'S1')
    if (sensor === undefined) throw new Error('no S1')
    await change(
      changePart({
        visitId: visit.id,
        opening: { id: openingId as never, mark },
        fitting: sensor,
        partId: null,
        newSerial: '2611-0999',
        installedOn: today,
        notes: null,
      }),
    )
    await ask('service.photograph', {
      visitId: visit.id,
      fileName: 'fan.png',
      base64: Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]).toString('base64'),
      caption: 'The fan',
    })
    await change(closeVisit({ ...visit, found: 'Fan in its view' }, mark))
    page = await pageOf(running, '118')
    expect(page.visits[0]).toMatchObject({
      visit: { id: visit.id, who: 'Ada Fitter' },
      parts: [{ tag: 'S1', oldSerial: '2608-1190', newSerial: '2611-0999' }],
      photographs: [{ name: 'The fan', mediaType: 'image/png' }],
    })
    // Of the same part, its warranty begins anew.
    expect(page.warranties.find(({ tag }) => tag === 'S1')).toMatchObject({ startedOn: today })
    for (let undone = 0; undone < 5; undone += 1) await ask('change.undo', {})
    const records = (text: string): unknown => (JSON.parse(text) as { records: unknown }).records
    expect(records(await twin())).toEqual(records(before))
  })

  test('takes no file that is no photograph', async () => {
    const { refusal } = await demo()
    const problem = await refusal('service.photograph', {
      visitId: 'visit-118-sensor',
      fileName: 'notes.txt',
      base64: Buffer.from('not a picture').toString('base64'),
      caption: '',
    })
    expect(problem.sentence).toBe('notes.txt is no photograph; expected a JPEG or PNG file.')
  })
})

test('after a sealed handover the page compares with it', async () => {
  const running = await demo()
  const { ask } = running
  const { jobId } = await ask('handover.start', {
    wanted: {
      does: 'seal',
      form: 'handover',
      name: 'Handover issue 1',
      notes: null,
      chapters: ['summary'],
      evenSo: true,
    },
  })
  await expect
    .poll(async () => (await ask('handover.progress', { jobId })).state, { timeout: 60_000, interval: 50 })
    .not.toBe('under way')
  const page = await pageOf(running, '118')
  expect(page.sinceHandover).toEqual({ against: 'Handover issue 1', differences: [] })
}, 90_000)

describe('the service sheet', () => {
  test('lists what is due by month, and gives it as a calendar', async () => {
    const { ask } = await demo()
    const { due } = await ask('service.read', {})
    const dated = due.flatMap(({ month }) => month ?? [])
    expect(dated).toContain('2030-02')
    const calendar = await ask('service.calendar', {})
    expect(calendar.fileName).toBe('Harrow Street Clinic - maintenance.ics')
    expect(textOf(calendar)).toMatch(
      /^BEGIN:VCALENDAR\r\n[\s\S]*Replace the battery of PS1[\s\S]*END:VCALENDAR\r\n$/,
    )
  })

  test.each(['118', '101', '324', '203'])('on paper, %s takes two pages at most', async (mark) => {
    const { ask, row } = await demo()
    const made = await ask('print.service', { openingIds: [(await row(mark)).id] })
    expect(made.warnings).toEqual([])
    expect(made.pages).toBeLessThanOrEqual(2)
    expect(bytesOf(made).subarray(0, 5).toString()).toBe('%PDF-')
  })
})
