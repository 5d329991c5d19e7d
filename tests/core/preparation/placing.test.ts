import { describe, expect, test } from 'vitest'
import {
  drillText,
  placePattern,
  readDatum,
  readSubstrate,
  tapeText,
  type DoorToPrepare,
  type PatternHole,
  type PlacedPattern,
  type Side,
} from '../../../core/preparation/index.ts'
import type { Hand } from '../../../core/job/index.ts'
import { headThing, inch, magnet, pairOfDoors, pattern, singleDoor } from './samples.ts'

const eitherSwing = (): ReturnType<typeof magnet>['patterns'] => [
  pattern('frame', 'hollow metal', { swing: 'either' }),
  pattern('door', 'hollow metal', { swing: 'either' }),
]
const verdictOf = (placed: PlacedPattern, key: string): string | undefined =>
  placed.checks.find((check) => check.key === key)?.verdict

// Hinges and swing seen from the side of the work. Source: standards.md 11, [S136][S137]; turned round from the egress
// side: common practice, no source.
const hands: readonly [Hand, Side, 'push side' | 'pull side', strike: 'left' | 'right'][] = [
  ['LH', 'keyed', 'push side', 'right'],
  ['RH', 'keyed', 'push side', 'left'],
  ['LHR', 'keyed', 'pull side', 'right'],
  ['RHR', 'keyed', 'pull side', 'left'],
  ['LH', 'egress', 'pull side', 'left'],
  ['RH', 'egress', 'pull side', 'right'],
  ['LHR', 'egress', 'push side', 'left'],
  ['RHR', 'egress', 'push side', 'right'],
]

describe('hand and swing', () => {
  test.each(hands)('%s fitted on the %s side: %s, strike at the %s', (hand, side, swing, strike) => {
    const placed = placePattern(singleDoor({ hand }), magnet({ side, patterns: eitherSwing() }))
    expect(placed.swing).toBe(swing)
    expect(placed.surfaces.map(({ strikeAt }) => strikeAt)).toEqual([strike, strike])
  })

  test.each(hands)('%s, %s side: a tape starts at the strike, so no dimension turns', (hand, side) => {
    const usual = placePattern(singleDoor(), magnet())
    const placed = placePattern(singleDoor({ hand }), magnet({ side, patterns: eitherSwing() }))
    expect(placed.holes.map(({ across, along }) => [across?.text, along?.text])).toEqual(
      usual.holes.map(({ across, along }) => [across?.text, along?.text]),
    )
  })

  test.each(hands)('%s, %s side: only a pattern for the %s is placed', (hand, side, swing) => {
    const placed = placePattern(singleDoor({ hand }), magnet({ side }))
    expect(placed.holes.length > 0).toBe(swing === 'push side')
    expect(verdictOf(placed, 'pattern on frame')).toBe(swing === 'push side' ? 'met' : 'caution')
  })

  test('an inactive leaf hangs at the other jamb', () => {
    const door = pairOfDoors()
    const [active, inactive] = door.fittings.map((fitting) => placePattern(door, fitting))
    expect(active?.surfaces.map(({ strikeAt }) => strikeAt)).toEqual(['right', 'right'])
    expect(inactive?.surfaces.map(({ strikeAt }) => strikeAt)).toEqual(['left', 'left'])
    expect(active?.holes.map(({ across }) => across?.micrometres)).toEqual(
      inactive?.holes.map(({ across }) => across?.micrometres),
    )
  })
})

const armature = (placed: PlacedPattern) => placed.holes.find(({ name }) => name === 'Armature centre')
const bracket = (placed: PlacedPattern) => placed.holes.find(({ name }) => name === 'Bracket 1')

