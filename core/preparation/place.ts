// Lays a part's pattern on one opening: every hole on its surface, with the tape's dimensions.
import {
  lineWords,
  meetingLine,
  readDatum,
  surfaceOf,
  type AcrossLine,
  type AlongLine,
  type Datum,
} from './datum.ts'
import { strikeSeenFrom, swingAt } from './hang.ts'
import { leafOf, leafWidth, scheduler, type ChosenLeaf } from './leaves.ts'
import type {
  Body,
  DoorToPrepare,
  FittingToPrepare,
  Pattern,
  PatternHole,
  PlacedBody,
  PlacedHole,
  PlacedPattern,
  PreparationCheck,
  PreparationQuestion,
  PreparedSurface,
  Side,
  SurfaceName,
  Swing,
  Tape,
} from './model.ts'
import { readSubstrate } from './substrate.ts'
import { drillText, tapeText } from './tape.ts'

/** Order of work: the frame first, then the leaf, whose holes are marked from what hangs on the frame. */
const surfaceOrder: readonly SurfaceName[] = [
  'frame head',
  'frame head face',
  'frame strike jamb',
  'frame hinge jamb',
  'leaf face',
  'leaf top edge',
  'leaf strike edge',
  'leaf hinge edge',
]

interface Situation {
  readonly door: DoorToPrepare
  readonly fitting: FittingToPrepare
  readonly chosen: ChosenLeaf
  readonly leafWidth: number | null
  readonly swing: Swing | null
}

/** A hole with the surface and the lines it was found on. */
interface Found {
  readonly hole: PatternHole
  readonly pattern: Pattern
  readonly datum: Datum
  readonly surface: SurfaceName
}

const nothingPlaced = (fitting: FittingToPrepare, checks: readonly PreparationCheck[]): PlacedPattern => ({
  key: fitting.key,
  tag: fitting.tag,
  partName: fitting.partName,
  leaf: null,
  side: fitting.side,
  swing: null,
  surfaces: [],
  holes: [],
  patterns: [],
  bodies: fitting.bodies,
  checks,
})

const asks = (key: string, sentence: string, ...questions: PreparationQuestion[]): PreparationCheck => ({
  key,
  verdict: 'not known',
  sentence,
  questions,
  source: null,
})

/**
 * The pattern of one fitting, placed on its opening. What cannot be placed is left out and said in the checks; nothing is
 * assumed in its place. Left and right never change a tape's dimension: it starts at the strike or the hinge edge.
 */
export function placePattern(door: DoorToPrepare, fitting: FittingToPrepare): PlacedPattern {
  const chosen = leafOf(door, fitting)
  if ('words' in chosen)
    return nothingPlaced(fitting, [asks('leaf', `Nothing is placed until the leaf is known.`, chosen)])
  const swing = door.hand === null || fitting.side === null ? null : swingAt(door.hand, fitting.side)
  const situation: Situation = { door, fitting, chosen, leafWidth: leafWidth(door, chosen.leaf), swing }
  const frame = patternsOn('frame', door.frameMaterial, situation)
  const leaf = patternsOn('door', chosen.leaf.material, situation)
  const found = [...frame.found, ...leaf.found]
  const shift = shiftOf(found, fitting)
  const holes = numbered(found).map(({ each, number }) =>
    placedHole(each, number, shift.micrometres, situation),
  )
  return {
    key: fitting.key,
    tag: fitting.tag,
    partName: fitting.partName,
    leaf: chosen.leaf.role,
    side: fitting.side,
    swing,
    surfaces: surfacesOf(holes, found, situation),
    holes,
    patterns: [...new Set(found.map(({ pattern }) => pattern))],
    bodies: fitting.bodies,
    checks: [...frame.checks, ...leaf.checks, ...shift.checks, ...heightChecks(found, situation)],
  }
}

interface Chosen {
  readonly found: readonly Found[]
  readonly checks: readonly PreparationCheck[]
}

