// The steps of fitting, in order, with the cautions that belong to each; all from the pattern and the bodies.
import type { DoorToPrepare, PlacedHole, PlacedPattern, SurfaceName, WorkStep } from './model.ts'
import { tapeText } from './tape.ts'

const surfaceWords: Readonly<Record<SurfaceName, string>> = {
  'frame head': 'the underside of the frame head',
  'frame head face': 'the face of the frame head',
  'frame strike jamb': 'the strike jamb',
  'frame hinge jamb': 'the hinge jamb',
  'leaf face': 'the face of the leaf',
  'leaf top edge': 'the top edge of the leaf',
  'leaf strike edge': 'the strike edge of the leaf',
  'leaf hinge edge': 'the hinge edge of the leaf',
}

const numbersOf = (holes: readonly PlacedHole[]): string => {
  const numbers = holes.map(({ number }) => number)
  const [first, last] = [numbers[0], numbers.at(-1)]
  if (first === undefined || last === undefined || numbers.length === 1) return `hole ${first ?? ''}`
  const isRun = last - first === numbers.length - 1
  if (isRun && numbers.length > 2) return `holes ${first} to ${last}`
  return `holes ${numbers.slice(0, -1).join(', ')} and ${last}`
}

/** Holes that are drilled alike, one after another. */
function runs(holes: readonly PlacedHole[]): PlacedHole[][] {
  const found: PlacedHole[][] = []
  for (const hole of holes) {
    const run = found.at(-1)
    const before = run?.[0]
    const alike =
      before !== undefined &&
      before.surface === hole.surface &&
      before.sizeText === hole.sizeText &&
      before.depthText === hole.depthText &&
      before.otherFace === hole.otherFace &&
      before.fastener === hole.fastener
    if (alike) run?.push(hole)
    else found.push([hole])
  }
  return found
}

const sentence = (parts: readonly (string | null)[]): string => `${parts.filter(Boolean).join(', ')}.`
const isArmature = (name: string): boolean => /armature/i.test(name)
const forWire = (name: string): boolean => /\b(wires?|wiring|cables?|leads?|raceway)\b/i.test(name)

/** Steps for one placed pattern; empty where nothing could be placed. */
export function stepsOf(door: DoorToPrepare, placed: PlacedPattern): readonly WorkStep[] {
  if (placed.holes.length === 0) return []
  const onFrame = placed.holes.filter(({ surface }) => surface.startsWith('frame'))
  const onLeaf = placed.holes.filter(({ surface }) => surface.startsWith('leaf'))
  return [
    ...before(door, placed),
    ...part(door, placed, onFrame, 'frame'),
    ...part(door, placed, onLeaf, 'leaf'),
    ...after(placed),
  ]
}

function before(door: DoorToPrepare, placed: PlacedPattern): WorkStep[] {
  const labelled = door.fireLabelMinutes !== null && door.fireLabelMinutes > 0
  return [
    {
      words: `Check that this is ${door.mark} and that ${placed.tag} is ${placed.partName}.`,
      cautions: [
        'Do not drill while any check on the preparation sheet is refused or not known.',
        ...(labelled
          ? [
              `Door or frame bears a ${door.fireLabelMinutes} minute label: drill nothing that this sheet does not show.`,
            ]
          : []),
      ],
    },
    {
      words: 'Set it by its bench sheet before it is mounted.',
      cautions: ['Covers close over jumpers and switches once it hangs.'],
    },
    {
      words: 'Measure frame and leaf, and compare them with the sheet.',
      cautions: [
        'Sizes of the schedule are nominal. If the tape disagrees, stop and have the sheet made again.',
      ],
    },
    {
      words: 'Adjust the door first: hinges, closer and latch work and the leaf rests on its stop.',
      cautions: ['What is marked from a door that sags or springs will not line up later.'],
    },
  ]
}

