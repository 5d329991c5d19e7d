// The doorways of a job read once and kept: the same as each read by itself, whatever was edited in between.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  batteryFromRecord,
  declaredInJob,
  doorwayOf,
  doorwaysOf,
  fireAlarm,
  judge,
  known,
  otherOpeningOpen,
  secured,
  sentencesOf,
  structuralKey,
  together,
  unknown,
  type Doorway,
  type DoorwayAnswer,
  type DoorwayOptions,
} from '../../../core/behaviour/index.ts'
import {
  invert,
  JobData,
  recordKinds,
  removeRecords,
  type Edit,
  type JobRecord,
  type Opening,
  type RecordKind,
} from '../../../core/job/index.ts'
import { demoRecords } from '../../../fixtures/demo/index.ts'
import {
  libraryRecords,
  partContactId,
  typicalFittingId,
  typicalId,
} from '../../../fixtures/parts-library/index.ts'
import { jobDataOf, recordList, type RecordList } from '../../../fixtures/record-list.ts'
import { inOut } from './arrangements.ts'

const options: Omit<DoorwayOptions, 'declared'> = {
  stage: 'found',
  batterySeconds: batteryFromRecord,
  fireAlarmBatterySeconds: unknown({ about: 'battery', thing: 'the fire alarm system' }),
}

const openingsOf = (data: JobData): readonly Opening[] => [...data.all('opening')]

const textOf = (answer: DoorwayAnswer): string =>
  answer.ok
    ? JSON.stringify([
        structuralKey(answer.doorway),
        [...answer.partOf].map(([id, part]) => `${id}: ${part.id}`).toSorted(),
      ])
    : JSON.stringify(answer.problems)

/** Each opening's doorway read by itself. */
function readAnew(data: JobData, openings = openingsOf(data)): ReadonlyMap<string, string> {
  const declared = declaredInJob(data)
  return new Map(
    openings.map((opening) => [opening.id, textOf(doorwayOf(data, opening, { ...options, declared }))]),
  )
}

test('every opening of the demo job has the doorway it has by itself, and openings that do not differ share it', () => {
  const data = jobDataOf(demoRecords())
  const { of } = doorwaysOf(data, options)
  const openings = openingsOf(data)
  expect(new Map(openings.map((opening) => [opening.id, textOf(of(opening))]))).toEqual(readAnew(data))
  const values = new Set(openings.map(of))
  console.log(`demo job: ${openings.length} openings, ${values.size} doorways built`)
  expect(values.size).toBeLessThan(openings.length)
  for (const opening of openings) expect(of(opening)).toBe(of(opening))
})

test('the order of the rows means nothing', () => {
  const set = demoRecords()
  const turned = new JobData()
  for (const kind of recordKinds)
    for (const record of [...(set[kind] ?? [])].toReversed()) turned.put(kind, record as never)
  // Maps are equal whatever their order.
  expect(readAnew(turned)).toEqual(readAnew(jobDataOf(set)))
})

/** Two openings of each typical and each opening with a link of its own: enough, and sooner read. */
function someOpenings(data: JobData): readonly Opening[] {
  const seen = new Map<string | null, number>()
  return openingsOf(data).filter(({ id, typicalId: typical }) => {
    const count = (seen.get(typical) ?? 0) + 1
    seen.set(typical, count)
    return count <= 2 || data.countReferring('link', 'openingId', id) > 0
  })
}

/** Kinds of which a doorway may read a field, and some of which it reads none. */
const edited: readonly RecordKind[] = [
  'opening',
  'leaf',
  'leafOverlap',
  'fitting',
  'settingValue',
  'link',
  'run',
  'output',
  'supply',
  'controller',
  'point',
  'typical',
  'typicalFitting',
  'typicalFittingLeaf',
  'part',
  'partSetting',
  'partPosition',
  'partSettingTable',
  'partSettingTableRow',
  'partContact',
  'partContactState',
  'partContactTiming',
  'partBehaviour',
  'partHardware',
  'partElement',
  'settingEffect',
  'level',
  'space',
]

type Fields = Readonly<Record<string, unknown>>

