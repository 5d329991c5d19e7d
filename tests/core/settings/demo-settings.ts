// The demo job with what a setting changes declared on some of its parts, for tests.
import { demoRecords } from '../../../fixtures/demo/index.ts'
import { partContactId } from '../../../fixtures/parts-library/index.ts'
import { jobDataOf, recordList, slug } from '../../../fixtures/record-list.ts'
import { recordKinds, type JobData, type JobRecord, type Stage } from '../../../core/job/index.ts'

type Changes = JobRecord<'settingEffect'>['changes']

/** Part, setting, contact, what it changes, and the value of each position. */
const onPositions: readonly [string, string, string, Changes, Readonly<Record<string, string>>][] = [
  [
    'exit-sensor',
    'Hold time',
    'Feed',
    'lasts seconds',
    { '0.5 s': '0.5', '2 s': '2', '5 s': '5', '10 s': '10', '30 s': '30' },
  ],
  [
    'exit-sensor',
    'Hold time',
    'Signal',
    'lasts seconds',
    { '0.5 s': '0.5', '2 s': '2', '5 s': '5', '10 s': '10', '30 s': '30' },
  ],
  ['exit-sensor', 'Contact', 'Feed', 'turned round', { 'opens on motion': 'no', 'closes on motion': 'yes' }],
  [
    'exit-sensor',
    'Power lost',
    'Feed',
    'without power',
    { 'opens the feed': 'open', 'keeps the feed': 'closed' },
  ],
  [
    'manual-release',
    'Release time',
    'Feed',
    'lasts seconds',
    { '15 s': '15', '30 s': '30', '45 s': '45', '60 s': '60' },
  ],
]

/** Bank rows of the delayed exit device, in order; the last two declare no delay. */
const releaseDelays = ['15', '30'] as const

export function demoData(): JobData {
  // Without the library's own declarations, so that each test says what it rests on.
  const { settingEffect: _effects, partElement: _elements, ...rest } = demoRecords()
  const list = recordList(rest)
  list.add('partElement', {
    id: 'element-delay',
    partId: 'part-exit-device-delayed',
    position: 0,
    name: 'pad lock',
    grip: 'blocks hardware',
    drawnBy: [],
    blocks: [],
    delayStartedBy: [],
  })
  for (const [part, setting, contact, changes, positions] of onPositions)
    for (const [position, value] of Object.entries(positions))
      list.add('settingEffect', {
        id: `effect-${part}-${slug(contact)}-${slug(setting)}-${slug(position)}`,
        partPositionId: `position-${part}-${slug(setting)}-${slug(position)}`,
        partContactId: partContactId(part, contact),
        changes,
        value,
      })
  for (const [row, value] of releaseDelays.entries())
    list.add('settingEffect', {
      id: `effect-delay-${row}`,
      partSettingTableRowId: `table-exit-device-delayed-release-delay-${row + 1}`,
      partElementId: 'element-delay',
      changes: 'delay seconds',
      value,
    })
  return jobDataOf(list.done())
}

/** The same records put in the other way round. */
export function turnedRound(data: JobData): JobData {
  const records = Object.fromEntries(recordKinds.map((kind) => [kind, [...data.all(kind)].toReversed()]))
  return jobDataOf(records as never)
}

let noted = 0

/** Notes a value of a fitting, as a file would hold it. */
export function note(
  data: JobData,
  of: { fittingId: string } | { typicalFittingId: string },
  partSettingId: string,
  stage: Stage,
  value: string,
  more: { at?: string; who?: string; visitId?: string } = {},
): void {
  noted += 1
  data.put('settingValue', {
    id: `noted-${noted}`,
    typicalFittingId: null,
    fittingId: null,
    ...of,
    partSettingId,
    stage,
    value,
    who: null,
    at: null,
    visitId: null,
    ...more,
  } as never)
}