// Widths by arithmetic: the middle of the body is 7/8 + 10 1/2 / 2 = 6 1/8 in. from the strike edge.
const widths: readonly [
  what: string,
  DoorToPrepare,
  leaf: 'active' | 'inactive' | null,
  fromHinge: string,
][] = [
  ['3-0 single', singleDoor(), null, '29 7/8"'],
  [
    '2-8 leaf of its own width',
    singleDoor({ leaves: [{ role: 'only', widthMicrometres: inch(32), material: 'HM' }] }),
    null,
    '25 7/8"',
  ],
  ['PR 6-0, even', pairOfDoors(), 'active', '29 7/8"'],
  [
    'PR 5-0, active 3-0',
    pairOfDoors({
      widthMicrometres: inch(60),
      leaves: [
        { role: 'active', widthMicrometres: inch(36), material: 'HM' },
        { role: 'inactive', widthMicrometres: null, material: 'HM' },
      ],
    }),
    'inactive',
    '17 7/8"',
  ],
]

describe('widths', () => {
  test.each(widths)('%s', (_what, door, leaf, fromHinge) => {
    const placed = placePattern(door, magnet({ leaf }))
    expect(armature(placed)?.across).toMatchObject({ text: '6 1/8"', from: 'the strike edge of the leaf' })
    expect(armature(placed)?.acrossAgain).toMatchObject({
      text: fromHinge,
      from: 'the hinge edge of the leaf',
    })
  })

  test('a pair is measured from where the leaves meet, which has no frame edge', () => {
    const door = pairOfDoors()
    const [fitting] = door.fittings
    if (fitting === undefined) throw new Error('a fitting')
    expect(bracket(placePattern(door, fitting))?.across?.from).toBe('the line where the leaves meet')
    const silent = magnet({
      leaf: 'active',
      patterns: [pattern('frame', 'hollow metal', { leaves: null }), pattern('door', 'hollow metal')],
    })
    expect(verdictOf(placePattern(door, silent), 'pair on frame')).toBe('not known')
    const single = magnet({
      leaf: 'active',
      patterns: [pattern('frame', 'hollow metal', { leaves: 'single' })],
    })
    expect(verdictOf(placePattern(door, single), 'pattern on frame')).toBe('caution')
  })

  test('leaves that do not add up give no width', () => {
    const door = pairOfDoors({
      leaves: [
        { role: 'active', widthMicrometres: inch(36), material: 'HM' },
        { role: 'inactive', widthMicrometres: inch(30), material: 'HM' },
      ],
    })
    expect(armature(placePattern(door, magnet({ leaf: 'active' })))?.acrossAgain).toBeNull()
  })
})

const one = (datum: string, across: number, along: number, face: string | null = null): PatternHole => ({
  id: 'one',
  name: 'One',
  datum,
  acrossMicrometres: inch(across),
  alongMicrometres: inch(along),
  diameterMicrometres: inch(0.5),
  depthMicrometres: null,
  face,
  fastener: null,
  drilledWith: null,
})

// One line for each pair of lines; places by arithmetic on a 3-0 by 7-0 door, 1 3/4 in. thick, fitting at 40 in.
const lines: readonly [
  hole: PatternHole,
  on: 'frame' | 'door',
  surface: string,
  x: number | null,
  y: number | null,
  across: string,
  along: string,
][] = [
  [
    one('Lock-side frame edge, and frame stop', 6, 1),
    'frame',
    'frame head',
    6,
    1,
    '6" from the strike-side frame edge',
    '1" from the frame stop',
  ],
  [
    one('Hinge-side frame edge and frame stop', 6, 1),
    'frame',
    'frame head',
    30,
    1,
    '6" from the hinge-side frame edge',
    '1" from the frame stop',
  ],
  [
    one('Frame stop, and floor', 1, 40, 'strike jamb'),
    'frame',
    'frame strike jamb',
    1,
    44,
    '1" from the frame stop',
    '40" from the finished floor',
  ],
  [
    one('Frame stop, and frame head', 1, 12, 'hinge jamb'),
    'frame',
    'frame hinge jamb',
    1,
    12,
    '1" from the frame stop',
    '12" from the underside of the frame head',
  ],
  [
    one('Hinge edge of leaf, and top edge of leaf', 5, 2),
    'door',
    'leaf face',
    31,
    2,
    '5" from the hinge edge of the leaf',
    '2" from the top edge of the leaf',
  ],
  [
    one('Centreline of leaf, and floor', 3, 42),
    'door',
    'leaf face',
    21,
    42,
    '21" from the strike edge of the leaf',
    '42" from the finished floor',
  ],
  [
    one('Strike edge of leaf, and centreline of fitting', 2.75, -1),
    'door',
    'leaf face',
    2.75,
    45,
    '2 3/4" from the strike edge of the leaf',
    '39" from the finished floor',
  ],
  [
    one('Centreline of edge, and centreline', 0, 2, 'strike edge'),
    'door',
    'leaf strike edge',
    0,
    42,
    '0" from the centreline of the leaf’s edge',
    '42" from the finished floor',
  ],
  [
    one('Strike edge, and bottom edge of leaf', 4, 10),
    'door',
    'leaf face',
    4,
    null,
    '4" from the strike edge of the leaf',
    '10" from the bottom edge of the leaf',
  ],
]