/** Any edit that keeps the records whole: a field as another record of its kind has it, a new one, or one gone. */
function anyEdits(
  data: JobData,
  kind: RecordKind,
  does: number,
  one: number,
  other: number,
  at: number,
): readonly Edit[] {
  const all = [...data.all(kind)] as unknown as readonly Fields[]
  const record = all[one % all.length]
  const alike = all[other % all.length]
  if (record === undefined || alike === undefined) return []
  const id = record['id'] as string
  if (does === 0) return removeRecords(data, kind, [id]).edits
  if (does === 1) return [{ does: 'add', kind, record: { ...alike, id: `${id} more` } }]
  const fields = Object.keys(record).filter(
    (field) => field !== 'id' && JSON.stringify(record[field]) !== JSON.stringify(alike[field]),
  )
  const field = fields[at % fields.length]
  if (field === undefined) return []
  return [{ does: 'set', kind, id, from: { [field]: record[field] }, to: { [field]: alike[field] } }]
}

test('after any edit and its undo each doorway is as if read anew, and only those told as touched changed', () => {
  const start = demoRecords()
  const step = fc.record({
    kind: fc.constantFrom(...edited),
    does: fc.nat(7),
    one: fc.nat(5000),
    other: fc.nat(5000),
    at: fc.nat(20),
    undo: fc.boolean(),
  })
  fc.assert(
    fc.property(fc.array(step, { minLength: 6, maxLength: 12 }), (steps) => {
      const data = jobDataOf(start)
      const doorways = doorwaysOf(data, options)
      const ids = someOpenings(data).map(({ id }) => id)
      const there = (): readonly Opening[] => ids.flatMap((id) => data.get('opening', id) ?? [])
      let before = readAnew(data, there())
      for (const { kind, does, one, other, at, undo } of steps) {
        const edits = anyEdits(data, kind, does, one, other, at)
        for (const made of undo ? [edits, invert(edits)] : [edits]) {
          data.apply(made)
          const touched = doorways.changed(made)
          const now = readAnew(data, there())
          for (const opening of there()) {
            const found = textOf(doorways.of(opening))
            expect(`${opening.mark} ${found}`).toBe(`${opening.mark} ${now.get(opening.id)}`)
            if (touched !== 'all' && !touched.has(opening.id)) expect(found).toBe(before.get(opening.id))
          }
          before = now
        }
      }
    }),
    { numRuns: 12, interruptAfterTimeLimit: 20_000 },
  )
}, 60_000)

test('an edit of one opening touches that opening alone', () => {
  const data = jobDataOf(demoRecords())
  const doorways = doorwaysOf(data, options)
  const [opening] = openingsOf(data)
  if (opening === undefined) throw new Error('no opening')
  const [fitting] = data.referring('fitting', 'openingId', opening.id)
  if (fitting === undefined) throw new Error('no fitting')
  const edits: Edit[] = [
    { does: 'set', kind: 'fitting', id: fitting.id, from: { leftOut: false }, to: { leftOut: true } },
  ]
  data.apply(edits)
  expect(doorways.changed(edits)).toEqual(new Set([opening.id]))
  expect(doorways.changed([])).toEqual(new Set())
})

