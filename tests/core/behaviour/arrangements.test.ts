// More arrangements, as a table that a tradesperson can check by hand. Each entry reads: condition, in / out.
import { describe, expect, test } from 'vitest'
import {
  controllerSilent,
  fireAlarm,
  judge,
  known,
  mainsLost,
  noPower,
  openHours,
  otherOpeningOpen,
  secured,
  sensorLost,
  together,
  type Condition,
  type Doorway,
} from '../../../core/behaviour/index.ts'
import {
  actsWhen,
  alarmRelay,
  arrange,
  automaticFlushBolt,
  controller,
  delayedExitDevice,
  delayedMagnet,
  doneBy,
  electricBolt,
  electrifiedLever,
  electrifiedTrim,
  exitButton,
  exitDevice,
  exitSensor,
  feedFrom,
  holdOpen,
  inOut,
  keyBothSides,
  keySwitch,
  latchedInShort,
  latchRetraction,
  leafThatStays,
  magnet,
  manualFlushBolt,
  manualRelease,
  operator,
  otherDoor,
  overlappedPair,
  pair,
  pairNotToldOverlap,
  parallel,
  passageLever,
  reader,
  relay,
  series,
  staffSwitch,
  storeroomLever,
  strike,
  supply,
  switchIn,
  through,
  thumbTurnBolt,
} from './arrangements.ts'

/** Words of a table to a condition: `alarm`, `S1` (worked), `S1 lost`, `101B open`, several joined by ` + `. */
function conditionFor(words: string): Condition {
  return together(...words.split(' + ').map(oneCondition))
}

function oneCondition(words: string): Condition {
  const named: Readonly<Record<string, Condition>> = {
    secured,
    'open hours': openHours,
    alarm: fireAlarm,
    'mains lost': mainsLost,
    'no power': noPower,
    silent: controllerSilent,
  }
  const [id = '', state] = words.split(' ')
  if (named[words] !== undefined) return named[words]
  if (state === 'lost') return sensorLost({ id, name: id })
  return state === 'open' ? otherOpeningOpen(id) : doneBy(id)
}

type Row = readonly [
  arrangement: string,
  source: string,
  doorway: Doorway,
  expected: Readonly<Record<string, string>>,
]

const common = 'common practice, no source'
const access = [reader('R1'), controller('CP1', { asks: ['R1'] })]
const alarm = alarmRelay('F1')
const noBattery = supply('PS1', { hours: 0 })
const batteryNotKnown = supply('PS1', { hours: null })
const held = 'held / held'
const free = 'free / free'
const lever = 'held / free by hw'
const bothLevers = 'free by hw / free by hw'

