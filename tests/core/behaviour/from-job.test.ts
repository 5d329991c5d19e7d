// Openings of a job, from the records of the starter library and what its parts declare, to what they do.
import { describe, expect, test } from 'vitest'
import {
  batteryFromRecord,
  behaviourMemo,
  declaredParts,
  doorwayOf,
  fireAlarm,
  judge,
  known,
  mainsLost,
  noPower,
  doorwayProblemSentence,
  secured,
  sensorLost,
  sentencesOf,
  unknown,
  type Condition,
  type Doorway,
  type DoorwayOptions,
} from '../../../core/behaviour/index.ts'
import type { JobData } from '../../../core/job/index.ts'
import { demoRecords } from '../../../fixtures/demo/index.ts'
import {
  libraryRecords,
  partContactId,
  typicalFittingId,
  typicalId,
  typicals,
} from '../../../fixtures/parts-library/index.ts'
import { jobDataOf, recordList, type RecordList } from '../../../fixtures/record-list.ts'
import { doneBy, inOut, latchedInShort } from './arrangements.ts'
import { libraryDeclarations } from '../../../fixtures/parts-library/index.ts'

const options: DoorwayOptions = {
  declared: declaredParts(libraryDeclarations),
  stage: 'designed',
  batterySeconds: batteryFromRecord,
  fireAlarmBatterySeconds: known(86_400),
}

/** One opening of a typical, without runs; `more` adds records of its own. */
function openingOf(typical: string | null, more: (list: RecordList) => void = () => {}): JobData {
  const list = recordList(libraryRecords())
  list.add('building', { id: 'building', name: 'Main', position: 0 })
  list.add('level', { id: 'level', buildingId: 'building', name: 'Level 1', position: 0 })
  list.add('opening', {
    id: 'opening',
    levelId: 'level',
    mark: '101',
    typicalId: typical === null ? null : typicalId(typical),
  })
  const two = typicals.find(({ slug }) => slug === typical)?.leaves === 2
  for (const [position, role] of (two ? (['active', 'inactive'] as const) : (['only'] as const)).entries())
    list.add('leaf', { id: role, openingId: 'opening', position, role })
  more(list)
  return jobDataOf(list.done())
}

function doorwayIn(data: JobData, with_: Partial<DoorwayOptions> = {}): Doorway {
  const opening = data.get('opening', 'opening')
  if (opening === undefined) throw new Error('no opening')
  const answer = doorwayOf(data, opening, { ...options, ...with_ })
  if (!answer.ok) throw new Error(answer.problems.map(doorwayProblemSentence).join(' '))
  return answer.doorway
}

const lost = sensorLost({ id: 'S1', name: 'exit sensor S1' })

