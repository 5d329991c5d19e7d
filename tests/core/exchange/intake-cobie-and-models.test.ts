import { describe, expect, test } from 'vitest'
import {
  proposeMarkSource,
  recogniseCobie,
  understandCobie,
  understandModel,
  type PlainSheet,
} from '../../../core/exchange/index.ts'
import { doorOf, modelOf, sheetOf } from './intake-fixtures.ts'

const named = (name: string, rows: Parameters<typeof sheetOf>[0]): PlainSheet => ({ ...sheetOf(rows), name })

// Sheets and columns: standards.md 12.1 (public template, USACE ERDC) [S142]; the people and places are invented.
const who = ['a.person@example.org', '2026-01-05T08:00:00']
const component = [
  'Name',
  'CreatedBy',
  'CreatedOn',
  'TypeName',
  'Space',
  'Description',
  'ExtSystem',
  'ExtObject',
  'ExtIdentifier',
  'SerialNumber',
  'InstallationDate',
  'TagNumber',
  'AssetIdentifier',
]
const attribute = ['Name', 'CreatedBy', 'CreatedOn', 'Category', 'SheetName', 'RowName', 'Value', 'Unit']
const workbook = (
  components: readonly (readonly string[])[],
  attributes: readonly (readonly string[])[],
  linearUnits = 'meters',
): PlainSheet[] => [
  named('Attribute', [
    attribute,
    ...attributes.map(([name = '', sheet = '', row = '', value = '', unit = '']) => [
      name,
      ...who,
      'Requirement',
      sheet,
      row,
      value,
      unit,
    ]),
  ]),
  named('Component', [
    component,
    ...components.map(([name = '', type = '', space = '', object = '', id = '', ...rest]) => [
      name,
      ...who,
      type,
      space,
      'A description',
      'A program',
      object,
      id,
      ...rest,
    ]),
  ]),
  named('Contact', [
    ['Email', 'CreatedBy'],
    ['a.person@example.org', 'a.person@example.org'],
  ]),
  named('Facility', [
    ['Name', 'LinearUnits'],
    ['Harrow Street Clinic', linearUnits],
  ]),
  named('Floor', [
    ['Name', 'ExtIdentifier', 'Elevation'],
    ['Level 1', 'f1', '0'],
    ['Level 2', 'n/a', '4.57'],
  ]),
  named('Space', [
    ['Name', 'FloorName', 'Description', 'ExtIdentifier'],
    ['1A03', 'Level 1', 'Office', 's1'],
    ['1AC5', 'Level 1', 'Corridor', 's2'],
    ['2A01', 'Level 2', 'n/a', 's3'],
    ['Plant, upper', 'Level 2', 'Plant', 's4'],
  ]),
  named('Type', [
    ['Name', 'Manufacturer', 'Material'],
    ['Door Type D ', 'maker@example.org', 'Wood'],
    ['Door Type E', 'n/a', 'Material'],
  ]),
]

const sheets = workbook(
  [
    ['Door 1A03', 'Door Type D', '1A03, 1AC5', 'IfcDoor', 'g1', '787', '2026-06-28T09:00:00', 'n/a', 'n/a'],
    ['Door 2', 'Door Type E', '1A03,2A01', 'IfcDoor', 'n/a', 'SerialNumber', 'InstallationDate', '-', 'T-9'],
    ['Cupboard door', 'Cupboard', '1A03', 'IfcFurniture', 'g3'],
    [' Door 3 ', 'door type e', 'Plant, upper', 'IfcDoorStandardCase', 'g4', 'TBC', 'n/a', 'TagNumber', ''],
    ['Door 4', 'Door Type E', 'Nowhere', 'IFCDOOR', 'g5'],
  ],
  [
    ['HardwareSet', 'Component', 'Door 1A03', '101', 'n/a'],
    ['Width', 'Component', 'door 1a03 ', '915', 'mm'],
    ['Height', 'Component', 'Door 1A03', '2.135', 'meters'],
    ['Thickness', 'Component', 'Door 1A03', '1 3/4', 'inches'],
    ['FireRating', 'Type', 'Door Type D', 'B', 'n/a'],
    ['FireRating', 'Component', 'Door 1A03', '90 min', 'n/a'],
    ['DoorFrame', 'Component', 'Door 1A03', 'STEEL', 'n/a'],
    ['InspectedBy', 'Component', 'Door 1A03', 'b.person@example.org', ''],
    ['Width', 'Component', 'Door 2', '94', 'mm'],
    ['Height', 'Component', 'Door 2', '2135', 'mm'],
    ['FireRating', 'Component', 'Door 2', 'None', ''],
    ['FireRating', 'Component', 'Door 3', 'FireRating', ''],
    ['Width', 'Space', 'Door 3', '915', 'mm'],
    ['Width', 'Component', 'Door 4', 'wide', 'mm'],
  ],
)