function part(
  door: DoorToPrepare,
  placed: PlacedPattern,
  holes: readonly PlacedHole[],
  on: 'frame' | 'leaf',
): WorkStep[] {
  if (holes.length === 0) return []
  const [first] = holes
  const surface = first === undefined ? '' : surfaceWords[first.surface]
  const steps: WorkStep[] = [
    {
      words: `Mark ${numbersOf(holes)} on ${surface}, by the tape or with the full-size template.`,
      cautions: [
        'Use the template only when its bars measure true.',
        ...(on === 'leaf'
          ? ['Shut the door tight against its stop before anything is marked on the leaf.']
          : []),
      ],
    },
    ...runs(holes).map((run) => drillStep(door, run)),
  ]
  const body = placed.bodies.find(({ name }) => isArmature(name) === (on === 'leaf'))
  const bolted = holes.filter(({ fastener }) => fastener !== null)
  if (bolted.length > 0)
    steps.push({
      words: `Fix the ${body?.name ?? 'part'} at ${numbersOf(bolted)}: ${[...new Set(bolted.map(({ fastener }) => fastener))].join('; ')}.`,
      cautions: fixingCautions(door, on, body?.name ?? null, body?.clearMicrometres ?? null, holes),
    })
  return steps
}

function drillStep(door: DoorToPrepare, run: readonly PlacedHole[]): WorkStep {
  const [hole] = run
  if (hole === undefined) return { words: '', cautions: [] }
  const blind = hole.depthMicrometres !== null
  const verb = hole.cutOut !== null ? 'Cut' : 'Drill'
  const words = sentence([
    `${verb} ${numbersOf(run)} (${[...new Set(run.map(({ name }) => name.replace(/ \d+$/, '')))].join(', ')})`,
    hole.sizeText,
    hole.depthText,
    hole.otherFace ? `from the other face: ${hole.face ?? ''}` : null,
    hole.drilledWith === null ? null : `with ${hole.drilledWith}`,
  ])
  const cautions: string[] = []
  if (blind)
    cautions.push(
      `Do not drill through. Set a depth stop at ${tapeText(hole.depthMicrometres ?? 0, door.units)}${hole.otherFace ? ' and stop as soon as the skin is open' : ''}.`,
    )
  if (run.some(({ name }) => forWire(name)))
    cautions.push(
      'Look for what runs behind before drilling. Take the burr off and line the hole, so that no wire chafes.',
    )
  if (!blind && hole.surface === 'leaf face')
    cautions.push('Drill square to the face; start from each side where the skin could tear.')
  return { words, cautions }
}

function fixingCautions(
  door: DoorToPrepare,
  on: 'frame' | 'leaf',
  body: string | null,
  clear: number | null,
  holes: readonly PlacedHole[],
): string[] {
  const cautions: string[] = []
  if (on === 'frame' && holes.some(({ name }) => forWire(name)))
    cautions.push('Pull the wires through first. No wire may be pinched between body and frame.')
  if (on === 'frame' && clear !== null)
    cautions.push(`Keep ${tapeText(clear, door.units)} clear beside it, or it will not slide on and off.`)
  if (body !== null && isArmature(body))
    cautions.push(
      'Leave it free to pivot on its washers; a bolt drawn tight takes the hold away.',
      'Do not file, drill or paint its face.',
    )
  return cautions
}

function after(placed: PlacedPattern): WorkStep[] {
  const meets = placed.bodies.some(({ name }) => isArmature(name))
  return [
    {
      words: meets
        ? 'Shut the door slowly: the whole face of the armature must lie on the body, with nothing between.'
        : 'Shut the door slowly and see that nothing binds or rubs.',
      cautions: [
        'Keep hands out of the gap. Someone must be able to open the door from inside at all times.',
      ],
    },
    {
      words: 'Wire it, then prove it by the proofs of this opening.',
      cautions: ['Wiring by those whom local rules allow. Leave the door free until it is proved.'],
    },
  ]
}