describe('the starter library’s typicals, without runs: the battery is a question (common practice, no source)', () => {
  const rows: readonly (readonly [string, Readonly<Record<string, string>>])[] = [
    [
      'magnet-sensor',
      {
        secured: 'held / held',
        S1: 'free / free',
        B1: 'free / free',
        R1: 'free / free',
        alarm: 'free / free',
        'S1 lost': 'free / free',
        'mains lost': 'not known / not known',
        'no power': 'free / free',
        latch: 'not latched',
      },
    ],
    [
      'strike-secure',
      { secured: 'held / free by hw', R1: 'free / free by hw', alarm: 'held / free by hw', latch: 'latched' },
    ],
    [
      'strike-safe',
      {
        secured: 'held / free by hw',
        alarm: 'free / free by hw',
        'mains lost': 'not known / free by hw',
        latch: 'not latched',
      },
    ],
    [
      'stair-re-entry',
      {
        secured: 'held / free by hw',
        L1: 'held / free by hw',
        alarm: 'free by hw / free by hw',
        'no power': 'free by hw / free by hw',
        latch: 'latched',
      },
    ],
    ['lever-safe', { secured: 'held / free by hw', alarm: 'free by hw / free by hw', latch: 'latched' }],
    [
      'records',
      { secured: 'held / free by hw', R1: 'free by hw / free by hw', 'no power': 'held / free by hw' },
    ],
    [
      'exit-retraction',
      { secured: 'held / free by hw', R1: 'free / free', alarm: 'held / free by hw', latch: 'latched' },
    ],
    [
      'delayed-exit',
      {
        secured: 'held / waits 15 s',
        Y1: 'held / free by hw',
        alarm: 'held / free by hw',
        'no power': 'held / free by hw',
        latch: 'latched',
      },
    ],
    ['hold-open-pair', { secured: 'free / free', alarm: 'free by hw / free by hw', latch: 'latched' }],
    ['operator-pair', { secured: 'held / free by hw', R1: 'free / free', P1: 'free / free' }],
    ['storeroom', { secured: 'held / free by hw', alarm: 'held / free by hw', latch: 'latched' }],
    ['lobby-pair', { secured: 'held / free by hw', S1: 'free / free' }],
    ['magnet-lever', { secured: 'held / free by hw', alarm: 'held / free by hw', latch: 'latched' }],
    [
      'delayed-magnet',
      { secured: 'held / waits 15 s', Y1: 'free / free', alarm: 'free / free', 'no power': 'free / free' },
    ],
    ['shear-pair', { secured: 'held / held', S1: 'free / free', B1: 'free / free', alarm: 'free / free' }],
    ['stair-exit-trim', { secured: 'held / free by hw', alarm: 'free by hw / free by hw', latch: 'latched' }],
    ['exit-strike', { secured: 'held / free by hw', R1: 'free / free by hw', latch: 'latched' }],
    ['exit-retraction-pair', { secured: 'held / free by hw', R1: 'free / free', latch: 'latched' }],
    ['lever-secure', { secured: 'held / free by hw', 'no power': 'held / free by hw', latch: 'latched' }],
    ['interlock-bolt', { secured: 'held / held', P1: 'free / free', alarm: 'free / free' }],
    ['ward-staff', { secured: 'held / held', N1: 'free / free', alarm: 'free / free' }],
  ]
  const named: Readonly<Record<string, Condition>> = {
    secured,
    alarm: fireAlarm,
    'mains lost': mainsLost,
    'no power': noPower,
    'S1 lost': lost,
  }
  test.each(rows)('%s', (typical, expected) => {
    const doorway = doorwayIn(openingOf(typical))
    const found = Object.keys(expected).map((words) => [
      words,
      words === 'latch'
        ? latchedInShort(judge(doorway, fireAlarm))
        : inOut(judge(doorway, named[words] ?? doneBy(words))),
    ])
    expect(Object.fromEntries(found)).toEqual(expected)
  })

  test('every typical of the library is looked at', () => {
    expect(rows.map(([typical]) => typical).toSorted()).toEqual(typicals.map(({ slug }) => slug).toSorted())
  })
})

const own =
  (tag: string) =>
  (list: RecordList, fields: object = {}) =>
    list.add('fitting', {
      id: `fitting-${tag}`,
      openingId: 'opening',
      typicalFittingId: typicalFittingId('magnet-sensor', tag),
      position: 0,
      leftOut: false,
      ...fields,
    })