/** The holes that belong on the frame or on the door, from the patterns that serve its material, swing and leaves. */
function patternsOn(on: 'frame' | 'door', material: string | null, situation: Situation): Chosen {
  const { door, fitting, chosen, swing } = situation
  const key = `pattern on ${on}`
  const holesFor = (pattern: Pattern): readonly Found[] =>
    pattern.on !== null && pattern.on !== on
      ? []
      : pattern.holes.flatMap((hole) => {
          const found = whereIs(hole, pattern, fitting)
          return found !== null && isOnFrame(found.surface) === (on === 'frame') ? [found] : []
        })
  const useful = fitting.patterns.filter((pattern) => holesFor(pattern).length > 0)
  const unread = on === 'frame' ? unreadHoles(fitting) : []
  if (useful.length === 0) return { found: [], checks: unread }
  const refused = (
    verdict: 'caution' | 'not known',
    sentence: string,
    question?: PreparationQuestion,
  ): Chosen => ({
    found: [],
    checks: [
      ...unread,
      { key, verdict, sentence, questions: question === undefined ? [] : [question], source: null },
    ],
  })
  const read = readSubstrate(material, on === 'frame' ? 'frame' : 'leaf')
  if (read === null)
    return refused(
      'not known',
      `The ${on} of ${door.mark} is not known to be of a material that patterns are kept for.`,
      {
        words: `What is the ${on} of ${door.mark} made of${material === null ? '' : ` ("${material}")`}?`,
        whoCanSay: scheduler,
      },
    )
  const phrase = read.substrate
  const ofMaterial = useful.filter(({ substrate }) => substrate === read.substrate)
  if (ofMaterial.length === 0)
    return refused(
      'caution',
      `${fitting.partName} has no pattern for ${withArticle(`${phrase} ${on}`)}. Do not adapt another.`,
    )
  const ofLeaves = ofMaterial.filter(
    ({ leaves }) => leaves === null || leaves === 'either' || (leaves === 'pair') === chosen.isPair,
  )
  const kindOfDoor = chosen.isPair ? 'a pair' : 'a single door'
  if (ofLeaves.length === 0)
    return refused(
      'caution',
      `${fitting.partName} has no pattern for ${kindOfDoor} with ${withArticle(`${phrase} ${on}`)}.`,
    )
  const bySwing = ofLeaves.filter((pattern) => pattern.swing === 'either' || pattern.swing === swing)
  const someSwing = ofLeaves.some((pattern) => pattern.swing !== 'either')
  if (swing === null && someSwing) {
    const missing =
      door.hand === null
        ? { words: `What is the hand of ${door.mark}?`, whoCanSay: scheduler }
        : {
            words: `On which side of ${door.mark} does ${fitting.tag} stand, keyed or egress?`,
            whoCanSay: scheduler,
          }
    return refused('not known', 'Whether it goes on the push side or the pull side is not known.', missing)
  }
  if (swing !== null && bySwing.length === 0) {
    const open = ofLeaves.find((pattern) => pattern.swing === null)
    return open === undefined
      ? refused(
          'caution',
          `${fitting.partName} has no pattern for the ${swing} of ${withArticle(`${phrase} ${on}`)}.`,
        )
      : refused('not known', `Pattern "${open.name}" does not say which side it is for.`, {
          words: `Is pattern "${open.name}" for the push side or the pull side?`,
          whoCanSay: 'the part’s own papers',
        })
  }
  const [pattern, another] = bySwing
  if (pattern === undefined) return { found: [], checks: unread }
  if (another !== undefined)
    return refused(
      'not known',
      `Several patterns of ${fitting.partName} suit ${withArticle(`${phrase} ${on}`)}.`,
      {
        words: `Which pattern is used on ${door.mark}: ${bySwing.map(({ name }) => `"${name}"`).join(' or ')}?`,
        whoCanSay: scheduler,
      },
    )
  const solid: readonly PreparationCheck[] =
    read.doubt === null
      ? []
      : [
          asks('solid door', 'The pattern is for solid wood; screws do not hold in a hollow core.', {
            words: read.doubt,
            whoCanSay: scheduler,
          }),
        ]
  const pair: readonly PreparationCheck[] =
    chosen.isPair && pattern.leaves === null
      ? [
          asks(
            `pair on ${on}`,
            'A pair has no strike-side frame edge: the pattern is placed from the line where the leaves meet.',
            { words: `Does pattern "${pattern.name}" serve a pair?`, whoCanSay: 'the part’s own papers' },
          ),
        ]
      : []
  const met: PreparationCheck = {
    key,
    verdict: 'met',
    sentence: `Pattern "${pattern.name}" is for ${withArticle(`${phrase} ${on}`)}${pattern.swing === 'either' ? '' : `, ${pattern.swing ?? ''}`}.`,
    questions: [],
    source: null,
  }
  return { found: holesFor(pattern), checks: [...unread, met, ...solid, ...pair] }
}

