// Random doorways in which every fact is known, and ways to hide facts, to turn lists round and to change a feed.
import fc from 'fast-check'
import {
  known,
  unknown,
  type Change,
  type Contact,
  type ContactState,
  type Device,
  type Doorway,
  type Engagement,
  type Feed,
  type Grip,
  type Hardware,
  type HoldingElement,
  type Input,
  type Leaf,
  type Order,
  type Path,
} from '../../../core/behaviour/index.ts'

const deviceIds = ['D1', 'D2', 'D3', 'D4'] as const
const contactNames = ['a', 'b'] as const
const leafIds = ['active', 'inactive'] as const
const hardwareIds = leafIds.flatMap((leaf) =>
  ['lever', 'pad', 'turn', 'outer', 'key'].map((each) => `${leaf} ${each}`),
)
const keeperIds = leafIds.map((leaf) => `${leaf} keeper`)

const state = fc.constantFrom<ContactState>('closed', 'open')
const contactRef = fc.record({
  device: fc.constantFrom(...deviceIds),
  contact: fc.constantFrom(...contactNames),
})

const path: fc.Arbitrary<Path> = fc.letrec<{ path: Path; contact: Path }>((tie) => ({
  contact: contactRef.map((of) => ({ form: 'contact' as const, ...of })),
  path: fc.oneof(
    { maxDepth: 2, withCrossShrink: true },
    tie('contact'),
    fc.record({ form: fc.constant('series' as const), of: fc.array(tie('path'), { maxLength: 3 }) }),
    fc.record({ form: fc.constant('parallel' as const), of: fc.array(tie('path'), { maxLength: 2 }) }),
  ),
})).path

const feed: fc.Arbitrary<Feed> = fc.record({
  from: fc.constantFrom('S1', 'S2').map((id) => known(id)),
  through: path,
})
const input: fc.Arbitrary<Input> = fc.record({
  name: fc.constantFrom('input', 'other input'),
  of: path,
  actsWhen: fc.constantFrom<ContactState | 'never'>('closed', 'open', 'never').map((value) => known(value)),
})

const cause = fc.oneof(
  { weight: 4, arbitrary: fc.constant({ on: 'worked' } as const) },
  { weight: 3, arbitrary: fc.constant({ on: 'fire alarm' } as const) },
  fc.constant({ on: 'mains lost' } as const),
  fc.constantFrom(...leafIds).map((leaf) => ({ on: 'leaf open', leaf }) as const),
  fc.constant({ on: 'other opening open', opening: '101B' } as const),
  feed.map((coil) => ({ on: 'coil fed', feed: coil }) as const),
  {
    weight: 3,
    arbitrary: fc
      .constantFrom('O1', 'O2')
      .map((output) => ({ on: 'ordered', controller: 'C1', output }) as const),
  },
)
const change: fc.Arbitrary<Change> = fc.record({
  cause,
  to: state.map((value) => known(value)),
  lasting: fc.constantFrom(
    { form: 'as long as its cause' } as const,
    { form: 'until reset' } as const,
    { form: 'seconds', seconds: known(30) } as const,
  ),
})
const contactNamed = (name: string): fc.Arbitrary<Contact> =>
  fc.record({
    name: fc.constant(name),
    atRest: state.map((value) => known(value)),
    changes: fc.array(change, { maxLength: 2 }),
    turnedRound: fc.boolean().map((value) => known(value)),
  })

function device(id: string): fc.Arbitrary<Device> {
  const core = {
    id: fc.constant(id),
    name: fc.constant(`device ${id}`),
    workedAs: fc.constantFrom('exit', 'manual release', 'credential', 'key', 'staff', null),
    workedWith: fc.option(fc.constantFrom(...hardwareIds), { nil: null }),
  } as const
  const contacts = fc.tuple(...contactNames.map(contactNamed))
  const powered = fc.tuple(contacts, state, state).map(([[one, other], first, second]) => [
    { ...one!, withoutPower: known(first) },
    { ...other!, withoutPower: known(second) },
  ])
  return fc.oneof(
    fc.record({ ...core, needsPower: fc.constant(false as const), contacts }),
    fc.record({ ...core, needsPower: fc.constant(true as const), feed, contacts: powered }),
  )
}

