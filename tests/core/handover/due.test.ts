import { describe, expect, test } from 'vitest'
import {
  batteryAges,
  dueItems,
  fireDoorInspections,
  partQuantities,
  warranties,
  warrantyGroups,
} from '../../../core/handover/index.ts'
import type { JobData, RecordKind } from '../../../core/job/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'
import { openingOf, smallJob } from '../support/small-job.ts'

const today = '2026-11-25'
const put = (data: JobData, kind: RecordKind, record: object): void => data.put(kind, record as never)
const change = (data: JobData, kind: RecordKind, id: string, to: object): void =>
  put(data, kind, { ...data.get(kind, id), ...to })

const supply = (data: JobData, to: object): void => change(data, 'supply', 'psu', to)
const terms = (data: JobData, hasBattery: boolean | null): void =>
  put(data, 'supplyTerms', {
    id: 'terms',
    supplyId: 'psu',
    hasBattery,
    ownAmps: null,
    efficiencyPercent: null,
    chargingAmps: null,
    batteryCelsius: null,
    lowestVolts: null,
    highestVolts: null,
  })
const task = (id: string, to: object): object => ({
  id,
  position: 0,
  name: id,
  everyMonths: null,
  partId: null,
  openingId: null,
  supplyId: null,
  nextOn: null,
  notes: null,
  ...to,
})
const spare = (id: string, count: number, whereKept: string | null): object => ({
  id,
  partId: 'lock',
  count,
  whereKept,
  notes: null,
})

describe('warranties', () => {
  const job = (): JobData => {
    const data = smallJob()
    change(data, 'part', 'lock', { warrantyMonths: 24 })
    change(data, 'part', 'reader', { warrantyMonths: 0 })
    return data
  }
  const of = (data: JobData, mark: string, tag: string) =>
    warranties(data)
      .filter((each) => each.mark === mark && each.tag === tag)
      .map(({ startedOn, endsOn, question }) => ({ startedOn, endsOn, question }))

  test('end so many calendar months after the fitting’s day, else the opening’s', () => {
    const data = job()
    change(data, 'fitting', 'a-lock', { installedOn: '2026-01-31' })
    change(data, 'part', 'lock', { warrantyMonths: 1 })
    // Opening i has its own day, 2026-02-01; its mark is 101 too.
    expect(of(data, '101', 'L1')).toEqual([
      { startedOn: '2026-01-31', endsOn: '2026-02-28', question: null },
      { startedOn: '2026-02-01', endsOn: '2026-03-01', question: null },
    ])
  })

  test('without a day or without months the end is not known and is a question; none has no end and no question', () => {
    const data = job()
    expect(of(data, '201', 'L1')).toEqual([
      { startedOn: null, endsOn: null, question: 'When was L1 of 201 installed?' },
    ])
    expect(of(data, '201', 'R1')).toEqual([{ startedOn: null, endsOn: null, question: null }])
    expect(of(data, '104A', 'M1')).toEqual([
      { startedOn: null, endsOn: null, question: 'How many months of warranty has Door magnet?' },
    ])
  })

  test('what is left out has none; supplies are asked about', () => {
    const data = job()
    supply(data, { partId: 'lock' })
    expect(of(data, '104A', 'R1')).toEqual([])
    expect(warranties(data).at(-1)).toMatchObject({
      mark: 'PS-1',
      tag: null,
      question: 'When was PS-1 installed?',
    })
  })

  test('groups hold every warranty once and have one end each', () => {
    const data = jobDataOf(demoRecords())
    const list = warranties(data)
    const groups = warrantyGroups(list)
    expect(groups.reduce((sum, group) => sum + group.count, 0)).toBe(list.length)
    for (const group of groups) {
      const same = list.filter((each) => each.partId === group.partId && each.endsOn === group.endsOn)
      expect(same).toHaveLength(group.count)
      expect(group.questions.length > 0).toBe(group.endsOn === null)
    }
    const ends = groups.map((group) => group.endsOn ?? '9999')
    expect(ends).toEqual(ends.toSorted())
  })
})

describe('fire doors', () => {
  // NFPA 80: at installation and each year; standards.md 3, [S60][S61][S52], secondary pages.
  test('are due a year after installation; an unknown label and an unknown day are questions; no label is none', () => {
    const data = smallJob()
    change(data, 'opening', 'c', { installedOn: '2024-02-29' })
    const due = Object.fromEntries(
      fireDoorInspections(data).map(({ openingId, dueOn, question }) => [openingId, dueOn ?? question]),
    )
    expect(due).toEqual({
      c: '2025-02-28',
      // Label class B, minutes not known, no day.
      j: 'When was 102 installed?',
      f: 'When was 201 installed?',
      e: 'Does 2 bear a fire label?',
      g: 'Does 202 bear a fire label?',
    })
  })
})

