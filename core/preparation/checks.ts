// What must hold before anything is drilled. Every check says met, caution, does not apply or not known, in a sentence.
import { onSite, scheduler } from './leaves.ts'
import { jobSiteHoles, largestRoundHoleMicrometres, pockets, raceways } from './limits.ts'
import type {
  DoorToPrepare,
  LimitSource,
  Pattern,
  PlacedHole,
  PlacedPattern,
  PreparationCheck,
  PreparationQuestion,
  PreparedSurface,
  Verdict,
} from './model.ts'
import { capital, neighboursOn, onSurface, overlapCheck, reachOf } from './overlap.ts'
import { rectanglesMeet } from './geometry.ts'
import { bodyFor, headDepth } from './place.ts'
import { tapeText } from './tape.ts'

const papers = 'the part’s own papers'

const check = (
  key: string,
  verdict: Verdict,
  sentence: string,
  questions: readonly PreparationQuestion[] = [],
  source: LimitSource | null = null,
): PreparationCheck => ({ key, verdict, sentence, questions, source })

const called = ({ number, name }: PlacedHole): string => `hole ${number} (${name})`
const listed = (holes: readonly PlacedHole[]): string =>
  holes.length === 1
    ? `hole ${String(holes[0]?.number)}`
    : `holes ${holes.map(({ number }) => number).join(', ')}`

/** Everything that can be checked of one placed pattern; `all` holds every fitting of the opening. */
export function checksOf(
  door: DoorToPrepare,
  placed: PlacedPattern,
  all: readonly PlacedPattern[],
): readonly PreparationCheck[] {
  if (placed.holes.length === 0) return placed.checks
  return [
    ...placed.checks,
    ...sizeChecks(placed),
    edgeCheck(door, placed),
    clearanceCheck(door, placed, all),
    headerCheck(door, placed),
    depthCheck(door, placed),
    overlapCheck(door, placed, all),
    ...labelChecks(door, placed),
    sizeOfDoorCheck(door, placed),
  ]
}

function sizeChecks({ holes }: PlacedPattern): PreparationCheck[] {
  const unsized = holes.filter((hole) => reachOf(hole) === null)
  if (unsized.length === 0) return []
  return [
    check('hole size', 'not known', `The size of ${listed(unsized)} is not known.`, [
      { words: `What size is ${unsized.map(called).join(', ')}?`, whoCanSay: papers },
    ]),
  ]
}

interface Reach {
  readonly fromRim: number
  readonly fromMiddle: number
  readonly edge: string
}

/** From a hole to each edge of its face that is known; an edge nobody measured is named. */
function reaches(
  hole: PlacedHole,
  surface: PreparedSurface,
): { readonly known: Reach[]; readonly unknown: string[] } {
  const known: Reach[] = []
  const unknown: string[] = []
  const { x, y } = hole
  const halfWidth = hole.cutOut === null ? reachOf(hole) : hole.cutOut.widthMicrometres / 2
  const halfHeight = hole.cutOut === null ? reachOf(hole) : hole.cutOut.heightMicrometres / 2
  if (halfWidth === null || halfHeight === null) return { known, unknown }
  const near = (fromMiddle: number | null, half: number, edge: string): void => {
    if (fromMiddle === null) unknown.push(edge)
    else known.push({ fromMiddle, fromRim: fromMiddle - half, edge })
  }
  const { widthMicrometres: width, heightMicrometres: height } = surface
  switch (surface.name) {
    case 'frame head':
      // Where the leaves of a pair meet the head runs on.
      if (!surface.meetsOtherLeaf) near(x, halfWidth, 'the strike-side frame edge')
      near(x === null || width === null ? null : width - x, halfWidth, 'the hinge-side frame edge')
      near(y, halfHeight, 'the frame stop')
      break
    // How high the face is, is not kept: the pattern's notes say what it needs.
    case 'frame head face':
      if (!surface.meetsOtherLeaf) near(x, halfWidth, 'the strike-side frame edge')
      near(x === null || width === null ? null : width - x, halfWidth, 'the hinge-side frame edge')
      near(y, halfHeight, 'the lower edge of the frame’s face')
      break
    case 'leaf top edge':
      near(x, halfWidth, 'the strike edge of the leaf')
      near(x === null || width === null ? null : width - x, halfWidth, 'the hinge edge of the leaf')
      near(y, halfHeight, 'the pull face of the leaf')
      near(y === null || height === null ? null : height - y, halfHeight, 'the push face of the leaf')
      break
    case 'leaf face':
      near(x, halfWidth, 'the strike edge of the leaf')
      near(x === null || width === null ? null : width - x, halfWidth, 'the hinge edge of the leaf')
      near(y, halfHeight, 'the top edge of the leaf')
      near(y === null || height === null ? null : height - y, halfHeight, 'the foot of the leaf')
      break
    case 'frame strike jamb':
    case 'frame hinge jamb':
      near(x, halfWidth, 'the frame stop')
      break
    case 'leaf strike edge':
    case 'leaf hinge edge':
      near(width === null || x === null ? null : width / 2 - Math.abs(x), halfWidth, 'the face of the leaf')
      break
  }
  return { known, unknown }
}