describe('datum lines', () => {
  test.each(lines)('%o', (hole, on, surface, x, y, across, along) => {
    const fitting = magnet({
      place: null,
      heightMicrometres: inch(40),
      patterns: [pattern(on, 'hollow metal', { holes: [hole] })],
    })
    const [placed] = placePattern(singleDoor(), fitting).holes
    expect(placed?.surface).toBe(surface)
    expect(placed?.x).toBe(x === null ? null : inch(x))
    expect(placed?.y).toBe(y === null ? null : inch(y))
    expect(`${placed?.across?.text} from ${placed?.across?.from}`).toBe(across)
    expect(`${placed?.along?.text} from ${placed?.along?.from}`).toBe(along)
  })

  test.each([
    'Lock-side frame edge',
    'the left, and the top',
    'frame head, and frame stop',
    '',
    'strike edge, top edge, floor',
  ])('"%s" leaves its hole out and asks', (datum) => {
    const fitting = magnet({ patterns: [pattern('frame', 'hollow metal', { holes: [one(datum, 1, 1)] })] })
    const placed = placePattern(singleDoor(), fitting)
    expect(placed.holes).toEqual([])
    expect(verdictOf(placed, 'datum of one')).toBe('not known')
  })

  test('a jamb that is not named is asked for', () => {
    const hole = one('Frame stop, and floor', 1, 40)
    const patterns = [pattern('frame', 'hollow metal', { holes: [hole] })]
    expect(placePattern(singleDoor(), magnet({ place: null, patterns })).holes).toEqual([])
    expect(placePattern(singleDoor(), magnet({ place: 'frame strike jamb', patterns })).holes).toHaveLength(1)
  })

  test('the hole’s own word on its edge counts before the place of the fitting', () => {
    const hole = one('Centreline of edge, and floor', 0, 60, 'hinge edge')
    const patterns = [pattern('door', 'hollow metal', { holes: [hole] })]
    const [placed] = placePattern(singleDoor(), magnet({ place: 'frame strike jamb', patterns })).holes
    expect(placed?.surface).toBe('leaf hinge edge')
  })

  test('words are read in any case', () => {
    expect(readDatum('The strike edge of the leaf, and the top edge of the leaf')).toEqual({
      across: 'strike edge of leaf',
      along: 'top edge of leaf',
    })
  })
})

