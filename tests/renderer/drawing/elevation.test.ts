import { describe, expect, test } from 'vitest'
import {
  elevationLeaves,
  elevationWords,
  hangSeenFrom,
  placements,
  type ElevationInput,
  type Side,
} from '../../../core/documents/index.ts'
import type { Hand } from '../../../core/job/index.ts'
import {
  boxOf,
  elevation,
  elevationToScale,
  overlap,
  type Box,
  type Drawing,
  type Shape,
} from '../../../renderer/drawing/index.ts'
import { door, elevations, fitting, fullPair, inch, magnetDoor, pair } from './samples.ts'

const box = { width: 330, height: 330 }

const parts = (drawing: Drawing, part: string): readonly Shape[] =>
  drawing.shapes.filter((shape) => shape.part === part)

/** Corners without line widths. */
const bare = (shape: Shape): Box => boxOf('width' in shape ? { ...shape, width: 0 } : shape)
const around = (boxes: readonly Box[]): Box => ({
  left: Math.min(...boxes.map(({ left }) => left)),
  top: Math.min(...boxes.map(({ top }) => top)),
  right: Math.max(...boxes.map(({ right }) => right)),
  bottom: Math.max(...boxes.map(({ bottom }) => bottom)),
})
const partBox = (drawing: Drawing, part: string): Box => around(parts(drawing, part).map(bare))
const middle = ({ left, right }: Box): number => (left + right) / 2

/** Where each leaf's lines meet, and whether they are broken. */
function swings(drawing: Drawing): { apex: number; top: number; dashed: boolean }[] {
  return parts(drawing, 'swing').map((shape) => {
    if (shape.form !== 'outline') throw new Error('a swing is an outline')
    const [from, apex, to] = shape.points
    if (from === undefined || apex === undefined || to === undefined) throw new Error('three points')
    expect(from.x).toBe(to.x)
    return { apex: apex.x, top: from.x, dashed: shape.dash !== undefined }
  })
}

// Standing at the keyed side; from the egress side left and right, and push and pull, turn round.
// Common practice, no source.
const hangs: readonly [Hand, Side, 'left' | 'right', 'away' | 'towards'][] = [
  ['LH', 'keyed', 'left', 'away'],
  ['LH', 'egress', 'right', 'towards'],
  ['RH', 'keyed', 'right', 'away'],
  ['RH', 'egress', 'left', 'towards'],
  ['LHR', 'keyed', 'left', 'towards'],
  ['LHR', 'egress', 'right', 'away'],
  ['RHR', 'keyed', 'right', 'towards'],
  ['RHR', 'egress', 'left', 'away'],
]

