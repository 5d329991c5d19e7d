// What the records say of a controller's relays and inputs, so that a wrong one shows in what the doorway does.
import { describe, expect, test } from 'vitest'
import {
  batteryFromRecord,
  controllerSilent,
  declaredParts,
  doorwayOf,
  doorwaysOf,
  judge,
  known,
  openHours,
  secured,
  worked,
  type Condition,
  type Doorway,
} from '../../../core/behaviour/index.ts'
import { addRecord, setFields, type JobData } from '../../../core/job/index.ts'
import {
  libraryDeclarations,
  libraryRecords,
  partContactId,
  typicalFittingId,
  typicalId,
} from '../../../fixtures/parts-library/index.ts'
import { jobDataOf, recordList, type RecordList, type SparseRecord } from '../../../fixtures/record-list.ts'
import { inOut } from './arrangements.ts'

const options = {
  stage: 'designed',
  batterySeconds: batteryFromRecord,
  fireAlarmBatterySeconds: known(86_400),
} as const

/** One opening whose lock (and reader or sensor) have records, at a controller with one output and one input. */
function jobWith(
  typical: string,
  lockTag: string,
  relay: Partial<SparseRecord<'pointRelay'>> | null,
  more: (list: RecordList) => void = () => {},
): JobData {
  const list = recordList(libraryRecords())
  list.add('building', { id: 'building', name: 'Main', position: 0 })
  list.add('level', { id: 'level', buildingId: 'building', name: 'Level 1', position: 0 })
  for (const id of ['opening', 'twin']) {
    list.add('opening', { id, levelId: 'level', mark: id, typicalId: typicalId(typical) })
    list.add('leaf', { id: `leaf-${id}`, openingId: id, position: 0, role: 'only' })
    list.add('controller', { id: `controller-${id}`, mark: `AC ${id}`, position: 0 })
    list.add('fitting', {
      id: `lock-${id}`,
      openingId: id,
      typicalFittingId: typicalFittingId(typical, lockTag),
      position: 0,
      leftOut: false,
    })
    list.add('point', {
      id: `output-${id}`,
      controllerId: `controller-${id}`,
      position: 0,
      name: 'lock',
      direction: 'output',
      fittingId: `lock-${id}`,
    })
  }
  if (relay !== null) list.add('pointRelay', { id: 'relay', pointId: 'output-opening', ...relay })
  more(list)
  return jobDataOf(list.done())
}

function doorwayIn(data: JobData): Doorway {
  const opening = data.get('opening', 'opening')
  if (opening === undefined) throw new Error('no opening')
  const answer = doorwayOf(data, opening, { ...options, declared: declaredParts(libraryDeclarations) })
  if (!answer.ok) throw new Error('no doorway')
  return answer.doorway
}

const credential = (doorway: Doorway): Condition => {
  const reader = doorway.devices.find(({ workedAs }) => workedAs === 'credential')
  if (reader?.workedAs == null) throw new Error('no reader')
  return worked({ ...reader, workedAs: reader.workedAs })
}
const passages = (doorway: Doorway, condition: Condition): string => inOut(judge(doorway, condition))

