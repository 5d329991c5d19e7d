// Runs typed, pasted, added and filled as a person does it, on the demo job.
import { beforeAll, describe, expect, test } from 'vitest'
import type { Edit, JobData } from '../../../core/job/index.ts'
import {
  addRuns,
  cableLengthWords,
  endName,
  endOf,
  endReader,
  fillLengths,
  pointsOfController,
  quantities,
  readCableLength,
  readCableShort,
  runPage,
  runRow,
  runRows,
  tagsToWire,
  typeRuns,
  wirePoint,
  wiringFindings,
  type RunCell,
  type RunColumn,
  type RunRow,
  type RunsTyped,
} from '../../../core/runs/index.ts'
import { plan } from '../../../core/schedule/index.ts'
import { demoRecords } from '../../../fixtures/demo/index.ts'
import { jobDataOf } from '../../../fixtures/record-list.ts'

let records: ReturnType<typeof demoRecords>
beforeAll(() => {
  records = demoRecords()
})
const demo = (): JobData => jobDataOf(records)

let made = 0
/** Carries out a planned command as the host does. */
function carryOut(data: JobData, command: RunsTyped['command']): readonly Edit[] {
  if (command === null) throw new Error('nothing to change')
  const planned = plan(command, data, () => `made-${(made += 1)}`, {
    who: 'Ada',
    at: '2026-03-02T08:00:00Z',
  })
  if (!planned.ok) throw new Error(planned.problems.map(({ sentence }) => sentence).join(' '))
  data.apply(planned.change.edits)
  return planned.change.edits
}

const runCalled = (data: JobData, name: string): RunRow => {
  const row = runRows(data).find((each) => each.name === name)
  if (row === undefined) throw new Error(`no run ${name}`)
  return row
}
const opening = (data: JobData, mark: string) => {
  const found = [...data.all('opening')].find((each) => each.mark === mark)
  if (found === undefined) throw new Error(`no opening ${mark}`)
  return found
}
const type = (data: JobData, rowKey: string, column: RunColumn, text: string): RunsTyped =>
  typeRuns(data, [{ rowKey, column, text }], 'type', 'refuse')

describe('ends as people name them', () => {
  test.each([
    ['PS3 output 2', 'PS3 output 2'],
    ['ps3 out 2', 'PS3 output 2'],
    ['PS3/2', 'PS3 output 2'],
    ['PS3 #2', 'PS3 output 2'],
    ['ps3  2', 'PS3 output 2'],
    ['118 M1', '118 M1'],
    ['118-m1', '118 M1'],
    ['118/M1', '118 M1'],
    ['AC2', 'AC2'],
    ['', ''],
    ['—', ''],
  ])('“%s” is %s', (text, name) => {
    const data = demo()
    const read = endReader(data)(text)
    if (!read.ok) throw new Error(read.words)
    expect(read.end.at === 'slot' ? 'slot' : endName(data, read.end)).toBe(name)
  })

  test.each([
    ['PS9 output 2', /“PS9 output 2” is nothing a run ends at; expected an output such as PS1 output 1/],
    ['PS3 output 12', /“PS3 output 12” is not there; expected an output of PS3: 1, 2, 3/],
    ['PS3', /expected an output of PS3/],
    ['118 M9', /“118 M9” is not there; expected a fitting of 118: M1/],
    ['118', /expected a fitting of 118/],
  ])('“%s” is refused', (text, words) => {
    const read = endReader(demo())(text)
    expect(read.ok ? '' : read.words).toMatch(words)
  })

  test('every end of the demo job reads back as it is written', () => {
    const data = demo()
    const read = endReader(data)
    for (const run of data.all('run'))
      for (const side of ['from', 'to'] as const) {
        const end = endOf(run, side)
        expect([run.name, read(endName(data, end))]).toEqual([run.name, { ok: true, end }])
      }
  })
})

