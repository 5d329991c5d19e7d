import { describe, expect, test } from 'vitest'
import { invert, type JobData, type Opening } from '../../../core/job/index.ts'
import { dueItems } from '../../../core/handover/index.ts'
import { plan, type Command } from '../../../core/schedule/index.ts'
import {
  addTask,
  changeableFittings,
  changePart,
  closeFinding,
  closeVisit,
  doneTask,
  dueByMonth,
  isOpen,
  noteOnVisit,
  openVisitAgain,
  raiseFinding,
  sinceHandover,
  startVisit,
  visitsOf,
  whoToAsk,
} from '../../../core/service/index.ts'
import { demoJob, openingOf } from './demo-scene.ts'

const stamp = { who: 'Wen Okafor', at: '2026-11-25T09:00:00Z' }

/** Carries a command out, sees that it can be taken back without a trace, and leaves it done. */
function make(data: JobData, command: Command): string {
  let count = 0
  const planned = plan(
    command,
    data,
    () => `made-${command.does}-${data.count('visit')}-${(count += 1)}`,
    stamp,
  )
  if (!planned.ok) throw new Error(planned.problems[0]?.sentence)
  const before = JSON.stringify([...data.all('visit'), ...data.all('fitting'), ...data.all('visitPart')])
  data.apply(planned.change.edits)
  data.apply(invert(planned.change.edits))
  const after = JSON.stringify([...data.all('visit'), ...data.all('fitting'), ...data.all('visitPart')])
  expect(after).toBe(before)
  data.apply(planned.change.edits)
  return planned.change.name
}

const openVisit = (data: JobData, opening: Opening) => {
  const visit = visitsOf(data, opening.id).find(isOpen)
  if (visit === undefined) throw new Error('no open visit')
  return visit
}

describe('a visit', () => {
  const data = demoJob()
  const opening = openingOf(data, '118')

  test('begins with what was reported, open until it is closed with who and when', () => {
    expect(make(data, startVisit(opening, { by: 'Tomas Ellery', symptom: ' will not lock ' }))).toBe(
      'Start a visit at 118',
    )
    expect(openVisit(data, opening)).toMatchObject({
      reportedBy: 'Tomas Ellery',
      reportedAt: stamp.at,
      symptom: 'will not lock',
      at: null,
    })
    make(data, noteOnVisit(openVisit(data, opening).id, '118', 'found', 'S1 still sees the fan.'))
    expect(openVisit(data, opening).found).toBe('S1 still sees the fan.')
  })

  test('changes a part: the new serial and its day stand on the opening in the same change', () => {
    const fitting = changeableFittings(data, opening).find(({ tag }) => tag === 'S1')
    if (fitting === undefined) throw new Error('no S1')
    const visitId = openVisit(data, opening).id
    make(
      data,
      changePart({
        visitId,
        opening,
        fitting,
        partId: null,
        newSerial: '2611-0999',
        installedOn: '2026-11-25',
        notes: null,
      }),
    )
    expect(data.get('fitting', fitting.key)).toMatchObject({ serial: '2611-0999', installedOn: '2026-11-25' })
    expect(data.referring('visitPart', 'visitId', visitId)).toMatchObject([
      { fittingId: fitting.key, oldSerial: '2608-1190', newSerial: '2611-0999' },
    ])
    expect(sinceHandover(data, opening, null).differences).toContainEqual({
      tag: 'S1',
      what: 'serial',
      atHandover: '2608-1190',
      now: '2611-0999',
    })
  })

  test('raises findings and closes them', () => {
    make(
      data,
      raiseFinding(opening, { words: 'Fan in its view', owner: ' ', visitId: openVisit(data, opening).id }),
    )
    const finding = [...data.all('finding')].find(({ words }) => words === 'Fan in its view')
    expect(finding).toMatchObject({ owner: null, state: 'open', raisedAt: stamp.at })
    make(data, closeFinding(finding?.id ?? '', '118'))
    expect(data.get('finding', finding?.id ?? '')).toMatchObject({ state: 'closed', closedAt: stamp.at })
  })

  test('is closed once, and can be opened again', () => {
    const visit = openVisit(data, opening)
    make(data, closeVisit(visit, '118'))
    expect(data.get('visit', visit.id)).toMatchObject({ who: stamp.who, at: stamp.at })
    const closed = data.get('visit', visit.id)
    if (closed !== undefined) make(data, openVisitAgain(closed, '118'))
    expect(openVisit(data, opening).id).toBe(visit.id)
  })
})

