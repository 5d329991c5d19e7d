// Ten thousand doorways in ten conditions each, as a job has them: many alike, some with a difference.
import { expect, test } from 'vitest'
import { behaviourMemo, behaviourOf, type Doorway } from '../../../core/behaviour/index.ts'
import {
  alarmRelay,
  arrange,
  controller,
  delayedExitDevice,
  electrifiedLever,
  exitSensor,
  latchRetraction,
  magnet,
  manualRelease,
  reader,
  storeroomLever,
  strike,
  through,
} from './arrangements.ts'

const access = [reader('R1'), controller('CP1', { asks: ['R1'] })]
const alarm = alarmRelay('F1')
const typicals: readonly (() => Doorway)[] = [
  () =>
    arrange(
      magnet('M1', through('S1', 'B1', 'F1', 'CP1.D1/opens')),
      exitSensor('S1'),
      manualRelease('B1'),
      alarm,
      ...access,
    ),
  () =>
    arrange(
      strike('K1', 'fail secure', through('CP1.D1/closes')),
      storeroomLever('L1', { keeper: 'K1' }),
      ...access,
    ),
  () => arrange(electrifiedLever('L1', 'fail safe', through('F1', 'CP1.D1/opens')), alarm, ...access),
  () => arrange(latchRetraction('X1', through('CP1.D1/closes')), ...access),
  () => arrange(delayedExitDevice('X1', through('F1'), 15), alarm, ...access),
]
const count = 10_000
/** Far above what it takes, so that a busy machine fails no test; the figure is printed. */
const limitMilliseconds = 1500

function timed(what: string, work: () => number): number {
  const before = performance.now()
  const results = work()
  const took = performance.now() - before
  console.log(`${what}: ${results} results in ${took.toFixed(0)} ms`)
  return took
}

test('10,000 doorways of a few typicals, each its own value: under half a second on a quiet machine', () => {
  const doorways = Array.from({ length: count }, (_, index) => typicals[index % typicals.length]!())
  const memo = behaviourMemo()
  const judgeEach = () =>
    doorways.reduce(
      (sum, doorway) => sum + memo(doorway).results.length + memo(doorway).whileSilent.length,
      0,
    )
  expect(timed('first time, found by structural key', judgeEach)).toBeLessThan(limitMilliseconds)
  expect(timed('again, found by value', judgeEach)).toBeLessThan(limitMilliseconds / 10)
})

test('1,000 doorways that share nothing', () => {
  const doorways = Array.from({ length: 1000 }, (_, index) => typicals[index % typicals.length]!())
  const took = timed('each judged anew', () =>
    doorways.reduce((sum, doorway) => sum + behaviourOf(doorway).results.length, 0),
  )
  expect(took).toBeLessThan(limitMilliseconds)
})

test('doorways arranged alike share one result, and a difference does not', () => {
  const memo = behaviourMemo()
  expect(memo(typicals[0]!())).toBe(memo(typicals[0]!()))
  expect(memo(typicals[0]!())).not.toBe(memo(typicals[1]!()))
})
