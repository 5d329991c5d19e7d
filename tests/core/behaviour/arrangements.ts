// A small language in which arrangements are written as a tradesperson lists them: pieces, and what the feed goes through.
import {
  judge,
  known,
  unknown,
  wire,
  type Condition,
  type ConditionResult,
  type Contact,
  type Device,
  type Doorway,
  type Ease,
  type Engagement,
  type Fact,
  type Feed,
  type HoldingElement,
  type Input,
  type Leaf,
  type Motion,
  type Order,
  type Passage,
  type Path,
} from '../../../core/behaviour/index.ts'

export type Piece = Partial<Doorway>

/** Puts pieces together. Without a leaf it has one; without a supply it has PS1 with a battery of 4 h. */
export function arrange(...pieces: readonly Piece[]): Doorway {
  const all = <K extends keyof Doorway>(list: K): Doorway[K] =>
    pieces.flatMap((piece) => (piece[list] ?? []) as readonly unknown[]) as unknown as Doorway[K]
  const given: Doorway = {
    leaves: all('leaves'),
    hardware: all('hardware'),
    elements: all('elements'),
    devices: all('devices'),
    controllers: all('controllers'),
    supplies: all('supplies'),
    operators: all('operators'),
    watches: all('watches'),
  }
  return {
    ...given,
    leaves: given.leaves.length === 0 ? [onlyLeaf] : given.leaves,
    supplies: given.supplies.length === 0 ? (supply('PS1', { hours: 4 }).supplies ?? []) : given.supplies,
  }
}

// Leaves
const leafId = 'leaf'
const onlyLeaf: Leaf = { id: leafId, name: 'leaf', role: 'only', shutsItself: known(true) }
export const leafThatStays: Piece = { leaves: [{ ...onlyLeaf, shutsItself: known(false) }] }
const activeLeaf: Leaf = { id: 'active', name: 'active leaf', role: 'active', shutsItself: known(true) }
const inactiveLeaf = (opensAfter: Fact<string | null>): Leaf => ({
  id: 'inactive',
  name: 'inactive leaf',
  role: 'inactive',
  shutsItself: known(true),
  opensAfter,
})
/** Two leaves of which the inactive one opens by itself. */
export const pair: Piece = { leaves: [activeLeaf, inactiveLeaf(known(null))] }
/** Two leaves of which the inactive one is under the edge of the active one. */
export const overlappedPair: Piece = { leaves: [activeLeaf, inactiveLeaf(known('active'))] }
export const pairNotToldOverlap: Piece = {
  leaves: [activeLeaf, inactiveLeaf(unknown({ about: 'overlap', thing: 'inactive leaf' }))],
}

// Supplies and feeds
export function supply(
  id: string,
  { hours, cutBy = [] }: { readonly hours: number | null; readonly cutBy?: readonly Input[] },
): Piece {
  const batterySeconds = hours === null ? unknown({ about: 'battery', thing: id }) : known(hours * 3600)
  return { supplies: [{ id, name: id, batterySeconds, cutBy }] }
}

/** `S1` is contact `feed` of S1; `CP1.D1/opens` is contact `opens` of that relay. */
export function contact(words: string): Path {
  const [device = '', name = 'feed'] = words.split('/')
  return { form: 'contact', device, contact: name }
}

const pathOf = (each: string | Path): Path => (typeof each === 'string' ? contact(each) : each)
export const series = (...of: readonly (string | Path)[]): Path => ({ form: 'series', of: of.map(pathOf) })
export const parallel = (...of: readonly (string | Path)[]): Path => ({
  form: 'parallel',
  of: of.map(pathOf),
})
/** A feed from PS1 through contacts in series. */
export const through = (...of: readonly (string | Path)[]): Feed => ({
  from: known('PS1'),
  through: of.length === 0 ? wire : series(...of),
})
export const feedFrom = (from: string, ...of: readonly (string | Path)[]): Feed => ({
  from: known(from),
  through: series(...of),
})

export const actsWhen = (state: 'closed' | 'open', of: string | Path): Input => ({
  name: 'input',
  of: pathOf(of),
  actsWhen: known(state),
})

// Devices with contacts
const plainContact = (name: string, atRest: 'closed' | 'open', changes: Contact['changes']): Contact => ({
  name,
  atRest: known(atRest),
  changes,
  turnedRound: known(false),
})
const otherwise = { closed: 'open', open: 'closed' } as const
const onWork = (atRest: 'closed' | 'open', seconds: number | null = null): Contact['changes'] => [
  {
    cause: { on: 'worked' },
    to: known(otherwise[atRest]),
    lasting:
      seconds === null ? { form: 'as long as its cause' } : { form: 'seconds', seconds: known(seconds) },
  },
]