describe('batteries', () => {
  // NFPA 72 (2022): replacement date at most 4 years from installation; standards.md 4, [S75], one secondary page.
  test.each([
    { said: 'nothing', to: {}, has: null, question: 'Has PS-1 a battery?', replaceBy: null, age: null },
    { said: 'none', to: { batteryAmpHours: 7 }, has: false, question: undefined, replaceBy: null, age: null },
    {
      said: 'one, no day',
      to: { batteryAmpHours: 7 },
      has: null,
      question: 'When was the battery of PS-1 installed?',
      replaceBy: null,
      age: null,
    },
    {
      said: 'one and its day',
      to: { batteryInstalledOn: '2024-02-29' },
      has: true,
      question: null,
      replaceBy: '2028-02-29',
      age: 32,
    },
  ])('$said', ({ to, has, question, replaceBy, age }) => {
    const data = smallJob()
    supply(data, to)
    if (has !== null) terms(data, has)
    const [row, ...more] = batteryAges(data, today)
    expect(more).toEqual([])
    if (question === undefined) expect(row).toBeUndefined()
    else expect(row).toMatchObject({ question, replaceBy, ageMonths: age })
  })
})

describe('the list of what is due', () => {
  const data = smallJob()
  change(data, 'opening', 'c', { installedOn: '2025-11-25' })
  change(data, 'opening', 'f', { installedOn: '2025-11-24' })
  put(
    data,
    'maintenanceTask',
    task('Test the release', { everyMonths: 1, nextOn: '2026-12-01', openingId: 'a' }),
  )
  put(data, 'maintenanceTask', task('Clean the readers', { partId: 'reader' }))
  const items = dueItems(data, today)

  test('is in order of days; what has none is last, with its question', () => {
    expect(items.map(({ dueOn, state, title }) => [dueOn, state, title])).toEqual([
      ['2026-11-24', 'overdue', 'Inspect fire door 201, Main'],
      ['2026-11-25', 'to come', 'Inspect fire door 104A, Main'],
      ['2026-12-01', 'to come', 'Test the release'],
      [null, 'not known', 'Doors that may need the yearly inspection, Main'],
      [null, 'not known', 'Doors that may need the yearly inspection, Annexe'],
      [null, 'not known', 'Replace the battery of PS-1'],
      [null, 'not known', 'Clean the readers'],
      ...[null, null, null].map((none) => [none, 'not known', expect.stringContaining('Warranty ends')]),
    ])
    for (const item of items) expect(item.questions.length > 0).toBe(item.dueOn === null)
  })

  test('keys stand for one thing each and stay when a name changes', () => {
    expect(new Set(items.map((item) => item.key)).size).toBe(items.length)
    const renamed = smallJob()
    change(renamed, 'opening', 'c', { installedOn: '2025-11-25', mark: '999' })
    expect(dueItems(renamed, today)[0]?.key).toBe(items[1]?.key)
  })

  test('a task repeats as often as was said; a fire door each year', () => {
    expect(items.map((item) => item.everyMonths).slice(0, 3)).toEqual([12, 12, 1])
  })
})

describe('quantities', () => {
  test('count what is fitted, not what is left out, and spares apart', () => {
    const data = smallJob()
    supply(data, { partId: 'magnet' })
    put(data, 'spare', spare('s1', 2, 'Riser cupboard'))
    put(data, 'spare', spare('s2', 1, null))
    const rows = partQuantities(data).map(({ partId, onOpenings, openings, elsewhere, fitted, spares }) => ({
      partId,
      onOpenings,
      openings,
      elsewhere,
      fitted,
      spares,
    }))
    // Store: a b c f i (and e, h, j without a typical); office: d g. On c the lock is a magnet, the reader is left out.
    expect(rows).toEqual([
      { partId: 'lock', onOpenings: 6, openings: 6, elsewhere: 0, fitted: 6, spares: 3 },
      { partId: 'magnet', onOpenings: 2, openings: 1, elsewhere: 1, fitted: 3, spares: null },
      { partId: 'reader', onOpenings: 4, openings: 4, elsewhere: 0, fitted: 4, spares: null },
    ])
  })

  test('fittings of no known part are counted apart', () => {
    const data = smallJob()
    put(data, 'fitting', {
      ...data.get('fitting', 'c-extra'),
      id: 'odd',
      openingId: openingOf(data, 'e').id,
      partId: null,
    })
    expect(partQuantities(data).at(-1)).toMatchObject({ partId: null, fitted: 1, openings: 1 })
  })

  test('the demo job: as many as there are fittings that are not left out', () => {
    const data = jobDataOf(demoRecords())
    const total = partQuantities(data).reduce((sum, row) => sum + row.onOpenings, 0)
    const left = [...data.all('fitting')].filter((each) => each.leftOut).length
    const slots = [...data.all('opening')].reduce(
      (sum, opening) => sum + data.countReferring('typicalFitting', 'typicalId', opening.typicalId ?? ''),
      0,
    )
    const added = [...data.all('fitting')].filter((each) => each.typicalFittingId === null).length
    expect(total).toBe(slots - left + added)
  })
})