describe('what an opening changes on purpose shows in what it does', () => {
  test('a fitting left out takes its contacts along', () => {
    const doorway = doorwayIn(openingOf('magnet-sensor', (list) => own('F1')(list, { leftOut: true })))
    const result = judge(doorway, fireAlarm)
    expect(inOut(result)).toBe('held / held')
    expect(sentencesOf(result.out)[0]).toBe('Nothing that the fire alarm works reaches magnet M1.')
  })

  test('a jumper set otherwise here: as designed and as found differ', () => {
    const data = openingOf('magnet-sensor', (list) => {
      own('S1')(list)
      list.add('settingValue', {
        id: 'found',
        fittingId: 'fitting-S1',
        partSettingId: 'setting-exit-sensor-power-lost',
        stage: 'found',
        value: 'keeps the feed',
      })
    })
    expect(inOut(judge(doorwayIn(data), lost))).toBe('free / free')
    const asFound = judge(doorwayIn(data, { stage: 'found' }), lost)
    expect(inOut(asFound)).toBe('held / held')
    expect(sentencesOf(asFound.out)).toContain(
      'Exit sensor S1 has lost its own power and keeps the feed of magnet M1 (Power lost at ‘keeps the feed’).',
    )
  })

  test('a setting that nobody told is a question, not the factory position', () => {
    const data = openingOf(null, (list) => {
      list.add('fitting', {
        id: 'f',
        openingId: 'opening',
        position: 0,
        tag: 'L1',
        partId: 'part-lever-lock-fail-safe',
        leftOut: false,
      })
    })
    const result = judge(doorwayIn(data), secured)
    expect(inOut(result)).toBe('not known / free by hw')
    expect(sentencesOf(result.in)).toContain('Not known: How is Mode of lever lock L1 set?')
  })

  test('a part that nobody declared may hold', () => {
    const declared = declaredParts({ ...libraryDeclarations, parts: [] })
    const result = judge(doorwayIn(openingOf('storeroom'), { declared }), secured)
    expect(inOut(result)).toBe('not known / not known')
    expect(sentencesOf(result.out)).toContain('Not known: Which part is lever lock, mechanical L1?')
  })

  test('a link of the opening’s own counts beside those of its typical', () => {
    const data = openingOf('strike-safe', (list) => {
      for (const [tag, part] of [['B9', 'part-manual-release']] as const)
        list.add('fitting', { id: tag, openingId: 'opening', position: 9, tag, partId: part, leftOut: false })
      list.add('fitting', {
        id: 'K',
        openingId: 'opening',
        position: 0,
        typicalFittingId: typicalFittingId('strike-safe', 'K1'),
        leftOut: false,
      })
      list.add('link', {
        id: 'link-b9',
        openingId: 'opening',
        fromFittingId: 'B9',
        toFittingId: 'K',
        partContactId: partContactId('manual-release', 'Feed'),
        does: 'breaks feed of',
      })
    })
    expect(inOut(judge(doorwayIn(data), doneBy('B9')))).toBe('free / free by hw')
  })

  test('the supply at the end of the runs is named, and its battery is asked of the power results', () => {
    const data = openingOf('magnet-sensor', (list) => {
      own('M1')(list)
      list.add('supply', { id: 's', mark: 'PS7', position: 0, batteryAmpHours: 7 })
      list.add('output', { id: 'o', supplyId: 's', position: 0, name: '1' })
      list.add('run', { id: 'r', name: 'feed', position: 0, fromOutputId: 'o', toFittingId: 'fitting-M1' })
    })
    expect(sentencesOf(judge(doorwayIn(data), secured).out)).toContain(
      'Magnet M1 is fed from PS7 and holds both ways.',
    )
    expect(sentencesOf(judge(doorwayIn(data), mainsLost).out)).toContain(
      'Not known: How long does the battery of PS7 last?',
    )
  })
})

describe('what cannot be judged is said', () => {
  test.each([
    ['no fittings', openingOf(null), 'This opening has no fittings yet, so what it does is not known.'],
    [
      'a pair whose fittings have no leaf',
      openingOf('hold-open-pair'),
      ['H1', 'H2', 'D1', 'D2', 'X1', 'X2'].map((tag) => `On which leaf is ${tag}?`).join(' '),
    ],
  ])('%s', (_name, data, sentence) => {
    const opening = data.get('opening', 'opening')!
    const declared = declaredParts({ ...libraryDeclarations, slotLeaves: [] })
    const answer = doorwayOf(data, opening, { ...options, declared })
    expect(answer.ok ? '' : answer.problems.map(doorwayProblemSentence).join(' ')).toBe(sentence)
  })
})

test('every opening of the demo job gets a doorway or a sentence, and no doorway refers to nothing', () => {
  const data = jobDataOf(demoRecords())
  const memo = behaviourMemo()
  const withAlarmNotKnown = {
    ...options,
    fireAlarmBatterySeconds: unknown({ about: 'battery', thing: 'the fire alarm system' }),
  }
  let judged = 0
  for (const opening of data.all('opening')) {
    const answer = doorwayOf(data, opening, withAlarmNotKnown)
    if (!answer.ok) {
      for (const problem of answer.problems) expect(doorwayProblemSentence(problem)).toMatch(/[.?]$/)
      continue
    }
    judged += 1
    expect(memo(answer.doorway).results.length).toBeGreaterThan(5)
  }
  console.log(`demo job: ${judged} of ${data.count('opening')} openings judged`)
  expect(judged).toBeGreaterThan(100)
})