describe('a relay as the records say it (common practice, no source)', () => {
  // In / out while secured, with a credential, in open hours, and with a silent controller.
  test.each<
    [
      string,
      string,
      string,
      Partial<SparseRecord<'pointRelay'>> | null,
      readonly [string, string, string, string],
    ]
  >([
    [
      'a strike that holds without power, nothing said',
      'strike-secure',
      'K1',
      null,
      ['held / free by hw', 'free / free by hw', 'free / free by hw', 'held / free by hw'],
    ],
    [
      'its relay normally open, energised to release',
      'strike-secure',
      'K1',
      { contact: 'normally open', energised: 'to release' },
      ['held / free by hw', 'free / free by hw', 'free / free by hw', 'held / free by hw'],
    ],
    [
      'its relay normally closed by mistake: fed, and so free, until a credential',
      'strike-secure',
      'K1',
      { contact: 'normally closed', energised: 'to release' },
      ['free / free by hw', 'held / free by hw', 'held / free by hw', 'free / free by hw'],
    ],
    [
      'its relay energised to hold, with the contact for that',
      'strike-secure',
      'K1',
      { contact: 'normally closed', energised: 'to hold' },
      ['held / free by hw', 'free / free by hw', 'free / free by hw', 'free / free by hw'],
    ],
    [
      'energised to hold, form not said: the right form is taken',
      'strike-secure',
      'K1',
      { energised: 'to hold' },
      ['held / free by hw', 'free / free by hw', 'free / free by hw', 'free / free by hw'],
    ],
    [
      'not released in open hours',
      'strike-secure',
      'K1',
      { releasedInOpenHours: false },
      ['held / free by hw', 'free / free by hw', 'held / free by hw', 'held / free by hw'],
    ],
    [
      'a strike that holds while fed, its relay normally open by mistake',
      'strike-safe',
      'K1',
      { contact: 'normally open' },
      ['free / free by hw', 'held / free by hw', 'held / free by hw', 'free / free by hw'],
    ],
  ])('%s', (_what, typical, tag, relay, expected) => {
    const doorway = doorwayIn(jobWith(typical, tag, relay))
    expect([
      passages(doorway, secured),
      passages(doorway, credential(doorway)),
      passages(doorway, openHours),
      passages(doorway, controllerSilent),
    ]).toEqual(expected)
  })

  test('its unlock time is told with the release', () => {
    const doorway = doorwayIn(jobWith('strike-secure', 'K1', { unlockSeconds: 5 }))
    expect(doorway.controllers[0]?.outputs[0]?.releaseSeconds).toMatchObject({ known: true, value: 5 })
  })
})

describe('an input as the records say it', () => {
  const input = (terms: Partial<SparseRecord<'pointTerms'>>) => (list: RecordList) => {
    list.add('fitting', {
      id: 'sensor',
      openingId: 'opening',
      typicalFittingId: typicalFittingId('magnet-sensor', 'S1'),
      position: 1,
      leftOut: false,
    })
    list.add('point', {
      id: 'input',
      controllerId: 'controller-opening',
      position: 1,
      name: 'exit',
      direction: 'input',
      fittingId: 'sensor',
      partContactId: partContactId('exit-sensor', 'Signal'),
    })
    list.add('pointTerms', { id: 'terms', pointId: 'input', ...terms })
  }
  const asked = (terms: Partial<SparseRecord<'pointTerms'>>): string[] =>
    doorwayIn(jobWith('magnet-sensor', 'M1', null, input(terms)))
      .controllers.flatMap(({ outputs }) => outputs)
      .flatMap(({ orders }) => orders)
      .flatMap((order) =>
        order.on === 'input' && order.device === 'S1' && order.asksWhen.known ? [order.asksWhen.value] : [],
      )

  test('asks in the state that it does not take for normal', () => {
    const as = asked({})
    expect(as.length).toBeGreaterThan(0)
    expect(asked({ normally: 'open' })).toEqual(as.map(() => 'closed'))
    expect(asked({ normally: 'closed' })).toEqual(as.map(() => 'open'))
  })
})

describe('openings told apart by what is said of their points', () => {
  test('a relay set otherwise reaches its own opening, and no other', () => {
    const data = jobWith('strike-secure', 'K1', null)
    const doorways = doorwaysOf(data, options)
    const [one, other] = [...data.all('opening')]
    if (one === undefined || other === undefined) throw new Error('no openings')
    const isFreeSecured = (opening: typeof one): string => {
      const answer = doorways.of(opening)
      if (!answer.ok) throw new Error('no doorway')
      return inOut(judge(answer.doorway, secured))
    }
    expect([isFreeSecured(one), isFreeSecured(other)]).toEqual(['held / free by hw', 'held / free by hw'])
    const add = addRecord('pointRelay', {
      id: 'relay',
      pointId: 'output-opening',
      contact: 'normally closed',
      energised: null,
      releasedInOpenHours: null,
      unlockSeconds: null,
    } as never)
    data.apply([add])
    expect([...(doorways.changed([add]) as ReadonlySet<string>)]).toEqual(['opening'])
    expect([isFreeSecured(one), isFreeSecured(other)]).toEqual(['free / free by hw', 'held / free by hw'])
    const relay = data.get('pointRelay', 'relay')
    const set = relay === undefined ? null : setFields('pointRelay', relay, { contact: 'normally open' })
    if (set === null) throw new Error('nothing to set')
    data.apply([set])
    expect([...(doorways.changed([set]) as ReadonlySet<string>)]).toEqual(['opening'])
    expect(isFreeSecured(one)).toBe('held / free by hw')
  })
})