describe('what an opening has of its own sets it apart from one that is else alike', () => {
  /** 101 and 102 of one typical, each fitting a record, all fed by the first of two supplies. */
  function twoAlike(): JobData {
    const list = recordList(libraryRecords())
    list.add('building', { id: 'building', name: 'Main', position: 0 })
    list.add('level', { id: 'level', buildingId: 'building', name: 'Level 1', position: 0 })
    for (const number of [1, 2]) {
      list.add('supply', {
        id: `supply ${number}`,
        mark: `PS${number}`,
        position: number,
        batteryAmpHours: 0,
      })
      list.add('output', { id: `output ${number}`, supplyId: `supply ${number}`, position: 0, name: '1' })
      list.add('controller', { id: `controller ${number}`, mark: `CP${number}`, position: number })
    }
    for (const mark of ['101', '102']) {
      list.add('opening', { id: mark, levelId: 'level', mark, typicalId: typicalId('magnet-sensor') })
      list.add('leaf', { id: `leaf ${mark}`, openingId: mark, position: 0, role: 'only' })
      for (const [position, tag] of ['M1', 'S1', 'B1', 'F1', 'R1'].entries())
        list.add('fitting', {
          id: `${mark} ${tag}`,
          openingId: mark,
          position,
          typicalFittingId: typicalFittingId('magnet-sensor', tag),
          leftOut: false,
        })
      const feed = { name: 'feed', position: 0, fromOutputId: 'output 1', toFittingId: `${mark} M1` }
      list.add('run', { id: `run ${mark}`, ...feed })
      list.add('run', {
        id: `on ${mark}`,
        name: 'on',
        position: 0,
        fromFittingId: `${mark} M1`,
        toFittingId: `${mark} S1`,
      })
      const point = { name: 'reader', position: 0, direction: 'input', controllerId: 'controller 1' } as const
      list.add('point', { id: `point ${mark}`, ...point, fittingId: `${mark} R1` })
    }
    return jobDataOf(list.done())
  }
  const set = (kind: RecordKind, id: string, from: Fields, to: Fields): Edit => ({
    does: 'set',
    kind,
    id,
    from,
    to,
  })
  const value = (stage: string): Edit => ({
    does: 'add',
    kind: 'settingValue',
    record: {
      id: 'value',
      typicalFittingId: null,
      fittingId: '101 S1',
      partSettingId: 'setting-exit-sensor-power-lost',
      stage,
      value: 'keeps the feed',
      who: null,
      at: null,
      visitId: null,
    },
  })

  test.each<readonly [string, Edit, 'one' | 'both' | 'all']>([
    ['a tag', set('fitting', '101 M1', { tag: null }, { tag: 'M7' }), 'one'],
    ['another part', set('fitting', '101 B1', { partId: null }, { partId: 'part-exit-button' }), 'one'],
    ['left out', set('fitting', '101 F1', { leftOut: false }, { leftOut: true }), 'one'],
    ['a leaf that is not there', set('fitting', '101 M1', { leafId: null }, { leafId: 'leaf 102' }), 'one'],
    ['a setting as found', value('found'), 'one'],
    [
      'a run from elsewhere',
      set('run', 'run 101', { fromOutputId: 'output 1' }, { fromOutputId: 'output 2' }),
      'one',
    ],
    ['a run cut', set('run', 'on 101', { toFittingId: '101 S1' }, { toFittingId: null }), 'one'],
    [
      'a point elsewhere',
      set('point', 'point 101', { controllerId: 'controller 1' }, { controllerId: 'controller 2' }),
      'one',
    ],
    [
      'an output of another supply',
      set('output', 'output 1', { supplyId: 'supply 1' }, { supplyId: 'supply 2' }),
      'both',
    ],
    ['a supply of another mark', set('supply', 'supply 1', { mark: 'PS1' }, { mark: 'PS9' }), 'all'],
    [
      'a controller of another mark',
      set('controller', 'controller 1', { mark: 'CP1' }, { mark: 'CP9' }),
      'all',
    ],
  ])('%s', (_what, edit, reach) => {
    const data = twoAlike()
    const doorways = doorwaysOf(data, options)
    const [one, two] = openingsOf(data)
    if (one === undefined || two === undefined) throw new Error('no openings')
    const before = doorways.of(one)
    expect(doorways.of(two)).toBe(before)
    data.apply([edit])
    expect(doorways.changed([edit])).toEqual(
      reach === 'all' ? 'all' : new Set(reach === 'one' ? ['101'] : ['101', '102']),
    )
    const now = readAnew(data)
    expect(now.get('101')).not.toBe(textOf(before))
    for (const opening of [one, two]) expect(textOf(doorways.of(opening))).toBe(now.get(opening.id))
    if (reach === 'one') expect(doorways.of(two)).toBe(before)
  })

  /** Both openings after an edit: as if read anew, and which of them were told as touched. */
  function afterwards(data: JobData, doorways: ReturnType<typeof doorwaysOf>, edit: Edit) {
    const before = openingsOf(data).map(doorways.of)
    data.apply([edit])
    const touched = doorways.changed([edit])
    const now = readAnew(data)
    const [one, two] = openingsOf(data)
    if (one === undefined || two === undefined) throw new Error('no openings')
    for (const opening of [one, two]) expect(textOf(doorways.of(opening))).toBe(now.get(opening.id))
    const differs = [one, two].map(
      (opening, place) => textOf(doorways.of(opening)) !== textOf(before[place]!),
    )
    return { touched, differs }
  }

  test('what is set on a typical’s fitting, or named in a part, reaches all that follow', () => {
    const data = twoAlike()
    const doorways = doorwaysOf(data, options)
    const usual = data
      .referring('settingValue', 'typicalFittingId', typicalFittingId('magnet-sensor', 'S1'))
      .find(({ partSettingId }) => partSettingId === 'setting-exit-sensor-power-lost')
    if (usual === undefined) throw new Error('the typical sets no jumper')
    const jumper = set('settingValue', usual.id, { value: usual.value }, { value: 'keeps the feed' })
    expect(afterwards(data, doorways, jumper)).toEqual({ touched: 'all', differs: [true, true] })
    const contact = partContactId('exit-sensor', 'Feed')
    const renamed = set('partContact', contact, { name: 'Feed' }, { name: 'Relay' })
    expect(afterwards(data, doorways, renamed)).toEqual({ touched: 'all', differs: [true, true] })
  })

  test('the same setting in two positions', () => {
    const data = twoAlike()
    const doorways = doorwaysOf(data, options)
    data.apply([value('found')])
    doorways.changed([value('found')])
    const here = value('found')
    if (here.does !== 'add') throw new Error('no record')
    const there: Edit = {
      ...here,
      record: { ...here.record, id: 'there', fittingId: '102 S1', value: 'opens the feed' },
    }
    // In the position that the typical has: nothing is otherwise there, and it must not be taken for the one here.
    expect(afterwards(data, doorways, there).touched).toEqual(new Set(['102']))
  })

  test('a feed that goes on to the next opening', () => {
    const data = twoAlike()
    const ends = { fromOutputId: null, fromControllerId: null, toOutputId: null, toControllerId: null }
    const record = { ...data.get('run', 'on 101'), ...ends, id: 'onward', toFittingId: '102 R1' }
    data.apply([{ does: 'add', kind: 'run', record }])
    const doorways = doorwaysOf(data, options)
    const other = set('run', 'run 101', { fromOutputId: 'output 1' }, { fromOutputId: 'output 2' })
    expect(afterwards(data, doorways, other)).toEqual({
      touched: new Set(['101', '102']),
      differs: [true, true],
    })
  })

  test('whether the inactive leaf lies under the active one', () => {
    const data = twoAlike()
    for (const mark of ['101', '102']) {
      const leaf = data.get('leaf', `leaf ${mark}`)
      data.apply([
        set('leaf', `leaf ${mark}`, { role: 'only' }, { role: 'active' }),
        {
          does: 'add',
          kind: 'leaf',
          record: { ...leaf, id: `second ${mark}`, position: 1, role: 'inactive' },
        },
        ...data
          .referring('fitting', 'openingId', mark)
          .map(({ id }) => set('fitting', id, { leafId: null }, { leafId: `leaf ${mark}` })),
      ])
    }
    const doorways = doorwaysOf(data, options)
    const overlap: Edit = {
      does: 'add',
      kind: 'leafOverlap',
      record: { id: 'overlap', leafId: 'second 101', opensAfterActive: true },
    }
    expect(afterwards(data, doorways, overlap)).toEqual({
      touched: new Set(['101']),
      differs: [true, false],
    })
  })

  test('two fittings with one tag are told apart by their records, so nobody shares that doorway', () => {
    const data = twoAlike()
    for (const mark of ['101', '102'])
      data.apply([set('fitting', `${mark} B1`, { tag: null }, { tag: 'S1' })])
    const doorways = doorwaysOf(data, options)
    const now = readAnew(data)
    for (const opening of openingsOf(data)) expect(textOf(doorways.of(opening))).toBe(now.get(opening.id))
    expect(now.get('101')).not.toBe(now.get('102'))
  })

  test('a setting as found is nothing to what was designed', () => {
    const data = twoAlike()
    const doorways = doorwaysOf(data, { ...options, stage: 'designed' })
    const [one, two] = openingsOf(data)
    data.apply([value('found')])
    expect(doorways.of(one!)).toBe(doorways.of(two!))
  })
})

