// Parts and typicals as the window is told them, and every change of them taken back.
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { gateWords } from '../../../core/documents/index.ts'
import type { Command } from '../../../core/schedule/index.ts'
import { start, startEmpty, temporaryFolder, withoutHistory, type Running } from './support.ts'

let running: Running
beforeEach(async () => {
  running = await start(temporaryFolder())
})
afterEach(() => running.close())

const partNamed = async (name: string) => {
  const { parts } = await running.ask('parts.read', {})
  const part = parts.find((each) => each.name === name)
  if (part === undefined) throw new Error(`no part ${name}`)
  return part
}

/** Undo brings the job back as it was. */
async function takenBack(before: string): Promise<void> {
  await running.ask('change.undo', {})
  expect(withoutHistory(await running.twin())).toBe(withoutHistory(before))
}

test('the list counts where each part is used, and says what each does', async () => {
  const { parts, typicals } = await running.ask('parts.read', {})
  expect(parts).toHaveLength(36)
  expect(parts.every(({ does }) => does !== '' && !does.startsWith('Not declared'))).toBe(true)
  const strike = parts.find(({ id }) => id === 'part-strike-fail-safe')
  expect(strike).toMatchObject({ does: 'Keeps the latch while fed.', typicals: 1, openings: 4 })
  expect(parts.find(({ kind }) => kind === 'controller')?.elsewhere).toBe('9 controllers')
  const magnet = typicals.find(({ name }) => name === 'Magnet + sensor')
  expect(magnet?.gates?.['fire alarm'] == null ? null : gateWords(magnet.gates['fire alarm'])).toBe(
    'in free, out free',
  )
})

test('a new part, a copy, a name that is taken, and none: each one undoable change or one sentence', async () => {
  const before = await running.twin()
  const made = await running.ask('part.make', { name: 'Our strike', kind: 'strike', likePartId: null })
  expect(made.outcome.parts?.some(({ id }) => id === made.id)).toBe(true)
  expect((await running.ask('part.read', { partId: made.id ?? '' })).does).toMatch(/^Not declared/)
  await takenBack(before)
  const copied = await running.ask('part.make', {
    name: 'Our magnet',
    kind: '',
    likePartId: 'part-surface-magnet-600',
  })
  expect(copied.outcome.name).toMatch(/^Add part Our magnet, like /)
  expect((await running.ask('part.read', { partId: copied.id ?? '' })).records.partSetting).toHaveLength(4)
  await takenBack(before)
  expect((await running.refusal('part.make', { name: ' ', kind: 'strike', likePartId: null })).sentence).toBe(
    'No name was given; expected a name for the part. Nothing was changed.',
  )
  expect(
    (await running.refusal('part.make', { name: 'fire ALARM relay', kind: 'x', likePartId: null })).sentence,
  ).toBe('The job already has a part called Fire alarm relay. Nothing was changed.')
})

test('removing: where it is used stands in the refusal; what nothing uses goes', async () => {
  expect((await running.refusal('part.remove', { partId: 'part-strike-fail-safe' })).sentence).toMatch(
    /is used by typical Strike, safe; opening .+\. Take it out there first\. Nothing was changed\.$/,
  )
  const made = await running.ask('part.make', { name: 'Our strike', kind: 'strike', likePartId: null })
  const before = await running.twin()
  await running.ask('part.remove', { partId: made.id ?? '' })
  expect((await running.refusal('part.read', { partId: made.id ?? '' })).code).toBe('gone')
  await takenBack(before)
})

test('hardware that is still named stays, with the sentence; renamed, what names it follows', async () => {
  const { records } = await running.ask('part.read', { partId: 'part-lever-lock-fail-safe' })
  const lever = records.partHardware.find(({ name }) => name === 'inner lever')
  expect((await running.refusal('part.removeHardware', { hardwareId: lever?.id ?? '' })).sentence).toBe(
    'The inner lever is still named by the latch and what the part is worked with; change that first. Nothing was changed.',
  )
  const before = await running.twin()
  await running.ask('part.rename', { kind: 'partHardware', id: lever?.id ?? '', name: 'lever inside' })
  const after = await running.ask('part.read', { partId: 'part-lever-lock-fail-safe' })
  expect(after.records.partBehaviour[0]?.workedWith).toBe('lever inside')
  await takenBack(before)
})