test.each([
  ['140', 'imperial', 42.672],
  ['140 ft', 'metric', 42.672],
  ["12'", 'imperial', 3.658],
  ['42.7 m', 'imperial', 42.7],
  ['42,5', 'metric', 42.5],
  ['0', 'imperial', 0],
  ['', 'imperial', null],
  ['far', 'imperial', null],
  ['-3', 'metric', null],
] as const)('the length “%s” in an %s job', (text, units, metres) => {
  const read = readCableLength(text, units)
  expect(read.known ? read.value : null).toBe(metres)
})

test('a length in feet reads back as it was typed', () => {
  for (let feet = 1; feet < 700; feet += 1) {
    const read = readCableLength(String(feet), 'imperial')
    expect(read.known ? cableLengthWords(read.value, 'imperial') : '').toBe(`${feet} ft`)
  }
})

test.each([
  ['18/2', { count: 2, size: '18 AWG', stranded: null }],
  ['22/6 stranded, shielded', { count: 6, size: '22 AWG', stranded: true }],
  ['#16/2C solid', { count: 2, size: '16 AWG', stranded: false }],
  ['1/2', null],
  ['lock cable', null],
] as const)('the short form “%s”', (text, expected) => {
  expect(readCableShort(text)).toEqual(expected)
})

describe('typing', () => {
  test('a new run with the trade’s short form has its conductors, roles and a name', () => {
    const data = demo()
    const cells: RunCell[] = [
      { rowKey: 'blank 1', column: 'from', text: 'PS4 output 3' },
      { rowKey: 'blank 1', column: 'to', text: '318 M1' },
      { rowKey: 'blank 1', column: 'cable', text: '18/2 stranded' },
      { rowKey: 'blank 1', column: 'length', text: '85' },
    ]
    const to = tagsToWire(data, [opening(data, '318').id], { at: 'output', id: 'output-ps4-3' })[0]?.tag
    const typed = typeRuns(
      data,
      cells.map((cell) => (cell.column === 'to' ? { ...cell, text: `318 ${to}` } : cell)),
      'paste',
      'refuse',
    )
    expect(typed.problems).toEqual([])
    expect(typed.command?.name).toBe('Add 1 run')
    carryOut(data, typed.command)
    const row = runCalled(data, `318 ${to} feed`)
    expect(row).toMatchObject({
      from: 'PS4 output 3',
      to: `318 ${to}`,
      count: 2,
      size: '18 AWG',
      stranded: true,
      lengthMetres: 25.908,
      questions: [],
    })
    expect(runPage(data, row.id)?.conductors.map(({ role }) => role)).toEqual(['feed', 'return'])
  })

  test('what cannot be read is named by row, field and what was expected, and nothing is written', () => {
    const data = demo()
    const typed = typeRuns(
      data,
      [
        { rowKey: runCalled(data, '118 feed').id, column: 'from', text: 'PS9 output 1' },
        { rowKey: 'blank 2', column: 'length', text: 'far' },
        { rowKey: 'blank 2', column: 'to', text: '118 M1' },
        { rowKey: 'blank 3', column: 'size', text: '18 AWG' },
      ],
      'paste',
      'refuse',
    )
    expect(typed.command).toBeNull()
    expect(typed.problems.map(({ sentence }) => sentence)).toEqual([
      expect.stringMatching(/^118 feed, from: “PS9 output 1” is nothing a run ends at; expected/),
      expect.stringMatching(/^New row 2, length: "far" is not a length of cable; expected/),
      expect.stringMatching(/^New row 3, conductors: nothing was given; expected how many/),
    ])
  })

  test('left out, the others are written', () => {
    const data = demo()
    const { id } = runCalled(data, '118 feed')
    const typed = typeRuns(
      data,
      [
        { rowKey: id, column: 'length', text: 'far' },
        { rowKey: id, column: 'notes', text: 'above the ceiling' },
      ],
      'paste',
      'leave out',
    )
    carryOut(data, typed.command)
    expect(runCalled(data, '118 feed').notes).toBe('above the ceiling')
  })

  test('one conductor’s size is not touched by a stranding typed for all', () => {
    const data = demo()
    const { id } = runCalled(data, '118 feed')
    const [first] = data.referring('conductor', 'runId', id)
    if (first === undefined) throw new Error('no conductor')
    data.put('conductor', { ...first, size: '12 AWG' })
    expect(runCalled(data, '118 feed').mixed).toBe(true)
    carryOut(data, type(data, id, 'stranded', 'solid').command)
    const after = data.referring('conductor', 'runId', id)
    expect(new Set(after.map(({ size }) => size))).toEqual(new Set(['12 AWG', '16 AWG']))
    expect(after.every(({ stranded }) => stranded === false)).toBe(true)
  })

  test('conductors that are landed are not taken away by a smaller count', () => {
    const data = demo()
    const { id } = runCalled(data, '118 feed')
    const typed = type(data, id, 'count', '1')
    expect(typed.command).toBeNull()
    expect(typed.problems[0]?.sentence).toBe(
      '118 feed, conductors: 1 conductor more than 1 is landed on terminals; clear those terminals first.',
    )
  })

  test('a cable kind makes conductors with its colours, and keeps the terminals', () => {
    const data = demo()
    data.put('cableKind', {
      id: 'kind',
      name: 'Lock cable',
      position: 90,
      conductorCount: 4,
      size: '14 AWG',
      stranded: true,
      colours: ['red', 'black', 'white', 'green'],
      usedFor: null,
      notes: null,
    } as never)
    const { id } = runCalled(data, '118 feed')
    carryOut(data, type(data, id, 'cable', 'lock cable').command)
    const page = runPage(data, id)
    expect(page?.row).toMatchObject({ cable: 'Lock cable', count: 4, size: '14 AWG' })
    expect(page?.conductors.map(({ colour, role, fromTerminal }) => [colour, role, fromTerminal])).toEqual([
      ['red', 'feed', '+'],
      ['black', 'return', '-'],
      ['white', 'spare', null],
      ['green', 'spare', null],
    ])
  })

  test('a fitting that only followed its typical gets its record in the same change', () => {
    const data = demo()
    const mark = [...data.all('opening')].find(
      ({ id, typicalId }) => typicalId !== null && data.countReferring('fitting', 'openingId', id) === 0,
    )?.mark
    if (mark === undefined) return
    const { id } = opening(data, mark)
    const [tag] = tagsToWire(data, [id], { at: 'output', id: 'output-ps4-3' })
    const typed = type(data, 'blank 1', 'to', `${mark} ${tag?.tag}`)
    carryOut(data, typed.command)
    expect(runRows(data).at(-1)?.to).toBe(`${mark} ${tag?.tag}`)
    expect(data.countReferring('fitting', 'openingId', id)).toBe(1)
  })

  test('what is written for a run pasted over itself changes nothing', () => {
    const data = demo()
    for (const row of runRows(data).slice(0, 40)) {
      const cells: RunCell[] = [
        { rowKey: row.id, column: 'name', text: row.name },
        { rowKey: row.id, column: 'from', text: row.from },
        { rowKey: row.id, column: 'to', text: row.to },
        { rowKey: row.id, column: 'cable', text: row.cable ?? '' },
        { rowKey: row.id, column: 'count', text: String(row.count) },
        { rowKey: row.id, column: 'size', text: row.size ?? '' },
        { rowKey: row.id, column: 'stranded', text: row.stranded === true ? 'stranded' : '' },
      ]
      const typed = typeRuns(data, cells, 'paste', 'refuse')
      expect(typed.problems).toEqual([])
      expect(carryOut(data, typed.command)).toEqual([])
    }
  })
})