/** The pattern that was placed on a face; one kept for frame and door alike was placed once for each. */
const patternOf = ({ patterns }: PlacedPattern, { name, holes }: PreparedSurface): Pattern | undefined =>
  patterns.find(
    (pattern) =>
      (pattern.on === null || (pattern.on === 'frame') === name.startsWith('frame')) &&
      pattern.holes.some(({ id }) => holes.some((hole) => hole.id === id)),
  )

function edgeCheck(door: DoorToPrepare, placed: PlacedPattern): PreparationCheck {
  const tape = (micrometres: number): string => tapeText(micrometres, door.units)
  const sentences: string[] = []
  const questions = new Map<string, PreparationQuestion>()
  for (const surface of placed.surfaces)
    for (const hole of surface.holes) {
      const pattern = patternOf(placed, surface)
      const least = pattern?.edgeMicrometres ?? null
      const { known, unknown } = reaches(hole, surface)
      for (const { fromRim, fromMiddle, edge } of known)
        if (fromRim < 0) sentences.push(`${capital(called(hole))} runs over ${edge}.`)
        else if (least !== null && fromMiddle < least)
          sentences.push(
            `${capital(called(hole))} is ${tape(fromMiddle)} from ${edge}; the pattern asks at least ${tape(least)}.`,
          )
      if (least === null && pattern !== undefined)
        questions.set(pattern.id, {
          words: `How near to an edge may the middle of a hole of pattern "${pattern.name}" be?`,
          whoCanSay: papers,
        })
      for (const edge of unknown)
        questions.set(edge, {
          words: `How far are the holes from ${edge} on ${door.mark}?`,
          whoCanSay: onSite,
        })
    }
  if (sentences.length > 0) return check('edges', 'caution', sentences.join(' '))
  if (questions.size > 0)
    return check('edges', 'not known', 'Whether every hole is far enough from the edges is not known.', [
      ...questions.values(),
    ])
  return check('edges', 'met', 'Every hole is far enough from the edges.')
}

