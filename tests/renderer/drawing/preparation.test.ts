import { describe, expect, test } from 'vitest'
import fc from 'fast-check'
import type { Hand } from '../../../core/job/index.ts'
import {
  placePattern,
  type DoorToPrepare,
  type PlacedHole,
  type PreparedSurface,
} from '../../../core/preparation/index.ts'
import {
  boxOf,
  overlap,
  preparationDrawing,
  preparationFigure,
  templateDrawing,
  templateFigure,
  type Box,
  type Drawing,
  type Shape,
  type Template,
} from '../../../renderer/drawing/index.ts'
import { inch, magnet, pairOfDoors, pattern, singleDoor } from '../../core/preparation/samples.ts'

const either = [
  pattern('frame', 'hollow metal', { swing: 'either' }),
  pattern('door', 'hollow metal', { swing: 'either' }),
]
const surfacesOf = (door: DoorToPrepare, index = 0): readonly PreparedSurface[] => {
  const fitting = door.fittings[index]
  if (fitting === undefined) throw new Error('a fitting')
  return placePattern(door, fitting).surfaces
}
const room = { width: 520, height: 300 }
const drawn = (surface: PreparedSurface): Drawing => {
  const made = preparationDrawing(surface, room)
  if (made === null) throw new Error('nothing to draw')
  return made.drawing
}
const parts = (drawing: Drawing, part: string): readonly Shape[] =>
  drawing.shapes.filter((shape) => shape.part === part)
const circle = (drawing: Drawing, { number }: PlacedHole): Extract<Shape, { form: 'circle' }> => {
  const found = parts(drawing, `hole ${number}`).find(({ form }) => form === 'circle')
  if (found?.form !== 'circle') throw new Error(`hole ${number} is not drawn`)
  return found
}
const line = (drawing: Drawing, part: string): Extract<Shape, { form: 'line' }> => {
  const found = parts(drawing, part).find(({ form }) => form === 'line')
  if (found?.form !== 'line') throw new Error(`no line ${part}`)
  return found
}
const length = ({ from, to }: Extract<Shape, { form: 'line' }>): number =>
  Math.hypot(to.x - from.x, to.y - from.y)
const points = (micrometres: number, oneTo: number): number => (micrometres / 25_400 / oneTo) * 72

/** How many times smaller than life each usual scale is. Arithmetic: 3 in. to 1 ft is 12/3. */
const oneToOf: Readonly<Record<string, number>> = {
  '6 in. to 1 ft': 2,
  '3 in. to 1 ft': 4,
  '1 1/2 in. to 1 ft': 8,
  '1 in. to 1 ft': 12,
  '3/4 in. to 1 ft': 16,
  '1:2': 2,
  '1:5': 5,
  '1:10': 10,
  '1:20': 20,
}

const doors: readonly [what: string, door: DoorToPrepare, fitting: number, strike: 'left' | 'right'][] = [
  ...(['LH', 'RH', 'LHR', 'RHR'] satisfies Hand[]).flatMap(
    (hand): [string, DoorToPrepare, number, 'left' | 'right'][] => [
      [
        `${hand}, egress side`,
        singleDoor({ hand, fittings: [magnet({ patterns: either })] }),
        0,
        hand.startsWith('L') ? 'left' : 'right',
      ],
      [
        `${hand}, keyed side`,
        singleDoor({ hand, fittings: [magnet({ side: 'keyed', patterns: either })] }),
        0,
        hand.startsWith('L') ? 'right' : 'left',
      ],
    ],
  ),
  ['pair, active leaf', pairOfDoors(), 0, 'right'],
  ['pair, inactive leaf', pairOfDoors(), 1, 'left'],
  ['metric', singleDoor({ units: 'metric', hand: 'LHR' }), 0, 'left'],
]