const order: fc.Arbitrary<Order> = fc.oneof(
  fc.constant({ on: 'open hours' } as const),
  fc.constantFrom(...deviceIds).map((id) => ({ on: 'worked', device: id }) as const),
  fc.tuple(contactRef, state).map(([of, when]) => ({ on: 'input', ...of, asksWhen: known(when) }) as const),
)

const engagement: fc.Arbitrary<Engagement> = fc.oneof(
  fc.constant({ when: 'always' } as const),
  fc.boolean().map((thrown) => ({ when: 'by hand', thrown: known(thrown) }) as const),
  fc.constant({ when: 'while a leaf is shut', leaf: 'active' } as const),
  {
    weight: 8,
    arbitrary: fc.record({
      when: fc.constant('by its feed' as const),
      holdsWhile: fc.constantFrom<'fed' | 'not fed'>('fed', 'fed', 'not fed').map((value) => known(value)),
      feed,
      releasedBy: fc.array(input, { maxLength: 1 }),
    }),
  },
)

const grip = (leaf: string): fc.Arbitrary<Grip> =>
  fc.oneof(
    { weight: 3, arbitrary: fc.constant<Grip>({ form: 'holds the leaf' }) },
    {
      weight: 3,
      arbitrary: fc.record({
        form: fc.constant('latches' as const),
        keeper: fc.constantFrom(null, `${leaf} keeper`),
        relatches: fc.boolean().map((value) => known(value)),
      }),
    },
    fc
      .subarray(
        hardwareIds.filter((each) => each.startsWith(`${leaf} `)),
        { minLength: 1 },
      )
      .map((hardware): Grip => ({ form: 'blocks hardware', hardware })),
    fc.constant<Grip>({ form: 'holds the leaf open' }),
  )

const element = (id: string, leaf: string): fc.Arbitrary<HoldingElement> =>
  fc.record({
    id: fc.constant(id),
    name: fc.constant(`element ${id}`),
    leaf: fc.constant(leaf),
    grip: grip(leaf),
    engaged: engagement,
    drawnBy: fc.subarray(hardwareIds.filter((each) => each.startsWith(`${leaf} `))),
    delay: fc.option(
      fc.record({
        seconds: fc.constantFrom(0, 15, 30).map((value) => known(value)),
        startedBy: fc.subarray(hardwareIds.filter((each) => each.startsWith(`${leaf} `))),
      }),
      { nil: null },
    ),
  })

const keeper = (id: string): fc.Arbitrary<HoldingElement> =>
  engagement.map((engaged) => ({
    id,
    name: `strike ${id}`,
    leaf: id.split(' ')[0] ?? '',
    grip: { form: 'keeps a latch' },
    engaged,
    drawnBy: [],
    delay: null,
  }))

const hardware: readonly Hardware[] = leafIds.flatMap((leaf): Hardware[] => [
  { id: `${leaf} lever`, name: `inner lever of the ${leaf} leaf`, leaf, side: 'egress', motion: 'lever' },
  { id: `${leaf} pad`, name: `push pad of the ${leaf} leaf`, leaf, side: 'egress', motion: 'push pad' },
  {
    id: `${leaf} turn`,
    name: `thumb turn of the ${leaf} leaf`,
    leaf,
    side: 'egress',
    motion: 'thumb turn',
  },
  { id: `${leaf} outer`, name: `outer lever of the ${leaf} leaf`, leaf, side: 'keyed', motion: 'lever' },
  { id: `${leaf} key`, name: `key of the ${leaf} leaf`, leaf, side: 'keyed', motion: 'key' },
])

const leaves: fc.Arbitrary<readonly Leaf[]> = fc
  .tuple(fc.boolean(), fc.boolean(), fc.constantFrom(null, 'active'))
  .map(([active, inactive, after]) => [
    { id: 'active', name: 'active leaf', role: 'active', shutsItself: known(active) },
    {
      id: 'inactive',
      name: 'inactive leaf',
      role: 'inactive',
      shutsItself: known(inactive),
      opensAfter: known(after),
    },
  ])