describe('COBie workbooks', () => {
  test('are recognised by their sheets, in any order; a schedule is not', () => {
    expect(recogniseCobie(sheets)).toBe(true)
    expect(recogniseCobie(sheets.toReversed())).toBe(true)
    expect(recogniseCobie([named('Component', [['Name', 'Width']]), named('Space', [['Name']])])).toBe(false)
    expect(recogniseCobie([named('Doors', [['Mark', 'Width']])])).toBe(false)
  })

  const understanding = understandCobie(sheets)

  test('doors are components whose ExtObject is a door, with all that the other sheets say of them', () => {
    const room = (number: string, name: string | null, level: string, sourceId: string) => ({
      number,
      name,
      level,
      sourceId,
    })
    expect(
      understanding.openings.map(({ row, building, level, fields }) => ({ row, building, level, fields })),
    ).toEqual([
      {
        row: 2,
        building: 'Harrow Street Clinic',
        level: 'Level 1',
        fields: {
          mark: 'Door 1A03',
          leaves: 1,
          widthMicrometres: 915_000,
          heightMicrometres: 2_135_000,
          thicknessMicrometres: 44_450,
          fireLabelMinutes: 90,
          fireLabelClass: null,
          doorType: 'Door Type D',
          frameMaterial: 'STEEL',
          hardwareSet: '101',
          doorMaterial: 'Wood',
          serial: '787',
          assetTag: null,
          installedOn: '2026-06-28',
          sourceId: 'g1',
          toRoom: room('1A03', 'Office', 'Level 1', 's1'),
          fromRoom: room('1AC5', 'Corridor', 'Level 1', 's2'),
        },
      },
      {
        row: 3,
        building: 'Harrow Street Clinic',
        level: 'Level 1',
        fields: {
          mark: 'Door 2',
          leaves: 1,
          widthMicrometres: 94_000,
          heightMicrometres: 2_135_000,
          fireLabelMinutes: 0,
          fireLabelClass: null,
          doorType: 'Door Type E',
          serial: null,
          assetTag: 'T-9',
          installedOn: null,
          sourceId: null,
          toRoom: room('1A03', 'Office', 'Level 1', 's1'),
          fromRoom: room('2A01', null, 'Level 2', 's3'),
        },
      },
      {
        row: 5,
        building: 'Harrow Street Clinic',
        level: 'Level 2',
        fields: {
          mark: 'Door 3',
          doorType: 'door type e',
          serial: null,
          assetTag: null,
          installedOn: null,
          sourceId: 'g4',
          toRoom: room('Plant, upper', 'Plant', 'Level 2', 's4'),
          fromRoom: null,
        },
      },
      {
        row: 6,
        building: 'Harrow Street Clinic',
        level: null,
        fields: {
          mark: 'Door 4',
          doorType: 'Door Type E',
          serial: null,
          assetTag: null,
          installedOn: null,
          sourceId: 'g5',
          toRoom: { number: 'Nowhere', name: null },
          fromRoom: null,
        },
      },
    ])
  })

  test('doubts and faults name the row and the attribute', () => {
    expect(understanding.problems.map((each) => each.sentence)).toEqual([
      'Component row 3, Width: 94 mm is very narrow for a door. Was 940 mm meant?',
      'Component row 3, Space: Its spaces are on Level 1 and Level 2; Level 1 was taken.',
      'Component row 6, Width: "wide" is not a width; expected feet-inches such as 3-0, inches such as 36, or millimetres such as 914.',
      'Component row 6, Space: "Nowhere" is not on the Space sheet, so its level is not known.',
    ])
  })

  test('no contact, author or mail address is taken', () => {
    expect(JSON.stringify(understanding)).not.toMatch(/@|CreatedBy|CreatedOn|person/)
    expect(understanding.openings[0]?.cells).toMatchObject({ Width: '915 mm', HardwareSet: '101' })
  })

  test.each([
    ['meters', [0, 4.57], 0],
    ['feet', [0, 1.392936], 0],
    // The file says millimetres, but then the building would be 5 mm high: a known slip of real files.
    ['millimeters', [0, 4.57], 1],
  ] as const)('level heights in %s are %j m', (units, metres, warnings) => {
    const { levels, warnings: said } = understandCobie(workbook([], [], units))
    expect(levels.map((level) => level.elevationMetres)).toEqual(metres)
    expect(said.filter((sentence) => sentence.includes('metres'))).toHaveLength(warnings)
  })

  test('a workbook without doors says so', () => {
    expect(understandCobie(workbook([], [])).warnings).toContain(
      'No component of this workbook is a door (ExtObject IfcDoor).',
    )
  })
})