test('a declaration changed on a part reaches what the openings do, at once', async () => {
  const { records } = await running.ask('part.read', { partId: 'part-strike-fail-secure' })
  const outcome = await running.change({
    does: 'change records',
    name: 'Turn the strike round',
    add: [],
    set: [{ kind: 'partElement', id: records.partElement[0]?.id ?? '', fields: { engaged: 'while fed' } }],
    remove: [],
  })
  const { rows } = await running.schedule()
  const row = rows.find(({ mark }) => mark === '105')
  const gates = outcome.gates.sets[outcome.gates.of[row?.id ?? ''] ?? -1]
  expect(gates?.['no power'] == null ? null : gateWords(gates['no power'])).toBe(
    'in free, out free by hardware',
  )
})

describe('a typical', () => {
  const alarmLink = async (): Promise<string> => {
    const look = await running.ask('typical.look', {
      typicalId: 'typical-magnet-sensor',
      trying: [],
      fedBy: 'with a battery',
    })
    return look.links.find(({ sentence }) => sentence.startsWith('Alarm relay F1 breaks'))?.id ?? ''
  }
  const takeOut = (id: string): Command => ({
    does: 'change records',
    name: 'Take the alarm relay out of the feed',
    add: [],
    set: [],
    remove: [{ kind: 'link', id }],
  })
  const onAlarm = async (trying: readonly Command[]) => {
    const { behaviour } = await running.ask('typical.look', {
      typicalId: 'typical-magnet-sensor',
      trying: [...trying],
      fedBy: 'with a battery',
    })
    const line = behaviour.lines.find(({ condition }) => condition === 'fire alarm')
    return { gate: line === undefined ? null : gateWords(line.gate), because: line?.because ?? [] }
  }

  test('wired wrongly it is shown held on alarm, with the reason; undone it lets go again', async () => {
    expect((await onAlarm([])).gate).toBe('in free, out free')
    await running.change(takeOut(await alarmLink()))
    const held = await onAlarm([])
    expect(held.gate).toBe('in held, out held: a person cannot get out')
    expect(held.because).toContain('Nothing that the fire alarm works reaches magnet M1.')
    await running.ask('change.undo', {})
    expect((await onAlarm([])).gate).toBe('in free, out free')
  })

  test('trying shows the same and writes nothing', async () => {
    const before = await running.twin()
    expect((await onAlarm([takeOut(await alarmLink())])).gate).toMatch(/^in held, out held/)
    expect(await running.twin()).toBe(before)
  })

  test('two typicals side by side, and two parts', async () => {
    const compared = await running.ask('typicals.compare', {
      typicalIds: ['typical-strike-safe', 'typical-strike-secure'],
      fedBy: 'with a battery',
    })
    expect(compared.names).toEqual(['Strike, safe', 'Strike, secure'])
    expect(compared.behaviour.some(({ differs }) => differs)).toBe(true)
    const parts = await running.ask('parts.compare', {
      partIds: ['part-strike-fail-safe', 'part-strike-fail-secure'],
    })
    expect(parts.names).toHaveLength(2)
    expect((await running.refusal('parts.compare', { partIds: ['one'] })).code).toBe('input-not-understood')
  })
})

test('a typical that was removed is brought in again, with the parts it needs and what it does', async () => {
  const { ask, close } = await startEmpty()
  const offers = await ask('starter.read', {})
  expect(offers.typicals.every(({ here }) => here)).toBe(true)
  const look = (typicalId: string) => ask('typical.look', { typicalId, trying: [], fedBy: 'with a battery' })
  const before = await look('typical-strike-safe')
  await ask('change.make', { command: { does: 'remove typical', typicalId: 'typical-strike-safe' } })
  await ask('part.remove', { partId: 'part-strike-fail-safe' })
  const brought = await ask('starter.bringIn', { partIds: [], typicalIds: ['typical-strike-safe'] })
  expect(brought.outcome.name).toMatch(/^Bring in typical Strike, safe and part Electric strike, fail safe/)
  const after = await look(brought.id ?? '')
  expect(after.behaviour.lines).toEqual(before.behaviour.lines)
  await close()
})

test('bringing in what the job has all of is refused in a sentence', async () => {
  const { typicals } = await running.ask('starter.read', {})
  const [first] = typicals
  expect(
    (await running.refusal('starter.bringIn', { partIds: [], typicalIds: [first?.id ?? ''] })).sentence,
  ).toMatch(/^The job already has a typical called .+\. Nothing was changed\.$/)
  expect(await partNamed('Fire alarm relay')).toMatchObject({ typicals: 12 })
})