describe('a face to scale', () => {
  test.each(doors)('%s: dimensions as drawn are the computed ones', (_what, door, index, strike) => {
    for (const surface of surfacesOf(door, index)) {
      const made = preparationDrawing(surface, room)
      if (made === null || made.scaleWords === null) throw new Error('no scale')
      const oneTo = oneToOf[made.scaleWords]
      if (oneTo === undefined) throw new Error(made.scaleWords)
      const { drawing } = made
      const edgeLine = line(drawing, 'edge across').from.x
      const [foot] = parts(drawing, 'edge along')
      const head = foot?.form === 'line' ? foot.from.y : Number.NaN
      for (const hole of surface.holes) {
        const { centre, radius } = circle(drawing, hole)
        const x = hole.x ?? Number.NaN
        const y = hole.y ?? Number.NaN
        expect(Math.abs(centre.x - edgeLine)).toBeCloseTo(points(x, oneTo), 6)
        expect(centre.x < edgeLine).toBe(strike === 'right')
        expect(Math.abs(centre.y - head)).toBeCloseTo(points(y, oneTo), 6)
        // A head is seen from below, its door at the foot of the drawing.
        expect(centre.y < head).toBe(surface.name === 'frame head')
        expect(radius * 2).toBeCloseTo(points(hole.diameterMicrometres ?? 0, oneTo), 6)
        expect(length(line(drawing, `across ${hole.across?.micrometres}`))).toBeCloseTo(points(x, oneTo), 6)
        expect(length(line(drawing, `along ${hole.along?.micrometres}`))).toBeCloseTo(points(y, oneTo), 6)
        const texts = parts(drawing, `across ${hole.across?.micrometres}`).flatMap((shape) =>
          shape.form === 'text' ? [shape.text] : [],
        )
        expect(texts).toEqual([hole.across?.text])
      }
    }
  })

  test('left and right are each other’s mirror', () => {
    const [left] = surfacesOf(singleDoor({ hand: 'LHR' }))
    const [right] = surfacesOf(singleDoor({ hand: 'RHR' }))
    if (left === undefined || right === undefined) throw new Error('surfaces')
    const fromLeft = left.holes.map((hole) => circle(drawn(left), hole).centre.x)
    const fromRight = right.holes.map((hole) => circle(drawn(right), hole).centre.x)
    const spread = (xs: readonly number[]): number[] => xs.map((x) => x - (xs[0] ?? 0))
    for (const [index, each] of spread(fromLeft).entries())
      expect(each).toBeCloseTo(-(spread(fromRight)[index] ?? Number.NaN), 6)
  })

  test('through is open, blind is filled, from the other face is dashed', () => {
    const [, leaf] = surfacesOf(singleDoor())
    if (leaf === undefined) throw new Error('a leaf')
    const drawing = drawn(leaf)
    for (const hole of leaf.holes) {
      const filled = parts(drawing, `hole ${hole.number}`).some(({ form }) => form === 'polygon')
      expect(filled).toBe(hole.depthMicrometres !== null && !hole.otherFace)
      expect(circle(drawing, hole).dash !== undefined).toBe(hole.otherFace)
    }
  })

  // Who turns to what is at the right has the door, or the face of the work, at the left. Geometry, no source.
  test.each([
    ['RHR', 'Frame stop, and frame head', 'strike jamb', 'left'],
    ['LHR', 'Frame stop, and frame head', 'strike jamb', 'right'],
    ['RHR', 'Frame stop, and frame head', 'hinge jamb', 'right'],
    ['LHR', 'Frame stop, and frame head', 'hinge jamb', 'left'],
    ['RHR', 'Centreline of edge, and top edge of leaf', 'strike edge', 'left'],
    ['LHR', 'Centreline of edge, and top edge of leaf', 'strike edge', 'right'],
    ['RHR', 'Centreline of edge, and top edge of leaf', 'hinge edge', 'right'],
    ['LHR', 'Centreline of edge, and top edge of leaf', 'hinge edge', 'left'],
  ] as const)('%s, %s, %s: the door or the face of the work is at the %s', (hand, datum, face, at) => {
    const on = datum.startsWith('Frame') ? 'frame' : 'door'
    const [like] = pattern(on, 'hollow metal').holes
    if (like === undefined) throw new Error('a hole')
    const places = [0.125, 0.5]
    const holes = places.map((across, index) => ({
      ...like,
      id: `h${index}`,
      datum,
      face,
      acrossMicrometres: inch(across),
      alongMicrometres: inch(3 + index),
      diameterMicrometres: inch(1 / 8),
    }))
    const fitting = magnet({ bodies: [], patterns: [pattern(on, 'hollow metal', { holes, bodyName: null })] })
    const [surface] = surfacesOf(singleDoor({ hand, fittings: [fitting] }))
    if (surface === undefined) throw new Error('a surface')
    const [near, far] = surface.holes.map((hole) => circle(drawn(surface), hole).centre.x)
    expect((near ?? 0) < (far ?? 0)).toBe(at === 'left')
  })

  test('an edge out of sight breaks the dimension and keeps its figure', () => {
    const [, leaf] = surfacesOf(singleDoor({ fittings: [magnet({ acrossMicrometres: inch(24) })] }))
    if (leaf === undefined) throw new Error('a leaf')
    const drawing = drawn(leaf)
    expect(parts(drawing, 'edge across')).toEqual([])
    expect(line(drawing, `broken across ${inch(24)}`)).toBeDefined()
    expect(drawing.shapes.some((shape) => shape.form === 'text' && shape.text === '24"')).toBe(true)
  })

  test('an unknown hand is said, not drawn as known', () => {
    const surfaces = surfacesOf(singleDoor({ hand: null, fittings: [magnet({ patterns: either })] }))
    for (const surface of surfaces) expect(parts(drawn(surface), 'question')).toHaveLength(1)
  })

  test('nothing to draw where no place is known', () => {
    const [surface] = surfacesOf(singleDoor())
    if (surface === undefined) throw new Error('a surface')
    const nowhere = { ...surface, holes: surface.holes.map((hole) => ({ ...hole, x: null })) }
    expect(preparationDrawing(nowhere, room)).toBeNull()
    expect(preparationFigure({ surface: nowhere }, { ...room, textSize: 8 })).toEqual([])
  })

  test('on a page it keeps to its room and says its scale', () => {
    for (const surface of surfacesOf(singleDoor())) {
      const [figure] = preparationFigure({ surface }, { ...room, textSize: 8 })
      if (figure === undefined) throw new Error('a figure')
      expect(figure.width).toBeLessThanOrEqual(room.width)
      expect(figure.height).toBeLessThanOrEqual(room.height)
      expect(parts(figure, 'scale')).toMatchObject([{ text: expect.stringMatching(/^Scale .*full size\.$/) }])
    }
  })
})

