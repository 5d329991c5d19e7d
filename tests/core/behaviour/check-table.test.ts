// The check table of the design, row by row. A person in the trade can confirm each.
import { describe, expect, test } from 'vitest'
import { fireAlarm, judge, mainsLost, noPower, secured, type Doorway } from '../../../core/behaviour/index.ts'
import {
  alarmRelay,
  arrange,
  controller,
  delayedExitDevice,
  delayedMagnet,
  electrifiedLever,
  exitSensor,
  inOut,
  latchedInShort,
  latchRetraction,
  magnet,
  manualRelease,
  passageLever,
  reader,
  storeroomLever,
  strike,
  switchIn,
  through,
} from './arrangements.ts'

interface Row {
  readonly arrangement: string
  readonly source: string
  readonly doorway: Doorway
  readonly secured: string
  readonly fireAlarm: string
  readonly mainsLost: string
  readonly noPower: string
  readonly latchedOnAlarm: 'latched' | 'not latched'
}

const common = 'common practice, no source'
const access = [reader('R1'), controller('CP1', { asks: ['R1'] })]
const alarm = alarmRelay('F1')

const rows: readonly Row[] = [
  {
    arrangement: 'surface magnet, exit sensor, manual release, alarm relay, battery',
    source: 'common practice, no source; releases as S5 (sensor release, items 1 to 6)',
    doorway: arrange(
      magnet('M1', through('S1', 'B1', 'F1', 'CP1.D1/opens')),
      exitSensor('S1'),
      manualRelease('B1'),
      alarm,
      ...access,
    ),
    secured: 'held / held',
    fireAlarm: 'free / free',
    mainsLost: 'held / held',
    noPower: 'free / free',
    latchedOnAlarm: 'not latched',
  },
  {
    arrangement: 'fail-secure strike with storeroom lever',
    source: 'common practice, no source; on fire doors S27, S29',
    doorway: arrange(
      strike('K1', 'fail secure', through('CP1.D1/closes')),
      storeroomLever('L1', { keeper: 'K1' }),
      ...access,
    ),
    secured: 'held / free by hw',
    fireAlarm: 'held / free by hw',
    mainsLost: 'held / free by hw',
    noPower: 'held / free by hw',
    latchedOnAlarm: 'latched',
  },
  {
    arrangement: 'fail-safe strike with storeroom lever, alarm relay',
    source: common,
    doorway: arrange(
      strike('K1', 'fail safe', through('F1', 'CP1.D1/opens')),
      storeroomLever('L1', { keeper: 'K1' }),
      alarm,
      ...access,
    ),
    secured: 'held / free by hw',
    fireAlarm: 'free / free by hw',
    mainsLost: 'held / free by hw',
    noPower: 'free / free by hw',
    latchedOnAlarm: 'not latched',
  },
  {
    arrangement: 'fail-safe lever lock on a stair door, alarm relay',
    source: 'S24 (unlocks and stays latched)',
    doorway: arrange(electrifiedLever('L1', 'fail safe', through('F1', 'CP1.D1/opens')), alarm, ...access),
    secured: 'held / free by hw',
    fireAlarm: 'free by hw / free by hw',
    mainsLost: 'held / free by hw',
    noPower: 'free by hw / free by hw',
    latchedOnAlarm: 'latched',
  },
  {
    arrangement: 'exit device with electric latch retraction, fail secure',
    source: common,
    doorway: arrange(latchRetraction('X1', through('CP1.D1/closes')), ...access),
    secured: 'held / free by hw',
    fireAlarm: 'held / free by hw',
    mainsLost: 'held / free by hw',
    noPower: 'held / free by hw',
    latchedOnAlarm: 'latched',
  },
  {
    arrangement: 'delayed exit device, 15 s, alarm relay, battery',
    source: 'common practice, no source; delay and releases as S4, S5',
    doorway: arrange(delayedExitDevice('X1', through('F1'), 15), alarm),
    secured: 'held / waits 15 s',
    fireAlarm: 'held / free by hw',
    mainsLost: 'held / waits 15 s',
    noPower: 'held / free by hw',
    latchedOnAlarm: 'latched',
  },
  {
    arrangement: 'delayed magnet, 15 s, alarm relay, battery',
    source: 'common practice, no source; delay and releases as S4, S5',
    doorway: arrange(delayedMagnet('M1', through('F1'), 15), alarm),
    secured: 'held / waits 15 s',
    fireAlarm: 'free / free',
    mainsLost: 'held / waits 15 s',
    noPower: 'free / free',
    latchedOnAlarm: 'not latched',
  },
  {
    arrangement: 'magnet released by a switch in a passage-function lever set',
    source: 'common practice, no source; release by hardware as S6, S15',
    doorway: arrange(
      magnet('M1', through('W1', 'CP1.D1/opens')),
      passageLever('L1'),
      switchIn('W1', 'L1 inner'),
      ...access,
    ),
    secured: 'held / free by hw',
    fireAlarm: 'held / free by hw',
    mainsLost: 'held / free by hw',
    noPower: 'free by hw / free by hw',
    latchedOnAlarm: 'latched',
  },
]

describe('the check table: in / out', () => {
  test.each(rows)('$arrangement ($source)', (row) => {
    const onAlarm = judge(row.doorway, fireAlarm)
    expect({
      secured: inOut(judge(row.doorway, secured)),
      fireAlarm: inOut(onAlarm),
      mainsLost: inOut(judge(row.doorway, mainsLost)),
      noPower: inOut(judge(row.doorway, noPower)),
      latchedOnAlarm: latchedInShort(onAlarm),
    }).toEqual({
      secured: row.secured,
      fireAlarm: row.fireAlarm,
      mainsLost: row.mainsLost,
      noPower: row.noPower,
      latchedOnAlarm: row.latchedOnAlarm,
    })
  })

  test('the latch on alarm is said to be the lever set’s, or kept by no strike', () => {
    const latchOnAlarm = (row: number) => judge(rows[row]!.doorway, fireAlarm).leaves[0]!.latched.reasons
    expect(latchOnAlarm(7)).toContainEqual({
      step: 'latched by',
      thing: { id: 'L1 latch', name: 'the latch of L1' },
    })
    expect(latchOnAlarm(2)).toContainEqual({
      step: 'keeper lets pass',
      thing: { id: 'L1 latch', name: 'the latch of L1' },
      keeper: { id: 'K1', name: 'strike K1' },
    })
  })
})