type DeviceCore = Pick<Device, 'id' | 'name' | 'workedAs' | 'workedWith'>

/** An overhead exit sensor, fed by itself: contact `feed` for a feed, `signal` for a controller. */
export function exitSensor(
  id: string,
  {
    powerLost = 'opens the feed',
    turnedRound = known(false),
    feed = through(),
  }: {
    readonly powerLost?: 'opens the feed' | 'keeps the feed' | null
    readonly turnedRound?: Fact<boolean>
    readonly feed?: Feed
  } = {},
): Piece {
  const setting = `jumper Power lost at ‘${String(powerLost)}’`
  const withoutPower: Fact<'closed' | 'open'> =
    powerLost === null
      ? unknown({ about: 'setting', thing: `exit sensor ${id}`, setting: 'jumper Power lost' })
      : known(powerLost === 'opens the feed' ? 'open' : 'closed', setting)
  const device: Device = {
    id,
    name: `exit sensor ${id}`,
    workedAs: 'exit',
    workedWith: null,
    needsPower: true,
    feed,
    contacts: [
      { ...plainContact('feed', 'closed', onWork('closed', 2)), turnedRound, withoutPower },
      { ...plainContact('signal', 'open', onWork('open', 2)), withoutPower: known('open') },
    ],
  }
  return { devices: [device] }
}

const button = (core: DeviceCore, seconds: number | null): Piece => ({
  devices: [
    {
      ...core,
      needsPower: false,
      contacts: [
        plainContact('feed', 'closed', onWork('closed', seconds)),
        plainContact('signal', 'open', onWork('open', seconds)),
      ],
    },
  ],
})

/** Two poles: `feed` breaks a feed for 30 s, `signal` tells a controller. */
export const manualRelease = (id: string): Piece =>
  button({ id, name: `manual release ${id}`, workedAs: 'manual release', workedWith: null }, 30)
export const exitButton = (id: string): Piece =>
  button({ id, name: `exit button ${id}`, workedAs: 'exit', workedWith: null }, null)
/** A key switch: `feed` opens and `signal` closes while the key is turned. */
export const keySwitch = (id: string): Piece =>
  button({ id, name: `key switch ${id}`, workedAs: 'key', workedWith: null }, null)
/** A switch at a staffed place: `feed` opens while it is worked. */
export const staffSwitch = (id: string): Piece =>
  button({ id, name: `staff switch ${id}`, workedAs: 'staff', workedWith: null }, null)
/** A switch in hardware: `feed` opens and `signal` closes with the motion. */
export const switchIn = (id: string, hardware: string): Piece =>
  button({ id, name: `switch ${id}`, workedAs: 'exit', workedWith: hardware }, null)
/** A reader has no contact: it speaks to its controller. */
export const reader = (id: string): Piece => ({
  devices: [
    {
      id,
      name: `reader ${id}`,
      workedAs: 'credential',
      workedWith: null,
      needsPower: true,
      feed: through(),
      contacts: [],
    },
  ],
})

/** Held in while normal, fed by the fire alarm system: `feed` opens on alarm until reset, `signal` closes. */
export function alarmRelay(id: string): Piece {
  const change = (to: 'closed' | 'open'): Contact['changes'] => [
    { cause: { on: 'fire alarm' }, to: known(to), lasting: { form: 'until reset' } },
  ]
  return {
    devices: [
      {
        id,
        name: `alarm relay ${id}`,
        workedAs: null,
        workedWith: null,
        needsPower: false,
        contacts: [
          plainContact('feed', 'closed', change('open')),
          plainContact('signal', 'open', change('closed')),
        ],
      },
    ],
  }
}

/** The contact of another door: `shut` opens and `open` closes while that door is open. */
export function otherDoor(id: string, opening: string): Piece {
  const change = (to: 'closed' | 'open'): Contact['changes'] => [
    {
      cause: { on: 'other opening open', opening },
      to: known(to),
      lasting: { form: 'as long as its cause' },
    },
  ]
  return {
    devices: [
      {
        id,
        name: `door contact ${id}`,
        workedAs: null,
        workedWith: null,
        needsPower: false,
        contacts: [
          plainContact('shut', 'closed', change('open')),
          plainContact('open', 'open', change('closed')),
        ],
      },
    ],
  }
}

