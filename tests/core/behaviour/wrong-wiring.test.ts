// Wrongly wired doors are shown held, and the margin says why in sentences.
import { describe, expect, test } from 'vitest'
import {
  controllerSilent,
  fireAlarm,
  judge,
  known,
  mainsLost,
  noPower,
  openHours,
  secured,
  sensorLost,
  sentencesOf,
  together,
  trappedWithout,
  unknown,
  type Condition,
  type Direction,
  type Doorway,
} from '../../../core/behaviour/index.ts'
import {
  alarmRelay,
  arrange,
  contact,
  controller,
  delayedExitDevice,
  doneBy,
  electricBolt,
  exitButton,
  exitSensor,
  feedFrom,
  holdOpen,
  keyBothSides,
  magnet,
  manualRelease,
  parallel,
  passageInShort,
  passageLever,
  reader,
  relay,
  shuntsAlarm,
  storeroomLever,
  strike,
  supply,
  switchIn,
  through,
} from './arrangements.ts'

interface Row {
  readonly wrong: string
  readonly doorway: Doorway
  readonly condition: Condition
  readonly direction: Direction
  readonly answer: string
  /** All of the margin's text, in order. */
  readonly margin: readonly string[]
}

const sensorAndAlarm = [exitSensor('S1'), alarmRelay('F1')]
const onlyAsks = arrange(
  magnet('M1', through('CP1.D1/opens', 'F1')),
  manualRelease('B1'),
  alarmRelay('F1'),
  controller('CP1', { asks: ['B1/signal'] }),
)
const strikeWithShunt = arrange(
  strike('K1', 'fail secure', through('CP1.D1/closes')),
  storeroomLever('L1', { keeper: 'K1' }),
  switchIn('W1', 'L1 inner'),
  shuntsAlarm('W1'),
  reader('R1'),
  controller('CP1', { asks: ['R1'] }),
)