const texts = (drawing: Drawing): Box[] => drawing.shapes.filter(({ form }) => form === 'text').map(boxOf)
const dimensionLines = (drawing: Drawing): Box[] =>
  drawing.shapes
    .filter(({ form, part }) => form === 'line' && /^(broken )?(across|along) /.test(part ?? ''))
    .map(boxOf)

describe('text keeps clear', () => {
  test('no text covers another, nor a dimension line, whatever the pattern', () => {
    const sixteenths = fc.integer({ min: 6, max: 220 })
    const hole = fc.record({
      across: sixteenths,
      along: fc.integer({ min: 5, max: 60 }),
      size: fc.integer({ min: 2, max: 16 }),
    })
    fc.assert(
      fc.property(
        fc.uniqueArray(hole, { minLength: 1, maxLength: 7, selector: ({ across }) => across }),
        fc.constantFrom<Hand>('LHR', 'RHR'),
        fc.constantFrom('imperial' as const, 'metric' as const),
        fc.constantFrom(0, 1),
        (holes, hand, units, which) => {
          const on = which === 0 ? 'frame' : 'door'
          const base = pattern(on, 'hollow metal')
          const [like] = base.holes
          if (like === undefined) throw new Error('a hole')
          const patterns = [
            {
              ...base,
              holes: holes.map(({ across, along, size }, index) => ({
                ...like,
                id: `h${index}`,
                acrossMicrometres: inch(across / 16),
                alongMicrometres: inch(along / 16),
                diameterMicrometres: inch(size / 16),
                depthMicrometres: null,
              })),
            },
          ]
          const [surface] = surfacesOf(singleDoor({ hand, units, fittings: [magnet({ patterns })] }))
          if (surface === undefined) throw new Error('a surface')
          const drawing = drawn(surface)
          const boxes = texts(drawing)
          for (const [index, box] of boxes.entries()) {
            for (const other of boxes.slice(index + 1)) expect(overlap(box, other)).toBe(false)
            for (const other of dimensionLines(drawing)) expect(overlap(box, other)).toBe(false)
          }
          for (const shape of drawing.shapes) {
            const box = boxOf(shape)
            expect(box.left).toBeGreaterThanOrEqual(0)
            expect(box.top).toBeGreaterThanOrEqual(0)
            expect(box.right).toBeLessThanOrEqual(drawing.width + 0.01)
            expect(box.bottom).toBeLessThanOrEqual(drawing.height + 0.01)
          }
        },
      ),
      { numRuns: 150, seed: 7 },
    )
  })
})

const letter = { width: 540, height: 680 }
const template = (surface: PreparedSurface, page = letter): Template => {
  const made = templateDrawing(surface, '101, M1', page)
  if (made === null) throw new Error('no template')
  return made
}