const withArticle = (words: string): string => `${/^[aeiou]/.test(words) ? 'an' : 'a'} ${words}`
const isOnFrame = (surface: SurfaceName): boolean => surface.startsWith('frame')

function whereIs(hole: PatternHole, pattern: Pattern, fitting: FittingToPrepare): Found | null {
  const datum = readDatum(hole.datum)
  const form = datum === null ? null : surfaceOf(datum)
  if (datum === null || form === null) return null
  const surface = surfaceName(form, hole, fitting)
  return surface === null ? null : { hole, pattern, datum, surface }
}

function surfaceName(
  form: NonNullable<ReturnType<typeof surfaceOf>>,
  hole: PatternHole,
  fitting: FittingToPrepare,
): SurfaceName | null {
  if (form === 'head') return 'frame head'
  if (form === 'head face') return 'frame head face'
  if (form === 'leaf top') return 'leaf top edge'
  if (form === 'leaf face') return 'leaf face'
  // The hole's own word counts before the fitting's place.
  const isHinge = saysHinge(hole.face ?? '') ?? saysHinge(fitting.place ?? '')
  if (isHinge === null) return null
  if (form === 'jamb') return isHinge ? 'frame hinge jamb' : 'frame strike jamb'
  return isHinge ? 'leaf hinge edge' : 'leaf strike edge'
}

/** Hinge side or strike side; null where the words name neither, or both. */
function saysHinge(words: string): boolean | null {
  const hinge = /hinge/i.test(words)
  return hinge === /strike|lock|latch/i.test(words) ? null : hinge
}

function unreadHoles(fitting: FittingToPrepare): readonly PreparationCheck[] {
  const unread = fitting.patterns.flatMap((pattern) =>
    pattern.holes
      .filter((hole) => whereIs(hole, pattern, fitting) === null)
      .map((hole) => ({ pattern, hole })),
  )
  const once = new Map(unread.map((each) => [each.hole.id, each]))
  return [...once.values()].map(({ pattern, hole }) =>
    asks(
      `datum of ${hole.id}`,
      `Hole "${hole.name}" of pattern "${pattern.name}" is left out: its lines are not understood.`,
      {
        words: `From which edge and which line is "${hole.name}" measured ("${hole.datum}"), and on which jamb or edge?`,
        whoCanSay: 'whoever keeps the parts',
      },
    ),
  )
}

/** The smaller of two drills at one place goes first: it guides the larger. */
function numbered(found: readonly Found[]): readonly { readonly each: Found; readonly number: number }[] {
  return found
    .toSorted((one, other) => surfaceOrder.indexOf(one.surface) - surfaceOrder.indexOf(other.surface))
    .toSorted((one, other) =>
      one.surface === other.surface &&
      one.hole.acrossMicrometres === other.hole.acrossMicrometres &&
      one.hole.alongMicrometres === other.hole.alongMicrometres
        ? (one.hole.diameterMicrometres ?? 0) - (other.hole.diameterMicrometres ?? 0)
        : 0,
    )
    .map((each, index) => ({ each, number: index + 1 }))
}

/** Where the body's middle is by the pattern: the middle of its fixing holes, from the strike side. */
const bodyMiddle = (found: readonly Found[]): number | null => {
  const across = found
    .filter(({ hole, datum }) => hole.fastener !== null && isFromStrike(datum.across))
    .map(({ hole }) => hole.acrossMicrometres)
  return across.length === 0 ? null : (Math.min(...across) + Math.max(...across)) / 2
}
const isFromStrike = (line: AcrossLine): boolean =>
  line === 'strike frame edge' || line === 'strike edge of leaf'

interface Shift {
  readonly micrometres: number
  readonly checks: readonly PreparationCheck[]
}