/** Room beside a body, so that it can slide on and off. */
function clearanceCheck(
  door: DoorToPrepare,
  placed: PlacedPattern,
  all: readonly PlacedPattern[],
): PreparationCheck {
  const key = 'clearance'
  const tape = (micrometres: number): string => tapeText(micrometres, door.units)
  if (placed.bodies.length === 0)
    return check(key, 'not known', 'Whether the body can slide on and off is not known.', [
      {
        words: `How large is the body of ${placed.partName}, and what is kept clear beside it?`,
        whoCanSay: papers,
      },
    ])
  const sentences: string[] = []
  const met: string[] = []
  const questions: PreparationQuestion[] = []
  for (const surface of placed.surfaces) {
    const onFrame = surface.name.startsWith('frame')
    const pattern = patternOf(placed, surface)
    if (pattern === undefined) continue
    const body = bodyFor(pattern, placed.bodies, onFrame)
    if (body === null || (body.clearMicrometres === null && body.clearSide === null && !onFrame)) continue
    const stands = surface.bodies.find(({ name }) => name === body.name)
    // Known to need none.
    if (body.clearMicrometres === 0) continue
    if (body.clearMicrometres === null || body.clearSide === null) {
      questions.push({
        words: `How much is kept clear beside the ${body.name} of ${placed.partName}, and to which edge?`,
        whoCanSay: papers,
      })
      continue
    }
    if (stands === undefined) {
      questions.push({ words: `How large is the ${body.name} of ${placed.partName}?`, whoCanSay: papers })
      continue
    }
    const atHinge = /hinge/i.test(body.clearSide)
    const clear = body.clearMicrometres
    const width = surface.widthMicrometres
    const room = atHinge ? (width === null ? null : width - stands.right) : stands.left
    if (room === null) {
      questions.push({ words: `How wide is ${door.mark}?`, whoCanSay: scheduler })
      continue
    }
    const edge = atHinge
      ? 'the hinge side'
      : surface.meetsOtherLeaf
        ? 'where the leaves meet'
        : surface.acrossFrom
    const roomEnds = !surface.meetsOtherLeaf || atHinge
    if (roomEnds && room < clear)
      sentences.push(
        `The ${body.name} ${room < 0 ? `runs ${tape(-room)} over` : `stands ${tape(room)} from`} the ${edge}; ${tape(clear)} must stay clear for it to slide off.`,
      )
    const strip = atHinge
      ? { ...stands, left: stands.right, right: stands.right + clear }
      : { ...stands, right: stands.left, left: stands.left - clear }
    const [turnedStrip] = onSurface({ ...surface, holes: [], bodies: [strip] }, placed).rectangles
    const neighbours = neighboursOn(door, placed, surface, all)
    for (const { tag, there, opposite } of neighbours.known)
      if (
        !opposite &&
        turnedStrip !== undefined &&
        there.rectangles.some((other) => rectanglesMeet(turnedStrip, other))
      )
        sentences.push(`${tag} stands in the ${tape(clear)} that the ${body.name} needs to slide off.`)
    questions.push(...neighbours.questions)
    met.push(
      roomEnds
        ? `The ${body.name} has ${tape(room)} beside it to the ${edge}, and needs ${tape(clear)}.`
        : `Nothing stands in the ${tape(clear)} that the ${body.name} needs to slide off.`,
    )
  }
  if (sentences.length > 0) return check(key, 'caution', sentences.join(' '))
  if (questions.length > 0)
    return check(key, 'not known', 'Whether the body can slide on and off is not known.', questions)
  return met.length > 0
    ? check(key, 'met', met.join(' '))
    : check(key, 'does not apply', 'Nothing of it slides on.')
}

/** The head must be flat and deep enough for holes and body. */
function headerCheck(door: DoorToPrepare, placed: PlacedPattern): PreparationCheck {
  const key = 'header'
  const head = placed.surfaces.find(({ name }) => name === 'frame head')
  if (head === undefined) return check(key, 'does not apply', 'Nothing is drilled in the frame head.')
  const tape = (micrometres: number): string => tapeText(micrometres, door.units)
  const bodies = head.bodies
  const overStop = bodies.find(({ top }) => top < 0)
  if (overStop !== undefined)
    return check(
      key,
      'caution',
      `The ${overStop.name} reaches ${tape(-overStop.top)} past the stop, into the way of the door.`,
    )
  const needed = Math.max(
    ...head.holes.flatMap((hole) =>
      hole.y === null
        ? []
        : [hole.y + (hole.cutOut === null ? (reachOf(hole) ?? 0) : hole.cutOut.heightMicrometres / 2)],
    ),
    ...bodies.map(({ bottom }) => bottom),
  )
  const soffit = headDepth(door, placed.swing)
  if (soffit === null)
    return check(
      key,
      'not known',
      `The head must be flat for ${tape(needed)} from the stop; its shape is not known.`,
      [
        {
          words:
            placed.swing === 'pull side'
              ? `How thick is the leaf of ${door.mark}, which the rabbet takes?`
              : `How deep is the flat underside of the frame head of ${door.mark}, from the stop outwards?`,
          whoCanSay: placed.swing === 'pull side' ? scheduler : onSite,
        },
      ],
    )
  return soffit < needed
    ? check(
        key,
        'caution',
        `The head is flat for ${tape(soffit)} from the stop and ${tape(needed)} is needed: it wants a filler or an angle bracket, which has a pattern of its own.`,
      )
    : check(key, 'met', `The head is flat for ${tape(soffit)} from the stop; ${tape(needed)} is needed.`)
}

