import { describe, expect, test } from 'vitest'
import {
  prepareDoor,
  type DoorToPrepare,
  type FittingToPrepare,
  type PatternHole,
  type PreparationCheck,
} from '../../../core/preparation/index.ts'
import { headThing, inch, magnet, pairOfDoors, pattern, singleDoor } from './samples.ts'

const checksFor = (door: DoorToPrepare, tag = 'M1'): readonly PreparationCheck[] =>
  prepareDoor(door).preparations.find((each) => each.tag === tag)?.checks ?? []
const checkOf = (door: DoorToPrepare, key: string, tag?: string): PreparationCheck => {
  const found = checksFor(door, tag).find((each) => each.key === key)
  if (found === undefined) throw new Error(`no check ${key}`)
  return found
}

const hole = (name: string, across: number, along: number, rest: Partial<PatternHole> = {}): PatternHole => ({
  id: `${name} ${across} ${along}`,
  name,
  datum: 'Strike edge of leaf, and top edge of leaf',
  acrossMicrometres: inch(across),
  alongMicrometres: inch(along),
  diameterMicrometres: inch(0.5),
  depthMicrometres: null,
  face: null,
  fastener: null,
  drilledWith: null,
  ...rest,
})
/** A fitting of holes on the face of the leaf only. */
const onLeaf = (holes: readonly PatternHole[], different: Partial<FittingToPrepare> = {}): FittingToPrepare =>
  magnet({
    place: 'leaf',
    bodies: [],
    patterns: [pattern('door', 'hollow metal', { holes, bodyName: null })],
    ...different,
  })
const withHoles = (holes: readonly PatternHole[], different: Partial<DoorToPrepare> = {}): DoorToPrepare =>
  singleDoor({ fittings: [onLeaf(holes)], ...different })
const wire = (rest: Partial<PatternHole> = {}): PatternHole => hole('Wire', 12, 12, rest)
const closer = (
  tag: string,
  across: number,
  different: Partial<FittingToPrepare> = {},
): FittingToPrepare => ({
  ...headThing(tag, across, 4),
  ...different,
})

type Row = readonly [what: string, door: DoorToPrepare, key: string, verdict: string, sentence: RegExp]