describe('adding many, and lengths from the routes', () => {
  test('one run to each fed fitting without one, taken back without a trace', () => {
    const data = demo()
    const ids = ['246', '248', '318', '331'].map((mark) => opening(data, mark).id)
    const start = { at: 'output', id: 'output-ps4-7' } as const
    const tags = tagsToWire(data, ids, start).filter(({ usual, without }) => usual && without > 0)
    const wanted = tags.reduce((sum, { without }) => sum + without, 0)
    expect(wanted).toBeGreaterThanOrEqual(4)
    const before = data.count('run')
    const command = addRuns(data, {
      openingIds: ids,
      start,
      tags: tags.map(({ tag }) => tag),
      cableKindId: null,
      fillLengths: false,
    })
    expect(command?.name).toBe(`Add ${wanted} runs from PS4 output 7`)
    carryOut(data, command)
    expect(data.count('run')).toBe(before + wanted)
    expect(
      addRuns(data, {
        openingIds: ids,
        start,
        tags: tags.map(({ tag }) => tag),
        cableKindId: null,
        fillLengths: false,
      }),
    ).toBeNull()
  })

  test('only empty lengths are filled, the source’s own route before the level’s', () => {
    const data = demo()
    for (const each of Array.from(data.all('routeLength')))
      data.apply([{ does: 'remove', kind: 'routeLength', record: each } as Edit])
    const empty = runRows(data).filter(
      ({ lengthMetres, sourceId, from }) =>
        lengthMetres === null && sourceId !== null && from.includes('output'),
    )
    const [first] = empty
    if (first === undefined) throw new Error('no empty length')
    expect(fillLengths(data).fillable).toBe(0)
    const route = (id: string, supplyId: string | null, metres: number): void =>
      data.put('routeLength', { id, levelId: first.levelId, supplyId, controllerId: null, metres } as never)
    route('any', null, 50)
    const others = fillLengths(data)
    expect(others.fillable).toBeGreaterThan(0)
    route('own', first.sourceId, 30)
    const known = runRows(data).filter(({ lengthMetres }) => lengthMetres !== null)
    const { command, fillable } = fillLengths(data)
    expect(fillable).toBe(others.fillable)
    expect(command?.name).toBe(`Fill ${fillable} lengths from the routes`)
    carryOut(data, command)
    expect(runRows(data).find(({ id }) => id === first.id)?.lengthMetres).toBe(30)
    for (const row of known)
      expect(runRows(data).find(({ id }) => id === row.id)?.lengthMetres).toBe(row.lengthMetres)
  })
})

