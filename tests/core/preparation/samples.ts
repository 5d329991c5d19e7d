// A generic surface magnet as common practice fits it, and doors to fit it on. No maker is meant; bodies are invented.
import type {
  DoorToPrepare,
  FittingToPrepare,
  Pattern,
  PatternHole,
} from '../../../core/preparation/index.ts'

/** Inches to whole micrometres, as records keep them. */
export const inch = (inches: number): number => Math.round(inches * 25_400)

export const bodyWidth = 10.5
const clear = 7 / 8
const middle = clear + bodyWidth / 2

const hole = (
  id: string,
  name: string,
  datum: string,
  across: number,
  along: number,
  rest: Partial<PatternHole>,
): PatternHole => ({
  id,
  name,
  datum,
  acrossMicrometres: inch(across),
  alongMicrometres: inch(along),
  diameterMicrometres: null,
  depthMicrometres: null,
  face: null,
  fastener: null,
  drilledWith: null,
  ...rest,
})

const onHead = 'Strike-side frame edge, and frame stop'
const onLeaf = 'Strike edge of leaf, and top edge of leaf'

const headHoles = (substrate: Pattern['substrate']): PatternHole[] => [
  ...[-4.2, -1.575, 1.575, 4.2].map((offset, place) =>
    hole(`bracket-${place + 1}`, `Bracket ${place + 1}`, onHead, middle + offset, 0.75, {
      face: 'header soffit',
      ...(substrate === 'hollow metal'
        ? {
            diameterMicrometres: inch(3 / 8),
            fastener: 'Blind nut, flush',
            drilledWith: '3/8 in. bit, not oversize',
          }
        : {
            diameterMicrometres: inch(3 / 16),
            depthMicrometres: inch(1.25),
            fastener: 'Wood screw',
            drilledWith: '3/16 in. bit',
          }),
    }),
  ),
  hole('wire', 'Wire', onHead, clear + bodyWidth - 0.75, 1.25, {
    face: 'header soffit',
    diameterMicrometres: inch(1 / 2),
    drilledWith: '1/2 in. bit, at the end nearest the wire run',
  }),
]

const leafHoles = (substrate: Pattern['substrate']): PatternHole[] => {
  const metal = substrate === 'hollow metal'
  return [
    hole('armature', 'Armature centre', onLeaf, middle, 1, {
      face: 'magnet face',
      diameterMicrometres: inch(metal ? 3 / 8 : 1 / 2),
      fastener: 'Through bolt and sleeve nut',
      drilledWith: metal ? '3/8 in. bit' : '1/2 in. bit',
    }),
    ...(metal
      ? [
          hole('armature-outer', 'Armature centre, outer face', onLeaf, middle, 1, {
            face: 'outer face',
            diameterMicrometres: inch(1 / 2),
            depthMicrometres: inch(1 / 8),
            drilledWith: '1/2 in. bit, outer skin only',
          }),
        ]
      : []),
    ...[-1.5, 1.5].map((offset, place) =>
      hole(`pin-${place + 1}`, `Guide pin ${place + 1}`, onLeaf, middle + offset, 1, {
        face: 'magnet face',
        diameterMicrometres: inch(3 / 8),
        depthMicrometres: inch(1),
        drilledWith: '3/8 in. bit',
      }),
    ),
  ]
}

export const pattern = (
  on: 'frame' | 'door',
  substrate: Pattern['substrate'],
  different: Partial<Pattern> = {},
): Pattern => ({
  id: `${on} ${substrate}`,
  name: `${on}, ${substrate}, push side`,
  substrate,
  notes: null,
  on,
  swing: 'push side',
  leaves: 'either',
  bodyName: on === 'frame' ? 'body' : 'armature',
  edgeMicrometres: inch(1 / 2),
  holes: on === 'frame' ? headHoles(substrate) : leafHoles(substrate),
  ...different,
})

/** On the egress side, which is the push side of a reverse hand. */
export const magnet = (different: Partial<FittingToPrepare> = {}): FittingToPrepare => ({
  key: 'M1',
  tag: 'M1',
  partName: 'Surface magnet, generic',
  leaf: null,
  place: 'frame head',
  side: 'egress',
  heightMicrometres: null,
  acrossMicrometres: null,
  patterns: [
    pattern('frame', 'hollow metal'),
    pattern('door', 'hollow metal'),
    pattern('frame', 'solid wood'),
    pattern('door', 'solid wood'),
  ],
  bodies: [
    {
      name: 'body',
      widthMicrometres: inch(bodyWidth),
      heightMicrometres: inch(1.5),
      depthMicrometres: inch(2.5),
      clearMicrometres: inch(clear),
      clearSide: 'frame edge',
    },
    {
      name: 'armature',
      widthMicrometres: inch(7.5),
      heightMicrometres: inch(1.875),
      depthMicrometres: inch(0.5),
      clearMicrometres: null,
      clearSide: null,
    },
  ],
  ...different,
})

/** A 3-0 by 7-0 outswing hollow metal door without a label, everything known. */
export const singleDoor = (different: Partial<DoorToPrepare> = {}): DoorToPrepare => ({
  mark: '101',
  units: 'imperial',
  hand: 'RHR',
  widthMicrometres: inch(36),
  heightMicrometres: inch(84),
  thicknessMicrometres: inch(1.75),
  frameMaterial: 'HM',
  fireLabelMinutes: 0,
  headSoffitMicrometres: inch(2.5),
  leaves: [{ role: 'only', widthMicrometres: null, material: 'HM' }],
  fittings: [magnet()],
  ...different,
})

/** PR 6-0 by 7-0, a magnet on each leaf. */
export const pairOfDoors = (different: Partial<DoorToPrepare> = {}): DoorToPrepare =>
  singleDoor({
    widthMicrometres: inch(72),
    leaves: [
      { role: 'active', widthMicrometres: null, material: 'HM' },
      { role: 'inactive', widthMicrometres: null, material: 'HM' },
    ],
    fittings: [magnet({ leaf: 'active' }), magnet({ key: 'M2', tag: 'M2', leaf: 'inactive' })],
    ...different,
  })

/** A surface closer arm's shoe or the like: a body on the head, placed by hand. */
export const headThing = (tag: string, acrossInches: number | null, widthInches: number): FittingToPrepare =>
  magnet({
    key: tag,
    tag,
    partName: 'Contact housing, generic',
    acrossMicrometres: acrossInches === null ? null : inch(acrossInches),
    patterns: [],
    bodies: [
      {
        name: 'housing',
        widthMicrometres: inch(widthInches),
        heightMicrometres: inch(1),
        depthMicrometres: inch(0.5),
        clearMicrometres: null,
        clearSide: null,
      },
    ],
  })