/** A lobby with two doors: 101 is the one that is looked at, 101B the other; `more` says what is wired. */
function lobby(typical: string, more: (list: RecordList) => void): JobData {
  const list = recordList(libraryRecords())
  list.add('building', { id: 'building', name: 'Main', position: 0 })
  list.add('level', { id: 'level', buildingId: 'building', name: 'Level 1', position: 0 })
  for (const [id, slug] of [
    ['101', typical],
    ['101B', 'storeroom'],
  ] as const) {
    list.add('opening', { id, levelId: 'level', mark: id, typicalId: typicalId(slug) })
    list.add('leaf', { id: `leaf ${id}`, openingId: id, position: 0, role: 'only' })
  }
  more(list)
  return jobDataOf(list.done())
}

const other = (list: RecordList, tag: string, part: string): JobRecord<'fitting'> =>
  list.add('fitting', {
    id: `other ${tag}`,
    openingId: '101B',
    position: 9,
    tag,
    partId: `part-${part}`,
    leftOut: false,
  })

const held = (list: RecordList, typical: string, tag: string): JobRecord<'fitting'> =>
  list.add('fitting', {
    id: `own ${tag}`,
    openingId: '101',
    position: 0,
    typicalFittingId: typicalFittingId(typical, tag),
    leftOut: false,
  })