const rows: readonly Row[] = [
  {
    wrong: 'no alarm contact',
    doorway: arrange(magnet('M1', through('S1')), exitSensor('S1')),
    condition: fireAlarm,
    direction: 'out',
    answer: 'held',
    margin: [
      'Nothing that the fire alarm works reaches magnet M1.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'an alarm relay is there, but its contact is in another feed',
    doorway: arrange(magnet('M1', through()), holdOpen('H1', through('F1')), alarmRelay('F1')),
    condition: fireAlarm,
    direction: 'out',
    answer: 'held',
    margin: [
      'On fire alarm alarm relay F1 opens the feed of hold-open magnet H1 until the alarm is reset.',
      'Hold-open magnet H1 is not fed and lets go.',
      'The leaf shuts by itself.',
      'Nothing that the fire alarm works reaches magnet M1.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'sensor that fails closed',
    doorway: arrange(magnet('M1', through('S1')), exitSensor('S1', { powerLost: 'keeps the feed' })),
    condition: sensorLost({ id: 'S1', name: 'exit sensor S1' }),
    direction: 'out',
    answer: 'held',
    margin: [
      'Exit sensor S1 has lost its own power and keeps the feed of magnet M1 (jumper Power lost at ‘keeps the feed’).',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'sensor that fails closed, and somebody walks up to it',
    doorway: arrange(magnet('M1', through('S1')), exitSensor('S1', { powerLost: 'keeps the feed' })),
    condition: together(doneBy('S1'), sensorLost({ id: 'S1', name: 'exit sensor S1' })),
    direction: 'out',
    answer: 'held',
    margin: [
      'Exit sensor S1 has lost its own power and keeps the feed of magnet M1 (jumper Power lost at ‘keeps the feed’).',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'release that only asks the controller, and the controller is silent',
    doorway: onlyAsks,
    condition: together(doneBy('B1'), controllerSilent),
    direction: 'out',
    answer: 'held',
    margin: [
      'Manual release B1 only asks controller CP1, which is silent.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'the same release while the controller listens',
    doorway: onlyAsks,
    condition: doneBy('B1'),
    direction: 'out',
    answer: 'free',
    margin: [
      'Relay CP1.D1 opens the feed of magnet M1 for 5 s, because manual release B1 is pressed.',
      'Magnet M1 is not fed and lets go.',
      'A magnet that lets one side go lets both go.',
    ],
  },
  {
    wrong: 'request switch that only shunts the forced-door alarm: out',
    doorway: strikeWithShunt,
    condition: doneBy('W1'),
    direction: 'out',
    answer: 'free by hw',
    margin: [
      'One motion of the inner lever of L1 draws the latch of L1.',
      'Switch W1 only shunts the forced-door alarm; it changes no passage.',
    ],
  },
  {
    wrong: 'request switch that only shunts, on a door with a magnet',
    doorway: arrange(
      magnet('M1', through('F1')),
      passageLever('L1'),
      switchIn('W1', 'L1 inner'),
      shuntsAlarm('W1'),
      alarmRelay('F1'),
    ),
    condition: doneBy('W1'),
    direction: 'out',
    answer: 'held',
    margin: [
      'Magnet M1 is fed from PS1 and holds both ways.',
      'Switch W1 only shunts the forced-door alarm; it changes no passage.',
    ],
  },
  {
    wrong: 'normally-open contact put in series where normally-closed was meant: nobody asks, nothing holds',
    doorway: arrange(magnet('M1', through('S1/signal')), exitSensor('S1')),
    condition: secured,
    direction: 'out',
    answer: 'free',
    margin: [
      'Contact signal of exit sensor S1 stays open in the feed of magnet M1.',
      'Magnet M1 is not fed and lets go.',
    ],
  },
  {
    wrong: 'normally-open contact put in series: who asks is held',
    doorway: arrange(magnet('M1', through('S1/signal')), exitSensor('S1')),
    condition: doneBy('S1'),
    direction: 'out',
    answer: 'held',
    margin: [
      'Exit sensor S1 asks and closes the feed of magnet M1 for 2 s.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'jumper of the sensor turned round',
    doorway: arrange(magnet('M1', through('S1')), exitSensor('S1', { turnedRound: known(true) })),
    condition: doneBy('S1'),
    direction: 'out',
    answer: 'held',
    margin: [
      'Exit sensor S1 asks and closes the feed of magnet M1 for 2 s.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'exit button and alarm relay in parallel instead of in series',
    doorway: arrange(magnet('M1', through(parallel('P1', 'F1'))), exitButton('P1'), alarmRelay('F1')),
    condition: fireAlarm,
    direction: 'out',
    answer: 'held',
    margin: [
      'Alarm relay F1 opens its contact, but another way around it feeds magnet M1.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'exit button wired to nothing',
    doorway: arrange(magnet('M1', through('F1')), exitButton('P1'), alarmRelay('F1')),
    condition: doneBy('P1'),
    direction: 'out',
    answer: 'held',
    margin: [
      'Magnet M1 is fed from PS1 and holds both ways.',
      'Exit button P1 reaches nothing that holds; it changes no passage.',
    ],
  },
  {
    wrong: 'exit button asks a controller whose relay is not in the feed',
    doorway: arrange(magnet('M1', through()), exitButton('P1'), controller('CP1', { asks: ['P1/signal'] })),
    condition: doneBy('P1'),
    direction: 'out',
    answer: 'held',
    margin: [
      'What exit button P1 asks for does not reach magnet M1.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'exit button on the wrong contact of a point: the controller does not hear it',
    doorway: arrange(
      magnet('M1', through('CP1.D1/opens')),
      exitButton('P1'),
      controller('CP1', { asks: ['P1/feed'], openHours: false }),
    ),
    condition: doneBy('P1'),
    direction: 'out',
    answer: 'held',
    margin: [
      'Controller CP1 does not take the contact of exit button P1 for a request.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'the relay opens the feed of a fail-secure strike instead of closing it',
    doorway: arrange(
      strike('K1', 'fail secure', through('CP1.D1/opens')),
      storeroomLever('L1', { keeper: 'K1' }),
      reader('R1'),
      controller('CP1', { asks: ['R1'] }),
    ),
    condition: secured,
    direction: 'in',
    answer: 'free',
    margin: [
      'Strike K1 is fed from PS1 and lets go while it is fed.',
      'Strike K1 lets the latch of L1 pass.',
    ],
  },
  {
    wrong: 'alarm relay that only asks the controller, and the controller is silent',
    doorway: arrange(
      magnet('M1', through('CP1.D1/opens')),
      alarmRelay('F1'),
      controller('CP1', { asks: ['F1/signal'] }),
    ),
    condition: together(fireAlarm, controllerSilent),
    direction: 'out',
    answer: 'held',
    margin: [
      'Alarm relay F1 only asks controller CP1, which is silent.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'no controller relay in the feed: open hours change nothing',
    doorway: arrange(magnet('M1', through('S1', 'F1')), ...sensorAndAlarm),
    condition: openHours,
    direction: 'in',
    answer: 'held',
    margin: [
      'No controller holds magnet M1 released in open hours.',
      'Magnet M1 is fed from PS1 and holds both ways.',
    ],
  },
  {
    wrong: 'a released strike, and nothing on the egress side but a key',
    doorway: arrange(
      strike('K1', 'fail safe', through('F1')),
      keyBothSides('L1', { keeper: 'K1' }),
      alarmRelay('F1'),
    ),
    condition: fireAlarm,
    direction: 'out',
    answer: 'held',
    margin: ['The latch of L1 is thrown.', 'Strike K1 has let go, but a strike lets in only.'],
  },
  {
    wrong: 'a fail-secure bolt on the way out',
    doorway: arrange(electricBolt('B1', 'fail secure', through('S1/signal')), exitSensor('S1')),
    condition: noPower,
    direction: 'out',
    answer: 'held',
    margin: ['Bolt B1 is not fed and stays locked without power.'],
  },
  {
    wrong: 'delayed exit device without an alarm contact',
    doorway: arrange(delayedExitDevice('X1', through(), 15)),
    condition: fireAlarm,
    direction: 'out',
    answer: 'waits 15 s',
    margin: [
      'Nothing that the fire alarm works reaches the delay of X1.',
      'The delay of X1 is fed from PS1 and stays locked.',
      'One motion of the push pad of X1 draws the latch of X1.',
      'The push pad of X1 must be held; the delay of X1 lets go after 15 s.',
    ],
  },
  {
    wrong: 'battery not known: the margin asks',
    doorway: arrange(supply('PS1', { hours: null }), magnet('M1', through('F1')), alarmRelay('F1')),
    condition: mainsLost,
    direction: 'out',
    answer: 'not known',
    margin: ['Not known: How long does the battery of PS1 last?'],
  },
  {
    wrong: 'jumper of the sensor not told: the margin asks',
    doorway: arrange(magnet('M1', through('S1')), exitSensor('S1', { powerLost: null })),
    condition: sensorLost({ id: 'S1', name: 'exit sensor S1' }),
    direction: 'out',
    answer: 'not known',
    margin: ['Not known: How is jumper Power lost of exit sensor S1 set?'],
  },
  {
    wrong: 'nobody told what feeds the magnet',
    doorway: arrange(
      magnet('M1', { from: unknown({ about: 'feed', thing: 'magnet M1' }), through: contact('F1') }),
      alarmRelay('F1'),
    ),
    condition: secured,
    direction: 'out',
    answer: 'not known',
    margin: ['Not known: What feeds magnet M1?'],
  },
  {
    wrong: 'a relay that is fed through its own contact: what was before decides',
    doorway: arrange(magnet('M1', through('N1')), relay('N1', feedFrom('PS1', 'N1/signal'))),
    condition: secured,
    direction: 'out',
    answer: 'not known',
    margin: ['Not known: What was before? The circuit of relay N1 feeds back on itself.'],
  },
]

describe('wrong wiring, with the margin’s sentences (common practice, no source)', () => {
  test.each(rows)('$wrong', ({ doorway, condition, direction, answer, margin }) => {
    const passage = judge(doorway, condition)[direction]
    expect(passageInShort(passage)).toBe(answer)
    expect(sentencesOf(passage)).toEqual(margin)
  })
})

describe('a person who cannot get out', () => {
  const sensorRelease = {
    name: 'sensor release',
    mayHoldOutIn: ['secured', 'mains lost', 'controller silent'],
  } as const

  test('a magnet without alarm contact traps on alarm, whatever arrangement is recognised', () => {
    const doorway = arrange(magnet('M1', through('S1')), exitSensor('S1'))
    const results = [secured, fireAlarm, doneBy('S1'), noPower].map((each) => judge(doorway, each))
    const marks = (accepted: Parameters<typeof trappedWithout>[0]) =>
      trappedWithout(accepted, results).map(({ trapped }) => trapped)
    expect(marks(sensorRelease)).toEqual(['no', 'yes', 'no', 'no'])
    expect(marks(null)).toEqual(['yes', 'yes', 'no', 'no'])
  })

  test('free hardware, a delay, and the freer leaf of a pair trap nobody', () => {
    const doorways = [arrange(storeroomLever('L1')), arrange(delayedExitDevice('X1', through(), 15))]
    for (const doorway of doorways)
      expect(trappedWithout(null, [judge(doorway, secured)])[0]?.trapped).toBe('no')
  })

  test('what is not known is not said to let out', () => {
    const doorway = arrange(supply('PS1', { hours: null }), magnet('M1', through()))
    expect(trappedWithout(null, [judge(doorway, mainsLost)])[0]?.trapped).toBe('unknown')
  })

  test('a leaf held open counts as shut: somebody may shut it', () => {
    const doorway = arrange(holdOpen('H1', through()), magnet('M1', through()))
    const result = judge(doorway, secured)
    expect(passageInShort(result.out)).toBe('free')
    expect(trappedWithout(null, [result])[0]?.trapped).toBe('yes')
  })
})