describe('what is found', () => {
  const formsOf = (data: JobData, form: string): string[] =>
    wiringFindings(data)
      .filter((each) => each.form === form)
      .map(({ words }) => words)

  test('the openings of the demo job that are designed and not fed', () => {
    const words = formsOf(demo(), 'no run').join('\n')
    for (const mark of ['246', '248', '318', '331', 'R03', 'R07'])
      expect(words).toMatch(new RegExp(`^${mark}:`, 'm'))
    expect(words).not.toMatch(/^118:/m)
  })

  test('a signal terminal on which two runs land, but not a feed shared by a chain', () => {
    const data = demo()
    const before = formsOf(data, 'terminal used twice')
    expect(before.join()).not.toMatch(/PS\d/)
    const loops = runRows(data).filter(({ name }) => name.endsWith(' contact'))
    for (const row of loops.slice(0, 2)) {
      const [first] = data.referring('conductor', 'runId', row.id)
      if (first !== undefined) data.put('conductor', { ...first, fromTerminal: 'IN 7' })
    }
    const added = formsOf(data, 'terminal used twice').filter((each) => !before.includes(each))
    expect(added).toEqual([
      expect.stringMatching(/^AC1, terminal IN 7: 2 conductors land there, of .* and .*\.$/),
    ])
  })

  test('a run to nothing, a point wired to nothing, a contact at two points, an output nobody uses', () => {
    const data = demo()
    const { id } = runCalled(data, '118 feed')
    const run = data.get('run', id)
    if (run !== undefined) data.put('run', { ...run, toFittingId: null })
    const [one, other] = [...data.all('point')].filter(({ name }) => name.endsWith(' contact'))
    if (one === undefined || other === undefined) throw new Error('no points')
    data.put('point', { ...one, fittingId: other.fittingId, partContactId: other.partContactId })
    const third = [...data.all('point')].at(-1)
    if (third !== undefined) data.put('point', { ...third, fittingId: null })
    expect(formsOf(data, 'ends nowhere')).toEqual(['118 feed goes to nothing yet.'])
    expect(formsOf(data, 'contact at two points')).toHaveLength(1)
    expect(formsOf(data, 'point used by nobody')).toHaveLength(1)
    expect(formsOf(data, 'output used by nobody')).toContain('PS1 output 8 feeds nothing.')
  })

  test('a length beyond the usual is asked about', () => {
    const data = demo()
    const { id } = runCalled(data, '118 feed')
    carryOut(data, type(data, id, 'length', '612').command)
    const run = data.get('run', id)
    if (run === undefined) throw new Error('no run')
    expect(runRow(data, run).questions.map(({ words }) => words)).toEqual([
      'Is 118 feed really 612 ft long? More than 500 ft is asked about.',
    ])
  })
})

