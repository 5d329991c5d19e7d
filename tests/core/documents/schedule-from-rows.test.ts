import { beforeAll, describe, expect, test } from 'vitest'
import {
  dayWords,
  printedSchedule,
  type DocumentBlocks,
  type TableBlock,
} from '../../../core/documents/index.ts'
import { asId } from '../../../core/job/index.ts'
import type { RowGroup, ScheduleFrame, ScheduleRow } from '../../../core/schedule/index.ts'

const row = (mark: string, more: Partial<ScheduleRow> = {}): ScheduleRow => ({
  id: asId(mark),
  buildingId: asId('b1'),
  levelId: asId('l1'),
  mark,
  where: 'Pharmacy store',
  whereIsOwn: true,
  toRoom: '',
  fromRoom: '',
  leaves: 1,
  widthMicrometres: 914_400,
  heightMicrometres: 2_133_600,
  thicknessMicrometres: null,
  hand: 'LHR',
  doorMaterial: 'HM',
  frameMaterial: 'HM',
  fireLabelMinutes: 0,
  fireLabelClass: null,
  doorType: null,
  hardwareSet: null,
  typicalId: asId('t1'),
  typicalName: 'Magnet and sensor',
  furnishedBy: 'Integrator',
  fittedBy: 'Integrator',
  wiredBy: null,
  terminatedBy: null,
  ownTrades: [],
  differing: 0,
  serial: null,
  assetTag: null,
  installedOn: null,
  notes: null,
  sourceFile: null,
  sourcePlace: null,
  ...more,
})

const frame: ScheduleFrame = {
  job: {
    name: 'Harrow Street Clinic',
    number: null,
    client: null,
    address: null,
    preparedBy: null,
    units: 'imperial',
    dateForm: 'local',
    scheduleIssue: 'Issue 2',
    scheduleDate: '2026-03-03',
    buildingCode: null,
  },
  buildings: [
    { id: asId('b1'), name: 'Main building' },
    { id: asId('b2'), name: 'Annexe' },
  ],
  levels: [],
  typicals: [],
}

const groups: RowGroup[] = [
  {
    key: 'l1',
    title: 'Main building, Level 1',
    rows: [
      row('101'),
      row('102', {
        hand: null,
        widthMicrometres: null,
        heightMicrometres: null,
        typicalId: null,
        typicalName: null,
      }),
      row('103', { ownTrades: ['fittedBy'], differing: 2, fireLabelMinutes: 90 }),
    ],
  },
]

describe('the job’s schedule as its document', () => {
  let document: DocumentBlocks
  let table: TableBlock
  beforeAll(() => {
    document = printedSchedule({
      frame,
      groups,
      columns: ['mark', 'size', 'hand', 'label', 'typical', 'fitted'],
    })
    table = document.blocks.find((each): each is TableBlock => each.form === 'table') as TableBlock
  })

  test('cells say what the screen says', () => {
    expect(table.groups[0]?.rows[0]?.cells).toEqual([
      '101',
      '3-0 × 7-0',
      'LHR',
      'none',
      'Magnet and sensor',
      'Integrator',
    ])
  })

  test.each([
    ['a row with every fact', 0, {}],
    ['missing facts', 1, { size: 'not known', hand: 'not known', typical: 'not known' }],
    ['differences made on purpose', 2, { fitted: 'own', typical: 'own' }],
  ])('marks: %s', (_, at, marks) => expect(table.groups[0]?.rows[at]?.marks).toEqual(marks))

  test('levels stand under their building', () => expect(table.groups[0]?.within).toBe('Main building'))

  test('the issue and its date are the job’s', () => {
    expect(document.facts).toMatchObject({ issueName: 'Issue 2', dateText: '3 March 2026' })
  })

  test.each([
    ['2026-03-03', 'iso', '2026-03-03'],
    ['2026-11-25', 'local', '25 November 2026'],
    ['soon', 'local', 'soon'],
  ] as const)('%s as %s is %s', (day, form, words) => expect(dayWords(day, form)).toBe(words))
})
