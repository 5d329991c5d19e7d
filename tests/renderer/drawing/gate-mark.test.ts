import { describe, expect, test } from 'vitest'
import { gateOf, gateWords, type Gate, type GatePassage } from '../../../core/documents/index.ts'
import {
  boxOf,
  gateHalf,
  gateMark,
  gateMarkName,
  type Drawing,
  type Shape,
} from '../../../renderer/drawing/index.ts'
import { gates, passages } from './samples.ts'

const gate = (into: GatePassage, out: GatePassage, trapped: Gate['trapped'] = 'no'): Gate => ({
  in: into,
  out,
  trapped,
})
const held: GatePassage = { form: 'held' }
const free: GatePassage = { form: 'free' }
const byHardware: GatePassage = { form: 'free by hardware', motions: 1 }

/** "ink polygon 9 3 13 19": form, colour and the box of its corners. */
function said(shape: Shape): string {
  const ink = shape.form === 'polygon' ? shape.fill : shape.ink
  const { left, top, right, bottom } = boxOf({ ...shape, ...('width' in shape ? { width: 0 } : {}) })
  const text = shape.form === 'text' ? ` ${shape.text}` : ''
  const place = shape.form === 'text' ? [shape.at.x] : [left, top, right, bottom]
  return [ink, shape.form, ...place].join(' ') + text
}

/** Each form at its place in the right half, which begins at 23. */
const forms: readonly (readonly [GatePassage | 'trapped', readonly string[]])[] = [
  [held, ['ink polygon 32 3 36 19']],
  [free, ['ink polygon 26 10 37 12', 'ink polygon 36 6 42 16']],
  [byHardware, ['ink polygon 25 5 27 17', 'ink polygon 26 10 37 12', 'ink polygon 36 6 42 16']],
  [
    { form: 'free by hardware', motions: 2 },
    ['ink polygon 25 5 27 17', 'ink polygon 29 5 31 17', 'ink polygon 26 10 37 12', 'ink polygon 36 6 42 16'],
  ],
  [{ form: 'waits', seconds: 15 }, ['ink circle 25 2 43 20', 'ink text 34 15']],
  [{ form: 'waits', seconds: 120 }, ['ink circle 25 2 43 20', 'ink text 34 120']],
  [{ form: 'waits', seconds: 1800 }, ['ink circle 25 2 43 20', 'ink text 34 30m']],
  [{ form: 'not known' }, ['brass circle 25 2 43 20', 'brass text 34 ?']],
  ['trapped', ['red polygon 26 3 42 19', 'sheet polygon 28 5 40 17']],
]

describe('the gate mark', () => {
  test.each(forms)('draws going out %j', (out, shapes) => {
    const mark = out === 'trapped' ? gateMark(gate(held, held, 'yes')) : gateMark(gate(held, out))
    expect(mark.shapes.map(said)).toEqual(['rule polygon 22 0 23 22', 'ink polygon 9 3 13 19', ...shapes])
    expect([mark.width, mark.height]).toEqual([45, 22])
  })

  test('puts going in into the left half, and nothing over the line between', () => {
    for (const each of gates)
      for (const shape of gateMark(each).shapes.slice(1)) {
        const { left, right } = boxOf(shape)
        expect(left >= 0 && right <= 45).toBe(true)
        expect(right <= 22 || left >= 23, JSON.stringify(shape)).toBe(true)
      }
  })

  test('shows a person who cannot get out whatever the way out says, and asks where that is not known', () => {
    const half = (each: Gate): readonly string[] => gateMark(each).shapes.slice(2).map(said)
    expect(half(gate(held, free, 'yes'))).toEqual(half(gate(held, held, 'yes')))
    expect(half(gate(held, held, 'unknown'))).toEqual(half(gate(held, { form: 'not known' })))
  })

  test('differs for every pair of ways, without colour and by name', () => {
    const plain = (drawing: Drawing): string =>
      JSON.stringify(drawing.shapes.map((shape) => said(shape).replace(/^\w+ /, '')))
    expect(new Set(gates.map((each) => plain(gateMark(each)))).size).toBe(gates.length)
    expect(new Set(gates.map((each) => gateMark(each).name)).size).toBe(gates.length)
    expect(new Set(passages.map((each) => plain(gateHalf(each)))).size).toBe(passages.length)
  })

  test('has straight edges on whole pixels at 22', () => {
    const points = gateMark(gate(byHardware, held)).shapes.flatMap((shape) =>
      shape.form === 'polygon' ? [...shape.points] : [],
    )
    expect(points.length).toBeGreaterThan(8)
    expect(points.filter(({ x, y }) => x % 1 !== 0 || y % 1 !== 0)).toEqual([])
  })

  test('grows with its height', () => {
    const small = gateMark(gate(held, free))
    const large = gateMark(gate(held, free), { height: 44 })
    expect([large.width, large.height]).toEqual([small.width * 2, small.height * 2])
    expect(boxOf(large.shapes[1] as Shape)).toEqual({ left: 18, top: 6, right: 26, bottom: 38 })
  })

  test.each<[Gate, string]>([
    [gate(held, byHardware), 'in held, out free by hardware'],
    [gate(free, { form: 'free by hardware', motions: 2 }), 'in free, out free by 2 motions of hardware'],
    [gate(held, { form: 'waits', seconds: 15 }), 'in held, out waits 15 seconds'],
    [gate({ form: 'waits', seconds: 1 }, held), 'in waits 1 second, out held'],
    [gate(held, held, 'yes'), 'in held, out held: a person cannot get out'],
    [
      gate(held, { form: 'not known' }, 'unknown'),
      'in held, out not known: not known whether a person can get out',
    ],
  ])('is named: %j, %s', (each, words) => {
    expect(gateMarkName(each)).toBe(words)
    expect(gateWords(each)).toBe(words)
    expect(gateMark(each).name).toBe(words)
  })

  test('is made of a result: several pieces of hardware are several motions', () => {
    const by = (name: string) => ({ id: name, name, motion: 'lever' as const })
    const out = { form: 'free by hardware', by: [by('L1'), by('T1')] } as const
    const into = {
      form: 'not known',
      atBest: { form: 'free' },
      atWorst: { form: 'held' },
      missing: [],
    } as const
    expect(gateOf({ in: into, out }, 'no')).toEqual(
      gate({ form: 'not known' }, { form: 'free by hardware', motions: 2 }),
    )
  })
})
