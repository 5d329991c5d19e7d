// Things side by side: parts, or typicals, with what differs.
import type { JobData, JobRecord, Units } from '../job/index.ts'
import { writeLength } from '../job/index.ts'
import { partRecords, type PartRecords } from './part-records.ts'
import { amount, doesWords, effectWords, elementWords, voltsWords, workedAsWords } from './words.ts'

export interface ComparedRow {
  readonly name: string
  /** One for each thing compared; null where it has nothing of the kind. */
  readonly values: readonly (string | null)[]
  readonly differs: boolean
}

export interface ComparedSection {
  readonly title: string
  readonly rows: readonly ComparedRow[]
}

/** Sections of one thing: titles with named values, in order. */
export type Described = readonly {
  readonly title: string
  readonly values: readonly (readonly [string, string | null])[]
}[]

/** Lays descriptions side by side: rows of one name stand in one line, in the order in which they are first named. */
export function sideBySide(described: readonly Described[]): readonly ComparedSection[] {
  const titles = [...new Set(described.flatMap((each) => each.map(({ title }) => title)))]
  return titles.flatMap((title) => {
    const maps = described.map((each) => new Map(each.find((section) => section.title === title)?.values))
    const names = [...new Set(maps.flatMap((each) => [...each.keys()]))]
    const rows = names.map((name): ComparedRow => {
      const values = maps.map((each) => each.get(name) ?? null)
      return { name, values, differs: new Set(values).size > 1 }
    })
    return rows.length === 0 ? [] : [{ title, rows }]
  })
}

/** Compares parts of a job; those that are gone are left out. */
export function compareParts(data: JobData, partIds: readonly string[]): readonly ComparedSection[] {
  const units = data.job.units
  return sideBySide(partIds.flatMap((id) => describePart(partRecords(data, id), units)))
}

/** A part in named values; nothing where there is no part. */
function describePart(of: PartRecords | null, units: Units): Described[] {
  const [part] = of?.part ?? []
  if (of === null || part === undefined) return []
  return [
    [
      {
        title: 'Part',
        values: [
          ['Kind', part.kind],
          ['Model', part.model],
          ['Description', part.description],
          ['Warranty', part.warrantyMonths === null ? null : `${part.warrantyMonths} months`],
          ['Notes', part.notes],
        ],
      },
      { title: 'What it does', values: doings(of) },
      { title: 'Contacts', values: of.partContact.map((each) => [each.name, contactWords(of, each)]) },
      { title: 'Settings', values: settings(of) },
      { title: 'Electrical', values: electrical(of) },
      { title: 'Size and place', values: sizes(of, units) },
      {
        title: 'Preparation',
        values: of.partPattern.map((pattern) => [
          pattern.name,
          `${of.partHole.filter(({ partPatternId }) => partPatternId === pattern.id).length} holes in ${pattern.substrate}`,
        ]),
      },
    ],
  ]
}

function doings(of: PartRecords): (readonly [string, string | null])[] {
  const [declared] = of.partBehaviour
  return [
    ['In short', doesWords(of)],
    ...of.partHardware.map(({ name, side, motion }) => [`Hand: ${name}`, `${motion}, ${side} side`] as const),
    ...of.partElement.map((each) => [`Holds: ${each.name}`, elementWords(each)] as const),
    ['Worked', declared?.workedAs == null ? null : workedAsWords[declared.workedAs]],
    ['Worked with', declared?.workedWith ?? null],
    ['Power of its contacts', declared?.power ?? null],
    ['Listed to', declared?.listedAs?.join(', ') ?? null],
  ]
}

export function contactWords(of: PartRecords, contact: JobRecord<'partContact'>): string {
  const states = of.partContactState
    .filter(({ partContactId }) => partContactId === contact.id)
    .toSorted((one, other) => (one.circumstance < other.circumstance ? -1 : 1))
    .map(({ circumstance, closed }) => `${circumstance}: ${closed ? 'closed' : 'open'}`)
  const timing = of.partContactTiming.find(({ partContactId }) => partContactId === contact.id)
  const lasts =
    timing === undefined
      ? []
      : [
          timing.lasts === 'seconds'
            ? timing.seconds === null
              ? 'for the seconds that are set'
              : `for ${timing.seconds} s`
            : timing.lasts,
        ]
  return [contact.form, ...states, ...lasts].join('; ')
}

function settings(of: PartRecords): (readonly [string, string | null])[] {
  return [
    ...of.partSetting.map((setting) => {
      const positions = of.partPosition
        .filter(({ partSettingId }) => partSettingId === setting.id)
        .map((each) => {
          const effects = of.settingEffect
            .filter(({ partPositionId }) => partPositionId === each.id)
            .map((effect) => effectWords(of, effect))
          const meaning = [each.meaning ?? '', ...effects].filter((words) => words !== '').join(', ')
          return `${each.name}${each.factory ? ' (factory)' : ''}${meaning === '' ? '' : `: ${meaning}`}`
        })
      return [setting.name, `${setting.form}; ${positions.join('; ')}`] as const
    }),
    ...of.partSettingTable.map(
      (table) =>
        [
          `${table.name} together`,
          of.partSettingTableRow
            .filter(({ partSettingTableId }) => partSettingTableId === table.id)
            .map(({ when, meaning }) => `${Object.values(when).join(', ')}: ${meaning}`)
            .join('; '),
        ] as const,
    ),
  ]
}

function electrical(of: PartRecords): (readonly [string, string | null])[] {
  const [part] = of.part
  if (part === undefined) return []
  const known = (words: string): string | null => (words === '—' ? null : words)
  return [
    ['Works at', known(voltsWords(part.minimumVolts, part.maximumVolts))],
    ['Load', part.loadForm],
    ['Holding', known(amount(part.holdingAmps, 'A'))],
    ['In-rush', known(amount(part.inrushAmps, 'A'))],
    ['In-rush lasts', known(amount(part.inrushSeconds, 's'))],
    ...of.partLoad.map((load) => {
      const position = of.partPosition.find(({ id }) => id === load.partPositionId)
      return [
        position === undefined ? 'In every position' : `At ${position.name}`,
        [
          `${amount(load.holdingAmps, 'A')} at ${amount(load.statedVolts, 'V')}`,
          `in-rush ${amount(load.inrushAmps, 'A')}`,
          voltsWords(load.minimumVolts, load.maximumVolts),
          load.draws ?? 'draws as the doorway does',
        ].join('; '),
      ] as const
    }),
    ...of.partNetworkFeed.map(
      ({ feedClass, watts }) =>
        ['Over the network cable', `class ${feedClass ?? '—'}, ${amount(watts, 'W')}`] as const,
    ),
  ]
}

function sizes(of: PartRecords, units: Units): (readonly [string, string | null])[] {
  const long = (micrometres: number | null): string =>
    micrometres === null ? '—' : writeLength(micrometres, units, { style: 'inches' })
  return [
    ...of.partBody.map(
      (body) =>
        [
          `Body: ${body.name}`,
          [body.widthMicrometres, body.heightMicrometres, body.depthMicrometres].map(long).join(' x '),
        ] as const,
    ),
    ...of.placement.map(
      ({ place, side, heightMicrometres }) =>
        [
          'Goes on',
          [
            place ?? '—',
            side === null ? '' : `${side} side`,
            heightMicrometres === null ? '' : `at ${long(heightMicrometres)}`,
          ]
            .filter((each) => each !== '')
            .join(', '),
        ] as const,
    ),
  ]
}
