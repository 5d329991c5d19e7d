// The demo job as the power engine takes it: what is there is read, what is not is asked.
import { describe, expect, test } from 'vitest'
import {
  drawingByBehaviour,
  known,
  powerSettingsOf,
  questionSentence,
  ratingOf,
  suppliesFromJob,
  supplyPower,
  usualPowerSettings,
  type FedOutput,
  type Load,
  type Supply,
} from '../../../core/power/index.ts'
import { asId, removeRecords } from '../../../core/job/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'

const data = jobDataOf(demoRecords())
const supplies = suppliesFromJob(data, () => ({ atRest: true, onAlarm: false, firesWith: null }))
const ps3 = supplies.find(({ name }) => name === 'PS3')!
const chain = ps3.outputs.find(({ name }) => name === 'PS3 output 2')!

describe('the demo job', () => {
  test('has its supplies, outputs and runs', () => {
    expect(supplies.map(({ name, outputs }) => [name, outputs.length])).toEqual([
      ['PS1', 8],
      ['PS2', 8],
      ['PS3', 8],
      ['PS4', 8],
      ['PS5', 8],
    ])
    expect(ps3).toMatchObject({
      ratedAmps: { known: true, value: 10 },
      batteryAmpHours: { known: true, value: 40 },
      ownAmps: { known: true, value: 0.15 },
      efficiency: { known: true, value: 0.86 },
    })
  })

  test('the chain on PS3 output 2 goes through 207 and 216 to 210', () => {
    const names = chain.runs.map(({ name }) => name)
    expect(names).toEqual(expect.arrayContaining(['207 feed', '216 feed', '210 feed']))
    const feed = chain.runs.find(({ name }) => name === '216 feed')!
    expect(feed).toMatchObject({ lengthMetres: { known: true, value: 21.336 } })
    expect(feed.out).toHaveLength(1)
    expect(feed.back).toHaveLength(1)
    expect(feed.out[0]!.size).toMatchObject({ known: true, value: { system: 'awg', number: 18 } })
  })

  test('every fitting at the end of a feed that has a current is a load: none is dropped without a word', () => {
    let locks = 0
    for (const { outputs } of supplies)
      for (const { runs, loads } of outputs)
        for (const place of new Set(runs.flatMap(({ from, to }) => [from, to]))) {
          const record = data.get('fitting', place)
          const slot = data.get('typicalFitting', record?.typicalFittingId ?? '')
          const part = data.get('part', record?.partId ?? slot?.partId ?? '')
          if (part === undefined || record?.leftOut === true || part.holdingAmps === null) continue
          expect(loads.map(({ at }) => at)).toContain(place)
          locks += 1
        }
    expect(locks).toBeGreaterThan(100)
  })

  test('an illuminated release in series draws for its lamp, and passes its magnet on', () => {
    const releases = supplies.flatMap(({ outputs }) =>
      outputs.flatMap(({ loads }) => loads.filter(({ name }) => name.endsWith(' B1'))),
    )
    expect(releases.length).toBeGreaterThan(5)
    for (const { ratings } of releases)
      expect(ratings[0]!.holdingAmps).toMatchObject({ known: true, value: 0.02 })
  })

  test('no run of signals is taken for a feed', () => {
    for (const { outputs } of supplies)
      for (const { runs } of outputs)
        for (const { name } of runs) expect(name).not.toMatch(/contact|reader|exit sensor$/)
  })

  test('the two faults that were planted are found, and nothing else is wrong', () => {
    const drawn = suppliesFromJob(data, drawingByBehaviour(data)).map((each) =>
      supplyPower(each, powerSettingsOf(data)),
    )
    const low = drawn.flatMap(({ outputs }) =>
      outputs.flatMap(({ study }) =>
        study.output.loads.flatMap(({ id, name }) =>
          study.worst.get(id)?.device.verdict === 'not met' ? [name] : [],
        ),
      ),
    )
    expect(low).toEqual(['210 M1'])
    const short = drawn.flatMap(({ supply, battery }) =>
      battery?.lasting.known === true && battery.lasting.lasts.enough === 'not met' ? [supply.name] : [],
    )
    expect(short).toEqual(['PS2'])
    expect(
      drawn.flatMap(({ supply, loading }) => (loading.withinLimit === 'not met' ? [supply.name] : [])),
    ).toEqual([])
  })

  test('what the records do not say is asked, and nothing passes', () => {
    const bare = jobDataOf(demoRecords())
    bare.apply([
      ...removeRecords(bare, 'supplyTerms', ['supply-terms-ps3']).edits,
      ...removeRecords(bare, 'outputTerms', ['output-terms-ps3-2']).edits,
    ])
    const supply = suppliesFromJob(bare).find(({ name }) => name === 'PS3')!
    const power = supplyPower(supply, usualPowerSettings)
    expect(power.verdict).not.toBe('met')
    const asked = new Set(power.questions.map(({ about }) => about))
    expect([...asked]).toEqual(expect.arrayContaining(['own current', 'lowest volts', 'class 2']))
    expect(power.questions.map(questionSentence)).toContain(
      'What does PS3 draw for itself and the boards in its case?',
    )
  })

  test('a magnet draws while its door is secured and not on alarm; a fail-secure strike draws in neither', () => {
    const drawing = drawingByBehaviour(data)
    expect(drawing('fitting-118-m1')).toMatchObject({ atRest: true, onAlarm: false })
    expect(drawing('fitting-207-k1')).toMatchObject({ atRest: false, onAlarm: false })
    expect(drawing('nobody')).toEqual({ atRest: null, onAlarm: null, firesWith: null })
  })

  test('volts and current are those of the position that is chosen', () => {
    const twelve = jobDataOf(demoRecords())
    const load = (): Load =>
      suppliesFromJob(twelve)
        .flatMap(({ outputs }) => outputs.flatMap(({ loads }) => loads))
        .find(({ name }) => name === '118 M1')!
    expect(ratingOf(load())).toMatchObject({ value: { setting: '24 V', holdingAmps: { value: 0.25 } } })
    const [value] = [...twelve.all('settingValue')].filter(
      ({ fittingId, partSettingId }) =>
        fittingId === 'fitting-118-m1' && partSettingId === 'setting-surface-magnet-600-voltage',
    )
    twelve.put('settingValue', { ...value!, value: '12 V' })
    expect(ratingOf(load())).toMatchObject({
      value: { setting: '12 V', holdingAmps: { value: 0.5 }, window: { value: { maximumVolts: 14.4 } } },
    })
  })

  test('what somebody said of a conductor outweighs the words of its purpose', () => {
    const turned = jobDataOf(demoRecords())
    turned.put('conductorUse', {
      id: asId<'conductorUse'>('use'),
      conductorId: asId('conductor-207-feed-2'),
      role: 'spare',
    })
    const run = suppliesFromJob(turned)
      .flatMap(({ outputs }) => outputs.flatMap(({ runs }) => runs))
      .find(({ name }) => name === '207 feed')!
    expect(run.back).toEqual([])
    expect(run.spareConductors).toBe(1)
  })

  test('with what is missing told, the chain is solved, and its far end is the lowest', () => {
    const told: FedOutput = {
      ...chain,
      volts: { ...chain.volts, lowest: known(23.5), highest: known(27.4) },
      loads: chain.loads.map((each) => ({
        ...each,
        ratings: each.ratings.map((rating) => ({
          ...rating,
          statedVolts: known(24),
          inrush: rating.inrush.known ? rating.inrush : known(null),
        })),
      })),
    }
    const supply: Supply = { ...ps3, outputs: [told] }
    const { study } = supplyPower(supply, usualPowerSettings).outputs[0]!
    const devices = study.results[0]!.devices
    expect(devices.every(({ outcome }) => outcome === 'solved')).toBe(true)
    const volts = (mark: string) => {
      const load = told.loads.find(({ name }) => name.startsWith(mark))!
      return devices.find((each) => each.load === load.id)!.volts!
    }
    expect(volts('207')).toBeGreaterThan(volts('216'))
    expect(volts('216')).toBeGreaterThan(volts('210'))
  })

  test('a run whose length is not known yet asks for it', () => {
    const ps4 = supplyPower(
      supplies.find(({ name }) => name === 'PS4')!,
      usualPowerSettings,
    )
    expect(
      ps4.questions.map(questionSentence).filter((each) => each.startsWith('How long is')).length,
    ).toBeGreaterThan(0)
  })
})
