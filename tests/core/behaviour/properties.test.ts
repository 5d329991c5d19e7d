// What holds for every doorway, right or wrong, whatever is on it.
import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  asEasyAs,
  conditionsOf,
  directions,
  fireAlarm,
  hindranceOf,
  judge,
  judgeAll,
  mainsLost,
  noPower,
  rangeOf,
  secured,
  sentencesOf,
  sequenceOfOperation,
  structuralKey,
  together,
  type ConditionResult,
  type Device,
  type Doorway,
  type Passage,
  type Path,
} from '../../../core/behaviour/index.ts'
import { randomDoorway, turned, withFeedsOfHolders, withHidden } from './random-doorways.ts'

/** A failing run prints its seed; it may shrink for long, so it is cut short and still fails. */
const runs = { numRuns: 50, interruptAfterTimeLimit: 12_000 }

const passages = (result: ConditionResult): readonly Passage[] =>
  [result, ...result.leaves, ...result.leaves.map((leaf) => leaf.whenShut)].flatMap((each) => [
    each.in,
    each.out,
  ])

const worst = (passage: Passage): number => hindranceOf(rangeOf(passage).atWorst)
const best = (passage: Passage): number => hindranceOf(rangeOf(passage).atBest)

const whole = (chance: readonly boolean[]) => {
  let at = 0
  return () => chance[at++ % chance.length] ?? false
}
/** Hides about one fact in eight, or only some of those. */
const hiding = fc.array(
  fc.nat(7).map((each) => each === 0),
  { minLength: 60, maxLength: 90 },
)

/** After, compared with before: freer or as free in every condition. */
function expectNoLessFree(before: Doorway, after: Doorway): void {
  for (const condition of conditionsOf(before)) {
    const was = judge(before, condition)
    const is = judge(after, condition)
    for (const direction of directions) {
      expect(worst(is[direction])).toBeLessThanOrEqual(worst(was[direction]))
      expect(best(is[direction])).toBeLessThanOrEqual(best(was[direction]))
    }
  }
}

const gap: Path = { form: 'parallel', of: [] }

test('taking the feed from what holds while fed never turns free to held', () => {
  fc.assert(
    fc.property(
      randomDoorway,
      hiding,
      fc.constantFrom('E1', 'E2', 'E3', 'E4', 'active keeper'),
      (full, chance, id) => {
        for (const doorway of [full, withHidden(full, whole(chance))])
          expectNoLessFree(
            doorway,
            withFeedsOfHolders(
              doorway,
              ({ from }) => ({ from, through: gap }),
              (each) => each === id,
            ),
          )
      },
    ),
    runs,
  )
})

const another: Device = {
  id: 'D9',
  name: 'another device',
  workedAs: 'exit',
  workedWith: null,
  needsPower: false,
  contacts: [
    {
      name: 'a',
      atRest: { known: true, value: 'closed', origin: null },
      turnedRound: { known: true, value: false, origin: null },
      changes: (['worked', 'fire alarm'] as const).map((on) => ({
        cause: { on },
        to: { known: true, value: 'open', origin: null },
        lasting: { form: 'as long as its cause' },
      })),
    },
  ],
}

test('another contact in the feed of what holds while fed never turns out from free to held', () => {
  fc.assert(
    fc.property(randomDoorway, hiding, (full, chance) => {
      for (const doorway of [full, withHidden(full, whole(chance))]) {
        const before = { ...doorway, devices: [...doorway.devices, another] }
        const after = withFeedsOfHolders(
          before,
          ({ from, through }) => ({
            from,
            through: { form: 'series', of: [through, { form: 'contact', device: 'D9', contact: 'a' }] },
          }),
          () => true,
        )
        expectNoLessFree(before, after)
      }
    }),
    runs,
  )
})

test('results do not depend on the order of any list', () => {
  fc.assert(
    fc.property(randomDoorway, hiding, fc.nat(4), fc.boolean(), (full, chance, places, reversed) => {
      const doorway = withHidden(full, whole(chance))
      const other = turned(doorway, places, reversed)
      expect(judgeAll(other)).toEqual(judgeAll(doorway))
      expect(structuralKey(other)).toBe(structuralKey(doorway))
    }),
    runs,
  )
})