describe('where a model keeps the door number', () => {
  const identity = (mark: string) => ({ 'Identity Data': { Mark: mark, Keynote: 'x' } })
  test.each([
    [
      'a mark property beside family names and element ids',
      [
        doorOf('a', { name: 'Single:915:353172', tag: '353172', properties: identity('19') }),
        doorOf('b', { name: 'Single:915:353248', tag: '353248', properties: identity('20') }),
      ],
      { set: 'Identity Data', property: 'Mark' },
    ],
    [
      'short names beside element ids',
      [doorOf('a', { name: 'D1', tag: '2122420' }), doorOf('b', { name: 'D2', tag: '2122722' })],
      'name',
    ],
    [
      'tags beside names that are ids',
      [doorOf('a', { name: '2122420', tag: 'D1' }), doorOf('b', { name: '2122722', tag: 'D2' })],
      'tag',
    ],
    [
      'tags beside a name that repeats',
      [
        doorOf('a', { name: 'Door', tag: 'D1' }),
        doorOf('b', { name: 'Door', tag: 'D2' }),
        doorOf('c', { name: 'Door', tag: 'D3' }),
      ],
      'tag',
    ],
    [
      'names where the mark property is nearly empty',
      [
        doorOf('a', { name: 'D1', properties: identity('7') }),
        ...['D2', 'D3', 'D4', 'D5'].map((name) => doorOf(name, { name })),
      ],
      'name',
    ],
  ] as const)('%s', (_, doors, proposed) => {
    expect(proposeMarkSource(modelOf(doors)).proposed).toEqual(proposed)
  })

  test('the choices come with samples', () => {
    const { choices } = proposeMarkSource(
      modelOf([
        doorOf('a', { name: 'D1', properties: identity('19') }),
        doorOf('b', { name: 'D1', properties: identity('20') }),
      ]),
    )
    expect(choices).toEqual([
      {
        source: { set: 'Identity Data', property: 'Mark' },
        label: 'Mark (Identity Data)',
        filled: 2,
        different: 2,
        samples: ['19', '20'],
      },
      { source: 'name', label: 'Name', filled: 2, different: 1, samples: ['D1'] },
      { source: 'tag', label: 'Tag', filled: 0, different: 0, samples: [] },
    ])
  })
})