describe('a full-size template', () => {
  test.each(doors)(
    '%s: every hole is whole on a sheet, and distances are true',
    (_what, door, index, strike) => {
      for (const surface of surfacesOf(door, index)) {
        const { sheets } = template(surface)
        for (const hole of surface.holes) {
          const shown = sheets.filter(({ drawing }) =>
            parts(drawing, `hole ${hole.number}`).some(({ form }) => form === 'circle'),
          )
          expect(shown.length).toBeGreaterThan(0)
          for (const { drawing } of shown) {
            const { centre, radius } = circle(drawing, hole)
            expect(radius * 2).toBeCloseTo(points(hole.diameterMicrometres ?? 0, 1), 6)
            const edge = parts(drawing, 'edge along')[0]
            if (edge?.form !== 'line') throw new Error('the edge that it lies along')
            expect(Math.abs(centre.y - edge.from.y)).toBeCloseTo(points(hole.y ?? 0, 1), 6)
            const start = parts(drawing, 'edge across')[0]
            if (start?.form === 'line') {
              expect(Math.abs(centre.x - start.from.x)).toBeCloseTo(points(hole.x ?? 0, 1), 6)
              expect(centre.x < start.from.x).toBe(strike === 'right')
            }
          }
        }
      }
    },
  )

  test('distances stay true over the joint: the crosses of two sheets are one place', () => {
    const [head] = surfacesOf(singleDoor())
    if (head === undefined) throw new Error('a head')
    const { sheets, columns } = template(head)
    expect(columns).toBe(2)
    const [left, right] = sheets
    if (left === undefined || right === undefined) throw new Error('two sheets')
    const crossAt = (drawing: Drawing, letterOf: string): { x: number; y: number } => {
      const found = parts(drawing, `register ${letterOf}`).find(({ form }) => form === 'circle')
      if (found?.form !== 'circle') throw new Error(letterOf)
      return found.centre
    }
    const [a, b] = [crossAt(left.drawing, 'A'), crossAt(right.drawing, 'A')]
    const [c, d] = [crossAt(left.drawing, 'B'), crossAt(right.drawing, 'B')]
    expect([a.x - c.x, a.y - c.y]).toEqual(
      [b.x - d.x, b.y - d.y].map((each) => expect.closeTo(each, 6) as number),
    )
    // RHR from the egress side: the strike is at the right, so hole 4 is on the left sheet and the frame edge on the right.
    const four = head.holes.find(({ name }) => name === 'Bracket 4')
    const edge = line(right.drawing, 'edge across')
    if (four === undefined) throw new Error('hole 4')
    const across = edge.from.x - b.x + (a.x - circle(left.drawing, four).centre.x)
    expect(across).toBeCloseTo(points(four.x ?? 0, 1), 6)
  })

  test.each([
    ['letter', letter],
    ['A4', { width: 523, height: 730 }],
    ['letter, across', { width: 720, height: 480 }],
  ])('%s: bars of 100 mm and 4 in. on every sheet, with the words', (_name, page) => {
    for (const surface of surfacesOf(singleDoor()))
      for (const { drawing } of template(surface, page).sheets) {
        // 1 in. is 25.4 mm exactly, and a point here is 1/72 in.
        expect(length(line(drawing, 'bar 100 mm'))).toBeCloseTo((100 / 25.4) * 72, 6)
        expect(length(line(drawing, 'bar 100 mm down'))).toBeCloseTo((100 / 25.4) * 72, 6)
        expect(length(line(drawing, 'bar 4 in.'))).toBeCloseTo(288, 6)
        const words = drawing.shapes.flatMap((shape) => (shape.form === 'text' ? [shape.text] : []))
        expect(words.join(' ')).toContain('Do not drill until both bars measure true.')
        expect(words).toContain('must measure 4 in.')
        expect([drawing.width, drawing.height]).toEqual([page.width, page.height])
        for (const shape of drawing.shapes) {
          const box = boxOf(shape)
          expect(box.left).toBeGreaterThanOrEqual(-0.5)
          expect(box.right).toBeLessThanOrEqual(page.width + 0.5)
          expect(box.bottom).toBeLessThanOrEqual(page.height + 0.5)
        }
      }
  })

  test('a face that fits takes one sheet without crosses', () => {
    const [, leaf] = surfacesOf(singleDoor())
    if (leaf === undefined) throw new Error('a leaf')
    const made = template(leaf, { width: 1100, height: 700 })
    expect(made.sheets).toHaveLength(1)
    expect(made.sheets[0]?.drawing.shapes.some(({ part }) => part?.startsWith('register'))).toBe(false)
  })

  test('a page too small for the bars is refused by its size', () => {
    const [surface] = surfacesOf(singleDoor())
    if (surface === undefined) throw new Error('a surface')
    expect(() => templateDrawing(surface, '101', { width: 200, height: 200 })).toThrow('too small')
    for (const drawing of templateFigure({ heading: '101', surface }, { width: 200, height: 200 }))
      expect(drawing.width).toBeGreaterThan(200)
  })
})