function expectCompatible(known: ConditionResult, hidden: ConditionResult): void {
  for (const [place, passage] of passages(hidden).entries()) {
    const filled = passages(known)[place]!
    expect(best(passage)).toBeLessThanOrEqual(best(filled))
    expect(worst(passage)).toBeGreaterThanOrEqual(worst(filled))
  }
  for (const [place, { latched, standing }] of hidden.leaves.entries()) {
    if (latched.form !== 'not known') expect(known.leaves[place]?.latched.form).toBe(latched.form)
    if (standing !== 'not known') expect(known.leaves[place]?.standing).toBe(standing)
  }
  for (const [place, { does }] of hidden.operators.entries())
    if (does !== 'not known') expect(known.operators[place]?.does).toBe(does)
}

test('filling in what is not known only narrows the answer, and never overturns a certain one', () => {
  fc.assert(
    fc.property(randomDoorway, hiding, hiding, (full, first, second) => {
      const less = withHidden(full, whole(first))
      const least = withHidden(less, whole(second))
      for (const condition of conditionsOf(full)) {
        const [one, two, three] = [full, less, least].map((each) => judge(each, condition))
        expectCompatible(one!, two!)
        expectCompatible(two!, three!)
      }
    }),
    { ...runs, numRuns: 100 },
  )
})

test('not known always says which facts are missing; every answer has reasons that read as sentences', () => {
  fc.assert(
    fc.property(randomDoorway, hiding, (full, chance) => {
      const doorway = withHidden(full, whole(chance))
      for (const result of judgeAll(doorway)) {
        for (const passage of passages(result)) {
          if (passage.form === 'not known') {
            expect(passage.missing.length).toBeGreaterThan(0)
            expect(best(passage)).toBeLessThan(worst(passage))
          }
          expect(passage.reasons.length).toBeGreaterThan(0)
          for (const sentence of sentencesOf(passage)) expect(sentence).toMatch(/^[A-Z][^]*[.?]$/)
        }
        for (const { latched } of result.leaves)
          if (latched.form === 'not known') expect(latched.missing.length).toBeGreaterThan(0)
      }
      for (const { sentences } of sequenceOfOperation(doorway))
        for (const sentence of sentences) expect(sentence).not.toMatch(/undefined|null|\[object/)
    }),
    runs,
  )
})

test('with every fact known only a circuit that feeds back on itself, or two causes at odds, is not known', () => {
  fc.assert(
    fc.property(randomDoorway, (doorway) => {
      for (const result of judgeAll(doorway))
        for (const passage of passages(result))
          if (passage.form === 'not known')
            for (const { about } of passage.missing) expect(['circuit', 'conflict']).toContain(about)
    }),
    runs,
  )
})

test('a pair is as open as its freer leaf', () => {
  fc.assert(
    fc.property(randomDoorway, hiding, (full, chance) => {
      for (const result of judgeAll(withHidden(full, whole(chance))))
        for (const direction of directions) {
          const leaves = result.leaves.map((leaf) => leaf[direction])
          expect(best(result[direction])).toBe(Math.min(...leaves.map(best)))
          expect(worst(result[direction])).toBe(Math.min(...leaves.map(worst)))
        }
    }),
    runs,
  )
})

test('putting conditions together is the same whatever the order, and the poorer power wins', () => {
  fc.assert(
    fc.property(randomDoorway, fc.nat(30), fc.nat(30), fc.nat(30), (doorway, first, second, third) => {
      const all = conditionsOf(doorway)
      const [one, two, three] = [first, second, third].map((each) => all[each % all.length]!)
      expect(together(one!, two!, three!)).toEqual(together(three!, together(two!, one!)))
      expect(together(one!, secured)).toEqual(one)
      expect(together(one!, one!)).toEqual(one)
      expect(judge(doorway, together(one!, two!))).toEqual(judge(doorway, together(two!, one!)))
      const poor = judge(doorway, together(noPower, mainsLost, fireAlarm))
      const poorer = judge(doorway, together(noPower, fireAlarm))
      for (const direction of directions)
        expect(asEasyAs(rangeOf(poor[direction]).atWorst, rangeOf(poorer[direction]).atWorst)).toBe(true)
    }),
    runs,
  )
})