describe('doors of a model', () => {
  test('sizes, rooms, rating and ids are read', () => {
    const { openings, problems } = understandModel(
      modelOf([
        doorOf('g1', {
          name: 'D1',
          widthMillimetres: 1830,
          operation: 'DOUBLE_DOOR_SINGLE_SWING',
          spaces: [
            { number: '101', name: 'Lobby' },
            { number: '100', name: null },
          ],
          properties: {
            Other: { FireRating: '20 min' },
            Pset_DoorCommon: { FireRating: 'EI30', Reference: 'R' },
            Hardware: { HardwareSet: '12' },
          },
        }),
      ]),
    )
    expect(openings).toMatchObject([
      {
        row: 1,
        place: 'Door g1',
        building: 'Annex',
        level: 'Level 1',
        fields: {
          mark: 'D1',
          sourceId: 'g1',
          leaves: 2,
          widthMicrometres: 1_830_000,
          heightMicrometres: 2_134_000,
          fireLabelMinutes: 30,
          hardwareSet: '12',
          toRoom: { number: '101', name: 'Lobby' },
          fromRoom: { number: '100', name: null },
        },
      },
    ])
    expect(openings[0]?.fields).not.toHaveProperty('hand')
    expect(problems.map((each) => each.field)).toEqual(['Hand'])
  })

  // The two candidates per operation: official table, standards.md 12.2 [S143].
  test.each([
    [
      'SINGLE_SWING_LEFT',
      'Is it LH or RHR? The model says SINGLE_SWING_LEFT, but the model does not say which side is keyed.',
    ],
    [
      'SINGLE_SWING_RIGHT',
      'Is it RH or LHR? The model says SINGLE_SWING_RIGHT, but the model does not say which side is keyed.',
    ],
  ])('%s leaves the hand open: %s', (operation, question) => {
    const { openings, problems } = understandModel(modelOf([doorOf('g', { name: 'D1', operation })]))
    expect(problems).toMatchObject([{ field: 'Hand', weight: 'question', expected: question }])
    expect(openings[0]?.fields.leaves).toBe(1)
    expect(openings[0]?.fields).not.toHaveProperty('hand')
  })

  // "Fire Rating" and "Inside door: Fire Rating" stand as filler in two real open models.
  test.each(['Fire Rating', 'Inside door: Fire Rating', 'n/a', ''])(
    'the rating "%s" says nothing',
    (rating) => {
      const { openings, problems } = understandModel(
        modelOf([doorOf('g', { name: 'D1', properties: { Pset_DoorCommon: { FireRating: rating } } })]),
      )
      expect(openings[0]?.fields).not.toHaveProperty('fireLabelMinutes')
      expect(problems).toEqual([])
    },
  )

  test('a material that only names its own part says nothing', () => {
    const { openings } = understandModel(
      modelOf([
        doorOf('g', {
          name: 'D1',
          properties: { Materials: { 'Frame Material': 'Door - Frame', 'Panel Material': 'Wood door' } },
        }),
      ]),
    )
    expect(openings[0]?.fields).toMatchObject({ doorMaterial: 'Wood door' })
    expect(openings[0]?.fields).not.toHaveProperty('frameMaterial')
  })

  test('half millimetres stay exact, missing sizes stay missing, odd ones are asked about', () => {
    const { openings, problems } = understandModel(
      modelOf([
        doorOf('a', { name: 'D1', widthMillimetres: 817.5, heightMillimetres: null }),
        doorOf('b', { name: 'D2', widthMillimetres: 0.915, heightMillimetres: 2134 }),
      ]),
    )
    expect(openings[0]?.fields.widthMicrometres).toBe(817_500)
    expect(openings[0]?.fields).not.toHaveProperty('heightMicrometres')
    expect(problems).toMatchObject([{ row: 2, field: 'Width', weight: 'question' }])
  })

  test('repeated ids are taken once, missing levels and marks are said', () => {
    const understanding = understandModel(
      modelOf([
        doorOf('a', { name: 'D1', storey: null }),
        doorOf('a', { name: 'D1', storey: null }),
        doorOf('b', { name: null, tag: 'T2' }),
        doorOf('c', { name: null, tag: null }),
      ]),
      { markFrom: 'name' },
    )
    expect(understanding.openings.map((each) => each.fields.mark)).toEqual(['D1', 'T2', 'c'])
    expect(understanding.setAside).toMatchObject([{ row: 2, why: 'repeated' }])
    expect(understanding.warnings.join(' ')).toMatch(/1 doors are on no level.*taken once/)
    expect(understanding.problems.filter((each) => each.field === 'Mark')).toHaveLength(2)
  })

  test('an empty model is no trouble', () => {
    expect(understandModel(modelOf([])).openings).toEqual([])
  })
})