const magnets: readonly Row[] = [
  [
    'shear magnet, sensor, no battery: the mains lost lets go',
    common,
    arrange(noBattery, magnet('M1', through('S1', 'F1')), exitSensor('S1'), alarm),
    { secured: held, S1: free, alarm: free, 'mains lost': free, 'no power': free },
  ],
  [
    'surface magnet, battery not known: the mains lost is a question',
    common,
    arrange(batteryNotKnown, magnet('M1', through('S1', 'F1')), exitSensor('S1'), alarm),
    { secured: held, alarm: free, 'mains lost': 'not known / not known', 'no power': free },
  ],
  [
    'sensor release complete: sensor, its own power, manual release, alarm, lock power',
    'S5 (sensor release, items 1 to 6)',
    arrange(
      magnet('M1', through('S1', 'B1', 'F1', 'CP1.D1/opens')),
      exitSensor('S1'),
      manualRelease('B1'),
      alarm,
      ...access,
    ),
    {
      secured: held,
      R1: free,
      S1: free,
      'S1 lost': free,
      B1: free,
      alarm: free,
      'no power': free,
      silent: held,
      'S1 + silent': free,
      'B1 + silent': free,
      'R1 + silent': held,
    },
  ],
  [
    'magnet released by the switch in a push pad, with panic hardware',
    'S5, S15 (release by hardware)',
    arrange(
      magnet('M1', through('W1', 'CP1.D1/opens')),
      exitDevice('X1'),
      switchIn('W1', 'X1 inner'),
      ...access,
    ),
    {
      secured: lever,
      R1: lever,
      alarm: lever,
      'no power': lever,
      silent: lever,
      'latch on alarm': 'latched',
    },
  ],
  [
    'two magnets on one leaf, one feed',
    common,
    arrange(magnet('M1', through('S1', 'F1')), magnet('M2', through('S1', 'F1')), exitSensor('S1'), alarm),
    { secured: held, S1: free, alarm: free, 'no power': free },
  ],
  [
    'two magnets on one leaf, the second missed by the alarm relay',
    common,
    arrange(magnet('M1', through('S1', 'F1')), magnet('M2', through('S1')), exitSensor('S1'), alarm),
    { secured: held, S1: free, alarm: held, 'no power': free },
  ],
  [
    'delayed magnet, 30 s, key at its terminals takes the delay off',
    'S4 (30 s where approved); key: common practice, no source',
    arrange(
      delayedMagnet('M1', through('F1'), 30, [actsWhen('closed', 'Y1/signal')]),
      keySwitch('Y1'),
      alarm,
    ),
    { secured: 'held / waits 30 s', Y1: free, alarm: free, 'no power': free },
  ],
  [
    'magnet with the alarm relay at the supply’s own terminals',
    common,
    arrange(
      supply('PS1', { hours: 4, cutBy: [actsWhen('open', 'F1')] }),
      magnet('M1', through('S1')),
      exitSensor('S1'),
      alarm,
    ),
    { secured: held, S1: free, alarm: free, 'mains lost': held, 'no power': free },
  ],
  [
    'magnet on a gate, button inside, key switch outside',
    common,
    arrange(leafThatStays, magnet('M1', through('P1', 'Y1', 'F1')), exitButton('P1'), keySwitch('Y1'), alarm),
    { secured: held, P1: free, Y1: free, alarm: free, 'latch on alarm': 'not latched' },
  ],
  [
    'magnet fed over a relay board that drops out with its coil',
    common,
    arrange(magnet('M1', through('N1/signal')), relay('N1', through('S1', 'F1')), exitSensor('S1'), alarm),
    { secured: held, S1: free, alarm: free, 'no power': free },
  ],
]

