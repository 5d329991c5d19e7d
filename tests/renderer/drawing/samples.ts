// Gates and doors to draw: every form, every hand from both sides, and what is not known.
import type {
  ElevationFitting,
  ElevationInput,
  Gate,
  GatePassage,
  Placement,
} from '../../../core/documents/index.ts'

export const passages: readonly GatePassage[] = [
  { form: 'held' },
  { form: 'free' },
  { form: 'free by hardware', motions: 1 },
  { form: 'free by hardware', motions: 2 },
  { form: 'waits', seconds: 15 },
  { form: 'not known' },
]

/** Every way in with every way out, and the two that speak of a person who cannot get out. */
export const gates: readonly Gate[] = passages.flatMap((into) => [
  ...passages.map((out): Gate => ({ in: into, out, trapped: 'no' })),
  { in: into, out: { form: 'held' }, trapped: 'yes' },
])

export const inch = (inches: number): number => inches * 25_400

export const fitting = (
  tag: string,
  placement: Placement | null,
  side: ElevationFitting['side'],
  leaf: ElevationFitting['leaf'] = 'active',
): ElevationFitting => ({ tag, placement, side, leaf })

/** A 3-0 by 7-0 single door, imperial, seen from the egress side. */
export const door = (different: Partial<ElevationInput> = {}): ElevationInput => ({
  units: 'imperial',
  seenFrom: 'egress',
  widthMicrometres: inch(36),
  heightMicrometres: inch(84),
  hand: 'LHR',
  leaves: { form: 'single' },
  fittings: [],
  ...different,
})

export const pair = (different: Partial<ElevationInput> = {}): ElevationInput =>
  door({
    widthMicrometres: inch(72),
    leaves: { form: 'pair', activeWidthMicrometres: null, inactiveWidthMicrometres: null },
    ...different,
  })

export const magnetDoor = [
  fitting('M1', 'head at the lock side', 'egress'),
  fitting('S1', 'over the door', 'egress'),
  fitting('B1', 'release beside the door', 'egress'),
  fitting('R1', 'reader beside the door', 'keyed'),
  fitting('D1', 'head contact', 'within'),
  fitting('L1', 'lock stile', 'within'),
  fitting('F1', 'elsewhere', null),
]

export const fullPair = [
  fitting('X1', 'across the leaf', 'egress'),
  fitting('X2', 'across the leaf', 'egress', 'inactive'),
  fitting('T1', 'hinge jamb', 'within'),
  fitting('T2', 'hinge jamb', 'within', 'inactive'),
  fitting('O1', 'head at the hinge side', 'egress'),
  fitting('O2', 'head at the hinge side', 'egress', 'inactive'),
  fitting('S1', 'over the door', 'egress'),
  fitting('D1', 'head contact', 'within'),
  fitting('D2', 'head contact', 'within', 'inactive'),
  fitting('E1', 'bolt at the head', 'within', 'inactive'),
  fitting('E2', 'bolt at the floor', 'within', 'inactive'),
  fitting('R1', 'reader beside the door', 'keyed'),
  fitting('K1', 'reader beside the door', 'egress'),
  fitting('H1', 'wall hold-open', 'egress', 'inactive'),
  fitting('H2', 'head hold-open', 'egress'),
]

const strikeDoor = [
  fitting('E1', 'lock jamb', 'within'),
  fitting('L1', 'lock stile', 'within'),
  fitting('R1', 'reader beside the door', 'keyed'),
  fitting('D1', 'head contact', 'within'),
]

export const elevations: readonly { readonly title: string; readonly input: ElevationInput }[] = [
  { title: 'LHR from the egress side', input: door({ fittings: magnetDoor }) },
  { title: 'LHR from the keyed side', input: door({ fittings: magnetDoor, seenFrom: 'keyed' }) },
  { title: 'LH from the keyed side', input: door({ hand: 'LH', seenFrom: 'keyed', fittings: strikeDoor }) },
  { title: 'RH from the keyed side', input: door({ hand: 'RH', seenFrom: 'keyed', fittings: strikeDoor }) },
  { title: 'RHR from the keyed side', input: door({ hand: 'RHR', seenFrom: 'keyed', fittings: strikeDoor }) },
  { title: 'RH, exit device', input: door({ hand: 'RH', fittings: fullPair.slice(0, 4) }) },
  { title: 'Pair RHR from the egress side', input: pair({ hand: 'RHR', fittings: fullPair }) },
  {
    title: 'Pair RHR from the keyed side',
    input: pair({ hand: 'RHR', fittings: fullPair, seenFrom: 'keyed' }),
  },
  {
    title: 'Unequal pair, metric',
    input: pair({
      units: 'metric',
      hand: 'LH',
      seenFrom: 'keyed',
      widthMicrometres: 1_500_000,
      heightMicrometres: 2_100_000,
      leaves: { form: 'pair', activeWidthMicrometres: 1_000_000, inactiveWidthMicrometres: null },
      fittings: [fitting('L1', 'lock stile', 'within'), fitting('E1', 'lock jamb', 'within', 'active')],
    }),
  },
  { title: 'Hand not known', input: door({ hand: null, fittings: magnetDoor }) },
  {
    title: 'Size not known',
    input: door({ widthMicrometres: null, heightMicrometres: null, fittings: magnetDoor }),
  },
  {
    title: 'Nothing known',
    input: door({
      hand: null,
      widthMicrometres: null,
      heightMicrometres: null,
      leaves: { form: 'not known' },
      fittings: [fitting('M1', null, null), fitting('S1', 'over the door', null)],
    }),
  },
  {
    title: 'Crowded',
    input: door({
      widthMicrometres: inch(30),
      fittings: [
        ...magnetDoor,
        fitting('M2', 'head at the lock side', 'egress'),
        fitting('H1', 'head hold-open', 'egress'),
        fitting('H2', 'wall hold-open', 'egress'),
        fitting('O1', 'head at the hinge side', 'egress'),
        fitting('X1', 'across the leaf', 'egress'),
        fitting('E1', 'lock jamb', 'within'),
        fitting('T1', 'hinge jamb', 'within'),
        fitting('T2', 'hinge jamb', 'within'),
        fitting('K1', 'reader beside the door', 'egress'),
        fitting('B2', 'release beside the door', null),
        fitting('V1', 'bolt at the head', 'within'),
        fitting('V2', 'bolt at the floor', 'within'),
      ],
    }),
  },
]