/** A blind hole must stay blind. */
function depthCheck(door: DoorToPrepare, { holes }: PlacedPattern): PreparationCheck {
  const key = 'depth'
  const tape = (micrometres: number): string => tapeText(micrometres, door.units)
  const blind = holes.filter(
    ({ surface, depthMicrometres }) => surface === 'leaf face' && depthMicrometres !== null,
  )
  if (blind.length === 0) return check(key, 'does not apply', 'No blind hole goes into the face of the leaf.')
  const deepest = Math.max(...blind.flatMap(({ depthMicrometres }) => depthMicrometres ?? []))
  const thickness = door.thicknessMicrometres
  if (thickness === null)
    return check(key, 'not known', `Whether ${tape(deepest)} stays inside the leaf is not known.`, [
      { words: `How thick is the leaf of ${door.mark}?`, whoCanSay: scheduler },
    ])
  const tooDeep = blind.filter(({ depthMicrometres }) => (depthMicrometres ?? 0) >= thickness)
  return tooDeep.length > 0
    ? check(key, 'caution', `${capital(listed(tooDeep))} would come through a leaf of ${tape(thickness)}.`)
    : check(key, 'met', `The deepest blind hole is ${tape(deepest)} in a leaf of ${tape(thickness)}.`)
}

const forWire = ({ name }: PlacedHole): boolean => /\b(wires?|wiring|cables?|leads?|raceway)\b/i.test(name)

function labelChecks(door: DoorToPrepare, { holes }: PlacedPattern): PreparationCheck[] {
  const key = 'fire label'
  if (door.fireLabelMinutes === 0)
    return [check(key, 'does not apply', 'It bears no fire label.', [], jobSiteHoles)]
  if (door.fireLabelMinutes === null)
    return [
      check(
        key,
        'not known',
        'Whether door and frame bear a fire label is not known; it limits what may be drilled on site.',
        [{ words: `Does ${door.mark} bear a fire label, and of how many minutes?`, whoCanSay: onSite }],
        jobSiteHoles,
      ),
    ]
  const tooLarge = holes.filter(
    ({ diameterMicrometres }) => (diameterMicrometres ?? 0) > largestRoundHoleMicrometres,
  )
  const cut = holes.filter(({ cutOut }) => cutOut !== null)
  const unsized = holes.filter((hole) => reachOf(hole) === null)
  const wires = holes.filter((hole) => hole.surface.startsWith('leaf') && forWire(hole))
  const label = `${door.fireLabelMinutes} minute label`
  const found: PreparationCheck[] = []
  if (tooLarge.length > 0)
    found.push(
      check(
        key,
        'caution',
        `${capital(listed(tooLarge))}: more than 1 in. may not be drilled on site under a ${label}, unless the listings of door and hardware both allow it.`,
        [],
        jobSiteHoles,
      ),
    )
  else if (unsized.length > 0)
    found.push(
      check(
        key,
        'not known',
        `Whether ${listed(unsized)} is within the 1 in. that a ${label} allows is not known.`,
        [{ words: `What size is ${unsized.map(called).join(', ')}?`, whoCanSay: papers }],
        jobSiteHoles,
      ),
    )
  else
    found.push(check(key, 'met', `No round hole is larger than 1 in. under its ${label}.`, [], jobSiteHoles))
  if (cut.length > 0)
    found.push(
      check(
        'fire label pockets',
        'caution',
        `${capital(listed(cut))} ${cut.length === 1 ? 'is a cut pocket' : 'are cut pockets'}: under a ${label} the listing laboratory decides before it is cut.`,
        [],
        pockets,
      ),
    )
  if (wires.length > 0)
    found.push(
      check(
        'fire label wire hole',
        'caution',
        `${capital(listed(wires))} ${wires.length === 1 ? 'is a wire hole' : 'are wire holes'} in a leaf with a ${label}: only where the listing laboratory permits it.`,
        [],
        raceways,
      ),
    )
  return found
}

/** Sizes from the schedule are nominal; the tape's second dimension shows when the leaf is another. */
function sizeOfDoorCheck(door: DoorToPrepare, { holes, tag }: PlacedPattern): PreparationCheck {
  const key = 'door size'
  const unplaced = holes.filter(({ x, y }) => x === null || y === null)
  if (unplaced.length === 0) return check(key, 'met', `Every hole of ${tag} has its place.`)
  const questions: PreparationQuestion[] = []
  if (unplaced.some(({ x }) => x === null))
    questions.push({ words: `How wide is ${door.mark}, and each leaf?`, whoCanSay: scheduler })
  if (unplaced.some(({ y }) => y === null))
    questions.push({ words: `How high is ${door.mark}?`, whoCanSay: scheduler })
  return check(
    key,
    'not known',
    `${capital(listed(unplaced))} cannot be drawn or checked: the size of the door is not known.`,
    questions,
  )
}