describe.each(hangs)('%s from the %s side', (hand, seenFrom, hinges, opens) => {
  test(`hangs on the ${hinges} and opens ${opens}`, () => {
    expect(hangSeenFrom(hand, seenFrom)).toEqual({ hinges, opens })
  })

  test('a single: the lines meet at the hinges, dashed when it opens away', () => {
    const drawing = elevation(door({ hand, seenFrom, fittings: magnetDoor }), box)
    const leaf = partBox(drawing, 'leaf')
    const [swing] = swings(drawing)
    const [hingeX, lockX] = hinges === 'left' ? [leaf.left, leaf.right] : [leaf.right, leaf.left]
    expect(swing?.apex).toBeCloseTo(hingeX)
    expect(swing?.top).toBeCloseTo(lockX)
    expect(swing?.dashed).toBe(opens === 'away')
  })

  test('a single: magnet, lock and reader stand at the lock side', () => {
    const drawing = elevation(door({ hand, seenFrom, fittings: magnetDoor }), box)
    const leaf = partBox(drawing, 'leaf')
    const lockIsRight = hinges === 'left'
    for (const part of ['fitting M1', 'fitting L1', 'fitting R1', 'fitting B1'])
      expect(middle(partBox(drawing, part)) > middle(leaf), part).toBe(lockIsRight)
    const reader = partBox(drawing, 'fitting R1')
    expect(lockIsRight ? reader.left > leaf.right : reader.right < leaf.left).toBe(true)
  })

  test('a pair: both hang at their jambs, the active leaf on the side its hand says', () => {
    const drawing = elevation(
      pair({
        hand,
        seenFrom,
        leaves: { form: 'pair', activeWidthMicrometres: inch(44), inactiveWidthMicrometres: null },
        fittings: fullPair,
      }),
      box,
    )
    const [active, inactive] = parts(drawing, 'leaf').map(bare)
    if (active === undefined || inactive === undefined) throw new Error('two leaves')
    expect((active.right - active.left) / (inactive.right - inactive.left)).toBeCloseTo(44 / 28)
    expect(middle(active) < middle(inactive)).toBe(hinges === 'left')
    const whole = around([active, inactive])
    const apexes = swings(drawing).map(({ apex }) => apex)
    expect(apexes.toSorted((a, b) => a - b)[0]).toBeCloseTo(whole.left)
    expect(apexes.toSorted((a, b) => a - b)[1]).toBeCloseTo(whole.right)
    expect(swings(drawing).map(({ dashed }) => dashed)).toEqual([opens === 'away', opens === 'away'])
    const device = partBox(drawing, 'fitting X1')
    expect(device.left >= active.left && device.right <= active.right).toBe(true)
  })

  test('says so', () => {
    const swing = opens === 'away' ? 'opens away' : 'opens towards you'
    expect(elevationWords(door({ hand, seenFrom }))).toBe(
      `Seen from the ${seenFrom} side. Hinges on the ${hinges}; ${swing}.`,
    )
    expect(elevationWords(pair({ hand, seenFrom }))).toBe(
      `Seen from the ${seenFrom} side. Pair; the active leaf is on the ${hinges}. Hinges on both sides; ${swing}.`,
    )
  })
})

test('seen from the other side, all but the writing is its mirror image', () => {
  const places = (seenFrom: Side): Map<string, number[]> => {
    const { drawing } = elevationToScale(pair({ hand: 'RHR', seenFrom, fittings: fullPair }), {
      width: 500,
      height: 500,
    })
    const frame = partBox(drawing, 'frame')
    const sign = seenFrom === 'keyed' ? 1 : -1
    return new Map(
      ['leaf', ...fullPair.map(({ tag }) => `fitting ${tag}`)].map((part) => [
        part,
        parts(drawing, part)
          .map((shape) => sign * (middle(bare(shape)) - middle(frame)))
          .map((x) => Math.round(x * 1000) / 1000 + 0),
      ]),
    )
  }
  expect(places('egress')).toEqual(places('keyed'))
})

