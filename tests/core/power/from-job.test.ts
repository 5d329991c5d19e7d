// The demo job as the power engine takes it: what is there is read, what is not is asked.
import { describe, expect, test } from 'vitest'
import {
  known,
  questionSentence,
  suppliesFromJob,
  supplyPower,
  usualPowerSettings,
  type FedOutput,
  type Supply,
} from '../../../core/power/index.ts'
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
    ])
    expect(ps3).toMatchObject({
      ratedAmps: { known: true, value: 6 },
      batteryAmpHours: { known: true, value: 7 },
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

  test('what the records do not say is asked, and nothing passes', () => {
    const power = supplyPower(ps3, usualPowerSettings)
    expect(power.verdict).not.toBe('met')
    const asked = new Set(power.questions.map(({ about }) => about))
    expect([...asked]).toEqual(expect.arrayContaining(['own current', 'lowest volts', 'class 2']))
    expect(power.questions.map(questionSentence)).toContain(
      'What does PS3 draw for itself and the boards in its case?',
    )
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