/** A relay whose coil is fed: `feed` opens and `signal` closes while it is. */
export function relay(id: string, coil: Feed): Piece {
  const change = (to: 'closed' | 'open'): Contact['changes'] => [
    { cause: { on: 'coil fed', feed: coil }, to: known(to), lasting: { form: 'as long as its cause' } },
  ]
  return {
    devices: [
      {
        id,
        name: `relay ${id}`,
        workedAs: null,
        workedWith: null,
        needsPower: false,
        contacts: [
          plainContact('feed', 'closed', change('open')),
          plainContact('signal', 'open', change('closed')),
        ],
      },
    ],
  }
}

/** One relay of a controller, `CP1.D1`: contact `opens` while it releases, or `closes`. */
export function controller(
  id: string,
  {
    asks = [],
    openHours = true,
    energised = known('to release'),
    output = 'D1',
    feed = through(),
  }: {
    /** Readers by key; inputs as `S1/signal`. */
    readonly asks?: readonly string[]
    readonly openHours?: boolean
    readonly energised?: Fact<'to release' | 'while secured'>
    readonly output?: string
    readonly feed?: Feed
  },
): Piece {
  const relayId = `${id}.${output}`
  const cause = { on: 'ordered', controller: id, output } as const
  const change = (to: 'closed' | 'open'): Contact['changes'] => [
    { cause, to: known(to), lasting: { form: 'as long as its cause' } },
  ]
  return {
    controllers: [
      {
        id,
        name: `controller ${id}`,
        feed,
        outputs: [
          {
            id: output,
            name: `relay ${relayId}`,
            energised,
            releaseSeconds: known(5),
            orders: [
              ...(openHours ? ([{ on: 'open hours' }] as const) : []),
              ...asks.map((each): Order => {
                const [device = '', name] = each.split('/')
                return name === undefined
                  ? ({ on: 'worked', device } as const)
                  : ({ on: 'input', device, contact: name, asksWhen: known('closed') } as const)
              }),
            ],
          },
        ],
      },
    ],
    devices: [
      {
        id: relayId,
        name: `relay ${relayId}`,
        workedAs: null,
        workedWith: null,
        needsPower: false,
        contacts: [
          plainContact('opens', 'closed', change('open')),
          plainContact('closes', 'open', change('closed')),
        ],
      },
    ],
  }
}

export const shuntsAlarm = (device: string): Piece => ({
  watches: [{ device, contact: 'signal', does: 'shunts the forced-door alarm' }],
})

// What holds
type Mode = 'fail safe' | 'fail secure' | null

const electric = (thing: string, mode: Mode, feed: Feed, releasedBy: readonly Input[] = []): Engagement => ({
  when: 'by its feed',
  holdsWhile:
    mode === null ? unknown({ about: 'hold', thing }) : known(mode === 'fail safe' ? 'fed' : 'not fed'),
  feed,
  releasedBy,
})

const element = (
  id: string,
  name: string,
  grip: HoldingElement['grip'],
  engaged: Engagement,
  more: Partial<HoldingElement> = {},
): HoldingElement => ({ id, name, leaf: leafId, grip, engaged, drawnBy: [], delay: null, ...more })

const hand = (
  id: string,
  name: string,
  side: 'keyed' | 'egress',
  motion: Motion | 'key',
  leaf: string,
): Doorway['hardware'][number] => ({ id, name, leaf, side, motion })

const latchGrip = (keeper: string | null = null): HoldingElement['grip'] => ({
  form: 'latches',
  keeper,
  relatches: known(true),
})

/** Surface or shear: no latch, and it holds both ways. */
export const magnet = (
  id: string,
  feed: Feed,
  { leaf = leafId, releasedBy = [] }: { readonly leaf?: string; readonly releasedBy?: readonly Input[] } = {},
): Piece => ({
  elements: [
    element(
      id,
      `magnet ${id}`,
      { form: 'holds the leaf' },
      electric(`magnet ${id}`, 'fail safe', feed, releasedBy),
      {
        leaf,
      },
    ),
  ],
})

export function delayedMagnet(
  id: string,
  feed: Feed,
  seconds: number | null,
  releasedBy: readonly Input[] = [],
): Piece {
  const push = `${id} push`
  return {
    hardware: [hand(push, 'a push on the leaf', 'egress', 'push on the leaf', leafId)],
    elements: [
      element(
        id,
        `magnet ${id}`,
        { form: 'holds the leaf' },
        electric(`magnet ${id}`, 'fail safe', feed, releasedBy),
        {
          delay: { seconds: secondsFact(`magnet ${id}`, seconds), startedBy: [push] },
        },
      ),
    ],
  }
}