describe('sizes', () => {
  const sizes: readonly [ElevationInput, string, string][] = [
    [door(), '3-0', '7-0'],
    [door({ widthMicrometres: inch(41.5), heightMicrometres: inch(95.25) }), '3-5 1/2', '7-11 1/4'],
    [pair(), '6-0', '7-0'],
    [pair({ units: 'metric', widthMicrometres: 1_800_000, heightMicrometres: 2_100_000 }), '1800', '2100'],
  ]
  test.each(sizes)('are true to each other and written beside their lines: %#', (input, width, height) => {
    const drawing = elevation({ ...input, fittings: magnetDoor }, box)
    const lineOf = (part: string): Box => bare(parts(drawing, part)[0] as Shape)
    const across = lineOf('width')
    const down = lineOf('height')
    const leaves = partBox(drawing, 'leaf')
    expect([across.left, across.right]).toEqual([leaves.left, leaves.right])
    expect([down.top, down.bottom]).toEqual([leaves.top, leaves.bottom])
    expect((across.right - across.left) / (down.bottom - down.top)).toBeCloseTo(
      (input.widthMicrometres ?? 0) / (input.heightMicrometres ?? 1),
      9,
    )
    expect(across.top > leaves.bottom).toBe(true)
    expect(down.right < leaves.left || down.left > leaves.right).toBe(true)
    const texts = drawing.shapes.flatMap((shape) => (shape.form === 'text' ? [shape] : []))
    expect(texts.find((text) => text.part === 'width')?.text).toBe(width)
    expect(texts.find((text) => text.part === 'height')?.text).toBe(height)
  })

  test('at a usual scale the opening has the length the scale says', () => {
    // 36 in. at 3/4 in. to the foot is 2 1/4 in., 162 points; 1800 mm at 1:15 is 120 mm.
    const one = elevationToScale(door(), { width: 500, height: 500 })
    expect(one.scaleWords).toBe('3/4 in. to 1 ft')
    const leaf = partBox(one.drawing, 'leaf')
    expect(leaf.right - leaf.left).toBeCloseTo(162, 9)
    expect(leaf.bottom - leaf.top).toBeCloseTo(378, 9)
    const two = elevationToScale(
      pair({ units: 'metric', widthMicrometres: 1_800_000, heightMicrometres: 2_100_000 }),
      { width: 600, height: 600 },
    )
    expect(two.scaleWords).toBe('1:15')
    const leaves = partBox(two.drawing, 'leaf')
    expect(leaves.right - leaves.left).toBeCloseTo((120 / 25.4) * 72, 6)
    expect(elevationToScale(door(), { width: 60, height: 60 }).scaleWords).toBeNull()
    expect(elevationToScale(door({ widthMicrometres: null }), box).scaleWords).toBeNull()
  })

  test.each(elevations)('fits its box: $title', ({ input }) => {
    const drawing = elevation(input, box)
    expect(drawing.width <= 330 && drawing.height <= 330).toBe(true)
    // As large as it may: not a door lost in the middle.
    expect(Math.max(drawing.width / 330, drawing.height / 330)).toBeGreaterThan(0.93)
    for (const shape of drawing.shapes) {
      const { left, top, right, bottom } = boxOf(shape)
      expect(left >= 0 && top >= 0 && right <= drawing.width && bottom <= drawing.height).toBe(true)
    }
  })
})

// Heights above the floor in inches, from and to. Common practice, no source; release and reader as the design's brief says.
const heights: readonly (readonly [(typeof placements)[number], number, number])[] = [
  ['lock stile', 38, 42],
  ['lock jamb', 37, 43],
  ['across the leaf', 37, 43],
  ['reader beside the door', 42, 48],
  ['release beside the door', 40, 48],
  ['head at the lock side', 79, 84],
  ['head contact', 82, 86],
  ['head hold-open', 80, 84],
  ['wall hold-open', 75, 81],
  ['head at the hinge side', 86, 92],
  ['over the door', 86, 97],
  ['bolt at the head', 76, 84],
  ['bolt at the floor', 0, 8],
  ['hinge jamb', 40, 75],
]