const strikesAndLocks: readonly Row[] = [
  [
    'fail-secure strike with an exit device',
    'S27, S29 (fire doors: fail secure only)',
    arrange(
      strike('K1', 'fail secure', through('CP1.D1/closes')),
      exitDevice('X1', { keeper: 'K1' }),
      ...access,
    ),
    {
      secured: lever,
      'open hours': 'free / free by hw',
      R1: 'free / free by hw',
      alarm: lever,
      'mains lost': lever,
      'no power': lever,
      'latch on alarm': 'latched',
    },
  ],
  [
    'fail-safe strike without battery',
    common,
    arrange(
      noBattery,
      strike('K1', 'fail safe', through('CP1.D1/opens')),
      storeroomLever('L1', { keeper: 'K1' }),
      ...access,
    ),
    {
      secured: lever,
      R1: 'free / free by hw',
      alarm: lever,
      'mains lost': 'free / free by hw',
      'no power': 'free / free by hw',
    },
  ],
  [
    'fail-secure strike, key on both sides: nobody out without a key',
    common,
    arrange(
      strike('K1', 'fail secure', through('CP1.D1/closes')),
      keyBothSides('L1', { keeper: 'K1' }),
      ...access,
    ),
    { secured: held, R1: 'free / held', alarm: held, 'no power': held },
  ],
  [
    'electrified lever lock, fail secure',
    common,
    arrange(electrifiedLever('L1', 'fail secure', through('CP1.D1/closes')), ...access),
    { secured: lever, R1: bothLevers, alarm: lever, 'no power': lever, 'latch on alarm': 'latched' },
  ],
  [
    'electrified mortise lock, fail safe, battery not known',
    common,
    arrange(
      batteryNotKnown,
      electrifiedLever('L1', 'fail safe', through('CP1.D1/opens', 'F1')),
      alarm,
      ...access,
    ),
    {
      secured: lever,
      R1: bothLevers,
      alarm: bothLevers,
      'mains lost': 'not known / free by hw',
      'no power': bothLevers,
      'latch on alarm': 'latched',
    },
  ],
  [
    'electrified mortise lock whose mode is not told',
    common,
    arrange(electrifiedLever('L1', null, through('CP1.D1/opens')), ...access),
    { secured: 'not known / free by hw', 'no power': 'not known / free by hw' },
  ],
  [
    'stair re-entry: fail-safe trim of fire exit hardware, remote switch and alarm',
    'S22, S24 (unlocks without unlatching)',
    arrange(
      electrifiedTrim('X1', 'fail safe', through('F1', 'Z1', 'CP1.D1/opens')),
      alarm,
      staffSwitch('Z1'),
      ...access,
    ),
    {
      secured: lever,
      Z1: bothLevers,
      alarm: bothLevers,
      'no power': bothLevers,
      'latch on alarm': 'latched',
    },
  ],
  [
    'electrified trim, fail secure',
    common,
    arrange(electrifiedTrim('X1', 'fail secure', through('CP1.D1/closes')), ...access),
    { secured: lever, R1: bothLevers, alarm: lever, 'no power': lever },
  ],
  [
    'latch retraction held in open hours: the latch is drawn until alarm takes the supply off',
    'S53 (a drawn latch on a fire door must latch on alarm)',
    arrange(
      supply('PS1', { hours: 4, cutBy: [actsWhen('open', 'F1')] }),
      latchRetraction('X1', through('CP1.D1/closes')),
      alarm,
      ...access,
    ),
    {
      'open hours': free,
      'open hours + alarm': lever,
      'open hours + no power': lever,
      'latch in open hours': 'not latched',
      'latch in open hours + alarm': 'latched',
    },
  ],
  [
    'lever lock with a thumb turn bolt: two motions',
    'S5, S7 (one motion, with exceptions)',
    arrange(storeroomLever('L1'), thumbTurnBolt('B1')),
    { secured: 'held / free by hw, 2 motions', alarm: 'held / free by hw, 2 motions' },
  ],
  [
    'fail-safe electric bolt, sensor and alarm',
    common,
    arrange(electricBolt('B1', 'fail safe', through('S1', 'F1')), exitSensor('S1'), alarm),
    { secured: held, S1: free, alarm: free, 'no power': free, 'latch on alarm': 'not latched' },
  ],
  [
    'fail-secure electric bolt: held without power, both ways',
    common,
    arrange(electricBolt('B1', 'fail secure', through('S1/signal')), exitSensor('S1')),
    { secured: held, S1: free, alarm: held, 'no power': held, 'latch on alarm': 'latched' },
  ],
  [
    'delayed exit device, 15 s; the controller’s card takes the delay off',
    common,
    arrange(
      delayedExitDevice('X1', through('F1'), 15, [actsWhen('closed', 'CP1.D1/closes')]),
      alarm,
      ...access,
    ),
    { secured: 'held / waits 15 s', R1: lever, alarm: lever, 'no power': lever, 'latch on alarm': 'latched' },
  ],
  [
    'delayed exit device whose delay is not told',
    common,
    arrange(delayedExitDevice('X1', through('F1'), null), alarm),
    { secured: 'held / not known', alarm: lever },
  ],
]