function breaksFeed(list: RecordList, from: string, to: string, contact: string): void {
  list.add('link', {
    id: 'interlock',
    openingId: '101',
    fromFittingId: from,
    toFittingId: to,
    partContactId: contact,
    does: 'breaks feed of',
  })
}

function doorwayIn(data: JobData): Doorway {
  const opening = data.get('opening', '101')
  if (opening === undefined) throw new Error('no opening')
  const answer = doorwaysOf(data, { ...options, fireAlarmBatterySeconds: known(0) }).of(opening)
  if (!answer.ok) throw new Error('no doorway')
  return answer.doorway
}

describe('two-door interlock: the feed here goes through a contact of the other door (common practice, no source)', () => {
  const strikeBehindContact = lobby('strike-safe', (list) => {
    held(list, 'strike-safe', 'K1')
    other(list, 'C9', 'door-contact')
    breaksFeed(list, 'other C9', 'own K1', partContactId('door-contact', 'Leaf'))
  })
  const whileOpen = otherOpeningOpen('101B')

  test('the other door is shut unless a condition opens it', () => {
    const result = judge(doorwayIn(strikeBehindContact), secured)
    expect(inOut(result)).toBe('held / free by hw')
    expect(sentencesOf(result.in).join(' ')).not.toContain('101B')
  })

  test('what holds while fed lets go while the other door is open, and the reason names that door', () => {
    const result = judge(doorwayIn(strikeBehindContact), whileOpen)
    expect(inOut(result)).toBe('free / free by hw')
    expect(sentencesOf(result.in)).toContain(
      'While 101B is open door contact C9 of 101B opens the feed of strike K1.',
    )
  })

  test('the condition is offered beside the others, alone and together', () => {
    const doorway = doorwayIn(strikeBehindContact)
    expect(inOut(judge(doorway, together(whileOpen, fireAlarm)))).toBe('free / free by hw')
    expect(doorway.devices.map(({ name }) => name)).toContain('door contact C9 of 101B')
  })

  test('a button of the other door that breaks this feed is worked as it is declared', () => {
    const data = lobby('strike-safe', (list) => {
      held(list, 'strike-safe', 'K1')
      other(list, 'B9', 'manual-release')
      breaksFeed(list, 'other B9', 'own K1', partContactId('manual-release', 'Feed'))
    })
    const doorway = doorwayIn(data)
    const button = doorway.devices.find(({ id }) => id === '101B B9')
    expect(button).toMatchObject({ name: 'manual release B9 of 101B', workedAs: 'manual release' })
    const pressed = {
      name: 'manual release',
      of: null,
      parts: [],
      happenings: [{ what: 'worked', device: '101B B9' }],
    } as const
    expect(inOut(judge(doorway, pressed))).toBe('free / free by hw')
  })

  test('a fitting of the other door that is left out breaks nothing; a new mark of that door is said here', () => {
    const data = strikeBehindContact
    const doorways = doorwaysOf(data, options)
    const opening = data.get('opening', '101')!
    doorways.of(opening)
    const rename: Edit[] = [
      { does: 'set', kind: 'opening', id: '101B', from: { mark: '101B' }, to: { mark: '102' } },
    ]
    data.apply(rename)
    expect(doorways.changed(rename)).toEqual(new Set(['101', '101B']))
    expect(doorwayIn(data).devices.map(({ name }) => name)).toContain('door contact C9 of 102')
    const leaveOut: Edit[] = [
      { does: 'set', kind: 'fitting', id: 'other C9', from: { leftOut: false }, to: { leftOut: true } },
    ]
    data.apply(leaveOut)
    expect(doorways.changed(leaveOut)).toEqual(new Set(['101', '101B']))
    expect(
      doorwayIn(data)
        .devices.map(({ name }) => name)
        .join(),
    ).not.toContain('door contact C9')
  })
})