/** How far this opening's placing moves the whole pattern towards the hinges. */
function shiftOf(found: readonly Found[], fitting: FittingToPrepare): Shift {
  const none: Shift = { micrometres: 0, checks: [] }
  if (fitting.acrossMicrometres === null || found.length === 0) return none
  const head = found.filter(({ surface }) => isOnFrame(surface))
  const middle = bodyMiddle(head.length > 0 ? head : found)
  if (middle === null)
    return {
      micrometres: 0,
      checks: [
        asks(
          'placing',
          `${fitting.tag} is placed by hand, but its pattern has no fixing holes to place it by.`,
          {
            words: `Which hole of ${fitting.partName} marks the middle of its body?`,
            whoCanSay: 'whoever keeps the parts',
          },
        ),
      ],
    }
  return { micrometres: fitting.acrossMicrometres - middle, checks: [] }
}

function heightChecks(found: readonly Found[], { door, fitting }: Situation): readonly PreparationCheck[] {
  const needsHeight = found.some(({ datum }) => datum.along === 'centreline of fitting')
  if (!needsHeight || fitting.heightMicrometres !== null) return []
  return [
    asks('height', `How high ${fitting.tag} stands is not known, so its holes have no height.`, {
      words: `How high above the finished floor is the centreline of ${fitting.tag} on ${door.mark}?`,
      whoCanSay: scheduler,
    }),
  ]
}

function placedHole(
  { hole, datum, surface }: Found,
  number: number,
  shift: number,
  situation: Situation,
): PlacedHole {
  const { door } = situation
  const across = acrossOf(hole, datum.across, shift, situation)
  const along = alongOf(hole, datum.along, situation)
  const diameter = hole.diameterMicrometres
  const cutOut = hole.cutOut ?? null
  return {
    number,
    id: hole.id,
    name: hole.name,
    surface,
    x: across.x,
    y: along.y,
    across: across.tape,
    along: along.tape,
    acrossAgain: across.again,
    diameterMicrometres: diameter,
    cutOut,
    depthMicrometres: hole.depthMicrometres,
    sizeText:
      diameter !== null
        ? drillText(diameter, door.units)
        : cutOut !== null
          ? `${drillText(cutOut.widthMicrometres, door.units)} by ${drillText(cutOut.heightMicrometres, door.units)} cut-out`
          : 'size not known',
    depthText:
      hole.depthMicrometres === null
        ? 'through'
        : `${tapeText(hole.depthMicrometres, door.units)} deep, blind`,
    face: hole.face,
    otherFace: /\b(outer|other|opposite|far|back)\b/i.test(hole.face ?? ''),
    fastener: hole.fastener,
    drilledWith: hole.drilledWith,
  }
}

interface Across {
  readonly x: number | null
  readonly tape: Tape | null
  readonly again: Tape | null
}

function acrossOf(hole: PatternHole, line: AcrossLine, shift: number, situation: Situation): Across {
  const { units } = situation.door
  const width = situation.leafWidth
  const tape = (micrometres: number, from: string, towards: string): Tape => ({
    micrometres,
    text: tapeText(micrometres, units),
    from,
    towards,
  })
  const toHinges = 'towards the hinges'
  const toStrike = situation.chosen.isPair ? 'towards the other leaf' : 'towards the strike side'
  switch (line) {
    case 'strike frame edge':
    case 'strike edge of leaf': {
      const x = hole.acrossMicrometres + shift
      const isFrame = line === 'strike frame edge'
      const from = isFrame && situation.chosen.isPair ? meetingLine : lineWords[line]
      const again = isFrame ? lineWords['hinge frame edge'] : lineWords['hinge edge of leaf']
      return {
        x,
        tape: tape(x, from, toHinges),
        again: width === null ? null : tape(width - x, again, toStrike),
      }
    }
    case 'hinge frame edge':
    case 'hinge edge of leaf': {
      const fromHinge = hole.acrossMicrometres - shift
      const isFrame = line === 'hinge frame edge'
      const strike = isFrame
        ? situation.chosen.isPair
          ? meetingLine
          : lineWords['strike frame edge']
        : lineWords['strike edge of leaf']
      return {
        x: width === null ? null : width - fromHinge,
        tape: tape(fromHinge, lineWords[line], toStrike),
        again: width === null ? null : tape(width - fromHinge, strike, toHinges),
      }
    }
    case 'centreline of leaf': {
      if (width === null)
        return { x: null, tape: tape(hole.acrossMicrometres, lineWords[line], toHinges), again: null }
      const x = width / 2 + hole.acrossMicrometres
      return {
        x,
        tape: tape(x, lineWords['strike edge of leaf'], toHinges),
        again: tape(width - x, lineWords['hinge edge of leaf'], toStrike),
      }
    }
    case 'centreline of edge':
      return {
        x: hole.acrossMicrometres,
        tape: tape(hole.acrossMicrometres, lineWords[line], 'towards the opposite face'),
        again: null,
      }
    case 'frame stop':
      return {
        x: hole.acrossMicrometres,
        tape: tape(hole.acrossMicrometres, lineWords[line], 'away from the door'),
        again: null,
      }
  }
}

