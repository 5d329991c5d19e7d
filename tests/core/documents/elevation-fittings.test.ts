// Where the fittings of the demo job stand on their elevations.
import { describe, expect, test } from 'vitest'
import { elevationOfOpening, type ElevationBox, type ElevationInput } from '../../../core/documents/index.ts'
import type { JobData, Opening } from '../../../core/job/index.ts'
import { demoRecords, jobDataOf } from '../../../fixtures/index.ts'
import {
  boxOf,
  elevation,
  overlap,
  type Box,
  type Drawing,
  type Shape,
} from '../../../renderer/drawing/index.ts'

const data: JobData = jobDataOf(demoRecords())
const openings: readonly Opening[] = [...data.all('opening')]
const opening = (mark: string): Opening => {
  const found = openings.find((each) => each.mark === mark)
  if (found === undefined) throw new Error(`no opening ${mark}`)
  return found
}
const inch = 25_400
const room = { width: 330, height: 360 }

function around(shapes: readonly Shape[]): Box {
  const boxes = shapes.map((shape) => boxOf('width' in shape ? { ...shape, width: 0 } : shape))
  return {
    left: Math.min(...boxes.map(({ left }) => left)),
    top: Math.min(...boxes.map(({ top }) => top)),
    right: Math.max(...boxes.map(({ right }) => right)),
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)),
  }
}
const partBox = (drawing: Drawing, part: string): Box =>
  around(drawing.shapes.filter((shape) => shape.part === part))
const middle = ({ left, right }: Box): number => (left + right) / 2
const boxes = (input: ElevationInput, tag: string): readonly ElevationBox[] =>
  input.fittings.find((each) => each.tag === tag)?.boxes ?? []

describe('to scale, where pattern and placement say', () => {
  // Surface magnet, 8 1/2 in. body, 7/8 in. from the strike edge. Values of core.md 5, common practice, no source.
  test('a magnet hangs 7/8 in. from the strike edge, its armature under it', () => {
    const [body, armature] = boxes(elevationOfOpening(data, opening('118')), 'M1')
    expect([body?.left, body?.right, body?.top]).toEqual([(7 / 8) * inch, 9.375 * inch, 0])
    expect(armature?.top).toBeGreaterThanOrEqual(0)
    expect(((armature?.left ?? 0) + (armature?.right ?? 0)) / 2).toBeCloseTo((0.875 + 4.25) * inch, 0)
  })

  test('on the pull side it stands on the face of the head', () => {
    const [body] = boxes(elevationOfOpening(data, opening('131')), 'M1')
    expect(body?.bottom).toBeLessThanOrEqual(0)
  })

  // Hand, and the strike side for somebody at the egress side. Source: standards.md 11; turned round: common practice.
  test.each([
    ['118', 'LHR', 'left'],
    ['R03', 'RHR', 'right'],
    ['131', 'RH', 'right'],
    ['243', 'LH', 'left'],
  ] as const)('%s, %s: what belongs at the strike stands at the %s', (mark, hand, at) => {
    const record = opening(mark)
    expect(record.hand).toBe(hand)
    const drawing = elevation(elevationOfOpening(data, record), room)
    const door = middle(partBox(drawing, 'leaf'))
    for (const tag of ['C1', 'R1', 'B1', 'M1'])
      expect(middle(partBox(drawing, `fitting ${tag}`)) < door, tag).toBe(at === 'left')
  })

  test('a pair: each leaf has its own, measured from where the leaves meet', () => {
    const input = elevationOfOpening(data, opening('101'))
    const drawing = elevation(input, room)
    const [active, inactive] = drawing.shapes.filter((shape) => shape.part === 'leaf')
    if (active === undefined || inactive === undefined) throw new Error('two leaves')
    for (const [tag, leaf] of [
      ['X1', active],
      ['X2', inactive],
      ['O1', active],
      ['O2', inactive],
    ] as const) {
      const place = middle(partBox(drawing, `fitting ${tag}`))
      expect(place > boxOf(leaf).left && place < boxOf(leaf).right, tag).toBe(true)
    }
    const sensor = middle(partBox(drawing, 'fitting S1'))
    expect(sensor).toBeCloseTo(middle(partBox(drawing, 'frame')), 6)
  })

  test('heights are true: the reader’s middle is 42 in. above the floor', () => {
    const drawing = elevation(elevationOfOpening(data, opening('118')), room)
    const leaf = partBox(drawing, 'leaf')
    const reader = partBox(drawing, 'fitting R1')
    const perInch = (leaf.bottom - leaf.top) / 84
    expect((leaf.bottom - (reader.top + reader.bottom) / 2) / perInch).toBeCloseTo(42, 6)
  })
})

test('every fitting of the demo job has a place, and nothing left out is drawn', () => {
  for (const each of openings) {
    const { fittings } = elevationOfOpening(data, each)
    expect(
      fittings.filter(({ placement }) => placement === null).map(({ tag }) => `${each.mark} ${tag}`),
    ).toEqual([])
  }
  expect(elevationOfOpening(data, opening('210')).fittings.map(({ tag }) => tag)).not.toContain('B1')
})

test('no tag of the demo job covers a tag or a fitting, from either side', () => {
  const covered: string[] = []
  for (const each of openings)
    for (const seenFrom of ['egress', 'keyed'] as const) {
      const drawing = elevation({ ...elevationOfOpening(data, each), seenFrom }, room)
      const labels = drawing.shapes.flatMap((shape) =>
        shape.form === 'text' && shape.part?.startsWith('label') === true
          ? // Capitals and figures hang on their line.
            [{ text: shape.text, box: { ...boxOf(shape), bottom: shape.at.y } }]
          : [],
      )
      const fittings = drawing.shapes.filter((shape) => shape.part?.startsWith('fitting') === true).map(boxOf)
      for (const [index, { text, box }] of labels.entries())
        for (const other of [...labels.slice(index + 1).map((label) => label.box), ...fittings])
          if (overlap(box, other)) covered.push(`${each.mark} ${seenFrom} ${text}`)
    }
  expect(covered).toEqual([])
})