describe('fittings', () => {
  test('every placement but elsewhere has its height', () => {
    expect(new Set(heights.map(([placement]) => placement)).size).toBe(placements.length - 1)
  })

  test.each(heights)('%s stands between %d and %d in.', (placement, from, to) => {
    const drawing = elevation(door({ fittings: [fitting('A1', placement, 'egress')] }), box)
    const leaf = partBox(drawing, 'leaf')
    const perInch = (leaf.bottom - leaf.top) / 84
    const found = partBox(drawing, 'fitting A1')
    expect((leaf.bottom - found.bottom) / perInch).toBeGreaterThanOrEqual(from - 0.01)
    expect((leaf.bottom - found.top) / perInch).toBeLessThanOrEqual(to + 0.01)
  })

  test('are dashed on the other side, and never filled there', () => {
    const dashed = (seenFrom: Side, tag: string): boolean[] =>
      parts(elevation(door({ fittings: magnetDoor, seenFrom }), box), `fitting ${tag}`).map(
        (shape) => 'dash' in shape && shape.dash !== undefined,
      )
    expect(dashed('egress', 'M1')).toEqual([false, false])
    expect(dashed('keyed', 'M1')).toEqual([true, true])
    expect(dashed('egress', 'R1')).toEqual([true, true])
    expect(dashed('keyed', 'R1')).toEqual([false, false])
    expect(dashed('keyed', 'L1')).toEqual([false, false])
  })

  test.each(elevations)('no tag covers a tag, a fitting or a size: $title', ({ input }) => {
    for (const size of [200, 330, 500]) {
      const drawing = elevation(input, { width: size, height: size })
      const labels = drawing.shapes.filter(
        (shape) => shape.form === 'text' && shape.part?.startsWith('label') === true,
      )
      const others = drawing.shapes.filter(
        (shape) =>
          (shape.part?.startsWith('fitting') === true || shape.form === 'text') && !labels.includes(shape),
      )
      // Capitals and figures hang on their line.
      const letters = labels.map((label) => {
        const all = boxOf(label)
        return { ...all, bottom: label.form === 'text' ? label.at.y : all.bottom }
      })
      for (const [index, label] of letters.entries())
        for (const other of [...letters.slice(index + 1), ...others.map(boxOf)])
          expect(overlap(label, other), `${size}: ${JSON.stringify(labels[index])}`).toBe(false)
    }
  })

  test('every drawn fitting has its tag, and those not drawn are named in words', () => {
    const input = door({ hand: null, fittings: [...magnetDoor, fitting('Z1', null, null)] })
    const drawing = elevation(input, box)
    const tags = drawing.shapes.flatMap((shape) =>
      shape.form === 'text' && shape.part?.startsWith('label') === true ? [shape.text] : [],
    )
    expect(tags).toEqual(['S1'])
    expect(elevationWords(input)).toBe(
      'Seen from the egress side. The hand is not known, so hinges and swing are not drawn. ' +
        'F1 is not at the door. Where Z1 is placed is not known. ' +
        'M1, B1, R1, D1 and L1 are not drawn until the hand is known.',
    )
    expect(drawing.name).toContain(elevationWords(input))
  })

  test('a side that is not known is asked on the tag', () => {
    const drawing = elevation(door({ fittings: [fitting('B2', 'release beside the door', null)] }), box)
    expect(parts(drawing, 'label B2')[0]).toMatchObject({ text: 'B2 ?', ink: 'brass' })
  })
})

describe('what is not known', () => {
  const cases: readonly (readonly [string, ElevationInput, readonly string[]])[] = [
    ['width', door({ widthMicrometres: null }), ['width not known']],
    ['a width of nothing', door({ widthMicrometres: 0 }), ['width not known']],
    ['height', door({ heightMicrometres: null }), ['height not known']],
    ['hand', door({ hand: null }), ['hand not known']],
    ['leaves', door({ leaves: { form: 'not known' } }), ['leaves not known']],
    [
      'leaves that do not add up',
      pair({
        leaves: { form: 'pair', activeWidthMicrometres: inch(36), inactiveWidthMicrometres: inch(30) },
      }),
      ['leaves do not add up'],
    ],
    ['nothing', door(), []],
  ]
  test.each(cases)('%s: greyed, asked and named', (_, input, missing) => {
    const drawing = elevation(input, box)
    const questions = parts(drawing, 'question').map((shape) => (shape.form === 'text' ? shape.text : ''))
    expect(questions).toEqual(missing.length === 0 ? [] : ['?', ...missing])
    for (const part of ['frame', 'leaf'])
      expect(parts(drawing, part)[0]).toMatchObject({ ink: missing.length === 0 ? 'ink' : 'soft' })
    if (input.hand === null || input.leaves.form === 'not known') expect(swings(drawing)).toEqual([])
  })

  test('a size that is not known stands as a question mark at its line', () => {
    const drawing = elevation(door({ heightMicrometres: null }), box)
    const texts = parts(drawing, 'height').filter((shape) => shape.form === 'text')
    expect(texts).toMatchObject([{ text: '?', ink: 'brass' }])
  })
})

test('leaves are read from their records', () => {
  const leaf = (role: 'only' | 'active' | 'inactive', widthMicrometres: number | null = null) => ({
    role,
    widthMicrometres,
  })
  expect(elevationLeaves([])).toEqual({ form: 'not known' })
  expect(elevationLeaves([leaf('only')])).toEqual({ form: 'single' })
  expect(elevationLeaves([leaf('inactive', 5), leaf('active')])).toEqual({
    form: 'pair',
    activeWidthMicrometres: null,
    inactiveWidthMicrometres: 5,
  })
  expect(elevationLeaves([leaf('active'), leaf('active')])).toEqual({ form: 'not known' })
})