const pairsAndOthers: readonly Row[] = [
  [
    'pair, both leaves with latch retraction, independent',
    common,
    arrange(
      pair,
      latchRetraction('X1', through('CP1.D1/closes'), { leaf: 'active' }),
      latchRetraction('X2', through('CP1.D1/closes'), { leaf: 'inactive' }),
      ...access,
    ),
    { secured: lever, R1: free, alarm: lever, 'no power': lever, 'latch on alarm': 'latched' },
  ],
  [
    'pair, strike in the inactive leaf, manual flush bolts',
    common,
    arrange(
      overlappedPair,
      strike('K1', 'fail secure', through('CP1.D1/closes'), 'active'),
      storeroomLever('L1', { leaf: 'active', keeper: 'K1' }),
      manualFlushBolt('FB1', 'inactive'),
      ...access,
    ),
    { secured: lever, R1: 'free / free by hw', 'no power': lever },
  ],
  [
    'pair, one magnet missed by the sensor: the other leaf lets out',
    common,
    arrange(
      pair,
      magnet('M1', through('S1', 'F1'), { leaf: 'active' }),
      magnet('M2', through('F1'), { leaf: 'inactive' }),
      exitSensor('S1'),
      alarm,
    ),
    { secured: held, S1: free, alarm: free },
  ],
  [
    'pair, active leaf held, inactive leaf without a lock but under its edge',
    common,
    arrange(overlappedPair, magnet('M1', through('F1'), { leaf: 'active' }), alarm),
    { secured: held, alarm: free },
  ],
  [
    'the same pair where nobody told which leaf covers which',
    common,
    arrange(pairNotToldOverlap, magnet('M1', through('F1'), { leaf: 'active' }), alarm),
    { secured: 'not known / not known', alarm: free },
  ],
  [
    'fire pair, automatic flush bolts, both latch on alarm',
    'S28 (latches on every closing)',
    arrange(
      overlappedPair,
      exitDevice('X1', { leaf: 'active', keyed: 'lever' }),
      automaticFlushBolt('FB1', 'inactive', 'active'),
    ),
    { secured: bothLevers, alarm: bothLevers, 'latch on alarm': 'latched' },
  ],
  [
    'cross-corridor door held open: lets go on alarm, shuts and latches',
    'S53, S28',
    arrange(holdOpen('H1', through('F1')), exitDevice('X1', { keyed: 'lever' }), alarm),
    {
      secured: free,
      alarm: bothLevers,
      'no power': bothLevers,
      'latch in secured': 'not latched',
      'latch on alarm': 'latched',
    },
  ],
  [
    'held open with nothing to shut it: stays open on alarm',
    common,
    arrange(leafThatStays, holdOpen('H1', through('F1')), passageLever('L1'), alarm),
    { secured: free, alarm: free, 'latch on alarm': 'not latched' },
  ],
  [
    'held open, alarm relay forgotten: stays open on alarm',
    common,
    arrange(holdOpen('H1', through()), passageLever('L1')),
    { alarm: free, 'no power': bothLevers, 'latch on alarm': 'not latched' },
  ],
  [
    'two-door interlock: a door is held while the other is open',
    common,
    arrange(magnet('M1', through('C2/open', 'F1')), otherDoor('C2', '101B'), alarm),
    { secured: free, '101B open': held, '101B open + alarm': free, 'no power': free },
  ],
  [
    'two-door interlock, secured: the button is dead while the other door is open',
    common,
    arrange(
      magnet('M1', through(parallel('P1', 'C2/open'), 'F1')),
      exitButton('P1'),
      otherDoor('C2', '101B'),
      alarm,
    ),
    { secured: held, P1: free, 'P1 + 101B open': held, 'P1 + 101B open + alarm': free },
  ],
  [
    'staff-controlled egress: card on both sides, remote switch, alarm, lock power',
    'S5, S32 (controlled egress)',
    arrange(
      magnet('M1', through('Z1', 'F1', 'CP1.D1/opens')),
      staffSwitch('Z1'),
      reader('R1'),
      reader('R2'),
      controller('CP1', { asks: ['R1', 'R2'], openHours: false }),
      alarm,
    ),
    { secured: held, R1: free, R2: free, Z1: free, alarm: free, 'no power': free, 'open hours': held },
  ],
  [
    'key switch bypasses every release: it keeps the magnet fed',
    common,
    arrange(
      magnet('M1', through(parallel(series('S1', 'CP1.D1/opens'), 'Y1/signal'), 'F1')),
      exitSensor('S1'),
      keySwitch('Y1'),
      alarm,
      ...access,
    ),
    { secured: held, S1: free, Y1: held, 'S1 + Y1': held, 'S1 + Y1 + alarm': free },
  ],
  [
    'relay energised while secured: a silent controller lets the fail-safe lever go',
    common,
    arrange(
      electrifiedLever('L1', 'fail safe', through('CP1.D1/closes')),
      reader('R1'),
      controller('CP1', { asks: ['R1'], energised: known('while secured') }),
    ),
    { secured: lever, R1: bothLevers, silent: bothLevers, 'no power': bothLevers },
  ],
  [
    'elevator lobby: magnet, alarm, lock power, nothing else',
    'S12, S13, S38, S49 (what must release it is in part from memory)',
    arrange(magnet('M1', through('F1', 'CP1.D1/opens')), alarm, ...access),
    { secured: held, alarm: free, 'no power': free, silent: held },
  ],
  [
    'locks on two supplies: each lets go with its own feed',
    common,
    arrange(
      supply('PS1', { hours: 4 }),
      supply('PS2', { hours: 0 }),
      magnet('M1', through()),
      electrifiedLever('L1', 'fail safe', feedFrom('PS2')),
    ),
    { secured: held, 'mains lost': held, 'no power': bothLevers },
  ],
]

