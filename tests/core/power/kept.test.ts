// An edit costs the outputs it touches, and gives what working everything out anew would give.
import { describe, expect, test } from 'vitest'
import { removeRecords, setFields, type Edit, type JobData } from '../../../core/job/index.ts'
import {
  batterySecondsByPower,
  drawingByBehaviour,
  keptPower,
  powerOverview,
  powerSettingsOf,
  suppliesFromJob,
  supplyPower,
} from '../../../core/power/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'

/** From nothing, with nothing kept. */
const anew = (data: JobData) =>
  powerOverview(data, {
    settings: powerSettingsOf(data),
    supplies: suppliesFromJob(data, drawingByBehaviour(data)).map((each) =>
      supplyPower(each, powerSettingsOf(data)),
    ),
  })

const set = (data: JobData, kind: never, id: string, fields: object): Edit[] => {
  const before = data.get(kind, id)
  if (before === undefined) throw new Error(`no ${id}`)
  const edit = setFields(kind, before, fields as never)
  return edit === null ? [] : [edit]
}

describe('kept power', () => {
  // What is edited, the openings the host would name, and the outputs that may become other values.
  test.each<[string, (data: JobData) => Edit[], readonly string[], readonly string[]]>([
    [
      'a length',
      (data) => set(data, 'run' as never, 'run-216-feed', { lengthMetres: 3 }),
      [],
      ['PS3 output 2'],
    ],
    [
      'a wire size',
      (data) => set(data, 'conductor' as never, 'conductor-210-feed-1', { size: '14 AWG' }),
      [],
      ['PS3 output 2'],
    ],
    [
      'a run moved to another output',
      (data) => set(data, 'run' as never, 'run-207-feed', { fromOutputId: 'output-ps3-8' }),
      [],
      ['PS3 output 2', 'PS3 output 8'],
    ],
    ['a battery', (data) => set(data, 'supply' as never, 'supply-ps2', { batteryAmpHours: 18 }), [], []],
    [
      'an output’s terms taken away',
      (data) => removeRecords(data, 'outputTerms', ['output-terms-ps3-2']).edits.slice(),
      [],
      ['PS3 output 2'],
    ],
    [
      'a mark',
      (data) => set(data, 'opening' as never, 'opening-210', { mark: '210X' }),
      ['opening-210'],
      ['PS3 output 2'],
    ],
    [
      'a run taken away',
      (data) => removeRecords(data, 'run', ['run-210-feed']).edits.slice(),
      [],
      ['PS3 output 2'],
    ],
    [
      'a whole supply taken away',
      (data) => removeRecords(data, 'supply', ['supply-ps5']).edits.slice(),
      [],
      [],
    ],
  ])('%s', (_, editsOf, openings, mayChange) => {
    const data = jobDataOf(demoRecords())
    const kept = keptPower(data)
    const before = kept.read()
    const outputsBefore = new Set(before.supplies.flatMap(({ supply }) => supply.outputs))
    const edits = editsOf(data)
    expect(edits.length).toBeGreaterThan(0)
    data.apply(edits)
    kept.changed(edits, openings)
    const after = kept.read()
    expect(powerOverview(data, after)).toEqual(anew(data))
    const changed = after.supplies
      .flatMap(({ supply }) => supply.outputs)
      .filter((output) => !outputsBefore.has(output))
      .map(({ name }) => name)
    expect(changed.filter((name) => !mayChange.includes(name))).toEqual([])
  })

  test('terms of the job reach every figure', () => {
    const data = jobDataOf(demoRecords())
    const kept = keptPower(data)
    kept.read()
    const edits: Edit[] = [
      {
        does: 'set',
        kind: 'jobTerms',
        id: 'job-terms',
        from: { standbyHours: null, ageingPercent: null, coolestCelsius: null, warmestCelsius: null },
        to: { standbyHours: 24, ageingPercent: 110, coolestCelsius: 0, warmestCelsius: 60 },
      },
    ]
    data.apply(edits)
    kept.changed(edits, [])
    expect(powerOverview(data, kept.read())).toEqual(anew(data))
    expect(powerOverview(data, kept.read()).inForce).toEqual({
      ageingPercent: 110,
      coolestCelsius: 0,
      warmestCelsius: 60,
    })
  })
})

describe('what behaviour may count on', () => {
  const data = jobDataOf(demoRecords())
  const seconds = batterySecondsByPower(keptPower(data).read)
  const of = (id: string) => seconds(data.get('supply', id)!)

  test.each([
    // As the power sheet has them: PS2's 7 Ah last a good hour.
    ['supply-ps1', true, 12 * 3600, 14 * 3600],
    ['supply-ps2', true, 3600, 2 * 3600],
    // Lengths on PS4 are not known, so its load is not either.
    ['supply-ps4', false, 0, 0],
  ] as const)('%s', (id, known, least, most) => {
    const fact = of(id)
    expect(fact.known).toBe(known)
    if (!fact.known) return
    expect(fact.value).toBeGreaterThan(least)
    expect(fact.value).toBeLessThan(most)
  })
})