const secondsFact = (thing: string, seconds: number | null): Fact<number> =>
  seconds === null ? unknown({ about: 'delay', thing }) : known(seconds)

interface LeverForm {
  readonly leaf?: string
  readonly keeper?: string | null
  /** What the keyed side has: a live lever, or a key only. */
  readonly keyed?: 'lever' | 'key'
  readonly egress?: 'lever' | 'exit device' | 'none'
  readonly feed?: { readonly mode: Mode; readonly feed: Feed }
}

/** A latch with hardware on both sides; with a feed, the latch is drawn by it. */
function latchSet(id: string, noun: string, form: LeverForm): Piece {
  const { leaf = leafId, keeper = null, keyed = 'key', egress = 'lever', feed } = form
  const outer = `${id} outer`
  const inner = `${id} inner`
  const innerWords = egress === 'exit device' ? `the push pad of ${id}` : `the inner lever of ${id}`
  const drawnBy = egress === 'none' ? [outer] : [inner, outer]
  const name = `the latch of ${id}`
  return {
    hardware: [
      hand(outer, keyed === 'key' ? `the key of ${id}` : `the outer ${noun} of ${id}`, 'keyed', keyed, leaf),
      ...(egress === 'none' ? [] : [hand(inner, innerWords, 'egress', egress, leaf)]),
    ],
    elements: [
      element(
        `${id} latch`,
        name,
        latchGrip(keeper),
        feed === undefined ? { when: 'always' } : electric(name, feed.mode, feed.feed),
        { leaf, drawnBy },
      ),
    ],
  }
}

/** Outer lever always locked, key draws the latch; inner lever always draws it. */
export const storeroomLever = (id: string, form: Pick<LeverForm, 'keeper' | 'leaf'> = {}): Piece =>
  latchSet(id, 'lever', form)
/** Both levers draw the latch. */
export const passageLever = (id: string, form: Pick<LeverForm, 'leaf'> = {}): Piece =>
  latchSet(id, 'lever', { ...form, keyed: 'lever' })
/** Key on both sides: nothing on the egress side but a key. */
export const keyBothSides = (id: string, form: Pick<LeverForm, 'keeper'> = {}): Piece =>
  latchSet(id, 'lever', { ...form, egress: 'none' })
export const exitDevice = (id: string, form: Pick<LeverForm, 'keeper' | 'leaf' | 'keyed'> = {}): Piece =>
  latchSet(id, 'trim', { ...form, egress: 'exit device' })
/** Exit device whose latch a motor draws while it is fed. */
export const latchRetraction = (
  id: string,
  feed: Feed,
  form: Pick<LeverForm, 'leaf' | 'keyed' | 'keeper'> = {},
): Piece => latchSet(id, 'trim', { ...form, egress: 'exit device', feed: { mode: 'fail secure', feed } })

/** The outer lever or trim is kept from working while the element is engaged. */
const blocked = (id: string, mode: Mode, feed: Feed, leaf: string): HoldingElement =>
  element(
    id,
    `the outer lever of ${id}`,
    { form: 'blocks hardware', hardware: [`${id} outer`] },
    electric(`the outer lever of ${id}`, mode, feed),
    { leaf },
  )

/** Cylindrical or mortise: the inner lever always draws the latch, the outer one when it is not blocked. */
export const electrifiedLever = (id: string, mode: Mode, feed: Feed, leaf = leafId): Piece => {
  const set = latchSet(id, 'lever', { keyed: 'lever', leaf })
  return { ...set, elements: [...(set.elements ?? []), blocked(id, mode, feed, leaf)] }
}

export const electrifiedTrim = (id: string, mode: Mode, feed: Feed): Piece => {
  const set = latchSet(id, 'trim', { keyed: 'lever', egress: 'exit device' })
  return { ...set, elements: [...(set.elements ?? []), blocked(id, mode, feed, leafId)] }
}