/** A pair with anything on it, right or wrong. Every fact is known. */
export const randomDoorway: fc.Arbitrary<Doorway> = fc.record({
  leaves,
  hardware: fc.constant(hardware),
  elements: fc
    .tuple(
      element('E1', 'active'),
      element('E2', 'active'),
      element('E3', 'inactive'),
      element('E4', 'inactive'),
      ...keeperIds.map(keeper),
    )
    .map((all) => all),
  devices: fc.tuple(...deviceIds.map(device)),
  controllers: fc
    .tuple(
      feed,
      ...['O1', 'O2'].map((id) =>
        fc.record({
          id: fc.constant(id),
          name: fc.constant(`output ${id}`),
          energised: fc
            .constantFrom('to release' as const, 'while secured' as const)
            .map((value) => known(value)),
          orders: fc.array(order, { maxLength: 3 }),
          releaseSeconds: fc.constant(known(5)),
        }),
      ),
    )
    .map(([of, ...outputs]) => [{ id: 'C1', name: 'controller C1', feed: of, outputs }]),
  supplies: fc
    .tuple(
      ...['S1', 'S2'].map((id) =>
        fc.tuple(fc.constant(id), fc.constantFrom(0, 14_400), fc.array(input, { maxLength: 1 })),
      ),
    )
    .map((all) =>
      all.map(([id, seconds, cutBy]) => ({ id, name: id, batterySeconds: known(seconds), cutBy })),
    ),
  operators: fc
    .tuple(feed, fc.array(order, { maxLength: 2 }), fc.array(input, { maxLength: 1 }))
    .map(([of, orders, stoppedBy]) => [
      { id: 'OP1', name: 'operator OP1', leaf: 'active', feed: of, orders, stoppedBy },
    ]),
  watches: fc.array(
    contactRef.map((of) => ({ ...of, does: 'shunts the forced-door alarm' as const })),
    { maxLength: 2 },
  ),
})

type Rewrite = (value: unknown, rest: (value: unknown) => unknown) => unknown

/** Rebuilds a value from the inside; `rewrite` decides for each part. */
function rebuilt(value: unknown, rewrite: Rewrite): unknown {
  const rest = (inner: unknown): unknown => {
    if (Array.isArray(inner)) return inner.map((each) => rebuilt(each, rewrite))
    if (typeof inner !== 'object' || inner === null) return inner
    return Object.fromEntries(Object.entries(inner).map(([key, each]) => [key, rebuilt(each, rewrite)]))
  }
  return rewrite(value, rest)
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null

/** Hides some facts and some paths: those at which `hides` says yes, asked in one order. */
export function withHidden(doorway: Doorway, hides: () => boolean): Doorway {
  return rebuilt(doorway, (value, rest) => {
    if (!isRecord(value)) return value
    if (value['known'] === true) return hides() ? unknown({ about: 'part', thing: 'what was hidden' }) : value
    if (value['form'] === 'contact')
      return hides() ? { form: 'not told', question: { about: 'part', thing: 'what was hidden' } } : value
    return rest(value)
  }) as Doorway
}

/** The same doorway with every list turned by so many places, or reversed. */
export function turned(doorway: Doorway, places: number, reversed: boolean): Doorway {
  return rebuilt(doorway, (value, rest) => {
    const inner = rest(value)
    if (!Array.isArray(inner) || inner.length === 0) return inner
    const at = places % inner.length
    const list = [...inner.slice(at), ...inner.slice(0, at)]
    return reversed ? list.toReversed() : list
  }) as Doorway
}

/** Changes the feed of each element that holds the leaf shut, or its hardware, while it is fed. */
export function withFeedsOfHolders(
  doorway: Doorway,
  change: (feed: Feed) => Feed,
  chosen: (id: string) => boolean,
): Doorway {
  const elements = doorway.elements.map((each): HoldingElement => {
    const { engaged, grip: held } = each
    if (!chosen(each.id) || engaged.when !== 'by its feed' || held.form === 'holds the leaf open') return each
    if (!engaged.holdsWhile.known || engaged.holdsWhile.value !== 'fed') return each
    return { ...each, engaged: { ...engaged, feed: change(engaged.feed) } }
  })
  return { ...doorway, elements }
}