describe('one run by itself', () => {
  test('the chain on PS3 output 2: the way adds up and all that hangs on it is named', () => {
    const data = demo()
    const last = runPage(data, runCalled(data, '210 feed').id)
    expect(last?.way.map(({ name }) => name)).toEqual(['207 feed', '216 feed', '210 feed'])
    // 140, 70 and 95 ft.
    expect(last?.totalMetres).toBeCloseTo(305 * 0.3048, 2)
    const home = runPage(data, runCalled(data, '207 feed').id)
    expect(home?.feeds).toEqual(expect.arrayContaining(['207 K1', '216 K1', '210 M1']))
  })
})

test('quantities add up to the runs, and waste is only added when it is said', () => {
  const data = demo()
  for (const each of Array.from(data.all('jobTerms')))
    data.apply([{ does: 'remove', kind: 'jobTerms', record: each } as Edit])
  const plain = quantities(data)
  expect(plain.cables.every(({ withWasteMetres }) => withWasteMetres === null)).toBe(true)
  data.put('jobTerms', { id: 'terms', jobId: data.job.id, cableWastePercent: 12 } as never)
  const { cables } = quantities(data)
  const all = [...data.all('run')]
  expect(cables.reduce((sum, { runs }) => sum + runs, 0)).toBe(all.length)
  expect(cables.reduce((sum, { withoutLength }) => sum + withoutLength, 0)).toBe(
    all.filter(({ lengthMetres }) => lengthMetres === null).length,
  )
  for (const cable of cables) {
    expect(cable.levels.reduce((sum, { metres }) => sum + metres, 0)).toBeCloseTo(cable.metres, 6)
    expect(cable.withWasteMetres).toBeCloseTo(cable.metres * 1.12, 6)
  }
})

describe('points', () => {
  test('a point is wired to a fitting by its name, with its one contact', () => {
    const data = demo()
    const [controller] = data.all('controller')
    const [point] = pointsOfController(data, controller?.id ?? '').filter(({ name }) =>
      name.endsWith('contact'),
    )
    if (point === undefined) throw new Error('no point')
    const off = wirePoint(data, point.id, '')
    carryOut(data, off.ok ? off.command : null)
    expect(data.get('point', point.id)).toMatchObject({ fittingId: null, partContactId: null })
    const on = wirePoint(data, point.id, point.wiredToFitting ?? '')
    carryOut(data, on.ok ? on.command : null)
    expect(data.get('point', point.id)).toMatchObject({ partContactId: point.contactId })
    const wrong = wirePoint(data, point.id, 'PS1 output 1')
    expect(wrong.ok ? '' : wrong.sentence).toMatch(
      /“PS1 output 1” is no fitting; expected a fitting such as 118 C1/,
    )
  })
})
