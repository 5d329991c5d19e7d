// 10,000 openings with 40,000 fittings, every fitting noted as set and one in ten found otherwise.
import { describe, expect, test } from 'vitest'
import {
  loopStates,
  partBook,
  planSetting,
  settingFindings,
  settingSheet,
  settingsOf,
} from '../../../core/settings/index.ts'
import { bigJobRecords } from '../../../fixtures/big-job.ts'
import { jobDataOf } from '../../../fixtures/record-list.ts'
import { counter } from '../support/small-job.ts'
import { note } from './demo-settings.ts'

const openings = 10_000
const data = jobDataOf(bigJobRecords(openings))
let differing = 0
for (const [index, fitting] of [...data.all('fitting')].entries()) {
  for (const designed of data.referring('settingValue', 'typicalFittingId', fitting.typicalFittingId ?? '')) {
    const of = { fittingId: fitting.id }
    note(data, of, designed.partSettingId, 'set', designed.value, { at: '2026-01-20T15:00:00Z' })
    const { positions } = {
      positions: data.referring('partPosition', 'partSettingId', designed.partSettingId),
    }
    const other = positions.find(({ name }) => name !== designed.value)
    if (index % 10 !== 0 || other === undefined) continue
    note(data, of, designed.partSettingId, 'found', other.name, { at: '2026-11-14T13:15:00Z' })
    differing += 1
  }
}

/** The median of some runs after one to warm up, in milliseconds, printed. */
function median(what: string, times: number, work: (at: number) => void): number {
  work(0)
  const taken = Array.from({ length: times }, (_, at) => {
    const start = performance.now()
    work(at + 1)
    return performance.now() - start
  }).toSorted((one, other) => one - other)
  const middle = taken[Math.floor(times / 2)] ?? Infinity
  console.log(
    `${what}, ${openings} openings, ${data.count('fitting')} fittings, ${data.count('settingValue')} values: ${middle.toFixed(2)} ms`,
  )
  return middle
}

describe('speed', () => {
  // Wide limits: several things may run beside this on two cores.
  test('all findings of the job', () => {
    expect(settingFindings(data).filter(({ form }) => form === 'differs')).toHaveLength(differing)
    expect(median('All findings', 3, () => settingFindings(data))).toBeLessThan(3000)
  })

  test('the settings of every opening', () => {
    const ids = Array.from(data.all('opening'), ({ id }) => id)
    const taken = median('All settings', 3, () => {
      const book = partBook(data)
      for (const openingId of ids) settingsOf(data, { openingId }, book)
    })
    expect(taken).toBeLessThan(4000)
  })

  test('one opening', () => {
    const id = (at: number): string => `opening-${String(at * 37 + 1).padStart(5, '0')}`
    expect(median('One sheet', 50, (at) => settingSheet(data, id(at)))).toBeLessThan(5)
  })

  test('one setting of every strike', () => {
    const targets = Array.from(data.all('fitting')).flatMap(({ id, openingId, typicalFittingId }) =>
      typicalFittingId === 'typical-fitting-strike-secure-k1' ? [{ openingId, fittingId: id }] : [],
    )
    const [first] = data.referring('partSetting', 'partId', 'part-strike-fail-secure')
    const taken = median(`One setting of ${targets.length} fittings, planned`, 3, () => {
      const made = planSetting(
        data,
        {
          stage: 'set',
          values: [{ settingId: first?.id ?? '', value: '12 V' }],
          targets,
          who: null,
          at: '2027-01-01T00:00:00Z',
          visitId: null,
        },
        counter(),
      )
      expect(made.ok && made.change.edits).toHaveLength(targets.length)
    })
    expect(taken).toBeLessThan(1500)
  })

  test('10,000 loops', () => {
    const conductor = { size: '22 AWG', stranded: true }
    const taken = median('10,000 loops', 3, () => {
      for (let at = 1; at <= openings; at += 1)
        loopStates(
          {
            name: 'p',
            loop: 'two resistors',
            seriesOhms: 1000,
            parallelOhms: 1000,
            normally: null,
            tolerancePercent: 10,
            closedBelowOhms: null,
            resistorTolerancePercent: 1,
          },
          {
            name: 'Leaf',
            form: 'normally open',
            wiredTo: null,
            turnedRound: { known: true, value: false, origin: null },
            states: [
              { circumstance: 'door shut', closed: true },
              { circumstance: 'door open', closed: false },
            ],
          },
          {
            known: true,
            celsius: { lowest: 0, highest: 50 },
            legs: [{ name: 'r', lengthMetres: at / 100, out: conductor, back: conductor }],
          },
        )
    })
    expect(taken).toBeLessThan(3000)
  })
})