interface Along {
  readonly y: number | null
  readonly tape: Tape | null
}

function alongOf(hole: PatternHole, line: AlongLine, { door, fitting }: Situation): Along {
  const height = door.heightMicrometres
  const tape = (micrometres: number, from: string, towards: string): Tape => ({
    micrometres,
    text: tapeText(micrometres, door.units),
    from,
    towards,
  })
  const along = hole.alongMicrometres
  switch (line) {
    case 'frame stop':
      return { y: along, tape: tape(along, lineWords[line], 'away from the door') }
    case 'frame head':
    case 'top edge of leaf':
      return { y: along, tape: tape(along, lineWords[line], 'down') }
    case 'floor':
      return {
        y: height === null ? null : height - along,
        tape: tape(along, lineWords[line], 'up'),
      }
    case 'lower edge of frame face':
      return { y: along, tape: tape(along, lineWords[line], 'up') }
    case 'pull face of leaf':
      return { y: along, tape: tape(along, lineWords[line], 'towards the push face') }
    // How high the leaf's foot stands over the floor is not known, so it is not drawn.
    case 'bottom edge of leaf':
      return { y: null, tape: tape(along, lineWords[line], 'up') }
    case 'centreline of fitting': {
      if (fitting.heightMicrometres === null) return { y: null, tape: null }
      const up = fitting.heightMicrometres + along
      return { y: height === null ? null : height - up, tape: tape(up, lineWords.floor, 'up') }
    }
  }
}

const titles: Readonly<Record<SurfaceName, string>> = {
  'frame head': 'Underside of the frame head, looking up, the door below',
  'frame head face': 'Face of the frame head, over the door',
  'frame strike jamb': 'Strike jamb',
  'frame hinge jamb': 'Hinge jamb',
  'leaf face': 'Face of the leaf',
  'leaf top edge': 'Top edge of the leaf, looking down, the pull side below',
  'leaf strike edge': 'Strike edge of the leaf',
  'leaf hinge edge': 'Hinge edge of the leaf',
}

function surfacesOf(
  holes: readonly PlacedHole[],
  found: readonly Found[],
  situation: Situation,
): readonly PreparedSurface[] {
  const { door, fitting, chosen } = situation
  const strikeAt =
    door.hand === null || fitting.side === null
      ? null
      : strikeSeenFrom(door.hand, fitting.side, chosen.leaf.role === 'inactive')
  return surfaceOrder.flatMap((name) => {
    const here = holes.filter(({ surface }) => surface === name)
    if (here.length === 0) return []
    const onFrame = isOnFrame(name)
    const edges = edgesOf(name, chosen.isPair)
    return [
      {
        name,
        title: titleOf(name, fitting.side, chosen),
        units: door.units,
        ...extentOf(name, situation),
        strikeAt,
        ...edges,
        meetsOtherLeaf: chosen.isPair && (name === 'frame head' || name === 'frame head face'),
        holes: here,
        bodies: bodiesOn(name, here, found, fitting, onFrame),
      },
    ]
  })
}