describe('arrangements, in / out', () => {
  test.each([...magnets, ...strikesAndLocks, ...pairsAndOthers])(
    '%s (%s)',
    (_arrangement, _source, doorway, expected) => {
      const found: Record<string, string> = {}
      for (const words of Object.keys(expected)) {
        const latch = /^latch (?:on|in) (.*)$/.exec(words)?.[1]
        found[words] =
          latch === undefined
            ? inOut(judge(doorway, conditionFor(words)))
            : latchedInShort(judge(doorway, conditionFor(latch)))
      }
      expect(found).toEqual(expected)
    },
  )
})

describe('operators', () => {
  const button = exitButton('P1')
  const rows: readonly (readonly [string, Doorway, Readonly<Record<string, string>>])[] = [
    [
      'with latch retraction on the same relay: opens the leaf',
      arrange(
        latchRetraction('X1', through('CP1.D1/closes')),
        operator('O1', { asks: ['CP1.D1/closes'] }),
        reader('R1'),
        button,
        controller('CP1', { asks: ['R1', 'P1/signal'] }),
      ),
      {
        secured: 'rests',
        R1: 'opens the leaf',
        P1: 'opens the leaf',
        'R1 + silent': 'rests',
        'P1 + no power': 'rests',
      },
    ],
    [
      'without electric release: the button drives it against the latch',
      arrange(exitDevice('X1'), operator('O1', { asks: ['P1/signal'] }), button),
      { secured: 'rests', P1: 'pushes against a lock' },
    ],
    [
      'alarm at its terminals: does not open on alarm',
      arrange(
        passageLever('L1'),
        operator('O1', { asks: ['P1/signal'], stoppedBy: [actsWhen('open', 'F1')] }),
        button,
        alarm,
      ),
      { 'P1 + alarm': 'rests' },
    ],
    [
      'with a released strike: opens the leaf',
      arrange(
        strike('K1', 'fail secure', through('P1/signal')),
        storeroomLever('L1', { keeper: 'K1' }),
        operator('O1', { asks: ['P1/signal'] }),
        button,
      ),
      { P1: 'opens the leaf' },
    ],
  ]
  test.each(rows)('%s (common practice, no source)', (_name, doorway, expected) => {
    const found = Object.keys(expected).map((words) => [
      words,
      judge(doorway, conditionFor(words)).operators[0]?.does,
    ])
    expect(Object.fromEntries(found)).toEqual(expected)
  })
})