/** The pad is kept from working while fed; pushed and held, it works after the delay. */
export function delayedExitDevice(
  id: string,
  feed: Feed,
  seconds: number | null,
  releasedBy: readonly Input[] = [],
): Piece {
  const set = latchSet(id, 'trim', { egress: 'exit device' })
  const name = `the delay of ${id}`
  const delay = element(
    `${id} delay`,
    name,
    { form: 'blocks hardware', hardware: [`${id} inner`] },
    electric(name, 'fail safe', feed, releasedBy),
    { delay: { seconds: secondsFact(name, seconds), startedBy: [`${id} inner`] } },
  )
  return { ...set, elements: [...(set.elements ?? []), delay] }
}

export const strike = (id: string, mode: Mode, feed: Feed, leaf = leafId): Piece => ({
  elements: [
    element(id, `strike ${id}`, { form: 'keeps a latch' }, electric(`strike ${id}`, mode, feed), { leaf }),
  ],
})

/** A bolt thrown by its feed or by a spring; no hand draws it. */
export const electricBolt = (id: string, mode: Mode, feed: Feed, leaf = leafId): Piece => ({
  elements: [element(id, `bolt ${id}`, latchGrip(), electric(`bolt ${id}`, mode, feed), { leaf })],
})

/** A bolt thrown by hand, drawn by a thumb turn from the egress side. */
export const thumbTurnBolt = (id: string, thrown: boolean | null = true): Piece => ({
  hardware: [hand(`${id} turn`, `the thumb turn of ${id}`, 'egress', 'thumb turn', leafId)],
  elements: [
    element(
      id,
      `bolt ${id}`,
      { form: 'latches', keeper: null, relatches: known(false) },
      {
        when: 'by hand',
        thrown: thrown === null ? unknown({ about: 'thrown', thing: `bolt ${id}` }) : known(thrown),
      },
      { drawnBy: [`${id} turn`] },
    ),
  ],
})

export const manualFlushBolt = (id: string, leaf: string): Piece => ({
  elements: [
    element(
      id,
      `flush bolt ${id}`,
      { form: 'latches', keeper: null, relatches: known(false) },
      { when: 'by hand', thrown: known(true) },
      { leaf },
    ),
  ],
})

/** Drawn when the active leaf opens. */
export const automaticFlushBolt = (id: string, leaf: string, after: string): Piece => ({
  elements: [
    element(id, `flush bolt ${id}`, latchGrip(), { when: 'while a leaf is shut', leaf: after }, { leaf }),
  ],
})

export const holdOpen = (id: string, feed: Feed, leaf = leafId): Piece => ({
  elements: [
    element(
      id,
      `hold-open magnet ${id}`,
      { form: 'holds the leaf open' },
      electric(`hold-open magnet ${id}`, 'fail safe', feed),
      { leaf },
    ),
  ],
})

export const operator = (
  id: string,
  {
    asks,
    stoppedBy = [],
    leaf = leafId,
  }: {
    readonly asks: readonly string[]
    readonly stoppedBy?: readonly Input[]
    readonly leaf?: string
  },
): Piece => ({
  operators: [
    {
      id,
      name: `operator ${id}`,
      leaf,
      feed: through(),
      stoppedBy,
      orders: asks.map((each) => {
        const [device = '', name] = each.split('/')
        if (device.startsWith('CP')) {
          const [controllerId = '', output = ''] = device.split('.')
          return { on: 'output', controller: controllerId, output } as const
        }
        return name === undefined
          ? ({ on: 'worked', device } as const)
          : ({ on: 'input', device, contact: name, asksWhen: known('closed') } as const)
      }),
    },
  ],
})

// Answers as a table writes them
export function easeInShort(ease: Ease): string {
  switch (ease.form) {
    case 'free':
      return 'free'
    case 'free by hardware':
      return ease.by.length > 1 ? `free by hw, ${ease.by.length} motions` : 'free by hw'
    case 'waits':
      return `waits ${ease.seconds} s`
    case 'held':
      return 'held'
  }
}

export const passageInShort = (passage: Passage): string =>
  passage.form === 'not known' ? 'not known' : easeInShort(passage)

/** `held / free by hw` */
export const inOut = (result: ConditionResult): string =>
  `${passageInShort(result.in)} / ${passageInShort(result.out)}`

export const latchedInShort = (result: ConditionResult): string =>
  [...new Set(result.leaves.map(({ latched }) => latched.form))].join(', ')

export const judgeInShort = (doorway: Doorway, condition: Condition): string =>
  inOut(judge(doorway, condition))

export const doneBy = (id: string): Condition => ({
  name: 'exit asked',
  of: { id, name: id },
  happenings: [{ what: 'worked', device: id }],
  parts: [],
})