function titleOf(name: SurfaceName, side: Side | null, { leaf, isPair }: ChosenLeaf): string {
  const words = isPair ? [titles[name], `${leaf.role} leaf`] : [titles[name]]
  if (side !== null) words.push(`${side} side`)
  return words.join(', ')
}

function edgesOf(
  name: SurfaceName,
  isPair: boolean,
): { readonly acrossFrom: string; readonly alongFrom: string } {
  switch (name) {
    case 'frame head':
      return {
        acrossFrom: isPair ? 'leaves meet' : 'strike-side frame edge',
        alongFrom: 'frame stop, door this side',
      }
    case 'frame head face':
      return {
        acrossFrom: isPair ? 'leaves meet' : 'strike-side frame edge',
        alongFrom: 'lower edge of the face',
      }
    case 'leaf face':
      return { acrossFrom: 'strike edge of leaf', alongFrom: 'top edge of leaf' }
    case 'leaf top edge':
      return { acrossFrom: 'strike edge of leaf', alongFrom: 'pull face, this side' }
    case 'frame strike jamb':
    case 'frame hinge jamb':
      return { acrossFrom: 'frame stop', alongFrom: 'frame head' }
    case 'leaf strike edge':
    case 'leaf hinge edge':
      return { acrossFrom: 'middle line of the edge', alongFrom: 'top edge of leaf' }
  }
}

/** Flat from the stop outwards: on the pull side the rabbet, which takes the leaf; else the soffit. */
export const headDepth = (door: DoorToPrepare, swing: Swing | null): number | null =>
  swing === 'pull side' ? door.thicknessMicrometres : door.headSoffitMicrometres

function extentOf(
  name: SurfaceName,
  { door, leafWidth: width, swing }: Situation,
): { readonly widthMicrometres: number | null; readonly heightMicrometres: number | null } {
  switch (name) {
    case 'frame head':
      return { widthMicrometres: width, heightMicrometres: headDepth(door, swing) }
    case 'frame head face':
      return { widthMicrometres: width, heightMicrometres: null }
    case 'leaf face':
      return { widthMicrometres: width, heightMicrometres: door.heightMicrometres }
    case 'leaf top edge':
      return { widthMicrometres: width, heightMicrometres: door.thicknessMicrometres }
    case 'frame strike jamb':
    case 'frame hinge jamb':
      return { widthMicrometres: null, heightMicrometres: door.heightMicrometres }
    case 'leaf strike edge':
    case 'leaf hinge edge':
      return { widthMicrometres: door.thicknessMicrometres, heightMicrometres: door.heightMicrometres }
  }
}

/** A body hangs on its fixing holes and is centred on them. Common practice, no source. */
function bodiesOn(
  name: SurfaceName,
  here: readonly PlacedHole[],
  found: readonly Found[],
  fitting: FittingToPrepare,
  onFrame: boolean,
): readonly PlacedBody[] {
  const pattern = found.find(({ surface }) => surface === name)?.pattern
  const body = pattern === undefined ? null : bodyFor(pattern, fitting.bodies, onFrame)
  if (body === null || body.widthMicrometres === null || body.heightMicrometres === null) return []
  const fixings = here.filter(({ fastener, otherFace }) => fastener !== null && !otherFace)
  const xs = fixings.flatMap(({ x }) => x ?? [])
  const ys = fixings.flatMap(({ y }) => y ?? [])
  if (xs.length === 0 || ys.length === 0) return []
  const middle = (values: readonly number[]): number => (Math.min(...values) + Math.max(...values)) / 2
  const [x, y] = [middle(xs), middle(ys)]
  return [
    {
      name: body.name,
      left: x - body.widthMicrometres / 2,
      right: x + body.widthMicrometres / 2,
      top: y - body.heightMicrometres / 2,
      bottom: y + body.heightMicrometres / 2,
    },
  ]
}

/** The body a pattern names; else the armature on the leaf, and the other one on the frame. */
export function bodyFor(pattern: Pattern, bodies: readonly Body[], onFrame: boolean): Body | null {
  if (pattern.bodyName !== null) return bodies.find((body) => body.name === pattern.bodyName) ?? null
  const isArmature = (body: Body): boolean => /armature/i.test(body.name)
  return bodies.find((body) => isArmature(body) !== onFrame) ?? null
}