test('a part that only follows its typical gets a record of its own when it is changed', () => {
  const data = demoJob()
  const opening = openingOf(data, '118')
  const slot = changeableFittings(data, opening).find(({ tag }) => tag === 'C1')
  if (slot?.fitting == null) throw new Error('no C1')
  make(data, startVisit(opening, { by: null, symptom: null }))
  const fitting = { ...slot, fitting: null }
  make(
    data,
    changePart({
      visitId: openVisit(data, opening).id,
      opening,
      fitting,
      partId: null,
      newSerial: 'N-1',
      installedOn: '2026-11-25',
      notes: 'magnet lost',
    }),
  )
  const made = [...data.all('fitting')].find(({ serial }) => serial === 'N-1')
  expect(made).toMatchObject({ openingId: opening.id, typicalFittingId: slot.slot?.id, partId: null })
})

describe('against a sealed handover', () => {
  test('settings, parts and serials that differ are told, and nothing else', () => {
    const sealed = demoJob()
    const data = demoJob()
    const opening = openingOf(data, '118')
    const [sensor] = changeableFittings(data, opening).filter(({ tag }) => tag === 'S1')
    if (sensor?.fitting == null) throw new Error('no S1')
    expect(sinceHandover(data, opening, { name: 'Handover issue 1', data: sealed })).toEqual({
      against: 'Handover issue 1',
      differences: [],
    })
    data.put('fitting', { ...sensor.fitting, serial: '2611-0999' })
    for (const value of data.all('settingValue'))
      if (value.visitId === 'visit-118-sensor') data.put('settingValue', { ...value, value: '10 s' })
    expect(sinceHandover(data, opening, { name: 'Handover issue 1', data: sealed }).differences).toEqual([
      { tag: 'S1', what: 'serial', atHandover: '2608-1190', now: '2611-0999' },
      { tag: 'S1', what: 'Hold time', atHandover: '5 s', now: '10 s' },
    ])
  })
})

describe('what is due', () => {
  test('is told by month: overdue first, not known last', () => {
    const months = dueByMonth(dueItems(demoJob(), '2027-03-01'))
    expect(months[0]).toMatchObject({ overdue: true, month: null })
    expect(months.at(-1)).toMatchObject({ overdue: false, month: null })
    const dated = months.flatMap(({ month }) => month ?? [])
    expect(dated).toEqual(dated.toSorted())
  })

  test('a task comes again its months later when it is done, and goes when it comes once', () => {
    const data = demoJob()
    const task = (everyMonths: number | null) => ({
      name: 'Test the manual releases',
      everyMonths,
      openingId: null,
      supplyId: null,
      nextOn: '2026-12-31',
    })
    make(data, addTask(task(2), 0))
    const [kept] = [...data.all('maintenanceTask')]
    if (kept === undefined) throw new Error('no task')
    make(data, doneTask(kept, '2026-12-31'))
    // The last day of February: calendar months, as core/handover counts them.
    expect(data.get('maintenanceTask', kept.id)?.nextOn).toBe('2027-02-28')
    make(data, doneTask({ ...kept, everyMonths: null }, '2027-02-28'))
    expect(data.count('maintenanceTask')).toBe(0)
  })
})

test('who can say: who proved it and came to it, who reported it, and the trades with their contacts', () => {
  const data = demoJob()
  const people = whoToAsk(data, openingOf(data, '118'))
  expect(people[0]).toMatchObject({
    name: 'Wen Okafor',
    about: 'proved it on 2026-03-03, came on 2026-11-14',
  })
  expect(people).toContainEqual(
    expect.objectContaining({ name: 'Tomas Ellery', about: 'reported a fault here', phone: '555-0102' }),
  )
  expect(new Set(people.map(({ name }) => name.toLowerCase().replace('the ', ''))).size).toBe(people.length)
})
