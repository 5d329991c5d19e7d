// What common practice gives for a generic surface magnet on hollow metal and on solid wood. Each value: common practice,
// no source; they are listed in the project's own notes on preparation.
import { describe, expect, test } from 'vitest'
import {
  placePattern,
  prepareDoor,
  type PlacedHole,
  type PlacedPattern,
} from '../../../core/preparation/index.ts'
import { bodyWidth, inch, magnet, singleDoor } from './samples.ts'

const fitted: Readonly<Record<'hollow metal' | 'solid wood', PlacedPattern>> = {
  'hollow metal': placePattern(singleDoor(), magnet()),
  'solid wood': placePattern(
    singleDoor({
      frameMaterial: 'Wood',
      leaves: [{ role: 'only', widthMicrometres: null, material: 'SCWD' }],
    }),
    magnet(),
  ),
}

type Row = readonly [
  material: 'hollow metal' | 'solid wood',
  hole: string,
  size: string,
  depth: string,
  drill: string | null,
  source: 'common practice, no source',
]
const source = 'common practice, no source'

const rows: readonly Row[] = [
  ['hollow metal', 'Bracket 1', '3/8"', 'through', '3/8 in. bit, not oversize', source],
  ['hollow metal', 'Bracket 4', '3/8"', 'through', '3/8 in. bit, not oversize', source],
  ['hollow metal', 'Wire', '1/2"', 'through', '1/2 in. bit, at the end nearest the wire run', source],
  ['hollow metal', 'Armature centre', '3/8"', 'through', '3/8 in. bit', source],
  [
    'hollow metal',
    'Armature centre, outer face',
    '1/2"',
    '1/8" deep, blind',
    '1/2 in. bit, outer skin only',
    source,
  ],
  ['hollow metal', 'Guide pin 1', '3/8"', '1" deep, blind', '3/8 in. bit', source],
  ['hollow metal', 'Guide pin 2', '3/8"', '1" deep, blind', '3/8 in. bit', source],
  ['solid wood', 'Bracket 1', '3/16"', '1 1/4" deep, blind', '3/16 in. bit', source],
  ['solid wood', 'Wire', '1/2"', 'through', '1/2 in. bit, at the end nearest the wire run', source],
  ['solid wood', 'Armature centre', '1/2"', 'through', '1/2 in. bit', source],
  ['solid wood', 'Guide pin 1', '3/8"', '1" deep, blind', '3/8 in. bit', source],
]

const named = (placed: PlacedPattern, name: string): PlacedHole => {
  const hole = placed.holes.find((each) => each.name === name)
  if (hole === undefined) throw new Error(`no hole ${name}`)
  return hole
}

describe('a generic surface magnet', () => {
  test.each(rows)('%s: %s is %s, %s, %s (%5$s)', (material, name, size, depth, drill) => {
    const hole = named(fitted[material], name)
    expect(hole.sizeText).toBe(size)
    expect(hole.depthText).toBe(depth)
    expect(hole.drilledWith).toBe(drill)
  })

  test('the larger hole of the outer face is drilled after the through hole that guides it', () => {
    const metal = fitted['hollow metal']
    const through = named(metal, 'Armature centre')
    const outer = named(metal, 'Armature centre, outer face')
    expect(outer.number).toBe(through.number + 1)
    expect([outer.x, outer.y]).toEqual([through.x, through.y])
    expect(outer.otherFace).toBe(true)
    expect(fitted['solid wood'].holes.some(({ otherFace }) => otherFace)).toBe(false)
  })

  test('7/8 in. is clear beside the body, to the frame edge', () => {
    const head = fitted['hollow metal'].surfaces.find(({ name }) => name === 'frame head')
    expect(head?.bodies).toEqual([
      { name: 'body', left: inch(7 / 8), right: inch(7 / 8 + bodyWidth), top: 0, bottom: inch(1.5) },
    ])
  })

  test('nuts are flush, the armature is free to pivot, the whole face touches', () => {
    const [prepared] = prepareDoor(singleDoor()).preparations
    const words = prepared?.steps.flatMap((step) => [step.words, ...step.cautions]).join('\n') ?? ''
    for (const expected of [
      'Blind nut, flush',
      'Shut the door tight',
      'Do not drill through',
      'free to pivot on its washers',
      'the whole face of the armature',
      'No wire may be pinched',
      'Keep 7/8" clear',
    ])
      expect(words).toContain(expected)
    // The frame before the leaf, the leaf before the door is shut on it.
    expect(words.indexOf('frame head')).toBeLessThan(words.indexOf('face of the leaf'))
    expect(words.indexOf('face of the leaf')).toBeLessThan(words.indexOf('the whole face'))
  })
})