const rows: readonly Row[] = [
  // Edges: the least is the pattern's own; 1/2 in. here is invented.
  ['all far enough', singleDoor(), 'edges', 'met', /far enough/],
  [
    'a hole nearer to the edge than the pattern asks',
    withHoles([hole('Bolt', 0.4, 12)]),
    'edges',
    'caution',
    /^Hole 1 \(Bolt\) is 3\/8" from the strike edge of the leaf; the pattern asks at least 1\/2"\.$/,
  ],
  ['a hole over the edge', withHoles([hole('Bolt', 12, 0.2)]), 'edges', 'caution', /runs over the top edge/],
  [
    'over the hinge edge of a narrow leaf',
    withHoles([hole('Bolt', 12, 12)], { widthMicrometres: inch(12.1) }),
    'edges',
    'caution',
    /hinge edge/,
  ],
  [
    'an unknown width',
    withHoles([hole('Bolt', 12, 12)], { widthMicrometres: null }),
    'edges',
    'not known',
    /not known/,
  ],
  [
    'a pattern that does not say',
    singleDoor({
      fittings: [onLeaf([], { patterns: [pattern('door', 'hollow metal', { edgeMicrometres: null })] })],
    }),
    'edges',
    'not known',
    /not known/,
  ],

  // Clearance: 7/8 in. Common practice, no source.
  ['as the pattern has it', singleDoor(), 'clearance', 'met', /7\/8" beside it .* needs 7\/8"/],
  [
    'placed too near the frame edge',
    singleDoor({ fittings: [magnet({ acrossMicrometres: inch(5.75) })] }),
    'clearance',
    'caution',
    /stands 1\/2" from the strike-side frame edge; 7\/8" must stay clear/,
  ],
  [
    'something stands where the body slides',
    singleDoor({ fittings: [magnet({ acrossMicrometres: inch(12) }), closer('C1', 4.25)] }),
    'clearance',
    'caution',
    /C1 stands in the 7\/8"/,
  ],
  [
    'a body of unknown size',
    singleDoor({ fittings: [magnet({ bodies: [] })] }),
    'clearance',
    'not known',
    /not known/,
  ],
  [
    'a body that is known to need none',
    singleDoor({
      fittings: [magnet({ bodies: magnet().bodies.map((body) => ({ ...body, clearMicrometres: 0 })) })],
    }),
    'clearance',
    'does not apply',
    /Nothing of it slides/,
  ],
  ['two magnets of a pair', pairOfDoors(), 'clearance', 'met', /Nothing stands in the 7\/8"/],
  [
    'two magnets of a pair, too near each other',
    pairOfDoors({
      fittings: [
        magnet({ leaf: 'active', acrossMicrometres: inch(5.5) }),
        magnet({ key: 'M2', tag: 'M2', leaf: 'inactive', acrossMicrometres: inch(5.5) }),
      ],
    }),
    'clearance',
    'caution',
    /M2 stands in the 7\/8"/,
  ],

  // The head.
  ['a head that is deep enough', singleDoor(), 'header', 'met', /flat for 2 1\/2"/],
  [
    'a head that is too shallow',
    singleDoor({ headSoffitMicrometres: inch(1.25) }),
    'header',
    'caution',
    /1 1\/4".*1 1\/2" is needed.*filler or an angle bracket/,
  ],
  [
    'a head that nobody measured',
    singleDoor({ headSoffitMicrometres: null }),
    'header',
    'not known',
    /shape is not known/,
  ],
  ['nothing in the head', withHoles([hole('Bolt', 12, 12)]), 'header', 'does not apply', /Nothing/],

  // Depth.
  ['blind holes that stay blind', singleDoor(), 'depth', 'met', /1" in a leaf of 1 3\/4"/],
  [
    'a leaf too thin for them',
    singleDoor({ thicknessMicrometres: inch(1) }),
    'depth',
    'caution',
    /come through/,
  ],
  ['an unknown thickness', singleDoor({ thicknessMicrometres: null }), 'depth', 'not known', /not known/],

  // Overlap.
  ['alone', singleDoor(), 'overlap', 'met', /keeps clear/],
  [
    'under another body',
    singleDoor({ fittings: [magnet(), closer('C1', 10)] }),
    'overlap',
    'caution',
    /Hole 4 \(Bracket 4\) lies under the housing of C1\./,
  ],
  [
    'beside another body',
    singleDoor({ fittings: [magnet(), closer('C1', 20)] }),
    'overlap',
    'met',
    /keeps clear/,
  ],
  [
    'on the other side of the head',
    singleDoor({ fittings: [magnet(), closer('C1', 10, { side: 'keyed' })] }),
    'overlap',
    'met',
    /keeps clear/,
  ],
  [
    'beside something whose place nobody gave',
    singleDoor({ fittings: [magnet(), closer('C1', 10, { place: null })] }),
    'overlap',
    'not known',
    /not known/,
  ],
  [
    'beside something on the wall',
    singleDoor({ fittings: [magnet(), closer('R1', 10, { place: 'wall' })] }),
    'overlap',
    'met',
    /keeps clear/,
  ],
  [
    'a hole that meets the hole of another fitting',
    singleDoor({
      fittings: [onLeaf([hole('Bolt', 12, 12)]), onLeaf([hole('Pin', 12.3, 12)], { key: 'X', tag: 'X1' })],
    }),
    'overlap',
    'caution',
    /Hole 1 \(Bolt\) meets hole 1 \(Pin\) of X1/,
  ],
  [
    'a through hole under a body on the other face',
    singleDoor({
      fittings: [onLeaf([hole('Bolt', 12, 12)]), headThingOnLeaf('P1', 'keyed')],
    }),
    'overlap',
    'caution',
    /lies under the housing of P1/,
  ],
  [
    'a blind hole under a body on the other face',
    singleDoor({
      fittings: [
        onLeaf([hole('Pin', 12, 12, { depthMicrometres: inch(1) })]),
        headThingOnLeaf('P1', 'keyed'),
      ],
    }),
    'overlap',
    'met',
    /keeps clear/,
  ],
  [
    'two holes of one pattern that meet',
    withHoles([hole('Bolt', 12, 12), hole('Pin', 12.4, 12)]),
    'overlap',
    'caution',
    /Hole 1 \(Bolt\) meets hole 2 \(Pin\)/,
  ],

  // Labels. Source: standards.md 3, [S56][S57] for 1 in., [S58] for raceways, [S59] for pockets.
  ['no label', singleDoor(), 'fire label', 'does not apply', /no fire label/],
  [
    'a label nobody asked after',
    singleDoor({ fireLabelMinutes: null }),
    'fire label',
    'not known',
    /limits what may be drilled/,
  ],
  [
    'a 90 minute label',
    singleDoor({ fireLabelMinutes: 90 }),
    'fire label',
    'met',
    /No round hole is larger than 1 in/,
  ],
  [
    'exactly 1 in.',
    withHoles([hole('Bolt', 12, 12, { diameterMicrometres: inch(1) })], { fireLabelMinutes: 20 }),
    'fire label',
    'met',
    /1 in/,
  ],
  [
    'more than 1 in.',
    withHoles([hole('Bolt', 12, 12, { diameterMicrometres: inch(1 + 1 / 16) })], { fireLabelMinutes: 20 }),
    'fire label',
    'caution',
    /Hole 1: more than 1 in\./,
  ],
  [
    'a cut pocket',
    withHoles(
      [
        hole('Pocket', 12, 12, {
          diameterMicrometres: null,
          cutOut: { widthMicrometres: inch(1), heightMicrometres: inch(3) },
        }),
      ],
      { fireLabelMinutes: 45 },
    ),
    'fire label pockets',
    'caution',
    /listing laboratory/,
  ],
  [
    'a wire hole in the leaf',
    withHoles([wire()], { fireLabelMinutes: 45 }),
    'fire label wire hole',
    'caution',
    /permits it/,
  ],

  // Size.
  [
    'a hole without a size',
    withHoles([hole('Bolt', 12, 12, { diameterMicrometres: null })]),
    'hole size',
    'not known',
    /size of hole 1/,
  ],
]

function headThingOnLeaf(tag: string, side: 'keyed' | 'egress'): FittingToPrepare {
  return {
    ...headThing(tag, 12, 4),
    place: 'leaf',
    side,
    heightMicrometres: inch(84 - 12),
  }
}

describe('checks', () => {
  test.each(rows)('%s', (_what, door, key, verdict, sentence) => {
    const check = checkOf(door, key)
    expect(check.verdict).toBe(verdict)
    expect(check.sentence).toMatch(sentence)
    expect(check.questions.length > 0).toBe(verdict === 'not known')
  })

  test('each check shows a verdict that is met and one that is not, or why not', () => {
    const seen = new Map<string, Set<string>>()
    for (const [, , key, verdict] of rows) seen.set(key, (seen.get(key) ?? new Set()).add(verdict))
    for (const key of ['edges', 'clearance', 'header', 'depth', 'overlap', 'fire label'])
      expect([...(seen.get(key) ?? [])]).toEqual(expect.arrayContaining(['met', 'caution', 'not known']))
  })

  test('a limit of a label carries its source and how far it was confirmed', () => {
    expect(checkOf(singleDoor({ fireLabelMinutes: 90 }), 'fire label').source).toEqual({
      words: 'NFPA 80 2013 and 2016, 4.1.3; 2022, 5.1.5.2: job-site preparation',
      standing: 'verified',
    })
    const raceway = checkOf(withHoles([wire()], { fireLabelMinutes: 45 }), 'fire label wire hole')
    expect(raceway.source?.standing).toBe('from memory')
  })

  test('it may be drilled only when every check is met or does not apply', () => {
    const may = (door: DoorToPrepare): boolean | undefined => prepareDoor(door).preparations[0]?.mayDrill
    expect(may(singleDoor())).toBe(true)
    expect(may(singleDoor({ headSoffitMicrometres: null }))).toBe(false)
    expect(may(singleDoor({ hand: null }))).toBe(false)
    expect(may(singleDoor({ fittings: [magnet({ acrossMicrometres: inch(5.75) })] }))).toBe(false)
  })

  test('a fitting whose part keeps no pattern is named, not prepared', () => {
    const result = prepareDoor(singleDoor({ fittings: [magnet(), closer('C1', 20)] }))
    expect(result.preparations.map(({ tag }) => tag)).toEqual(['M1'])
    expect(result.withoutPattern).toEqual(['C1'])
  })
})