describe('what is not known is asked, never assumed', () => {
  const missing: readonly [what: string, DoorToPrepare, key: string, question: RegExp][] = [
    [
      'frame material',
      singleDoor({ frameMaterial: null }),
      'pattern on frame',
      /What is the frame of 101 made of/,
    ],
    ['a material without patterns', singleDoor({ frameMaterial: 'FRP' }), 'pattern on frame', /"FRP"/],
    [
      'leaf material',
      singleDoor({ leaves: [{ role: 'only', widthMicrometres: null, material: null }] }),
      'pattern on door',
      /What is the door of 101 made of/,
    ],
    ['hand', singleDoor({ hand: null }), 'pattern on frame', /What is the hand of 101/],
    ['side', singleDoor({ fittings: [magnet({ side: null })] }), 'pattern on frame', /keyed or egress/],
    ['leaves', singleDoor({ leaves: [] }), 'leaf', /How many leaves/],
    ['which leaf', pairOfDoors({ fittings: [magnet()] }), 'leaf', /On which leaf/],
    [
      'whether wood is solid',
      singleDoor({ leaves: [{ role: 'only', widthMicrometres: null, material: 'WD' }] }),
      'solid door',
      /Is the wood leaf solid/,
    ],
  ]
  test.each(missing)('%s', (_what, door, key, question) => {
    const [fitting] = door.fittings
    if (fitting === undefined) throw new Error('a fitting')
    const check = placePattern(door, fitting).checks.find((each) => each.key === key)
    expect(check?.verdict).toBe('not known')
    expect(check?.questions[0]?.words).toMatch(question)
    expect(check?.questions[0]?.whoCanSay).not.toBe('')
  })

  test('an unknown width leaves the tape from the strike edge, and nothing from the hinges', () => {
    const placed = placePattern(singleDoor({ widthMicrometres: null }), magnet())
    expect(armature(placed)?.across?.text).toBe('6 1/8"')
    expect(armature(placed)?.acrossAgain).toBeNull()
  })

  test('two patterns that suit are not chosen between', () => {
    const patterns = [
      pattern('frame', 'hollow metal'),
      pattern('frame', 'hollow metal', { id: 'angle', name: 'With angle bracket' }),
    ]
    const placed = placePattern(singleDoor(), magnet({ patterns }))
    expect(placed.holes).toEqual([])
    expect(verdictOf(placed, 'pattern on frame')).toBe('not known')
  })
})

describe('placed by hand', () => {
  test('the whole pattern moves with the middle of its body', () => {
    const usual = placePattern(singleDoor(), magnet())
    const moved = placePattern(singleDoor(), magnet({ acrossMicrometres: inch(12) }))
    const by = inch(12) - inch(7 / 8 + 10.5 / 2)
    expect(moved.holes.map(({ x }) => x)).toEqual(usual.holes.map(({ x }) => (x ?? 0) + by))
  })
  test('a part without holes places nothing', () => {
    expect(placePattern(singleDoor(), headThing('C1', 20, 3)).surfaces).toEqual([])
  })
})

// Source for the inch: 25.4 mm exactly (international yard and pound agreement, 1959).
const tapes: readonly [inches: number, imperial: string, metric: string][] = [
  [0.875, '7/8"', '22 mm'],
  [6.125, '6 1/8"', '156 mm'],
  [1.9249, '1 15/16"', '49 mm'],
  [40.3125, '40 5/16"', '1024 mm'],
  [0.03, '0"', '1 mm'],
  [-0.5, '-1/2"', '-13 mm'],
]
describe('lengths', () => {
  test.each(tapes)('%s in. is %s or %s', (inches, imperial, metric) => {
    expect(tapeText(inch(inches), 'imperial')).toBe(imperial)
    expect(tapeText(inch(inches), 'metric')).toBe(metric)
  })
  test.each([
    [3 / 8, '3/8"', '9.5 mm (3/8")'],
    [3 / 16, '3/16"', '4.8 mm (3/16")'],
    [1 / 2, '1/2"', '12.7 mm (1/2")'],
  ])('a drill of %s in. is never rounded to the tape', (inches, imperial, metric) => {
    expect(drillText(inch(inches), 'imperial')).toBe(imperial)
    expect(drillText(inch(inches), 'metric')).toBe(metric)
  })
  test('a metric drill is written plainly', () => {
    expect(drillText(10_000, 'metric')).toBe('10 mm')
    expect(drillText(10_000, 'imperial')).toBe('10 mm')
  })
  // Abbreviations: standards.md 11 (HM, WD) and common practice, no source.
  test.each([
    ['HM', 'hollow metal'],
    ['Hollow metal', 'hollow metal'],
    ['SCWD', 'solid wood'],
    ['AL', 'aluminium'],
    ['Aluminum', 'aluminium'],
    ['GL', 'glass'],
    ['FRP', null],
    ['KD', null],
    ['', null],
  ] as const)('"%s" is %s', (text, substrate) => {
    expect(readSubstrate(text, 'leaf')?.substrate ?? null).toBe(substrate)
  })
})
